//! A small HTTP/1.1 server for one page and one maker: requests in, answers out.
//!
//! ```text
//! TcpStream ─► connection ─► request (head, then body) ─► Answers ─► response ─► TcpStream
//!                  ▲
//!               server: how many at once, and which one loses its place
//! ```
//! Every wait has an end, everything that is read has a limit: a head, a body, how many connections there are. A body
//! is read only after [`Answers::admits`] has seen the head. Bodies come with their length or not at all; nothing is
//! decoded, no file is opened. Knows nothing of plans, secrets or pages.

mod connection;
mod request;
mod response;
mod server;
#[cfg(test)]
pub(super) mod tests;

pub(super) use request::{Head, Method, Request};
pub(super) use response::Response;
pub(super) use server::{Patience, Server};

/// What answers requests. Called from several threads at once.
pub(super) trait Answers: Send + Sync {
    /// How long a body may follow this head, in bytes.
    ///
    /// # Errors
    /// The answer, where the request is refused before its body is read.
    fn admits(&self, head: &Head) -> Result<usize, Response>;

    /// The answer to a request that was admitted.
    fn answer(&self, request: &Request) -> Response;
}

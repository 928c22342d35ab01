//! An answer, and how it is written.

use std::borrow::Cow;
use std::fmt::Write as _;
use std::io::{self, Write};
use std::sync::Arc;

/// What is sent back.
#[derive(Clone, Debug)]
pub(in crate::open) struct Response {
    /// The status.
    pub(in crate::open) status: u16,
    headers: Vec<(&'static str, Cow<'static, str>)>,
    body: Body,
}

/// The bytes of an answer.
#[derive(Clone, Debug)]
enum Body {
    Fixed(&'static [u8]),
    Own(Vec<u8>),
    Shared(Arc<[u8]>),
}

impl Response {
    fn new(status: u16, kind: &'static str, cache: &'static str, body: Body) -> Self {
        let headers = vec![("content-type", kind.into()), ("cache-control", cache.into())];
        Self { status, headers, body }
    }

    /// A short plain text that says why not.
    pub(in crate::open) fn refusal(status: u16, why: &str) -> Self {
        let text = format!("{why}\n").into_bytes();
        Self::new(status, "text/plain; charset=utf-8", "no-store", Body::Own(text))
    }

    /// A file of the program's own.
    pub(in crate::open) fn asset(kind: &'static str, bytes: &'static [u8]) -> Self {
        Self::new(200, kind, "no-cache", Body::Fixed(bytes))
    }

    /// Plain text that holds now, and may not be kept.
    pub(in crate::open) fn text(bytes: Vec<u8>) -> Self {
        Self::new(200, "text/plain; charset=utf-8", "no-store", Body::Own(bytes))
    }

    /// Bytes that are made anew when they are asked for again.
    pub(in crate::open) fn bytes(kind: &'static str, bytes: Vec<u8>) -> Self {
        Self::new(200, kind, "no-store", Body::Own(bytes))
    }

    /// JSON that holds now, and may not be kept.
    pub(in crate::open) fn json(status: u16, bytes: Vec<u8>) -> Self {
        Self::new(status, "application/json", "no-store", Body::Own(bytes))
    }

    /// Bytes that never change under their name.
    pub(in crate::open) fn for_good(kind: &'static str, bytes: Arc<[u8]>) -> Self {
        Self::new(200, kind, "private, max-age=31536000, immutable", Body::Shared(bytes))
    }

    /// The same with one more header.
    pub(in crate::open) fn with(mut self, name: &'static str, value: impl Into<Cow<'static, str>>) -> Self {
        self.headers.push((name, value.into()));
        self
    }

    /// The bytes that follow the head.
    pub(in crate::open) fn body(&self) -> &[u8] {
        match &self.body {
            Body::Fixed(bytes) => bytes,
            Body::Own(bytes) => bytes,
            Body::Shared(bytes) => bytes,
        }
    }

    /// Writes it; `always` are headers of every answer.
    pub(super) fn write(
        &self,
        out: &mut impl Write,
        always: &[(&str, &str)],
        without_body: bool,
        stays: bool,
    ) -> io::Result<()> {
        let mut head = format!("HTTP/1.1 {} {}\r\n", self.status, reason(self.status));
        let own = self.headers.iter().map(|(name, value)| (*name, value.as_ref()));
        for (name, value) in own.chain(always.iter().copied()) {
            // Writing to a text doesn't fail.
            let _ = write!(head, "{name}: {value}\r\n");
        }
        let connection = if stays { "keep-alive" } else { "close" };
        let _ = write!(head, "content-length: {}\r\nconnection: {connection}\r\n\r\n", self.body().len());
        let mut bytes = head.into_bytes();
        if !without_body {
            bytes.extend_from_slice(self.body());
        }
        // At once: two small writes would wait for each other.
        out.write_all(&bytes)
    }
}

/// What a status is called (RFC 9110).
const fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        204 => "No Content",
        400 => "Bad Request",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        408 => "Request Timeout",
        409 => "Conflict",
        410 => "Gone",
        411 => "Length Required",
        413 => "Content Too Large",
        415 => "Unsupported Media Type",
        417 => "Expectation Failed",
        422 => "Unprocessable Content",
        431 => "Request Header Fields Too Large",
        501 => "Not Implemented",
        503 => "Service Unavailable",
        _ => "Error",
    }
}

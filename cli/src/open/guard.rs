//! Who may ask: nobody but the page that this program opened.
//!
//! | what is looked at | what it keeps out |
//! |---|---|
//! | the secret, first part of every path | other programs and people that can reach the port |
//! | Host, exactly one of ours | names of another site that lead here (DNS rebinding) |
//! | Origin where it is sent, and always where something is to be changed | other pages' reads and forms |
//! | Sec-Fetch-Site | the same, links included, where the browser tells it |
//! | Content-Type of a body | what a form can send without asking |
//!
//! Looks at heads alone; knows nothing of plans. Another user of the same machine who may list processes can see the
//! address while the browser is being started with it.

use super::http::{Head, Method, Response};
use std::io;
use std::net::SocketAddr;

/// Headers of every answer, refusals too.
pub(super) const ALWAYS: &[(&str, &str)] = &[
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; \
         frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("permissions-policy", "camera=(self), microphone=(), geolocation=(), usb=(), payment=()"),
];

/// What a body may be: nothing that another page could send without asking.
const BODIES: [&str; 3] = ["application/json", "image/jpeg", "image/png"];
/// Bytes of the secret: 160 bits.
const SECRET: usize = 20;

/// What decides who may ask.
#[derive(Debug)]
pub(super) struct Guard {
    secret: String,
    /// Host headers that are ours; with `http://` before them, origins that are ours.
    hosts: Vec<String>,
}

impl Guard {
    /// A guard with a new secret, for a page served at this address.
    pub(super) fn new(address: SocketAddr) -> io::Result<Self> {
        let mut bytes = [0; SECRET];
        getrandom::fill(&mut bytes).map_err(|_| io::Error::other("the system has no random numbers"))?;
        let secret = bytes.iter().map(|b| format!("{b:02x}")).collect();
        let mut hosts = vec![address.to_string()];
        if address.ip().is_loopback() {
            hosts.push(format!("localhost:{}", address.port()));
        }
        Ok(Self { secret, hosts })
    }

    /// The address of the page.
    pub(super) fn address(&self) -> String {
        let host = self.hosts.first().map_or("", String::as_str);
        format!("http://{host}/{}/", self.secret)
    }

    /// The path behind the secret, without a slash before it.
    ///
    /// # Errors
    /// The refusal, where it is not for this page to ask.
    pub(super) fn admit<'h>(&self, head: &'h Head) -> Result<&'h str, Response> {
        let no = |why| Err(Response::refusal(403, why));
        if !head.header("host").is_some_and(|host| self.hosts.iter().any(|ours| ours == host)) {
            return no("This address is not served here.");
        }
        let ours = |origin: &str| {
            origin.strip_prefix("http://").is_some_and(|host| self.hosts.iter().any(|ours| ours == host))
        };
        match head.header("origin") {
            Some(origin) if !ours(origin) => return no("Another page may not ask here."),
            None if head.method == Method::Post => return no("Only the page itself may change something."),
            _ => {}
        }
        if head.header("sec-fetch-site").is_some_and(|site| !matches!(site, "same-origin" | "none")) {
            return no("Another page may not ask here. Open the address that was printed when quarterturn started.");
        }
        let Some(path) = self.behind_secret(&head.path) else {
            return no("Open the address that was printed when quarterturn started: it ends in a secret.");
        };
        let kind = head.header("content-type").unwrap_or_default();
        if head.method == Method::Post && !BODIES.contains(&kind) {
            return Err(Response::refusal(415, "Only JSON and photographs are read."));
        }
        Ok(path)
    }

    fn behind_secret<'h>(&self, path: &'h str) -> Option<&'h str> {
        let path = path.strip_prefix('/')?;
        let (secret, rest) = path.split_once('/')?;
        alike(secret.as_bytes(), self.secret.as_bytes()).then_some(rest)
    }
}

/// Whether two texts are alike, in a time that doesn't tell where they differ.
fn alike(one: &[u8], other: &[u8]) -> bool {
    if one.len() != other.len() {
        return false;
    }
    let differ = one.iter().zip(other).fold(0, |all, (a, b)| std::hint::black_box(all | (a ^ b)));
    std::hint::black_box(differ) == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn secrets_are_long_and_never_the_same() {
        let address = SocketAddr::from(([127, 0, 0, 1], 8080));
        let [a, b] = [Guard::new(address).unwrap(), Guard::new(address).unwrap()];
        assert_eq!(a.secret.len(), 2 * SECRET);
        assert_ne!(a.secret, b.secret);
        assert_eq!(a.address(), format!("http://127.0.0.1:8080/{}/", a.secret));
    }

    #[test]
    fn only_the_same_is_alike() {
        assert!(alike(b"", b"") && alike(b"abc", b"abc"));
        for (a, b) in [("abc", "abd"), ("abc", "ab"), ("", "a"), ("xbc", "abc")] {
            assert!(!alike(a.as_bytes(), b.as_bytes()), "{a} {b}");
        }
    }

    #[test]
    fn localhost_is_a_name_of_the_loopback_alone() {
        let hosts = |ip: [u8; 4]| Guard::new(SocketAddr::from((ip, 80))).unwrap().hosts;
        assert_eq!(hosts([127, 0, 0, 1]), ["127.0.0.1:80", "localhost:80"]);
        assert_eq!(hosts([192, 168, 1, 7]), ["192.168.1.7:80"]);
    }
}

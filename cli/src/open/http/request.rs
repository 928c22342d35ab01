//! A request as it was sent: its head, held to the limits, and its body.

use super::Response;

/// The longest head that is read, bytes.
pub(super) const LONGEST_HEAD: usize = 16 * 1024;
/// The most headers.
const MOST_HEADERS: usize = 64;

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::open) enum Method {
    /// To read.
    Get,
    /// To read, without the body.
    Head,
    /// To change something.
    Post,
}

/// Everything before the body.
#[derive(Clone, Debug)]
pub(in crate::open) struct Head {
    /// What is asked for.
    pub(in crate::open) method: Method,
    /// The path as it was sent, from its first slash: nothing in it is decoded.
    pub(in crate::open) path: String,
    /// Names in lower case, values as they were sent.
    headers: Vec<(String, String)>,
    /// How long the body is, bytes.
    pub(super) body: usize,
    /// Whether the connection stays open after the answer.
    pub(super) stays: bool,
}

/// A whole request.
#[derive(Debug)]
pub(in crate::open) struct Request {
    /// Its head.
    pub(in crate::open) head: Head,
    /// Its body.
    pub(in crate::open) body: Vec<u8>,
}

/// What the bytes so far come to.
#[derive(Debug)]
pub(super) enum Parsed {
    /// The head goes on.
    Partial,
    /// A head, and how many bytes it took.
    Whole(Head, usize),
}

impl Head {
    /// The value of a header that was sent once; its name in lower case.
    pub(in crate::open) fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }

    /// Reads a head.
    ///
    /// # Errors
    /// The answer, where it is no head, is longer than any, or asks for what is not served.
    pub(super) fn parse(bytes: &[u8]) -> Result<Parsed, Response> {
        let mut headers = [httparse::EMPTY_HEADER; MOST_HEADERS];
        let mut request = httparse::Request::new(&mut headers);
        let taken = match request.parse(bytes) {
            Ok(httparse::Status::Complete(taken)) if taken <= LONGEST_HEAD => taken,
            Ok(httparse::Status::Partial) if bytes.len() < LONGEST_HEAD => return Ok(Parsed::Partial),
            Ok(_) => return Err(Response::refusal(431, "The head of this request is too long.")),
            Err(httparse::Error::TooManyHeaders) => {
                return Err(Response::refusal(431, "This request has too many headers."));
            }
            Err(_) => return Err(Response::refusal(400, "This is no HTTP request.")),
        };
        let (method, path) = (request.method.unwrap_or_default(), request.path.unwrap_or_default());
        let method = match method {
            "GET" => Method::Get,
            "HEAD" => Method::Head,
            "POST" => Method::Post,
            _ => {
                return Err(
                    Response::refusal(405, "Only GET, HEAD and POST are answered.").with("allow", "GET, HEAD, POST")
                );
            }
        };
        if !path.starts_with('/') {
            return Err(Response::refusal(400, "The path of this request doesn't begin with a slash."));
        }
        let mut head = Self {
            method,
            path: path.to_owned(),
            headers: headers_of(request.headers)?,
            body: 0,
            stays: request.version == Some(1),
        };
        head.body = head.length()?;
        head.stays &= !head.header("connection").is_some_and(|value| value.to_ascii_lowercase().contains("close"));
        Ok(Parsed::Whole(head, taken))
    }

    /// How long the body is.
    fn length(&self) -> Result<usize, Response> {
        if self.header("transfer-encoding").is_some() {
            return Err(Response::refusal(501, "Send the body with its length."));
        }
        if self.header("expect").is_some() {
            return Err(Response::refusal(417, "Send the body at once."));
        }
        match self.header("content-length") {
            None if self.method == Method::Post => Err(Response::refusal(411, "Send the body with its length.")),
            None => Ok(0),
            Some(digits) if !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit()) => {
                // So many digits are more than any body.
                Ok(digits.parse().unwrap_or(usize::MAX))
            }
            Some(_) => Err(Response::refusal(400, "The length of the body is no number.")),
        }
    }
}

/// Headers that decide something: twice is a way to be read one way here and another way there.
const ONCE: [&str; 6] = ["host", "origin", "content-length", "transfer-encoding", "content-type", "sec-fetch-site"];

fn headers_of(sent: &[httparse::Header<'_>]) -> Result<Vec<(String, String)>, Response> {
    let mut headers: Vec<(String, String)> = Vec::with_capacity(sent.len());
    for header in sent {
        let name = header.name.to_ascii_lowercase();
        let twice = headers.iter().any(|(known, _)| *known == name);
        if twice && ONCE.contains(&name.as_str()) {
            return Err(Response::refusal(400, "A header stands twice that may stand once."));
        }
        headers.push((name, String::from_utf8_lossy(header.value).into_owned()));
    }
    Ok(headers)
}

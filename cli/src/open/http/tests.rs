//! The server is asked by bare streams: what is malformed, too long or too slow, and what is in good order meanwhile.

use super::server::Stop;
use super::{Answers, Head, Method, Patience, Request, Response, Server};
use proptest::prelude::*;
use std::io::{Read as _, Write as _};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Short, so that tests don't wait.
pub(in crate::open) const SHORT: Patience = Patience {
    between: Duration::from_millis(400),
    head: Duration::from_millis(300),
    body: Duration::from_millis(300),
    write: Duration::from_millis(500),
    leaving: Duration::from_millis(50),
};

/// A server that runs until it is dropped.
pub(in crate::open) struct Running {
    pub(in crate::open) address: SocketAddr,
    stop: Stop,
}

impl Running {
    pub(in crate::open) fn of(listener: TcpListener, patience: Patience, answers: Arc<dyn Answers>) -> Self {
        let server = Server::new(listener, patience, &[("x-always", "yes")]).unwrap();
        let running = Self { address: server.listener_address(), stop: server.stopper() };
        std::thread::spawn(move || server.run(&answers));
        running
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.stop.stop();
    }
}

/// Gives back what it was sent.
struct Echo;

impl Answers for Echo {
    fn admits(&self, head: &Head) -> Result<usize, Response> {
        if head.path == "/no" { Err(Response::refusal(403, "No.")) } else { Ok(1000) }
    }

    fn answer(&self, request: &Request) -> Response {
        let text = format!("{:?} {} {}", request.head.method, request.head.path, request.body.len());
        if request.head.path == "/slow" {
            std::thread::sleep(Duration::from_millis(100));
        }
        if request.head.method == Method::Post {
            Response::json(200, request.body.clone())
        } else {
            Response::json(200, text.into_bytes())
        }
    }
}

fn echo() -> Running {
    Running::of(TcpListener::bind(("127.0.0.1", 0)).unwrap(), SHORT, Arc::new(Echo))
}

/// What is answered to these bytes, to the connection's end; `""` where nothing is.
pub(in crate::open) fn say(address: SocketAddr, bytes: &[u8]) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(5))).unwrap();
    // It may be closed before all is written.
    let _ = stream.write_all(bytes);
    let mut answer = Vec::new();
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// The status of an answer; 0 where there is none.
pub(in crate::open) fn status(answer: &str) -> u16 {
    answer.strip_prefix("HTTP/1.1 ").and_then(|rest| rest.get(..3)?.parse().ok()).unwrap_or(0)
}

const GOOD: &[u8] = b"GET /a HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n";

fn still_answers(address: SocketAddr) {
    let answer = say(address, GOOD);
    assert!(answer.ends_with("Get /a 0") && answer.contains("x-always: yes"), "{answer}");
}

#[test]
fn a_request_is_answered_and_another_one_on_the_same_connection() {
    let server = echo();
    let post = b"POST /b HTTP/1.1\r\nhost: x\r\ncontent-length: 5\r\n\r\nhelloGET /c HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n";
    let answer = say(server.address, post);
    assert!(answer.contains("\r\n\r\nhello") && answer.ends_with("Get /c 0"), "{answer}");
    let head = say(server.address, b"HEAD /d HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n");
    assert!(head.contains("content-length: 9\r\n") && head.ends_with("\r\n\r\n"), "{head}");
}

#[test]
fn what_is_no_request_is_refused_and_says_why() {
    let server = echo();
    let long = format!("GET /{} HTTP/1.1\r\nhost: x\r\n\r\n", "a".repeat(20_000));
    let many = format!("GET / HTTP/1.1\r\n{}\r\n", "a: b\r\n".repeat(100));
    let cases: [(&str, u16); 16] = [
        ("hello\r\n\r\n", 400),
        ("GET / HTTP/2.0\r\n\r\n", 400),
        ("GET a HTTP/1.1\r\n\r\n", 400),
        ("GET http://other/ HTTP/1.1\r\n\r\n", 400),
        ("BREW / HTTP/1.1\r\n\r\n", 405),
        ("OPTIONS / HTTP/1.1\r\n\r\n", 405),
        ("POST / HTTP/1.1\r\n\r\n", 411),
        ("POST / HTTP/1.1\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n", 501),
        ("POST / HTTP/1.1\r\ncontent-length: -1\r\n\r\n", 400),
        ("POST / HTTP/1.1\r\ncontent-length: 1\r\ncontent-length: 2\r\n\r\nab", 400),
        ("GET / HTTP/1.1\r\nhost: a\r\nHost: b\r\n\r\n", 400),
        ("POST / HTTP/1.1\r\ncontent-length: 1001\r\n\r\n", 413),
        ("POST / HTTP/1.1\r\ncontent-length: 99999999999999999999999\r\n\r\n", 413),
        ("POST /no HTTP/1.1\r\ncontent-length: 99999999\r\n\r\n", 403),
        (&long, 431),
        (&many, 431),
    ];
    for (request, expected) in cases {
        let answer = say(server.address, request.as_bytes());
        let start = &request[..request.len().min(60)];
        assert_eq!(status(&answer), expected, "{start:?}: {answer}");
        assert!(answer.trim_end().ends_with('.') && answer.contains("connection: close"), "{start:?}: {answer}");
    }
    still_answers(server.address);
}

#[test]
fn an_endless_head_is_cut_off() {
    let server = echo();
    let mut stream = TcpStream::connect(server.address).unwrap();
    // More than all buffers on the way could hold.
    const ALL: usize = 100_000_000;
    let mut sent = 0;
    while sent < ALL && stream.write_all(&[b'a'; 100_000]).is_ok() {
        sent += 100_000;
    }
    assert!(sent < ALL, "all of it was taken");
    still_answers(server.address);
}

#[test]
fn who_is_slow_is_sent_away_in_time() {
    let server = echo();
    for start in [&b"GET / HT"[..], b"POST / HTTP/1.1\r\nhost: x\r\ncontent-length: 10\r\n\r\nabc"] {
        let begun = Instant::now();
        let answer = say(server.address, start);
        assert_eq!(status(&answer), 408, "{answer}");
        assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    }
    // Byte by byte helps nobody: the time is the whole head's.
    let mut stream = TcpStream::connect(server.address).unwrap();
    let begun = Instant::now();
    while begun.elapsed() < Duration::from_secs(3) && stream.write_all(b"G").is_ok() {
        std::thread::sleep(Duration::from_millis(20));
    }
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    // And who says nothing at all is sent away without a word.
    assert_eq!(say(server.address, b""), "");
    still_answers(server.address);
}

#[test]
fn however_many_are_slow_a_good_one_is_answered_at_once() {
    let patient = Patience { between: Duration::from_secs(30), head: Duration::from_secs(30), ..SHORT };
    let server = Running::of(TcpListener::bind(("127.0.0.1", 0)).unwrap(), patient, Arc::new(Echo));
    let mut slow = Vec::new();
    for _ in 0..200 {
        let mut stream = TcpStream::connect(server.address).unwrap();
        let _ = stream.write_all(b"GET / HTTP/1.1\r\nhost: ");
        slow.push(stream);
    }
    let begun = Instant::now();
    for _ in 0..20 {
        still_answers(server.address);
    }
    assert!(begun.elapsed() < Duration::from_secs(3), "{:?}", begun.elapsed());
}

#[test]
fn who_doesnt_read_his_answer_keeps_nobody() {
    struct Large;
    impl Answers for Large {
        fn admits(&self, _: &Head) -> Result<usize, Response> {
            Ok(0)
        }
        fn answer(&self, request: &Request) -> Response {
            let bytes = if request.head.path == "/large" { 50_000_000 } else { 3 };
            Response::json(200, vec![b'x'; bytes])
        }
    }
    let server = Running::of(TcpListener::bind(("127.0.0.1", 0)).unwrap(), SHORT, Arc::new(Large));
    let mut stream = TcpStream::connect(server.address).unwrap();
    stream.write_all(b"GET /large HTTP/1.1\r\nhost: x\r\n\r\n").unwrap();
    std::thread::sleep(Duration::from_millis(1000));
    let mut read = Vec::new();
    stream.set_read_timeout(Some(Duration::from_secs(5))).unwrap();
    let _ = stream.read_to_end(&mut read);
    assert!(read.len() < 50_000_000, "it waited for as long as it took");
    assert!(say(server.address, GOOD).ends_with("xxx"));
}

/// Pieces of a request, so that what is drawn is often nearly one.
fn nearly_a_request() -> impl Strategy<Value = Vec<u8>> {
    let piece = prop_oneof![
        proptest::collection::vec(any::<u8>(), 0..40),
        prop::sample::select(vec![
            "GET ",
            "POST ",
            "/",
            "/a/../b",
            "%2e%2e",
            " HTTP/1.1",
            " HTTP/1.0",
            "\r\n",
            "\n",
            "host: x",
            "content-length: ",
            "3",
            "-1",
            "connection: close",
            "transfer-encoding: chunked",
            "\0",
            ":",
            " ",
            "\r\n\r\n",
            "abc",
        ])
        .prop_map(|text| text.as_bytes().to_vec()),
    ];
    proptest::collection::vec(piece, 0..20).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_are_read_as_more_than_they_are(bytes in nearly_a_request()) {
        if let Ok(super::request::Parsed::Whole(head, taken)) = Head::parse(&bytes) {
            prop_assert!(taken <= bytes.len());
            prop_assert!(head.path.starts_with('/'));
        }
    }
}

#[test]
fn random_bytes_do_no_harm() {
    use proptest::strategy::ValueTree as _;
    let server = echo();
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let streams: Vec<TcpStream> = (0..300)
        .map(|_| {
            let bytes = nearly_a_request().new_tree(&mut runner).unwrap().current();
            let mut stream = TcpStream::connect(server.address).unwrap();
            let _ = stream.write_all(&bytes);
            stream
        })
        .collect();
    still_answers(server.address);
    drop(streams);
    still_answers(server.address);
}

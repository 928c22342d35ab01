//! One connection: requests read one after another, each within its time, each answered.

use super::request::{Head, LONGEST_HEAD, Method, Parsed, Request};
use super::server::{Patience, Place};
use super::{Answers, Response};
use std::io::{self, Read as _, Write};
use std::net::{Shutdown, TcpStream};
use std::time::{Duration, Instant};

/// How much is read at once, bytes.
const PIECE: usize = 8 * 1024;

/// So much is passed over of what is sent after all was said, bytes.
const MOST_PASSED: usize = 256 * 1024;

/// One connection.
pub(super) struct Connection {
    pub(super) stream: TcpStream,
    pub(super) patience: Patience,
    /// Headers of every answer.
    pub(super) always: &'static [(&'static str, &'static str)],
    /// Its place among the connections.
    pub(super) place: Place,
    /// What was read and not yet used.
    pub(super) unread: Vec<u8>,
}

/// Why nothing more is read.
enum End {
    /// The other side went away, or took too long between two requests.
    Gone,
    /// It is told this.
    Told(Response),
}

impl Connection {
    /// Answers until the other side goes or is sent away.
    pub(super) fn serve(mut self, answers: &dyn Answers) {
        let _ = self.stream.set_nodelay(true);
        loop {
            match self.next(answers) {
                Ok(request) => {
                    self.place.answering();
                    let stays = request.head.stays;
                    let response = answers.answer(&request);
                    if self.send(&response, request.head.method == Method::Head, stays).is_err() || !stays {
                        break;
                    }
                    self.place.waiting();
                }
                Err(End::Told(response)) => {
                    let _ = self.send(&response, false, false);
                    break;
                }
                Err(End::Gone) => break,
            }
        }
        self.leave();
    }

    /// The next request.
    fn next(&mut self, answers: &dyn Answers) -> Result<Request, End> {
        let head = self.head()?;
        let longest = answers.admits(&head).map_err(End::Told)?;
        if head.body > longest {
            return Err(End::Told(Response::refusal(413, "The body of this request is too long.")));
        }
        let until = Instant::now() + self.patience.body;
        while self.unread.len() < head.body {
            self.read(until).map_err(|e| late(&e))?;
        }
        let rest = self.unread.split_off(head.body);
        let body = std::mem::replace(&mut self.unread, rest);
        Ok(Request { head, body })
    }

    fn head(&mut self) -> Result<Head, End> {
        let mut until = Instant::now() + self.patience.between;
        let mut begun = false;
        loop {
            if !self.unread.is_empty() {
                if !begun {
                    begun = true;
                    until = Instant::now() + self.patience.head;
                }
                match Head::parse(&self.unread[..self.unread.len().min(LONGEST_HEAD)]).map_err(End::Told)? {
                    Parsed::Whole(head, taken) => {
                        self.unread.drain(..taken);
                        return Ok(head);
                    }
                    Parsed::Partial => {}
                }
            }
            self.read(until).map_err(|e| if begun { late(&e) } else { End::Gone })?;
        }
    }

    /// Reads what there is, and waits for it until then.
    fn read(&mut self, until: Instant) -> io::Result<()> {
        let left = until.saturating_duration_since(Instant::now());
        if left.is_zero() {
            return Err(io::ErrorKind::TimedOut.into());
        }
        self.stream.set_read_timeout(Some(left))?;
        let start = self.unread.len();
        self.unread.resize(start + PIECE, 0);
        let read = self.stream.read(&mut self.unread[start..]);
        self.unread.truncate(start + read.as_ref().copied().unwrap_or(0));
        match read {
            Ok(0) => Err(io::ErrorKind::UnexpectedEof.into()),
            Ok(_) => Ok(()),
            Err(e) if e.kind() == io::ErrorKind::Interrupted => Ok(()),
            Err(e) => Err(e),
        }
    }

    fn send(&mut self, response: &Response, without_body: bool, stays: bool) -> io::Result<()> {
        let mut out = Timed { stream: &mut self.stream, until: Instant::now() + self.patience.write };
        response.write(&mut out, self.always, without_body, stays)
    }

    /// Lets the other side read its answer: closed with something unread, it would be told of a broken connection.
    fn leave(&mut self) {
        let _ = self.stream.shutdown(Shutdown::Write);
        let until = Instant::now() + self.patience.leaving;
        let mut passed = 0;
        while passed < MOST_PASSED && self.read(until).is_ok() {
            passed += self.unread.len();
            self.unread.clear();
        }
    }
}

fn late(error: &io::Error) -> End {
    match error.kind() {
        io::ErrorKind::TimedOut | io::ErrorKind::WouldBlock => {
            End::Told(Response::refusal(408, "This request took too long to arrive."))
        }
        _ => End::Gone,
    }
}

/// A stream that is written to until then and no longer, however slowly it is read.
struct Timed<'a> {
    stream: &'a mut TcpStream,
    until: Instant,
}

impl Write for Timed<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let left = self.until.saturating_duration_since(Instant::now());
        if left.is_zero() {
            return Err(io::ErrorKind::TimedOut.into());
        }
        self.stream.set_write_timeout(Some(left.max(Duration::from_millis(1))))?;
        self.stream.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.stream.flush()
    }
}

//! Takes connections: so many at once, each on a thread of its own, and none can keep the others out.
//!
//! Where all places are taken, the connection that has kept the server waiting longest loses its own; where all of
//! them are being answered, the new one is told to come again.

use super::connection::Connection;
use super::{Answers, Response};
use std::collections::HashMap;
use std::io;
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// How long is waited for what.
#[derive(Clone, Copy, Debug)]
pub(in crate::open) struct Patience {
    /// Between two requests.
    pub(in crate::open) between: Duration,
    /// From a head's first byte to its last.
    pub(in crate::open) head: Duration,
    /// For a body.
    pub(in crate::open) body: Duration,
    /// Until an answer is taken.
    pub(in crate::open) write: Duration,
    /// For the other side to close.
    pub(in crate::open) leaving: Duration,
}

impl Patience {
    /// As a page on the same machine or in the same room needs it.
    pub(in crate::open) const USUAL: Self = Self {
        between: Duration::from_secs(60),
        head: Duration::from_secs(5),
        body: Duration::from_secs(60),
        // All files together are some tens of megabytes, and a phone may be far from the wall.
        write: Duration::from_secs(120),
        leaving: Duration::from_millis(500),
    };
}

/// The most connections at once.
pub(in crate::open) const MOST_CONNECTIONS: usize = 48;

/// A server that was not yet started.
pub(in crate::open) struct Server {
    listener: TcpListener,
    patience: Patience,
    always: &'static [(&'static str, &'static str)],
    stop: Stop,
}

/// Ends a server from outside.
#[derive(Clone, Debug)]
pub(in crate::open) struct Stop {
    asked: Arc<AtomicBool>,
    address: SocketAddr,
}

impl Stop {
    /// No more connections are taken.
    pub(in crate::open) fn stop(&self) {
        self.asked.store(true, Ordering::SeqCst);
        // It waits for a connection: here is one.
        let _ = TcpStream::connect_timeout(&self.address, Duration::from_secs(1));
    }

    fn is_asked(&self) -> bool {
        self.asked.load(Ordering::SeqCst)
    }
}

impl Server {
    /// A server on this listener; `always` are headers of every answer.
    pub(in crate::open) fn new(
        listener: TcpListener,
        patience: Patience,
        always: &'static [(&'static str, &'static str)],
    ) -> io::Result<Self> {
        let stop = Stop { asked: Arc::default(), address: listener.local_addr()? };
        Ok(Self { listener, patience, always, stop })
    }

    /// Where it listens.
    #[cfg(test)]
    pub(in crate::open) const fn listener_address(&self) -> SocketAddr {
        self.stop.address
    }

    /// What ends it.
    pub(in crate::open) fn stopper(&self) -> Stop {
        self.stop.clone()
    }

    /// Answers until it is stopped.
    pub(in crate::open) fn run(self, answers: &Arc<dyn Answers>) {
        let places = Arc::new(Places::default());
        for stream in self.listener.incoming() {
            if self.stop.is_asked() {
                return;
            }
            match stream {
                Ok(stream) => self.take(stream, &places, answers),
                // No more files may be open, say: what is there goes on, and ends.
                Err(_) => std::thread::sleep(Duration::from_millis(20)),
            }
        }
    }

    fn take(&self, stream: TcpStream, places: &Arc<Places>, answers: &Arc<dyn Answers>) {
        let Some(number) = places.give(&stream) else {
            let mut stream = stream;
            let _ = stream.set_write_timeout(Some(Duration::from_millis(100)));
            let busy = Response::refusal(503, "Too much is asked at once. Try again in a moment.");
            let _ = busy.write(&mut stream, self.always, false, false);
            return;
        };
        let place = Place { places: Arc::clone(places), number };
        let answers = Arc::clone(answers);
        let (patience, always) = (self.patience, self.always);
        let work = move || Connection { stream, patience, always, place, unread: Vec::new() }.serve(&*answers);
        // Where no thread can be had, the connection is closed and its place given back with the work.
        let _ = std::thread::Builder::new().spawn(work);
    }
}

/// The places of all connections.
#[derive(Default)]
struct Places {
    taken: Mutex<(u64, HashMap<u64, Taken>)>,
}

struct Taken {
    stream: TcpStream,
    /// Since when the server waits for it; none while it is answered.
    waiting: Option<Instant>,
}

impl Places {
    fn lock(&self) -> MutexGuard<'_, (u64, HashMap<u64, Taken>)> {
        self.taken.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A place, by its number; none where all are being answered.
    fn give(&self, stream: &TcpStream) -> Option<u64> {
        let stream = stream.try_clone().ok()?;
        let mut taken = self.lock();
        if taken.1.len() >= MOST_CONNECTIONS {
            let waits = taken.1.iter().filter_map(|(number, place)| Some((place.waiting?, *number)));
            let (_, longest) = waits.min()?;
            if let Some(place) = taken.1.remove(&longest) {
                let _ = place.stream.shutdown(Shutdown::Both);
            }
        }
        taken.0 += 1;
        let number = taken.0;
        taken.1.insert(number, Taken { stream, waiting: Some(Instant::now()) });
        Some(number)
    }
}

/// One connection's place; given back when it is dropped.
pub(super) struct Place {
    places: Arc<Places>,
    number: u64,
}

impl Place {
    /// It is being answered: it can't lose its place.
    pub(super) fn answering(&self) {
        self.set(None);
    }

    /// The server waits for its next request.
    pub(super) fn waiting(&self) {
        self.set(Some(Instant::now()));
    }

    fn set(&self, waiting: Option<Instant>) {
        if let Some(taken) = self.places.lock().1.get_mut(&self.number) {
            taken.waiting = waiting;
        }
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.places.lock().1.remove(&self.number);
    }
}

//! Which question a path is, and what answers it.
//!
//! | path | what it answers |
//! |---|---|
//! | (nothing), `NAME.js` … | the files of the page |
//! | `state` | what is drawn |
//! | `after/REVISION` | numbers, findings and what is written, of that text; 409 where there is a newer one |
//! | `wait/NEWS` | waits until there is more to tell, for half a minute at most |
//! | `text` | the plan's text |
//! | `pictures/NAME/SCALE.png` | a strip's face, a blank's end |
//! | `several/SCALE/NAME,NAME` | the same of several, as `pictures.rs` packs them |
//! | `files/REVISION` | makes what `make` writes of that text, and lists it; 409 where there is a newer one |
//! | `files/REVISION/NAME`, `zip/REVISION` | one of these files, all of them |
//! | `photo/REVISION/ENTRY/near`, `far` (POST) | takes a photograph of an end of that blank; answers as an edit |
//! | `edit`, `save` (POST) | what is drawn then; 409 where it was asked of an older text, 422 where it can't be done |

use super::assets::asset;
use super::desk::{Desk, NotDone};
use super::edits::BlankEnd;
use super::files::Files;
use super::guard::Guard;
use super::http::{Answers, Head, Method, Request, Response};
use super::pictures::Pictures;
use super::reading::Reading;
use super::shown::Shown;
use super::shown::after::After;
use super::told::Told;
use super::wire::{AskedEdit, AskedSave, Refusal};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// The longest body, bytes: a plan of the longest, every character of it escaped.
const LONGEST_BODY: usize = 4 << 20;
/// The longest photograph, bytes.
const LONGEST_PHOTOGRAPH: usize = 64 << 20;
/// One photograph is read at a time; one that never comes keeps others out no longer than this.
const PHOTOGRAPH_WITHIN: Duration = Duration::from_secs(70);
/// How long somebody waits for news, at most.
const LONGEST_WAIT: Duration = Duration::from_secs(30);
/// How often the file on disk is looked at meanwhile.
const LOOKED_AT: Duration = Duration::from_secs(1);
/// How many may wait at once: where there are more, the one that has waited longest is answered.
const MOST_WAITING: usize = 16;

/// The page and all that can be asked of it.
pub(super) struct Page {
    guard: Guard,
    desk: Mutex<Desk>,
    told: Condvar,
    /// How many have waited so far.
    waited: AtomicUsize,
    pictures: Pictures,
    files: Files,
    /// Since when a photograph is on its way.
    photograph: Mutex<Option<Instant>>,
    /// What was worked out last, and held while more of it is: one at a time.
    after: Mutex<Option<(u64, Vec<u8>)>>,
}

impl Page {
    /// A page behind a guard.
    pub(super) fn new(guard: Guard, desk: Desk) -> Self {
        Self {
            guard,
            desk: Mutex::new(desk),
            told: Condvar::new(),
            waited: AtomicUsize::new(0),
            pictures: Pictures::default(),
            files: Files::default(),
            photograph: Mutex::new(None),
            after: Mutex::new(None),
        }
    }

    /// The program ends, whoever still waits for an answer; true where something is unsaved.
    pub(super) fn end(&self) -> bool {
        let mut desk = self.desk();
        desk.end();
        desk.unsaved()
    }

    fn desk(&self) -> MutexGuard<'_, Desk> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn get(&self, path: &str) -> Option<Response> {
        let (what, which) = path.split_once('/').unwrap_or((path, ""));
        match (what, which) {
            ("state", "") => Some(self.state()),
            ("text", "") => Some(Response::text(self.desk().reading().text().as_bytes().to_vec())),
            ("after", revision) => Some(self.after(revision.parse().ok()?)),
            ("wait", news) => Some(self.wait(news.parse().ok()?)),
            ("files", which) => self.made(which),
            ("zip", revision) => {
                let name = self.desk().file().name().unwrap_or("board").trim_end_matches(".toml").to_owned();
                self.files.made(revision.parse().ok()?)?.zip(&name)
            }
            ("several", pictures) => {
                let (scale, names) = pictures.split_once('/')?;
                let names: Vec<&str> = names.split(',').collect();
                let bytes = self.pictures.several(&names, scale.parse().ok()?)?;
                Some(Response::bytes("application/octet-stream", bytes))
            }
            ("pictures", picture) => {
                let (name, scale) = picture.strip_suffix(".png")?.split_once('/')?;
                self.pictures.png(name, scale.parse().ok()?).map(|bytes| Response::for_good("image/png", bytes))
            }
            _ => asset(path),
        }
    }

    fn state(&self) -> Response {
        let shown = Shown::of(&self.desk(), &self.pictures);
        json(200, &shown)
    }

    /// Files are made of the newest text alone, and had of the one that they were made of.
    fn made(&self, which: &str) -> Option<Response> {
        if let Some((revision, name)) = which.split_once('/') {
            return self.files.made(revision.parse().ok()?)?.file(name);
        }
        let revision: u64 = which.parse().ok()?;
        Some(match self.newest(revision) {
            Some(reading) => json(200, &self.files.make(revision, &reading).shown()),
            None => Response::refusal(409, "There is a newer text."),
        })
    }

    /// The text of this revision, where there is no newer one.
    fn newest(&self, revision: u64) -> Option<Arc<Reading>> {
        let desk = self.desk();
        (desk.revision() == revision).then(|| Arc::clone(desk.reading()))
    }

    /// Worked out beside the desk; what is no longer asked for isn't begun.
    fn after(&self, revision: u64) -> Response {
        let mut after = self.after.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, bytes)) = after.as_ref().filter(|(known, _)| *known == revision) {
            return Response::json(200, bytes.clone());
        }
        let Some(reading) = self.newest(revision) else {
            return Response::refusal(409, "There is a newer text.");
        };
        let bytes = serde_json::to_vec(&After::of(revision, &reading)).unwrap_or_default();
        *after = Some((revision, bytes.clone()));
        Response::json(200, bytes)
    }

    fn wait(&self, news: u64) -> Response {
        let mine = self.waited.fetch_add(1, Ordering::SeqCst);
        // Somebody may have to go for this one.
        self.told.notify_all();
        let too_many = || self.waited.load(Ordering::SeqCst) - mine > MOST_WAITING;
        let until = Instant::now() + LONGEST_WAIT;
        let mut desk = self.desk();
        loop {
            if desk.look_at_disk() {
                self.told.notify_all();
            }
            let left = until.saturating_duration_since(Instant::now());
            if desk.news() != news || left.is_zero() || too_many() {
                let shown = Shown::of(&desk, &self.pictures);
                drop(desk);
                return json(200, &shown);
            }
            let waited = self.told.wait_timeout(desk, left.min(LOOKED_AT));
            desk = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    fn post(&self, path: &str, body: &[u8]) -> Response {
        let mut desk = self.desk();
        let done = match path {
            "edit" => read(body).and_then(|asked: AskedEdit| desk.edit(asked.revision.into(), &asked.edit)),
            "save" => read(body).and_then(|asked: AskedSave| {
                let name = (!asked.name.trim().is_empty()).then_some(asked.name.as_str());
                desk.save(asked.revision.into(), name)
            }),
            _ => match photograph(path) {
                Some((revision, entry, end)) => desk.photograph(revision, entry, end, body),
                None => return Response::refusal(404, "There is nothing here that could be changed."),
            },
        };
        // Who did it is told first.
        let shown = Shown::of(&desk, &self.pictures);
        drop(desk);
        let response = match done {
            Ok(()) => json(200, &shown),
            Err(NotDone::Older) => json(409, &shown),
            Err(NotDone::Told(told)) => json(422, &Refusal { told }),
        };
        self.told.notify_all();
        response
    }
}

impl Answers for Page {
    fn admits(&self, head: &Head) -> Result<usize, Response> {
        let path = self.guard.admit(head)?;
        if head.method == Method::Post && photograph(path).is_some() {
            let mut begun = self.photograph.lock().unwrap_or_else(PoisonError::into_inner);
            if begun.is_some_and(|begun| begun.elapsed() < PHOTOGRAPH_WITHIN) {
                return Err(Response::refusal(503, "One photograph at a time."));
            }
            *begun = Some(Instant::now());
            return Ok(LONGEST_PHOTOGRAPH);
        }
        Ok(if head.method == Method::Post { LONGEST_BODY } else { 0 })
    }

    fn answer(&self, request: &Request) -> Response {
        let path = match self.guard.admit(&request.head) {
            Ok(path) => path,
            Err(refusal) => return refusal,
        };
        match request.head.method {
            Method::Get | Method::Head => {
                self.get(path).unwrap_or_else(|| Response::refusal(404, "There is nothing here."))
            }
            Method::Post => {
                let response = self.post(path, &request.body);
                if photograph(path).is_some() {
                    *self.photograph.lock().unwrap_or_else(PoisonError::into_inner) = None;
                }
                response
            }
        }
    }
}

/// What a photograph is of: `photo/REVISION/ENTRY/END`.
fn photograph(path: &str) -> Option<(u64, usize, BlankEnd)> {
    let mut parts = path.strip_prefix("photo/")?.split('/');
    let of = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?, BlankEnd::named(parts.next()?)?);
    parts.next().is_none().then_some(of)
}

fn read<T: DeserializeOwned>(body: &[u8]) -> Result<T, NotDone> {
    let wrong = |e: serde_json::Error| Told::plainly(format!("this is not understood: {e}"), "load the page again");
    Ok(serde_json::from_slice(body).map_err(wrong)?)
}

fn json(status: u16, value: &impl Serialize) -> Response {
    Response::json(status, serde_json::to_vec(value).unwrap_or_default())
}

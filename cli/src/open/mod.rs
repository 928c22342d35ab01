//! `open`: the board on a page in the browser, served by this program alone.
//!
//! ```text
//! browser ─► http ─► guard ─► page ─► desk ─► edits ─► the plan's text ─► reading ─► shown, pictures ─► browser
//!                                      └─► file, journal
//! ```
//!
//! | part | what it is for | may know |
//! |---|---|---|
//! | `http` | requests and answers, with their limits | nothing else |
//! | `guard` | who may ask | heads of requests |
//! | `page` | which question a path is | all of these |
//! | `desk` | what is open: text, changes, file, journal | texts and plans |
//! | `history`, `file`, `journal` | undo and redo; the plan's file; what a killed program had | texts |
//! | `edits` | what a maker does, written into the text | the plan's text |
//! | `reading` | a text and what it means | the plan |
//! | `shown`, `pictures`, `files` | what the page is told, the strips' faces, what `make` writes | a reading |
//! | `wire`, `told` | what passes between page and program | nothing else |
//! | `samples`, `assets`, `browser` | boards to begin from; the files of `cli/page`; the browser | nothing else |
//!
//! Everything that is shown comes from the same plan, model and numbers as every other command's: nothing is computed
//! here.

mod assets;
mod browser;
mod desk;
mod edits;
mod file;
mod files;
mod guard;
mod history;
mod http;
mod journal;
mod page;
mod pictures;
mod reading;
mod samples;
mod shown;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_desk;
mod told;
mod wire;

use crate::args::Open;
use crate::failure::{Failure, in_words};
use crate::{Status, terminal};
use desk::Desk;
use guard::{ALWAYS, Guard};
use http::{Answers, Patience, Server};
use page::Page;
use std::net::{SocketAddr, TcpListener};
use std::path::Path;
use std::sync::Arc;

pub(crate) fn run(args: &Open) -> Result<Status, Failure> {
    let desk = Desk::open(args.plan.as_deref(), Path::new("."))?;
    let at = SocketAddr::new(args.address, args.port);
    let cant = |e: std::io::Error| Failure::Misuse(format!("the page can't be served at {at}: {}", in_words(&e)));
    let listener = TcpListener::bind(at).map_err(cant)?;
    let guard = Guard::new(listener.local_addr().map_err(cant)?).map_err(cant)?;
    let address = guard.address();
    let server = Server::new(listener, Patience::USUAL, ALWAYS).map_err(cant)?;
    let stop = server.stopper();
    // Where Ctrl-C can't be caught it ends the program at once, as it always does: the journal holds what is unsaved.
    let _ = ctrlc::set_handler(move || stop.stop());
    if desk.restored() {
        terminal::restored();
    }
    terminal::page_at(&address, args.address.is_loopback());
    if !args.no_browser && browser::open(&address).is_err() {
        terminal::no_browser();
    }
    let page = Arc::new(Page::new(guard, desk));
    let answers: Arc<dyn Answers> = Arc::<Page>::clone(&page);
    server.run(&answers);
    if page.end() {
        terminal::ends_unsaved();
    }
    Ok(Status::Made)
}

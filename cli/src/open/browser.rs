//! Starts the browser by the system's own opener. Knows nothing of what it shows.

use std::io;
use std::process::{Command, Stdio};

/// Opens an address in the maker's browser; it isn't waited for.
pub(super) fn open(address: &str) -> io::Result<()> {
    let mut command = opener();
    command.arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let mut started = command.spawn()?;
    // An opener that ends is taken off the system's list of processes.
    std::thread::Builder::new().spawn(move || started.wait()).map(drop)
}

#[cfg(target_os = "macos")]
fn opener() -> Command {
    Command::new("open")
}

#[cfg(windows)]
fn opener() -> Command {
    let mut command = Command::new("cmd");
    // The empty text is the window's title, which `start` takes first.
    command.args(["/C", "start", ""]);
    command
}

#[cfg(not(any(target_os = "macos", windows)))]
fn opener() -> Command {
    Command::new("xdg-open")
}

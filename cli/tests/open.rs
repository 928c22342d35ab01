//! `open` as a program: it says where its page is, and killed at any moment it loses no more than the last edit.
#![allow(clippy::unwrap_used, clippy::panic)] // a test that can't go on has failed

use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

struct Opened {
    program: Child,
    host: String,
    secret: String,
    said: Vec<String>,
}

/// Starts the program on a plan, and reads where its page is.
fn open(plan: &Path) -> Opened {
    let mut program = Command::new(assert_cmd::cargo::cargo_bin!("quarterturn"))
        .args(["open", "--no-browser"])
        .arg(plan)
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(program.stdout.take().unwrap()).lines();
    let mut said = Vec::new();
    let address = loop {
        let line = lines.next().unwrap_or_else(|| panic!("it ended without an address")).unwrap();
        said.push(line.clone());
        if let Some(rest) = line.trim().strip_prefix("http://") {
            break rest.to_owned();
        }
    };
    let (host, secret) = address.trim_end_matches('/').split_once('/').unwrap();
    Opened { program, host: host.to_owned(), secret: secret.to_owned(), said }
}

impl Opened {
    /// The answer's body; `None` where there is no whole one.
    fn ask(&self, method: &str, path: &str, body: &str) -> Option<Value> {
        let (host, secret, length) = (&self.host, &self.secret, body.len());
        let mut stream = TcpStream::connect(host).ok()?;
        stream.set_read_timeout(Some(Duration::from_secs(60))).ok()?;
        let head = format!("{method} /{secret}/{path} HTTP/1.1\r\nhost: {host}\r\norigin: http://{host}\r\n");
        let rest =
            format!("content-type: application/json\r\ncontent-length: {length}\r\nconnection: close\r\n\r\n{body}");
        stream.write_all((head + &rest).as_bytes()).ok()?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer).ok()?;
        let (head, body) = answer.split_once("\r\n\r\n")?;
        assert!(head.starts_with("HTTP/1.1 200"), "{head}\n{body}");
        Some(serde_json::from_str(body).unwrap_or_else(|_| Value::String(body.to_owned())))
    }

    /// Sends a photograph: status and body of the answer.
    fn photograph(&self, path: &str, bytes: &[u8]) -> (u16, Value) {
        let (host, secret, length) = (&self.host, &self.secret, bytes.len());
        let mut stream = TcpStream::connect(host).unwrap();
        let head = format!("POST /{secret}/{path} HTTP/1.1\r\nhost: {host}\r\norigin: http://{host}\r\n");
        let rest = format!("content-type: image/jpeg\r\ncontent-length: {length}\r\nconnection: close\r\n\r\n");
        stream.write_all((head + &rest).as_bytes()).unwrap();
        stream.write_all(bytes).unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        (head[9..12].parse().unwrap(), serde_json::from_str(body).unwrap_or(Value::Null))
    }

    /// The whole answer.
    fn bytes(&self, path: &str) -> Vec<u8> {
        let (host, secret) = (&self.host, &self.secret);
        let mut stream = TcpStream::connect(host).unwrap();
        let head = format!("GET /{secret}/{path} HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\n\r\n");
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        answer
    }

    fn text(&self) -> String {
        self.ask("GET", "text", "").unwrap().as_str().unwrap().to_owned()
    }
}

impl Drop for Opened {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

const MOMENTS: u64 = 200;

#[test]
fn killed_at_any_moment_it_loses_no_more_than_the_last_edit() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    let start = include_str!("../src/open/empty.toml");
    fs::write(&plan, start).unwrap();
    let mut random = TestRunner::deterministic();
    let (mut lost, mut kept) = (0, 0);
    // The text that was last told of, and the one that was asked for after it.
    let mut sure = start.to_owned();
    let mut asked: Option<String> = None;
    for moment in 0..MOMENTS {
        let mut opened = open(&plan);
        let text = opened.text();
        let of_last = asked.as_ref().is_some_and(|asked| text == *asked);
        assert!(text == sure || of_last, "at moment {moment} more was lost than the last edit:\n{text}\n{sure}");
        (lost, kept) = (lost + u32::from(!of_last && asked.is_some()), kept + u32::from(of_last));
        assert_eq!(opened.said.concat().contains("left unsaved"), text != start, "what is taken up again is said");
        (sure, asked) = (text, None);

        let mut program = std::mem::replace(&mut opened.program, Command::new("true").spawn().unwrap());
        let until = Duration::from_micros((0_u64..30_000).new_tree(&mut random).unwrap().current());
        let killer = std::thread::spawn(move || {
            std::thread::sleep(until);
            program.kill().unwrap();
            program.wait().unwrap();
        });
        let mut revision = 1;
        for n in 0.. {
            let next = start.replace("Not yet named", &format!("Board {moment} {n}"));
            let body = serde_json::json!({ "revision": revision, "edit": { "edit": "replace", "text": next } });
            asked = Some(next);
            let Some(state) = opened.ask("POST", "edit", &body.to_string()) else { break };
            revision = u32::try_from(state["revision"].as_u64().unwrap()).unwrap();
            sure = asked.take().unwrap();
        }
        killer.join().unwrap();
    }
    assert!(lost + kept > MOMENTS as u32 / 2, "the kills came while nothing was asked: {lost} {kept}");
    assert_eq!(fs::read_to_string(&plan).unwrap(), start, "the plan itself is written only when it is saved");
}

#[test]
fn a_plan_that_cant_be_read_is_said_and_nothing_is_served() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    fs::write(&plan, "quarterturn = 1\n[strips]\ncunt = 3\n").unwrap();
    let mut command = assert_cmd::Command::new(assert_cmd::cargo::cargo_bin!("quarterturn"));
    let output = command.args(["open", "--no-browser"]).arg(&plan).timeout(Duration::from_secs(20)).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("did you mean count?"));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

/// What the page gives is what `make` writes, byte for byte.
#[test]
fn its_files_are_those_of_make() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    fs::write(&plan, include_str!("../../samples/brick-bond.toml")).unwrap();
    let opened = open(&plan);
    let listed = opened.ask("GET", "files/1", "").unwrap();
    let out = folder.path().join("out");
    let mut command = assert_cmd::Command::new(assert_cmd::cargo::cargo_bin!("quarterturn"));
    command.arg("make").arg(&plan).arg("--out").arg(&out).assert().success();
    let made: BTreeMap<String, Vec<u8>> = fs::read_dir(&out)
        .unwrap()
        .map(|file| file.unwrap())
        .map(|file| (file.file_name().into_string().unwrap(), fs::read(file.path()).unwrap()))
        .filter(|(name, _)| !name.starts_with('.'))
        .collect();
    let names: Vec<&str> = listed["files"].as_array().unwrap().iter().map(|f| f["name"].as_str().unwrap()).collect();
    assert_eq!(names.iter().copied().collect::<BTreeSet<_>>(), made.keys().map(String::as_str).collect());
    let body = |path: &str| {
        let answer = opened.bytes(path);
        let start = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap() + 4;
        assert!(answer.starts_with(b"HTTP/1.1 200"), "{path}");
        answer[start..].to_vec()
    };
    for (name, bytes) in &made {
        assert!(body(&format!("files/1/{name}")) == *bytes, "{name} is another one");
    }
    assert_eq!(body("zip/1")[..4], *b"PK\x03\x04");
    for path in ["files/2", "files/1/no.png", "files/1/../board.toml", "zip/2", "files/x"] {
        assert!(!opened.bytes(path).starts_with(b"HTTP/1.1 200"), "{path}");
    }
}

/// A photograph is taken beside the plan and named in it; where no end is found nothing is left of it.
#[test]
fn a_photograph_is_taken_or_nothing_is_left_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    let text = include_str!("../src/open/empty.toml").replace("width = 8", "width = \"40 mm\"");
    fs::write(&plan, text.replace("thickness = \"1 3/8\"", "thickness = \"24 mm\"")).unwrap();
    let opened = open(&plan);
    let near = include_bytes!("../../samples/photographed-walnut/B-near.jpg");
    let far = include_bytes!("../../samples/photographed-walnut/B-far.jpg");
    let (status, state) = opened.photograph("photo/1/0/near", near);
    assert_eq!((status, &state["revision"]), (200, &2.into()), "{state}");
    assert_eq!(opened.photograph("photo/2/0/far", far).0, 200);
    let written = opened.text();
    for end in ["near", "far"] {
        assert!(written.contains(&format!("{end} = {{ photo = {{ file = \"A-{end}.jpg\" }} }}")), "{written}");
    }
    assert_eq!(fs::read(folder.path().join("A-near.jpg")).unwrap(), near);

    // Another one of the same end is another file; what is none, or of nothing, is refused.
    assert_eq!(opened.photograph("photo/3/0/near", near).0, 200);
    assert!(opened.text().contains("A-near-2.jpg"));
    let before = opened.text();
    let empty = [&near[..2000], &[0; 100]].concat();
    for (path, bytes, expected) in [
        ("photo/4/0/near", &b"hello"[..], 422),
        ("photo/4/0/near", &empty, 422),
        ("photo/4/1/near", near, 422),
        ("photo/1/0/near", near, 409),
        ("photo/4/0/side", near, 404),
        ("photo/4/0/near/x", near, 404),
    ] {
        assert_eq!(opened.photograph(path, bytes).0, expected, "{path}");
    }
    assert_eq!(opened.text(), before);
    let mut there: Vec<String> =
        fs::read_dir(folder.path()).unwrap().map(|file| file.unwrap().file_name().into_string().unwrap()).collect();
    there.retain(|name| !name.starts_with('.'));
    there.sort_unstable();
    assert_eq!(there, ["A-far.jpg", "A-near-2.jpg", "A-near.jpg", "board.toml"]);
}

#[test]
fn it_answers_soon_after_it_was_started() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("board.toml");
    fs::write(&plan, include_str!("../src/open/empty.toml")).unwrap();
    let begun = Instant::now();
    let opened = open(&plan);
    assert!(opened.text().contains("Not yet named"));
    // 0.2 s are asked of the program as it is used; this one may be unoptimised, beside other work.
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
}

//! Requests that are not for this page to ask are refused, and nothing changes.

use super::desk::Desk;
use super::guard::Guard;
use super::http::tests::{Running, SHORT, say, status};
use super::page::Page;
use serde_json::Value;
use std::collections::BTreeSet;
use std::net::TcpListener;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A page that is served, and its secret.
struct Opened {
    server: Running,
    secret: String,
    folder: TempDir,
}

fn open() -> Opened {
    let folder = tempfile::tempdir().unwrap();
    let desk = Desk::open(None, folder.path()).unwrap();
    let listener = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    let guard = Guard::new(listener.local_addr().unwrap()).unwrap();
    let secret = guard.address().trim_end_matches('/').rsplit('/').next().unwrap().to_owned();
    Opened { server: Running::of(listener, SHORT, Arc::new(Page::new(guard, desk))), secret, folder }
}

impl Opened {
    fn host(&self) -> String {
        self.server.address.to_string()
    }

    fn get(&self, path: &str, headers: &str) -> String {
        say(self.server.address, format!("GET {path} HTTP/1.1\r\n{headers}connection: close\r\n\r\n").as_bytes())
    }
}

#[test]
fn the_page_is_served_to_who_knows_the_secret() {
    let opened = open();
    let (secret, host) = (&opened.secret, opened.host());
    let port = opened.server.address.port();
    for host in [host, format!("localhost:{port}")] {
        let answer = opened.get(&format!("/{secret}/"), &format!("host: {host}\r\n"));
        assert_eq!(status(&answer), 200, "{answer}");
        assert!(answer.contains("<!doctype html>") && answer.contains("text/html"));
        let origin = format!("host: {host}\r\norigin: http://{host}\r\nsec-fetch-site: same-origin\r\n");
        assert_eq!(status(&opened.get(&format!("/{secret}/main.js"), &origin)), 200);
    }
}

#[test]
fn without_the_secret_there_is_nothing() {
    let opened = open();
    let host = format!("host: {}\r\n", opened.host());
    let wrong = "0".repeat(opened.secret.len());
    let short = &opened.secret[..10];
    for path in
        ["/", "/main.js", &format!("/{wrong}/"), &format!("/{short}/"), &format!("/{}", opened.secret), "//", "/x/"]
    {
        let answer = opened.get(path, &host);
        assert_eq!(status(&answer), 403, "{path}: {answer}");
        assert!(!answer.contains(&opened.secret), "{path} tells the secret");
    }
}

#[test]
fn no_path_leads_out_of_the_page() {
    let opened = open();
    let host = format!("host: {}\r\n", opened.host());
    for path in [
        "../Cargo.toml",
        "../../etc/passwd",
        "%2e%2e/%2e%2e/etc/passwd",
        "..%2fmain.rs",
        "/etc/passwd",
        "./main.js",
        "main.js/",
        "main.js?x",
        "MAIN.JS",
        "..\\main.js",
    ] {
        let answer = opened.get(&format!("/{}/{path}", opened.secret), &host);
        assert_eq!(status(&answer), 404, "{path}: {answer}");
    }
}

#[test]
fn other_hosts_origins_and_sites_are_refused() {
    let opened = open();
    let (path, host) = (format!("/{}/", opened.secret), opened.host());
    let port = opened.server.address.port();
    let ours = format!("host: {host}\r\n");
    for headers in [
        String::new(),
        format!("host: other.example:{port}\r\n"),
        "host: 127.0.0.1\r\n".to_owned(),
        format!("host: 127.0.0.1.other.example:{port}\r\n"),
        format!("{ours}origin: http://other.example\r\n"),
        format!("{ours}origin: null\r\n"),
        format!("{ours}origin: https://{host}\r\n"),
        format!("{ours}origin: http://127.0.0.1:1\r\n"),
        format!("{ours}sec-fetch-site: cross-site\r\n"),
        format!("{ours}sec-fetch-site: same-site\r\n"),
    ] {
        let answer = opened.get(&path, &headers);
        assert_eq!(status(&answer), 403, "{headers:?}: {answer}");
        assert!(!answer.to_lowercase().contains("access-control"), "{answer}");
    }
}

impl Opened {
    /// What is answered to a change that the page asks for: status and body.
    fn post(&self, what: &str, body: &str) -> (u16, Value) {
        let (secret, host, length) = (&self.secret, self.host(), body.len());
        let head = format!("POST /{secret}/{what} HTTP/1.1\r\nhost: {host}\r\norigin: http://{host}\r\n");
        let head =
            format!("{head}content-type: application/json\r\ncontent-length: {length}\r\nconnection: close\r\n\r\n");
        parts(&say(self.server.address, (head + body).as_bytes()))
    }

    fn read(&self, what: &str) -> (u16, Value) {
        parts(&self.get(&format!("/{}/{what}", self.secret), &format!("host: {}\r\n", self.host())))
    }

    fn begin(&self, with: &str) -> Value {
        let revision = &self.read("state").1["revision"];
        let (status, state) =
            self.post("edit", &format!(r#"{{"revision":{revision},"edit":{{"edit":"begin","with":"{with}"}}}}"#));
        assert_eq!(status, 200, "{state}");
        state
    }
}

fn parts(answer: &str) -> (u16, Value) {
    let body = answer.split_once("\r\n\r\n").map_or("", |(_, body)| body);
    (status(answer), serde_json::from_str(body).unwrap_or(Value::Null))
}

#[test]
fn two_tabs_dont_overwrite_each_other() {
    let opened = open();
    let state = opened.begin("walnut diamonds");
    let edit = |place: usize| {
        format!(
            r#"{{"revision":{},"edit":{{"edit":"turn","places":[{place}],"to":"end for end"}}}}"#,
            state["revision"]
        )
    };
    let (status, first) = opened.post("edit", &edit(0));
    assert_eq!((status, &first["board"]["strips"][0]["turn"]), (200, &"end for end".into()));
    let (status, second) = opened.post("edit", &edit(1));
    assert_eq!((status, &second["revision"]), (409, &first["revision"]));
    assert_eq!(second["board"]["strips"][1]["turn"], "rolled over");
    // Who waits for news of the older one is told at once.
    let (status, told) = opened.read(&format!("wait/{}", state["news"]));
    assert_eq!((status, &told["revision"]), (200, &first["revision"]));
}

#[test]
fn who_waits_is_told_of_an_edit_when_it_is_made() {
    let opened = open();
    let news = opened.begin("walnut diamonds")["news"].clone();
    std::thread::scope(|scope| {
        let told = scope.spawn(|| opened.read(&format!("wait/{news}")));
        std::thread::sleep(Duration::from_millis(50));
        let begun = Instant::now();
        opened.begin("ash chevrons");
        let (status, told) = told.join().unwrap();
        assert_eq!((status, &told["name"]), (200, &opened.read("state").1["name"]));
        assert!(begun.elapsed() < Duration::from_secs(2));
    });
}

#[test]
fn however_many_wait_everybody_is_answered() {
    let opened = open();
    let news = opened.begin("walnut diamonds")["news"].clone();
    std::thread::scope(|scope| {
        let first = scope.spawn(|| opened.read(&format!("wait/{news}")));
        std::thread::sleep(Duration::from_millis(50));
        let begun = Instant::now();
        let others: Vec<_> = (0..20).map(|_| scope.spawn(|| opened.read(&format!("wait/{news}")))).collect();
        // Nothing is new: it goes for the others.
        assert_eq!(first.join().unwrap().0, 200);
        assert!(begun.elapsed() < Duration::from_secs(4), "{:?}", begun.elapsed());
        opened.begin("ash chevrons");
        assert!(others.into_iter().all(|other| other.join().unwrap().0 == 200));
    });
}

#[test]
fn what_is_not_understood_changes_nothing() {
    let opened = open();
    let before = opened.begin("walnut diamonds");
    let revision = before["revision"].clone();
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let with = |edit: &str| format!(r#"{{"revision":{revision},"edit":{edit}}}"#);
    for body in [
        "",
        "{}",
        "null",
        "[]",
        "{",
        &deep,
        &with("{}"),
        &with(r#"{"edit":"no such"}"#),
        &with(r#"{"edit":"turn","places":[-1],"to":"as cut"}"#),
        &with(r#"{"edit":"turn","places":[0],"to":"upside down"}"#),
        &with(r#"{"edit":"turn","places":[0],"to":"as cut","more":1}"#),
        &with(r#"{"edit":"begin","with":"../../etc/passwd"}"#),
        &with(r#"{"edit":"replace","text":"not a plan"}"#),
        r#"{"revision":-1,"edit":{"edit":"undo"}}"#,
        r#"{"revision":1e99,"edit":{"edit":"undo"}}"#,
    ] {
        let (status, refusal) = opened.post("edit", body);
        let start = &body[..body.len().min(60)];
        assert_eq!(status, 422, "{start}: {refusal}");
        assert!(!refusal["told"][0]["what"].as_str().unwrap().is_empty(), "{start}");
    }
    for name in ["../out", "a/b", "/etc/x", "..", ".hidden"] {
        assert_eq!(opened.post("save", &format!(r#"{{"revision":{revision},"name":"{name}"}}"#)).0, 422, "{name}");
    }
    assert_eq!(opened.read("state").1, before);
    let there = std::fs::read_dir(opened.folder.path()).unwrap();
    let there: Vec<String> = there.map(|f| f.unwrap().file_name().into_string().unwrap()).collect();
    assert!(there.iter().all(|name| name.starts_with(".new-board.")), "{there:?}");
}

#[test]
fn every_strip_has_its_pictures_and_a_turn_needs_no_new_one() {
    let opened = open();
    let state = opened.begin("walnut diamonds");
    let names = |state: &Value| -> BTreeSet<String> {
        let strips = state["board"]["strips"].as_array().unwrap();
        let ways = strips.iter().flat_map(|strip| strip["ways"].as_array().unwrap());
        ways.map(|way| way["picture"].as_str().unwrap().to_owned()).collect()
    };
    let before = names(&state);
    assert_eq!(before.len(), 28, "two faces of fourteen strips");
    let edit =
        format!(r#"{{"revision":{},"edit":{{"edit":"turn","places":[3],"to":"end over end"}}}}"#, state["revision"]);
    let turned = opened.post("edit", &edit).1;
    assert_eq!(names(&turned), before);
    let edit = format!(r#"{{"revision":{},"edit":{{"edit":"move","places":[3],"to":9}}}}"#, turned["revision"]);
    let moved = opened.post("edit", &edit).1;
    assert_eq!(names(&moved), before);
    let edit = format!(
        r#"{{"revision":{},"edit":{{"edit":"set","key":["blanks",0,"shows","ring_width"],"to":"1/7"}}}}"#,
        moved["revision"]
    );
    assert_eq!(opened.post("edit", &edit).0, 422, "a seventh of an inch can't be kept exactly");
    let edit = edit.replace("1/7", "3/16");
    assert!(names(&opened.post("edit", &edit).1).is_disjoint(&before), "other rings are another picture");

    let one = before.first().unwrap();
    let host = format!("host: {}\r\n", opened.host());
    let get = |path: &str| opened.get(&format!("/{}/{path}", opened.secret), &host);
    let png = get(&format!("pictures/{one}/2.png"));
    assert!(status(&png) == 200 && png.contains("image/png") && png.contains("immutable"));
    let several = get(&format!("several/2/{one},none,{one}"));
    let length = png.split_once("\r\n\r\n").unwrap().1.len();
    assert!(status(&several) == 200 && several.len() > 2 * length, "{} {length}", several.len());
    assert_eq!(status(&get(&format!("several/2/{}", [one.as_str(); 65].join(",")))), 404);
    assert_eq!(status(&get(&format!("several/5/{one}"))), 200, "none of it can be drawn");
    for path in [
        format!("{one}/5.png"),
        format!("{one}/2"),
        format!("{one}/2.jpg"),
        format!("{}/2.png", "0".repeat(32)),
        "/2.png".to_owned(),
        "../2.png".to_owned(),
    ] {
        assert_eq!(status(&get(&format!("pictures/{path}"))), 404, "{path}");
    }
}

#[test]
fn numbers_and_findings_follow_and_those_of_an_older_text_do_not() {
    let opened = open();
    let state = opened.begin("walnut diamonds");
    let revision = state["revision"].as_u64().unwrap();
    let (status, after) = opened.read(&format!("after/{revision}"));
    assert_eq!((status, &after["can_be_made"]), (200, &true.into()));
    let board = &after["places"][3];
    assert_eq!((&board["bench"], &board["numbers"][0]["shown"]), (&"board".into(), &"10 7/8 in".into()));
    assert_eq!(after["places"].as_array().unwrap().len(), 6);
    assert_eq!(opened.read(&format!("after/{}", revision - 1)).0, 409);
    assert_eq!(opened.read("after/x").0, 404);
}

#[test]
fn what_changes_something_must_come_from_the_page() {
    let opened = open();
    let (secret, host) = (&opened.secret, opened.host());
    let post = |headers: &str| {
        let text = format!(
            "POST /{secret}/edit HTTP/1.1\r\nhost: {host}\r\n{headers}content-length: 2\r\nconnection: close\r\n\r\n{{}}"
        );
        status(&say(opened.server.address, text.as_bytes()))
    };
    let json = "content-type: application/json\r\n";
    assert_eq!(post(json), 403, "no origin");
    assert_eq!(post(&format!("{json}origin: http://other.example\r\n")), 403);
    assert_eq!(post(&format!("origin: http://{host}\r\ncontent-type: text/plain\r\n")), 415);
    assert_eq!(post(&format!("origin: http://{host}\r\n")), 415);
}

//! Who does not get in.

use app::forms::CrewRole;
use host::Limits;
use serde_json::json;
use site_tests::site::{Answer, Site, answer, request};
use std::io::{Read, Write};
use std::sync::mpsc;
use std::time::Duration;

/// A room whose name would show in whatever is let out.
const SECRET: &str = "Kestrel Lane hall bath";

fn open_with(limits: Limits) -> Site {
    let site = Site::open(limits);
    site.home("demo", &json!({ "name": "kestrel", "id": "d1" }));
    site
}

fn open() -> Site {
    open_with(Limits::default())
}

fn turned_away(answer: &Answer, status: u16, why: &str) {
    assert_eq!(answer.status, status, "{why}: {answer:?}");
    assert!(!answer.body.contains(SECRET), "{why}: {}", answer.body);
}

#[test]
fn without_a_key_nothing_of_the_rooms_is_answered() {
    let site = open();
    for name in app::REQUESTS {
        let bare = site.ask("POST", &format!("/dispatch/{name}"), &[], "{}");
        turned_away(&bare, 401, name);
        let made_up = [("cookie", "truefall-crew-1=0000000000000000.11; truefall-crew=; x=y")];
        turned_away(&site.ask("POST", &format!("/dispatch/{name}"), &made_up, "{}"), 401, name);
    }
    turned_away(&site.ask("GET", "/changes", &[], ""), 401, "the changes");
}

#[test]
fn the_right_code_lets_one_device_in_once() {
    let site = open();
    let code = site.code(CrewRole::Read);
    let cookie = site.join(&code, "Ana").expect("joined");
    assert!(site.of(&cookie, "rooms", &json!({})).body.contains(SECRET));
    let again = site.join(&code, "Ben").expect_err("a code is used up");
    turned_away(&again, 401, "replayed");
    assert!(site.view().open.is_some_and(|open| open.code.is_none()), "the used code is shown no longer");
}

#[test]
fn guessing_shuts_the_door_until_home_draws_a_new_code() {
    let site = open();
    let code = site.code(CrewRole::Write);
    for guess in ["", "AAAAAAAA", "00000000", &code[1..], &format!("{code}2")] {
        turned_away(&site.join(guess, "Mallory").expect_err("wrong"), 401, guess);
    }
    turned_away(&site.join(&code, "Ana").expect_err("shut"), 401, "the right one too late");
    assert!(site.view().open.is_some_and(|open| open.guessed), "home is told");
    assert!(site.view().members.iter().all(|member| member.name.is_empty()), "nobody came in");
    assert!(site.join(&site.code(CrewRole::Read), "Ana").is_ok(), "a new code is good");
}

#[test]
fn a_code_expires() {
    let site = open_with(Limits { code: Duration::ZERO, ..Limits::default() });
    let code = site.crew.view().open.and_then(|open| open.code);
    assert_eq!(code, None, "an old code is not shown");
    turned_away(&site.join("AAAAAAAA", "Ana").expect_err("too old"), 401, "expired");
}

#[test]
fn another_origin_and_another_host_are_refused_even_with_a_key() {
    let site = open();
    let cookie = site.member("Ana", CrewRole::Write);
    let port = site.at.rsplit_once(':').expect("a port").1;
    for origin in ["https://evil.example", "null", "http://127.0.0.1", &format!("http://{}", site.at), ""] {
        let tried = site.ask("POST", "/dispatch/rooms", &[("cookie", &cookie), ("origin", origin)], "{}");
        turned_away(&tried, 403, origin);
        turned_away(&site.ask("POST", "/join", &[("origin", origin)], "{}"), 403, origin);
    }
    let hosts = ["evil.example", "127.0.0.1", &format!("localhost:{port}"), &format!("evil.example:{port}"), ""];
    for host in hosts {
        for (method, path) in [("POST", "/dispatch/rooms"), ("GET", "/"), ("GET", "/changes")] {
            let tried = site.ask(method, path, &[("cookie", &cookie), ("host", host)], "");
            assert!([400, 421].contains(&tried.status) && !tried.body.contains(SECRET), "{host} {path}: {tried:?}");
        }
    }
}

#[test]
fn no_path_leads_out_of_the_screens() {
    let site = open();
    let tricks = [
        "/../crew.json",
        "/..%2f..%2fcrew.json",
        "/%2e%2e/%2e%2e/Cargo.toml",
        "/assets/../../Cargo.toml",
        "/assets/..\\..\\Cargo.toml",
        "/crew.json",
        "/rooms.sqlite",
        "/device",
        "/assets/",
        "/assets",
        "//etc/passwd",
        "/%00",
        "/.git/config",
        "/dispatch",
        "/dispatch/",
        "/dispatch/../rooms",
        "/changes/",
    ];
    for path in tricks {
        let tried = site.ask("GET", path, &[], "");
        assert!([400, 401, 404, 405].contains(&tried.status), "{path}: {}", tried.status);
        assert!(!tried.body.contains("members") && !tried.body.contains("root:"), "{path}: {}", tried.body);
    }
}

#[test]
fn every_answer_keeps_itself_to_itself() {
    let site = open();
    let cookie = site.member("Ana", CrewRole::Read);
    let answers = [
        site.ask("GET", "/", &[], ""),
        site.ask("GET", "/nowhere", &[], ""),
        site.ask("POST", "/join", &[], "{}"),
        site.ask("POST", "/dispatch/rooms", &[], "{}"),
        site.of(&cookie, "rooms", &json!({})),
        site.ask("OPTIONS", "/dispatch/rooms", &[("access-control-request-method", "POST")], ""),
        site.ask("POST", "/dispatch/rooms", &[("host", "evil.example")], "{}"),
    ];
    for answer in answers {
        let head = answer.head.to_lowercase();
        let policy = format!("content-security-policy: {}", host::POLICY);
        assert!(head.lines().any(|line| line == policy), "{policy} is missing in {head}");
        for header in ["nosniff", "no-referrer", "no-store"] {
            assert!(head.contains(header), "{header} is missing in {head}");
        }
        assert!(!head.contains("access-control"), "{head}");
    }
    let allowed = site.ask("OPTIONS", "/dispatch/rooms", &[("cookie", &cookie)], "");
    assert_eq!(allowed.status, 405, "no other page is told that it may ask");
}

#[test]
fn scripts_in_text_stay_text() {
    let site = open();
    let script = "<script>alert(1)</script>";
    let cookie = site.join(&site.code(CrewRole::Write), script).expect("joined");
    let payload = json!({ "name": script, "units": "in", "created": "2026-03-02T08:15:00Z" }).to_string();
    let write = json!({ "id": "w1", "room": "r1", "command": "room-new", "payload": payload });
    assert_eq!(site.of(&cookie, "write", &write).status, 200);
    for (name, body) in
        [("rooms", json!({})), ("room", json!({ "room": "r1" })), ("crew", json!({})), ("no", json!({}))]
    {
        let told = site.of(&cookie, name, &body);
        assert!(told.head.contains("application/json"), "{name} is never taken for a page: {}", told.head);
    }
    for name in ["", " ", "a\nb", &"x".repeat(41), "\u{7}"] {
        let tried = site.join(&site.code(CrewRole::Read), name).expect_err("no name");
        assert_eq!(tried.status, 422, "{name:?}");
    }
}

#[test]
fn a_device_that_is_turned_away_hears_nothing_more() {
    let site = open();
    let cookie = site.member("Hal", CrewRole::Read);
    let mut stream = site.line();
    let ask = request(&site.at, "GET", "/changes", &[("cookie", &cookie)], "", "keep-alive");
    stream.write_all(ask.as_bytes()).expect("asked");
    let mut head = [0u8; 12];
    stream.read_exact(&mut head).expect("answered");
    assert_eq!(&head, b"HTTP/1.1 200");
    let id = site.view().members.into_iter().find(|member| member.name == "Hal").expect("a member").id;
    site.home("crew-revoke", &json!({ "member": id }));
    let rest = answer(&mut stream);
    assert!(!rest.body.contains(SECRET), "the stream ended");
    turned_away(&site.of(&cookie, "rooms", &json!({})), 401, "revoked");
}

#[test]
fn the_door_closes_by_itself_and_all_at_once() {
    let site = open();
    let cookie = site.member("Ana", CrewRole::Read);
    let (told, heard) = mpsc::channel();
    site.app.on_change(Box::new(move |_| {
        // Once nobody waits any more, nobody needs to be told.
        let _ = told.send(());
    }));
    let again = app::forms::CrewOpen { at: vec!["127.0.0.1".into()], minutes: 1, role: CrewRole::Read };
    site.crew.open_for(&again, None, Duration::from_millis(20)).expect("open");
    while std::net::TcpStream::connect(&site.at).is_ok() {
        heard.recv_timeout(Duration::from_secs(300)).expect("it closes by itself");
    }
    assert_eq!(site.view().open, None, "nobody answers any more");
    site.crew.open(&again, None).expect("open");
    assert_eq!(site.view().open.expect("open").addresses[0], format!("https://{}", site.at), "the address stays");
    assert_eq!(site.of(&cookie, "rooms", &json!({})).status, 200, "and who was let in is let in again");
}

//! What is too large, too slow or too often.

use app::forms::CrewRole;
use host::Limits;
use serde_json::json;
use site_tests::site::{Site, answer, request};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// Long enough for what is in earnest on a busy machine, and over soon for what never comes.
const SHORT: Duration = Duration::from_secs(3);

#[test]
fn a_body_that_is_too_large_is_refused_before_it_is_read() {
    let site = Site::open(Limits { bytes: 4096, ..Limits::default() });
    let cookie = site.member("Ana", CrewRole::Write);
    let told = site.ask("POST", "/dispatch/write", &[("cookie", &cookie), ("content-length", "99999999999")], "{");
    assert_eq!(told.status, 413, "{told:?}");
    let large = site.of(&cookie, "write", &json!({ "id": "x".repeat(5000) }));
    assert_eq!(large.status, 413);
    let chunks = "1000\r\n".to_string() + &"x".repeat(4096) + "\r\n";
    let headers = [("cookie", cookie.as_str()), ("transfer-encoding", "chunked"), ("content-length", "")];
    let head = request(&site.at, "POST", "/dispatch/write", &headers, "", "close");
    assert_eq!(site.send(format!("{head}{}0\r\n\r\n", chunks.repeat(3)).as_bytes()).status, 413, "nor piece by piece");
    assert_eq!(site.ask("POST", "/join", &[], &"x".repeat(2000)).status, 413, "a stranger has less room still");
    assert_eq!(site.of(&cookie, "rooms", &json!({})).status, 200, "and the rooms are as usable as before");
}

#[test]
fn a_body_that_trickles_is_given_up() {
    let site = Site::open(Limits { body: SHORT, ..Limits::default() });
    let cookie = site.member("Ana", CrewRole::Write);
    for (path, headers) in [("/join", vec![]), ("/dispatch/write", vec![("cookie", cookie.as_str())])] {
        let mut line = site.line();
        let headers: Vec<_> = headers.into_iter().chain([("content-length", "100")]).collect();
        line.write_all(request(&site.at, "POST", path, &headers, "{", "close").as_bytes()).expect("sent");
        assert_eq!(answer(&mut line).status, 408, "{path}");
    }
}

#[test]
fn a_head_that_trickles_and_a_connection_that_says_nothing_are_closed() {
    let site = Site::open(Limits { patience: SHORT, ..Limits::default() });
    let mut line = site.line();
    line.write_all(b"GET / HT").expect("sent");
    assert!([0, 408].contains(&answer(&mut line).status));
    let mut silent = TcpStream::connect(&site.at).expect("connected");
    let mut bytes = Vec::new();
    // Closed or reset: either way this returns.
    let _ = silent.read_to_end(&mut bytes);
    assert!(bytes.is_empty(), "{bytes:?}");
    let huge = format!("GET / HTTP/1.1\r\nhost: {}\r\nx: {}\r\n\r\n", site.at, "y".repeat(200_000));
    assert!([0, 400, 431].contains(&site.send(huge.as_bytes()).status), "nor is there a head without end");
}

#[test]
fn who_asks_too_often_waits_and_nobody_else_does() {
    let site = Site::open(Limits { per_second: 0.0, saved_up: 6.0, ..Limits::default() });
    let (ana, ben) = (site.member("Ana", CrewRole::Read), site.member("Ben", CrewRole::Read));
    let asked: Vec<u16> = (0..8).map(|_| site.of(&ana, "rooms", &json!({})).status).collect();
    assert_eq!(asked, [200, 200, 200, 200, 200, 200, 429, 429]);
    assert_eq!(site.of(&ben, "rooms", &json!({})).status, 200);
}

#[test]
fn what_is_no_request_at_all_is_answered_or_closed() {
    let site = Site::open(Limits::default());
    let nonsense: [&[u8]; 5] = [b"\r\n\r\n", b"\0\0\0\0", b"GET\r\n\r\n", b"POST /join HTTP/9.9\r\n\r\n", &[0xff; 300]];
    for bytes in nonsense {
        let told = site.send(bytes);
        assert!([0, 400, 421, 505].contains(&told.status), "{bytes:?}: {told:?}");
    }
    let smuggled = format!(
        "POST /join HTTP/1.1\r\nhost: {}\r\ncontent-length: 4\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\nGET /changes",
        site.at
    );
    assert_ne!(site.send(smuggled.as_bytes()).status, 200);
    assert!(site.join(&site.code(CrewRole::Read), "Ana").is_ok(), "and the door still works");
}

//! The real window under a display of its own: what is tapped there is on disk, and the page can do nothing else.
//!
//! Run by `cargo verify window`; it needs the built screens, `xvfb-run`, `dbus-run-session` and `WebKitWebDriver`.

mod driver;

use app::{App, Clock};
use driver::Window;
use serde_json::{Value, json};
use std::fs;
use std::net::TcpListener;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// One window at a time: each brings a display of its own.
static ONE: Mutex<()> = Mutex::new(());

#[test]
fn a_reading_that_is_tapped_is_on_disk() {
    let _one = ONE.lock().unwrap_or_else(PoisonError::into_inner);
    let home = tempfile::tempdir().unwrap();
    let window = Window::open(&program(), home.path());
    for (command, payload) in [("room-new", room()), ("plan-set", json!({"plan": plan()}))] {
        let write = json!({"id": command, "room": "bath", "command": command, "payload": payload.to_string()});
        assert!(window.promise(&ask("write", &write)).get("refused").is_none());
    }
    window.script("location.hash = '#/rooms/bath/readings/joists'");
    window.tap("form button[type='submit']");
    window.waits_for("[data-stage='opening']");
    for key in ["[data-key='4']", "[data-key='4']", "[data-keys='other']", "[data-key='4']", "[data-key='next']"] {
        window.touch(key);
    }
    window.waits_for("[data-stage='reading'] [data-point='J1@0']");
    for key in ["[data-key='2']", "[data-key='next']"] {
        window.touch(key);
    }
    window.waits_for("[data-point='J1@30']");
    drop(window);

    let kept = App::open(home.path(), Clock::default()).unwrap().room("bath");
    let kept = serde_json::to_value(kept.unwrap()).unwrap();
    assert_eq!(kept["surveys"][0]["points"][0]["reading"]["entered"], json!("44-1/8"), "{kept}");
}

#[test]
fn the_page_hears_of_changes_and_can_do_nothing_else() {
    let _one = ONE.lock().unwrap_or_else(PoisonError::into_inner);
    let home = tempfile::tempdir().unwrap();
    let window = Window::open(&program(), home.path());
    window.shows("Truefall");
    let write = json!({"id": "one", "room": "bath", "command": "room-new", "payload": room().to_string()});
    window.promise(&ask("write", &write));
    window.shows("Hall bath");

    for command in ["plugin:window|close", "plugin:webview|internal_toggle_devtools", "plugin:event|emit", "no_such"] {
        let answer = window.promise(&format!("window.__TAURI_INTERNALS__.invoke('{command}', {{}})"));
        assert!(answer.get("refused").is_some(), "{command} was carried out: {answer}");
    }
    let refused = window.promise(&ask("no-such-request", &json!({})));
    let refusal: Value = serde_json::from_str(refused["refused"].as_str().unwrap()).unwrap();
    assert_eq!(refusal["kind"], "unknown-command");

    let listener = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    listener.set_nonblocking(true).unwrap();
    let elsewhere = format!("http://{}/", listener.local_addr().unwrap());
    assert!(window.promise(&format!("fetch('{elsewhere}', {{mode: 'no-cors'}})")).get("refused").is_some());
    assert!(listener.accept().is_err(), "the page reached another address");
}

#[test]
fn damaged_rooms_are_made_whole_by_a_tap() {
    let _one = ONE.lock().unwrap_or_else(PoisonError::into_inner);
    let home = tempfile::tempdir().unwrap();
    let rooms = home.path().join("rooms.sqlite");
    let app = App::open(home.path(), Clock::default()).unwrap();
    app.dispatch("demo", &json!({"name": "kestrel", "id": "one"}).to_string()).unwrap();
    app.look_over();
    drop(app);
    let mut bytes = fs::read(&rooms).unwrap();
    bytes[4096..8192].iter_mut().for_each(|byte| *byte = !*byte);
    fs::write(&rooms, &bytes).unwrap();

    let window = Window::open(&program(), home.path());
    window.shows("is damaged");
    window.tap(".notice button");
    window.shows("Rooms here again: 1.");
    window.tap(".notice button");
    window.waits_for("a[href^='#/rooms/']");
    drop(window);
    assert_eq!(App::open(home.path(), Clock::default()).unwrap().rooms().unwrap().rooms.len(), 1);
    assert!(fs::read_dir(home.path()).unwrap().any(|file| fs::read(file.unwrap().path()).is_ok_and(|it| it == bytes)));
}

/// A request of the page to the core, as the bridge of the screens makes it.
fn ask(name: &str, body: &Value) -> String {
    let call = json!({"name": name, "payload": body.to_string()});
    format!("window.__TAURI_INTERNALS__.invoke('dispatch', {call})")
}

/// The program as it was built beside this test.
fn program() -> PathBuf {
    let program = site_tests::beside("truefall-window");
    assert!(program.is_file(), "{} is built by `cargo verify build`", program.display());
    program
}

fn room() -> Value {
    json!({"name": "Hall bath", "units": "in", "created": "2031-04-02T07:31:05-05:00"})
}

/// One joist with two points.
fn plan() -> Value {
    let point = |at: u32| json!({"id": format!("J1@{at}"), "survey": "joists", "x": 203.2, "y": f64::from(at) * 25.4, "joist": "J1"});
    json!({
        "outline": [[0.0, 0.0], [2844.8, 0.0], [2844.8, 2438.4], [0.0, 2438.4]],
        "base_wall": "door wall",
        "side_wall": "left wall",
        "joists_along": "y",
        "joists": [{"id": "J1", "at": 203.2, "kind": "sawn", "depth": 234.95, "span": 3505.2, "first_bearing": -609.6}],
        "surveys": [{"id": "joists", "name": "joists as found", "surface": "framing"}],
        "points": [point(0), point(30)],
    })
}

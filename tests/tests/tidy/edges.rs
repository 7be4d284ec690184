//! The edges of the program: the bridge of the screens, and what the window may do.

use crate::source::{Source, top};
use crate::{enforce, no_complaints};
use serde_json::{Value, json};

#[test]
fn only_one_file_of_the_screens_knows_the_window() {
    let rule = |file: &Source| match written_screen(file) && file.path != "ui/src/bridge/tauri.ts" {
        true => file.lines_with(&["@tauri-apps", "__TAURI"], "only ui/src/bridge/tauri.ts knows the window"),
        false => vec![],
    };
    enforce(rule, &[("ui/src/screens/Rooms.svelte", "import { invoke } from '@tauri-apps/api/core'")]);
}

#[test]
fn the_screens_reach_the_core_over_the_bridge() {
    let ways = &["fetch(", "EventSource", "XMLHttpRequest", "WebSocket", "bridge/tauri", "bridge/http", "src-tauri"];
    let rule = |file: &Source| match written_screen(file) && !file.within("ui/src/bridge/") {
        true => file.lines_with(ways, "the screens reach the core over the bridge"),
        false => vec![],
    };
    enforce(
        rule,
        &[
            ("ui/src/screens/Rooms.svelte", "const rooms = await fetch('/rooms')"),
            ("ui/src/state/room.svelte.ts", "import { http } from '../bridge/http'"),
        ],
    );
}

#[test]
fn only_the_shell_speaks_of_the_window_library() {
    let rule = |file: &Source| match file.within("src-tauri/crates/") && file.is_shipped_rust() {
        true => file.lines_with(&["tauri::", "use tauri"], "only src-tauri/src names tauri"),
        false => vec![],
    };
    enforce(rule, &[("src-tauri/crates/app/src/lib.rs", "fn f(app: tauri::AppHandle) {}")]);
}

#[test]
fn the_window_may_do_two_things_and_a_phone_two_more() {
    let granted = &read("src-tauri/capabilities/main.json")["permissions"];
    assert_eq!(*granted, json!(["core:event:allow-listen", "core:event:allow-unlisten", "allow-dispatch"]));
    let phone = read("src-tauri/capabilities/phone.json");
    assert_eq!(phone["platforms"], json!(["android", "iOS"]), "the second list is for phones alone");
    let sheets = ["dialog:allow-open", "dialog:allow-save", "fs:allow-read-file", "fs:allow-write-file"];
    assert_eq!(phone["permissions"], json!([&sheets[..], &["haptics:allow-vibrate"]].concat()));
    let lists = std::fs::read_dir(top().join("src-tauri/capabilities")).expect("it is a folder").count();
    assert_eq!(lists, 2, "there are two lists of capabilities");
}

#[test]
fn the_window_shows_nothing_but_its_own() {
    let sample = json!({"security": {"csp": "default-src 'self' https:; script-src 'unsafe-inline'"}});
    assert_eq!(loose(&sample).len(), 3, "{:?}", loose(&sample));
    no_complaints(loose(&read("src-tauri/tauri.conf.json")["app"]));
}

/// What the settings of the window let through that they should not.
fn loose(app: &Value) -> Vec<String> {
    let policy = app["security"]["csp"].as_str().unwrap_or_default();
    let sources = ["unsafe-eval", "unsafe-inline", "https:", "*"].iter().filter(|word| policy.contains(**word));
    let mut found: Vec<String> = sources.map(|word| format!("the content policy holds {word}")).collect();
    if !policy.starts_with("default-src 'none';") {
        found.push("the content policy starts from something".into());
    }
    if app["withGlobalTauri"] == json!(true) {
        found.push("the window hands its library to every script".into());
    }
    found
}

fn read(path: &str) -> Value {
    let text = std::fs::read_to_string(top().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"));
    serde_json::from_str(&text).unwrap_or_else(|why| panic!("{path}: {why}"))
}

fn written_screen(file: &Source) -> bool {
    file.within("ui/src/") && ["ts", "svelte", "js"].iter().any(|end| file.is(end)) && !file.path.ends_with(".test.ts")
}

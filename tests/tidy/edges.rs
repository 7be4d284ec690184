//! The edges of the program: the bridge of the screens, and who knows the window.

use crate::enforce;
use crate::source::Source;

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

fn written_screen(file: &Source) -> bool {
    file.within("ui/src/") && ["ts", "svelte", "js"].iter().any(|end| file.is(end)) && !file.path.ends_with(".test.ts")
}

//! How long a file may be, and what it may be called.

use crate::enforce;
use crate::source::Source;

const RUST_LINES: usize = 400;
const SCRIPT_LINES: usize = 400;
const SVELTE_LINES: usize = 240;
const SHELL_LINES: usize = 150;
const WIDTH: usize = 120;

#[test]
fn files_stay_readable() {
    let rule = |file: &Source| {
        let (length, limit) = match file.path.as_str() {
            "src-tauri/src/lib.rs" => (file.text.lines().count() + 1, SHELL_LINES),
            path if path.ends_with("/tests.rs") => return vec![],
            _ if file.is("rs") => (file.before_tests().lines().count(), RUST_LINES),
            _ if file.is("ts") => (file.text.lines().count(), SCRIPT_LINES),
            _ if file.is("svelte") => (file.text.lines().count(), SVELTE_LINES),
            _ => return vec![],
        };
        let complaint = format!("{}: {length} lines; {limit} is the limit", file.path);
        if length > limit { vec![complaint] } else { vec![] }
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/survey/src/plane.rs", &"//\n".repeat(401)),
            ("ui/src/state/walk.svelte.ts", &"\n".repeat(401)),
            ("ui/src/screens/Readings.svelte", &"\n".repeat(241)),
            ("src-tauri/src/lib.rs", &"//\n".repeat(150)),
        ],
    );
    assert!(rule_is_quiet_about_tests(), "tests at the foot of a file do not count");

    fn rule_is_quiet_about_tests() -> bool {
        let long = format!("fn a() {{}}\n\n#[cfg(test)]\nmod tests {{\n{}}}", "//\n".repeat(500));
        Source::new("a.rs", &long).before_tests().lines().count() < RUST_LINES
    }
}

#[test]
fn lines_fit_the_page() {
    let rule = |file: &Source| {
        // A text in quotes is left as it is spoken.
        let is_wide = |line: &str| line.chars().count() > WIDTH && !line.contains('"') && !line.ends_with('\\');
        let wide = file.before_tests().lines().enumerate().filter(|(_, line)| file.is_shipped_rust() && is_wide(line));
        wide.map(|(at, _)| format!("{}:{}: wider than {WIDTH}", file.path, at + 1)).collect()
    };
    enforce(rule, &[("src-tauri/crates/app/src/a.rs", &"/".repeat(121))]);
}

#[test]
fn names_are_of_the_trade() {
    let rule = |file: &Source| {
        let bad =
            ["manager", "service", "helper", "util"].iter().find(|word| file.path.to_lowercase().contains(**word));
        bad.map(|word| format!("{}: {word} names nothing of the trade", file.path)).into_iter().collect()
    };
    enforce(rule, &[("ui/src/state/RoomManager.svelte.ts", ""), ("src-tauri/crates/app/src/utils/mod.rs", "")]);
}

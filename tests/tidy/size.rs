//! How long a file may be, and what it may be called.

use crate::enforce;
use crate::source::{Source, tracked};

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

/// Of a hundred lines of the pure core, so many at least say what the others do.
const EXPLAINED: usize = 25;

#[test]
fn the_core_explains_itself() {
    let is_said = |line: &str| line.starts_with("///") || line.starts_with("//!");
    let count = |text: &str| {
        let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
        lines.fold((0, 0), |(said, all), line| (said + usize::from(is_said(line)), all + 1))
    };
    assert_eq!(count("/// A plane.\n\nstruct Plane;\n// not for readers\n"), (1, 3));
    let core: Vec<Source> = tracked().into_iter().filter(|file| file.within("src-tauri/crates/survey/src/")).collect();
    let (said, all) = core.iter().map(|file| count(file.before_tests())).fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
    assert!(100 * said >= EXPLAINED * all, "{said} of {all} lines");
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

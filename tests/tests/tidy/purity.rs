//! What the core never does, and what may be done in one place only.

use crate::enforce;
use crate::source::Source;

const OUTSIDE: &[&str] = &[
    "std::fs",
    "std::net",
    "std::time",
    "std::thread",
    "std::env",
    "std::process",
    "std::io",
    "std::os",
    "std::path",
    "Instant",
    "SystemTime",
    "println!",
    "print!",
    "eprintln!",
    "eprint!",
    "async fn",
    "static mut",
    "thread_local!",
    "from_os_rng",
    "thread_rng",
    "rand::rng(",
    "unsafe ",
];

#[test]
fn the_core_does_no_input_or_output_and_reads_no_clock() {
    let rule = |file: &Source| match is_survey(file) {
        true => file.lines_with(OUTSIDE, "the core is arithmetic alone"),
        false => vec![],
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/survey/src/plane.rs", "use std::fs::File;"),
            ("src-tauri/crates/survey/src/plane.rs", "    let now = std::time::Instant::now();"),
            ("src-tauri/crates/survey/src/a/b.rs", "println!(\"{x}\");"),
        ],
    );
}

#[test]
fn the_core_does_not_panic() {
    let words = &[".unwrap()", ".expect(", "panic!(", "unreachable!(", "assert!(", "assert_eq!("];
    let rule = |file: &Source| match is_survey(file) {
        true => file.lines_with(words, "the core answers on any input").into_iter().filter(not_debug).collect(),
        false => vec![],
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/survey/src/plane.rs", "let first = points.first().unwrap();"),
            ("src-tauri/crates/survey/src/plane.rs", "panic!(\"no points\")"),
        ],
    );
}

fn not_debug(complaint: &String) -> bool {
    !complaint.contains("debug_assert")
}

#[test]
fn nothing_is_left_half_done() {
    // Put together here, so that this file keeps its own rule.
    let words: Vec<String> = [("to", "do!("), ("unimple", "mented!("), ("db", "g!("), ("#[ign", "ore"), ("FIX", "ME")]
        .iter()
        .chain(&[("TO", "DO"), ("XX", "X"), ("test.sk", "ip("), ("it.sk", "ip("), ("describe.sk", "ip(")])
        .chain(&[("test.on", "ly("), ("it.on", "ly("), ("describe.on", "ly("), ("test.fix", "me(")])
        .map(|(a, b)| format!("{a}{b}"))
        .collect();
    let rule = |file: &Source| {
        let written = ["rs", "ts", "svelte", "js", "mjs", "py", "sql", "typ", "md"].iter().any(|end| file.is(end));
        let lines = file.text.lines().enumerate().filter(|(_, line)| words.iter().any(|word| line.contains(word)));
        lines.filter(|_| written).map(|(at, line)| format!("{}:{}: {}", file.path, at + 1, line.trim())).collect()
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/app/src/lib.rs", &format!("    {}\"later\")", words[0])),
            ("tests/tests/values.rs", &format!("{} = \"slow\"]", words[3])),
            ("ui/src/App.svelte", &format!("<!-- {} -->", words[5])),
            ("ui/tests/room.spec.ts", &format!("{}\"taps\")", words[7])),
        ],
    );
}

#[test]
fn sockets_are_opened_by_the_host_alone() {
    let words = &["TcpListener", "TcpStream", "UdpSocket", "UnixListener", "std::net::", "tokio::net"];
    let rule = |file: &Source| match file.is_shipped_rust() && !file.within("src-tauri/crates/cli/src/host") {
        true => file.lines_with(words, "only the host in crates/cli/src/host opens a socket"),
        false => vec![],
    };
    enforce(rule, &[("src-tauri/crates/app/src/sync.rs", "let socket = std::net::UdpSocket::bind(at)?;")]);
}

fn is_survey(file: &Source) -> bool {
    file.within("src-tauri/crates/survey/src/") && file.is_shipped_rust()
}

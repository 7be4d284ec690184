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
    let judge = |file: &Source| file.within("src-tauri/crates/judge/src/") && file.is_shipped_rust();
    let rule = |file: &Source| match is_survey(file) || judge(file) {
        true => file.lines_with(OUTSIDE, "the core and the judging are arithmetic alone"),
        false => vec![],
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/survey/src/plane.rs", "use std::fs::File;"),
            ("src-tauri/crates/survey/src/plane.rs", "    let now = std::time::Instant::now();"),
            ("src-tauri/crates/survey/src/a/b.rs", "println!(\"{x}\");"),
            ("src-tauri/crates/judge/src/rules.rs", "let day = std::time::SystemTime::now();"),
        ],
    );
}

#[test]
fn the_core_does_not_panic() {
    let words = &[".unwrap()", ".expect(", "panic!(", "unreachable!(", "assert!(", "assert_eq!("];
    let rule = |file: &Source| match is_survey(file) {
        true => {
            file.lines_with(words, "the core answers on any input").into_iter().filter(|said| not_debug(said)).collect()
        }
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

fn not_debug(complaint: &str) -> bool {
    !complaint.contains("debug_assert")
}

/// How a test is marked that is no test of its own, but a process that another test starts.
const CHILD: &str = " = \"a child, run by the test";

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
        let half = |line: &str| words.iter().any(|word| line.contains(word)) && !line.contains(CHILD);
        let lines = file.text.lines().enumerate().filter(|(_, line)| half(line));
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
fn tables_are_written_by_commands_alone() {
    let rule = |file: &Source| match file.within("src-tauri/crates/app/src/") && file.is("rs") {
        true => table_writes(file),
        false => vec![],
    };
    enforce(
        rule,
        &[
            ("src-tauri/crates/app/src/gate.rs", "tx.answers()\n    .put(&answer)?;"),
            ("src-tauri/crates/app/src/findings.rs", "commands::apply(&page, name, 1, text, true)"),
        ],
    );
    let command = Source::new("src-tauri/crates/app/src/commands/gate.rs", "page.tx.answers().put(&answer)?;");
    assert!(table_writes(&command).is_empty(), "a command may write");
}

/// Writes to a table outside the commands, and ways into the commands beside `app::apply`.
fn table_writes(file: &Source) -> Vec<String> {
    let tables = ["rooms", "setups", "readings", "answers", "ticks", "approvals", "photographs", "documents"];
    let verbs = ["insert", "put", "remove", "update", "set_withdrawn", "close", "reopen"];
    let code: String = file.code().flat_map(|(_, line)| line.split_whitespace()).collect();
    let ways = tables.iter().flat_map(|table| verbs.map(|verb| format!(".{table}().{verb}(")));
    let within = |allowed: &str| file.path == format!("src-tauri/crates/app/src/{allowed}");
    let commands = file.within("src-tauri/crates/app/src/commands/");
    let written = ways.filter(|way| !commands && code.contains(way.as_str()));
    let entered = ["commands::apply(".to_owned()].into_iter().filter(|way| !within("app.rs") && code.contains(way));
    written.chain(entered).map(|way| format!("{}: {way} stands outside app::apply", file.path)).collect()
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

//! `truefall devices` over the simulated service.

use super::site::{LASER, LEVEL, Site};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;
use tempfile::TempDir;

/// How long anything may take that is waited for, on a machine however busy.
const PATIENCE: Duration = Duration::from_secs(300);
/// How long a message is given before it counts as sent too early, and is sent once more.
const EARLY: Duration = Duration::from_secs(3);

/// The program at work: what it says, line by line, and what is typed.
struct Program {
    child: Child,
    typed: ChildStdin,
    lines: Receiver<String>,
    said: Vec<String>,
}

impl Program {
    fn start(site: &Site, home: &Path, words: &[&str]) -> Self {
        let mut command = site_tests::truefall();
        command.args(["devices"]).args(words).env("TRUEFALL_HOME", home);
        command.env("DBUS_SYSTEM_BUS_ADDRESS", &site.bus.address).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut child = command.stderr(Stdio::null()).spawn().expect("the program starts");
        let typed = child.stdin.take().expect("its input");
        let said = BufReader::new(child.stdout.take().expect("its output"));
        let (tell, lines) = channel();
        std::thread::spawn(move || said.lines().map_while(Result::ok).try_for_each(|line| tell.send(line)));
        Self { child, typed, lines, said: Vec::new() }
    }

    /// Waits for the next line that holds one of these; which one.
    fn until(&mut self, any: &[&str]) -> String {
        loop {
            let line = self.lines.recv_timeout(PATIENCE);
            let line = line.unwrap_or_else(|_| panic!("none of {any:?} came: {:#?}", self.said));
            self.said.push(line.clone());
            if any.iter().any(|one| line.contains(one)) {
                return line;
            }
        }
    }

    fn type_in(&mut self, text: &str) {
        writeln!(self.typed, "{text}").expect("it listens");
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_scan_says_what_is_near_and_how_it_is_read() {
    let site = Site::new("two-instruments");
    let home = TempDir::new().expect("a folder");
    let mut program = Program::start(&site, home.path(), &["scan", "--seconds", "10"]);
    let near = [program.until(&["Sim"]), program.until(&["Sim"])];
    assert!(near[0].contains(LASER) && near[0].contains("dBm") && near[0].contains("not known"), "{near:?}");
    assert!(near[1].contains(LEVEL) && near[1].contains("read by serial lines"), "{near:?}");
}

/// What an instrument that nobody knows sends for a length: 32-bit metres among other things, and their sum.
fn message(mm: f64, count: u8) -> Vec<u8> {
    let mut bytes = vec![0xA5, 0x01, count];
    bytes.extend((mm as f32 / 1000.0).to_le_bytes());
    bytes.push(0);
    bytes.push(bytes.iter().fold(0_u8, |sum, byte| sum.wrapping_add(*byte)));
    bytes
}

#[test]
fn an_instrument_that_nobody_knows_is_taught_and_then_read() {
    let site = Site::new("unknown-laser");
    let home = TempDir::new().expect("a folder");
    let id = site.id(LASER);
    let words = ["teach", &id, "--shows", "m", "--decimals", "3", "--accuracy", "1.5", "--name", LASER];
    let mut program = Program::start(&site, home.path(), &words);
    program.until(&["Connected"]);
    let mut count = 0;
    let mut measure = |program: &mut Program| {
        count += 1;
        let mm = 400.0 + 331.7 * f64::from(count % 13) + 1.3 * f64::from(count);
        site.laser_sends(&message(mm, count));
        program.until(&["heard"]);
        format!("{:.3}", f64::from(mm as f32 / 1000.0))
    };
    // The link is there before the subscription is: the first is sent until it is heard.
    while program.said.last().is_none_or(|line| line != "heard") {
        site.laser_sends(&message(777.7, 0));
        if let Ok(line) = program.lines.recv_timeout(EARLY) {
            program.said.push(line);
        }
    }
    for _ in 0..12 {
        measure(&mut program);
    }
    program.type_in("");
    loop {
        let line = program.until(&["Take a reading", "Take one more"]);
        let shown = measure(&mut program);
        if line.contains("one more") {
            program.type_in("");
            let guess = program.until(&["I read"]);
            assert!(guess.contains(&format!("I read {shown} m:")), "{guess} for {shown}");
            break;
        }
        program.type_in(&shown);
    }
    program.type_in("yes");
    program.until(&["Learned"]);
    assert!(program.child.wait().expect("it ends").success());
    assert!(!site.service().was_called("WriteValue"), "nothing was written to it");

    let program = Program::start(&site, home.path(), &["listen", &id, "--readings", "1"]);
    let read = loop {
        site.laser_sends(&message(1234.0, 200));
        if let Ok(line) = program.lines.recv_timeout(EARLY) {
            break line;
        }
    };
    let read: serde_json::Value = serde_json::from_str(&read).expect("JSON");
    assert!((read["mm"].as_f64().expect("a length") - 1234.0).abs() < 0.001, "{read}");
    assert_eq!(read["profile"], LASER);
}

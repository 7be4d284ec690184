//! What several test files need: the checkout, the program, a room to work in.

pub mod many;
pub mod questions;
pub mod shift;
pub mod site;
pub mod table;

use app::forms::{RoomFile, Write, Written};
use app::{App, Clock, Refusal};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

/// The top of the checkout.
pub fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the checkout").to_owned()
}

/// The program: the one `TRUEFALL` names, else built once if it is not current.
pub fn truefall() -> Command {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    Command::new(PROGRAM.get_or_init(build))
}

fn build() -> PathBuf {
    if let Some(program) = std::env::var_os("TRUEFALL") {
        return program.into();
    }
    let status = Command::new(env!("CARGO")).args(["build", "--quiet", "-p", "cli"]).current_dir(top()).status();
    assert!(status.expect("cargo").success(), "the program could not be built");
    beside("truefall")
}

/// What the same build made: a test lies in `deps`, beside its programs.
pub fn beside(name: &str) -> PathBuf {
    let test = std::env::current_exe().expect("the test's own path");
    test.parent().and_then(Path::parent).expect("the build folder").join(name)
}

/// Runs the program with text on its standard input.
pub fn run(arguments: &[&str], input: &str) -> Output {
    run_in(None, arguments, input)
}

/// Runs the program over a folder of rooms.
pub fn run_in(home: Option<&Path>, arguments: &[&str], input: &str) -> Output {
    let mut command = truefall();
    command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    if let Some(home) = home {
        command.env("TRUEFALL_HOME", home);
    }
    let mut child = command.spawn().expect("the program starts");
    use std::io::Write as _;
    // A program that refuses early closes its input; that is no failure of the test.
    let _ = child.stdin.take().expect("its input").write_all(input.as_bytes());
    child.wait_with_output().expect("the program ends")
}

/// Rooms in memory with a fixed clock.
pub fn app() -> App {
    App::in_memory(Clock::fixed("2031-04-02T07:31:05-05:00", "test")).expect("rooms in memory")
}

/// Every room with its journal, by id.
pub fn files(app: &App) -> Vec<RoomFile> {
    let rooms = app.rooms().expect("rooms").rooms;
    let mut files: Vec<_> = rooms.iter().map(|card| app.room_file(&card.id).expect("the room")).collect();
    files.sort_by(|a, b| a.room.id.cmp(&b.room.id));
    files
}

/// The hall bath as it was read: sixteenths over 43 in, down from the line, joist by joist.
pub const DOWN: [[i32; 4]; 7] = [
    [18, 19, 19, 18],
    [19, 20, 21, 19],
    [20, 20, 20, 20],
    [20, 16, 14, 19],
    [21, 23, 24, 22],
    [22, 30, 32, 24],
    [23, 24, 25, 24],
];

/// Makes one change under a fresh id.
pub fn write(app: &App, room: &str, command: &str, payload: serde_json::Value) -> Result<Written, Refusal> {
    write_as(app, &app.new_id(), room, command, payload)
}

/// Makes one change under a given id.
pub fn write_as(
    app: &App,
    id: &str,
    room: &str,
    command: &str,
    payload: serde_json::Value,
) -> Result<Written, Refusal> {
    app.write(&Write {
        id: id.to_string(),
        room: room.to_string(),
        command: command.to_string(),
        payload: payload.to_string(),
        at: None,
        person: None,
        private: Vec::new(),
    })
}

/// A copy of a demo room.
pub fn demo(app: &App, name: &str) -> String {
    let ask = app::forms::DemoAsk { name: name.to_string(), id: app.new_id() };
    app.open_demo(&ask).expect("the demo room opens").room
}

/// How much is tried: a little as a matter of course, much where `TRUEFALL_LONG` is set (`cargo verify --long`).
pub fn long(short: u32, long: u32) -> u32 {
    if std::env::var_os("TRUEFALL_LONG").is_some() { long } else { short }
}

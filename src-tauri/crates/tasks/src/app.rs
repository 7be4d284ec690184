//! `cargo app`: Truefall, open on the demo room, with whatever this machine can show it on.

use crate::checkout::Checkout;
use crate::child::{answer, cargo, run};
use crate::node::Node;
use crate::outcome::Outcome;
use crate::packages::{self, WINDOW};
use crate::ui;
use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// The room that is opened, and its page.
const DEMO: &str = "demo-kestrel";
const DEMO_PAGE: &str = "#/rooms/demo-kestrel";

/// Builds what is not yet built, then opens the window, or serves the same screens where there is no display.
pub(crate) fn open(checkout: &Checkout) -> Outcome {
    let node = Node::find(checkout)?;
    ui::packages(checkout, &node)?;
    ui::build(checkout, &node)?;
    if !has_display() {
        println!("There is no display here, so the screens are served to a browser.");
        return serve(checkout);
    }
    match packages::bring(&packages::on_this_system(&[WINDOW])) {
        Ok(()) => window(checkout),
        Err(why) => {
            println!("{why}\nUntil then the screens are served to a browser.");
            serve(checkout)
        }
    }
}

fn has_display() -> bool {
    let elsewhere = !cfg!(target_os = "linux");
    elsewhere
        || ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some_and(|at| !at.is_empty()))
}

fn window(checkout: &Checkout) -> Outcome {
    println!("Building the window. The first time takes some minutes.");
    run(&mut cargo(checkout.root(), &["build", "-p", "shell", "-p", "cli"]))?;
    demo_room(checkout)?;
    run(Command::new(checkout.program("truefall-window")).arg(DEMO_PAGE).env("TRUEFALL_HOME", home(checkout)))
}

/// Serves until it is stopped; the printed address leads to the demo room.
fn serve(checkout: &Checkout) -> Outcome {
    println!("Building the host. The first time takes some minutes.");
    run(&mut cargo(checkout.root(), &["build", "-p", "cli"]))?;
    demo_room(checkout)?;
    let mut host = truefall(checkout, &["host"]);
    let mut host = host.stdout(Stdio::piped()).spawn().map_err(|why| format!("The host did not start: {why}."))?;
    for line in host.stdout.take().into_iter().flat_map(|said| BufReader::new(said).lines()).map_while(Result::ok) {
        println!("{}", to_the_demo(&line));
    }
    let ended = host.wait().map_err(|why| format!("The host cannot be followed: {why}."))?;
    if ended.success() { Ok(()) } else { Err(format!("The host ended with {ended}.")) }
}

/// A line with an address leads on to the demo room; any other stays as it is.
fn to_the_demo(line: &str) -> String {
    if line.contains("/?key=") { format!("{line}{DEMO_PAGE}") } else { line.to_owned() }
}

/// Takes the demo room in, unless it is there.
fn demo_room(checkout: &Checkout) -> Outcome {
    if answer(&mut truefall(checkout, &["room", "show", DEMO])).is_some() {
        return Ok(());
    }
    let file = checkout.root().join("fixtures/rooms/kestrel-lane.room.json");
    run(truefall(checkout, &["room", "import"]).arg(file))
}

/// The command line over the rooms of this checkout, apart from those of an installed Truefall.
fn truefall(checkout: &Checkout, words: &[&str]) -> Command {
    let mut truefall = Command::new(checkout.program("truefall"));
    truefall.args(words).env("TRUEFALL_HOME", home(checkout));
    truefall
}

fn home(checkout: &Checkout) -> PathBuf {
    std::env::var_os("TRUEFALL_HOME").map_or_else(|| checkout.made("home"), PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_address_leads_to_the_demo_room() {
        let said = to_the_demo("Truefall is at http://127.0.0.1:4711/?key=ab12");
        assert_eq!(said, "Truefall is at http://127.0.0.1:4711/?key=ab12#/rooms/demo-kestrel");
        assert_eq!(to_the_demo("Stopping."), "Stopping.");
    }
}

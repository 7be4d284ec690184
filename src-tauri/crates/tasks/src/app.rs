//! `cargo app`: Truefall, open on the demo room, with whatever this machine can show it on.

use crate::Outcome;
use crate::checkout::Checkout;
use crate::child::{cargo, run};
use crate::node::Node;
use crate::packages::{self, WINDOW};
use crate::ui;
use std::path::PathBuf;
use std::process::Command;

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
    run(&mut cargo(checkout.root(), &["build", "-p", "shell"]))?;
    run(Command::new(checkout.program("truefall-window")).env("TRUEFALL_HOME", home(checkout)))
}

fn serve(checkout: &Checkout) -> Outcome {
    println!("Building the host. The first time takes some minutes.");
    run(&mut cargo(checkout.root(), &["build", "-p", "cli"]))?;
    run(Command::new(checkout.program("truefall")).arg("host").env("TRUEFALL_HOME", home(checkout)))
}

/// The rooms of this checkout, apart from those of an installed Truefall.
fn home(checkout: &Checkout) -> PathBuf {
    std::env::var_os("TRUEFALL_HOME").map_or_else(|| checkout.made("home"), PathBuf::from)
}

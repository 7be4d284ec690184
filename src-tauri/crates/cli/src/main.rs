//! `truefall`: everything the screens can do with numbers, from the command line, and the host for a browser.
//!
//! Exit status: 0 done, whatever the verdict; 1 `--gate` was given and a verdict is not *within*; 2 refused; 3 a
//! mistake of the program itself.

mod arguments;
mod backup;
mod compute;
mod crew;
mod devices;
mod print;
mod rooms;

use app::{Kind, Refusal};
use arguments::{Arguments, Verb};
use clap::Parser;
use clap::error::{ContextKind, ErrorKind};
use std::io::IsTerminal;
use std::process::ExitCode;

fn main() -> ExitCode {
    let done = match Arguments::try_parse() {
        Ok(arguments) => run(arguments),
        Err(error) => misspoken(&error),
    };
    match done {
        Ok(code) => code,
        Err(refusal) => refused(&refusal),
    }
}

fn run(arguments: Arguments) -> Result<ExitCode, Refusal> {
    let home = arguments.home;
    match arguments.verb {
        Verb::Demo { name, json } => print::demo(&name, json),
        Verb::Compute { operation } => compute::compute(&operation),
        Verb::Room(verb) => rooms::room(&rooms::open(home)?, verb),
        Verb::Readings(verb) => rooms::readings(&rooms::open(home)?, verb),
        Verb::Findings { room, survey, json, gate } => {
            print::findings(&rooms::state(home, &room)?, survey.as_deref(), json, gate)
        }
        Verb::CutList { room, json } => print::cut_list(&rooms::state(home, &room)?, json),
        Verb::BuildUp { room, json } => print::build_up(&rooms::state(home, &room)?, json),
        Verb::Fall { room, json } => print::fall(&rooms::state(home, &room)?, json),
        Verb::Record { room, output, contents, black_out } => {
            rooms::record(&rooms::open(home)?, &room, &output, (&contents, black_out))
        }
        Verb::Tests { room, json, gate } => print::tests(&rooms::state(home, &room)?, json, gate),
        Verb::Verify { file, json } => rooms::verify(&file, json),
        Verb::Backup { to } => backup::backup(&rooms::open(home)?, to),
        Verb::Restore { file, look } => backup::restore(home, &file, look),
        Verb::Recover => backup::recover(home),
        Verb::Devices(verb) => devices::devices(verb, home),
        Verb::Host(words) => crew::serve(home, words),
    }
}

/// Words that the command line does not know: help and version are printed, a person at a terminal is told as usual.
fn misspoken(error: &clap::Error) -> Result<ExitCode, Refusal> {
    if !error.use_stderr() || std::io::stderr().is_terminal() {
        error.exit();
    }
    let kind = match error.kind() {
        ErrorKind::UnknownArgument | ErrorKind::InvalidSubcommand => Kind::UnknownField,
        ErrorKind::MissingRequiredArgument | ErrorKind::MissingSubcommand => Kind::MissingField,
        _ => Kind::NotUnderstood,
    };
    let said = error.to_string();
    let said: Vec<&str> = said.strip_prefix("error: ").unwrap_or(&said).split_whitespace().collect();
    let refusal = Refusal::new(kind, said.join(" "));
    Err(match error.get(ContextKind::InvalidArg).map(ToString::to_string) {
        Some(field) => refusal.field(field.split([' ', '=', ',']).next().unwrap_or_default()),
        None => refusal,
    })
}

/// A sentence for a person at a terminal, JSON for everybody else.
fn refused(refusal: &Refusal) -> ExitCode {
    if std::io::stderr().is_terminal() {
        eprintln!("{refusal}");
    } else {
        eprintln!("{}", serde_json::json!({ "error": refusal }));
    }
    ExitCode::from(if refusal.kind == Kind::Internal { 3 } else { 2 })
}

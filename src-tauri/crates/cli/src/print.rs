//! Findings, alternatives and cut lists as a terminal prints them.

use app::forms::*;
use app::words::{self, Say};
use app::{Kind, Refusal, json};
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::ExitCode;

/// One line more of a text; writing to a text cannot fail.
macro_rules! line {
    ($out:ident, $($words:tt)*) => {
        let _ = writeln!($out, $($words)*);
    };
}

/// Prints a text whole. Who closes the pipe early has read enough.
pub(crate) fn print(text: &str) {
    let _ = std::io::stdout().write_all(text.as_bytes());
}

/// The whole answer for a demo room.
pub(crate) fn demo(name: &str, as_json: bool) -> Result<ExitCode, Refusal> {
    let file = app::demo(name)?;
    let findings = app::findings(&file, None)?;
    let height = app::height(&file, None).ok();
    if as_json {
        print(&format!("{}\n", serde_json::json!({ "findings": findings, "height": height })));
        return Ok(ExitCode::SUCCESS);
    }
    let (say, mut out) = (Say::new(file.room.units), format!("{}\n\n", file.room.name));
    print_findings(&mut out, &findings, say);
    if let Some(height) = height {
        print_heights(&mut out, &height, say);
    }
    print(&out);
    Ok(ExitCode::SUCCESS)
}

pub(crate) fn findings(file: &RoomFile, survey: Option<&str>, as_json: bool, gate: bool) -> Result<ExitCode, Refusal> {
    let view = app::findings(file, survey)?;
    let mut out = String::new();
    if as_json {
        line!(out, "{}", json::write(&view.findings)?);
    } else {
        print_findings(&mut out, &view, Say::new(file.room.units));
    }
    print(&out);
    let all_within = view.findings.iter().all(|finding| finding.verdict == Verdict::Within);
    Ok(if gate && !all_within { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

pub(crate) fn cut_list(file: &RoomFile, as_json: bool) -> Result<ExitCode, Refusal> {
    let view = app::height(file, None)?;
    let mut out = String::new();
    if as_json {
        line!(out, "{}", json::write(&view)?);
    } else {
        print_heights(&mut out, &view, Say::new(file.room.units));
    }
    print(&out);
    Ok(ExitCode::SUCCESS)
}

/// What the tests of a room came to.
pub(crate) fn tests(file: &RoomFile, as_json: bool, gate: bool) -> Result<ExitCode, Refusal> {
    let (tests, mut out) = (app::tests(file, &app::Clock::from_environment().now()), String::new());
    if as_json {
        line!(out, "{}", json::write(&tests)?);
    } else {
        tests.iter().for_each(|test| {
            line!(out, "{:>17}  {}", words::verdict(test.verdict), test.sentence);
        });
    }
    print(&out);
    let covered = tests.iter().all(|test| test.cover == Cover::Yes);
    Ok(if gate && !covered { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

/// The build-up of a room.
pub(crate) fn build_up(file: &RoomFile, as_json: bool) -> Result<ExitCode, Refusal> {
    let view = app::build_up(file)?;
    let lines = words::build_up::build_up(&view, Say::new(file.room.units));
    print(&if as_json { format!("{}\n", json::write(&view)?) } else { format!("{}\n", lines.join("\n")) });
    Ok(ExitCode::SUCCESS)
}

/// The falls of a room: those its layers give, and those that were read.
pub(crate) fn fall(file: &RoomFile, as_json: bool) -> Result<ExitCode, Refusal> {
    let say = Say::new(file.room.units);
    let designed = if file.layers.is_some() { app::build_up(file)?.falls } else { Vec::new() };
    let survey = file.plan.surveys.iter().find(|survey| survey.surface == Surface::Fall);
    let read = survey.map(|survey| app::findings(file, Some(&survey.id))).transpose()?;
    if designed.is_empty() && read.is_none() {
        let message = "This room has neither layers that drop to a drain nor a survey of a floor that falls.";
        return Err(Refusal::new(Kind::NotReady, message));
    }
    let planned = app::fall(file).ok();
    if as_json {
        print(&format!(
            "{}\n",
            serde_json::json!({"designed": designed, "planned": planned, "findings": read.map(|view| view.findings)})
        ));
        return Ok(ExitCode::SUCCESS);
    }
    let mut out = String::new();
    // Without layers the plan alone says whether a level edge can be had.
    let level =
        planned.iter().filter(|_| designed.is_empty()).flat_map(|planned| words::fall::level_edge(planned, say));
    for line in designed.iter().flat_map(|design| words::build_up::falls(design, say)).chain(level) {
        line!(out, "{line}");
    }
    for line in planned.iter().flat_map(|planned| words::fall::fall(planned, say)) {
        line!(out, "{line}");
    }
    if let Some(view) = &read {
        print_findings(&mut out, view, say);
    }
    print(&out);
    Ok(ExitCode::SUCCESS)
}

/// The alternatives, then the cut list of the one that is built.
fn print_heights(out: &mut String, view: &HeightView, say: Say) {
    print_alternatives(out, view, say);
    print_cut_list(out, view, say);
}

fn print_findings(out: &mut String, view: &FindingsView, say: Say) {
    line!(out, "{}", words::headline(view, say));
    line!(out, "{} of {} points read.\n", view.headline.read, view.headline.points);
    for finding in &view.findings {
        line!(out, "{:>17}  {}", words::verdict(finding.verdict), words::finding(finding, say));
        if let Some(evidence) = words::evidence(finding, say) {
            line!(out, "{:>17}  {evidence}", "");
        }
    }
    for problem in &view.problems {
        line!(out, "{:>17}  {}", "note", problem.message);
    }
    line!(out, "");
}

fn print_alternatives(out: &mut String, view: &HeightView, say: Say) {
    line!(out, "Heights, best first; rise at each joist by the door wall:");
    for (place, alternative) in view.alternatives.iter().enumerate() {
        let rises: Vec<String> =
            alternative.rise.iter().map(|rise| rise.map_or("–".into(), |rise| say.bare(rise))).collect();
        line!(out, "{:>3}. {}", place + 1, words::alternative(alternative, say));
        line!(out, "     {}", rises.join("  "));
        line!(out, "     {}", words::needs(alternative, say));
    }
    line!(out, "");
}

fn print_cut_list(out: &mut String, view: &HeightView, say: Say) {
    let chosen = view.alternatives.iter().find(|alternative| Some(&alternative.name) == view.chosen.as_ref());
    let Some(chosen) = chosen else {
        line!(out, "No height can be built without asking somebody: choose one above, then ask.");
        return;
    };
    line!(out, "Cut list: {}.", words::alternative(chosen, say));
    for joist in &chosen.joists {
        line!(out, "{:>4}  {}", joist.id, words::action(joist.action));
        for strip in &joist.strips {
            line!(out, "      {}", words::strip(strip, say));
        }
        for reason in &joist.reasons {
            line!(out, "      {reason}");
        }
    }
    line!(out, "\nThe tool measures shape, never strength. Local code, product data and the engineer decide.");
}

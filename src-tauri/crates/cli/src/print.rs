//! Findings, alternatives and cut lists as a terminal prints them.

use app::wire::*;
use app::words::{self, Say};
use app::{Refusal, json};
use std::process::ExitCode;

/// The whole answer for a demo room.
pub(crate) fn demo(name: &str, as_json: bool) -> Result<ExitCode, Refusal> {
    let file = app::demo(name)?;
    let findings = app::findings(&file, None)?;
    let height = app::height(&file, None).ok();
    if as_json {
        println!("{}", serde_json::json!({ "findings": findings, "height": height }));
        return Ok(ExitCode::SUCCESS);
    }
    let say = Say::new(file.room.units);
    println!("{}\n", file.room.name);
    print_findings(&findings, say);
    if let Some(height) = height {
        print_alternatives(&height, say);
        print_cut_list(&height, say);
    }
    Ok(ExitCode::SUCCESS)
}

pub(crate) fn findings(file: &RoomFile, survey: Option<&str>, as_json: bool, gate: bool) -> Result<ExitCode, Refusal> {
    let view = app::findings(file, survey)?;
    if as_json {
        println!("{}", json::write(&view.findings)?);
    } else {
        print_findings(&view, Say::new(file.room.units));
    }
    let all_within = view.findings.iter().all(|finding| finding.verdict == Verdict::Within);
    Ok(if gate && !all_within { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

pub(crate) fn cut_list(file: &RoomFile, as_json: bool) -> Result<ExitCode, Refusal> {
    let view = app::height(file, None)?;
    if as_json {
        println!("{}", json::write(&view)?);
    } else {
        let say = Say::new(file.room.units);
        print_alternatives(&view, say);
        print_cut_list(&view, say);
    }
    Ok(ExitCode::SUCCESS)
}

fn print_findings(view: &FindingsView, say: Say) {
    println!("{}", words::headline(&view.headline));
    println!("{} of {} points read.\n", view.headline.read, view.headline.points);
    for finding in &view.findings {
        println!("{:>17}  {}", words::verdict(finding.verdict), words::finding(finding, say));
        if let Some(evidence) = words::evidence(finding, say) {
            println!("{:>17}  {evidence}", "");
        }
    }
    for problem in &view.problems {
        println!("{:>17}  {}", "note", problem.message);
    }
    println!();
}

fn print_alternatives(view: &HeightView, say: Say) {
    println!("Heights, best first; rise at each joist by the door wall:");
    for (place, alternative) in view.alternatives.iter().enumerate() {
        let rises: Vec<String> =
            alternative.rise.iter().map(|rise| rise.map_or("–".into(), |rise| say.bare(rise))).collect();
        println!("{:>3}. {}", place + 1, words::alternative(alternative, say));
        println!("     {}", rises.join("  "));
        println!("     {}", words::needs(alternative, say));
    }
    println!();
}

fn print_cut_list(view: &HeightView, say: Say) {
    let chosen = view.alternatives.iter().find(|alternative| Some(&alternative.name) == view.chosen.as_ref());
    let Some(chosen) = chosen else {
        println!("No height can be built without asking somebody: choose one above, then ask.");
        return;
    };
    println!("Cut list: {}.", words::alternative(chosen, say));
    for joist in &chosen.joists {
        println!("{:>4}  {}", joist.id, words::action(joist.action));
        for strip in &joist.strips {
            println!("      {}", words::strip(strip, say));
        }
        joist.reasons.iter().for_each(|reason| println!("      {reason}"));
    }
    println!("\nThe tool measures shape, never strength. Local code, product data and the engineer decide.");
}

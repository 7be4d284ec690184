//! Which sheets a record holds: everything, or what one reader needs.

use super::findable::Findable;
use crate::forms::*;
use judge::words;
use report::model::{Finding, Listed, Sheet, Signature};

/// So many sentences of what to do and so many tests stand on a page for a client.
const FOR_A_CLIENT: usize = 3;

/// So many of what is out stand on a notice; the full record has them all.
const ON_A_NOTICE: usize = 4;

/// The sheet with what its reader needs, under its own title.
pub(super) fn chosen(sheet: Sheet, contents: Contents, findable: &Findable<'_>) -> Sheet {
    match contents {
        Contents::Full => sheet,
        Contents::Client => client(sheet),
        Contents::Installer => Sheet {
            alternatives: None,
            readings: None,
            lists: Vec::new(),
            signatures: Vec::new(),
            ..titled(sheet, "For the tile setter")
        },
        Contents::Inspector => Sheet {
            alternatives: None,
            cut_list: None,
            profiles: None,
            readings: None,
            ..titled(sheet, "For the inspector")
        },
        Contents::NotReady => not_ready(sheet),
        Contents::ChangeOrder => change_order(sheet, findable),
        Contents::Label => label(sheet),
    }
}

fn titled(sheet: Sheet, kind: &str) -> Sheet {
    let title = report::model::TitleBlock { kind: kind.to_string(), ..sheet.title };
    Sheet { title, ..sheet }
}

/// One page without a figure that has to be explained.
fn client(sheet: Sheet) -> Sheet {
    let finding = shortened(&sheet);
    let mut tests = sheet.tests.clone();
    tests.sort_by_key(|test| test.mark == report::model::Mark::Within);
    tests.truncate(FOR_A_CLIENT);
    let signatures: Vec<_> = sheet.signatures.iter().rev().take(2).rev().cloned().collect();
    // One page holds either the map or what was tested and signed; at the hand-over the latter counts.
    let map = sheet.map.clone().filter(|_| tests.is_empty() && signatures.is_empty());
    Sheet {
        finding,
        map,
        tests,
        signatures,
        lists: Vec::new(),
        verdicts: Vec::new(),
        alternatives: None,
        cut_list: None,
        profiles: None,
        readings: None,
        method: Vec::new(),
        cautions: Vec::new(),
        ..titled(sheet, "What was found and done")
    }
}

/// What keeps the work from going on, and two lines to sign that it was said.
fn not_ready(sheet: Sheet) -> Sheet {
    use report::model::Mark;
    let rank = |mark: Mark| match mark {
        Mark::Out => 0,
        Mark::TooClose => 1,
        Mark::NotTested => 2,
        Mark::Within => 3,
    };
    let open = |all: Vec<report::model::Verdict>| {
        let mut all: Vec<_> = all.into_iter().filter(|verdict| verdict.mark != Mark::Within).collect();
        all.sort_by_key(|verdict| rank(verdict.mark));
        let more = all.len().saturating_sub(ON_A_NOTICE);
        all.truncate(ON_A_NOTICE);
        (all, more)
    };
    let ((verdicts, more), (tests, others)) = (open(sheet.verdicts.clone()), open(sheet.tests.clone()));
    let left = more + others;
    let said = format!("{left} more that are out, too close to call or not tested stand in the full record.");
    let lists = match left {
        0 => Vec::new(),
        _ => vec![Listed { heading: "And more".to_string(), lines: vec![said] }],
    };
    let finding = shortened(&sheet);
    Sheet {
        finding,
        verdicts,
        tests,
        lists,
        signatures: lines_to_sign("Received: the floor is not ready for the next trade."),
        ..titled(bare(Sheet { cautions: Vec::new(), ..sheet }), "Not ready")
    }
}

/// The finding with no more of what is to do than a page of few lines takes.
fn shortened(sheet: &Sheet) -> Option<Finding> {
    let finding = sheet.finding.clone()?;
    Some(Finding { todo: finding.todo.into_iter().take(FOR_A_CLIENT).collect(), ..finding })
}

/// What it takes beyond what was agreed, in quantities, with room for prices and two signatures.
fn change_order(sheet: Sheet, findable: &Findable<'_>) -> Sheet {
    let lines = quantities(findable);
    let heading = "Work and material, price beside each".to_string();
    let lists = if lines.is_empty() { Vec::new() } else { vec![Listed { heading, lines }] };
    let sheet = Sheet { finding: shortened(&sheet), lists, ..bare(sheet) };
    Sheet {
        signatures: lines_to_sign("Agreed: the work above is done at the price beside it."),
        ..titled(sheet, "Change order")
    }
}

/// The quantities of the height that is built to.
fn quantities(findable: &Findable<'_>) -> Vec<String> {
    let Some(chosen) = findable.chosen() else { return Vec::new() };
    let blank = " ……… × ……… = ………";
    let of = |action: Action| chosen.joists.iter().filter(|joist| joist.action == action).count();
    let strips = chosen.joists.iter().flat_map(|joist| &joist.strips);
    let (count, length) =
        strips.fold((0, 0.0), |(count, length), strip| (count + 1, length + (strip.to - strip.from).abs()));
    let mut lines = Vec::new();
    if count > 0 {
        let all = findable.say.length(length);
        lines.push(format!("Ripped strips: {count}, {all} in all, fixed on the joists.{blank}"));
    }
    for (action, what) in [
        (Action::Sister, "Joists to sister, bearing to bearing"),
        (Action::AskEngineer, "Joists for the engineer to look at"),
        (Action::Dress, "Joists to dress"),
        (Action::DressAndStrip, "Joists to dress and strip"),
    ] {
        let number = of(action);
        if number > 0 {
            lines.push(format!("{what}: {number}.{blank}"));
        }
    }
    lines.push(format!("{}.", words::alternative(chosen, findable.say)));
    lines
}

/// A code image and a line, to be cut out and stuck inside the vanity door.
fn label(sheet: Sheet) -> Sheet {
    let says = "What is behind this floor and these walls is on record. Scan the code, or ask for the record by its journal head.";
    let lists = vec![Listed { heading: "For the vanity door".to_string(), lines: vec![says.to_string()] }];
    let (cautions, not_looked_at) = (Vec::new(), Vec::new());
    Sheet { lists, finding: None, cautions, not_looked_at, ..bare(titled(sheet, "Label")) }
}

/// The title, the finding and the cautions alone.
fn bare(sheet: Sheet) -> Sheet {
    Sheet {
        verdicts: Vec::new(),
        tests: Vec::new(),
        map: None,
        alternatives: None,
        cut_list: None,
        profiles: None,
        readings: None,
        photographs: Vec::new(),
        lists: Vec::new(),
        signatures: Vec::new(),
        method: Vec::new(),
        ..sheet
    }
}

fn lines_to_sign(about: &str) -> Vec<Signature> {
    let one = |caption: &str| Signature { caption: caption.to_string(), about: about.to_string(), strokes: Vec::new() };
    vec![one("name and date, for the contractor"), one("name and date, for the client")]
}

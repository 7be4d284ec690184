//! The alternatives and the cut list of the sheets.

use super::findable::Findable;
use crate::forms::*;
use judge::words;
use report::model;
use survey::units::Length;

pub(super) fn alternatives(findable: &Findable<'_>) -> Option<model::Alternatives> {
    let height = findable.height.as_ref()?;
    let wall = &findable.file.plan.base_wall;
    let caption = format!("rise at the {wall}, {}", findable.say.unit());
    Some(model::Alternatives {
        caption,
        rows: height.alternatives.iter().map(|view| row(findable, height, view)).collect(),
    })
}

fn row(findable: &Findable<'_>, height: &HeightView, view: &AlternativeView) -> model::Alternative {
    let figure = |rise: &Option<f64>| rise.map(|rise| findable.say.bare(rise)).unwrap_or_default();
    let joists = view.joists.iter().zip(&view.rise).map(|(joist, rise)| model::Rise {
        place: joist.id.clone(),
        rise: figure(rise),
        jamb: false,
    });
    let jambs = view.door_rise.iter().enumerate().map(|(k, rise)| model::Rise {
        place: if k == 0 { "near jamb" } else { "far jamb" }.to_string(),
        rise: figure(rise),
        jamb: true,
    });
    let caution = "Water that is spilled runs to the low side: dry rooms only.".to_string();
    model::Alternative {
        name: words::alternative(view, findable.say),
        chosen: Some(&view.name) == height.chosen.as_ref(),
        rises: joists.chain(jambs).collect(),
        needs: vec![words::needs(view, findable.say)],
        approval: if view.needs_approval { model::Approval::Needed } else { model::Approval::NotNeeded },
        cautions: view.caution_water.then_some(caution).into_iter().collect(),
    }
}

pub(super) fn cut_list(findable: &Findable<'_>) -> Option<model::CutList> {
    let chosen = findable.chosen()?;
    let say = findable.say;
    Some(model::CutList {
        sentence: match chosen.hold {
            Some(hold) => format!("Hold {} below the line.", say.length(hold)),
            None => format!("{}.", words::alternative(chosen, say)),
        },
        counts: words::needs(chosen, say).split(", ").map(str::to_string).collect(),
        caption: format!(
            "{} up from the joist as found, stations from the {}",
            say.unit(),
            findable.file.plan.base_wall
        ),
        pieces: chosen.joists.iter().map(|work| piece(findable, work)).collect(),
        forbidden: forbidden(findable),
    })
}

fn piece(findable: &Findable<'_>, work: &JoistWork) -> model::Piece {
    let stations = findable.height.as_ref().map(|height| height.stations.as_slice()).unwrap_or_default();
    let strips = match work.action {
        Action::Sister | Action::AskEngineer => missing_lift(findable, work, stations).into_iter().collect(),
        _ => work.strips.iter().map(|strip| strip_of(findable, strip)).collect(),
    };
    model::Piece {
        joist: work.id.clone(),
        action: action(work.action),
        strips,
        notes: work.reasons.iter().cloned().chain(sister_notes(work.action)).collect(),
        approval: approval(findable, work),
        ticks: if work.action == Action::Leave { Vec::new() } else { vec!["made".to_string(), "fixed".to_string()] },
    }
}

fn strip_of(findable: &Findable<'_>, strip: &StripView) -> model::Strip {
    let thickness = |figure: &Figure| model::Thickness {
        station: Length::mm(figure.station),
        thickness: Length::mm(figure.thickness),
        figure: findable.say.bare(figure.thickness),
    };
    let length = format!("{} long", findable.say.length(strip.to - strip.from));
    model::Strip { stations: strip.figures.iter().map(thickness).collect(), length }
}

/// What a joist that gets no strip lacks, drawn so that the sister can be set to it.
fn missing_lift(findable: &Findable<'_>, work: &JoistWork, stations: &[f64]) -> Option<model::Strip> {
    let lifts: Vec<(f64, f64)> =
        stations.iter().zip(&work.lifts).filter_map(|(station, lift)| Some((*station, (*lift)?))).collect();
    let length = lifts.last()?.0 - lifts.first()?.0;
    let thickness = |&(station, lift): &(f64, f64)| model::Thickness {
        station: Length::mm(station),
        thickness: Length::mm(lift),
        figure: findable.say.bare(lift),
    };
    Some(model::Strip {
        stations: lifts.iter().map(thickness).collect(),
        length: format!("over {} read", findable.say.length(length)),
    })
}

fn sister_notes(action: Action) -> Option<String> {
    (action == Action::Sister).then(|| {
        "Straight, dry stock, bearing to bearing with full bearing at both ends, its top no higher than the old tops \
         where walls and hall floor stand on them. Read its top again before ripping the strip over the pair."
            .to_string()
    })
}

fn approval(findable: &Findable<'_>, work: &JoistWork) -> model::Approval {
    let cuts = work.cuts.iter().flatten().any(|cut| *cut > 0.0);
    match &work.approval {
        Some(given) => model::Approval::Recorded(format!(
            "{}, {}, {}: at most {} deep from {} to {}",
            given.by,
            given.date,
            given.reference,
            findable.say.length(given.depth),
            findable.say.bare(given.from),
            findable.say.length(given.to)
        )),
        None if cuts || work.action == Action::AskEngineer => model::Approval::Needed,
        None => model::Approval::NotNeeded,
    }
}

/// The joists that stand above a lower height and may not be cut to it.
fn forbidden(findable: &Findable<'_>) -> Vec<model::Caution> {
    let others = findable.height.iter().flat_map(|height| &height.alternatives).filter(|view| view.needs_approval);
    let wanted = others
        .flat_map(|view| &view.joists)
        .filter(|work| work.approval.is_none() && work.cuts.iter().flatten().any(|cut| *cut > 0.0));
    let mut named: Vec<model::Caution> = Vec::new();
    for work in wanted {
        let title = format!("{} is not to be planed.", work.id);
        if !named.iter().any(|caution| caution.title == title) {
            named.push(model::Caution { title, text: work.reasons.join(" ") });
        }
    }
    named
}

fn action(action: Action) -> model::Action {
    match action {
        Action::Leave => model::Action::Leave,
        Action::Sheet => model::Action::Sheet,
        Action::Strip => model::Action::Strip,
        Action::TallStrip => model::Action::TallStrip,
        Action::Sister => model::Action::Sister,
        Action::Dress => model::Action::Dress,
        Action::DressAndStrip => model::Action::DressAndStrip,
        Action::AskEngineer => model::Action::AskEngineer,
    }
}

//! Sheets that say one thing wherever they say anything, and sheets that say nothing.

use report::model::*;
use survey::PlanPosition;
use survey::units::Length;

pub(crate) fn bare() -> Sheet {
    Sheet {
        paper: Paper::A4,
        title: TitleBlock {
            kind: String::new(),
            room: String::new(),
            place: None,
            date: Moment::new(2026, 3, 14, [0, 0, 0], 0).expect("a real day"),
            who: None,
            instrument: None,
        },
        evidence: None,
        finding: None,
        verdicts: vec![],
        cautions: vec![],
        tests: vec![],
        photographs: vec![],
        lists: vec![],
        signatures: vec![],
        not_looked_at: vec![],
        map: None,
        alternatives: None,
        cut_list: None,
        profiles: None,
        readings: None,
        method: vec![],
        attachments: vec![],
    }
}

/// Every part there, every list empty.
pub(crate) fn hollow() -> Sheet {
    Sheet {
        finding: Some(Finding { mark: Mark::NotTested, sentence: String::new(), todo: vec![] }),
        map: Some(Map {
            caption: String::new(),
            reference: String::new(),
            outline: vec![],
            walls: Walls { base: String::new(), side: String::new() },
            bands: vec![],
            ponds: vec![],
            joists: vec![],
            openings: vec![],
            spots: vec![],
            straightedge: None,
            readings: vec![],
        }),
        alternatives: Some(Alternatives { caption: String::new(), rows: vec![] }),
        cut_list: Some(CutList {
            sentence: String::new(),
            counts: vec![],
            caption: String::new(),
            pieces: vec![],
            forbidden: vec![],
        }),
        profiles: Some(Profiles { title: String::new(), caption: String::new(), joists: vec![] }),
        readings: Some(Readings { caption: String::new(), columns: vec![], rows: vec![] }),
        ..bare()
    }
}

/// Every text is `t`, at the origin and at (`reach`, `reach`) millimetres.
pub(crate) fn saying(t: &str, reach: f64) -> Sheet {
    let t = || t.to_owned();
    let at = |mm: f64| PlanPosition { x: Length::mm(mm), y: Length::mm(mm) };
    let title =
        TitleBlock { kind: t(), room: t(), place: Some(t()), who: Some(t()), instrument: Some(t()), ..bare().title };
    let clause = Some(Clause { clause: t(), edition: Some(t()), provenance: Some(t()) });
    let verdict = |mark| Verdict {
        mark,
        sentence: t(),
        value: Some(t()),
        limit: Some(t()),
        uncertainty: Some(t()),
        clause: clause.clone(),
        retake: Some(t()),
        note: Some(t()),
    };
    let caution = || Caution { title: t(), text: t() };
    Sheet {
        title,
        evidence: Some(Evidence { head: t(), code: None }),
        finding: Some(Finding { mark: Mark::Within, sentence: t(), todo: vec![t()] }),
        verdicts: [Mark::Within, Mark::Out, Mark::TooClose, Mark::NotTested].map(verdict).into(),
        cautions: vec![caution()],
        tests: vec![],
        photographs: vec![],
        lists: vec![],
        signatures: vec![],
        not_looked_at: vec![t()],
        map: Some(map(&t(), at(0.0), at(reach))),
        alternatives: Some(Alternatives {
            caption: t(),
            rows: vec![Alternative {
                name: t(),
                chosen: true,
                rises: vec![Rise { place: t(), rise: t(), jamb: true }],
                needs: vec![t()],
                approval: Approval::Recorded(t()),
                cautions: vec![t()],
            }],
        }),
        cut_list: Some(cut_list(&t(), Length::mm(reach), caution())),
        profiles: Some(Profiles {
            title: t(),
            caption: t(),
            joists: vec![Profile { name: t(), sentence: t(), points: points(&t(), Length::mm(reach)) }],
        }),
        readings: Some(Readings {
            caption: t(),
            columns: vec![t()],
            rows: vec![ReadingRow { name: t(), cells: vec![Cell { figure: t(), note: Some(t()) }] }],
        }),
        method: vec![Method { name: t(), text: t() }],
        ..bare()
    }
}

fn map(t: &str, from: PlanPosition, to: PlanPosition) -> Map {
    let t = || t.to_owned();
    Map {
        caption: t(),
        reference: t(),
        outline: vec![from, PlanPosition { x: to.x, y: from.y }, to],
        walls: Walls { base: t(), side: t() },
        bands: vec![Band { from: Length::ZERO, to: Length::mm(1.0), figure: t(), rings: vec![vec![from, to, from]] }],
        ponds: vec![],
        joists: vec![JoistLine { name: t(), from, to }],
        openings: vec![Opening { name: t(), from, to }],
        spots: vec![Spot { side: Side::Low, at: to, amount: t(), name: t(), from_base: t(), from_side: t() }],
        straightedge: Some(Straightedge { sentence: t(), from, to, supports: vec![from, to], gap_at: to }),
        readings: vec![from, to],
    }
}

fn points(t: &str, reach: Length) -> Vec<ProfilePoint> {
    let point = |station, spot| ProfilePoint { station, height: station, figure: t.to_owned(), spot };
    vec![point(Length::ZERO, None), point(reach, Some(Side::High))]
}

fn cut_list(t: &str, reach: Length, caution: Caution) -> CutList {
    let t = || t.to_owned();
    let thickness = |station| Thickness { station, thickness: station, figure: t() };
    let strip = Strip { stations: vec![thickness(Length::ZERO), thickness(reach)], length: t() };
    let piece = |action| Piece {
        joist: t(),
        action,
        strips: vec![strip.clone()],
        notes: vec![t()],
        approval: Approval::Needed,
        ticks: vec![t()],
    };
    CutList {
        sentence: t(),
        counts: vec![t()],
        caption: t(),
        pieces: vec![piece(Action::AskEngineer), piece(Action::DressAndStrip)],
        forbidden: vec![caution],
    }
}

//! The heights side by side, and the cut list of the first.

use report::model::*;

use super::floor::{DOWN, STATIONS, figure, inches};
use super::texts;

fn alternative(name: &str, rises: [i32; 7], needs: &[&str], approval: Approval, cautions: &[&str]) -> Alternative {
    let rise = |(j, &r): (usize, &i32)| Rise {
        place: if j == 0 || j == 2 { format!("J{} jamb", j + 1) } else { format!("J{}", j + 1) },
        rise: figure(r),
        jamb: j == 0 || j == 2,
    };
    Alternative {
        name: name.into(),
        chosen: false,
        rises: rises.iter().enumerate().map(rise).collect(),
        needs: texts(needs),
        approval,
        cautions: texts(cautions),
    }
}

pub(crate) fn alternatives() -> Alternatives {
    let level = ["J6 sistered, the others furred with ripped strips.", "Within the door budget."];
    let dressed = "A cut about 42 in long, nearly all in the middle third: section modulus −2.7 %, stiffness −4.0 %.";
    let held = [4, 5, 6, 6, 7, 8, 9];
    let needed = Approval::Needed;
    let first = alternative("Level at 43-7/8, nothing cut", held, &level, Approval::NotNeeded, &[]);
    let flat = "Runs up 3/8 in in 90 in from the door: spilled water heads for the door. Dry rooms only.";
    Alternatives {
        caption: "Rise at the door wall in inches; the jambs stand at J1 and J3; door budget 3/8.".into(),
        rows: vec![
            Alternative { chosen: true, ..first },
            alternative("Dress J4 by 1/8, hold 44", [2, 3, 4, 4, 5, 6, 7], &[dressed], needed.clone(), &[]),
            alternative(
                "Sister J4 and J6, hold 44-1/8",
                [0, 1, 2, 2, 3, 4, 5],
                &["Two sisters.", "Old J4 dressed, 1/4 at 60 and 1/8 at 30."],
                needed,
                &[],
            ),
            alternative(
                "Flat, not level, touching J1 at 0 and J4 at 30 and 60",
                [0, 1, 2, 2, 3, 4, 5],
                &["No cut."],
                Approval::NotNeeded,
                &[flat],
            ),
        ],
    }
}

fn thickness(station: f64, sixteenths: i32) -> Thickness {
    Thickness { station: inches(station), thickness: inches(f64::from(sixteenths) / 16.0), figure: figure(sixteenths) }
}

fn strip(at: &[(f64, i32)], length: &str) -> Strip {
    Strip { stations: at.iter().map(|&(s, t)| thickness(s, t)).collect(), length: length.into() }
}

/// Lift of each station to 43-7/8.
fn whole(j: usize) -> Strip {
    let lifts: Vec<_> = (0..4).map(|s| (STATIONS[s], DOWN[j][s] + 2)).collect();
    strip(&lifts, "90 in")
}

fn piece(j: usize) -> Piece {
    let sister =
        "Straight, bearing to bearing, its top no higher than the old top under walls; read again before ripping.";
    let bare = "Two strips, bare from 45 to 66: under 1/16 is not worth making.";
    let (action, strips, notes, ticks) = match j {
        3 => {
            let near = strip(&[(0.0, 6), (30.0, 2), (45.0, 1)], "45 in");
            (Action::Strip, vec![near, strip(&[(66.0, 1), (90.0, 5)], "24 in")], vec![bare], ["ripped", "fixed"])
        }
        5 => (
            Action::Sister,
            vec![whole(j)],
            vec!["Look underneath by the door wall first.", sister],
            ["set", "read again"],
        ),
        _ => (Action::Strip, vec![whole(j)], vec![], ["ripped", "fixed"]),
    };
    Piece {
        joist: format!("J{}", j + 1),
        action,
        strips,
        notes: texts(&notes),
        approval: Approval::NotNeeded,
        ticks: texts(&ticks),
    }
}

pub(crate) fn cut_list() -> CutList {
    CutList {
        sentence: "Hold 43-7/8 below the line.".into(),
        counts: texts(&["7 strips on 6 joists", "1 sister", "nothing cut", "doorway up 1/4 at J1, 3/8 at J3"]),
        caption:
            "Inches up from the joist as found, ±1/16; stations 0 30 60 90 from the door wall. Continuous strips, \
                  never packs at stations."
                .into(),
        pieces: (0..7).map(piece).collect(),
        forbidden: vec![Caution {
            title: "J4 is not to be planed.".into(),
            text: "60 lies in the middle third of its span. Ask an engineer before any cut there.".into(),
        }],
    }
}

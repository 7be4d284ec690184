//! How a wet floor is to fall, and how it is put right, as lines for the terminal.

use super::{Say, build_up, verdict};
use crate::finish::fall::DRAIN_AT_EDGE;
use crate::forms::*;

/// The edge, the marks round the walls, the rules that hardly go together, the entry, what the floor holds, the fills.
pub fn fall(view: &FallView, say: Say) -> Vec<String> {
    let mut lines = vec![format!("The edge stands {} over the drain.", say.length(view.rise))];
    lines.extend(view.problems.iter().map(|problem| problem.message.clone()));
    lines.extend(view.conflicts.iter().map(conflict));
    lines.extend(view.walls.iter().enumerate().map(|(at, wall)| marks(at, wall, say)));
    lines.extend(view.entry.iter().map(|entry| {
        let say = say.apart(entry.difference, entry.limit);
        let (by, limit) = (say.uncertain(entry.difference, entry.u), say.length(entry.limit));
        format!("Entry line out of level by {by} (at most {limit}): {}.", verdict(entry.verdict))
    }));
    lines.extend(view.hold.iter().map(|held| {
        let from = if held.as_read { "read" } else { "designed" };
        let deep = say.length(held.deepest);
        format!("As {from} it holds {:.1} litres, {deep} deep, before water crosses the entry.", held.volume)
    }));
    lines.extend(view.correction.iter().flat_map(|found| correction(found, say)));
    lines
}

/// What a level edge asks here, from each origin; none for a floor that is one plane.
pub fn level_edge(view: &FallView, say: Say) -> Vec<String> {
    let plane = view.plan.edge == EdgeShape::Even || view.problems.iter().any(|one| one.kind == DRAIN_AT_EDGE);
    let designs = view.designs.iter().filter(|_| !plane);
    designs.flat_map(|design| build_up::falls(design, say)).collect()
}

fn conflict(found: &FallConflict) -> String {
    let in_one = |slope: f64| format!("1:{:.0}", 1.0 / slope);
    match found.together {
        Together::AtOneValue => {
            format!(
                "The least fall and the most of {:?} are both {}: one value keeps both.",
                found.with,
                in_one(found.least)
            )
        }
        Together::Never => {
            let (least, most) = (in_one(found.least), in_one(found.most));
            format!("Nothing keeps both: the least is {least}, {:?} allows at most {most}.", found.with)
        }
    }
}

fn marks(at: usize, wall: &FallWall, say: Say) -> String {
    let mark = |mark: &FallMark| format!("{} at {}", say.bare(mark.height), say.bare(mark.along));
    let all: Vec<String> = wall.marks.iter().map(mark).collect();
    let entry = if wall.entry { ", the entry" } else { "" };
    format!("Wall {}{entry}, {}: {}", at + 1, say.length(wall.length), all.join(", "))
}

fn correction(found: &Correction, say: Say) -> Vec<String> {
    let fill = |fill: &FillSpot| {
        let fades = match fill.fades_at.as_slice() {
            [] => "running on into the fills beside it".to_string(),
            at => format!("fading to nothing at {}", at.join(", ")),
        };
        format!("Fill {} at {}, {fades}.", say.length(fill.depth), fill.point)
    };
    let mut lines: Vec<String> = found.fills.iter().map(fill).collect();
    lines.extend(found.left.iter().map(|run| format!("Too high at {run}: no fill puts it right.")));
    lines.push(match found.proposed {
        true => {
            format!("Checked again with {:.1} litres of fill on it: nothing is out, no water stands.", found.volume)
        }
        false => format!("Not proposed: {} would still be out, {} ponds stand.", found.out_after, found.ponds_after),
    });
    lines
}

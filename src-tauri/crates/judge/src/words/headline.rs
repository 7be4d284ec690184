//! The verdict on a room in a sentence or two.

use super::gauge;
use super::phrases::{from_walls, list};
use super::say::Say;
use crate::forms::*;

/// The room's verdict in a sentence or two: what the gauges say, where the bar was laid, and then the heights.
pub fn headline(view: &FindingsView, say: Say) -> String {
    let headline = &view.headline;
    let heights = not_ready(view, say).unwrap_or_else(|| by_heights(headline));
    let Some(walk) = &headline.walk else { return heights };
    let alone = match headline.verdict {
        Verdict::Within => walk.verdict == Verdict::Within,
        Verdict::Out => headline.out.is_empty(),
        Verdict::TooCloseToCall => headline.close.is_empty(),
        Verdict::NotTested => false,
    };
    let gauges = gauge::headline(walk);
    if alone { gauges } else { format!("{gauges} {heights}") }
}

/// `Not ready for 24 in tile: one low of 3/16 in, 31 in from the door wall, 42 in from the left wall.` None for a floor
/// that is not out, or where no place of it is.
fn not_ready(view: &FindingsView, say: Say) -> Option<String> {
    let headline = &view.headline;
    let worst = view.map.marks.iter().max_by(|a, b| a.amount.total_cmp(&b.amount))?;
    if !headline.floor || headline.verdict != Verdict::Out {
        return None;
    }
    let tile = headline.tile_edge.map(|edge| format!(" for {} tile", say.length(edge))).unwrap_or_default();
    let kind = if worst.high { "high" } else { "low" };
    let at = format!("{kind} of {}, {}", say.length(worst.amount), from_walls(&worst.from_walls, say));
    let counted = |high: bool| match view.map.marks.iter().filter(|mark| mark.high == high).count() {
        0 => None,
        1 => Some(if high { "one high" } else { "one low" }.to_string()),
        many => Some(format!("{many} {}", if high { "highs" } else { "lows" })),
    };
    let all: Vec<String> = [true, false].into_iter().filter_map(counted).collect();
    Some(match view.map.marks.len() {
        1 => format!("Not ready{tile}: one {at}."),
        _ => format!("Not ready{tile}: {}, the worst a {at}.", all.join(" and ")),
    })
}

fn by_heights(headline: &Headline) -> String {
    let names = |names: &[String]| list(names);
    match headline.verdict {
        Verdict::NotTested if headline.read < 3 => {
            format!("Not read yet: {} of {} points.", headline.read, headline.points)
        }
        Verdict::NotTested => "Not tested: nothing here says whether the floor keeps to its limits.".to_string(),
        Verdict::Within => "Within: the floor keeps to its limits.".to_string(),
        Verdict::TooCloseToCall => format!("Too close to call: {}.", names(&headline.close)),
        Verdict::Out if headline.rest_even => format!("Out: {}. The rest is one even slope.", names(&headline.out)),
        Verdict::Out => format!("Out: {}.", names(&headline.out)),
    }
}

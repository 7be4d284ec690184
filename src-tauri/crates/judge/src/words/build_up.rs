//! The build-up and its falls as lines for the terminal and the printed sheets.

use super::{Say, verdict};
use crate::forms::*;

/// Both sides from below up, how they meet, what stands against it, and the layers that would make it flush.
pub fn build_up(view: &BuildUpView, say: Say) -> Vec<String> {
    let mut lines = side("Room", &view.room, say);
    lines.extend(side("Shower", &view.shower, say));
    lines.push(format!("At the entry {} (±{} at k = 2).", meeting(view, say), say.length(2.0 * view.u)));
    lines.extend(view.not_ready.iter().map(|why| format!("Not ready: {why}")));
    lines.extend(view.ways.iter().map(|way| {
        let side = if way.in_shower { "shower" } else { "room" };
        format!("Flush with the {side}'s {} at {} instead of {}.", way.layer, say.length(way.to), say.bare(way.from))
    }));
    lines.push(format!("Cleats for the deck: {} below the tops of the joists.", say.length(view.cleats)));
    lines.extend(view.beds.iter().map(|bed| bed_over(bed, say)));
    lines.push(format!("Finished at the drain: {}.", say.length(view.at_drain)));
    lines.extend(view.riser.map(|riser| format!("Cut the drain's riser {}, last of all.", say.length(riser))));
    lines.extend(view.falls.iter().flat_map(|fall| falls(fall, say)));
    lines.extend(view.drain.iter().map(|drain| clash(drain, say)));
    lines
        .push("Product data, local code and the licensed trades decide; this is arithmetic on what was put in.".into());
    lines
}

fn bed_over(bed: &BedOver, say: Say) -> String {
    let say = say.apart(bed.left, bed.least);
    let (left, least) = (say.length(bed.left), say.length(bed.least));
    format!("Bed over {}: {left} left (at least {least}): {}.", bed.joist, verdict(bed.verdict))
}

fn side(name: &str, side: &SideView, say: Say) -> Vec<String> {
    let mut lines = vec![format!("{name}: structure at {}.", say.length(side.structure))];
    let layer = |layer: &LayerStanding| {
        format!("  {:>8}  {} to {}", say.bare(layer.thickness), layer.name, say.bare(layer.top))
    };
    lines.extend(side.layers.iter().map(layer));
    lines.push(format!("  finished at {}", say.length(side.finished)));
    lines
}

fn meeting(view: &BuildUpView, say: Say) -> String {
    let say = if view.meeting == Meeting::TooLow { say.apart(view.step.abs(), view.accepted) } else { say };
    let step = say.length(view.step.abs());
    match view.meeting {
        Meeting::Flush => "the floors are flush".to_string(),
        Meeting::Proud => format!("the shower stands {step} proud: never accepted"),
        Meeting::Low => format!("the shower is {step} low: accepted"),
        Meeting::TooLow => format!("the shower is {step} low: more than {}", say.length(view.accepted)),
    }
}

/// The fall to the far corner and to the near wall, and whether a level perimeter can be had at all.
pub fn falls(design: &FallDesign, say: Say) -> Vec<String> {
    let origin = match design.origin {
        Origin::Centre => "centre",
        Origin::Rim => "rim",
    };
    let to = |name: &str, to: &FallTo, than: &str| {
        format!(
            "  {name}, {} away: {} ±{} ({than} {}): {}",
            say.length(to.distance),
            slope(to.fall, say),
            slope(2.0 * to.u, say),
            slope(to.limit, say),
            verdict(to.verdict)
        )
    };
    let mut lines = vec![format!("Fall from the drain's {origin}, perimeter {} above it:", say.length(design.rise))];
    lines.push(to("far corner", &design.far, "at least"));
    lines.push(to("near wall", &design.near, "at most"));
    lines.push(format!("  {}", perimeter(design, say)));
    lines
}

/// Whether a level perimeter can be had round this drain, said before anything is mixed.
fn perimeter(design: &FallDesign, say: Say) -> String {
    let say = say.apart(design.needs, design.allows);
    let (needs, allows) = (say.length(design.needs), say.length(design.allows));
    let from_to = if needs == allows { needs.clone() } else { format!("{needs} to {allows}") };
    if design.possible {
        return format!("a level perimeter stands {from_to} above the drain");
    }
    format!(
        "impossible: no level perimeter does, the far corner needs {needs}, the near wall allows {allows}: take a \
         linear drain"
    )
}

/// A fall as the trade says it: `0.236 in/ft`, or `1 in 72` in millimetre rooms.
fn slope(fall: f64, say: Say) -> String {
    match say.unit() {
        "in" => format!("{:.3} in/ft", fall * 12.0),
        _ => format!("{:.1} mm/m", fall * 1000.0),
    }
}

fn clash(drain: &DrainClash, say: Say) -> String {
    let hole = say.length(drain.hole);
    if drain.joists.is_empty() {
        return format!("A hole of {hole} for the drain meets no joist.");
    }
    let clear: Vec<String> = drain.clear_at.iter().map(|at| say.length(*at)).collect();
    let move_to = if clear.is_empty() { "nowhere".to_string() } else { clear.join(" or ") };
    format!(
        "A hole of {hole} for the drain meets {}: never cut it. It clears centred at {move_to} across the joists; or \
         move the whole shower, or take a linear drain.",
        drain.joists.join(" and ")
    )
}

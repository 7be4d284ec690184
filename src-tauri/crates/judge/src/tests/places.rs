//! Where what lies under the floor is found again: its distances from two fixed walls.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::from_walls::from_walls;

/// How far places of the plan are from two walls, and whether they lie in the room at all.
///
/// # Errors
/// `not-finite` for a place that is invalid.
pub fn asked(plan: &Plan, ask: &PlacesAsk) -> Result<PlacesView, Refusal> {
    if ask.places.iter().any(|(x, y)| !(x.is_finite() && y.is_finite())) {
        return Err(Refusal::not_finite("places"));
    }
    Ok(PlacesView { places: ask.places.iter().map(|at| placed(plan, *at)).collect() })
}

/// Everything under the floor, place by place.
pub(super) fn of_entries(plan: &Plan, entries: &[RecordEntry]) -> Vec<HiddenView> {
    let under = entries.iter().filter_map(|entry| match &entry.what {
        EntryKind::Hidden(one) if one.surface == "floor" => Some((entry, one)),
        _ => None,
    });
    let places = |one: &Hidden| one.places.iter().map(|at| placed(plan, *at)).collect();
    under.map(|(entry, one)| HiddenView { entry: entry.id.clone(), places: places(one) }).collect()
}

fn placed(plan: &Plan, at: (f64, f64)) -> Placed {
    Placed { at, from_walls: from_walls(plan, at), outside: plan.outline.len() > 2 && !holds(&plan.outline, at) }
}

/// Whether a place lies within the walls or on them, to a tenth of a millimetre.
fn holds(outline: &[(f64, f64)], (x, y): (f64, f64)) -> bool {
    let next = outline.iter().cycle().skip(1);
    let mut inside = false;
    for (&(x1, y1), &(x2, y2)) in outline.iter().zip(next) {
        let long = (x2 - x1).hypot(y2 - y1);
        let beside = ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)).abs() <= 0.1 * long;
        let along = (x - x1) * (x2 - x1) + (y - y1) * (y2 - y1);
        if beside && (-0.1 * long..=(long + 0.1) * long).contains(&along) {
            return true;
        }
        if (y1 > y) != (y2 > y) && x < x1 + (x2 - x1) * (y - y1) / (y2 - y1) {
            inside = !inside;
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_in_the_room_or_not() {
        // An L: the notch is not the room.
        let outline =
            [(100.0, 50.0), (2100.0, 50.0), (2100.0, 1050.0), (1100.0, 1050.0), (1100.0, 2050.0), (100.0, 2050.0)];
        let check = |at, inside| assert_eq!(holds(&outline, at), inside, "{at:?}");
        check((600.0, 1500.0), true);
        check((1500.0, 1500.0), false);
        check((1100.0, 1500.0), true);
        check((2100.0, 50.0), true);
        check((2101.0, 500.0), false);
        check((99.0, 500.0), false);
    }
}

//! Places of the plan as the core takes them.

use crate::forms::{Drain, Plan};
use survey::PlanPosition;
use survey::drainage::Drain as Outlet;
use survey::units::Length;

/// A place of the plan, given in mm.
pub fn position(&(x, y): &(f64, f64)) -> PlanPosition {
    PlanPosition { x: Length::mm(x), y: Length::mm(y) }
}

/// A drain of the plan as an outlet: a point, or a line where the drain has two ends.
pub fn outlet(drain: &Drain) -> Outlet {
    match &drain.to {
        Some(to) => Outlet::Line(position(&drain.from), position(to)),
        None => Outlet::Point(position(&drain.from)),
    }
}

/// Every drain of the plan; none if the plan has no drain.
pub fn outlets(plan: &Plan) -> Option<Outlet> {
    let first = outlet(plan.drain.as_ref()?);
    Some(match &plan.second_drain {
        Some(second) => Outlet::Several(vec![first, outlet(second)]),
        None => first,
    })
}

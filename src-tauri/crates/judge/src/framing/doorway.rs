//! What the hall and the door leave for the floor to rise, and how far it rises at each fixture.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::point_heights::Height;
use crate::room::positions::position;
use survey::Point;
use survey::door_budget::door_budget;
use survey::framing::Target;
use survey::triangulation::{Triangulation, triangulate};
use survey::units::Length;

/// What the floor may rise in the doorway: as the plan says, else as the hall and the door leave; never below nothing.
pub fn budget(file: &RoomFile) -> Option<f64> {
    let doorway = file.plan.doorway.as_ref()?;
    let of_door = |door: &DoorHeights| {
        let mm = Length::mm;
        let hung = door.edge.map(|edge| (mm(edge), mm(door.gap.unwrap_or(0.0))));
        door_budget(mm(door.hall), mm(door.build_up), hung).max(Length::ZERO).to_mm()
    };
    doorway.budget.or_else(|| file.works.door.as_ref().map(of_door))
}

/// Whether the heights at a door are heights.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the field.
pub fn check(door: &DoorHeights) -> Result<(), Refusal> {
    if !door.hall.is_finite() {
        return Err(Refusal::not_finite("door: hall"));
    }
    let rest = [("door: build-up", Some(door.build_up)), ("door: lower edge", door.edge), ("door: gap", door.gap)];
    match rest.into_iter().find(|(_, value)| value.is_some_and(|value| value.is_nan() || value < 0.0)) {
        Some((field, _)) => Err(Refusal::out_of_range(field, "zero or more")),
        None => Ok(()),
    }
}

/// The joists as they were read, as one surface to measure from.
pub struct AsFound<'f> {
    file: &'f RoomFile,
    surface: Option<Triangulation>,
}

impl<'f> AsFound<'f> {
    pub fn of(file: &'f RoomFile, heights: &[Height<'_>]) -> Self {
        let points: Vec<Point> = heights.iter().map(Height::at).collect();
        let wanted = !file.plan.fixtures.is_empty();
        let surface = wanted.then(|| triangulate(&points, &[]).ok()).flatten().map(|found| found.value);
        Self { file, surface }
    }

    /// How far a target rises over the joists at each fixture.
    pub fn rises(&self, target: &Target) -> Vec<FixtureRise> {
        let rise = |fixture: &Fixture| {
            let (x, y) = ((fixture.from.0 + fixture.to.0) / 2.0, (fixture.from.1 + fixture.to.1) / 2.0);
            let top = self.surface.as_ref()?.height_at(position(&(x, y)))?;
            // The target is reckoned across the joists and along them.
            let turned = if self.file.plan.joists_along == Axis::Y { (x, y) } else { (y, x) };
            Some((target.at(position(&turned)) - top).to_mm())
        };
        let told = |fixture: &Fixture| FixtureRise { kind: fixture.kind, rise: rise(fixture) };
        self.file.plan.fixtures.iter().map(told).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: f64 = 25.4;

    fn kestrel() -> RoomFile {
        crate::demo("kestrel").expect("the demo room")
    }

    #[test]
    fn each_alternative_rises_at_a_toilet_by_its_own_height() {
        let mut file = kestrel();
        // On J7 at its third station, read 44-9/16 down: 11/16 under a level of 43-7/8.
        let around = |x: f64, y: f64| ((x - 6.0) * INCH, (y - 6.0) * INCH);
        let fixture = |kind: FixtureKind, x: f64, y: f64| {
            let (from, to) = (around(x, y), around(x + 12.0, y + 12.0));
            Fixture { kind, from, to }
        };
        file.plan.fixtures = vec![fixture(FixtureKind::Toilet, 96.0, 60.0), fixture(FixtureKind::Other, -30.0, 0.0)];
        let view = crate::height(&file, None).expect("heights");
        let of = |name: &str| view.alternatives.iter().find(|one| one.name == name).expect(name).fixtures.clone();
        let first = of("level-nothing-cut");
        assert!(first[0].rise.is_some_and(|rise| (rise / INCH - 11.0 / 16.0).abs() < 1e-9), "{first:?}");
        assert_eq!(first[1].rise, None, "the joists were not read there");
        let lower = of("level-sister-high")[0].rise.expect("a rise");
        assert!((lower / INCH - 7.0 / 16.0).abs() < 1e-9);
    }

    #[test]
    fn what_the_door_leaves_counts_where_the_plan_says_nothing() {
        let mut file = kestrel();
        file.works.door = Some(DoorHeights { hall: 1.75 * INCH, build_up: 1.5 * INCH, edge: None, gap: None });
        let own = crate::height(&file, None).expect("heights").budget;
        assert!(own.is_some_and(|own| (own / INCH - 0.375).abs() < 1e-9), "the plan's own");
        file.plan.doorway.as_mut().expect("a doorway").budget = None;
        let view = crate::height(&file, None).expect("heights");
        assert!(view.budget.is_some_and(|budget| (budget / INCH - 0.25).abs() < 1e-9));
        let first = view.alternatives.iter().find(|one| one.name == "level-nothing-cut").expect("the first");
        assert!(first.over_door_budget, "3/8 at one jamb is more than a quarter");
    }

    #[test]
    fn what_is_no_height_is_named() {
        let door = DoorHeights { hall: 40.0, build_up: 30.0, edge: None, gap: None };
        assert!(check(&door).is_ok());
        let said = |door: DoorHeights| check(&door).expect_err("refused").message;
        assert!(said(DoorHeights { hall: f64::NAN, ..door.clone() }).contains("door: hall"));
        assert!(said(DoorHeights { gap: Some(-1.0), ..door }).contains("door: gap must be zero or more"));
    }
}

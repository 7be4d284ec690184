//! Where on the plan the drain may go, and what moving it costs.

use crate::finish::build_up::at_drain;
use crate::finish::fall;
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::positions::{outlet, position};
use crate::room::rules::{Figures, LengthId};
use survey::drain_window::{Bar, DrainSite, Placed, placed, slide};
use survey::drainage::Drain as Outlet;
use survey::units::{INCH_MM, Length};

/// No more places than this along one side.
const MOST: f64 = 120.0;

/// The window of a room's drain, from its file.
///
/// # Errors
/// `not-ready` without an outline, `not-finite` for a place that is none.
/// The window of a room's drain, with another plan than its own where one is tried out.
///
/// # Errors
/// `not-ready` without an outline, `not-finite` for a place that is invalid, `out-of-range` for an impossible trough
/// or trap arm.
pub fn asked(mut file: RoomFile, ask: &DrainAsk) -> Result<DrainView, Refusal> {
    if let Some(plan) = &ask.plan {
        fall::check(plan, &file.plan)?;
        file.works.fall = Some(plan.clone());
    }
    drain(&file, ask.linear, ask.at)
}

fn drain(file: &RoomFile, linear: bool, at: Option<(f64, f64)>) -> Result<DrainView, Refusal> {
    let window = Window::of(file, linear)?;
    let at = at.or(file.plan.drain.as_ref().map(middle)).unwrap_or(window.middle());
    if !at.0.is_finite() || !at.1.is_finite() {
        return Err(Refusal::not_finite("drain: place"));
    }
    let places = window.places();
    let found: Vec<DrainPlace> = places.iter().map(|&place| window.look(place)).collect();
    let bars: Vec<DrainBar> = found.iter().map(gravest).collect();
    let free = bars.iter().filter(|bar| **bar == DrainBar::Free).count();
    let nearest = found.iter().filter(|place| place.bars.is_empty());
    let nearest = nearest.min_by(|a, b| a.moved.total_cmp(&b.moved)).cloned();
    Ok(DrainView {
        linear,
        origin: places.first().copied().unwrap_or(window.low),
        step: window.step,
        columns: window.columns() as u32,
        free: free as f64 / bars.len().max(1) as f64,
        bars,
        at: window.look(at),
        nearest,
        slide: slide(&window.site, position(&at)).map(Length::to_mm),
        hole: window.site.hole.to_mm(),
        clearance: window.site.clearance.to_mm(),
        line: window.line(at),
        trough: linear.then(|| trough(file)).flatten(),
    })
}

/// Nearer than this to a wall, mm, is on it.
const ON_THE_WALL: f64 = 1e-3;

struct Window<'f> {
    file: &'f RoomFile,
    site: DrainSite,
    linear: bool,
    low: (f64, f64),
    high: (f64, f64),
    step: f64,
}

impl<'f> Window<'f> {
    fn of(file: &'f RoomFile, linear: bool) -> Result<Self, Refusal> {
        let outline = &file.plan.outline;
        if outline.len() < 3 {
            let message = "There is no room to put a drain in yet. Lay out the plan, then ask again.";
            return Err(Refusal::new(Kind::NotReady, message));
        }
        let least = |of: fn(&(f64, f64)) -> f64| outline.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&(f64, f64)) -> f64| outline.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        let (low, high) = ((least(|c| c.0), least(|c| c.1)), (most(|c| c.0), most(|c| c.1)));
        let unit = if file.room.units == Units::In { INCH_MM } else { 25.0 };
        let step = unit.max((high.0 - low.0).max(high.1 - low.1) / MOST);
        Ok(Self { file, site: site(file, linear), linear, low, high, step })
    }

    fn middle(&self) -> (f64, f64) {
        ((self.low.0 + self.high.0) / 2.0, (self.low.1 + self.high.1) / 2.0)
    }

    fn columns(&self) -> usize {
        ((self.high.0 - self.low.0) / self.step).floor() as usize
    }

    /// The middles of the fields, row by row.
    fn places(&self) -> Vec<(f64, f64)> {
        let rows = ((self.high.1 - self.low.1) / self.step).floor() as usize;
        let at = |low: f64, k: usize| low + (k as f64 + 0.5) * self.step;
        let columns = self.columns();
        (0..rows)
            .flat_map(|row| (0..columns).map(move |column| (column, row)))
            .map(|(column, row)| (at(self.low.0, column), at(self.low.1, row)))
            .collect()
    }

    /// A line through a place, from wall to wall along the entry.
    fn line(&self, at: (f64, f64)) -> Option<((f64, f64), (f64, f64))> {
        let along_y = self.file.plan.entry.is_some_and(|(a, b)| (a.0 - b.0).abs() < (a.1 - b.1).abs());
        let (from, to) = self.reach(at, along_y);
        let ends = if along_y { ((at.0, from), (at.0, to)) } else { ((from, at.1), (to, at.1)) };
        self.linear.then_some(ends)
    }

    /// From which wall to which a line through a place runs; as far as the room reaches where the place lies outside.
    fn reach(&self, at: (f64, f64), along_y: bool) -> (f64, f64) {
        // Of every corner, how far it lies along the line and to its side.
        let turned = |(x, y): (f64, f64)| if along_y { (y, x) } else { (x, y) };
        let ((here, side), (low, _), (high, far)) = (turned(at), turned(self.low), turned(self.high));
        // On the farthest wall itself no wall crosses: just inside it they do.
        let side = side.min(far - ON_THE_WALL);
        let corners = self.file.plan.outline.iter().map(|&corner| turned(corner));
        let next = corners.clone().cycle().skip(1);
        let crossings = corners.zip(next).filter(|(a, b)| (a.1 > side) != (b.1 > side));
        let crossings = crossings.map(|(a, b)| a.0 + (side - a.1) / (b.1 - a.1) * (b.0 - a.0));
        let (before, beyond): (Vec<f64>, Vec<f64>) = crossings.partition(|&wall| wall <= here);
        // In the room an odd number of walls lies on either side.
        match before.len() % 2 == 1 && beyond.len() % 2 == 1 {
            true => (before.into_iter().fold(low, f64::max), beyond.into_iter().fold(high, f64::min)),
            false => (low, high),
        }
    }

    fn drain_at(&self, at: (f64, f64)) -> Outlet {
        let (from, to) = self.line(at).map_or((at, None), |(from, to)| (from, Some(to)));
        outlet(&Drain { from, to, grate: None })
    }

    fn look(&self, at: (f64, f64)) -> DrainPlace {
        let Placed { bars, perimeter, trap_arm } = placed(&self.site, position(&at), &self.drain_at(at));
        let from = self.file.plan.drain.as_ref().map_or(at, middle);
        let name = |bar: &Bar| match bar {
            Bar::Joist(k) | Bar::Trough(k) => self.file.plan.joists.get(*k).map(|joist| joist.id.clone()),
            _ => None,
        };
        let mut joists: Vec<String> = bars.iter().filter_map(name).collect();
        joists.sort_by_key(|id| self.file.plan.joists.iter().position(|joist| &joist.id == id));
        joists.dedup();
        DrainPlace {
            at,
            joists,
            needs: perimeter.map(|edge| edge.needs.to_mm()),
            allows: perimeter.map(|edge| edge.allows.to_mm()),
            steepest: perimeter.map(|edge| edge.steepest().to_ratio()),
            trap_arm: trap_arm.map(Length::to_mm),
            moved: (at.0 - from.0).hypot(at.1 - from.1),
            verdict: if bars.is_empty() { Verdict::Within } else { Verdict::Out },
            bars: kinds(&bars),
        }
    }
}

/// Where a drain is: its own place, or the middle of its line.
fn middle(drain: &Drain) -> (f64, f64) {
    let to = drain.to.unwrap_or(drain.from);
    ((drain.from.0 + to.0) / 2.0, (drain.from.1 + to.1) / 2.0)
}

/// Each kind of bar once.
fn kinds(bars: &[Bar]) -> Vec<DrainBar> {
    let kind = |bar: &Bar| match bar {
        Bar::Wall => DrainBar::Wall,
        Bar::Joist(_) => DrainBar::Joist,
        Bar::Trough(_) => DrainBar::Trough,
        Bar::Fall => DrainBar::Fall,
        Bar::Trap => DrainBar::Trap,
    };
    let mut all: Vec<DrainBar> = bars.iter().map(kind).collect();
    all.dedup();
    all
}

fn gravest(place: &DrainPlace) -> DrainBar {
    place.bars.first().copied().unwrap_or(DrainBar::Free)
}

/// What is known of a line drain's trough over joists: how much of it the floor at the drain holds above their tops.
fn trough(file: &RoomFile) -> Option<TroughView> {
    if file.plan.joists.is_empty() {
        return None;
    }
    let told = |standing, below| Some(TroughView { standing, below });
    let Some(trough) = file.works.fall.as_ref().and_then(|fall| fall.trough.as_ref()) else {
        return told(TroughStanding::NotTyped, None);
    };
    let Some(layers) = &file.layers else { return told(TroughStanding::NoLayers, None) };
    let held = at_drain(layers) + Figures::of(&file.rules).length(LengthId::Subfloor).to_mm();
    let below = Length::mm(trough.deep - held);
    let standing = if below.at_most(Length::ZERO) { TroughStanding::Held } else { TroughStanding::Sunk };
    told(standing, Some(below.to_mm()))
}

/// How wide a trough is that hangs between the joists.
fn sunk_trough(file: &RoomFile) -> Option<Length> {
    trough(file).filter(|view| view.standing == TroughStanding::Sunk)?;
    file.works.fall.as_ref()?.trough.as_ref().map(|trough| Length::mm(trough.wide))
}

fn site(file: &RoomFile, linear: bool) -> DrainSite {
    let figures = Figures::of(&file.rules);
    let plan = &file.plan;
    let fall = file.works.fall.as_ref();
    let trap = fall.and_then(|fall| Some((position(&fall.stack?), Length::mm(fall.trap_arm?))));
    DrainSite {
        corners: plan.outline.iter().map(position).collect(),
        joists: plan.joists.iter().map(|joist| Length::mm(joist.at)).collect(),
        joists_along_x: plan.joists_along == Axis::X,
        joist_thickness: figures.length(LengthId::JoistThickness),
        hole: figures.length(LengthId::DrainHole),
        clearance: figures.length(LengthId::DrainClearance),
        trough: sunk_trough(file).filter(|_| linear),
        falls: figures.falls(),
        trap,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(linear: bool, at: Option<(f64, f64)>) -> DrainView {
        drain(&crate::demo("rowan").expect("the demo room"), linear, at).expect("a window")
    }

    #[test]
    fn a_point_drain_meets_the_joist_where_it_is_and_the_fall_where_it_is_not() {
        let view = of(false, None);
        assert_eq!((view.at.bars.clone(), view.at.joists.clone()), (vec![DrainBar::Joist], vec!["J2".to_string()]));
        let beside = of(false, Some((762.0, 19.25 * INCH_MM))).at;
        assert_eq!(beside.bars, [DrainBar::Fall]);
        // 0.53 in/ft at the near wall of 16.75 in, the far corner at 1/4 in per ft.
        assert!(beside.steepest.is_some_and(|fall| (fall * 12.0 - 0.532).abs() < 1e-3), "{beside:?}");
        assert!(view.slide.is_some_and(|slide| (slide / INCH_MM - 1.25).abs() < 1e-9), "{:?}", view.slide);
        assert_eq!((view.free, view.nearest), (0.0, None), "nowhere keeps clear of the joist and falls");
    }

    #[test]
    fn a_linear_drain_only_has_to_clear_the_joists() {
        let view = of(true, Some((762.0, 10.0 * INCH_MM)));
        assert!(!view.at.bars.contains(&DrainBar::Joist), "{:?}", view.at);
        assert_eq!(view.bars.len() as u32 % view.columns, 0);
        assert!(view.bars.contains(&DrainBar::Joist));
    }

    #[test]
    fn a_linear_drain_runs_from_wall_to_wall_of_a_room_that_is_no_rectangle() {
        let mut file = crate::demo("rowan").expect("the demo room");
        let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 18.0), (40.0, 18.0), (40.0, 36.0), (0.0, 36.0)];
        file.plan.outline = corners.iter().map(|(x, y)| (x * INCH_MM, y * INCH_MM)).collect();
        let check = |x: f64, y: f64, ends: (f64, f64)| {
            let view = drain(&file, true, Some((x * INCH_MM, y * INCH_MM))).expect("a window");
            let (from, to) = view.line.expect("a line");
            let found = ((from.0 / INCH_MM).round(), (to.0 / INCH_MM).round());
            assert_eq!(found, ends, "at {x}, {y}");
        };
        check(20.0, 10.0, (0.0, 60.0));
        check(20.0, 30.0, (0.0, 40.0));
        check(20.0, 36.0, (0.0, 40.0));
        check(50.0, 0.0, (0.0, 60.0));
        // Outside there are no walls to run between.
        check(50.0, 30.0, (0.0, 60.0));
    }

    #[test]
    fn a_trough_is_looked_at_once_its_size_and_the_layers_are_known() {
        let mut file = crate::demo("rowan").expect("the demo room");
        let look = |file: &RoomFile| drain(file, true, Some((762.0, 10.0 * INCH_MM))).expect("a window");
        let standing = |view: &DrainView| view.trough.as_ref().map(|trough| trough.standing);
        assert_eq!(standing(&look(&file)), Some(TroughStanding::NotTyped));
        assert_eq!(of(false, None).trough, None, "a point drain has none");
        let put = |file: &mut RoomFile, deep: f64| {
            let trough = Some(Trough { wide: 12.0 * INCH_MM, deep: deep * INCH_MM });
            let plan = FallPlan {
                edge: EdgeShape::Even,
                origin: Origin::Centre,
                rise: None,
                flow: None,
                stack: None,
                trap_arm: None,
                trough,
            };
            file.works.fall = Some(plan);
        };
        // Finished 3/8 at the drain over 3/4 of subfloor: the floor holds 1-1/8.
        put(&mut file, 1.125);
        assert_eq!(standing(&look(&file)), Some(TroughStanding::Held));
        put(&mut file, 3.0);
        let sunk = look(&file);
        assert!(sunk.trough.as_ref().is_some_and(|it| it.below.is_some_and(|mm| (mm / INCH_MM - 1.875).abs() < 1e-9)));
        // From 4 to 16 in, it comes onto the joist at 16 in, whose side is at 15-1/4.
        assert!(
            sunk.at.bars.contains(&DrainBar::Trough) && sunk.at.joists.contains(&"J2".to_string()),
            "{:?}",
            sunk.at
        );
        file.layers = None;
        assert_eq!(standing(&look(&file)), Some(TroughStanding::NoLayers));
    }

    #[test]
    fn a_place_that_is_none_is_refused() {
        let file = crate::demo("rowan").expect("the demo room");
        assert!(drain(&file, false, Some((f64::NAN, 0.0))).is_err());
        assert_eq!(of(false, Some((-500.0, 0.0))).at.bars[0], DrainBar::Wall);
    }
}

//! Where water runs on a floor, where it stands, and where it leaves.

mod catchment;
mod descent;
mod falls;
pub(crate) mod flood;
mod flow_path;
mod no_drainage;
pub(crate) mod outlets;
pub(crate) mod ponds;

use crate::analysis::{Analysis, Problem, ProblemKind};
use crate::point::Point;
use crate::triangulation::Triangulation;
use crate::units::{Area, Length, Ratio, Slope, Volume};

pub use falls::{FacetFall, FallLimits, FallRule, FallVerdict};
use flood::{Flood, Network};
pub use flow_path::{FlowEnd, FlowPath, flow_paths};
pub use no_drainage::NoDrainage;
pub use outlets::Drain;
pub use ponds::Pond;

/// How a floor drains.
#[derive(Debug, Clone, PartialEq)]
pub struct Drainage {
    /// How high water must stand at each reading before it finds a way out; `None` off the surface or without a way.
    pub spill_level: Vec<Option<Length>>,
    /// Largest volume first.
    pub ponds: Vec<Pond>,
    /// At each reading, how far the lowest way out of it lies above it: the depth that could stand there, negative
    /// where water runs off. None at an outlet and where no way leads.
    pub standing: Vec<Option<Length>>,
    pub total_volume: Volume,
    pub total_area: Area,
    pub max_depth: Length,
    /// The fall of every facet, in the order of `triangles`.
    pub facets: Vec<FacetFall>,
    pub facet_slope_min: Slope,
    pub facet_slope_max: Slope,
    pub area_total: Area,
    pub area_below_minimum: Area,
    pub area_above_maximum: Area,
    /// The plan area whose water leaves over an open edge.
    pub escaping: Area,
    /// Its share of the whole.
    pub escaping_share: Ratio,
    /// The facets, over `points`.
    pub triangles: Vec<[usize; 3]>,
    /// The readings, then the vertices set in for the drain.
    pub points: Vec<Point>,
}

/// How a floor drains: spill levels, ponds, the fall of every facet, and the area that sheds over an open edge.
///
/// The surface is linear on each facet, so all of it is exact. The drain is set into the surface as vertices at the
/// surface's own height; its vertices and those of the open edges are where water leaves. The rest of the outer edge
/// is wall.
///
/// # Units
/// Heights positive upward, areas on the plan, volumes in litres inside, falls as rise over run.
///
/// # Uncertainty
/// None: the falls and ponds of the readings as they stand. See [`crate::pond_probability`] for what noise does.
///
/// # Problems reported
/// `no-way-to-drain` for readings on a part of the surface that touches no outlet.
///
/// # Errors
/// [`NoDrainage`] for a drain off the surface, open edges inside it, or falls square to a drain that is no line.
///
/// # Source
/// Spill levels by priority flood, ponds by clipping facets (definitions our own).
///
/// ```
/// use survey::Point;
/// use survey::drainage::{Drain, FallLimits, FallRule, drainage};
/// use survey::triangulation::triangulate;
/// use survey::units::Slope;
/// // A 2 mm birdbath in the middle of a level floor, the drain in a corner.
/// let grid = |i: u32| Point::mm(f64::from(i % 3) * 300.0, f64::from(i / 3) * 300.0, if i == 4 { -2.0 } else { 0.0 });
/// let floor = triangulate(&(0..9).map(grid).collect::<Vec<_>>(), &[]).unwrap().value;
/// let limits = FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path };
/// let drainage = drainage(&floor, &Drain::Vertices(vec![0]), &[], limits).unwrap().value;
/// assert_eq!((drainage.ponds.len(), drainage.max_depth.to_mm()), (1, 2.0));
/// // Six facets of 45,000 mm² under a third of 2 mm.
/// assert!((drainage.total_volume.to_litres() - 6.0 * 45_000.0 * 2.0 / 3.0 * 1e-6).abs() < 1e-12);
/// ```
pub fn drainage(
    surface: &Triangulation,
    drain: &Drain,
    open_edges: &[[usize; 2]],
    limits: FallLimits,
) -> Result<Analysis<Drainage>, NoDrainage> {
    if limits.minimum < Slope::ZERO || limits.maximum < limits.minimum {
        return Err(NoDrainage::FallLimits);
    }
    let floor = outlets::drained(surface, drain, open_edges)?;
    let line = match limits.rule {
        FallRule::Path => None,
        FallRule::SquareToDrain => Some(floor.line.ok_or(NoDrainage::RuleNeedsALine)?),
    };
    let network = Network::new(&floor.mesh);
    let mut flood = Flood::default();
    flood.run(&network, &floor.mesh.z, &floor.outlet_vertices());
    let ponds = ponds::ponds(&floor.mesh, &network, &flood);
    let facets = falls::falls(&floor.mesh, limits, line);
    let escaping = Area::mm2(catchment::escaping_area(&floor, &flood));
    let spill_level = spill_levels(surface, &flood);
    let problems = without_a_way(surface, &spill_level);
    let standing = standing(surface, &flood, &floor.mesh.z);
    Ok(Analysis { value: Drainage { standing, ..summed(floor, spill_level, ponds, facets, escaping) }, problems })
}

/// The way out of a vertex leads over the neighbour from which the flood came.
fn standing(surface: &Triangulation, flood: &Flood, z: &[f64]) -> Vec<Option<Length>> {
    let depth = |&place: &usize| {
        let toward = flood.toward.get(place).copied().filter(|&toward| toward != place)?;
        Some(Length::mm(flood.level.get(toward)? - z.get(place)?))
    };
    surface.stands_for.iter().map(depth).collect()
}

fn spill_levels(surface: &Triangulation, flood: &Flood) -> Vec<Option<Length>> {
    let level = |&place: &usize| flood.level.get(place).copied().filter(|level| level.is_finite()).map(Length::mm);
    surface.stands_for.iter().map(level).collect()
}

fn without_a_way(surface: &Triangulation, spill_level: &[Option<Length>]) -> Vec<Problem> {
    let cut_off = |&vertex: &usize| surface.mesh.is_corner(vertex) && spill_level[vertex].is_none();
    let problem = |vertex: usize| {
        let message = "This reading is on a part of the floor that no outlet touches.";
        Problem::at(ProblemKind::NoWayToDrain, vertex, message)
    };
    (0..spill_level.len()).filter(cut_off).map(problem).collect()
}

fn summed(
    floor: outlets::Drained,
    spill_level: Vec<Option<Length>>,
    ponds: Vec<Pond>,
    facets: Vec<FacetFall>,
    escaping: Area,
) -> Drainage {
    let area_where = |keep: fn(FallVerdict) -> bool| facets.iter().filter(|f| keep(f.verdict)).map(|f| f.area).sum();
    let area_total: Area = area_where(|_| true);
    let slopes = || facets.iter().map(|facet| facet.slope);
    let points = floor.mesh.xy.iter().zip(&floor.mesh.z).map(|(&[x, y], &z)| Point::mm(x, y, z)).collect();
    Drainage {
        total_volume: ponds.iter().map(|pond| pond.volume).sum(),
        total_area: ponds.iter().map(|pond| pond.area).sum(),
        max_depth: ponds.iter().map(|pond| pond.depth).fold(Length::ZERO, Length::max),
        facet_slope_min: slopes().reduce(Slope::min).unwrap_or_default(),
        facet_slope_max: slopes().reduce(Slope::max).unwrap_or_default(),
        area_below_minimum: area_where(|verdict| verdict == FallVerdict::Below),
        area_above_maximum: area_where(|verdict| verdict == FallVerdict::Above),
        escaping_share: Ratio::of(escaping.to_mm2() / area_total.to_mm2()),
        area_total,
        escaping,
        spill_level,
        ponds,
        standing: Vec::new(),
        facets,
        points,
        triangles: floor.mesh.triangles,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::PlanPosition;
    use crate::triangulation::{triangulate, with_triangles};
    use proptest::prelude::*;

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    fn limits(rule: FallRule) -> FallLimits {
        FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule }
    }

    fn grid(columns: usize, z: &[f64]) -> Vec<Point> {
        let place = |i: usize| ((i % columns) as f64 * 300.0, (i / columns) as f64 * 300.0);
        z.iter().enumerate().map(|(i, &z)| Point::mm(place(i).0, place(i).1, z)).collect()
    }

    fn drained_by(points: &[Point], drain: &Drain, rule: FallRule) -> Drainage {
        let surface = triangulate(points, &[]).expect("a grid").value;
        drainage(&surface, drain, &[], limits(rule)).expect("a drain").value
    }

    #[test]
    fn a_second_drain_takes_the_water_that_the_first_leaves_standing() {
        // A ridge of 6 between two low ends: beyond it water stands 6 deep, unless the far end has its own drain.
        let ridge: Vec<f64> = (0..12).map(|i| [0.0, 6.0, 6.0, 0.0][i % 4]).collect();
        let ends = |x: f64| Drain::Line(at(x, 0.0), at(x, 600.0));
        let ponds = |drain: Drain| drained_by(&grid(4, &ridge), &drain, FallRule::Path).ponds;
        let depths: Vec<f64> = ponds(ends(0.0)).iter().map(|pond| pond.depth.to_mm()).collect();
        assert_eq!(depths, [6.0]);
        assert_eq!(ponds(Drain::Several(vec![ends(0.0), ends(900.0)])).len(), 0);
        assert_eq!(
            ponds(Drain::Several(vec![Drain::Vertices(vec![0, 4, 8]), Drain::Vertices(vec![3, 7, 11])])).len(),
            0
        );
    }

    #[test]
    fn a_drain_set_in_leaves_the_surface_as_it_is() {
        let sloped: Vec<f64> = (0..12).map(|i| f64::from(i % 4) * 4.5 + f64::from(i / 4) * 3.0).collect();
        let check = |drain: Drain, facets: usize| {
            let found = drained_by(&grid(4, &sloped), &drain, FallRule::Path);
            assert_eq!(found.facets.len(), facets, "{drain:?}");
            assert!((found.area_total.to_mm2() - 540_000.0).abs() < 1e-6);
            let slope = (0.015_f64).hypot(0.01);
            assert!((found.facet_slope_min.to_ratio() - slope).abs() < 1e-12, "{drain:?}");
            assert!((found.facet_slope_max.to_ratio() - slope).abs() < 1e-12, "{drain:?}");
            let on_plane = |p: &Point| (p.z.to_mm() - 0.015 * p.x.to_mm() - 0.01 * p.y.to_mm()).abs() < 1e-9;
            assert!(found.points.iter().all(on_plane));
        };
        check(Drain::Vertices(vec![5]), 12);
        check(Drain::Point(at(300.0, 300.0)), 12);
        check(Drain::Point(at(200.0, 100.0)), 14);
        check(Drain::Point(at(450.0, 300.0)), 14);
        check(Drain::Point(at(0.0, 100.0)), 13);
        check(Drain::Line(at(0.0, 0.0), at(0.0, 600.0)), 12);
        // Across both rows at x = 450: six edges cut in two, the outer ones one triangle more each, the others two.
        check(Drain::Line(at(450.0, 0.0), at(450.0, 600.0)), 12 + 1 + 2 + 2 + 2 + 1);
        check(Drain::Line(at(100.0, 50.0), at(200.0, 50.0)), 12 + 2 + 2);
    }

    #[test]
    fn falls_square_to_the_line_have_a_sign() {
        // Up toward x at 1:60, down toward y at 1:300.
        let sloped: Vec<f64> = (0..12).map(|i| f64::from(i % 4) * 5.0 - f64::from(i / 4)).collect();
        let near = drained_by(&grid(4, &sloped), &Drain::Line(at(0.0, 0.0), at(0.0, 600.0)), FallRule::SquareToDrain);
        assert!((near.facet_slope_min.to_ratio() - 1.0 / 60.0).abs() < 1e-12);
        assert_eq!(near.area_below_minimum, Area::ZERO);
        let far = drained_by(&grid(4, &sloped), &Drain::Vertices(vec![3, 7, 11]), FallRule::SquareToDrain);
        assert!((far.facet_slope_max.to_ratio() + 1.0 / 60.0).abs() < 1e-12);
        assert_eq!(far.area_below_minimum, far.area_total);
        let middle =
            drained_by(&grid(4, &sloped), &Drain::Line(at(300.0, 0.0), at(300.0, 600.0)), FallRule::SquareToDrain);
        assert!((middle.facet_slope_min.to_ratio() + middle.facet_slope_max.to_ratio()).abs() < 1e-12);
    }

    #[test]
    fn a_fall_at_its_limit_is_between() {
        let quarter: Vec<f64> = (0..4).map(|i| f64::from(i % 2) * 300.0 / 48.0).collect();
        let surface = triangulate(&grid(2, &quarter), &[]).expect("a grid").value;
        let both = FallLimits { minimum: Slope::one_in(48.0), maximum: Slope::one_in(48.0), rule: FallRule::Path };
        let found = drainage(&surface, &Drain::Vertices(vec![0]), &[], both).expect("a drain").value;
        assert!(found.facets.iter().all(|facet| facet.verdict == FallVerdict::Between));
    }

    #[test]
    fn what_cannot_drain_is_refused_by_kind() {
        let surface = triangulate(&grid(3, &[0.0; 9]), &[]).expect("a grid").value;
        let check = |drain: Drain, open: &[[usize; 2]], rule: FallRule, expected: NoDrainage| {
            assert_eq!(drainage(&surface, &drain, open, limits(rule)).unwrap_err(), expected, "{drain:?}");
        };
        let path = FallRule::Path;
        check(Drain::Point(at(700.0, 0.0)), &[], path, NoDrainage::DrainOutside);
        check(Drain::Line(at(0.0, 0.0), at(0.0, 700.0)), &[], path, NoDrainage::DrainOutside);
        check(Drain::Line(at(0.0, 0.0), at(0.0, 0.0)), &[], path, NoDrainage::DrainTooShort);
        check(Drain::Vertices(vec![]), &[], path, NoDrainage::NoDrain);
        check(Drain::Vertices(vec![9]), &[], path, NoDrainage::NotOnSurface { vertex: 9 });
        check(Drain::Vertices(vec![0]), &[[2, 8], [4, 5]], path, NoDrainage::NotAnOuterEdge { open_edge: 1 });
        check(Drain::Vertices(vec![0]), &[[2, 6]], path, NoDrainage::NotAnOuterEdge { open_edge: 0 });
        check(Drain::Vertices(vec![0]), &[[2, 2]], path, NoDrainage::NotAnOuterEdge { open_edge: 0 });
        let square = FallRule::SquareToDrain;
        check(Drain::Point(at(300.0, 300.0)), &[], square, NoDrainage::RuleNeedsALine);
        check(Drain::Vertices(vec![0, 1, 4]), &[], square, NoDrainage::RuleNeedsALine);
    }

    #[test]
    fn a_part_that_touches_no_outlet_is_reported() {
        let points = grid(4, &[0.0, 0.0, 0.0, -1.0, 0.0, 0.0, 0.0, 0.0]);
        let apart = with_triangles(&points, &[[0, 1, 5], [0, 5, 4], [2, 3, 7]], &[]).expect("two parts").value;
        let found = drainage(&apart, &Drain::Vertices(vec![0]), &[], limits(FallRule::Path)).expect("a drain");
        let at: Vec<_> = found.problems.iter().filter_map(|problem| problem.at.as_deref()).collect();
        assert_eq!(at, ["2", "3", "7"]);
        assert_eq!((found.value.spill_level[3], found.value.spill_level[6]), (None, None));
        assert_eq!(found.value.ponds, []);
    }

    /// A room of random heights, in which ponds are common.
    fn heights() -> impl Strategy<Value = Vec<f64>> {
        prop::collection::vec(-5.0f64..5.0, 20)
    }

    proptest! {
        #[test]
        fn lifting_the_whole_floor_changes_nothing(z in heights(), lift in -1e4f64..1e4, drain in 0usize..20) {
            let drain = Drain::Vertices(vec![drain]);
            let low = drained_by(&grid(5, &z), &drain, FallRule::Path);
            let lifted: Vec<f64> = z.iter().map(|z| z + lift).collect();
            let high = drained_by(&grid(5, &lifted), &drain, FallRule::Path);
            prop_assert_eq!(low.ponds.len(), high.ponds.len());
            prop_assert!((low.total_volume.to_litres() - high.total_volume.to_litres()).abs() < 1e-9);
            prop_assert!((low.max_depth - high.max_depth).to_mm().abs() < 1e-9);
        }

        #[test]
        fn the_order_of_readings_changes_nothing(z in heights(), drain in 0usize..20, by in 0usize..20) {
            let points = grid(5, &z);
            let mut turned = points.clone();
            turned.rotate_left(by);
            let here = drained_by(&points, &Drain::Vertices(vec![drain]), FallRule::Path);
            let there = drained_by(&turned, &Drain::Vertices(vec![(drain + 20 - by) % 20]), FallRule::Path);
            for reading in 0..20 {
                prop_assert_eq!(here.spill_level[reading], there.spill_level[(reading + 20 - by) % 20]);
            }
            prop_assert!((here.total_volume.to_litres() - there.total_volume.to_litres()).abs() < 1e-12);
        }

        #[test]
        fn ponds_lie_under_their_level_and_above_the_floor(z in heights(), drain in 0usize..20) {
            let found = drained_by(&grid(5, &z), &Drain::Vertices(vec![drain]), FallRule::Path);
            for pond in &found.ponds {
                let depth = pond.depth.to_mm();
                prop_assert!(depth > 0.0 && pond.area.to_mm2() > 0.0);
                prop_assert!(pond.volume.to_litres() * 1e6 <= pond.area.to_mm2() * depth + 1e-9);
                prop_assert!(!pond.vertices.contains(&drain));
            }
        }

        #[test]
        fn nothing_panics(points in prop::collection::vec((-1e6f64..1e6, -1e6f64..1e6, prop::num::f64::ANY), 0..30),
                          at_x in prop::num::f64::ANY, open in prop::collection::vec((0usize..40, 0usize..40), 0..4)) {
            let points: Vec<Point> = points.into_iter().map(|(x, y, z)| Point::mm(x, y, z)).collect();
            if let Ok(surface) = triangulate(&points, &[]) {
                let open: Vec<[usize; 2]> = open.into_iter().map(|(i, j)| [i, j]).collect();
                let first = [points[0].x.to_mm(), points[0].y.to_mm()];
                for drain in [Drain::Vertices(vec![0]), Drain::Point(at(at_x, 0.0)), Drain::Line(at(first[0], first[1]), at(at_x, 0.0))] {
                    let _ = drainage(&surface.value, &drain, &[], limits(FallRule::SquareToDrain));
                    let _ = drainage(&surface.value, &drain, &open, limits(FallRule::Path));
                }
            }
        }
    }
}

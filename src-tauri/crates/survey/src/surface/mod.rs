//! The height of a floor where it was not read, and where to read next.

mod kriging;
mod place;
mod thin_plate;

pub use kriging::Waves;

use std::fmt;

use crate::analysis::{Analysis, Problem, ProblemKind};
use crate::normal;
use crate::point::{PlanPosition, Point};
use crate::same_place::same_place;
use crate::triangulation::{NoSurface, refuse_degenerate, triangulate};
use crate::units::{Length, Probability};
use place::Place;

/// More places than this are not solved for at once.
pub const MOST_PLACES: usize = 2_000;

/// What the floor is taken to do between its readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Between {
    /// Flat facets between the readings.
    Facets,
    /// The plate of least bending through the readings: for display, it has no uncertainty of its own.
    ThinPlate,
    /// An unknown plane with waves of an assumed height and length on it.
    Kriging(Waves),
}

/// The floor at the places asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Heights {
    /// `None` off the surface of the readings.
    pub mean: Vec<Option<Length>>,
    /// The standard deviation of the floor itself, without the noise of a reading; only from kriging.
    pub sd: Option<Vec<Length>>,
    /// The probability that the floor stands above the limit; only from kriging, with a limit.
    pub probability_above: Option<Vec<Probability>>,
    pub next_reading: Option<NextReading>,
    /// The facets over the readings, where the heights are theirs.
    pub triangles: Option<Vec<[usize; 3]>>,
}

/// Where another reading tells most, as indices of the places asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NextReading {
    /// Where the floor is known worst.
    pub largest_sd: usize,
    /// Where it is least decided whether the floor stands above the limit.
    pub most_undecided: Option<usize>,
}

/// Why there are no heights between the readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoHeights {
    /// The readings span no surface.
    Surface(NoSurface),
    /// More than [`MOST_PLACES`] places.
    TooManyPlaces,
    /// The waves have no height or no length, or the reading sd is negative.
    NoWaves,
    /// The readings lie too close together for waves this long: numbers run out.
    TooSmooth,
}

impl NoHeights {
    /// The name used on every wire: `out-of-range`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Surface(why) => why.name(),
            _ => "out-of-range",
        }
    }
}

impl fmt::Display for NoHeights {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Surface(why) => why.fmt(f),
            Self::TooManyPlaces => {
                write!(f, "at most {MOST_PLACES} places are solved for at once: take fewer, or facets")
            }
            Self::NoWaves => {
                f.write_str("waves need a height and a length above zero, and a reading sd of zero or more")
            }
            Self::TooSmooth => f.write_str("waves this long leave nothing between these readings: give a reading sd"),
        }
    }
}

impl std::error::Error for NoHeights {}

impl From<NoSurface> for NoHeights {
    fn from(why: NoSurface) -> Self {
        Self::Surface(why)
    }
}

/// The height of the floor at each place asked for, and with kriging how well it is known there.
///
/// # Units
/// Heights are lengths, positive upward.
///
/// # Uncertainty
/// Kriging gives the standard deviation of the floor itself under the waves assumed; they are an assumption, so is it.
/// Several readings at one place count as their mean with the noise of a mean, which is the same as keeping all.
///
/// # Problems reported
/// `duplicate-point` where readings within 0.001 mm differ; `outside-boundary` for a place off the facets.
///
/// # Errors
/// [`NoHeights`] when the readings span no surface, the waves are none, or there are too many places.
///
/// # Source
/// Universal kriging with a squared exponential covariance; thin plate spline r² ln r (textbook).
///
/// ```
/// use survey::surface::{Between, heights};
/// use survey::{PlanPosition, Point, units::Length};
/// let floor = [(0.0, 0.0), (900.0, 0.0), (0.0, 900.0)].map(|(x, y)| Point::mm(x, y, 0.01 * x));
/// let middle = PlanPosition { x: Length::mm(450.0), y: Length::mm(100.0) };
/// let found = heights(&floor, &[middle], Between::Facets, None).unwrap().value;
/// assert_eq!(found.mean, [Some(Length::mm(4.5))]);
/// ```
pub fn heights(
    points: &[Point],
    at: &[PlanPosition],
    between: Between,
    limit: Option<Length>,
) -> Result<Analysis<Heights>, NoHeights> {
    match between {
        Between::Facets => {
            let surface = triangulate(points, &[])?;
            let mean: Vec<Option<Length>> = at.iter().map(|&place| surface.value.height_at(place)).collect();
            let problems = surface.problems.into_iter().chain(off_the_surface(&mean)).collect();
            let triangles = Some(surface.value.triangles().to_vec());
            Ok(Analysis { value: Heights { triangles, ..bare(mean) }, problems })
        }
        Between::ThinPlate => {
            let (places, problems) = places(points)?;
            let mean = thin_plate::heights(&places, &plan(at)).ok_or(NoHeights::TooSmooth)?;
            Ok(Analysis { value: bare(mean.into_iter().map(|z| Some(Length::mm(z))).collect()), problems })
        }
        Between::Kriging(waves) => {
            let (places, problems) = places(points)?;
            if waves.height_sd <= Length::ZERO || waves.length <= Length::ZERO || waves.reading_sd < Length::ZERO {
                return Err(NoHeights::NoWaves);
            }
            let found = kriging::heights(&places, &plan(at), waves).ok_or(NoHeights::TooSmooth)?;
            Ok(Analysis { value: judged(found, limit), problems })
        }
    }
}

fn places(points: &[Point]) -> Result<(Vec<Place>, Vec<Problem>), NoHeights> {
    let xy = points.iter().map(|point| [point.x.to_mm(), point.y.to_mm()]).collect::<Vec<_>>();
    let z = points.iter().map(|point| point.z.to_mm()).collect::<Vec<_>>();
    let same = same_place(&xy, &z);
    let kept = (0..points.len()).filter(|&reading| same.stands_for[reading] == reading);
    let place = |reading: usize| Place { at: xy[reading], z: same.z[reading], readings: same.count[reading] as f64 };
    let places: Vec<Place> = kept.map(place).collect();
    refuse_degenerate(points.len(), &places.iter().map(|place| place.at).collect::<Vec<_>>())?;
    if places.len() > MOST_PLACES { Err(NoHeights::TooManyPlaces) } else { Ok((places, same.problems)) }
}

fn off_the_surface(mean: &[Option<Length>]) -> impl Iterator<Item = Problem> {
    let problem = |place: usize| {
        let message = "This place lies outside the readings: the floor there is not known.";
        Problem::at(ProblemKind::OutsideBoundary, place, message)
    };
    (0..mean.len()).filter(|&place| mean[place].is_none()).map(problem)
}

fn plan(at: &[PlanPosition]) -> Vec<[f64; 2]> {
    at.iter().map(|place| [place.x.to_mm(), place.y.to_mm()]).collect()
}

fn bare(mean: Vec<Option<Length>>) -> Heights {
    Heights { mean, sd: None, probability_above: None, next_reading: None, triangles: None }
}

fn judged(found: Vec<(f64, f64)>, limit: Option<Length>) -> Heights {
    let above = |limit: Length| found.iter().map(|&(mean, sd)| probability_above(mean, sd, limit)).collect::<Vec<_>>();
    let probability_above = limit.map(above);
    let undecided = |p: &Probability| -(p.to_f64() - 0.5).abs();
    let most_undecided = probability_above.as_ref().and_then(|all| first_largest(all.iter().map(undecided)));
    let largest_sd = first_largest(found.iter().map(|&(_, sd)| sd));
    Heights {
        mean: found.iter().map(|&(mean, _)| Some(Length::mm(mean))).collect(),
        sd: Some(found.iter().map(|&(_, sd)| Length::mm(sd)).collect()),
        probability_above,
        triangles: None,
        next_reading: largest_sd.map(|largest_sd| NextReading { largest_sd, most_undecided }),
    }
}

fn probability_above(mean: f64, sd: f64, limit: Length) -> Probability {
    if sd > 0.0 {
        Probability::of(normal::below((mean - limit.to_mm()) / sd))
    } else {
        Probability::of(if Length::mm(mean).at_most(limit) { 0.0 } else { 1.0 })
    }
}

/// The index of the first largest value.
fn first_largest(values: impl Iterator<Item = f64>) -> Option<usize> {
    let larger = |best: Option<(usize, f64)>, (index, value): (usize, f64)| match best {
        Some((_, most)) if value <= most => best,
        _ => Some((index, value)),
    };
    values.enumerate().fold(None, larger).map(|(index, _)| index)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const WAVES: Waves = Waves { height_sd: Length::ZERO, length: Length::ZERO, reading_sd: Length::ZERO };

    fn waves(height: f64, length: f64, sd: f64) -> Between {
        let mm = Length::mm;
        Between::Kriging(Waves { height_sd: mm(height), length: mm(length), reading_sd: mm(sd) })
    }

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    fn floor(z: &[f64]) -> Vec<Point> {
        let place = |i: usize| ((i % 4) as f64 * 300.0, (i / 4) as f64 * 300.0);
        z.iter().enumerate().map(|(i, &z)| Point::mm(place(i).0, place(i).1, z)).collect()
    }

    fn mean(found: &Heights) -> Vec<f64> {
        found.mean.iter().map(|z| z.map_or(f64::NAN, Length::to_mm)).collect()
    }

    #[test]
    fn what_gives_no_heights_is_refused() {
        let check = |points: &[Point], between: Between, expected: NoHeights| {
            assert_eq!(heights(points, &[at(0.0, 0.0)], between, None).unwrap_err(), expected, "{between:?}");
        };
        let row: Vec<Point> = (0..5).map(|i| Point::mm(f64::from(i), 0.0, 0.0)).collect();
        for between in [Between::Facets, Between::ThinPlate, waves(1.0, 300.0, 0.5)] {
            check(&row, between, NoHeights::Surface(NoSurface::CollinearPoints));
            check(&row[..2], between, NoHeights::Surface(NoSurface::TooFewPoints));
        }
        check(&floor(&[0.0; 12]), Between::Kriging(WAVES), NoHeights::NoWaves);
        check(&floor(&[0.0; 12]), waves(1.0, 300.0, -0.5), NoHeights::NoWaves);
        let many: Vec<Point> = (0..2_001).map(|i| Point::mm(f64::from(i % 50), f64::from(i / 50), 0.0)).collect();
        check(&many, Between::ThinPlate, NoHeights::TooManyPlaces);
    }

    #[test]
    fn kriging_by_the_normal_equations_of_another_hand() {
        // Expected values computed with numpy 2 by explicit inverses of the same covariance and trend.
        let points = [
            (0.0, 0.0, 1.0),
            (500.0, 100.0, -0.5),
            (900.0, 50.0, 2.0),
            (100.0, 600.0, 0.3),
            (450.0, 550.0, 1.2),
            (850.0, 700.0, -1.1),
            (300.0, 900.0, 0.8),
        ];
        let points = points.map(|(x, y, z)| Point::mm(x, y, z));
        let places = [at(200.0, 200.0), at(700.0, 400.0), at(1200.0, 0.0)];
        let found = heights(&points, &places, waves(1.5, 350.0, 0.4), Some(Length::mm(1.0))).expect("heights").value;
        let check = |found: &[f64], expected: [f64; 3]| {
            assert!(found.iter().zip(expected).all(|(found, expected)| (found - expected).abs() < 1e-9), "{found:?}");
        };
        check(&mean(&found), [0.025_489_358_921_078, 0.363_074_583_307_902, 2.390_185_894_508_667]);
        let sd: Vec<f64> = found.sd.iter().flatten().map(|sd| sd.to_mm()).collect();
        check(&sd, [0.700_793_911_256_610, 0.721_728_287_113_165, 1.496_565_211_652_372]);
        let above: Vec<f64> = found.probability_above.iter().flatten().map(|p| p.to_f64()).collect();
        check(&above, [0.082_176_272_900_871, 0.188_753_163_745_506, 0.823_534_126_908_603]);
        assert_eq!(found.next_reading, Some(NextReading { largest_sd: 2, most_undecided: Some(1) }));
    }

    #[test]
    fn repeated_readings_are_as_good_as_kept_apart() {
        // The same readings a hair over 0.001 mm apart are kept as two; the answer must not jump.
        let z: Vec<f64> = (0..12).map(|i| f64::from(i * i % 7)).collect();
        let (mut merged, mut apart) = (floor(&z), floor(&z));
        merged.push(Point::mm(300.0, 300.0, 5.5));
        apart.push(Point::mm(300.0011, 300.0, 5.5));
        let places = [at(300.0, 300.0), at(450.0, 200.0)];
        let found = |points: &[Point]| heights(points, &places, waves(2.0, 400.0, 0.5), None).expect("heights");
        let (merged, apart) = (found(&merged), found(&apart));
        assert_eq!(merged.problems.len(), 1);
        for (p, q) in mean(&merged.value).iter().zip(mean(&apart.value)) {
            assert!((p - q).abs() < 1e-4, "{p} {q}");
        }
        let sd = |of: &Heights| of.sd.as_ref().map(|sd| sd[0].to_mm()).unwrap_or_default();
        assert!((sd(&merged.value) - sd(&apart.value)).abs() < 1e-5);
    }

    #[test]
    fn the_next_reading_is_where_least_is_known() {
        let floor = floor(&[0.0; 12]);
        let places = [at(300.0, 300.0), at(450.0, 450.0), at(2000.0, 2000.0), at(3000.0, 3000.0)];
        let found = heights(&floor, &places, waves(2.0, 300.0, 0.1), Some(Length::mm(1.0))).expect("heights").value;
        assert_eq!(found.next_reading, Some(NextReading { largest_sd: 3, most_undecided: Some(3) }));
        let none = heights(&floor, &[], waves(2.0, 300.0, 0.1), None).expect("heights").value;
        assert_eq!(none.next_reading, None);
    }

    #[test]
    fn without_doubt_the_probability_is_a_step() {
        let check = |mean: f64, expected: f64| {
            assert_eq!(probability_above(mean, 0.0, Length::mm(3.0)), Probability::of(expected), "{mean}");
        };
        check(3.0, 0.0);
        check(3.1, 1.0);
        check(2.9, 0.0);
    }

    proptest! {
        #[test]
        fn readings_are_met_where_they_are_exact(z in prop::collection::vec(-5.0f64..5.0, 12)) {
            let places: Vec<PlanPosition> = (0..12).map(|i| at(f64::from(i % 4) * 300.0, f64::from(i / 4) * 300.0)).collect();
            for between in [Between::Facets, Between::ThinPlate, waves(3.0, 250.0, 0.0)] {
                let found = heights(&floor(&z), &places, between, None).expect("heights").value;
                for (found, z) in mean(&found).iter().zip(&z) {
                    prop_assert!((found - z).abs() < 1e-8, "{:?}: {} {}", between, found, z);
                }
            }
        }

        #[test]
        fn a_plane_added_is_a_plane_added(
            z in prop::collection::vec(-5.0f64..5.0, 12), sx in -0.05f64..0.05, sy in -0.05f64..0.05,
            x in 0.0f64..900.0, y in 0.0f64..600.0,
        ) {
            let tilted: Vec<f64> = z.iter().enumerate()
                .map(|(i, z)| z + 70.0 + sx * (i % 4) as f64 * 300.0 + sy * (i / 4) as f64 * 300.0).collect();
            for between in [Between::Facets, Between::ThinPlate, waves(3.0, 400.0, 0.5)] {
                let of = |z: &[f64]| heights(&floor(z), &[at(x, y)], between, None).expect("heights").value;
                let (level, tilted) = (of(&z), of(&tilted));
                let added = 70.0 + sx * x + sy * y;
                prop_assert!((mean(&tilted)[0] - mean(&level)[0] - added).abs() < 1e-8, "{:?}", between);
                prop_assert_eq!(level.sd.is_some(), matches!(between, Between::Kriging(_)));
            }
        }

        #[test]
        fn nothing_panics(points in prop::collection::vec((-1e3f64..1e3, prop::num::f64::ANY, prop::num::f64::ANY), 0..12),
                          x in prop::num::f64::ANY, h in prop::num::f64::ANY, l in prop::num::f64::ANY, s in 0.0f64..1.0) {
            let points: Vec<Point> = points.into_iter().map(|(x, y, z)| Point::mm(x, y, z)).collect();
            for between in [Between::Facets, Between::ThinPlate, waves(h, l, s), waves(1.0, 100.0, 0.0)] {
                let _ = heights(&points, &[at(x, 0.0), at(5.0, 5.0)], between, Some(Length::mm(1.0)));
            }
        }
    }
}

//! The straightedge along one line of readings.

mod decides;
mod end_supported;
mod judge;
mod line_point;
mod noise;
mod profile;
mod reach;
mod resting;
mod supported;

pub use decides::{Decides, decides};
pub use judge::{Judged, Tolerance, judge};
pub use line_point::LinePoint;
pub use noise::noise_alone;

use super::{Definition, Gap, StraightedgeError};
use crate::Analysis;
use crate::units::Length;
use profile::{Profile, profile};
use reach::{Reach, SAME};
use supported::Chord;

/// The largest gap a straightedge shows along a line, as a length, with its place.
///
/// The profile is straight between readings, which may come in any order. A line shorter than the bar is taken with a
/// bar of its own length, and says so.
///
/// # Units
/// Millimetres; places along the line on the input's own scale.
///
/// # Uncertainty
/// None stated: the largest of many noisy chords lies above the true one. [`judge()`] holds it against a limit.
///
/// # Problems reported
/// `duplicate-point` where one place was read at different heights; their mean is used.
///
/// # Errors
/// Fewer than two readings, all at one place, or a bar without length.
///
/// # Source
/// Resting on two high points with the gap taken between them: BS 8204 and DIN 18202 as described by a concrete
/// society's guidance (read, second hand); the exact search is ours.
///
/// ```
/// use survey::straightedge::{Definition, line};
/// use survey::units::Length;
///
/// // One hump of 1/8 in at 5 ft of a 10 ft line read at every foot: 0.100 in, under the bar from the hump to an end.
/// let floor: Vec<line::LinePoint> =
///     (0..=10).map(|ft| line::LinePoint::mm(f64::from(ft) * 304.8, if ft == 5 { 3.175 } else { 0.0 })).collect();
/// let shown = line::gap(&floor, Length::inches(120.0), Definition::Supported)?.value;
/// assert!((shown.gap.to_inches() - 0.100).abs() < 1e-12);
/// # Ok::<(), survey::straightedge::StraightedgeError>(())
/// ```
pub fn gap(points: &[LinePoint], length: Length, definition: Definition) -> Result<Analysis<Gap>, StraightedgeError> {
    let laid = Laid::on(points, length)?;
    let value = laid.gap(definition);
    Ok(Analysis { value, problems: laid.problems })
}

/// A bar over a profile.
struct Laid {
    profile: Profile,
    length: f64,
    problems: Vec<crate::Problem>,
}

impl Laid {
    fn on(points: &[LinePoint], length: Length) -> Result<Self, StraightedgeError> {
        if length.to_mm() <= 0.0 {
            return Err(StraightedgeError::ZeroLength);
        }
        let (profile, problems) = profile(points)?;
        Ok(Self { profile, length: length.to_mm(), problems })
    }

    fn reach(&self) -> Reach<'_> {
        Reach::new(&self.profile.s, self.length)
    }

    fn gap(&self, definition: Definition) -> Gap {
        let chord = largest(&self.reach(), &self.profile.z, definition);
        let along = |s: f64| Length::mm(self.profile.start + s);
        Gap {
            gap: Length::mm(chord.gap),
            from: along(chord.from),
            to: along(chord.to),
            lowest_at: along(chord.at),
            short: self.profile.total() < self.length - SAME,
        }
    }
}

fn largest(reach: &Reach<'_>, z: &[f64], definition: Definition) -> Chord {
    match definition {
        Definition::Supported => supported::supported(reach, z),
        Definition::Resting => resting::resting(reach, z),
        Definition::EndSupported => end_supported::end_supported(reach, z),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ALL: [Definition; 3] = [Definition::Supported, Definition::Resting, Definition::EndSupported];

    fn points(line: &[(f64, f64)]) -> Vec<LinePoint> {
        line.iter().map(|&(s, z)| LinePoint::mm(s, z)).collect()
    }

    fn shown(line: &[(f64, f64)], length: f64, definition: Definition) -> Gap {
        gap(&points(line), Length::mm(length), definition).expect("a line").value
    }

    fn height(line: &[(f64, f64)], s: f64) -> f64 {
        let right = line.partition_point(|point| point.0 < s).clamp(1, line.len() - 1);
        let (a, b) = (line[right - 1], line[right]);
        a.1 + (b.1 - a.1) * ((s - a.0) / (b.0 - a.0))
    }

    /// The definitions by brute force: bars at `steps` positions of each end, gaps over as many places. Resting needs an
    /// odd number, so that the centre itself is none of the places the bar may lie on.
    fn brute(line: &[(f64, f64)], length: f64, definition: Definition, steps: usize) -> f64 {
        let (start, end) = (line[0].0, line[line.len() - 1].0);
        let length = length.min(end - start);
        let places = |from: f64, to: f64| (0..=steps).map(move |i| from + (to - from) * i as f64 / steps as f64);
        let over = |a: f64, b: f64, from: f64, to: f64| {
            let (za, zb) = (height(line, a), height(line, b));
            let at = places(from, to).chain(line.iter().map(|point| point.0).filter(move |s| *s >= from && *s <= to));
            at.map(move |s| za + (zb - za) * (s - a) / (b - a) - height(line, s))
        };
        match definition {
            Definition::Supported => places(start, end)
                .flat_map(|a| places(a, (a + length).min(end)).filter(move |b| *b > a + 1e-9).map(move |b| (a, b)))
                .flat_map(|(a, b)| over(a, b, a, b))
                .fold(0.0, f64::max),
            Definition::EndSupported => places(start, end - length)
                .flat_map(|a| over(a, a + length, a, a + length))
                .fold(0.0, |most, gap| if gap.abs() > f64::abs(most) { -gap } else { most }),
            Definition::Resting => places(start, end - length)
                .filter_map(|a| {
                    let (b, centre) = (a + length, a + 0.5 * length);
                    let under =
                        || places(a, b).chain(line.iter().map(|point| point.0).filter(move |s| *s > a && *s < b));
                    let pairs = under()
                        .filter(|l| *l <= centre)
                        .flat_map(|l| under().filter(|r| *r > centre).map(move |r| (l, r)));
                    let at_centre = |&(l, r): &(f64, f64)| {
                        height(line, l) + (height(line, r) - height(line, l)) * (centre - l) / (r - l)
                    };
                    let edge = pairs.max_by(|one, other| at_centre(one).total_cmp(&at_centre(other)))?;
                    Some(over(edge.0, edge.1, a, b).fold(0.0, f64::max))
                })
                .fold(0.0, f64::max),
        }
    }

    #[test]
    fn the_fixtures_of_the_three_definitions() {
        // Inches; one hump or dip of 1/8 at 5 of 10 ft. Worked by hand.
        let line =
            |z: f64| -> Vec<(f64, f64)> { (0..=10).map(|ft| (f64::from(ft), if ft == 5 { z } else { 0.0 })).collect() };
        let check = |z: f64, definition, expected: f64, at: Option<f64>| {
            let found = shown(&line(z), 10.0, definition);
            assert!((found.gap.to_mm() - expected).abs() < 1e-12, "{z} {definition:?} {found:?}");
            assert!(!found.short);
            assert!(at.is_none_or(|at| (found.lowest_at.to_mm() - at).abs() < 1e-12), "{found:?}");
        };
        check(0.125, Definition::Supported, 0.100, None);
        check(0.125, Definition::EndSupported, 0.125, Some(5.0));
        check(0.125, Definition::Resting, 0.250, None);
        check(-0.125, Definition::Supported, 0.125, Some(5.0));
        check(-0.125, Definition::EndSupported, -0.125, Some(5.0));
        check(-0.125, Definition::Resting, 0.125, Some(5.0));
    }

    #[test]
    fn a_straight_line_shows_nothing_however_it_tilts() {
        let line: Vec<(f64, f64)> = (0..12).map(|i| (f64::from(i) * 300.0, 1000.0 + f64::from(i) * 6.25)).collect();
        for definition in ALL {
            for length in [450.0, 600.0, 3000.0, 9000.0] {
                assert!(shown(&line, length, definition).gap.to_mm().abs() < 1e-10, "{definition:?} {length}");
            }
        }
    }

    #[test]
    fn a_valley_wider_than_the_bar_is_deepest_amid_a_slide() {
        // Slopes −1/100 and +1/100 meet at 5000: a bar of 3000 centred on the corner shows 15, off the readings.
        let line = [(0.0, 50.0), (5000.0, 0.0), (10000.0, 50.0)];
        for definition in [Definition::Supported, Definition::Resting] {
            let found = shown(&line, 3000.0, definition);
            assert!((found.gap.to_mm() - 15.0).abs() < 1e-9, "{found:?}");
            assert!((found.from.to_mm() - 3500.0).abs() < 1e-6, "{found:?}");
        }
        assert!((shown(&line, 3000.0, Definition::EndSupported).gap.to_mm() + 15.0).abs() < 1e-9);
    }

    #[test]
    fn a_line_shorter_than_the_bar_says_so() {
        let line = [(0.0, 0.0), (500.0, -2.0), (1000.0, 0.0)];
        assert!(shown(&line, 1001.0, Definition::Supported).short);
        assert!(!shown(&line, 1000.0 + 0.9e-6, Definition::Supported).short);
        assert_eq!(shown(&line, 3000.0, Definition::Supported).gap, shown(&line, 1000.0, Definition::Supported).gap);
    }

    #[test]
    fn readings_in_any_order_and_twice_at_one_place() {
        let mixed = points(&[(1000.0, 0.0), (500.0, -3.0), (0.0, 0.0), (500.0005, -1.0)]);
        let found = gap(&mixed, Length::mm(2000.0), Definition::Supported).expect("a line");
        assert!((found.value.gap.to_mm() - 2.0).abs() < 1e-12);
        let said: Vec<_> = found.problems.iter().map(|problem| (problem.kind.name(), problem.at.as_deref())).collect();
        assert_eq!(said, [("duplicate-point", Some("3"))]);
    }

    #[test]
    fn what_cannot_be_laid_is_refused_by_kind() {
        let check = |line: &[(f64, f64)], length: f64, name: &str| {
            for definition in ALL {
                let refused = gap(&points(line), Length::mm(length), definition).expect_err("refused");
                assert_eq!(refused.name(), name);
            }
        };
        check(&[], 100.0, "too-few-points");
        check(&[(0.0, 0.0)], 100.0, "too-few-points");
        check(&[(5.0, 0.0), (5.0, 1.0), (5.0005, 2.0)], 100.0, "coincident-points");
        check(&[(0.0, 0.0), (5.0, 1.0)], 0.0, "zero-length");
        check(&[(0.0, 0.0), (5.0, 1.0)], -3.0, "zero-length");
    }

    fn profile() -> impl Strategy<Value = Vec<(f64, f64)>> {
        proptest::collection::vec((20.0..400.0f64, -4.0..4.0f64), 3..9).prop_map(|steps| {
            let mut s = 0.0;
            let place = |(step, z): (f64, f64)| {
                s += step;
                (s, z)
            };
            steps.into_iter().map(place).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn nothing_brute_force_finds_is_missed(line in profile(), length in 100.0..1500.0f64) {
            for (definition, steps) in [(Definition::Supported, 60), (Definition::Resting, 41), (Definition::EndSupported, 400)] {
                let (exact, brute) = (shown(&line, length, definition).gap.to_mm(), brute(&line, length, definition, steps));
                prop_assert!(exact.abs() >= brute.abs() - 1e-9, "{definition:?} {exact} {brute}");
            }
        }

        #[test]
        fn the_place_named_shows_the_gap_named(line in profile(), length in 100.0..1500.0f64) {
            for definition in ALL {
                let found = shown(&line, length, definition);
                let (a, b, at) = (found.from.to_mm(), found.to.to_mm(), found.lowest_at.to_mm());
                let chord = height(&line, a) + (height(&line, b) - height(&line, a)) * (at - a) / (b - a);
                let gap = chord - height(&line, at);
                let expected = if definition == Definition::EndSupported { -gap } else { gap };
                prop_assert!((found.gap.to_mm() - expected).abs() < 1e-8, "{definition:?} {found:?} {expected}");
                prop_assert!(b - a <= length + 1e-6 && b > a);
            }
        }

        #[test]
        fn tilt_shift_and_reflection_change_nothing(line in profile(), length in 100.0..1500.0f64, tilt in -0.05..0.05f64) {
            for definition in ALL {
                let before = shown(&line, length, definition).gap.to_mm();
                let tilted: Vec<_> = line.iter().map(|&(s, z)| (s + 5000.0, z + 800.0 + tilt * s)).collect();
                let turned: Vec<_> = line.iter().map(|&(s, z)| (-s, z)).collect();
                prop_assert!((shown(&tilted, length, definition).gap.to_mm() - before).abs() < 1e-8, "{definition:?}");
                prop_assert!((shown(&turned, length, definition).gap.to_mm() - before).abs() < 1e-8, "{definition:?}");
            }
        }

        #[test]
        fn a_longer_bar_shows_no_less(line in profile(), length in 100.0..1500.0f64) {
            let of = |length, definition| shown(&line, length, definition).gap.to_mm();
            prop_assert!(of(length * 1.2, Definition::Supported) >= of(length, Definition::Supported) - 1e-9);
        }

        #[test]
        fn nothing_panics(values in proptest::collection::vec(proptest::num::f64::ANY, 0..24), length in proptest::num::f64::ANY) {
            let line: Vec<_> = values.chunks_exact(2).map(|pair| LinePoint::mm(pair[0], pair[1])).collect();
            for definition in ALL {
                let _ = gap(&line, Length::mm(length), definition);
                let tolerance = Tolerance {
                    limit: Length::mm(3.0),
                    reading_sd: Length::mm(0.5),
                    bar_sd: Length::ZERO,
                    decision: Default::default(),
                };
                let _ = judge(&line, Length::mm(length), definition, tolerance);
            }
        }
    }
}

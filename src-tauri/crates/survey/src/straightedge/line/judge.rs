//! Whether the largest gap along a line keeps to a limit, by the rule for the largest of many.

use super::profile::Profile;
use super::reach::{Reach, SAME};
use super::supported::{Chord, slope, stationary};
use super::{Definition, Gap, Laid, LinePoint, StraightedgeError, end_supported, resting};
use crate::units::{Estimate, Length};
use crate::verdict::{Decision, Maximum, Verdict};
use crate::{Analysis, Problem, ProblemKind};

/// What the gap is held against, and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    pub limit: Length,
    /// Standard deviation of one reading.
    pub reading_sd: Length,
    /// Standard deviation of the straightedge itself, zero where the heights were read without one.
    pub bar_sd: Length,
    pub decision: Decision,
}

/// The gap along a line, and what is said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    pub gap: Gap,
    pub verdict: Verdict,
    pub decision: Decision,
    /// The readings that decide, or that are worth reading again first: indices into the input, rising.
    pub deciding: Vec<usize>,
}

/// Whether a straightedge along a line keeps to a limit: the gap, as a length, with its verdict.
///
/// *Within*: every candidate chord keeps to the limit with 1.645 of its uncertainties on top. *Out*: some chord between
/// readings exceeds it by more than the largest of all of them would by noise. *Not tested* where no three consecutive
/// readings lie within the bar. With simple acceptance the measured gap is compared with the limit.
///
/// With [`Definition::Resting`] *out* is judged on the chords between supports, whose true gaps it never undercuts;
/// with [`Definition::EndSupported`] on bars that have an end at a reading, and departures count both ways.
///
/// # Units
/// Millimetres.
///
/// # Uncertainty
/// Each chord is a weighted sum of readings: u² = σ²·Σw² + bar². The mean of several readings at one place counts as
/// such.
///
/// # Problems reported
/// `duplicate-point` as [`super::gap`]; `partly-tested` for each stretch as long as the bar with fewer than three
/// readings.
///
/// # Errors
/// As [`super::gap`]; a standard deviation below zero.
///
/// # Source
/// Union bound and intersection–union test (textbook); the choice of chords is ours, shown honest by simulation.
///
/// ```
/// use survey::straightedge::{Definition, line};
/// use survey::units::Length;
/// use survey::verdict::{Decision, Verdict};
///
/// let floor: Vec<line::LinePoint> =
///     (0..=10).map(|ft| line::LinePoint::mm(f64::from(ft) * 304.8, if ft == 5 { -6.0 } else { 0.0 })).collect();
/// let tolerance = line::Tolerance {
///     limit: Length::inches(0.125),
///     reading_sd: Length::mm(0.3),
///     bar_sd: Length::ZERO,
///     decision: Decision::Guarded,
/// };
/// let judged = line::judge(&floor, Length::inches(120.0), Definition::Supported, tolerance)?.value;
/// assert_eq!(judged.verdict, Verdict::Out);
/// assert!(judged.deciding.contains(&5));
/// # Ok::<(), survey::straightedge::StraightedgeError>(())
/// ```
pub fn judge(
    points: &[LinePoint],
    length: Length,
    definition: Definition,
    tolerance: Tolerance,
) -> Result<Analysis<Judged>, StraightedgeError> {
    if tolerance.reading_sd.to_mm() < 0.0 || tolerance.bar_sd.to_mm() < 0.0 {
        return Err(StraightedgeError::NoUncertainty);
    }
    let laid = Laid::on(points, length)?;
    let (reach, gap) = (laid.reach(), laid.gap(definition));
    let mut problems = laid.problems.clone();
    if !tested(&reach) {
        let judged = Judged { gap, verdict: Verdict::NotTested, decision: tolerance.decision, deciding: Vec::new() };
        return Ok(Analysis { value: judged, problems });
    }
    problems.extend(untested_stretches(&laid.profile, &reach));
    let all = Weighed { profile: &laid.profile, tolerance }.all(&reach, definition);
    let verdict = match tolerance.decision {
        Decision::Guarded => all.verdict(),
        Decision::Simple if gap.gap.abs().at_most(tolerance.limit) => Verdict::Within,
        Decision::Simple => Verdict::Out,
    };
    let deciding = all.deciding().map_or_else(Vec::new, |chord| deciding(&laid.profile, chord));
    Ok(Analysis { value: Judged { gap, verdict, decision: tolerance.decision, deciding }, problems })
}

/// Whether some three consecutive readings lie within the bar.
fn tested(reach: &Reach<'_>) -> bool {
    (2..reach.s.len()).any(|last| reach.spans(last - 2, last))
}

/// One problem for each stretch in which a bar with an end at a reading covers fewer than three.
fn untested_stretches(profile: &Profile, reach: &Reach<'_>) -> Vec<Problem> {
    let (s, length, total) = (reach.s, reach.length, profile.total());
    let sparse = |from: f64| {
        let covered = s.iter().filter(|place| **place >= from - SAME && **place <= from + length + SAME).count();
        (from > -SAME && from + length < total + SAME && covered < 3).then_some((from.max(0.0), from + length))
    };
    let mut all: Vec<(f64, f64)> =
        s.iter().flat_map(|place| [sparse(*place), sparse(place - length)]).flatten().collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for stretch in all {
        match joined.last_mut() {
            Some(last) if stretch.0 <= last.1 + SAME => last.1 = last.1.max(stretch.1),
            _ => joined.push(stretch),
        }
    }
    joined.into_iter().map(|(from, to)| partly_tested(profile.start + from, profile.start + to)).collect()
}

fn partly_tested(from: f64, to: f64) -> Problem {
    let message = format!("From {from:.0} to {to:.0} mm along the line the readings lie too far apart for this bar.");
    Problem::at(ProblemKind::PartlyTested, format!("{from:.0} to {to:.0}"), message)
}

/// Chords with the uncertainty the readings give them.
struct Weighed<'p> {
    profile: &'p Profile,
    tolerance: Tolerance,
}

type Chords = Maximum<Length, Chord>;

impl Weighed<'_> {
    fn all(&self, reach: &Reach<'_>, definition: Definition) -> Chords {
        let mut all = Maximum::against(self.tolerance.limit);
        match definition {
            Definition::Supported => self.supported(reach, &mut all),
            Definition::Resting => self.resting(reach, &mut all),
            Definition::EndSupported => self.end_supported(reach, &mut all),
        }
        all
    }

    fn supported(&self, reach: &Reach<'_>, all: &mut Chords) {
        let (s, z) = (&self.profile.s, &self.profile.z);
        self.triples(reach, all);
        end_supported::departures(reach, z, |chord| self.candidate(turned(chord), all));
        for slide in reach.slides.iter().filter(|slide| slope(s, z, slide.near) < slope(s, z, slide.far)) {
            stationary(reach, z, slide, |chord| self.candidate(chord, all));
        }
    }

    fn resting(&self, reach: &Reach<'_>, all: &mut Chords) {
        self.triples(reach, all);
        resting::rests(reach, &self.profile.z, |chord| self.candidate(chord, all));
    }

    fn end_supported(&self, reach: &Reach<'_>, all: &mut Chords) {
        let z = &self.profile.z;
        end_supported::departures(reach, z, |chord| {
            let u = self.u(&chord);
            for chord in [chord, turned(chord)] {
                all.judged_with(Estimate::new(Length::mm(chord.gap), u), || chord);
            }
        });
        for slide in &reach.slides {
            stationary(reach, z, slide, |chord| self.candidate(Chord { gap: chord.gap.abs(), ..chord }, all));
        }
    }

    /// Every two readings the bar can rest on, and every reading between them.
    fn triples(&self, reach: &Reach<'_>, all: &mut Chords) {
        let (s, z) = (&self.profile.s, &self.profile.z);
        let share: Vec<f64> = self.profile.readings.iter().map(|readings| 1.0 / readings.len() as f64).collect();
        let (sd2, bar2) = (self.tolerance.reading_sd.to_mm().powi(2), self.tolerance.bar_sd.to_mm().powi(2));
        for a in 0..s.len() {
            for b in (a + 2..s.len()).take_while(|&b| reach.spans(a, b)) {
                let run = 1.0 / (s[b] - s[a]);
                for k in a + 1..b {
                    let t = (s[k] - s[a]) * run;
                    let gap = z[a] + (z[b] - z[a]) * t - z[k];
                    let squares = (1.0 - t) * (1.0 - t) * share[a] + t * t * share[b] + share[k];
                    let value = Estimate::new(Length::mm(gap), Length::mm((sd2 * squares + bar2).sqrt()));
                    all.judged_with(value, || Chord { gap, from: s[a], to: s[b], at: s[k] });
                }
            }
        }
    }

    fn candidate(&self, chord: Chord, all: &mut Chords) {
        all.candidate_with(Estimate::new(Length::mm(chord.gap), self.u(&chord)), || chord);
    }

    fn u(&self, chord: &Chord) -> Length {
        let share = |(place, weight): &(usize, f64)| weight * weight / self.profile.readings[*place].len() as f64;
        let squares: f64 = weights(self.profile, chord).iter().map(share).sum();
        let (sd, bar) = (self.tolerance.reading_sd.to_mm(), self.tolerance.bar_sd.to_mm());
        Length::mm((sd * sd * squares + bar * bar).sqrt())
    }
}

fn turned(chord: Chord) -> Chord {
    Chord { gap: -chord.gap, ..chord }
}

/// The weight of each place in the gap a chord leaves: its two ends' heights carried to `at`, less the height there.
fn weights(profile: &Profile, chord: &Chord) -> [(usize, f64); 6] {
    let t = (chord.at - chord.from) / (chord.to - chord.from);
    let mut all = [(0, 0.0); 6];
    let mut used = 0;
    for (s, factor) in [(chord.from, 1.0 - t), (chord.to, t), (chord.at, -1.0)] {
        for (place, share) in profile.shares(s) {
            match all[..used].iter_mut().find(|(other, _)| *other == place) {
                Some((_, weight)) => *weight += factor * share,
                None => {
                    all[used] = (place, factor * share);
                    used += 1;
                }
            }
        }
    }
    all
}

/// The input indices of the readings with weight in a chord.
fn deciding(profile: &Profile, chord: &Chord) -> Vec<usize> {
    let heavy = weights(profile, chord).into_iter().filter(|(_, weight)| weight.abs() > 1e-9);
    let mut all: Vec<usize> = heavy.flat_map(|(place, _)| profile.readings[place].iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

#[cfg(test)]
mod tests {
    use super::super::profile::profile;
    use super::*;

    fn tolerance(limit: f64, sd: f64) -> Tolerance {
        let (limit, reading_sd) = (Length::mm(limit), Length::mm(sd));
        Tolerance { limit, reading_sd, bar_sd: Length::ZERO, decision: Decision::Guarded }
    }

    fn said(line: &[(f64, f64)], length: f64, tolerance: Tolerance) -> Analysis<Judged> {
        let points: Vec<LinePoint> = line.iter().map(|&(s, z)| LinePoint::mm(s, z)).collect();
        judge(&points, Length::mm(length), Definition::Supported, tolerance).expect("a line")
    }

    fn every(spacing: f64, heights: &[f64]) -> Vec<(f64, f64)> {
        heights.iter().enumerate().map(|(i, &z)| (i as f64 * spacing, z)).collect()
    }

    #[test]
    fn one_dip_is_within_out_or_too_close() {
        // Three readings: one triple, weights ½ ½ −1, u = σ√1.5 = 0.612 mm.
        let check = |dip: f64, verdict: Verdict| {
            let judged = said(&every(300.0, &[0.0, -dip, 0.0]), 600.0, tolerance(3.0, 0.5)).value;
            assert_eq!((judged.verdict, judged.deciding), (verdict, vec![0, 1, 2]), "{dip}");
        };
        let u = 0.5 * 1.5f64.sqrt();
        check(3.0 - 1.65 * u, Verdict::Within);
        check(3.0 - 1.64 * u, Verdict::TooCloseToCall);
        check(3.0 + 1.64 * u, Verdict::TooCloseToCall);
        check(3.0 + 1.65 * u, Verdict::Out);
    }

    #[test]
    fn the_bar_and_repeat_readings_count_in_the_uncertainty() {
        let line = every(300.0, &[0.0, -2.2, 0.0]);
        let bar = Tolerance { bar_sd: Length::mm(1.0), ..tolerance(3.0, 0.3) };
        assert_eq!(said(&line, 600.0, tolerance(3.0, 0.3)).value.verdict, Verdict::Within);
        assert_eq!(said(&line, 600.0, bar).value.verdict, Verdict::TooCloseToCall);
        let thrice: Vec<(f64, f64)> = line.iter().flat_map(|&point| [point; 3]).collect();
        assert_eq!(said(&line, 600.0, tolerance(3.0, 0.6)).value.verdict, Verdict::TooCloseToCall);
        let judged = said(&thrice, 600.0, tolerance(3.0, 0.6));
        assert_eq!((judged.value.verdict, judged.problems), (Verdict::Within, vec![]));
        assert_eq!(judged.value.deciding, (0..9).collect::<Vec<_>>());
    }

    #[test]
    fn readings_too_far_apart_are_not_tested_or_only_in_part() {
        let feet = |all: &[f64]| -> Vec<(f64, f64)> { all.iter().map(|ft| (ft * 304.8, 0.0)).collect() };
        let bar = 2.0 * 304.8;
        let sparse = said(&feet(&[0.0, 2.5, 5.0, 7.5]), bar, tolerance(1.5, 0.3));
        assert_eq!((sparse.value.verdict, sparse.problems.len()), (Verdict::NotTested, 0));
        let even = said(&feet(&[0.0, 1.0, 2.0, 3.0, 4.0]), bar, tolerance(1.5, 0.3));
        assert_eq!((even.value.verdict, even.problems.len()), (Verdict::Within, 0));
        let part = said(&feet(&[0.0, 1.0, 2.0, 3.0, 4.0, 6.5, 9.0]), bar, tolerance(1.5, 0.3));
        assert_eq!(part.value.verdict, Verdict::Within);
        let problems: Vec<_> = part.problems.iter().map(|p| (p.kind.name(), p.at.as_deref())).collect();
        assert_eq!(problems, [("partly-tested", Some("914 to 2743"))]);
        let two = said(&feet(&[0.0, 1.0]), bar, tolerance(1.5, 0.3));
        assert_eq!(two.value.verdict, Verdict::NotTested);
    }

    #[test]
    fn the_readings_that_decide_are_named_by_their_place_in_the_input() {
        let line = [(900.0, 0.0), (0.0, 0.0), (300.0, 0.0), (600.0, -9.0), (1200.0, 0.0)];
        let judged = said(&line, 600.0, tolerance(3.0, 0.3)).value;
        assert_eq!((judged.verdict, judged.deciding), (Verdict::Out, vec![0, 2, 3]));
    }

    #[test]
    fn simple_acceptance_compares_the_gap_itself() {
        let simple = Tolerance { decision: Decision::Simple, ..tolerance(3.0, 5.0) };
        assert_eq!(said(&every(300.0, &[0.0, -3.0, 0.0]), 600.0, simple).value.verdict, Verdict::Within);
        assert_eq!(said(&every(300.0, &[0.0, -3.1, 0.0]), 600.0, simple).value.verdict, Verdict::Out);
    }

    #[test]
    fn a_hump_is_judged_by_each_definition() {
        // A hump of 4 at the middle: 3.2 supported (from it to an end), 4 above its ends, 8 at a rocking end.
        let line = every(300.0, &[0.0, 0.0, 0.0, 0.0, 0.0, 4.0, 0.0, 0.0, 0.0, 0.0, 0.0]);
        let points: Vec<LinePoint> = line.iter().map(|&(s, z)| LinePoint::mm(s, z)).collect();
        let check = |definition, limit, verdict| {
            let judged = judge(&points, Length::mm(3000.0), definition, tolerance(limit, 0.1)).expect("a line").value;
            assert_eq!(judged.verdict, verdict, "{definition:?} {limit}");
        };
        check(Definition::Supported, 3.6, Verdict::Within);
        check(Definition::Supported, 2.5, Verdict::Out);
        check(Definition::EndSupported, 4.5, Verdict::Within);
        check(Definition::EndSupported, 3.3, Verdict::Out);
        check(Definition::Resting, 3.6, Verdict::TooCloseToCall);
        check(Definition::Resting, 9.0, Verdict::Within);
    }

    #[test]
    fn the_weights_are_the_derivatives_of_the_gap() {
        let line: Vec<LinePoint> = [0.0, 130.0, 420.0, 700.0, 990.0].iter().map(|&s| LinePoint::mm(s, 0.0)).collect();
        let (profile, _) = profile(&line).expect("a line");
        let chords = [(40.0, 640.0, 420.0), (130.0, 700.0, 420.0), (200.0, 600.0, 420.0), (0.0, 990.0, 130.0)];
        for (from, to, at) in chords {
            let gap = |z: &[f64]| {
                let height = |s: f64| -> f64 { profile.shares(s).iter().map(|&(place, share)| z[place] * share).sum() };
                height(from) + (height(to) - height(from)) * (at - from) / (to - from) - height(at)
            };
            let weights = weights(&profile, &Chord { gap: 0.0, from, to, at });
            for place in 0..5 {
                let mut z = [0.0; 5];
                z[place] = 1.0;
                let weight: f64 = weights.iter().filter(|(other, _)| *other == place).map(|(_, weight)| weight).sum();
                assert!((weight - gap(&z)).abs() < 1e-12, "{from} {to} {at} {place}");
            }
        }
    }

    #[test]
    fn a_negative_uncertainty_is_refused() {
        let points = [LinePoint::mm(0.0, 0.0), LinePoint::mm(1.0, 0.0)];
        let refused = judge(&points, Length::mm(1.0), Definition::Supported, tolerance(3.0, -0.1));
        assert_eq!(refused.expect_err("refused").name(), "no-uncertainty");
    }
}

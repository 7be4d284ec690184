//! Several set-ups of the level adjusted together.

mod adjust;
mod links;
mod observed;

pub use adjust::MOST_SETUPS;
pub use observed::{Fixed, Sight};

use std::collections::BTreeMap;
use std::fmt;

use statrs::distribution::{ChiSquared, ContinuousCDF};

use crate::analysis::{Analysis, Problem, ProblemKind};
use crate::normal;
use crate::units::{Estimate, Length, Probability, Ratio};
use adjust::{Adjusted, Row, Unknown};

/// The adjusted heights and what the readings say of one another.
#[derive(Debug, Clone)]
pub struct LevelNet {
    pub heights: BTreeMap<String, Estimate<Length>>,
    /// The height of the line of each set-up.
    pub setups: BTreeMap<String, Length>,
    /// Σ (residual/σ)² over readings and observed heights.
    pub vtpv: Ratio,
    pub dof: usize,
    /// The probability of so large a sum if every σ is true; `None` without redundancy.
    pub p_global: Option<Probability>,
    /// The sight whose residual is largest beside its own standard deviation, counted from 0, and that ratio.
    pub largest_w: Option<(usize, Ratio)>,
    pub critical: Ratio,
    pub blunder_suspected: bool,
    adjusted: Adjusted,
    held: BTreeMap<String, Length>,
}

/// Why set-ups cannot be adjusted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoNet {
    /// There are no sights.
    NoSights,
    /// Nothing ties this set-up to a known height.
    NotTied { setup: String },
    /// The standard deviation of this sight is not above zero.
    SightSd { sight: usize },
    /// The standard deviation of this known height is below zero.
    FixedSd { point: String },
    /// The significance does not lie between 0 and 1.
    Significance,
    /// More than [`MOST_SETUPS`] set-ups on more than as many points.
    TooLarge,
}

impl NoNet {
    /// The name used on every wire: `datum-or-link-missing`.
    pub fn name(&self) -> &'static str {
        match self {
            Self::NoSights => "too-few-points",
            Self::NotTied { .. } => "datum-or-link-missing",
            _ => "out-of-range",
        }
    }
}

impl fmt::Display for NoNet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSights => f.write_str("there are no readings to adjust"),
            Self::NotTied { setup } => {
                write!(f, "nothing ties set-up {setup} to a known height: read a point another set-up has read, too")
            }
            Self::SightSd { sight } => write!(f, "the standard deviation of reading {sight} must be above zero"),
            Self::FixedSd { point } => write!(f, "the standard deviation of {point} must be zero or more"),
            Self::Significance => f.write_str("the significance must lie between 0 and 1"),
            Self::TooLarge => write!(f, "more than {MOST_SETUPS} set-ups on as many points are not adjusted together"),
        }
    }
}

impl std::error::Error for NoNet {}

/// The heights of all points and set-up lines that fit all readings best, up positive.
///
/// A reading is the height of its set-up's line less that of its point. Known heights with a standard deviation are
/// adjusted with the rest; those without are held.
///
/// # Units
/// Heights and readings are lengths.
///
/// # Uncertainty
/// Standard uncertainties from the stated standard deviations, not scaled by how well the readings fit: the global
/// test says whether they may be believed. That of a difference is [`LevelNet::difference`], never the root of the sum
/// of squares of two heights.
///
/// # Problems reported
/// `no-redundancy` where nothing checks the readings.
///
/// # Errors
/// [`NoNet::NotTied`] names a set-up that no chain of common points ties to a known height.
///
/// # Source
/// Weighted least squares by orthogonal elimination; the largest normalised residual as in data snooping (Baarda
/// 1968; recalled, not read).
///
/// ```
/// use std::collections::BTreeMap;
/// use survey::level_net::{Fixed, Sight, level_net};
/// use survey::units::{Length, Probability};
/// let mm = Length::mm;
/// let sight = |setup: &str, point: &str, reading: f64| Sight {
///     setup: setup.into(), point: point.into(), reading: mm(reading), sd: mm(1.0),
/// };
/// let sights = [sight("A", "door", 1100.0), sight("A", "tap", 1090.0), sight("B", "tap", 1190.0), sight("B", "sill", 1150.0)];
/// let datum = BTreeMap::from([("door".to_string(), Fixed { height: Length::ZERO, sd: Length::ZERO })]);
/// let net = level_net(&sights, &datum, Probability::of(0.001)).unwrap().value;
/// assert!((net.heights["sill"].value.to_mm() - 50.0).abs() < 1e-9);
/// assert!((net.heights["sill"].u.to_mm() - 2.0).abs() < 1e-9, "four readings of 1 mm each");
/// ```
pub fn level_net(
    sights: &[Sight],
    fixed: &BTreeMap<String, Fixed>,
    significance: Probability,
) -> Result<Analysis<LevelNet>, NoNet> {
    refuse(sights, fixed, significance)?;
    let datum = fixed.values().next().map_or(0.0, |fixed| fixed.height.to_mm());
    let rows = rows(sights, fixed, datum);
    let adjusted = Adjusted::new(&rows).ok_or(NoNet::TooLarge)?;
    let dof = rows.len().saturating_sub(adjusted.unknowns());
    let vtpv: f64 = rows.iter().map(|row| (adjusted.residual(row) / row.sd).powi(2)).sum();
    let critical = -normal::quantile(significance.to_f64() / 2.0);
    let largest_w = (dof > 0).then(|| largest_w(&adjusted, &rows[..sights.len()])).flatten();
    let survival = |sum: f64| ChiSquared::new(dof as f64).ok().map(|law| Probability::of(law.sf(sum)));
    let net = LevelNet {
        heights: heights(&adjusted, sights, fixed, datum),
        setups: setups(&adjusted, sights, datum),
        vtpv: Ratio::of(vtpv),
        dof,
        p_global: survival(vtpv),
        largest_w: largest_w.map(|(sight, w)| (sight, Ratio::of(w))),
        critical: Ratio::of(critical),
        blunder_suspected: largest_w.is_some_and(|(_, w)| w.abs() > critical),
        held: fixed.iter().filter(|(_, fixed)| is_held(fixed)).map(|(id, fixed)| (id.clone(), fixed.height)).collect(),
        adjusted,
    };
    let problems = if dof == 0 { vec![no_redundancy()] } else { Vec::new() };
    Ok(Analysis { value: net, problems })
}

impl LevelNet {
    /// How much higher the second point stands than the first, with the uncertainty of that difference.
    ///
    /// `None` where one of them is no point of the net.
    pub fn difference(&self, from: &str, to: &str) -> Option<Estimate<Length>> {
        let (low, high) = (self.heights.get(from)?, self.heights.get(to)?);
        let unknown = |id: &str| (!self.held.contains_key(id)).then(|| Unknown::Point(id.to_string()));
        let u = match (unknown(from), unknown(to)) {
            (Some(p), Some(q)) => {
                let [pp, qq] = [(&p, &p), (&q, &q)].map(|(i, j)| self.adjusted.covariance(i, j));
                (pp + qq - 2.0 * self.adjusted.covariance(&p, &q)).max(0.0).sqrt()
            }
            _ => low.u.to_mm().hypot(high.u.to_mm()),
        };
        Some(Estimate::new(high.value - low.value, Length::mm(u)))
    }
}

fn refuse(sights: &[Sight], fixed: &BTreeMap<String, Fixed>, significance: Probability) -> Result<(), NoNet> {
    if sights.is_empty() {
        return Err(NoNet::NoSights);
    }
    if !(significance.to_f64() > 0.0 && significance.to_f64() < 1.0) {
        return Err(NoNet::Significance);
    }
    if let Some(sight) = sights.iter().position(|sight| sight.sd <= Length::ZERO) {
        return Err(NoNet::SightSd { sight });
    }
    if let Some((point, _)) = fixed.iter().find(|(_, fixed)| fixed.sd < Length::ZERO) {
        return Err(NoNet::FixedSd { point: point.clone() });
    }
    match links::not_tied(sights, fixed) {
        Some(setup) => Err(NoNet::NotTied { setup: setup.to_string() }),
        None => Ok(()),
    }
}

fn is_held(fixed: &Fixed) -> bool {
    fixed.sd == Length::ZERO
}

/// One row for every sight, then one for every known height that is not held.
fn rows(sights: &[Sight], fixed: &BTreeMap<String, Fixed>, datum: f64) -> Vec<Row> {
    let sight = |sight: &Sight| {
        let held = fixed.get(&sight.point).filter(|fixed| is_held(fixed)).map(|fixed| fixed.height.to_mm() - datum);
        let point = held.is_none().then(|| Unknown::Point(sight.point.clone()));
        let value = sight.reading.to_mm() + held.unwrap_or(0.0);
        Row { plus: Unknown::Setup(sight.setup.clone()), minus: point, value, sd: sight.sd.to_mm() }
    };
    let known = |(id, fixed): (&String, &Fixed)| {
        let value = fixed.height.to_mm() - datum;
        Row { plus: Unknown::Point(id.clone()), minus: None, value, sd: fixed.sd.to_mm() }
    };
    let observed = fixed.iter().filter(|(_, fixed)| !is_held(fixed));
    sights.iter().map(sight).chain(observed.map(known)).collect()
}

/// The first sight whose normalised residual is largest; equal but for rounding is equal.
fn largest_w(adjusted: &Adjusted, sights: &[Row]) -> Option<(usize, f64)> {
    let w = |row: &Row| {
        let redundancy = 1.0 - adjusted.variance(row) / row.sd.powi(2);
        if redundancy < 1e-9 { 0.0 } else { adjusted.residual(row) / (row.sd * redundancy.sqrt()) }
    };
    let larger = |best: Option<(usize, f64)>, (sight, w): (usize, f64)| match best {
        Some((_, most)) if w.abs() <= most.abs() * (1.0 + 1e-9) => best,
        _ => Some((sight, w)),
    };
    sights.iter().map(w).enumerate().fold(None, larger)
}

fn heights(
    adjusted: &Adjusted,
    sights: &[Sight],
    fixed: &BTreeMap<String, Fixed>,
    datum: f64,
) -> BTreeMap<String, Estimate<Length>> {
    let estimate = |id: &String| match fixed.get(id).filter(|fixed| is_held(fixed)) {
        Some(fixed) => (id.clone(), Estimate::new(fixed.height, Length::ZERO)),
        None => {
            let point = Unknown::Point(id.clone());
            let u = adjusted.covariance(&point, &point).max(0.0).sqrt();
            (id.clone(), Estimate::new(Length::mm(adjusted.value(&point) + datum), Length::mm(u)))
        }
    };
    sights.iter().map(|sight| &sight.point).chain(fixed.keys()).map(estimate).collect()
}

fn setups(adjusted: &Adjusted, sights: &[Sight], datum: f64) -> BTreeMap<String, Length> {
    let line = |sight: &Sight| {
        let setup = Unknown::Setup(sight.setup.clone());
        (sight.setup.clone(), Length::mm(adjusted.value(&setup) + datum))
    };
    sights.iter().map(line).collect()
}

fn no_redundancy() -> Problem {
    let message = "Every reading is needed for the heights: nothing checks them. Read a common point once more.";
    Problem::new(ProblemKind::NoRedundancy, message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sight(setup: &str, point: &str, reading: f64, sd: f64) -> Sight {
        Sight { setup: setup.into(), point: point.into(), reading: Length::mm(reading), sd: Length::mm(sd) }
    }

    fn datum(points: &[(&str, f64, f64)]) -> BTreeMap<String, Fixed> {
        let fixed = |height: f64, sd: f64| Fixed { height: Length::mm(height), sd: Length::mm(sd) };
        points.iter().map(|&(id, height, sd)| (id.to_string(), fixed(height, sd))).collect()
    }

    fn net(sights: &[Sight], fixed: &[(&str, f64, f64)]) -> Result<Analysis<LevelNet>, NoNet> {
        level_net(sights, &datum(fixed), Probability::of(0.001))
    }

    #[test]
    fn what_is_not_tied_is_named() {
        let check = |sights: &[Sight], fixed: &[(&str, f64, f64)], expected: NoNet| {
            assert_eq!(net(sights, fixed).map(|_| ()).unwrap_err(), expected, "{sights:?}");
        };
        let not_tied = |setup: &str| NoNet::NotTied { setup: setup.into() };
        let both = [
            sight("A", "1", 10.0, 1.0),
            sight("A", "2", 20.0, 1.0),
            sight("B", "3", 5.0, 1.0),
            sight("B", "4", 6.0, 1.0),
        ];
        check(&both, &[("1", 0.0, 0.0)], not_tied("B"));
        check(&both, &[("4", 0.0, 0.5)], not_tied("A"));
        check(&both, &[], not_tied("A"));
        check(&both, &[("9", 0.0, 0.0)], not_tied("A"));
        check(&[], &[("1", 0.0, 0.0)], NoNet::NoSights);
        check(&[sight("A", "1", 1.0, 0.0)], &[("1", 0.0, 0.0)], NoNet::SightSd { sight: 0 });
        check(&[sight("A", "1", 1.0, 1.0)], &[("1", 0.0, -1.0)], NoNet::FixedSd { point: "1".into() });
    }

    #[test]
    fn one_tie_leaves_nothing_to_check_with() {
        let sights = [
            sight("A", "1", 10.0, 1.0),
            sight("A", "2", 20.0, 1.0),
            sight("B", "2", 5.0, 1.0),
            sight("B", "3", 6.0, 1.0),
        ];
        let found = net(&sights, &[("1", 100.0, 0.0)]).expect("tied");
        assert_eq!(found.problems.iter().map(|p| p.kind.name()).collect::<Vec<_>>(), ["no-redundancy"]);
        let net = found.value;
        assert_eq!((net.dof, net.p_global, net.largest_w, net.blunder_suspected), (0, None, None, false));
        assert!((net.heights["3"].value.to_mm() - 89.0).abs() < 1e-12);
        let difference = net.difference("2", "3").expect("both read");
        assert!((difference.value.to_mm() + 1.0).abs() < 1e-12);
        assert!((difference.u.to_mm() - 2.0_f64.sqrt()).abs() < 1e-12, "two readings from one set-up");
        assert_eq!(net.difference("2", "9"), None);
    }

    #[test]
    fn a_soft_benchmark_is_an_observation() {
        // Two known heights, 2 mm apart but read level: each gives way in the share of its variance.
        let sights = [sight("A", "1", 10.0, 1e-6), sight("A", "2", 10.0, 1e-6)];
        let found = net(&sights, &[("1", 0.0, 1.0), ("2", 2.0, 2.0)]).expect("tied").value;
        assert_eq!(found.dof, 1);
        assert!((found.heights["1"].value.to_mm() - 0.4).abs() < 1e-9);
        assert!((found.heights["1"].u.to_mm() - (0.8_f64).sqrt()).abs() < 1e-9);
        assert!((found.vtpv.to_f64() - 4.0 / 5.0).abs() < 1e-9);
    }

    #[test]
    fn a_slip_of_an_inch_is_suspected() {
        let height = |p: usize| [0.0, 3.0, -2.0, 5.0][p];
        let read = |s: usize, p: usize| 1000.0 + 10.0 * s as f64 - height(p);
        let mut sights: Vec<Sight> = (0..3)
            .flat_map(|s| (0..4).map(move |p| (s, p)))
            .map(|(s, p)| sight(["A", "B", "C"][s], ["1", "2", "3", "4"][p], read(s, p), 0.8))
            .collect();
        assert!(!net(&sights, &[("1", 0.0, 0.0)]).expect("tied").value.blunder_suspected);
        sights[6].reading += Length::inches(1.0);
        let found = net(&sights, &[("1", 0.0, 0.0)]).expect("tied").value;
        assert!(found.blunder_suspected);
        assert_eq!(found.largest_w.map(|(sight, w)| (sight, w.to_f64() > 0.0)), Some((6, true)));
    }

    proptest! {
        #[test]
        fn moving_the_datum_moves_every_height(
            readings in prop::collection::vec((0usize..4, 0usize..5, -50.0f64..50.0, 0.1f64..2.0), 1..40), up in -1e6f64..1e6,
        ) {
            let sights: Vec<Sight> = readings.iter()
                .map(|&(s, p, z, sd)| sight(["A", "B", "C", "D"][s], ["1", "2", "3", "4", "5"][p], 1000.0 + z, sd)).collect();
            let (here, there) = (net(&sights, &[("1", 0.0, 0.0)]), net(&sights, &[("1", up, 0.0)]));
            prop_assert_eq!(here.is_ok(), there.is_ok());
            if let (Ok(here), Ok(there)) = (here, there) {
                for (id, height) in &here.value.heights {
                    let moved = there.value.heights[id];
                    prop_assert!((moved.value - height.value - Length::mm(up)).to_mm().abs() < 1e-8);
                    prop_assert!((moved.u - height.u).to_mm().abs() < 1e-9);
                }
                let redundancy: f64 = here.value.dof as f64;
                prop_assert!(here.value.vtpv.to_f64() >= 0.0 && redundancy >= 0.0);
            }
        }

        #[test]
        fn the_order_of_readings_changes_nothing(
            readings in prop::collection::vec((0usize..3, 0usize..4, -50.0f64..50.0), 6..30), by in 0usize..30,
        ) {
            let mut sights: Vec<Sight> = readings.iter()
                .map(|&(s, p, z)| sight(["A", "B", "C"][s], ["1", "2", "3", "4"][p], z, 1.0)).collect();
            let here = net(&sights, &[("1", 0.0, 0.0)]);
            let by = by % sights.len();
            sights.rotate_left(by);
            if let (Ok(here), Ok(there)) = (here, net(&sights, &[("1", 0.0, 0.0)])) {
                for (id, height) in &here.value.heights {
                    prop_assert!((there.value.heights[id].value - height.value).to_mm().abs() < 1e-9);
                }
                prop_assert!((there.value.vtpv.to_f64() - here.value.vtpv.to_f64()).abs() < 1e-6);
            }
        }

        #[test]
        fn nothing_panics(readings in prop::collection::vec((0usize..3, 0usize..3, prop::num::f64::ANY, prop::num::f64::ANY), 0..20),
                          sd in prop::num::f64::ANY, p in prop::num::f64::ANY) {
            let sights: Vec<Sight> = readings.iter()
                .map(|&(s, p, z, sd)| sight(["A", "B", "C"][s], ["1", "2", "3"][p], z, sd)).collect();
            if let Ok(found) = level_net(&sights, &datum(&[("1", 5.0, sd), ("2", 5.0, 0.0)]), Probability::of(p)) {
                let _ = found.value.difference("1", "3");
            }
        }
    }
}

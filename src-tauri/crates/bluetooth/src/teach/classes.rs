//! Ways that read alike, put together.

use super::Sample;
use super::hypothesis::Hypothesis;
use super::unit::Display;
use std::collections::{BTreeMap, BTreeSet};

/// The ways in classes that read the same, to a tenth of the display's step, from every sample seen: the most usual
/// way first in each, and the class with the most usual way first of all.
pub(super) fn classes<'a>(ways: &'a [Hypothesis], seen: &[&Sample], display: Display) -> Vec<Vec<&'a Hypothesis>> {
    let mut alike: BTreeMap<Vec<i64>, Vec<&Hypothesis>> = BTreeMap::new();
    for way in ways {
        let reads = seen.iter().map(|sample| tenths(way, sample, display)).collect();
        alike.entry(reads).or_default().push(way);
    }
    let mut classes: Vec<_> = alike.into_values().collect();
    classes.iter_mut().for_each(|class| class.sort_by(|a, b| a.cost.total_cmp(&b.cost)));
    let cost = |class: &[&Hypothesis]| class.first().map_or(f64::INFINITY, |way| way.cost);
    classes.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
    classes
}

/// Into how many groups this sample parts the ways, by what the display would show: two that differ by less than its
/// step are not told apart by looking at it.
pub(super) fn told_apart(ways: &[Hypothesis], sample: &Sample, display: Display) -> usize {
    let shows = |way: &Hypothesis| way.value(sample).map(|value| (value / display.step()).round() as i64);
    let shown: BTreeSet<Option<i64>> = ways.iter().map(shows).collect();
    let values: Vec<i64> = shown.iter().copied().flatten().collect();
    let apart = values.windows(2).filter(|pair| matches!(pair, [a, b] if b.saturating_sub(*a) > 1)).count();
    apart + 1 + usize::from(shown.contains(&None) && !values.is_empty())
}

fn tenths(way: &Hypothesis, sample: &Sample, display: Display) -> i64 {
    way.value(sample).map_or(i64::MIN, |value| (value / display.step() * 10.0).round() as i64)
}

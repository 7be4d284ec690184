//! Whether every set-up is tied to a known height.

use std::collections::{BTreeMap, BTreeSet};

use super::{Fixed, Sight};

/// The first set-up, in the order of the sights, that no chain of common points ties to a known height.
pub(super) fn not_tied<'a>(sights: &'a [Sight], fixed: &BTreeMap<String, Fixed>) -> Option<&'a str> {
    let mut on_point: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    let mut of_setup: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for sight in sights {
        on_point.entry(&sight.point).or_default().push(&sight.setup);
        of_setup.entry(&sight.setup).or_default().push(&sight.point);
    }
    let mut waiting: Vec<&str> = fixed.keys().map(String::as_str).collect();
    let mut reached: BTreeSet<&str> = waiting.iter().copied().collect();
    let mut tied: BTreeSet<&str> = BTreeSet::new();
    while let Some(point) = waiting.pop() {
        for &setup in on_point.get(point).into_iter().flatten() {
            if tied.insert(setup) {
                let onward = of_setup.get(setup).into_iter().flatten().copied();
                waiting.extend(onward.filter(|&point| reached.insert(point)));
            }
        }
    }
    sights.iter().map(|sight| sight.setup.as_str()).find(|setup| !tied.contains(setup))
}

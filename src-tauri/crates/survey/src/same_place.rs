//! Readings taken at one place: which reading stands for the place, and the mean height there.

use std::collections::HashMap;

use crate::analysis::{Problem, ProblemKind};

/// Plan positions nearer than this, in mm, are one place.
pub(crate) const ONE_PLACE: f64 = 1e-3;

/// For every reading the first reading at its place, and every height replaced by the mean at its place.
pub(crate) struct Places {
    pub(crate) stands_for: Vec<usize>,
    pub(crate) z: Vec<f64>,
    /// How many readings each place has, at the reading that stands for it.
    pub(crate) count: Vec<usize>,
    pub(crate) problems: Vec<Problem>,
}

/// Joins readings within 0.001 mm of one another, and reports those whose heights differ.
pub(crate) fn same_place(xy: &[[f64; 2]], z: &[f64]) -> Places {
    let stands_for = first_at_each_place(xy);
    let mut count = vec![0; xy.len()];
    let mut sum = vec![0.0; xy.len()];
    for (reading, &place) in stands_for.iter().enumerate() {
        count[place] += 1;
        sum[place] += z[reading];
    }
    let mean = |place: usize| if count[place] > 1 { sum[place] / count[place] as f64 } else { z[place] };
    let differs = |&(reading, &place): &(usize, &usize)| reading != place && z[reading] != z[place];
    let problems = stands_for.iter().enumerate().filter(differs).map(|(reading, _)| two(reading)).collect();
    let means = stands_for.iter().map(|&place| mean(place)).collect();
    Places { stands_for, z: means, count, problems }
}

fn two(reading: usize) -> Problem {
    let message = "Another reading stands at this place with a different height: their mean is used.";
    Problem::at(ProblemKind::DuplicatePoint, reading, message)
}

fn first_at_each_place(xy: &[[f64; 2]]) -> Vec<usize> {
    let cell = |v: f64| (v / ONE_PLACE).floor() as i64;
    let mut seen: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
    let mut stands_for = Vec::with_capacity(xy.len());
    for (reading, &[x, y]) in xy.iter().enumerate() {
        let (column, row) = (cell(x), cell(y));
        let near = |&other: &usize| (xy[other][0] - x).hypot(xy[other][1] - y) <= ONE_PLACE;
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (column.saturating_add(i), row.saturating_add(j))));
        let place = around.filter_map(|key| seen.get(&key)).flatten().copied().filter(near).min();
        if place.is_none() {
            seen.entry((column, row)).or_default().push(reading);
        }
        stands_for.push(place.unwrap_or(reading));
    }
    stands_for
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_within_a_thousandth_are_one_place() {
        let xy = [[0.0, 0.0], [0.0009, 0.0], [0.0011, 0.0], [500.0, 0.0], [500.0, 0.0]];
        let places = same_place(&xy, &[1.0, 3.0, 7.0, 4.0, 4.0]);
        assert_eq!(places.stands_for, [0, 0, 2, 3, 3]);
        assert_eq!(places.z, [2.0, 2.0, 7.0, 4.0, 4.0]);
        assert_eq!(places.count, [2, 0, 1, 2, 0]);
        let at: Vec<_> = places.problems.iter().map(|problem| problem.at.as_deref()).collect();
        assert_eq!(at, [Some("1")], "equal heights at one place are no problem");
    }
}

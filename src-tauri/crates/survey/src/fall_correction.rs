//! How a floor that was laid to fall is put right by filling alone.

use crate::drainage::FallLimits;
use crate::fall_run::fall_run;
use crate::point::Point;
use crate::units::{Length, Slope};
use crate::verdict::{Decision, Verdict};

/// What to fill, and whether that is enough.
#[derive(Debug, Clone, PartialEq)]
pub struct FallCorrection {
    /// The readings to fill at, by index, and how deep; fading to nothing at the readings around them.
    pub fills: Vec<(usize, Length)>,
    /// The runs, by way and place, that are out even then: the floor stands too high there, which no fill puts right.
    pub left: Vec<(usize, usize)>,
}

impl FallCorrection {
    /// The readings with the fills on them.
    ///
    /// ```
    /// use survey::Point;
    /// use survey::fall_correction::FallCorrection;
    /// use survey::units::Length;
    /// let filled = FallCorrection { fills: vec![(0, Length::mm(6.0))], left: vec![] };
    /// assert_eq!(filled.upon(&[Point::mm(900.0, 600.0, 6.5)])[0].z, Length::mm(12.5));
    /// ```
    pub fn upon(&self, points: &[Point]) -> Vec<Point> {
        let mut filled = points.to_vec();
        for &(at, depth) in &self.fills {
            if let Some(point) = filled.get_mut(at) {
                point.z += depth;
            }
        }
        filled
    }
}

/// The least fills to the wanted height of each reading that leave no run between neighbours out by itself.
///
/// `ways` hold readings by index, the nearest to the drain first. First the readings under standing water are filled;
/// then, as long as a run between neighbours is out, the end of it that lacks more. What stands above the wanted
/// height is left as it is.
///
/// # Uncertainty
/// Runs are judged with that of two readings; a fill carries the uncertainty of its reading.
///
/// # Source
/// Common practice: fill the birdbath, feather it out, check what the fill did to the runs beside it.
///
/// ```
/// use survey::Point;
/// use survey::drainage::{FallLimits, FallRule};
/// use survey::fall_correction::fill_to_fall;
/// use survey::units::{Length, Slope};
/// use survey::verdict::Decision;
///
/// // A row of an invented ensuite: 6.5 at 900 mm where 12.5 is wanted, 14.9 at 1200 where 16.7 is.
/// let read = [0.0, 4.2, 8.3, 6.5, 14.9, 20.8, 25.0];
/// let row: Vec<Point> = (0..7).map(|k| Point::mm(300.0 * k as f64, 600.0, read[k])).collect();
/// let wanted: Vec<Length> = (0..7).map(|k| Length::mm(25.0 / 6.0 * k as f64)).collect();
/// let (minimum, maximum) = (Slope::one_in(80.0), Slope::one_in(50.0));
/// let falls = FallLimits { minimum, maximum, rule: FallRule::SquareToDrain };
/// let way = vec![(0..7).collect()];
/// let found = fill_to_fall(&row, &way, &[3], &wanted, falls, Length::mm(0.5), Decision::Guarded);
/// // Filling the first alone would leave 2.4 mm on the next run.
/// assert_eq!(found.fills.iter().map(|fill| fill.0).collect::<Vec<_>>(), [3, 4]);
/// assert!((found.fills[0].1.to_mm() - 6.0).abs() < 1e-9);
/// assert!(found.left.is_empty());
/// ```
pub fn fill_to_fall(
    points: &[Point],
    ways: &[Vec<usize>],
    standing: &[usize],
    wanted: &[Length],
    limits: FallLimits,
    reading_sd: Length,
    by: Decision,
) -> FallCorrection {
    let mut found = FallCorrection { fills: Vec::new(), left: Vec::new() };
    let lacks = |at: usize| wanted.get(at).zip(points.get(at)).map_or(Length::ZERO, |(to, point)| *to - point.z);
    let fillable = |found: &FallCorrection, at: usize| {
        !lacks(at).at_most(Length::ZERO) && !found.fills.iter().any(|fill| fill.0 == at)
    };
    for &at in standing {
        if fillable(&found, at) {
            found.fills.push((at, lacks(at)));
        }
    }
    loop {
        found.left = out_alone(&found.upon(points), ways, limits, reading_sd, by);
        let ends = found.left.iter().flat_map(|&(way, place)| [ways[way][place], ways[way][place + 1]]);
        let next =
            ends.filter(|&at| fillable(&found, at)).max_by(|&a, &b| lacks(a).to_mm().total_cmp(&lacks(b).to_mm()));
        let Some(next) = next else { break };
        found.fills.push((next, lacks(next)));
    }
    found.fills.sort_by_key(|fill| fill.0);
    found
}

/// The runs between neighbours that are out by themselves, by way and place.
fn out_alone(
    points: &[Point],
    ways: &[Vec<usize>],
    limits: FallLimits,
    reading_sd: Length,
    by: Decision,
) -> Vec<(usize, usize)> {
    let is_out = |pair: &[usize]| {
        let run = fall_run(*points.get(*pair.first()?)?, *points.get(*pair.get(1)?)?, reading_sd)?;
        Some(run.judged(limits, by).ok()?.verdict == Verdict::Out)
    };
    let of_way = |(way, along): (usize, &Vec<usize>)| {
        let out = along.windows(2).enumerate().filter(|(_, pair)| is_out(pair) == Some(true));
        out.map(|(place, _)| (way, place)).collect::<Vec<_>>()
    };
    ways.iter().enumerate().flat_map(of_way).collect()
}

/// The middle one of the falls of all readings to the drain: what the floor was laid to, whatever single readings say.
///
/// Each reading is its distance from the drain and its height over it; those at the drain say nothing. Level without
/// others.
///
/// # Source
/// The median, which half of the readings may leave without moving it far (common practice).
///
/// ```
/// use survey::fall_correction::middle_fall;
/// use survey::units::Length;
/// let mm = Length::mm;
/// let found = middle_fall(&[(mm(0.0), mm(0.0)), (mm(600.0), mm(8.3)), (mm(900.0), mm(6.5)), (mm(1200.0), mm(16.7))]);
/// assert!((found.to_ratio() - 8.3 / 600.0).abs() < 1e-12);
/// ```
pub fn middle_fall(readings: &[(Length, Length)]) -> Slope {
    let away = readings.iter().filter(|(distance, _)| distance.to_mm() > 1.0);
    let mut all: Vec<f64> = away.map(|(distance, height)| height.over(*distance).to_ratio()).collect();
    all.sort_by(f64::total_cmp);
    let n = all.len();
    let middle = if n % 2 == 1 { all.get(n / 2).copied() } else { None };
    let between = || Some((all.get((n / 2).checked_sub(1)?)? + all.get(n / 2)?) / 2.0);
    Slope::ratio(middle.or_else(between).unwrap_or(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drainage::FallRule;
    use proptest::prelude::*;

    fn row(read: &[f64]) -> (Vec<Point>, Vec<Length>, Vec<Vec<usize>>) {
        let points = read.iter().enumerate().map(|(k, &z)| Point::mm(300.0 * k as f64, 0.0, z)).collect();
        let wanted = (0..read.len()).map(|k| Length::mm(25.0 / 6.0 * k as f64)).collect();
        (points, wanted, vec![(0..read.len()).collect()])
    }

    fn falls() -> FallLimits {
        FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path }
    }

    fn of(read: &[f64], standing: &[usize]) -> FallCorrection {
        let (points, wanted, ways) = row(read);
        fill_to_fall(&points, &ways, standing, &wanted, falls(), Length::mm(0.5), Decision::Guarded)
    }

    #[test]
    fn a_floor_that_is_right_is_left_alone_and_a_high_one_cannot_be_filled() {
        assert_eq!(of(&[0.0, 4.2, 8.3, 12.5], &[]), FallCorrection { fills: vec![], left: vec![] });
        let high = of(&[0.0, 9.0, 9.5, 12.5], &[]);
        assert!(!high.left.is_empty(), "{high:?}");
        assert_eq!(of(&[], &[7]), FallCorrection { fills: vec![], left: vec![] });
        assert_eq!(middle_fall(&[]), Slope::ZERO);
    }

    proptest! {
        #[test]
        fn whatever_is_filled_is_filled_upward_to_what_is_wanted(read in prop::collection::vec(-20.0f64..60.0, 0..9)) {
            let (points, wanted, _) = row(&read);
            let found = of(&read, &[1, 2]);
            for &(at, depth) in &found.fills {
                prop_assert!(depth > Length::ZERO);
                prop_assert!((points[at].z + depth - wanted[at]).abs().to_mm() < 1e-9);
            }
            // Checked again, no run is out that is not named.
            let (points, _, ways) = row(&read);
            let again = out_alone(&found.upon(&points), &ways, falls(), Length::mm(0.5), Decision::Guarded);
            prop_assert_eq!(again, found.left);
        }
    }
}

//! How flat a surface must be by German practice: a depth under a straightedge that grows with its length.

use super::{Provenance, Rule};
use crate::units::Length;

/// The kinds of surface of table 3, in its order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Row {
    /// Unfinished tops of slabs.
    UnfinishedTop = 1,
    /// Unfinished tops with raised demands: to receive screed or tile.
    UnfinishedTopRaised,
    /// Finished floors, screeds for coverings, tiled floors.
    FinishedFloor,
    /// As finished floors, with raised demands.
    FinishedFloorRaised,
    /// Unfinished walls and soffits.
    UnfinishedWall,
    /// Finished walls and soffits.
    FinishedWall,
    /// As finished walls and soffits, with raised demands.
    FinishedWallRaised,
}

/// The distances the standard prints limits for, in metres.
const DISTANCES: [f64; 5] = [0.1, 1.0, 4.0, 10.0, 15.0];
/// Its limits there, in mm, row by row.
const LIMITS: [[f64; 5]; 7] = [
    [10.0, 15.0, 20.0, 25.0, 30.0],
    [5.0, 8.0, 12.0, 15.0, 20.0],
    [2.0, 4.0, 10.0, 12.0, 15.0],
    [1.0, 3.0, 9.0, 12.0, 15.0],
    [5.0, 10.0, 15.0, 25.0, 30.0],
    [3.0, 5.0, 10.0, 20.0, 25.0],
    [2.0, 3.0, 8.0, 15.0, 20.0],
];

impl Row {
    /// All rows, in the order of the table.
    pub const ALL: [Self; 7] = [
        Self::UnfinishedTop,
        Self::UnfinishedTopRaised,
        Self::FinishedFloor,
        Self::FinishedFloorRaised,
        Self::UnfinishedWall,
        Self::FinishedWall,
        Self::FinishedWallRaised,
    ];

    /// The number of the row in the table, from 1.
    pub fn number(self) -> usize {
        self as usize
    }

    /// What the row is called, and where its figures come from.
    pub fn rule(self) -> Rule {
        let clause = format!("DIN 18202 table 3 row {}", self.number());
        Rule::of("Depth under a straightedge", &clause, "2005", Provenance::Read)
    }

    /// The largest gap between two high points this far apart: straight between the printed distances, unrounded.
    ///
    /// `None` below 0.1 m and beyond 15 m, where the table says nothing.
    ///
    /// # Units
    /// Lengths.
    ///
    /// # Source
    /// DIN 18202 table 3 and the rule to interpolate, read in a trade handbook's extended table and on planners' pages,
    /// not in the standard; the edition was not named on all of them. Row 4 at 1 m is 3 mm by all of them but one.
    ///
    /// ```
    /// use survey::rules::din::Row;
    /// use survey::units::Length;
    ///
    /// let at = |mm: f64| Row::FinishedFloor.limit(Length::mm(mm));
    /// assert_eq!(at(2750.0), Some(Length::mm(7.5)));
    /// assert_eq!(at(50.0), None);
    /// ```
    pub fn limit(self, distance: Length) -> Option<Length> {
        let at = distance.to_mm() / 1000.0;
        let row = LIMITS.get(self.number() - 1)?;
        let inside = |(from, to): (f64, f64)| at >= from - 1e-9 && at <= to + 1e-9;
        let piece = DISTANCES.windows(2).position(|pair| matches!(pair, [from, to] if inside((*from, *to))))?;
        let (from, to) = (DISTANCES.get(piece)?, DISTANCES.get(piece + 1)?);
        let (low, high) = (row.get(piece)?, row.get(piece + 1)?);
        Some(Length::mm(low + (high - low) * (at - from) / (to - from)))
    }

    /// The same to the whole millimetre, a half up, as extended tables print it.
    pub fn printed(self, distance: Length) -> Option<Length> {
        self.limit(distance).map(|limit| Length::mm((limit.to_mm() + 0.5 + 1e-9).floor()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_ends_where_it_ends() {
        let check = |metres: f64, limit: Option<f64>| {
            assert_eq!(Row::FinishedFloorRaised.limit(Length::mm(metres * 1000.0)), limit.map(Length::mm), "{metres}");
        };
        check(0.0999, None);
        check(0.1, Some(1.0));
        check(15.0, Some(15.0));
        check(15.001, None);
        check(-1.0, None);
    }

    #[test]
    fn longer_never_asks_for_less() {
        for row in Row::ALL {
            let limits: Vec<Length> = (1..=150).filter_map(|k| row.limit(Length::mm(f64::from(k) * 100.0))).collect();
            assert_eq!(limits.len(), 150);
            assert!(limits.is_sorted_by(|near, far| near <= far), "{row:?}");
            assert!(row.rule().clause.ends_with(&row.number().to_string()));
        }
    }
}

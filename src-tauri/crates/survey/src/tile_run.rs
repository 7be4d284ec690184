//! How a row of tiles is set out between two walls.

use crate::units::Length;

/// Tiles in a row: their size along it, their joint, and the movement joint at each wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Between the walls.
    pub length: Length,
    pub tile: Length,
    pub joint: Length,
    /// At each end, against the wall.
    pub edge: Length,
}

/// Where a row begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetOut {
    /// The same cut at both ends, as wide as it can be.
    Balanced,
    /// A whole tile at the first end: at a line drain, at the door.
    WholeFirst,
    /// A whole tile at the other end.
    WholeLast,
}

/// A row as it comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetOutRow {
    /// The first piece, from the first wall's joint on; a whole tile where nothing is cut.
    pub first: Length,
    pub last: Length,
    /// The whole tiles of the row.
    pub whole: usize,
    /// How many pieces are cut.
    pub cuts: usize,
}

impl SetOutRow {
    /// All pieces of the row; each cut takes a tile.
    pub fn pieces(&self) -> usize {
        self.whole + self.cuts
    }

    /// The narrowest cut; none where nothing is cut.
    pub fn narrowest(&self) -> Option<Length> {
        (self.cuts > 0).then(|| self.first.min(self.last))
    }

    /// Whether a cut is narrower than the narrowest that is wanted.
    pub fn has_sliver(&self, least: Length) -> bool {
        self.narrowest().is_some_and(|cut| !cut.at_least(least))
    }
}

/// More tiles than any wall takes.
const MOST: f64 = 10_000.0;

/// How a row comes out; `None` for tiles, joints or a wall that are no size.
///
/// # Units
/// Lengths along the row.
///
/// # Source
/// Common practice: if centring leaves less than half a tile at the walls, the row moves by half a tile.
///
/// ```
/// use survey::tile_run::{Row, SetOut, set_out};
/// use survey::units::Length;
/// let mm = Length::mm;
/// // 1800 between walls, 300 tiles, 3 joints, 6 at the walls: five whole tiles would leave 135 at each end, so it is
/// // four and 286.5.
/// let row = Row { length: mm(1800.0), tile: mm(300.0), joint: mm(3.0), edge: mm(6.0) };
/// let found = set_out(row, SetOut::Balanced).unwrap();
/// assert_eq!((found.first, found.last, found.whole), (mm(286.5), mm(286.5), 4));
/// ```
pub fn set_out(row: Row, by: SetOut) -> Option<SetOutRow> {
    let (tile, module) = (row.tile.to_mm(), (row.tile + row.joint).to_mm());
    let open = (row.length - row.edge * 2.0).to_mm();
    let sizes = tile > 0.0 && row.joint >= Length::ZERO && row.edge >= Length::ZERO && open > 0.0;
    if !sizes || open / module > MOST {
        return None;
    }
    // As many whole tiles as go in, and what is left after them and a joint.
    let whole = ((open + row.joint.to_mm() + 1e-6) / module).floor();
    let left = open - whole * module;
    Some(match by {
        _ if whole < 1.0 => one(Length::mm(open)),
        _ if left <= 1e-6 => all_whole(row.tile, whole as usize),
        SetOut::Balanced => balanced(left, tile, whole),
        SetOut::WholeFirst => SetOutRow { first: row.tile, last: Length::mm(left), whole: whole as usize, cuts: 1 },
        SetOut::WholeLast => SetOutRow { first: Length::mm(left), last: row.tile, whole: whole as usize, cuts: 1 },
    })
}

/// A row narrower than a tile.
fn one(cut: Length) -> SetOutRow {
    SetOutRow { first: cut, last: cut, whole: 0, cuts: 1 }
}

fn all_whole(tile: Length, whole: usize) -> SetOutRow {
    SetOutRow { first: tile, last: tile, whole, cuts: 0 }
}

/// One whole tile fewer, and it and what is left halved over both ends: never less than half a tile.
fn balanced(left: f64, tile: f64, whole: f64) -> SetOutRow {
    let cut = Length::mm((left + tile) / 2.0);
    SetOutRow { first: cut, last: cut, whole: (whole - 1.0).max(0.0) as usize, cuts: 2 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn row(length: f64) -> Row {
        Row { length: Length::mm(length), tile: Length::mm(300.0), joint: Length::mm(3.0), edge: Length::mm(6.0) }
    }

    fn of(length: f64, by: SetOut) -> SetOutRow {
        set_out(row(length), by).expect("a row")
    }

    #[test]
    fn rows_that_fit_are_not_cut_and_narrow_ones_are_one_piece() {
        for by in [SetOut::Balanced, SetOut::WholeFirst, SetOut::WholeLast] {
            // Five tiles and four joints between two joints of 6.
            assert_eq!((of(1524.0, by).whole, of(1524.0, by).cuts), (5, 0));
            assert_eq!((of(112.0, by).first, of(112.0, by).pieces()), (Length::mm(100.0), 1));
        }
        assert_eq!(set_out(row(12.0), SetOut::Balanced), None);
        assert_eq!(set_out(Row { tile: Length::ZERO, ..row(1800.0) }, SetOut::Balanced), None);
        assert_eq!(set_out(Row { joint: Length::mm(-1.0), ..row(1800.0) }, SetOut::Balanced), None);
    }

    #[test]
    fn a_whole_tile_at_the_drain_may_leave_a_sliver_across() {
        let found = of(1548.0, SetOut::WholeFirst);
        assert_eq!((found.first, found.last, found.whole), (Length::mm(300.0), Length::mm(21.0), 5));
        assert!(found.has_sliver(Length::mm(50.0)) && !of(1548.0, SetOut::Balanced).has_sliver(Length::mm(50.0)));
        assert_eq!(of(1548.0, SetOut::WholeLast).first, Length::mm(21.0));
    }

    proptest! {
        #[test]
        fn pieces_and_joints_make_up_the_wall(length in 340.0f64..6000.0) {
            for by in [SetOut::Balanced, SetOut::WholeFirst, SetOut::WholeLast] {
                let found = of(length, by);
                let cut = match found.cuts {
                    0 => 0.0,
                    1 => found.first.min(found.last).to_mm(),
                    _ => found.first.to_mm() + found.last.to_mm(),
                };
                let joints = 3.0 * (found.pieces() as f64 - 1.0);
                let made = 300.0 * found.whole as f64 + cut + joints + 12.0;
                // What is less than a joint goes into the joints at the walls.
                prop_assert!(made <= length + 1e-6 && made > length - 3.0 - 1e-6, "{made} of {length}: {found:?}");
                prop_assert!(found.cuts < 2 || found.first.at_least(Length::mm(150.0)));
            }
        }
    }
}

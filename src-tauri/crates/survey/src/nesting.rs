//! Which strips are ripped from which piece of stock, and how much is wasted.

use crate::units::{Length, Ratio};

/// A strip to be ripped: its length and its thickness where it is thickest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    pub length: Length,
    pub thickness: Length,
}

/// What strips are ripped from: one size of board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    pub length: Length,
    /// The face that is ripped up into thicknesses.
    pub width: Length,
    /// What the saw takes.
    pub kerf: Length,
}

/// One rip of a board, its whole length: strips end to end.
#[derive(Debug, Clone, PartialEq)]
pub struct Rip {
    /// That of its thickest strip.
    pub thickness: Length,
    /// The strips in it, by index.
    pub pieces: Vec<usize>,
    used: Length,
}

/// The strips laid onto boards.
#[derive(Debug, Clone, PartialEq)]
pub struct Nesting {
    /// The rips of each board.
    pub boards: Vec<Vec<Rip>>,
    /// The strips that are longer or thicker than the stock, by index.
    pub too_large: Vec<usize>,
    /// The share of the boards that becomes no strip, the saw's part included; nothing without boards.
    pub waste: Ratio,
}

/// Strips laid onto as few boards as going from the largest down finds.
///
/// Strips go end to end into rips of the length of the board, the thickest first, each into the first rip with room;
/// rips go side by side into boards in the same way. Strips without length or thickness are left out.
///
/// # Units
/// Lengths.
///
/// # Source
/// First fit decreasing, twice (textbook; never more than 11/9 of the fewest and one more in each step).
///
/// ```
/// use survey::nesting::{Piece, Stock, nest};
/// use survey::units::Length;
/// let inches = Length::inches;
/// let strip = |length: f64, thick: f64| Piece { length: inches(length), thickness: inches(thick) };
/// let stock = Stock { length: Length::inches(96.0), width: Length::inches(3.5), kerf: Length::inches(0.125) };
/// // A long one and two short ones: two rips of half an inch from one board.
/// let found = nest(&[strip(90.0, 0.5), strip(45.0, 0.375), strip(24.0, 0.3125)], stock);
/// assert_eq!(found.boards.len(), 1);
/// assert_eq!(found.boards[0].len(), 2);
/// ```
pub fn nest(pieces: &[Piece], stock: Stock) -> Nesting {
    let fits = |piece: &Piece| piece.length.at_most(stock.length) && piece.thickness.at_most(stock.width);
    let there = |piece: &Piece| piece.length > Length::ZERO && piece.thickness > Length::ZERO;
    let listed = || pieces.iter().enumerate().filter(|(_, piece)| there(piece));
    let too_large = listed().filter(|(_, piece)| !fits(piece)).map(|(at, _)| at).collect();
    let mut in_turn: Vec<(usize, &Piece)> = listed().filter(|(_, piece)| fits(piece)).collect();
    let size = |piece: &Piece| (piece.thickness.to_mm(), piece.length.to_mm());
    in_turn.sort_by(|a, b| size(b.1).partial_cmp(&size(a.1)).unwrap_or(std::cmp::Ordering::Equal));
    let used: f64 = in_turn.iter().map(|(_, piece)| piece.length.to_mm() * piece.thickness.to_mm()).sum();
    let boards = boards(rips(&in_turn, stock), stock);
    let whole = boards.len() as f64 * stock.length.to_mm() * stock.width.to_mm();
    let waste = Ratio::of(if whole > 0.0 { 1.0 - used / whole } else { 0.0 });
    Nesting { boards, too_large, waste }
}

/// Strips end to end, the thickest first.
fn rips(in_turn: &[(usize, &Piece)], stock: Stock) -> Vec<Rip> {
    let mut rips: Vec<Rip> = Vec::new();
    for &(at, piece) in in_turn {
        let room = |rip: &&mut Rip| (rip.used + stock.kerf + piece.length).at_most(stock.length);
        match rips.iter_mut().find(room) {
            Some(rip) => {
                rip.pieces.push(at);
                rip.used += stock.kerf + piece.length;
            }
            None => rips.push(Rip { thickness: piece.thickness, pieces: vec![at], used: piece.length }),
        }
    }
    rips
}

/// Rips side by side, the thickest first.
fn boards(rips: Vec<Rip>, stock: Stock) -> Vec<Vec<Rip>> {
    let mut boards: Vec<(Length, Vec<Rip>)> = Vec::new();
    for rip in rips {
        let room = |board: &&mut (Length, Vec<Rip>)| (board.0 + stock.kerf + rip.thickness).at_most(stock.width);
        match boards.iter_mut().find(room) {
            Some((used, all)) => {
                *used += stock.kerf + rip.thickness;
                all.push(rip);
            }
            None => boards.push((rip.thickness, vec![rip])),
        }
    }
    boards.into_iter().map(|(_, rips)| rips).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STOCK: fn() -> Stock =
        || Stock { length: Length::mm(2400.0), width: Length::mm(90.0), kerf: Length::mm(3.0) };

    fn piece(length: f64, thickness: f64) -> Piece {
        Piece { length: Length::mm(length), thickness: Length::mm(thickness) }
    }

    #[test]
    fn what_is_larger_than_the_stock_is_named_and_nothing_is_ripped_from_nothing() {
        let found = nest(&[piece(2500.0, 10.0), piece(100.0, 91.0), piece(0.0, 5.0), piece(100.0, 0.0)], STOCK());
        assert_eq!(found, Nesting { boards: vec![], too_large: vec![0, 1], waste: Ratio::ZERO });
        let none = nest(&[piece(100.0, 5.0)], Stock { length: Length::ZERO, ..STOCK() });
        assert_eq!(none.too_large, [0]);
    }

    #[test]
    fn a_whole_board_wastes_nothing() {
        let found = nest(&[piece(2400.0, 90.0)], STOCK());
        assert_eq!((found.boards.len(), found.waste), (1, Ratio::ZERO));
    }

    proptest! {
        #[test]
        fn every_strip_is_laid_once_and_no_board_holds_more_than_it_has(
            sizes in prop::collection::vec((1.0f64..2600.0, 0.5f64..95.0), 0..30),
        ) {
            let pieces: Vec<Piece> = sizes.iter().map(|&(l, t)| piece(l, t)).collect();
            let found = nest(&pieces, STOCK());
            let mut laid: Vec<usize> = found.boards.iter().flatten().flat_map(|rip| rip.pieces.clone()).collect();
            laid.extend(&found.too_large);
            laid.sort_unstable();
            prop_assert_eq!(laid, (0..pieces.len()).collect::<Vec<_>>());
            for board in &found.boards {
                let wide: f64 = board.iter().map(|rip| rip.thickness.to_mm() + 3.0).sum::<f64>() - 3.0;
                prop_assert!(wide <= 90.0 + 1e-6);
                for rip in board {
                    let long: f64 = rip.pieces.iter().map(|&at| pieces[at].length.to_mm() + 3.0).sum::<f64>() - 3.0;
                    prop_assert!(long <= 2400.0 + 1e-6);
                    prop_assert!(rip.pieces.iter().all(|&at| pieces[at].thickness.at_most(rip.thickness)));
                }
            }
            prop_assert!((0.0..=1.0).contains(&found.waste.to_f64()));
        }
    }
}

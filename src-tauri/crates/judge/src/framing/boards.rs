//! What sheets and shims there are in a room, as they are called and as they measure.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::rules::{Figures, LengthId};
use survey::shim_stock::{ShimStock, in_place_of, shim_stock, shim_stock_metric};
use survey::units::Length;

/// The room's own list, or the one that is common where it measures so.
pub fn stock(file: &RoomFile) -> StockList {
    let common = || match file.room.units {
        Units::In => shim_stock(),
        Units::Mm => shim_stock_metric(),
    };
    let piece = |stock: ShimStock| StockPiece {
        called: stock.called.to_mm(),
        actual: stock.actual.to_mm(),
        plywood: stock.plywood,
    };
    let of = || StockList { pieces: common().into_iter().map(piece).collect(), in_place: false };
    file.works.stock.clone().unwrap_or_else(of)
}

/// The same for the core.
pub fn measured(list: &StockList) -> Vec<ShimStock> {
    let piece = |piece: &StockPiece| ShimStock {
        called: Length::mm(piece.called),
        actual: Length::mm(piece.actual),
        plywood: piece.plywood,
    };
    list.pieces.iter().map(piece).collect()
}

/// What could take the place of a strip.
pub fn in_place(stock: &[ShimStock], thinnest: f64, thickest: f64, figures: &Figures) -> Option<FromStock> {
    let (fits, under) =
        in_place_of(stock, Length::mm(thinnest), Length::mm(thickest), figures.length(LengthId::StockShort))?;
    Some(FromStock {
        called: fits.called.to_mm(),
        actual: fits.actual.to_mm(),
        plywood: fits.plywood,
        under: under.to_mm(),
    })
}

/// Whether a list is one of things that are some thickness.
///
/// # Errors
/// `out-of-range`, naming the piece.
pub fn check(list: &StockList) -> Result<(), Refusal> {
    let thick = |size: f64| size.is_finite() && size > 0.0;
    match list.pieces.iter().position(|piece| !thick(piece.called) || !thick(piece.actual)) {
        None => Ok(()),
        Some(at) => {
            let must = "more than zero. Measure the piece, or take it off the list";
            Err(Refusal::out_of_range(format!("stock: thickness of piece {}", at + 1), must))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::units::INCH_MM;

    #[test]
    fn the_rooms_own_list_counts_before_the_common_one() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        assert!(stock(&file).pieces.iter().any(|piece| (piece.actual - 11.0 / 32.0 * INCH_MM).abs() < 1e-9));
        file.room.units = Units::Mm;
        assert!(stock(&file).pieces.iter().any(|piece| piece.actual == 12.0));
        let own = StockList { pieces: Vec::new(), in_place: true };
        file.works.stock = Some(own.clone());
        assert_eq!(stock(&file), own);
    }

    #[test]
    fn a_sheet_of_no_thickness_is_refused_by_its_place() {
        let list = |actual: f64| StockList {
            pieces: vec![StockPiece { called: 9.0, actual, plywood: true }],
            in_place: false,
        };
        assert!(check(&list(8.7)).is_ok());
        for actual in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let refused = check(&list(actual)).expect_err("none");
            assert!(refused.message.contains("piece 1 must be more than zero"), "{refused:?}");
        }
    }
}

//! What a cut list takes: the strips laid onto boards, what sheets and sisters to get, and the order of the work.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::framing::alternatives::height;
use crate::framing::boards;
use crate::room::rules::{Figures, LengthId, RuleId};
use survey::nesting::{Piece, Rip, Stock, nest};
use survey::shim_stock::{ShimStock, not_above};
use survey::units::{INCH_MM, Length};

/// What a room's cut list takes, with other sheets and shims than its own where they are tried out.
///
/// # Errors
/// `out-of-range` for a sheet of no thickness, else as [`cutting()`].
pub fn asked(mut file: RoomFile, ask: &CuttingAsk) -> Result<CuttingView, Refusal> {
    if let Some(list) = &ask.stock {
        boards::check(list)?;
        file.works.stock = Some(list.clone());
    }
    cutting(&file, ask.alternative.as_deref())
}

/// What the cut list of an alternative takes; of the one chosen where none is named.
///
/// # Errors
/// `not-ready` where no height can be chosen, `not-found` for an alternative that is none, `out-of-range` for boards
/// that are no size.
pub fn cutting(file: &RoomFile, alternative: Option<&str>) -> Result<CuttingView, Refusal> {
    let view = height(file, None)?;
    let chosen = named(&view, alternative)?;
    let figures = Figures::of(&file.rules);
    let board = Stock {
        length: board(&figures, LengthId::StockLength)?,
        width: board(&figures, LengthId::StockWidth)?,
        kerf: figures.length(LengthId::SawKerf),
    };
    let list = boards::stock(file);
    let measured = boards::measured(&list);
    let allowed: Vec<&JoistWork> = chosen.joists.iter().filter(|work| !barred(chosen, work)).collect();
    let fitted = |strip: CutStrip| {
        let from_stock = boards::in_place(&measured, strip.thinnest, strip.thickest, &figures);
        CutStrip { from_stock, ..strip }
    };
    let ripped = allowed.iter().filter(|work| is_ripped(work));
    let strips: Vec<CutStrip> = ripped.flat_map(|work| strips(work)).map(fitted).collect();
    Ok(CuttingView {
        alternative: chosen.name.clone(),
        sheets: sheets_of(&allowed, &measured),
        sisters: chosen.joists.iter().filter_map(|work| sister(file, &figures, work)).collect(),
        order: order(chosen, &|joist| list.in_place && all_from_stock(&strips, joist)),
        stock: list.clone(),
        own_stock: file.works.stock.is_some(),
        ..boards(strips, board, list)
    })
}

/// The strips that are ripped, laid onto boards.
fn boards(strips: Vec<CutStrip>, stock: Stock, list: StockList) -> CuttingView {
    let is_ripped = |strip: &CutStrip| !(list.in_place && strip.from_stock.is_some());
    let ripped: Vec<usize> = (0..strips.len()).filter(|&at| is_ripped(&strips[at])).collect();
    let piece = |&at: &usize| Piece {
        length: Length::mm(strips[at].to - strips[at].from),
        thickness: Length::mm(strips[at].thickest),
    };
    let laid = nest(&ripped.iter().map(piece).collect::<Vec<_>>(), stock);
    let place = |pieces: &[usize]| pieces.iter().map(|piece| ripped[*piece] as u32).collect::<Vec<u32>>();
    let rip = |rip: &Rip| RipView { thickness: rip.thickness.to_mm(), strips: place(&rip.pieces) };
    CuttingView {
        alternative: String::new(),
        stock_length: stock.length.to_mm(),
        stock_width: stock.width.to_mm(),
        kerf: stock.kerf.to_mm(),
        boards: laid.boards.iter().map(|board| BoardView { rips: board.iter().map(rip).collect() }).collect(),
        too_large: place(&laid.too_large),
        waste: laid.waste.to_f64(),
        sheets: Vec::new(),
        sisters: Vec::new(),
        order: Vec::new(),
        stock: list,
        own_stock: false,
        strips,
    }
}

/// The alternative of a name, or the one to build to.
pub fn named<'v>(view: &'v HeightView, name: Option<&str>) -> Result<&'v AlternativeView, Refusal> {
    let wanted = name.or(view.chosen.as_deref());
    let found = view.alternatives.iter().find(|one| Some(one.name.as_str()) == wanted);
    found.ok_or_else(|| match name {
        Some(name) => Refusal::not_found("alternative", name).field("alternative"),
        None => Refusal::new(Kind::NotReady, "No height was chosen yet that anybody may build to. Choose one first."),
    })
}

fn board(figures: &Figures, id: LengthId) -> Result<Length, Refusal> {
    let size = figures.length(id);
    let must = "more than zero: nothing is ripped from no board. Change it under Rules";
    if size > Length::ZERO { Ok(size) } else { Err(Refusal::out_of_range(RuleId::from(id).name(), must)) }
}

/// A cut that nobody approved is in no list, nor is what goes on top of it.
pub fn barred(alternative: &AlternativeView, work: &JoistWork) -> bool {
    let cuts = work.action == Action::AskEngineer || work.cuts.iter().flatten().any(|cut| *cut > 0.0);
    cuts && alternative.needs_approval && work.approval.is_none()
}

pub fn is_ripped(work: &JoistWork) -> bool {
    matches!(work.action, Action::Strip | Action::TallStrip | Action::DressAndStrip)
}

fn strips(work: &JoistWork) -> Vec<CutStrip> {
    let strip = |strip: &StripView| {
        let thick = strip.figures.iter().map(|figure| figure.thickness);
        CutStrip {
            joist: work.id.clone(),
            from: strip.from,
            to: strip.to,
            thickest: thick.clone().fold(0.0, f64::max),
            thinnest: thick.fold(f64::INFINITY, f64::min),
            from_stock: None,
        }
    };
    work.strips.iter().map(strip).collect()
}

fn all_from_stock(strips: &[CutStrip], joist: &str) -> bool {
    let mut own = strips.iter().filter(|strip| strip.joist == joist).peekable();
    own.peek().is_some() && own.all(|strip| strip.from_stock.is_some())
}

fn sheets_of(works: &[&JoistWork], stock: &[ShimStock]) -> Vec<SheetPiece> {
    let piece = |strip: CutStrip| {
        let (fits, left) = not_above(stock, Length::mm(strip.thickest))?;
        Some(SheetPiece {
            joist: strip.joist,
            length: strip.to - strip.from,
            gap: strip.thickest,
            called: fits.called.to_mm(),
            actual: fits.actual.to_mm(),
            left: left.to_mm(),
        })
    };
    let sheets = works.iter().filter(|work| work.action == Action::Sheet);
    sheets.flat_map(|work| strips(work)).filter_map(piece).collect()
}

/// A sister runs from bearing to bearing.
fn sister(file: &RoomFile, figures: &Figures, work: &JoistWork) -> Option<SisterView> {
    let joist = file.plan.joists.iter().find(|joist| joist.id == work.id && work.action == Action::Sister)?;
    let bearing = figures.length(LengthId::SisterBearing).to_mm();
    let length = joist.span + 2.0 * bearing;
    let step = if file.room.units == Units::In { 24.0 * INCH_MM } else { 300.0 };
    let buy = (length / step - 1e-9).ceil() * step;
    Some(SisterView { joist: joist.id.clone(), depth: joist.depth, length, bearing, buy })
}

/// The work in the order it is done: strength, then wood off, then wood on, and it is read again.
fn order(chosen: &AlternativeView, from_stock: &dyn Fn(&str) -> bool) -> Vec<WorkStep> {
    let of = |keep: &dyn Fn(&JoistWork) -> bool| -> Vec<String> {
        chosen.joists.iter().filter(|work| keep(work)).map(|work| work.id.clone()).collect()
    };
    let stopped = |work: &JoistWork| barred(chosen, work);
    let sistered = |work: &JoistWork| work.action == Action::Sister;
    let dressed = |work: &JoistWork| !stopped(work) && matches!(work.action, Action::Dress | Action::DressAndStrip);
    let lifted = |work: &JoistWork| !stopped(work) && !work.strips.is_empty() && !sistered(work);
    let any = |work: &JoistWork| work.action != Action::Leave;
    let all: [(WorkStepKind, Vec<String>); 7] = [
        (WorkStepKind::AskEngineer, of(&stopped)),
        (WorkStepKind::Sister, of(&sistered)),
        (WorkStepKind::Dress, of(&dressed)),
        (WorkStepKind::ReadAgain, of(&|work| sistered(work) || dressed(work))),
        (WorkStepKind::Rip, of(&|work| lifted(work) && !from_stock(&work.id))),
        (WorkStepKind::Fix, of(&lifted)),
        (WorkStepKind::Check, of(&any)),
    ];
    all.into_iter().filter(|(_, joists)| !joists.is_empty()).map(|(kind, joists)| WorkStep { kind, joists }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(alternative: Option<&str>) -> CuttingView {
        cutting(&crate::demo("kestrel").expect("the demo room"), alternative).expect("a cutting list")
    }

    #[test]
    fn the_hall_bath_takes_one_board_and_a_sister_of_twelve_feet() {
        let view = of(None);
        assert_eq!(view.alternative, "level-nothing-cut");
        // J4 in two strips; J6 is sistered; the five others in one strip of 90 in each.
        assert_eq!(view.strips.iter().filter(|strip| strip.joist == "J4").count(), 2);
        assert_eq!(view.strips.len(), 7, "{:?}", view.strips);
        let laid: usize = view.boards.iter().flat_map(|board| &board.rips).map(|rip| rip.strips.len()).sum();
        assert_eq!(laid, 7);
        // Six rips of 5/16, 7/16, 3/8, 5/8, 11/16 and 3/8 with an eighth of saw between them: 3.4 in of 3.5.
        assert_eq!(view.boards.len(), 1, "{:?}", view.boards);
        let sister = &view.sisters[0];
        assert!((sister.length - 141.0 * INCH_MM).abs() < 1e-9 && (sister.buy - 144.0 * INCH_MM).abs() < 1e-9);
        let order: Vec<WorkStepKind> = view.order.iter().map(|step| step.kind).collect();
        use WorkStepKind::{Check, Fix, ReadAgain, Rip, Sister};
        assert_eq!(order, [Sister, ReadAgain, Rip, Fix, Check]);
    }

    #[test]
    fn a_strip_of_one_thickness_may_come_from_a_sheet_that_measures_so() {
        let view = of(None);
        let fits: Vec<&CutStrip> = view.strips.iter().filter(|strip| strip.from_stock.is_some()).collect();
        // J3 is 44-1/4 all along: 3/8 up to 43-7/8. Plywood called 3/8 measures 11/32 and stays 1/32 under.
        assert_eq!(fits.iter().map(|strip| strip.joist.as_str()).collect::<Vec<_>>(), ["J3"]);
        let sheet = fits[0].from_stock.as_ref().expect("a sheet");
        let parts = [sheet.called, sheet.actual, sheet.under].map(|mm| (mm / INCH_MM * 32.0 * 1e6).round() / 1e6);
        assert_eq!((parts, sheet.plywood), ([12.0, 11.0, 1.0], true));
        assert!(!view.stock.in_place && !view.own_stock);
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.works.stock = Some(StockList { in_place: true, ..view.stock });
        let taken = cutting(&file, None).expect("a cutting list");
        let laid: Vec<u32> =
            taken.boards.iter().flat_map(|board| &board.rips).flat_map(|rip| rip.strips.clone()).collect();
        assert_eq!((laid.len(), taken.strips.len()), (6, 7));
        assert!(laid.iter().all(|at| taken.strips[*at as usize].joist != "J3"));
        let rip = taken.order.iter().find(|step| step.kind == WorkStepKind::Rip).expect("some are ripped");
        assert!(!rip.joists.contains(&"J3".to_string()));
    }

    #[test]
    fn what_the_guard_forbids_is_in_no_list() {
        for name in ["level-by-approval", "level-sister-high"] {
            let view = of(Some(name));
            let asked = &view.order[0];
            assert_eq!(asked.kind, WorkStepKind::AskEngineer, "{name}");
            let barred = |joist: &String| asked.joists.contains(joist);
            assert!(!view.strips.iter().any(|strip| barred(&strip.joist)), "{name}");
            assert!(!view.order.iter().any(|step| step.kind == WorkStepKind::Dress), "{name}");
        }
    }

    #[test]
    fn boards_of_no_size_and_alternatives_that_are_none_are_refused() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        assert_eq!(cutting(&file, Some("higher")).expect_err("no such").kind, Kind::NotFound);
        file.rules.changed.insert("stock-width".to_string(), 0.0);
        assert_eq!(cutting(&file, None).expect_err("no board").kind, Kind::OutOfRange);
    }
}

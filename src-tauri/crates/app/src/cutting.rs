//! What a cut list takes: the strips laid onto boards, what sheets and sisters to get, and the order of the work.

mod templates;

use crate::app::App;
use crate::height::height;
use crate::refusal::{Kind, Refusal};
use crate::rules::Figures;
use crate::wire::*;
use survey::nesting::{Piece, Rip, Stock, nest};
use survey::shim_stock::not_above;
use survey::units::{INCH_MM, Length};

impl App {
    /// What a room's cut list takes.
    ///
    /// # Errors
    /// `not-found` for an unknown room, else as [`cutting()`].
    pub fn cutting(&self, room: &str, alternative: Option<&str>) -> Result<CuttingView, Refusal> {
        cutting(&self.room_state(room)?, alternative)
    }
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
    let stock = Stock {
        length: board(&figures, "stock-length")?,
        width: board(&figures, "stock-width")?,
        kerf: figures.length("saw-kerf"),
    };
    let allowed: Vec<&JoistWork> = chosen.joists.iter().filter(|work| !barred(chosen, work)).collect();
    let strips: Vec<CutStrip> = allowed.iter().filter(|work| is_ripped(work)).flat_map(|work| strips(work)).collect();
    let piece =
        |strip: &CutStrip| Piece { length: Length::mm(strip.to - strip.from), thickness: Length::mm(strip.thickest) };
    let laid = nest(&strips.iter().map(piece).collect::<Vec<_>>(), stock);
    let rip = |rip: &Rip| RipView {
        thickness: rip.thickness.to_mm(),
        strips: rip.pieces.iter().map(|piece| *piece as u32).collect(),
    };
    Ok(CuttingView {
        alternative: chosen.name.clone(),
        stock_length: stock.length.to_mm(),
        stock_width: stock.width.to_mm(),
        kerf: stock.kerf.to_mm(),
        boards: laid.boards.iter().map(|board| BoardView { rips: board.iter().map(rip).collect() }).collect(),
        too_large: laid.too_large.iter().map(|strip| *strip as u32).collect(),
        waste: laid.waste.to_f64(),
        sheets: allowed.iter().filter(|work| work.action == Action::Sheet).flat_map(|work| sheets(work)).collect(),
        sisters: chosen.joists.iter().filter_map(|work| sister(file, &figures, work)).collect(),
        order: order(chosen),
        strips,
    })
}

/// The alternative of a name, or the one to build to.
pub(crate) fn named<'v>(view: &'v HeightView, name: Option<&str>) -> Result<&'v AlternativeView, Refusal> {
    let wanted = name.or(view.chosen.as_deref());
    let found = view.alternatives.iter().find(|one| Some(one.name.as_str()) == wanted);
    found.ok_or_else(|| match name {
        Some(name) => Refusal::not_found("alternative", name).field("alternative"),
        None => Refusal::new(Kind::NotReady, "No height was chosen yet that anybody may build to. Choose one first."),
    })
}

fn board(figures: &Figures, id: &str) -> Result<Length, Refusal> {
    let size = figures.length(id);
    let must = "more than zero: nothing is ripped from no board. Change it under Rules";
    if size > Length::ZERO { Ok(size) } else { Err(Refusal::out_of_range(id, must)) }
}

/// A cut that nobody approved is in no list, nor is what goes on top of it.
pub(crate) fn barred(alternative: &AlternativeView, work: &JoistWork) -> bool {
    let cuts = work.action == Action::AskEngineer || work.cuts.iter().flatten().any(|cut| *cut > 0.0);
    cuts && alternative.needs_approval && work.approval.is_none()
}

fn is_ripped(work: &JoistWork) -> bool {
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
        }
    };
    work.strips.iter().map(strip).collect()
}

fn sheets(work: &JoistWork) -> Vec<SheetPiece> {
    let piece = |strip: CutStrip| {
        let (stock, left) = not_above(Length::mm(strip.thickest))?;
        Some(SheetPiece {
            joist: strip.joist,
            length: strip.to - strip.from,
            gap: strip.thickest,
            called: stock.called.to_mm(),
            actual: stock.actual.to_mm(),
            left: left.to_mm(),
        })
    };
    strips(work).into_iter().filter_map(piece).collect()
}

/// A sister runs from bearing to bearing.
fn sister(file: &RoomFile, figures: &Figures, work: &JoistWork) -> Option<SisterView> {
    let joist = file.plan.joists.iter().find(|joist| joist.id == work.id && work.action == Action::Sister)?;
    let bearing = figures.mm("sister-bearing");
    let length = joist.span + 2.0 * bearing;
    let step = if file.room.units == Units::In { 24.0 * INCH_MM } else { 300.0 };
    let buy = (length / step - 1e-9).ceil() * step;
    Some(SisterView { joist: joist.id.clone(), depth: joist.depth, length, bearing, buy })
}

/// The work in the order it is done: strength, then wood off, then wood on, and it is read again.
fn order(chosen: &AlternativeView) -> Vec<WorkStep> {
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
        (WorkStepKind::Rip, of(&lifted)),
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

//! What a cut list takes: which strip from which board, what to buy, in what order to work.

use super::{StockList, wire, words};

words! {
    /// The steps of the work, in the order they are done.
    pub enum WorkStepKind {
        AskEngineer,
        Sister,
        ReadAgain,
        Dress,
        Rip,
        Fix,
        Check,
    }
}

wire! {
    pub struct CuttingAsk {
        pub room: String,
        /// The alternative; the one chosen if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub alternative: Option<String>,
        /// Sheets and shims that are tried out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub stock: Option<StockList>,
    }

    pub struct CuttingView {
        pub alternative: String,
        pub strips: Vec<CutStrip>,
        pub stock_length: f64,
        pub stock_width: f64,
        pub kerf: f64,
        /// The rips of each board.
        pub boards: Vec<BoardView>,
        /// The strips that no such board gives.
        pub too_large: Vec<u32>,
        /// The share of the boards that becomes no strip.
        pub waste: f64,
        pub sheets: Vec<SheetPiece>,
        pub sisters: Vec<SisterView>,
        /// What sheets and shims there are, and whether the list is the room's own or the common one.
        pub stock: StockList,
        pub own_stock: bool,
        pub order: Vec<WorkStep>,
    }

    /// A strip as it is ripped.
    pub struct CutStrip {
        pub joist: String,
        pub from: f64,
        pub to: f64,
        pub thickest: f64,
        pub thinnest: f64,
        /// What could take its place.
        pub from_stock: Option<FromStock>,
    }

    /// A sheet or a shim in the place of a strip, and how far it stays under the strip's line at most.
    pub struct FromStock {
        pub called: f64,
        pub actual: f64,
        pub plywood: bool,
        pub under: f64,
    }

    pub struct BoardView {
        pub rips: Vec<RipView>,
    }

    pub struct RipView {
        pub thickness: f64,
        /// The strips in it, by their place in the list.
        pub strips: Vec<u32>,
    }

    /// What sheet material fills under a deck, and what is left of the gap.
    pub struct SheetPiece {
        pub joist: String,
        pub length: f64,
        pub gap: f64,
        pub called: f64,
        pub actual: f64,
        pub left: f64,
    }

    /// A joist to be fixed beside another.
    pub struct SisterView {
        pub joist: String,
        /// The depth of the old one, which it may not exceed where walls and hall stand on it.
        pub depth: f64,
        /// Bearing to bearing.
        pub length: f64,
        /// On each end, at least.
        pub bearing: f64,
        /// The length to buy, in whole feet or steps of 300 mm.
        pub buy: f64,
    }

    pub struct WorkStep {
        pub kind: WorkStepKind,
        pub joists: Vec<String>,
    }

    /// How the clear spans of a room stand beside the common ones: an indication, never a design.
    pub struct StiffnessView {
        pub rows: Vec<SpanRow>,
        /// The joists that no common table knows.
        pub not_sawn: Vec<String>,
    }

    /// Joists of one size and span.
    pub struct SpanRow {
        pub joists: Vec<String>,
        pub depth: f64,
        pub span: f64,
        pub spacing: f64,
        pub reaches: Vec<SpanReach>,
    }

    /// The longest span that is common where the floor bends one part in so many.
    pub struct SpanReach {
        pub ratio: f64,
        pub longest: f64,
        /// The joists span no more.
        pub reaches: bool,
    }
}

//! The name of every figure: which there are, what each is a figure of, and how it is written.

macro_rules! ids {
    ($($(#[$doc:meta])* $of:ident($kind:ident) { $($id:ident = $name:literal,)* })*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
            pub enum $kind { $($id,)* }

            impl From<$kind> for RuleId {
                fn from(id: $kind) -> Self {
                    Self::$of(id)
                }
            }
        )*

        /// One figure that decides something.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum RuleId { $($of($kind),)* }

        impl RuleId {
            /// Every figure there is.
            pub const ALL: &[Self] = &[$($(Self::$of($kind::$id),)*)*];

            /// How it is written in files, in the journal and on the wire: `framing-flat`.
            pub const fn name(self) -> &'static str {
                match self { $($(Self::$of($kind::$id) => $name,)*)* }
            }

            /// The figure that is written so; none for any other text.
            pub fn named(name: &str) -> Option<Self> {
                match name {
                    $($($name => Some(Self::$of($kind::$id)),)*)*
                    _ => None,
                }
            }
        }
    };
}

ids! {
    /// The figures that are lengths, mm.
    Length(LengthId) {
        Closing = "closing",
        ReadingSd = "reading-sd",
        FarOff = "far-off",
        LineWidth = "line-width",
        Strong = "strong",
        FramingFlat = "framing-flat",
        FramingFlatShort = "framing-flat-short",
        FramingCrown = "framing-crown",
        OfTheRest = "of-the-rest",
        Level = "level",
        Twist = "twist",
        TileLargeLong = "tile-large-long",
        TileLargeShort = "tile-large-short",
        TileSmallLong = "tile-small-long",
        TileSmallShort = "tile-small-short",
        TileLargeEdge = "tile-large-edge",
        EntryLow = "entry-low",
        LayerSd = "layer-sd",
        Subfloor = "subfloor",
        DeckSheet = "deck-sheet",
        BedLeast = "bed-least",
        DrainHole = "drain-hole",
        DrainClearance = "drain-clearance",
        JoistThickness = "joist-thickness",
        FallRun = "fall-run",
        PondDepth = "pond-depth",
        EntryLevel = "entry-level",
        LedgeSd = "ledge-sd",
        GapSd = "gap-sd",
        StockLength = "stock-length",
        StockWidth = "stock-width",
        SawKerf = "saw-kerf",
        StockShort = "stock-short",
        SisterBearing = "sister-bearing",
        StripLeast = "strip-least",
        StripSheetBelow = "strip-sheet-below",
        StripMost = "strip-most",
        StripTall = "strip-tall",
        DressMost = "dress-most",
        FloodDepth = "flood-depth",
        FloodLoss = "flood-loss",
        FloodMarkSd = "flood-mark-sd",
    }

    /// The figures that are slopes, rise over run.
    Slope(SlopeId) {
        TiltSd = "tilt-sd",
        FallLeast = "fall-least",
        FallMost = "fall-most",
        LedgeLeast = "ledge-least",
        LedgeMost = "ledge-most",
        MaxTilt = "max-tilt",
    }

    /// The figures that are plain numbers: ratios, hours, degrees, weights, a probability.
    Number(NumberId) {
        SagRatio = "sag-ratio",
        EngineerSagRatio = "engineer-sag-ratio",
        LedgeTiltSd = "ledge-tilt-sd",
        CostStrip = "cost-strip",
        CostStripMm = "cost-strip-mm",
        CostSister = "cost-sister",
        CostDress = "cost-dress",
        CostDoorMm = "cost-door-mm",
        FloodHours = "flood-hours",
        Confidence = "confidence",
    }

    /// The figures that are a yes or a no.
    Flag(FlagId) {
        StripTallAllowed = "strip-tall-allowed",
        WetRoom = "wet-room",
    }
}

//! The form of every answer: a value, and what was wrong with the data it came from.

/// An answer together with everything about the data that the reader should know.
///
/// Poor data never turns an answer into an error: the value is the best that can be had and `problems` says what
/// to think of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis<T> {
    pub value: T,
    pub problems: Vec<Problem>,
}

impl<T> Analysis<T> {
    /// An answer with nothing to say against it.
    pub fn clean(value: T) -> Self {
        Self { value, problems: Vec::new() }
    }

    /// The same problems beside another value.
    pub fn map<U>(self, to: impl FnOnce(T) -> U) -> Analysis<U> {
        Analysis { value: to(self.value), problems: self.problems }
    }
}

/// One thing the reader of an answer should know, and where it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    pub kind: ProblemKind,
    /// A sentence for a person on site.
    pub message: String,
    /// The index into the input, the joist or the point it is about.
    pub at: Option<String>,
}

impl Problem {
    /// A problem of the data as a whole.
    pub fn new(kind: ProblemKind, message: impl Into<String>) -> Self {
        Self { kind, message: message.into(), at: None }
    }

    /// A problem at one place of the input.
    pub fn at(kind: ProblemKind, at: impl ToString, message: impl Into<String>) -> Self {
        Self { kind, message: message.into(), at: Some(at.to_string()) }
    }
}

/// What can be wrong with data that still yields an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ProblemKind {
    /// A reading was left out because its height is missing.
    MissingReading,
    /// Two readings stand at one plan position with different heights.
    DuplicatePoint,
    /// As many unknowns as readings: nothing is left to check the fit with.
    NoRedundancy,
    /// A corner of the boundary has no reading.
    CornerNotRead,
    /// Nobody has said whether the joist is sound.
    NotLookedAt,
    /// The readings of the joists span no plane to hold each against.
    NoSharedPlane,
    /// Every joist needs a sister: none is left to set the height.
    NoSoundJoist,
    /// A joist that is sistered stands above a height that asks for no approval: its old top is in the way.
    OldTopAbove,
    /// Good only where no water is spilled.
    DryRoomsOnly,
    /// A setting was held at the most it may be.
    SettingHeld,
    /// A figure that has no upper bound for these readings.
    Unbounded,
    /// A reading lies outside the boundary.
    OutsideBoundary,
    /// A part of the floor touches no outlet.
    NoWayToDrain,
    /// Part of the line is read too sparsely for the reach.
    PartlyTested,
}

impl ProblemKind {
    /// The name used on every wire: `missing-reading`.
    pub fn name(self) -> &'static str {
        match self {
            Self::MissingReading => "missing-reading",
            Self::DuplicatePoint => "duplicate-point",
            Self::NoRedundancy => "no-redundancy",
            Self::CornerNotRead => "corner-not-read",
            Self::NotLookedAt => "not-looked-at",
            Self::NoSharedPlane => "no-shared-plane",
            Self::NoSoundJoist => "no-sound-joist",
            Self::OldTopAbove => "old-top-above",
            Self::DryRoomsOnly => "dry-rooms-only",
            Self::SettingHeld => "setting-held",
            Self::Unbounded => "unbounded",
            Self::OutsideBoundary => "outside-boundary",
            Self::NoWayToDrain => "no-way-to-drain",
            Self::PartlyTested => "partly-tested",
        }
    }
}

use serde::Serialize;

/// What was decided. Each has its own drawing and its own word; none has a colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// Two surfaces meeting flush.
    Within,
    /// One stepped below the line of the other.
    Out,
    /// One of the two is only dashed.
    TooClose,
    /// Both are.
    NotTested,
}

/// Where a limit comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Clause {
    /// The clause, "R502.8.1", or "common practice".
    pub clause: String,
    /// The edition or year; `None` for common practice.
    pub edition: Option<String>,
    /// How the figure came here: "read in …", "recalled, not read", "edited in this room".
    pub provenance: Option<String>,
}

/// One judged figure with everything needed to dispute it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Verdict {
    pub mark: Mark,
    /// A sentence: what was judged, and where.
    pub sentence: String,
    /// A figure, "11/16 in".
    pub value: Option<String>,
    /// A figure, "at most 1/8 in in 8 ft".
    pub limit: Option<String>,
    /// A figure, "±1/16 in at k = 2".
    pub uncertainty: Option<String>,
    pub clause: Option<Clause>,
    /// A sentence: which readings to take again.
    pub retake: Option<String>,
    /// A sentence: what else belongs to the figure, such as what a perfect floor would show.
    pub note: Option<String>,
}

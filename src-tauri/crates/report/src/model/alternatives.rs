use serde::Serialize;

/// The heights the floor could be built to, side by side.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Alternatives {
    /// A sentence: what the rises are, "rise at the door wall, inches; door budget 3/8".
    pub caption: String,
    pub rows: Vec<Alternative>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Alternative {
    /// A sentence: "Level at 43-7/8, nothing cut".
    pub name: String,
    pub chosen: bool,
    pub rises: Vec<Rise>,
    /// Sentences: what it takes.
    pub needs: Vec<String>,
    pub approval: Approval,
    /// Sentences that must be read with it.
    pub cautions: Vec<String>,
}

/// How far the floor comes up at one place of the door wall.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Rise {
    /// "J1", or "left jamb".
    pub place: String,
    /// A figure.
    pub rise: String,
    /// Jambs stand out from the joists between them.
    pub jamb: bool,
}

/// Whether somebody has to agree in writing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "state", content = "text")]
pub enum Approval {
    NotNeeded,
    /// Nothing is on record: prints empty lines to be filled in and signed.
    Needed,
    /// Typed: by whom, date, reference, greatest depth, from and to.
    Recorded(String),
}

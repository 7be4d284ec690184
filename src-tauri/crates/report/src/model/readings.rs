use serde::Serialize;

/// The readings as they were taken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Readings {
    /// A sentence: sense and unit, "down from the line, inches".
    pub caption: String,
    /// A figure each: the stations.
    pub columns: Vec<String>,
    pub rows: Vec<ReadingRow>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingRow {
    pub name: String,
    /// One a column; short rows leave the rest unread.
    pub cells: Vec<Cell>,
}

#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Cell {
    /// A figure; empty when not read.
    pub figure: String,
    /// A sentence, set below the table: "first typed 43-1/8, corrected at 14:07".
    pub note: Option<String>,
}

//! The table of what things cost: each benchmark fills its part, and writes it where the verb `bench` gathers them.

use crate::beside;
use std::fmt::Write as _;
use std::fs;
use std::process::ExitCode;

/// The columns of the whole table.
pub const HEAD: &str =
    "| what | size | ours | allowed | beside | ratio | grows: time, memory |\n|---|--:|--:|--:|---|--:|---|\n";

/// One figure; what does not apply stays empty.
#[derive(Debug, Default)]
pub struct Row {
    pub what: String,
    pub size: String,
    pub ours: String,
    pub allowed: String,
    pub beside: String,
    pub ratio: String,
    pub growth: String,
    /// Whether it lies beyond what is allowed.
    pub over: bool,
}

impl Row {
    /// A figure in some unit that may be so much at most.
    pub fn at_most(what: &str, figure: f64, limit: f64, unit: &str) -> Self {
        let (ours, allowed) = (format!("{} {unit}", short(figure)), format!("≤ {} {unit}", short(limit)));
        // What could not be measured is over, too.
        Self { ours, allowed, over: figure.is_nan() || figure > limit, ..Self::plain(what) }
    }

    /// How many times as fast as another library, in the same run.
    pub fn times_as_fast(what: &str, beside: &str, [ours, theirs]: [f64; 2], least: f64) -> Self {
        let ratio = theirs / ours;
        let allowed = if least > 0.0 { format!("≥ {least} times") } else { String::new() };
        let over = ratio.is_nan() || ratio < least;
        let ours = format!("{} ms", short(ours * 1e3));
        let beside = format!("{beside}: {} ms", short(theirs * 1e3));
        Self { ours, allowed, beside, ratio: short(ratio), over, ..Self::plain(what) }
    }

    /// A figure that nothing is asked of.
    pub fn told(what: &str, ours: impl Into<String>) -> Self {
        Self { ours: ours.into(), ..Self::plain(what) }
    }

    /// The same, of so many.
    pub fn of(self, size: impl ToString) -> Self {
        Self { size: size.to_string(), ..self }
    }

    fn plain(what: &str) -> Self {
        Self { what: what.into(), ..Self::default() }
    }

    fn line(&self) -> String {
        let Self { what, size, ours, allowed, beside, ratio, growth, over } = self;
        let allowed = if *over { format!("{allowed} **OVER**") } else { allowed.clone() };
        format!("| {what} | {size} | {ours} | {allowed} | {beside} | {ratio} | {growth} |\n")
    }
}

/// Prints the rows, keeps them as `target/bench/NAME.md`, and fails where one is over.
pub fn close(name: &str, rows: &[Row]) -> ExitCode {
    let mut text = String::new();
    for row in rows {
        // Writing to a text cannot fail.
        let _ = write!(text, "{}", row.line());
    }
    print!("{HEAD}{text}");
    let folder = beside("../bench");
    fs::create_dir_all(&folder).and_then(|()| fs::write(folder.join(format!("{name}.md")), text)).expect("the table");
    if rows.iter().any(|row| row.over) { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// Three figures or so.
pub fn short(figure: f64) -> String {
    match figure.abs() {
        size if size >= 100.0 => format!("{figure:.0}"),
        size if size >= 10.0 => format!("{figure:.1}"),
        size if size >= 0.1 || size == 0.0 => format!("{figure:.2}"),
        _ => format!("{figure:.4}"),
    }
}

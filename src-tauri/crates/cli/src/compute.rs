//! `truefall compute OPERATION`: JSON in, JSON out.

use crate::print::print;
use app::{Kind, Refusal};
use std::io::Read;
use std::process::ExitCode;

/// Runs one operation on standard input.
pub(crate) fn compute(operation: &str) -> Result<ExitCode, Refusal> {
    let mut input = String::new();
    std::io::stdin()
        .read_to_string(&mut input)
        .map_err(|error| Refusal::new(Kind::NotJson, format!("Standard input could not be read as text: {error}.")))?;
    print(&(app::compute(operation, &input)? + "\n"));
    Ok(ExitCode::SUCCESS)
}

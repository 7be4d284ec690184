//! `truefall compute OPERATION`: JSON in, JSON out.

use app::{Kind, Refusal};
use std::io::Read;
use std::process::ExitCode;

/// Runs one operation on standard input.
pub(crate) fn compute(operation: &str) -> Result<ExitCode, Refusal> {
    let mut input = String::new();
    std::io::stdin()
        .read_to_string(&mut input)
        .map_err(|error| Refusal::new(Kind::NotJson, format!("Standard input could not be read as text: {error}.")))?;
    println!("{}", app::compute(operation, &input)?);
    Ok(ExitCode::SUCCESS)
}

//! Writes the sheet of the Kestrel Lane hall bath: `cargo run -p report --example kestrel > kestrel.pdf`.

#[path = "../tests/kestrel/mod.rs"]
mod kestrel;

use std::io::Write;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let bytes = report::pdf(&kestrel::sheet())?;
    std::io::stdout().write_all(&bytes)?;
    Ok(())
}

//! Tests across crates.

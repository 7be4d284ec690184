//! Rooms, the command line, the numbers and the wire, each from more than one crate.

mod demo;
mod keeping;
mod numbers;
mod wire_types;

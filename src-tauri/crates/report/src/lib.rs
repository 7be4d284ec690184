//! The sheets of a room as PDF bytes: no files, no clock, no other program, fonts inside.

pub mod model;

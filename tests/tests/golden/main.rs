//! Every answer as it was kept: the same questions to the same rooms by the same clock get the same bytes.
//!
//! A book is a file of `tests/golden`: a question on its own line after `? `, then its answer, line by line, after
//! `= `, or its refusal after `! `. `UPDATE=1 cargo test -p site-tests --test golden` writes the books again. Each run
//! lays its answers beside the build, under `golden/`, none of them shortened to a digest: two builds are compared there.

mod bench;
mod bent;
mod book;
mod compute;
mod difference;
mod entries;
mod files;
mod forms;
mod keeping;
mod records;
mod requests;
mod rooms;
mod terminal;
mod views;
mod weathered;
mod works;

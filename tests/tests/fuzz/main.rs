//! Nothing that comes from outside breaks the program: whatever the bytes, it reads them or says in a sentence why not.
//!
//! Each target is a file: where bytes come in, a few good ones to begin from, and what must hold of any others. `bend`
//! makes others of them, `trial` tries these in numbers (`TRUEFALL_LONG`: for ten minutes a target, or for
//! `TRUEFALL_FUZZ_MINUTES`), and what ever broke a target lies under `found` and is tried again each time.
//! `rooms` is the same for the whole program: any changes in any order, beside a plain model of what must be there.

mod backup;
mod bend;
mod compute;
mod csv;
mod drawing;
mod lengths;
mod payload;
mod pdf;
mod profile;
mod room_file;
mod rooms;
mod said;
mod trial;

/// Counts what is on the heap, so that a target can be held to a bound.
#[global_allocator]
static HEAP: peak_alloc::PeakAlloc = peak_alloc::PeakAlloc;

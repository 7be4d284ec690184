//! The one journal: every change as an entry, chained by hashes, undone by further entries, never altered.

mod append;
mod chain;
mod entry;
mod hash;
mod history;
mod rebuild;
mod undo;

pub use chain::{Chain, verify_chain};
pub(crate) use entry::take as take_entry;
pub use entry::{Appended, Entry, Head, Inverse, Recorded};
pub use hash::{ChainHash, NotAHash};

//! The rooms on disk: one journal, and the tables it fills.
//!
//! `store` carries bytes and knows no command. Every change is an [`Entry`] appended to the chain of its room in the
//! same transaction that updates the tables; the tables are a projection and can be rebuilt from the journal
//! ([`Store::rebuild`]). What [`Store::write`] has returned from is on disk.
//!
//! Rows are plain structs. Lengths are [`survey::units::Length`], times RFC 3339 text with an offset, ids text of
//! the caller's making. An id of a row is unique within its room, an id of an entry everywhere.
//!
//! ```
//! use store::{Entry, Room, RoomId, Store, StoreError, Units};
//!
//! let store = Store::in_memory()?;
//! let appended = store.write(|tx| -> Result<_, StoreError> {
//!     let entry = Entry::new("e1", "2031-04-02T07:31:05-05:00", "phone", "create-room", r#"{"name":"Hall bath"}"#);
//!     let appended = tx.append(&entry)?;
//!     if !appended.repeat {
//!         tx.rooms().insert(&Room::new("r1", "Hall bath", Units::Inches, "2031-04-02T07:31:05-05:00"))?;
//!     }
//!     Ok(appended)
//! })?;
//! assert_eq!(appended.seq, 1);
//! assert_eq!(store.read(|read| read.rooms().get(&RoomId::from("r1")))?.unwrap().name, "Hall bath");
//! # Ok::<(), StoreError>(())
//! ```

mod access;
mod answers;
mod approvals;
mod backup;
mod check;
mod columns;
mod documents;
mod error;
mod examine;
#[cfg(test)]
mod examples;
mod id;
mod journal;
mod migrate;
mod opening;
mod photographs;
mod place;
mod private;
mod readings;
mod rooms;
mod salvage;
mod setups;
mod store;
mod tables;
mod ticks;

pub use access::{Read, ReadOnly, ReadWrite, Rows, Tx};
pub use answers::Answer;
pub use approvals::Approval;
pub use documents::Document;
pub use error::StoreError;
pub use id::{ApprovalId, EntryId, ReadingId, RoomId, SetupId};
pub use journal::{Appended, Chain, ChainHash, Entry, Head, Inverse, NotAHash, Recorded, verify_chain};
pub use migrate::VERSION;
pub use photographs::Photograph;
pub use private::{PrivateText, SALT_BYTES, is_digest, private_digest};
pub use readings::{Measured, ProfileName, Reading};
pub use rooms::{Listed, Room, Units};
pub use salvage::{Salvaged, salvage};
pub use setups::{Setup, Sighting};
pub use store::Store;
pub use ticks::Tick;

//! Files in and out: room files, records, tables, drawings, and what they prove.

pub(crate) mod atomic_write;
pub(crate) mod attachments;
mod bring_in;
pub(crate) mod csv_readings;
pub(crate) mod drawing;
pub(crate) mod file_name;
pub(crate) mod incoming;
mod journal_check;
pub(crate) mod journal_entries;
pub(crate) mod record;
pub(crate) mod reminders;
pub(crate) mod room_file;
pub(crate) mod room_zip;
pub(crate) mod sha256sums;
pub(crate) mod templates;
pub(crate) mod verify;

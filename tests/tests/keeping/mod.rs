//! What is entered is kept: rooms, photographs, the record, backups, and files of earlier versions.

mod backup;
mod coming_in;
mod entries;
mod photographs;
mod record;
mod released;
mod rooms;
mod searching;

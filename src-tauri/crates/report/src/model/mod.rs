//! What a sheet says, as plain data. The app fills it; [`pdf`](crate::pdf) sets it.
//!
//! Two kinds of text: *typed* text (names, places, notes of people) is printed character by character as it is;
//! a *sentence* or a *figure* comes from the app, and a fraction in it, `43-7/8`, is set as one.
//! Places and thicknesses are quantities for the drawings; every number that is printed comes as a figure.

mod alternatives;
mod caution;
mod cut_list;
mod full_size;
mod map;
mod mm;
mod profiles;
mod readings;
mod sheet;
mod verdict;

pub use alternatives::{Alternative, Alternatives, Approval, Rise};
pub use caution::Caution;
pub use cut_list::{Action, CutList, Piece, Strip, Thickness};
pub use full_size::{FullSize, FullSizeStop, FullSizeStrip};
pub use map::{Band, JoistLine, Map, Opening, Side, Spot, Straightedge, Walls};
pub use profiles::{Profile, ProfilePoint, Profiles};
pub use readings::{Cell, ReadingRow, Readings};
pub use sheet::{
    Attachment, Evidence, Finding, Listed, Method, Moment, Paper, Picture, Relationship, Sheet, Signature, TitleBlock,
};
pub use verdict::{Clause, Mark, Verdict};

//! The rooms open to other devices. The core opens no socket: whoever can, lends it a [`Crew`].

mod orders;

use crate::forms::{CrewChange, CrewDraw, CrewHere, CrewOpen, CrewRevoke, CrewView};
use judge::Refusal;

/// The name that stands for the crew where a room would be named.
pub const CREW: &str = "crew";

/// What is wanted of the crew by the home device.
#[derive(Debug, Clone, PartialEq)]
pub enum CrewOrder {
    Look,
    Open(CrewOpen),
    Close,
    Draw(CrewDraw),
    Change(CrewChange),
    Revoke(CrewRevoke),
    /// What the home device looks at.
    Here(CrewHere),
}

/// What opens the rooms to other devices.
pub trait Crew: Send + Sync {
    /// Does what the home device wants, and says how things stand.
    ///
    /// # Errors
    /// Why it cannot be done.
    fn order(&self, order: CrewOrder) -> Result<CrewView, Refusal>;
}

//! The one command table: every change a room can undergo, by name.
//!
//! `apply` is the only caller of table writes. It serves a change as it is made and a journal as it is replayed, so
//! tables rebuilt from the journal are equal to those that were written.

mod approvals;
mod choices;
pub(crate) mod entries;
mod gate;
mod import;
mod plan;
mod readings;
mod room_check;
mod rooms;
mod setups;
mod upgrade;
mod works;

pub(crate) use approvals::approval;
pub(crate) use gate::answer;
pub(crate) use readings::reading;
pub(crate) use room_check::check_file;
pub(crate) use setups::setup;
pub(crate) use upgrade::to_present;

use crate::fault::Fault;
use crate::forms::*;
use judge::forms::json;
use judge::{Kind, Refusal};
use serde::Serialize;
use serde::de::DeserializeOwned;
use store::{Inverse, RoomId, Tx};

/// What a command is applied to: one room within one transaction, and the header of its entry.
pub(crate) struct Page<'a> {
    pub(crate) tx: &'a Tx<'a>,
    pub(crate) room: &'a RoomId,
    pub(crate) at: &'a str,
    pub(crate) person: Option<&'a str>,
}

/// A payload that knows its command's name.
pub(crate) trait Command: Serialize + DeserializeOwned {
    const NAME: &'static str;
}

/// A payload that can be written into the tables.
pub(crate) trait Apply {
    /// Makes the change and returns the command that would take it back; none if nothing can.
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault>;

    /// Looks at the payload before it enters the journal; what was journaled once is not looked at again.
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(())
    }
}

macro_rules! commands {
    ($($name:literal => $payload:ty),* $(,)?) => {
        $(impl Command for $payload {
            const NAME: &'static str = $name;
        })*

        /// The names of all commands.
        pub const COMMANDS: &[&str] = &[$($name),*];

        /// Applies a payload to the tables, checking it first if it is new.
        pub(crate) fn apply(
            page: &Page<'_>,
            command: &str,
            form: u32,
            payload: &str,
            is_new: bool,
        ) -> Result<Option<Inverse>, Fault> {
            let payload = upgrade::to_present(command, form, payload)?;
            match command {
                $($name => run::<$payload>(page, &payload, is_new),)*
                other => Err(unknown(other).into()),
            }
        }
    };
}

commands! {
    "room-new" => RoomNew,
    "room-rename" => RoomRename,
    "room-archive" => RoomArchive,
    "room-import" => RoomImport,
    "plan-set" => PlanSet,
    "setup-open" => SetupOpen,
    "setup-withdraw" => SetupWithdraw,
    "setup-close" => SetupClose,
    "reading-add" => ReadingAdd,
    "readings-withdraw" => ReadingsWithdraw,
    "readings-import" => ReadingsImport,
    "import-withdraw" => ImportWithdraw,
    "gate-set" => GateSet,
    "gate-clear" => GateClear,
    "approval-add" => ApprovalAdd,
    "approval-withdraw" => ApprovalWithdraw,
    "rule-set" => RuleSet,
    "decision-set" => DecisionSet,
    "tile-set" => TileSet,
    "falls-set" => FallsSet,
    "layers-set" => LayersSet,
    "pour-set" => PourSet,
    "fall-plan-set" => FallPlanSet,
    "ledges-set" => LedgesSet,
    "tiling-set" => TilingSet,
    "door-set" => DoorSet,
    "stock-set" => StockSet,
    "target-set" => TargetSet,
    "tick-set" => TickSet,
    "entry-put" => EntryPut,
    "entry-remove" => EntryRemove,
}

fn run<P: DeserializeOwned + Apply>(page: &Page<'_>, payload: &str, is_new: bool) -> Result<Option<Inverse>, Fault> {
    let payload: P = json::read(payload)?;
    if is_new {
        payload.check(page)?;
    }
    payload.apply(page)
}

fn unknown(command: &str) -> Refusal {
    let known = COMMANDS.join(", ");
    Refusal::new(Kind::UnknownCommand, format!("There is no command {command:?}. There are: {known}.")).field("command")
}

/// The command that takes a change back.
fn inverse<P: Command>(payload: &P) -> Result<Option<Inverse>, Fault> {
    let payload = json::write(payload)?.into_bytes();
    Ok(Some(Inverse { command: P::NAME.to_string(), form: upgrade::FORM, payload }))
}

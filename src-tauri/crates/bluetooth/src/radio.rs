//! The boundary to a radio. No word of any radio library passes it, and nothing here waits.
//!
//! A call begins something and returns at once; what came of it is an event, taken by `poll`. A real radio wakes the
//! context when there is something to take (an unbounded channel's `poll_recv` fits); a simulated one says by `due`
//! when to ask again.

use crate::Moment;
use crate::state::{Adapter, Trouble};
use std::fmt;
use std::task::{Context, Poll};

/// The radio of this device.
pub trait Radio: Send {
    /// Switches Bluetooth on. Called only after a person agreed to it.
    fn switch_on(&mut self);

    /// Begins or ends listening for instruments nearby. Never switches Bluetooth on.
    fn search(&mut self, on: bool);

    /// The way to one instrument, not yet connected. It lasts as long as the instrument is in use.
    fn link(&mut self, id: &InstrumentId) -> Box<dyn Link>;

    /// What happened next, up to `now`. The first event is the adapter's condition.
    fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<RadioEvent>;

    /// When to poll again even if nothing wakes the context.
    fn due(&self) -> Option<Moment> {
        None
    }
}

/// The way to one instrument: connected, lost and connected again, always the same link.
///
/// Whatever ends badly is told once, as [`LinkEvent::Lost`] or [`LinkEvent::Failed`]; after that the link is apart.
/// Nothing that was said before [`Link::disconnect`] is told after it.
pub trait Link: Send {
    /// Answered by [`LinkEvent::Connected`] and then [`LinkEvent::Resolved`].
    fn connect(&mut self);

    fn disconnect(&mut self);

    /// Asks for the notifications of a characteristic; answered by [`LinkEvent::Subscribed`]. Again after every loss.
    fn subscribe(&mut self, characteristic: Uuid);

    /// Asks for the value of a characteristic; answered by [`LinkEvent::Read`], never as a notification too.
    fn read(&mut self, characteristic: Uuid);

    /// Writes to a characteristic that a person named as the trigger. Unknown ones are never written to.
    fn write(&mut self, characteristic: Uuid, bytes: &[u8]);

    /// What happened next, up to `now`.
    fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<LinkEvent>;

    /// When to poll again even if nothing wakes the context.
    fn due(&self) -> Option<Moment> {
        None
    }
}

/// What a radio tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RadioEvent {
    /// The condition of the radio, at the start and whenever it changes.
    Adapter(Adapter),
    /// An instrument was heard just now. One known from before but silent is not told.
    Found(Found),
}

/// What a link tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LinkEvent {
    Connected,
    /// The characteristics it has.
    Resolved(Vec<Characteristic>),
    Subscribed(Uuid),
    Notified {
        characteristic: Uuid,
        bytes: Vec<u8>,
        at: Moment,
    },
    Read {
        characteristic: Uuid,
        bytes: Vec<u8>,
    },
    Failed(Trouble),
    Lost,
}

/// One thing an instrument offers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Characteristic {
    pub uuid: Uuid,
    /// It sends by itself once it is subscribed to.
    pub notifies: bool,
    /// Its presentation format descriptor, where it has one.
    pub format: Option<Vec<u8>>,
}

impl From<Uuid> for Characteristic {
    fn from(uuid: Uuid) -> Self {
        Self { uuid, notifies: true, format: None }
    }
}

/// An instrument that was heard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    pub id: InstrumentId,
    /// The name it goes by, which may be empty.
    pub name: String,
    /// The strength it was heard with, dBm; nearer to zero is stronger.
    pub signal_dbm: Option<i16>,
    /// What it says it can do.
    pub offers: Vec<Uuid>,
}

/// The name this platform gives an instrument. Not the same on another device.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InstrumentId(String);

impl InstrumentId {
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<&str> for InstrumentId {
    fn from(name: &str) -> Self {
        Self(name.to_string())
    }
}

impl fmt::Display for InstrumentId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The number of a service or a characteristic.
///
/// # Source
/// The base `00000000-0000-1000-8000-00805F9B34FB` of the short numbers: Bluetooth Core Specification (recalled, not
/// read).
///
/// ```
/// use bluetooth::radio::Uuid;
/// assert_eq!(Uuid::short(0x2C0A).to_string(), "00002c0a-0000-1000-8000-00805f9b34fb");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Uuid(pub u128);

impl Uuid {
    /// Length, of the industrial measurement service: see [`crate::decode::FixedPoint::LENGTH`].
    pub const LENGTH: Self = Self::short(0x2C0A);
    /// Signed position from the instrument's zero: see [`crate::decode::FixedPoint::LINEAR_POSITION`].
    pub const LINEAR_POSITION: Self = Self::short(0x2C08);
    /// Battery level, one byte of per cent.
    pub const BATTERY_LEVEL: Self = Self::short(0x2A19);

    /// The service of industrial measuring instruments.
    pub const INDUSTRIAL_MEASUREMENT: Self = Self::short(0x185A);

    /// The long form of a number the standard assigned.
    pub const fn short(number: u16) -> Self {
        Self(0x0000_0000_0000_1000_8000_0080_5F9B_34FB | (number as u128) << 96)
    }
}

impl std::str::FromStr for Uuid {
    type Err = uuid::Error;

    /// Reads the long form, and the four digits of a number the standard assigned.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match u16::from_str_radix(text, 16) {
            Ok(number) if text.len() == 4 => Ok(Self::short(number)),
            _ => uuid::Uuid::try_parse(text).map(|uuid| Self(uuid.as_u128())),
        }
    }
}

impl fmt::Display for Uuid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let n = self.0;
        let part = |from: u32, digits: u32| (n >> from) & ((1 << (4 * digits)) - 1);
        let [a, b, c, d, e] = [part(96, 8), part(80, 4), part(64, 4), part(48, 4), part(0, 12)];
        write!(f, "{a:08x}-{b:04x}-{c:04x}-{d:04x}-{e:012x}")
    }
}

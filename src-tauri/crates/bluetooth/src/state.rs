//! How it stands with the radio and with an instrument, each with words for the person who holds it.

/// The condition of this device's radio.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Adapter {
    NoService,
    PermissionRefused,
    NoAdapter,
    SwitchedOff,
    On,
}

/// Why a link could not be had or was given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Trouble {
    /// It was there and is gone.
    Dropped,
    OutOfReach,
    Refused,
    /// It did not answer within the time it is given.
    NotAnswering,
    /// It answers, and does not have what its profile asks for.
    Unsuitable,
    /// It offers something that this device's Bluetooth cannot make out.
    Unreadable,
}

impl Trouble {
    /// The name used on every wire: `not-answering`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Dropped => "dropped",
            Self::OutOfReach => "out-of-reach",
            Self::Refused => "refused",
            Self::NotAnswering => "not-answering",
            Self::Unsuitable => "unsuitable",
            Self::Unreadable => "unreadable",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Dropped => "The link to the instrument broke; a reading under way was not taken.",
            Self::OutOfReach => "The instrument is not heard. Bring it nearer and see that it is switched on.",
            Self::Refused => "The instrument refuses. See that no other phone or tablet holds it.",
            Self::NotAnswering => "The instrument does not answer. Switch it off and on again.",
            Self::Unsuitable => "The instrument does not send what was set up for it. Set it up again.",
            Self::Unreadable => {
                "This device cannot make out what the instrument offers. Type, or use another instrument."
            }
        }
    }
}

/// How it stands with an instrument.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum State {
    NoService,
    PermissionRefused,
    NoAdapter,
    SwitchedOff,
    /// Wanted, and not heard yet.
    Searching,
    Connecting,
    /// What it sends is taken.
    Ready,
    /// Gone, for the reason given; `retry` counts the attempts since it was last ready, from 1.
    Lost {
        retry: u32,
        trouble: Trouble,
    },
}

impl State {
    /// The name used on every wire: `permission-refused`.
    pub fn name(self) -> &'static str {
        match self {
            Self::NoService => "no-service",
            Self::PermissionRefused => "permission-refused",
            Self::NoAdapter => "no-adapter",
            Self::SwitchedOff => "switched-off",
            Self::Searching => "searching",
            Self::Connecting => "connecting",
            Self::Ready => "ready",
            Self::Lost { .. } => "lost",
        }
    }

    /// A sentence or two for a person on site: what is the matter, and what to do.
    ///
    /// ```
    /// use bluetooth::state::{State, Trouble};
    /// let lost = State::Lost { retry: 2, trouble: Trouble::Dropped };
    /// assert_eq!(
    ///     lost.words(),
    ///     "The link to the instrument broke; a reading under way was not taken. Trying again (2)."
    /// );
    /// ```
    pub fn words(self) -> String {
        let words = match self {
            Self::NoService => "Bluetooth does not run on this device. Start it in the system settings, or type.",
            Self::PermissionRefused => "Truefall may not use Bluetooth. Allow it in the system settings, or type.",
            Self::NoAdapter => {
                "This device has no Bluetooth radio. Type, or use an instrument that acts as a keyboard."
            }
            Self::SwitchedOff => "Bluetooth is switched off. Switch it on?",
            Self::Searching => "Listening for the instrument. Switch it on and keep it near.",
            Self::Connecting => "Connecting to the instrument.",
            Self::Ready => "Ready. Press the button on the instrument.",
            Self::Lost { retry, trouble } => return format!("{} Trying again ({retry}).", trouble.words()),
        };
        words.to_string()
    }
}

impl Adapter {
    /// The state every instrument is in because of the radio; `None` if the radio is fit.
    pub fn bars(self) -> Option<State> {
        match self {
            Self::NoService => Some(State::NoService),
            Self::PermissionRefused => Some(State::PermissionRefused),
            Self::NoAdapter => Some(State::NoAdapter),
            Self::SwitchedOff => Some(State::SwitchedOff),
            Self::On => None,
        }
    }
}

//! Instruments over the air: what is nearby, how it stands with each, and what they read.

use super::{wire, words};

words! {
    /// What an instrument measures.
    pub enum Measures {
        Length,
        Tilt,
    }

    /// What is done to a practice instrument, which has no hands on it.
    pub enum PracticeDeed {
        /// Its button is pressed.
        Press,
        /// It is put where a perfect one would read `mm`.
        Rest,
        Leave,
        Return,
    }
}

wire! {
    /// Where the reading of an instrument came from, kept with it.
    pub struct FromInstrument {
        /// The name this device gives the instrument.
        pub device: String,
        pub profile: String,
        pub profile_version: u32,
        /// The message as it came, in hexadecimal digits.
        pub raw: String,
    }

    /// All instruments, and the readings that wait for a screen.
    #[derive(Default)]
    pub struct DevicesView {
        /// Whether instruments nearby are being looked for.
        pub looking: bool,
        /// How it stands with Bluetooth; absent until it was first asked for.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub radio: Option<RadioView>,
        pub devices: Vec<DeviceView>,
        /// Readings for a place that was open when they were made, oldest first.
        pub waiting: Vec<DeviceReading>,
    }

    /// The condition of this device's radio.
    pub struct RadioView {
        /// `on`, `switched-off`, `no-service`, `permission-refused`, `no-adapter`.
        pub state: String,
        /// What is the matter and what to do; absent where nothing is.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub words: Option<String>,
    }

    pub struct DeviceView {
        pub device: String,
        pub name: String,
        /// It is played by Truefall itself.
        pub practice: bool,
        /// By which profile it can be read; absent where none is known.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub profile: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub measures: Option<Measures>,
        pub in_use: bool,
        /// `searching`, `connecting`, `ready`, `lost`, or what bars it; absent while it is not in use.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub state: Option<String>,
        /// The state as a sentence.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub words: Option<String>,
        /// What is left in its battery, per cent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub battery: Option<u8>,
        /// The strength it was last heard with, dBm; nearer to zero is stronger.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub signal_dbm: Option<i16>,
        /// What it read last.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub last: Option<String>,
        /// Why the last thing it sent was not taken.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<String>,
        /// It measures when asked.
        pub asks: bool,
    }

    /// A reading for the place that was open when it was made.
    pub struct DeviceReading {
        /// The identity it is kept under: sent twice, it is kept once.
        pub id: String,
        pub place: String,
        pub name: String,
        /// Its value as a text that means exactly that.
        pub text: String,
        /// The standard uncertainty by the instrument's stated accuracy and its display; of a tilt it stands below.
        pub sd_mm: f64,
        /// The same of a tilt.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub sd_degrees: Option<f64>,
        pub at: String,
        pub from: FromInstrument,
    }

    /// Looks for instruments nearby, or stops.
    pub struct DevicesLook {
        pub on: bool,
    }

    /// Takes an instrument into use, or puts it away.
    pub struct DeviceUse {
        pub device: String,
        pub on: bool,
    }

    /// One instrument.
    pub struct OfDevice {
        pub device: String,
    }

    /// The place that a reading made from now on is for; none while no screen can take one.
    pub struct DevicePlace {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub place: Option<String>,
        /// What is read there; a height unless it is said.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub wants: Option<Measures>,
    }

    /// A reading that a screen has dealt with.
    pub struct DeviceTaken {
        pub id: String,
    }

    pub struct DevicePractice {
        pub device: String,
        pub deed: PracticeDeed,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub mm: Option<f64>,
    }
}

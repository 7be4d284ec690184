//! Instruments over the air: what is nearby, how it stands with each, and what they read.

use judge::forms::FromInstrument;
use judge::{wire, words};

words! {
    /// What an instrument measures.
    pub enum Measures {
        Length,
        Tilt,
    }

    /// What the display of an instrument shows.
    pub enum DisplayShows {
        M,
        Cm,
        Mm,
        In,
        Deg,
    }

    /// How far a lesson is.
    pub enum LessonPhase {
        Connecting,
        /// Anything may be measured; it is only listened to.
        Playing,
        /// Readings are typed as the display shows them.
        Showing,
        /// One more reading is told before the display is looked at.
        Checking,
        Learned,
        /// No way of reading what it sends gives what was typed.
        NothingFits,
        /// It sends nothing by itself.
        Silent,
    }

    /// Why a lesson does not go on.
    pub enum LessonNote {
        MorePlay,
        TooAlike,
        /// What was typed fits nothing that was sent: it is typed once more.
        LookAgain,
        NothingSent,
        Lost,
    }

    /// What a person says in a lesson.
    pub enum TeachDeed {
        /// Enough was played.
        Played,
        /// The display shows `shown`.
        Shown,
        /// What was told is what the display shows.
        Right,
        Wrong,
        Stop,
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
    /// All instruments, and the readings that wait for a screen.
    #[derive(Default)]
    pub struct DevicesView {
        /// How often something changed before: of two views the one with more is the later.
        #[serde(default)]
        pub seq: u32,
        /// Whether instruments nearby are being looked for.
        pub looking: bool,
        /// How it stands with Bluetooth; absent until it was first asked for.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub radio: Option<RadioView>,
        pub devices: Vec<DeviceView>,
        /// Readings for a place that was open when they were made, oldest first.
        pub waiting: Vec<DeviceReading>,
        /// The instrument that is being taught.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub lesson: Option<LessonView>,
    }

    /// An instrument that is being taught.
    pub struct LessonView {
        pub device: String,
        pub name: String,
        pub unit: DisplayShows,
        pub phase: LessonPhase,
        /// Readings heard while it was played with.
        pub heard: u32,
        /// A reading was heard that is not typed yet.
        pub fresh: bool,
        /// Readings typed so far.
        pub typed: u32,
        /// Ways of reading it that are left and differ.
        pub ways: u32,
        /// What the display should show, told before it is looked at.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub guess: Option<String>,
        /// What the display of a practice instrument shows.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub display: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<LessonNote>,
        /// What bars the radio.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub words: Option<String>,
    }

    /// Begins to teach an instrument that nobody knows.
    pub struct DeviceTeach {
        pub device: String,
        /// What it is called from now on, and how its own name begins.
        pub name: String,
        pub unit: DisplayShows,
        /// How many decimals its display shows.
        pub decimals: u8,
        /// The accuracy that its sheet states, plus or minus, in mm or degrees.
        pub accuracy: f64,
    }

    /// Goes on with the lesson.
    pub struct DeviceTaught {
        pub deed: TeachDeed,
        /// What the display shows, without its unit.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub shown: Option<String>,
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
        /// The reading that the screen has dealt with; it waits no more.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub taken: Option<String>,
    }

    pub struct DevicePractice {
        pub device: String,
        pub deed: PracticeDeed,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub mm: Option<f64>,
    }
}

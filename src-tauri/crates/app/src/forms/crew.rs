//! Other devices at the same rooms: who may come in, as what, and who is there now.

use judge::{wire, words};

words! {
    /// What a device may do.
    pub enum CrewRole {
        /// The device that keeps the rooms.
        Home,
        /// Looks and writes.
        Write,
        /// Only looks.
        Read,
    }
}

wire! {
    /// How the rooms stand open to other devices, and who the asker is.
    pub struct CrewView {
        pub me: CrewMe,
        /// Whether this program can open its rooms at all.
        pub can: bool,
        /// Absent while the rooms are this device's alone.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub open: Option<CrewDoor>,
        /// Where it can be opened; told to the home device alone.
        pub places: Vec<CrewPlace>,
        pub members: Vec<CrewMember>,
    }

    /// Who asks.
    pub struct CrewMe {
        pub role: CrewRole,
        /// Empty at home.
        pub name: String,
    }

    /// The open door.
    pub struct CrewDoor {
        /// When it closes by itself.
        pub until: String,
        /// What a browser is to open; told to the home device alone.
        pub addresses: Vec<String>,
        /// SHA-256 of the certificate, in hexadecimal.
        pub fingerprint: String,
        /// Absent where no one may join just now.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub code: Option<CrewCode>,
        /// Somebody guessed: no one may join before a new code is drawn.
        pub guessed: bool,
    }

    /// What lets one device in, once.
    pub struct CrewCode {
        pub code: String,
        pub role: CrewRole,
        pub until: String,
        /// One for each network.
        pub images: Vec<CrewImage>,
    }

    /// An address with the code in it, as an image to be scanned.
    pub struct CrewImage {
        /// The address alone.
        pub address: String,
        /// Squares to a side, without the quiet edge.
        pub side: u32,
        /// The dark squares as the path of an SVG.
        pub path: String,
    }

    /// One network of this machine.
    pub struct CrewPlace {
        pub name: String,
        pub address: String,
        /// It reaches no further than this machine.
        pub here: bool,
    }

    /// A device that was let in.
    pub struct CrewMember {
        pub id: String,
        pub name: String,
        pub role: CrewRole,
        /// Since when it may come in.
        pub since: String,
        /// Its screen is on just now.
        pub here: bool,
        /// What it looks at, while it is here.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at: Option<CrewHere>,
    }

    /// What a device looks at.
    pub struct CrewHere {
        pub page: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub room: Option<String>,
        /// The point that is open there.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub point: Option<String>,
    }

    pub struct CrewOpen {
        /// The addresses to open at, of those in `places`.
        pub at: Vec<String>,
        /// After how many minutes it closes by itself.
        pub minutes: u32,
        /// What the first to join may do.
        pub role: CrewRole,
    }

    /// Draws a new code.
    pub struct CrewDraw {
        /// What the next to join may do.
        pub role: CrewRole,
    }

    pub struct CrewChange {
        pub member: String,
        pub role: CrewRole,
    }

    pub struct CrewRevoke {
        pub member: String,
    }

    /// What a device says to be let in.
    pub struct CrewJoin {
        pub code: String,
        pub name: String,
    }

}

//! Backups: what was made, what one holds, and what was taken from it.

use super::Here;
use judge::wire;

wire! {
    /// A backup that was made and read back.
    pub struct BackupMade {
        pub path: String,
        pub bytes: f64,
        pub photographs: u32,
    }

    /// The copies that are made by themselves, the latest first.
    pub struct BackupsView {
        pub copies: Vec<BackupCard>,
        /// Where they are; absent where the rooms are in memory.
        pub folder: Option<String>,
    }

    pub struct BackupCard {
        pub name: String,
        /// When it was made, by the clock of that day.
        pub at: String,
        pub bytes: f64,
    }

    /// One of the copies by its name, or a backup in base 64.
    pub struct BackupAsk {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub name: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub base64: Option<String>,
    }

    /// What a backup holds.
    pub struct BackupLook {
        pub rooms: Vec<BackupRoom>,
        pub photographs: u32,
    }

    pub struct BackupRoom {
        pub id: String,
        pub name: String,
        pub entries: u32,
        /// When its last entry was made.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub last: Option<String>,
        /// How it stands to the rooms that are here.
        pub here: Here,
    }

    /// What became of damaged rooms.
    pub struct Recovered {
        /// Where the damaged file is kept as it was found.
        pub aside: String,
        /// The copy that was taken back; absent where none was whole.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub copy: Option<String>,
        /// Entries that the damaged file held beyond that copy, and that fit.
        pub later: u32,
        /// Entries that could be read but follow on one that could not; they are in the kept file alone.
        pub left: u32,
        /// The rooms that are here now.
        pub rooms: u32,
    }

    /// What was taken from a backup, and what was left since it is here or went another way.
    pub struct Restored {
        pub taken: Vec<BackupRoom>,
        pub left: Vec<BackupRoom>,
    }
}

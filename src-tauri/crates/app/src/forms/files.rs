//! Files in and out, as they are asked for.

use judge::{wire, words};

words! {
    /// Which sheets a record holds.
    pub enum Contents {
        /// Everything.
        Full,
        /// One page without a figure that has to be explained.
        Client,
        Installer,
        Inspector,
        /// What keeps the work from going on.
        NotReady,
        /// Quantities beyond what was agreed.
        ChangeOrder,
        /// A code image for the vanity door.
        Label,
    }

    /// How the room of a file stands to the rooms that are here.
    pub enum Here {
        /// It is not here.
        No,
        /// It is here, with the same entries.
        Same,
        /// It is here, and the file has more.
        Behind,
        /// It is here, with everything in the file and more.
        Ahead,
        /// It is here and went another way.
        Differs,
    }
}

wire! {
    /// A file as text, to be shown or saved.
    pub struct FileText {
        pub name: String,
        pub text: String,
    }

    /// A file as bytes in base 64.
    pub struct FileBytes {
        pub name: String,
        pub mime: String,
        pub base64: String,
    }

    /// Asks for the room file.
    pub struct ExportAsk {
        pub room: String,
        /// Without people, place and notes: only their digests stay, and it still verifies.
        #[serde(default)]
        #[ts(as = "Option<bool>")]
        pub black_out: bool,
    }

    /// Asks for the record.
    pub struct RecordAsk {
        pub room: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub contents: Option<Contents>,
        #[serde(default)]
        #[ts(as = "Option<bool>")]
        pub black_out: bool,
    }

    /// Asks for a file made of the room: `csv`, `dxf`, `svg` or `ics`.
    pub struct DrawingAsk {
        pub room: String,
        pub kind: String,
    }

    pub struct ImportAsk {
        /// The id of the write.
        pub id: String,
        /// The room file's text.
        pub file: String,
        /// Keep it as a second room under this new id if the room is already here.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub as_room: Option<String>,
    }

    /// A file of any kind, to be looked at or taken in.
    pub struct FileAsk {
        /// The id of the write, where it is taken in.
        pub id: String,
        /// Its bytes in base 64.
        pub base64: String,
        /// Keep it as a second room under this new id if the room is already here.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub as_room: Option<String>,
    }
}

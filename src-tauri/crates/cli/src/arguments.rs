//! The words of the command line.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// For whom a record can be.
const CONTENTS: [&str; 7] = ["full", "client", "installer", "inspector", "not-ready", "change-order", "label"];

/// The site instrument for curbless showers and tiled floors.
#[derive(Debug, Parser)]
#[command(name = "truefall", version)]
pub(crate) struct Arguments {
    /// The folder of the rooms; else TRUEFALL_HOME, else the user's own data folder.
    #[arg(long, global = true)]
    pub(crate) home: Option<PathBuf>,
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Print the findings, alternatives and cut list of a demo room.
    Demo {
        /// kestrel, rowan or banksia.
        #[arg(default_value = "kestrel")]
        name: String,
        #[arg(long)]
        json: bool,
    },
    /// One pure call into the core: JSON on standard input, JSON on standard output.
    Compute { operation: String },
    /// Make, list, show, import or export rooms.
    #[command(subcommand)]
    Room(RoomVerb),
    /// Take readings in.
    #[command(subcommand)]
    Readings(ReadingsVerb),
    /// Print what the readings of a room say.
    Findings {
        /// A room's id or name, or a room file.
        room: String,
        #[arg(long)]
        survey: Option<String>,
        #[arg(long)]
        json: bool,
        /// Exit with 1 unless every verdict is within.
        #[arg(long)]
        gate: bool,
    },
    /// Print what to rip, sister and leave.
    CutList {
        /// A room's id or name, or a room file.
        room: String,
        #[arg(long)]
        json: bool,
    },
    /// Print the build-up on both sides of the entry line, the fall it gives, and the drain between the joists.
    BuildUp {
        /// A room's id or name, or a room file.
        room: String,
        #[arg(long)]
        json: bool,
    },
    /// Print how a wet floor falls: as designed where layers were put in, as built where it was read.
    Fall {
        /// A room's id or name, or a room file.
        room: String,
        #[arg(long)]
        json: bool,
    },
    /// Write the sheets of a room as a PDF.
    Record {
        room: String,
        #[arg(short, long)]
        output: PathBuf,
        /// For whom: full, client, installer, inspector, not-ready, change-order or label.
        #[arg(long, default_value = "full", value_parser = CONTENTS)]
        contents: String,
        /// Without people, place and notes; it still verifies.
        #[arg(long)]
        black_out: bool,
    },
    /// Print what the tests of a room came to, and what may be covered.
    Tests {
        /// A room's id or name, or a room file.
        room: String,
        #[arg(long)]
        json: bool,
        /// Exit with 1 unless everything may be covered.
        #[arg(long)]
        gate: bool,
    },
    /// Prove that a record or a room file is what it was, or name the first entry that does not fit.
    Verify {
        /// A record (PDF) or a room file (JSON).
        file: PathBuf,
        #[arg(long)]
        json: bool,
    },
    /// Write everything into one checked file.
    Backup {
        /// A free name, or a folder; else the current folder.
        to: Option<PathBuf>,
    },
    /// Take in from a backup what is not here. Nothing that is here is replaced.
    Restore {
        /// A backup, or one of the copies that are made by themselves.
        file: PathBuf,
        /// Only say what is in it.
        #[arg(long)]
        look: bool,
    },
    /// Make damaged rooms anew from the last copy that is whole and from what the damaged file still says, which is
    /// kept aside. Close every other Truefall first.
    Recover,
    /// Find, listen to and teach instruments over Bluetooth.
    #[command(subcommand)]
    Devices(DevicesVerb),
    /// Serve the screens to a browser on this machine.
    Host(HostWords),
}

#[derive(Debug, Args)]
pub(crate) struct HostWords {
    /// The port for this machine; any free one if 0.
    #[arg(long, default_value_t = 0)]
    pub(crate) port: u16,
    /// Let other devices join with a code.
    #[arg(long)]
    pub(crate) open_to_crew: bool,
    /// The addresses of this machine to open at; else all but its own.
    #[arg(long = "at", requires = "open_to_crew")]
    pub(crate) at: Vec<String>,
    /// The port for the crew; else the one of the last time, or any free one.
    #[arg(long, requires = "open_to_crew")]
    pub(crate) crew_port: Option<u16>,
    /// What the first device to join may do: read or write.
    #[arg(long, requires = "open_to_crew", default_value = "read", value_parser = ["read", "write"])]
    pub(crate) role: String,
    /// After how long it closes by itself.
    #[arg(long, requires = "open_to_crew", default_value_t = 240)]
    pub(crate) minutes: u32,
}

#[derive(Debug, Subcommand)]
pub(crate) enum RoomVerb {
    /// Make an empty room.
    New(NewRoom),
    /// List the rooms.
    List,
    /// Show a room as JSON.
    Show { room: String },
    /// Take in a room file, or the room that a record carries.
    Import {
        file: PathBuf,
        /// Keep it as a second room where it is here already.
        #[arg(long)]
        as_second: bool,
    },
    /// Write a room file.
    Export {
        room: String,
        /// The file, by its ending .json, .csv, .dxf, .svg, .ics or .zip; else the room file on standard output.
        #[arg(short, long)]
        output: Option<PathBuf>,
        /// Without people, place and notes; it still verifies.
        #[arg(long)]
        black_out: bool,
    },
}

#[derive(Debug, Args)]
pub(crate) struct NewRoom {
    pub(crate) name: String,
    /// in or mm.
    #[arg(long, default_value = "in", value_parser = ["in", "mm"])]
    pub(crate) units: String,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ReadingsVerb {
    /// Take readings from a CSV file into a room.
    Import {
        file: PathBuf,
        #[arg(long)]
        room: String,
    },
}

#[derive(Debug, Subcommand)]
pub(crate) enum DevicesVerb {
    /// List what is heard nearby, and by which profile it can be read.
    Scan {
        /// How long to listen.
        #[arg(long, default_value_t = 10)]
        seconds: u64,
    },
    /// Print every reading of one instrument as a line of JSON.
    Listen {
        /// Its id as `scan` prints it, or practice-laser or practice-level.
        device: String,
        /// End after so many readings.
        #[arg(long)]
        readings: Option<usize>,
        /// End after so many seconds.
        #[arg(long)]
        seconds: Option<u64>,
    },
    /// Learn how an instrument speaks from readings typed as its display shows them.
    Teach(Teach),
}

#[derive(Debug, Args)]
pub(crate) struct Teach {
    /// Its id as `scan` prints it.
    pub(crate) device: String,
    /// What its display shows: m, cm, mm, in or deg.
    #[arg(long, default_value = "m", value_parser = ["m", "cm", "mm", "in", "deg"])]
    pub(crate) shows: String,
    /// How many decimals its display shows.
    #[arg(long, default_value_t = 3)]
    pub(crate) decimals: u8,
    /// The accuracy its sheet states, plus or minus, in mm or degrees.
    #[arg(long)]
    pub(crate) accuracy: f64,
    /// What the profile is called, and how the instrument's name begins.
    #[arg(long)]
    pub(crate) name: String,
}

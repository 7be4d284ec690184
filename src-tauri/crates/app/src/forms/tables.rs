//! The two tables of names, as TypeScript sees them: what may be asked, and what may be changed.
//!
//! Each field maps a name to its form: a request to what is asked and what is answered, a command to its payload.
//! `requests.rs` and `commands/mod.rs` hold the same names beside the code that serves them, and a test compares them.

use super::*;
use ts_rs::TS;

/// Every request: `[what is asked, what is answered]`.
#[derive(TS)]
#[ts(rename_all = "kebab-case")]
pub struct Requests {
    /// All rooms, and the demo rooms that may be opened.
    pub rooms: (RoomsAsk, RoomsView),
    /// One room, all but its findings.
    pub room: (OfRoom, RoomView),
    pub findings: (OfSurvey, FindingsView),
    /// What noise alone would show under the bar that shows most, which takes longer.
    pub noise_alone: (OfSurvey, Option<NoiseUnderBar>),
    /// The alternatives and their cut lists.
    pub height: (HeightAsk, HeightView),
    /// What a number would mean as the reading of a point.
    pub entry: (EntryAsk, EntryView),
    pub length: (LengthAsk, LengthView),
    /// Both sides of the entry line, the fall they give, and the drain between the joists.
    pub build_up: (BuildUpAsk, BuildUpView),
    /// How much levelling compound or bed it takes.
    pub pour: (PourAsk, PourView),
    /// How a wet floor is to fall, and how it is put right.
    pub fall: (FallAsk, FallView),
    /// Where the drain may go.
    pub drain: (DrainAsk, DrainView),
    /// Which strip from which board, and in what order.
    pub cutting: (CuttingAsk, CuttingView),
    /// The strips at full size, to print.
    pub templates: (CuttingAsk, FileBytes),
    /// How clear spans stand beside common ones.
    pub stiffness: (OfRoom, StiffnessView),
    pub ledges: (LedgesAsk, LedgesView),
    pub tiling: (TilingAsk, TilingView),
    pub rules: (OfRoom, RulesView),
    pub history: (OfRoom, HistoryView),
    /// Makes one change: the only way to change anything but undo.
    pub write: (Write, Written),
    pub undo: (UndoAsk, Written),
    /// Opens a copy of a demo room.
    pub demo: (DemoAsk, Imported),
    pub room_import: (ImportAsk, Imported),
    /// What a room file or a record would bring in.
    pub file_look: (FileAsk, FileLook),
    /// Takes in a room file or a record.
    pub file_import: (FileAsk, Imported),
    /// The copies that were made by themselves.
    pub backups: (Nothing, BackupsView),
    /// Everything in one file.
    pub backup_make: (Nothing, FileBytes),
    /// What a backup holds beside what is here.
    pub backup_look: (BackupAsk, BackupLook),
    /// Takes in what is not here.
    pub backup_restore: (BackupAsk, Restored),
    /// Makes damaged rooms anew; answered by what holds the rooms, which must not be open for it.
    pub recover: (Nothing, Recovered),
    pub room_export: (ExportAsk, FileText),
    /// The readings as a table, or the plan as a drawing.
    pub drawing: (DrawingAsk, FileText),
    /// Everything about a room in one file.
    pub everything: (OfRoom, FileBytes),
    pub readings_import: (CsvAsk, Imported),
    /// What a table of readings would bring in.
    pub readings_look: (CsvAsk, CsvLook),
    /// Where to lay the straightedge, and what the gauges found.
    pub straightedge_walk: (OfSurvey, StraightedgeWalk),
    /// The facets between the readings.
    pub surface: (OfSurvey, FloorSurface),
    /// Which limits a way of reading can decide at all.
    pub method_check: (MethodAsk, MethodCheck),
    /// Where another reading tells most.
    pub next_readings: (OfSurvey, NextReadings),
    /// Whether the level is true.
    pub two_peg: (TwoPegAsk, TwoPeg),
    /// What a text means as a tilt.
    pub tilt: (TiltAsk, TiltView),
    /// The walks with a tilting foot.
    pub tilt_walks: (OfSurvey, TiltWalks),
    /// How closely one reads.
    pub repeatability: (RepeatAsk, Repeatability),
    /// What changed between two surveys.
    pub comparison: (CompareAsk, Comparison),
    /// What is asked of an engineer about a cut.
    pub engineer: (EngineerAsk, EngineerQuestion),
    /// The sheets of the room as a PDF.
    pub record: (RecordAsk, FileBytes),
    /// The tests of a room and what they came to.
    pub tests: (OfRoom, TestsView),
    /// What its record holds besides readings and tests.
    pub entries: (OfRoom, EntriesView),
    /// How far places tapped on the plan are from two walls.
    pub places: (PlacesAsk, PlacesView),
    pub photograph_add: (PhotographAsk, Written),
    /// A photograph made small.
    pub photograph: (OfPhotograph, FileBytes),
    /// A digest that stands for a private text.
    pub seal: (SealAsk, Sealed),
    /// Instruments over the air, and the readings that wait.
    pub devices: (Nothing, DevicesView),
    pub devices_look: (DevicesLook, DevicesView),
    /// Switches Bluetooth on, after a person agreed to it.
    pub devices_switch_on: (Nothing, DevicesView),
    pub device_use: (DeviceUse, DevicesView),
    /// Asks an instrument to measure.
    pub device_measure: (OfDevice, DevicesView),
    /// Says what the next reading is for.
    pub device_place: (DevicePlace, DevicesView),
    pub device_practice: (DevicePractice, DevicesView),
    /// Begins to teach an instrument.
    pub device_teach: (DeviceTeach, DevicesView),
    pub device_taught: (DeviceTaught, DevicesView),
    /// Who else is at these rooms, and how they stand open.
    pub crew: (Nothing, CrewView),
    /// Opens them to other devices.
    pub crew_open: (CrewOpen, CrewView),
    pub crew_close: (Nothing, CrewView),
    /// Draws a code to join by.
    pub crew_draw: (CrewDraw, CrewView),
    pub crew_change: (CrewChange, CrewView),
    /// Lets a device in no more.
    pub crew_revoke: (CrewRevoke, CrewView),
    /// Says what is looked at.
    pub crew_here: (CrewHere, CrewView),
}

/// Every command that may be written, and its payload.
#[derive(TS)]
#[ts(rename_all = "kebab-case")]
pub struct Commands {
    pub room_new: RoomNew,
    pub room_rename: RoomRename,
    pub room_archive: RoomArchive,
    pub room_import: RoomImport,
    pub plan_set: PlanSet,
    pub setup_open: SetupOpen,
    pub setup_withdraw: SetupWithdraw,
    pub setup_close: SetupClose,
    pub reading_add: ReadingAdd,
    pub readings_withdraw: ReadingsWithdraw,
    pub readings_import: ReadingsImport,
    pub import_withdraw: ImportWithdraw,
    pub gate_set: GateSet,
    pub gate_clear: GateClear,
    pub approval_add: ApprovalAdd,
    pub approval_withdraw: ApprovalWithdraw,
    pub rule_set: RuleSet,
    pub decision_set: DecisionSet,
    pub tile_set: TileSet,
    pub falls_set: FallsSet,
    pub layers_set: LayersSet,
    pub pour_set: PourSet,
    pub fall_plan_set: FallPlanSet,
    pub ledges_set: LedgesSet,
    pub tiling_set: TilingSet,
    pub door_set: DoorSet,
    pub stock_set: StockSet,
    pub target_set: TargetSet,
    pub tick_set: TickSet,
    pub entry_put: EntryPut,
    pub entry_remove: EntryRemove,
}

/// What a host tells every screen after a change.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, TS)]
#[ts(optional_fields = nullable)]
pub struct Changes {
    /// The room that changed; `devices` when it is the instruments.
    pub room: String,
    pub seq: u32,
    /// The instruments as they are now, where it is they that changed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub devices: Option<DevicesView>,
}

//! The one request table: what every front end may ask, by name, in JSON.

use crate::app::App;
use crate::crew::CrewOrder;
use crate::forms::*;
use crate::instruments::Order;
use judge::findings::straightedge_walk::straightedge_walk;
use judge::findings::{at_once, noise_alone};
use judge::finish::surface::surface;
use judge::finish::{build_up, drain, fall, ledges, pour, tiling};
use judge::forms::json;
use judge::framing::stiffness::stiffness;
use judge::framing::{cutting, engineer};
use judge::reading::comparison::comparison;
use judge::reading::method_check::method_check;
use judge::reading::next_readings::next_readings;
use judge::reading::tilt_walks::tilt_walks;
use judge::reading::{length_text, level_check, tilt_text, typed_reading};
use judge::room::rules;
use judge::tests;
use judge::{Kind, Refusal};

macro_rules! requests {
    ($($name:literal ($ask:ty) -> $answer:ty = $run:expr;)*) => {
        /// The names of all requests.
        pub const REQUESTS: &[&str] = &[$($name),*];

        impl App {
            /// Answers one request.
            ///
            /// # Errors
            /// A [`Refusal`]; nothing was changed then.
            pub fn dispatch(&self, name: &str, body: &str) -> Result<String, Refusal> {
                match name {
                    $($name => {
                        let run: fn(&App, $ask) -> Result<$answer, Refusal> = $run;
                        json::write(&run(self, json::read(body)?)?)
                    })*
                    other => Err(unknown(other)),
                }
            }
        }
    };
}

requests! {
    "rooms" (RoomsAsk) -> RoomsView = |app, ask| app.find_rooms(&ask);
    "room" (OfRoom) -> RoomView = |app, ask| app.room(&ask.room);
    "findings" (OfSurvey) -> FindingsView = |app, ask| at_once(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "noise-alone" (OfSurvey) -> Option<NoiseUnderBar> =
        |app, ask| noise_alone(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "height" (HeightAsk) -> HeightView = |app, ask| judge::height(&app.room_state(&ask.room)?, ask.height);
    "entry" (EntryAsk) -> EntryView = |app, ask| typed_reading::entry(&app.room_state(&ask.room)?, &ask);
    "length" (LengthAsk) -> LengthView = |app, ask| length_text::length(&app.figures(ask.room.as_deref())?, &ask);
    "build-up" (BuildUpAsk) -> BuildUpView = |app, ask| build_up::asked(app.room_state(&ask.room)?, &ask);
    "pour" (PourAsk) -> PourView = |app, ask| pour::asked(app.room_state(&ask.room)?, &ask);
    "fall" (FallAsk) -> FallView = |app, ask| fall::asked(app.room_state(&ask.room)?, &ask);
    "drain" (DrainAsk) -> DrainView = |app, ask| drain::asked(app.room_state(&ask.room)?, &ask);
    "cutting" (CuttingAsk) -> CuttingView = |app, ask| cutting::asked(app.room_state(&ask.room)?, &ask);
    "templates" (CuttingAsk) -> FileBytes = |app, ask| app.templates(&ask.room, ask.alternative.as_deref());
    "stiffness" (OfRoom) -> StiffnessView = |app, ask| Ok(stiffness(&app.room_state(&ask.room)?));
    "ledges" (LedgesAsk) -> LedgesView = |app, ask| ledges::asked(app.room_state(&ask.room)?, &ask);
    "tiling" (TilingAsk) -> TilingView = |app, ask| tiling::asked(app.room_state(&ask.room)?, &ask);
    "rules" (OfRoom) -> RulesView = |app, ask| Ok(rules::view(&app.room_state(&ask.room)?.rules));
    "history" (OfRoom) -> HistoryView = |app, ask| app.history(&ask.room);
    "write" (Write) -> Written = |app, write| app.write(&write);
    "undo" (UndoAsk) -> Written = |app, ask| app.undo(&ask.id, &ask.room);
    "demo" (DemoAsk) -> Imported = |app, ask| app.open_demo(&ask);
    "room-import" (ImportAsk) -> Imported = |app, ask| app.import_room(&ask);
    "file-look" (FileAsk) -> FileLook = |app, ask| app.look_at_file(&ask);
    "file-import" (FileAsk) -> Imported = |app, ask| app.import_file(&ask);
    "backups" (Nothing) -> BackupsView = |app, _| app.backups();
    "backup-make" (Nothing) -> FileBytes = |app, _| app.backup_bytes();
    "backup-look" (BackupAsk) -> BackupLook = |app, ask| app.of_backup(&ask, App::look_at_backup);
    "backup-restore" (BackupAsk) -> Restored = |app, ask| app.of_backup(&ask, App::restore);
    "recover" (Nothing) -> Recovered = |_, _| Err(while_open());
    "room-export" (ExportAsk) -> FileText = |app, ask| app.export_file(&ask);
    "drawing" (DrawingAsk) -> FileText = |app, ask| app.drawing(&ask.room, &ask.kind);
    "everything" (OfRoom) -> FileBytes = |app, ask| app.everything(&ask.room);
    "readings-import" (CsvAsk) -> Imported = |app, ask| app.import_readings(&ask);
    "readings-look" (CsvAsk) -> CsvLook = |app, ask| app.look_at_readings(&ask);
    "straightedge-walk" (OfSurvey) -> StraightedgeWalk =
        |app, ask| straightedge_walk(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "surface" (OfSurvey) -> FloorSurface = |app, ask| surface(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "method-check" (MethodAsk) -> MethodCheck = |app, ask| method_check(&app.room_state(&ask.room)?, &ask);
    "next-readings" (OfSurvey) -> NextReadings =
        |app, ask| next_readings(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "two-peg" (TwoPegAsk) -> TwoPeg = |app, ask| level_check::two_peg(&app.room_state(&ask.room)?, &ask);
    "tilt" (TiltAsk) -> TiltView = |app, ask| tilt_text::asked(&app.room_state(&ask.room)?, &ask);
    "tilt-walks" (OfSurvey) -> TiltWalks = |app, ask| tilt_walks(&app.room_state(&ask.room)?, ask.survey.as_deref());
    "repeatability" (RepeatAsk) -> Repeatability =
        |app, ask| level_check::repeatability(&app.room_state(&ask.room)?, &ask);
    "comparison" (CompareAsk) -> Comparison =
        |app, ask| comparison(&app.room_state(&ask.room)?, &ask.before, &ask.after);
    "engineer" (EngineerAsk) -> EngineerQuestion = |app, ask| engineer::question(&app.room_state(&ask.room)?, &ask);
    "record" (RecordAsk) -> FileBytes = |app, ask| app.record(&ask);
    "tests" (OfRoom) -> TestsView = |app, ask| Ok(tests::tests_view(&app.room_state(&ask.room)?, app.now()));
    "entries" (OfRoom) -> EntriesView = |app, ask| Ok(tests::entries_view(&app.room_state(&ask.room)?));
    "places" (PlacesAsk) -> PlacesView = |app, ask| tests::places::asked(&app.room_state(&ask.room)?.plan, &ask);
    "photograph-add" (PhotographAsk) -> Written = |app, ask| app.add_photograph(&ask);
    "photograph" (OfPhotograph) -> FileBytes = |app, ask| app.small_photograph(&ask.sha256);
    "seal" (SealAsk) -> Sealed = |app, ask| Ok(app.seal(&ask.value));
    "devices" (Nothing) -> DevicesView = |app, _| Ok(app.devices());
    "devices-look" (DevicesLook) -> DevicesView = |app, ask| app.order(Order::Look(ask.on));
    "devices-switch-on" (Nothing) -> DevicesView = |app, _| app.order(Order::SwitchOn);
    "device-use" (DeviceUse) -> DevicesView = |app, ask| app.order(Order::Use(ask));
    "device-measure" (OfDevice) -> DevicesView = |app, ask| app.order(Order::Measure(ask.device));
    "device-place" (DevicePlace) -> DevicesView = |app, ask| app.order(Order::Place(ask));
    "device-practice" (DevicePractice) -> DevicesView = |app, ask| app.order(Order::Practice(ask));
    "device-teach" (DeviceTeach) -> DevicesView = |app, ask| app.order(Order::Teach(ask));
    "device-taught" (DeviceTaught) -> DevicesView = |app, ask| app.order(Order::Taught(ask));
    "crew" (Nothing) -> CrewView = |app, _| app.crew_order(CrewOrder::Look);
    "crew-open" (CrewOpen) -> CrewView = |app, ask| app.crew_order(CrewOrder::Open(ask));
    "crew-close" (Nothing) -> CrewView = |app, _| app.crew_order(CrewOrder::Close);
    "crew-draw" (CrewDraw) -> CrewView = |app, ask| app.crew_order(CrewOrder::Draw(ask));
    "crew-change" (CrewChange) -> CrewView = |app, ask| app.crew_order(CrewOrder::Change(ask));
    "crew-revoke" (CrewRevoke) -> CrewView = |app, ask| app.crew_order(CrewOrder::Revoke(ask));
    "crew-here" (CrewHere) -> CrewView = |app, ask| app.crew_order(CrewOrder::Here(ask));
}

/// Rooms are made anew by whoever can close them: the window, or the command line.
fn while_open() -> Refusal {
    let message = "The rooms are open here. Close Truefall and run truefall recover, or recover them in its window.";
    Refusal::new(Kind::NotReady, message)
}

fn unknown(name: &str) -> Refusal {
    let known = REQUESTS.join(", ");
    Refusal::new(Kind::UnknownCommand, format!("There is no request {name:?}. There are: {known}."))
}

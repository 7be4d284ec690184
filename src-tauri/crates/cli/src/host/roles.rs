//! What each role may ask for. A request that stands in no list is the home device's alone.

use app::forms::CrewRole;

/// What may be looked at.
const LOOKS: &[&str] = &[
    "rooms",
    "room",
    "findings",
    "noise-alone",
    "height",
    "entry",
    "length",
    "build-up",
    "pour",
    "fall",
    "drain",
    "cutting",
    "templates",
    "stiffness",
    "ledges",
    "tiling",
    "rules",
    "history",
    "drawing",
    "straightedge-walk",
    "surface",
    "method-check",
    "next-readings",
    "two-peg",
    "tilt",
    "tilt-walks",
    "repeatability",
    "comparison",
    "engineer",
    "record",
    "tests",
    "entries",
    "photograph",
    "places",
    "crew",
    "crew-here",
];

/// What changes a room.
const WRITES: &[&str] = &["write", "undo", "photograph-add", "readings-look", "readings-import", "seal"];

/// What decides about the rooms themselves: a writer does not bring in or put away a whole room.
const HOME_COMMANDS: &[&str] = &["room-import", "room-archive"];

/// Whether a role may make a request.
pub(crate) fn may_ask(role: CrewRole, request: &str) -> bool {
    match role {
        CrewRole::Home => true,
        CrewRole::Write => LOOKS.contains(&request) || WRITES.contains(&request),
        CrewRole::Read => LOOKS.contains(&request),
    }
}

/// Whether a role may make a change.
pub(crate) fn may_change(role: CrewRole, command: &str) -> bool {
    match role {
        CrewRole::Home => true,
        CrewRole::Write => !HOME_COMMANDS.contains(&command),
        CrewRole::Read => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What neither role may do; a new request fails here until somebody decides about it.
    const HOME: &[&str] = &[
        "demo",
        "room-import",
        "file-look",
        "file-import",
        "backups",
        "backup-make",
        "backup-look",
        "backup-restore",
        "recover",
        "room-export",
        "everything",
        "devices",
        "devices-look",
        "devices-switch-on",
        "device-use",
        "device-measure",
        "device-place",
        "device-practice",
        "device-teach",
        "device-taught",
        "crew-open",
        "crew-close",
        "crew-draw",
        "crew-change",
        "crew-revoke",
    ];

    #[test]
    fn every_request_is_somebodys() {
        for request in app::REQUESTS {
            let lists = [LOOKS, WRITES, HOME].iter().filter(|list| list.contains(request)).count();
            assert_eq!(lists, 1, "{request} stands in {lists} lists of roles.rs: say who of the crew may ask it");
        }
        let named = LOOKS.len() + WRITES.len() + HOME.len();
        assert_eq!(named, app::REQUESTS.len(), "no list names what there is not");
    }

    /// What a writer may change; a new command fails here until somebody decides about it.
    const WRITER_COMMANDS: &[&str] = &[
        "room-new",
        "room-rename",
        "plan-set",
        "setup-open",
        "setup-withdraw",
        "setup-close",
        "reading-add",
        "readings-withdraw",
        "readings-import",
        "import-withdraw",
        "gate-set",
        "gate-clear",
        "approval-add",
        "approval-withdraw",
        "rule-set",
        "decision-set",
        "tile-set",
        "falls-set",
        "layers-set",
        "pour-set",
        "fall-plan-set",
        "ledges-set",
        "tiling-set",
        "door-set",
        "stock-set",
        "target-set",
        "tick-set",
        "entry-put",
        "entry-remove",
    ];

    #[test]
    fn every_command_is_somebodys() {
        for command in app::COMMANDS {
            let lists = [WRITER_COMMANDS, HOME_COMMANDS].iter().filter(|list| list.contains(command)).count();
            assert_eq!(lists, 1, "{command}: say in roles.rs whether a writer of the crew may make it");
            assert_eq!(may_change(CrewRole::Write, command), WRITER_COMMANDS.contains(command), "{command}");
        }
        assert_eq!(WRITER_COMMANDS.len() + HOME_COMMANDS.len(), app::COMMANDS.len(), "no list names what there is not");
    }

    #[test]
    fn a_reader_changes_nothing_and_a_writer_no_room_as_a_whole() {
        assert!(WRITES.iter().chain(HOME).all(|request| !may_ask(CrewRole::Read, request)));
        assert!(HOME.iter().all(|request| !may_ask(CrewRole::Write, request)));
        assert!(may_change(CrewRole::Write, "reading-add") && !may_change(CrewRole::Write, "room-import"));
        assert!(!may_change(CrewRole::Read, "reading-add"));
    }
}

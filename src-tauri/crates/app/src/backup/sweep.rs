//! What a killed try left behind.

use std::fs::{self, DirEntry};
use std::path::Path;
use std::time::{Duration, SystemTime};

/// A younger part may belong to another Truefall that is still at work on it.
const AGE: Duration = Duration::from_secs(60 * 60);

/// Removes the parts that are an hour old from a folder of rooms, its copies and its photographs.
pub(crate) fn sweep(home: &Path) {
    let now = SystemTime::now();
    for folder in [home.to_owned(), home.join("backups"), home.join(crate::photographs::shelf::PHOTOGRAPHS)] {
        for entry in fs::read_dir(folder).into_iter().flatten().flatten().filter(|entry| is_left(entry, now)) {
            let path = entry.path();
            // One that cannot be removed is tried at the next start.
            let _ = if path.is_dir() { fs::remove_dir_all(path) } else { fs::remove_file(path) };
        }
    }
}

fn is_left(entry: &DirEntry, now: SystemTime) -> bool {
    let changed = entry.metadata().and_then(|about| about.modified());
    let age = changed.ok().and_then(|changed| now.duration_since(changed).ok());
    entry.file_name().to_string_lossy().ends_with(".part") && age.is_some_and(|age| age > AGE)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs::File;

    #[test]
    fn only_old_parts_go() {
        let home = tempfile::tempdir().expect("a folder");
        let at = |name: &str| home.path().join(name);
        let age = |name: &str, hours: u64| {
            let then = SystemTime::now() - Duration::from_secs(hours * 60 * 60);
            File::open(at(name)).and_then(|file| file.set_modified(then)).expect("its time is set");
        };
        for folder in ["backups", "opened-a.part", "opened-b.part"] {
            fs::create_dir(at(folder)).expect("a folder");
        }
        for file in ["rooms.sqlite", "opened-a.part/rooms.sqlite", "backups/rooms-1.sqlite.part", "passing-1.part"] {
            fs::write(at(file), "x").expect("a file");
        }
        ["rooms.sqlite", "opened-a.part", "backups/rooms-1.sqlite.part"].iter().for_each(|name| age(name, 2));
        sweep(home.path());
        let left = |name: &str| at(name).exists();
        assert!(!left("opened-a.part") && !left("backups/rooms-1.sqlite.part"));
        assert!(left("rooms.sqlite") && left("opened-b.part") && left("passing-1.part"));
    }
}

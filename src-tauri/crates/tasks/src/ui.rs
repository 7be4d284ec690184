//! The screens: their packages and their build, each done only when something it depends on has changed.

use crate::checkout::Checkout;
use crate::child::run;
use crate::node::Node;
use crate::outcome::Outcome;
use std::collections::hash_map::DefaultHasher;
use std::hash::Hasher;
use std::io;
use std::path::{Path, PathBuf};

/// Folders of the screens that are made, not written.
const MADE: [&str; 4] = ["node_modules", "dist", "test-results", ".svelte-kit"];

/// Brings the packages the lock file names.
pub(crate) fn packages(checkout: &Checkout, node: &Node) -> Outcome {
    let ui = checkout.ui();
    let stamp = Stamp::of(checkout, "ui-packages", &[ui.join("package.json"), ui.join("package-lock.json")])?;
    stamp.unless_current(&ui.join("node_modules"), || run(&mut node.npm(checkout, &["ci"])))
}

/// Builds what the window and the host show.
pub(crate) fn build(checkout: &Checkout, node: &Node) -> Outcome {
    let stamp = Stamp::of(checkout, "ui-build", &[checkout.ui()])?;
    let made = checkout.ui().join("dist/index.html");
    stamp.unless_current(&made, || run(&mut node.npm(checkout, &["run", "build"])))
}

/// What something was made from, as a number kept beside what was made.
struct Stamp {
    file: PathBuf,
    digest: String,
}

impl Stamp {
    fn of(checkout: &Checkout, name: &str, inputs: &[PathBuf]) -> Outcome<Self> {
        let mut hasher = DefaultHasher::new();
        inputs.iter().try_for_each(|input| digest(input, &mut hasher)).map_err(|why| format!("{name}: {why}."))?;
        Ok(Self { file: checkout.made("stamps").join(name), digest: format!("{:016x}", hasher.finish()) })
    }

    /// Does the work unless `made` is there and was made from these same inputs.
    fn unless_current(&self, made: &Path, work: impl FnOnce() -> Outcome) -> Outcome {
        if made.exists() && std::fs::read_to_string(&self.file).is_ok_and(|kept| kept == self.digest) {
            return Ok(());
        }
        work()?;
        let folder = self.file.parent().unwrap_or(Path::new("."));
        let kept = std::fs::create_dir_all(folder).and_then(|()| std::fs::write(&self.file, &self.digest));
        kept.map_err(|why| format!("{} could not be written: {why}.", self.file.display()))
    }
}

/// Feeds the names and bytes under `path` to the hasher, in the order of the names.
fn digest(path: &Path, hasher: &mut DefaultHasher) -> io::Result<()> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    if MADE.contains(&&*name) {
        return Ok(());
    }
    hasher.write(name.as_bytes());
    if !path.is_dir() {
        hasher.write(&std::fs::read(path)?);
        return Ok(());
    }
    let mut inside = std::fs::read_dir(path)?.map(|entry| Ok(entry?.path())).collect::<io::Result<Vec<_>>>()?;
    inside.sort();
    inside.iter().try_for_each(|entry| digest(entry, hasher))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn work_is_done_once_for_the_same_inputs() {
        let home = std::env::temp_dir().join(format!("truefall-stamp-{}", std::process::id()));
        let made = home.join("made");
        std::fs::create_dir_all(&made).unwrap();
        let count = Cell::new(0);
        let work = |digest: &str| {
            let stamp = Stamp { file: home.join("stamps/one"), digest: digest.into() };
            let add = || {
                count.set(count.get() + 1);
                Ok(())
            };
            stamp.unless_current(&made, add).unwrap();
            count.get()
        };
        assert_eq!((work("a"), work("a"), work("b"), work("b")), (1, 1, 2, 2));
        std::fs::remove_dir(&made).unwrap();
        assert_eq!(work("b"), 3, "what is gone is made again");
        std::fs::remove_dir_all(&home).unwrap();
    }

    #[test]
    fn a_changed_byte_or_name_is_seen_and_what_is_made_is_not() {
        let home = std::env::temp_dir().join(format!("truefall-digest-{}", std::process::id()));
        std::fs::create_dir_all(home.join("node_modules")).unwrap();
        let seen = |file: &str, text: &str| {
            std::fs::write(home.join(file), text).unwrap();
            let mut hasher = DefaultHasher::new();
            digest(&home, &mut hasher).unwrap();
            hasher.finish()
        };
        let first = seen("a.ts", "1");
        assert_ne!(seen("a.ts", "2"), first);
        assert_eq!(seen("a.ts", "1"), first);
        assert_eq!(seen("node_modules/x", "1"), first);
        assert_ne!(seen("b.ts", "1"), first);
        std::fs::remove_dir_all(&home).unwrap();
    }
}

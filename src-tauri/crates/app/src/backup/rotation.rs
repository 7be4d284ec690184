//! The copies that are made by themselves: one a day that something changed, the last seven days and then one a month.

use super::names::{ROOMS, stamp};
use crate::app::App;
use crate::fault::refused;
use crate::files::atomic_write::unwritten;
use crate::files::sha256sums;
use crate::forms::{BackupCard, BackupsView};
use judge::Refusal;
use std::fs;
use std::path::{Path, PathBuf};

/// The folder of the copies beside the rooms.
const FOLDER: &str = "backups";

/// So many of the latest are kept.
const LATEST: usize = 7;

/// So many months, beyond these, keep one each.
const MONTHS: usize = 24;

impl App {
    /// Makes today's copy where something changed since the last one, and drops those that are no longer wanted.
    ///
    /// # Errors
    /// Whatever keeps the copy from being made; the older ones stay then.
    pub fn keep_copy(&self) -> Result<Option<String>, Refusal> {
        let Some(folder) = self.copies_folder() else { return Ok(None) };
        let (now, state) = (stamp(&self.now()), self.state_mark()?);
        let known = self.copies();
        if state.is_empty() || known.iter().any(|name| day(name) == day(&name_of(&now, "")) || name.contains(&state)) {
            return Ok(None);
        }
        fs::create_dir_all(&folder).map_err(|error| unwritten(&folder, &error))?;
        let name = name_of(&now, &state);
        self.store.backup(folder.join(&name)).map_err(refused)?;
        self.copies_to_drop().iter().for_each(|old| {
            // One that cannot be removed is one more than needed.
            let _ = fs::remove_file(folder.join(old));
        });
        Ok(Some(name))
    }

    /// The copies that were made by themselves, the latest first, and where they are.
    ///
    /// # Errors
    /// None at present.
    pub fn backups(&self) -> Result<BackupsView, Refusal> {
        let folder = self.copies_folder();
        let size = |name: &str| {
            let path = folder.as_ref().map(|folder| folder.join(name));
            path.and_then(|path| fs::metadata(path).ok()).map_or(0, |metadata| metadata.len())
        };
        let card = |name: &String| BackupCard { at: time_of(name), bytes: size(name) as f64, name: name.clone() };
        Ok(BackupsView {
            copies: self.copies().iter().map(card).collect(),
            folder: folder.as_ref().map(|folder| folder.display().to_string()),
        })
    }

    /// The path of one of the copies by its name; none for any other name.
    pub(crate) fn copy_named(&self, name: &str) -> Option<PathBuf> {
        self.copies().iter().find(|known| *known == name)?;
        Some(self.copies_folder()?.join(name))
    }

    fn copies_folder(&self) -> Option<PathBuf> {
        self.folder.as_ref().map(|folder| folder.join(FOLDER))
    }

    /// The names of the copies, the latest first.
    fn copies(&self) -> Vec<String> {
        self.folder.as_deref().map(copies_in).unwrap_or_default().into_iter().map(|(name, _)| name).collect()
    }

    fn copies_to_drop(&self) -> Vec<String> {
        to_drop(&self.copies())
    }

    /// Eight digits that change with every entry of every room; nothing while there is none.
    fn state_mark(&self) -> Result<String, Refusal> {
        let heads = self.read(|read| {
            let chains = read.chains()?;
            Ok(chains
                .iter()
                .map(|chain| read.head(chain.as_ref()).map(|head| head.hash.to_string()))
                .collect::<Result<Vec<_>, _>>()?)
        });
        let heads = heads?;
        Ok(if heads.is_empty() {
            String::new()
        } else {
            sha256sums::sha256(heads.concat().as_bytes()).chars().take(8).collect()
        })
    }
}

/// The copies beside the rooms of a folder, each with its path, the latest first.
pub(super) fn copies_in(home: &Path) -> Vec<(String, PathBuf)> {
    let entries = fs::read_dir(home.join(FOLDER)).into_iter().flatten().flatten();
    let named = entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), entry.path()));
    let mut copies: Vec<_> =
        named.filter(|(name, _)| name.starts_with("rooms-") && name.ends_with(".sqlite")).collect();
    copies.sort();
    copies.reverse();
    copies
}

fn name_of(stamp: &str, state: &str) -> String {
    format!("{}-{stamp}-{state}.sqlite", ROOMS.trim_end_matches(".sqlite"))
}

fn day(name: &str) -> Option<&str> {
    name.get(6..14)
}

fn time_of(name: &str) -> String {
    let part = |from: usize, to: usize| name.get(from..to).unwrap_or("00");
    format!("{}-{}-{}T{}:{}:{}", part(6, 10), part(10, 12), part(12, 14), part(15, 17), part(17, 19), part(19, 21))
}

/// What is no longer wanted of names, the latest first: beyond the latest, all but the last of each month.
fn to_drop(names: &[String]) -> Vec<String> {
    let mut months: Vec<&str> = Vec::new();
    let older = names.iter().skip(LATEST);
    older
        .filter(|name| {
            let month = name.get(6..12).unwrap_or_default();
            let is_last_of_month = !months.contains(&month) && months.len() < MONTHS;
            if is_last_of_month {
                months.push(month);
            }
            !is_last_of_month
        })
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_days_stay_and_then_one_a_month() {
        let names: Vec<String> = (1..=4)
            .flat_map(|month| (1..=28).map(move |day| name_of(&format!("2031{month:02}{day:02}-070000"), "0a1b2c3d")))
            .rev()
            .collect();
        let dropped = to_drop(&names);
        let kept: Vec<&str> =
            names.iter().filter(|name| !dropped.contains(name)).filter_map(|name| day(name)).collect();
        let days = ["28", "27", "26", "25", "24", "23", "22", "21"].map(|day| format!("203104{day}"));
        let want: Vec<&str> = days.iter().map(String::as_str).chain(["20310328", "20310228", "20310128"]).collect();
        assert_eq!(kept, want, "seven days, the last of April beyond them, and one of each month before");
        assert_eq!(to_drop(&names[..5]), Vec::<String>::new());
        assert_eq!(time_of(&names[0]), "2031-04-28T07:00:00");
    }
}

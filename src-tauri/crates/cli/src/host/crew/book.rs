//! Who was let in: names, roles and the digests of their keys, kept beside the rooms.

use app::Refusal;
use app::forms::{CrewRole, PrivateText};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::path::{Path, PathBuf};

/// One device that was let in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Member {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) role: CrewRole,
    pub(crate) since: String,
    /// SHA-256 of its key: the key itself is on the device alone.
    key: String,
    /// What its name is sealed with in the journal: the same every time, so that a repeat is a repeat.
    salt: String,
}

impl Member {
    /// Its name as the journal keeps it: private.
    pub(crate) fn person(&self) -> PrivateText {
        PrivateText { salt: self.salt.clone(), value: self.name.clone() }
    }
}

/// What is kept from one opening to the next.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Book {
    /// The port stays, since what waits on a phone belongs to the address it was entered at.
    #[serde(default)]
    pub(super) port: u16,
    #[serde(default)]
    pub(super) members: Vec<Member>,
    #[serde(skip)]
    file: Option<PathBuf>,
}

impl Book {
    /// The book of a folder; a new one where there is none, or none that can be read: then all join again.
    pub(super) fn open(folder: Option<&Path>) -> Self {
        let file = folder.map(|folder| folder.join("crew.json"));
        let text = file.as_deref().and_then(|file| std::fs::read_to_string(file).ok());
        let kept: Book = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        Self { file, ..kept }
    }

    /// # Errors
    /// `io` where it cannot be written.
    pub(super) fn keep(&self) -> Result<(), Refusal> {
        let Some(file) = &self.file else { return Ok(()) };
        let text = app::json::write(self)?;
        app::write_whole(file, text.as_bytes())
    }

    /// Lets a device in; answers what it is to show from now on: its id and its key.
    pub(super) fn let_in(&mut self, name: &str, role: CrewRole, since: String) -> Result<(Member, String), Refusal> {
        let (id, key, salt) = (drawn::<8>()?, drawn::<32>()?, drawn::<16>()?);
        let member = Member { id: id.clone(), name: self.free(name), role, since, key: digest(&key), salt };
        self.members.push(member.clone());
        self.keep()?;
        Ok((member, format!("{id}.{key}")))
    }

    /// The name, with a number behind it where another has it already: what two read is told apart by it.
    fn free(&self, name: &str) -> String {
        let taken = |name: &str| self.members.iter().any(|member| member.name == name);
        let numbered = (2..).map(|number| format!("{name} {number}"));
        std::iter::once(name.to_string()).chain(numbered).find(|name| !taken(name)).unwrap_or_default()
    }

    /// The device that shows this, if it is let in.
    pub(super) fn who(&self, shown: &str) -> Option<&Member> {
        let (id, key) = shown.split_once('.')?;
        let member = self.members.iter().find(|member| member.id == id)?;
        crate::door::same(&digest(key), &member.key).then_some(member)
    }
}

fn digest(key: &str) -> String {
    hex(&Sha256::digest(key.as_bytes()))
}

pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn drawn<const N: usize>() -> Result<String, Refusal> {
    let mut bytes = [0u8; N];
    getrandom::fill(&mut bytes).map_err(|error| crate::failed("No key could be drawn", &error))?;
    Ok(hex(&bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_device_is_known_by_its_key_and_by_nothing_else_and_again_tomorrow() {
        let folder = std::env::temp_dir().join(format!("truefall-book-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        let mut book = Book::open(Some(&folder));
        let (ana, shown) = book.let_in("Ana", CrewRole::Write, "now".into()).expect("let in");
        assert_eq!(Book::open(Some(&folder)).who(&shown), Some(&ana));
        let (other, _) = book.let_in("Ana", CrewRole::Read, "now".into()).expect("let in");
        assert_eq!(other.name, "Ana 2", "no two go by one name");
        let text = std::fs::read_to_string(folder.join("crew.json")).expect("kept");
        assert!(!text.contains(shown.split_once('.').expect("two parts").1), "the key itself is kept nowhere");
        for wrong in ["", ".", &shown[..shown.len() - 1], &format!("{}.", ana.id), &format!("{}.{}", ana.id, ana.key)] {
            assert_eq!(book.who(wrong), None, "{wrong}");
        }
        std::fs::remove_dir_all(&folder).expect("tidied");
    }
}

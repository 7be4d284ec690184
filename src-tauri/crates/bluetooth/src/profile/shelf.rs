//! All profiles that are known: those built in, from open standards alone, and those that were taught or written here.

use super::file::{File, Match, ProfileError, Taught};
use super::{Form, Profile, Scope};
use crate::decode::Kind;
use crate::radio::{Found, Uuid};
use crate::teach::Example;
use std::path::{Path, PathBuf};

/// The built-in profiles, the most telling first.
const BUILT_IN: &[&str] = &[OPEN_STANDARD, include_str!("../../profiles/serial-lines.toml")];

const OPEN_STANDARD: &str = include_str!("../../profiles/open-standard.toml");

/// The profiles in the order in which they are tried.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    kept: Vec<Kept>,
    /// The files that could not be read, and why.
    pub refused: Vec<(PathBuf, ProfileError)>,
}

#[derive(Debug, Clone)]
struct Kept {
    matches: Match,
    profile: Profile,
}

impl Shelf {
    /// What is built in.
    pub fn built_in() -> Self {
        let kept = BUILT_IN.iter().filter_map(|text| Kept::read(text).ok()).collect();
        Self { kept, refused: Vec::new() }
    }

    /// The files of a folder, and behind them what is built in. A folder that is not there holds nothing.
    pub fn with_folder(folder: &Path) -> Self {
        let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
            .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect())
            .unwrap_or_default();
        files.retain(|file| file.extension().is_some_and(|end| end == "toml"));
        files.sort();
        let mut shelf = Self::default();
        for file in files {
            match read(&file) {
                Ok(kept) => shelf.kept.push(kept),
                Err(why) => shelf.refused.push((file, why)),
            }
        }
        shelf.kept.extend(Self::built_in().kept);
        shelf
    }

    /// How an instrument that was heard is read; none where nothing fits.
    pub fn find(&self, found: &Found) -> Option<Profile> {
        self.kept.iter().find(|kept| kept.matches.fits(found)).map(|kept| kept.profile.clone())
    }

    /// The profile that leaves it to the instrument to say how it is read: worth a try with any.
    pub fn open_standard() -> Option<Profile> {
        Kept::read(OPEN_STANDARD).ok().map(|kept| kept.profile)
    }

    /// The text of a taught profile, with its examples as its test; none for a form that is not learned.
    pub fn write(profile: &Profile, unit: Kind, name: &str, examples: &[Example]) -> Option<String> {
        File::write(&Taught { profile, unit, name, examples })
    }
}

impl Profile {
    /// The profile that a text describes.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(text: &str) -> Result<Self, ProfileError> {
        Kept::read(text).map(|kept| kept.profile)
    }
}

impl Kept {
    fn read(text: &str) -> Result<Self, ProfileError> {
        let file = File::read(text)?;
        let mut profile = file.profile()?;
        if matches!(profile.form, Form::Serial | Form::Described) {
            profile.also = Some(other(&profile));
        }
        Ok(Self { matches: file.matches, profile })
    }
}

/// What an instrument that may send both kinds is trusted with for the other one. Ours: it states none.
fn other(profile: &Profile) -> Scope {
    let (kind, most, accuracy, step) = match profile.accuracy {
        crate::reading::Quantity::Length(_) => (Kind::Angle, 90.0, 0.1, 0.1),
        crate::reading::Quantity::Angle(_) => (Kind::Length, 200_000.0, 2.0, 1.0),
    };
    let [most, accuracy, step] = [most, accuracy, step].map(|number| kind.quantity(number));
    Scope { range: (kind.quantity(-most.number()), most), accuracy, step }
}

fn read(file: &Path) -> Result<Kept, ProfileError> {
    let length = std::fs::metadata(file).map(|about| about.len()).unwrap_or_default();
    if length > super::MAX_FILE as u64 {
        return Err(ProfileError::TooLong);
    }
    let text = std::fs::read_to_string(file).map_err(|error| ProfileError::NotUnderstood(error.to_string()))?;
    Kept::read(&text)
}

impl Match {
    fn fits(&self, found: &Found) -> bool {
        let service = self.service.as_ref().map(|text| text.parse::<Uuid>());
        let service = service.map(|uuid| uuid.is_ok_and(|uuid| found.offers.contains(&uuid)));
        let name = self.name.as_ref().map(|start| !start.is_empty() && found.name.starts_with(start.as_str()));
        let all = [service, name];
        all.iter().any(Option::is_some) && all.into_iter().flatten().all(|fits| fits)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heard(name: &str, offers: &[Uuid]) -> Found {
        Found { id: "x".into(), name: name.to_string(), signal_dbm: None, offers: offers.to_vec() }
    }

    #[test]
    fn every_built_in_profile_is_sound() {
        assert_eq!(Shelf::built_in().kept.len(), BUILT_IN.len());
        assert!(Shelf::open_standard().is_some_and(|profile| profile.form == Form::Described));
    }

    #[test]
    fn an_instrument_is_known_by_its_service_or_by_a_taught_name() {
        let folder = std::env::temp_dir().join(format!("truefall-shelf-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder");
        let text = OPEN_STANDARD.replace("service = \"185a\"", "name = \"My laser\"").replace("open standard", "mine");
        std::fs::write(folder.join("mine.toml"), text).expect("a file");
        std::fs::write(folder.join("broken.toml"), "schema = 1").expect("a file");
        let shelf = Shelf::with_folder(&folder);
        std::fs::remove_dir_all(&folder).expect("it is ours");
        let name = |found: Found| shelf.find(&found).map(|profile| profile.name);
        assert_eq!(name(heard("My laser 7", &[])).as_deref(), Some("mine"));
        assert_eq!(name(heard("Other", &[Uuid::INDUSTRIAL_MEASUREMENT])).as_deref(), Some("open standard"));
        assert_eq!(name(heard("Other", &[])), None);
        assert_eq!(shelf.refused.len(), 1);
    }
}

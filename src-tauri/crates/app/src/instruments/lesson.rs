//! An instrument being taught on a screen: played with, then read as its display shows, then told one reading first.

use super::practice::{self, Practice};
use crate::forms::{DeviceTeach, DisplayShows, LessonNote, LessonPhase, LessonView, TeachDeed};
use bluetooth::Moment;
use bluetooth::decode::Kind as Measured;
use bluetooth::profile::{Profile, Shelf};
use bluetooth::radio::Radio;
use bluetooth::reading::Quantity;
use bluetooth::teach::{Display, DisplayUnit, Ear, Next, Overheard, Sample, Shown, Teaching};
use judge::forms::bounds::{ACCURACY, within};
use judge::{Kind, Refusal};
use std::path::{Path, PathBuf};
use std::task::{Context, Poll};

/// Readings that must be heard before the first is typed.
const LEAST_PLAYED: usize = 3;

/// One instrument and what is known of it so far.
pub(super) struct Lesson {
    ear: Ear,
    /// Where the instrument is a practice one: its own hold on it, apart from the readings of rooms.
    pub(super) practice: Option<Practice>,
    about: DeviceTeach,
    free: Vec<Sample>,
    latest: Option<Sample>,
    teaching: Option<Teaching>,
    phase: LessonPhase,
    note: Option<LessonNote>,
    /// The last number that was typed fits nothing: the next that does not ends the lesson.
    doubted: bool,
    /// What bars the radio.
    barred: Option<String>,
}

impl Lesson {
    /// Begins to listen; `air` is this device's own radio, for an instrument that is not played.
    ///
    /// # Errors
    /// `out-of-range` for an accuracy or decimals that no sheet states, `empty` for no name.
    pub(super) fn begin(about: DeviceTeach, air: impl FnOnce() -> Box<dyn Radio>) -> Result<Self, Refusal> {
        checked(&about)?;
        let practice = practice::profile(&about.device).map(|_| Practice::new(2));
        let radio: Box<dyn Radio> = match &practice {
            Some(practice) => Box::new(practice.radio.clone()),
            None => air(),
        };
        let ear = Ear::new(radio, about.device.as_str().into());
        let (free, phase) = (Vec::new(), LessonPhase::Connecting);
        Ok(Self {
            ear,
            practice,
            about,
            free,
            latest: None,
            teaching: None,
            phase,
            note: None,
            doubted: false,
            barred: None,
        })
    }

    pub(super) fn device(&self) -> &str {
        &self.about.device
    }

    pub(super) fn due(&self) -> Option<Moment> {
        self.ear.due()
    }

    /// Hears what was sent up to `now`.
    pub(super) fn poll(&mut self, now: Moment, context: &mut Context<'_>) {
        while let Poll::Ready(heard) = self.ear.poll(now, context) {
            self.hear(heard);
        }
    }

    fn hear(&mut self, heard: Overheard) {
        match heard {
            Overheard::Adapter(adapter) => self.barred = adapter.bars().map(|state| state.words()),
            Overheard::Listening(0) => self.phase = LessonPhase::Silent,
            Overheard::Listening(_) => {
                if self.phase == LessonPhase::Connecting {
                    self.phase = LessonPhase::Playing;
                }
                self.note = None;
            }
            Overheard::Sample(sample) => {
                if self.teaching.is_none() {
                    self.free.push(sample.clone());
                }
                self.latest = Some(sample);
                self.note = None;
            }
            Overheard::Lost(_) => self.note = Some(LessonNote::Lost),
        }
    }

    /// Goes on; the profile, once it is learned.
    ///
    /// # Errors
    /// `not-understood` for a shown reading that is no number, `not-ready` for a deed out of turn.
    pub(super) fn go_on(&mut self, deed: TeachDeed, shown: Option<&str>) -> Result<Option<Learned>, Refusal> {
        match (deed, self.phase) {
            (TeachDeed::Played, LessonPhase::Playing) => self.played(),
            (TeachDeed::Shown, LessonPhase::Showing) => self.shown(shown)?,
            (TeachDeed::Right, LessonPhase::Checking) => return Ok(self.right()),
            (TeachDeed::Wrong, LessonPhase::Checking) => self.phase = LessonPhase::NothingFits,
            _ => return Err(Refusal::new(Kind::NotReady, OUT_OF_TURN).field("deed")),
        }
        Ok(None)
    }

    fn played(&mut self) {
        if self.free.len() < LEAST_PLAYED {
            self.note = Some(LessonNote::MorePlay);
            return;
        }
        let display = Display { unit: unit(self.about.unit), decimals: self.about.decimals };
        self.teaching = Some(Teaching::new(display, std::mem::take(&mut self.free)));
        (self.latest, self.note, self.phase) = (None, None, LessonPhase::Showing);
    }

    fn shown(&mut self, shown: Option<&str>) -> Result<(), Refusal> {
        let text = shown.unwrap_or_default().trim().replace(',', ".");
        let shown: f64 = text.parse().ok().filter(|shown: &f64| shown.is_finite()).ok_or_else(|| {
            let message = "Type the number as the display shows it, without its unit: 1.234";
            Refusal::new(Kind::NotUnderstood, message).field("shown")
        })?;
        let Some(teaching) = &mut self.teaching else { return Ok(()) };
        let before = (teaching.clone(), self.latest.clone());
        self.note = match teaching.show(self.latest.take().unwrap_or_default(), shown) {
            Shown::Taken => None,
            Shown::TooAlike => Some(LessonNote::TooAlike),
            Shown::NothingSent => Some(LessonNote::NothingSent),
        };
        self.phase = match teaching.next() {
            Next::Show => LessonPhase::Showing,
            Next::Check => LessonPhase::Checking,
            Next::NothingFits => LessonPhase::NothingFits,
        };
        self.ask_again(before);
        Ok(())
    }

    /// One number that fits nothing was mistyped, more likely than not: it is asked for once more.
    fn ask_again(&mut self, (teaching, latest): (Teaching, Option<Sample>)) {
        let fits = self.phase != LessonPhase::NothingFits;
        if !fits && !self.doubted {
            (self.teaching, self.latest) = (Some(teaching), latest);
            (self.phase, self.note) = (LessonPhase::Showing, Some(LessonNote::LookAgain));
        }
        self.doubted = !fits;
    }

    fn right(&mut self) -> Option<Learned> {
        let learned = self.teaching.as_ref().and_then(|teaching| Learned::of(teaching, &self.about));
        self.phase = if learned.is_some() { LessonPhase::Learned } else { LessonPhase::NothingFits };
        learned
    }

    pub(super) fn view(&self) -> LessonView {
        let decimals = usize::from(self.about.decimals);
        let teaching = self.teaching.as_ref();
        let checked = self.latest.as_ref().filter(|_| self.phase == LessonPhase::Checking);
        let guess = checked.and_then(|sample| teaching?.guess(sample));
        LessonView {
            device: self.about.device.clone(),
            name: self.about.name.clone(),
            unit: self.about.unit,
            phase: self.phase,
            heard: count(self.free.len()),
            fresh: self.latest.is_some(),
            typed: count(teaching.map_or(0, Teaching::typed)),
            ways: count(teaching.map_or(0, Teaching::ways)),
            guess: guess.map(|guess| format!("{guess:.decimals$}")),
            display: self.display(),
            note: self.note,
            words: self.barred.clone(),
        }
    }

    /// What the display of a practice instrument shows now: it has none to look at.
    fn display(&self) -> Option<String> {
        let profile = practice::profile(&self.about.device)?;
        let message = self.latest.as_ref()?.get(&profile.characteristic)?;
        let decimals = usize::from(self.about.decimals);
        let number = match profile.form.decode(message).ok()?.value {
            Quantity::Length(length) => length.to_mm() / in_mm(self.about.unit)?,
            Quantity::Angle(angle) => angle.to_degrees(),
        };
        Some(format!("{number:.decimals$}"))
    }
}

const OUT_OF_TURN: &str = "That is not what comes next in this lesson. Go on with what the screen asks for.";

fn count(of: usize) -> u32 {
    u32::try_from(of).unwrap_or(u32::MAX)
}

fn unit(shows: DisplayShows) -> DisplayUnit {
    match shows {
        DisplayShows::M => DisplayUnit::M,
        DisplayShows::Cm => DisplayUnit::Cm,
        DisplayShows::Mm => DisplayUnit::Mm,
        DisplayShows::In => DisplayUnit::In,
        DisplayShows::Deg => DisplayUnit::Deg,
    }
}

/// How many millimetres the display counts in; none for an angle.
fn in_mm(shows: DisplayShows) -> Option<f64> {
    match shows {
        DisplayShows::M => Some(1000.0),
        DisplayShows::Cm => Some(10.0),
        DisplayShows::Mm => Some(1.0),
        DisplayShows::In => Some(survey::units::INCH_MM),
        DisplayShows::Deg => None,
    }
}

/// The most letters of an instrument's name.
const MOST_NAMED: usize = 60;

fn checked(about: &DeviceTeach) -> Result<(), Refusal> {
    let letters = about.name.trim().chars().count();
    if letters == 0 || letters > MOST_NAMED {
        let message = "Give the instrument a name of at most 60 letters: it is found again by how its own name begins.";
        return Err(Refusal::new(Kind::OutOfRange, message).field("name"));
    }
    if !(about.accuracy.is_finite() && about.accuracy > 0.0) {
        return Err(Refusal::out_of_range("accuracy", "what its sheet states, more than nothing"));
    }
    within("accuracy", Some(about.accuracy), ACCURACY)?;
    if about.decimals > 6 {
        return Err(Refusal::out_of_range("decimals", "at most 6"));
    }
    Ok(())
}

/// What a lesson comes to: a profile, and its text to be kept.
pub struct Learned {
    pub profile: Profile,
    text: String,
    name: String,
    /// Whether it reads tilts.
    pub tilts: bool,
}

impl Learned {
    fn of(teaching: &Teaching, about: &DeviceTeach) -> Option<Self> {
        Self::new(teaching, &about.name, about.accuracy)
    }

    /// The profile of what was taught; none where nothing that was heard gives what was typed.
    pub fn new(teaching: &Teaching, name: &str, accuracy: f64) -> Option<Self> {
        let kind = teaching.kind();
        let (profile, examples) = teaching.profile(name, kind.quantity(accuracy))?;
        let text = Shelf::write(&profile, kind, name, &examples)?;
        Some(Self { profile, text, name: name.to_string(), tilts: kind == Measured::Angle })
    }

    /// Writes it among the profiles beside the rooms; the file.
    ///
    /// # Errors
    /// `io` where it cannot be written.
    pub fn keep(&self, rooms: &Path) -> Result<PathBuf, Refusal> {
        let folder = rooms.join("profiles");
        let name: String = self.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
        let file = folder.join(format!("{name}.toml"));
        let failed =
            |why: std::io::Error| Refusal::new(Kind::Io, format!("{} could not be written: {why}.", file.display()));
        std::fs::create_dir_all(&folder).map_err(failed)?;
        std::fs::write(&file, &self.text).map_err(failed)?;
        Ok(file)
    }
}

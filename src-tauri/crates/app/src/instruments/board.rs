//! What is known of the instruments, as it is shown, and the readings that wait for a screen.

use super::SharedClock;
use crate::forms::{DeviceReading, DeviceView, DevicesView, FromInstrument, Measures, RadioView};
use bluetooth::instrument::Heard;
use bluetooth::profile::Profile;
use bluetooth::radio::{Found, InstrumentId};
use bluetooth::reading::{Cause, Quantity, Reading};
use bluetooth::state::Adapter;
use data_encoding::HEXLOWER;
use std::collections::{BTreeMap, VecDeque};

/// Readings that wait at most; a screen takes each within a moment.
const MOST_WAITING: usize = 16;

/// Instruments that are shown at most; what is heard beyond them and not in use is left out.
const MOST_DEVICES: usize = 64;

const NO_ANSWER: &str = "The instrument was asked and did not answer. Nothing was taken.";
const NO_PLACE: &str = "No point is open for it, so it was shown and not kept.";
const TILT: &str = "It reads a tilt. This screen wants a height, so it was not kept.";
const HEIGHT: &str = "It reads a height. This screen wants a tilt, so it was not kept.";
const TWICE: &str = "It was pressed twice at one point. The first reading counts.";

/// All instruments that were heard or are in use.
pub(super) struct Board {
    clock: SharedClock,
    pub(super) looking: bool,
    radio: Option<RadioView>,
    devices: BTreeMap<String, Device>,
    place: Option<String>,
    wants: Measures,
    waiting: VecDeque<DeviceReading>,
}

/// One instrument, how it is shown and how it is read.
struct Device {
    view: DeviceView,
    profile: Option<Profile>,
}

impl Board {
    pub(super) fn new(clock: SharedClock) -> Self {
        let (devices, waiting) = (BTreeMap::new(), VecDeque::new());
        Self { clock, looking: false, radio: None, devices, place: None, wants: Measures::Length, waiting }
    }

    pub(super) fn view(&self) -> DevicesView {
        DevicesView {
            seq: 0,
            looking: self.looking,
            radio: self.radio.clone(),
            devices: self.devices.values().map(|device| device.view.clone()).collect(),
            waiting: self.waiting.iter().cloned().collect(),
            lesson: None,
        }
    }

    /// The condition of the radio.
    pub(super) fn radio(&mut self, adapter: Adapter) {
        let bars = adapter.bars();
        let state = bars.map_or("on", |state| state.name()).to_string();
        self.radio = Some(RadioView { state, words: bars.map(|state| state.words()) });
    }

    /// An instrument that is there without being heard: a practice one.
    pub(super) fn put(&mut self, id: &str, name: &str, practice: bool, profile: Option<Profile>) {
        let measures = profile.as_ref().map(measures);
        let view = DeviceView {
            device: id.to_string(),
            name: if name.is_empty() { id.to_string() } else { name.to_string() },
            practice,
            profile: profile.as_ref().map(|profile| profile.name.clone()),
            measures,
            in_use: false,
            state: None,
            words: None,
            battery: None,
            signal_dbm: None,
            last: None,
            note: None,
            asks: profile.as_ref().is_some_and(|profile| profile.trigger.is_some()),
        };
        self.devices.insert(id.to_string(), Device { view, profile });
    }

    /// An instrument was heard nearby.
    pub(super) fn found(&mut self, found: &Found, profile: impl FnOnce(&Found) -> Option<Profile>) {
        let id = found.id.as_str();
        if !self.devices.contains_key(id) {
            if self.devices.len() >= MOST_DEVICES {
                return;
            }
            self.put(id, &found.name, false, profile(found));
        }
        if let Some(device) = self.devices.get_mut(id) {
            device.view.signal_dbm = found.signal_dbm.or(device.view.signal_dbm);
        }
    }

    /// How an instrument is read, if it is there; the inner none where no profile is known.
    pub(super) fn profile(&self, id: &str) -> Option<Option<&Profile>> {
        self.devices.get(id).map(|device| device.profile.as_ref())
    }

    pub(super) fn is_practice(&self, id: &str) -> bool {
        self.devices.get(id).is_some_and(|device| device.view.practice)
    }

    /// An instrument can be read from now on.
    pub(super) fn learned(&mut self, id: &str, profile: Profile) {
        let name = profile.name.clone();
        self.put(id, &name, false, Some(profile));
    }

    /// Whether it is in use from now on.
    pub(super) fn in_use(&mut self, id: &str, on: bool) {
        if let Some(DeviceView { in_use, state, words, last, note, .. }) = self.shown(id) {
            *in_use = on;
            (*state, *words, *last, *note) = (None, None, None, None);
        }
    }

    fn shown(&mut self, id: &str) -> Option<&mut DeviceView> {
        self.devices.get_mut(id).map(|device| &mut device.view)
    }

    fn note(&mut self, id: &str, words: Option<&str>) {
        if let Some(view) = self.shown(id) {
            view.note = words.map(str::to_string);
        }
    }

    /// The place that readings are for from now on, and what is read there. What waits for another is given up.
    pub(super) fn open(&mut self, place: Option<String>, wants: Measures) {
        self.wants = wants;
        if self.place != place {
            for late in std::mem::take(&mut self.waiting) {
                self.note(&late.from.device, Some(TWICE));
            }
            self.place = place;
        }
    }

    /// A screen has dealt with the reading.
    pub(super) fn taken(&mut self, id: &str) {
        self.waiting.retain(|reading| reading.id != id);
    }

    /// An instrument in use let something be known.
    pub(super) fn hear(&mut self, id: &InstrumentId, heard: Heard) {
        let id = id.as_str();
        match heard {
            Heard::State(state) => {
                if let Some(view) = self.shown(id) {
                    (view.state, view.words) = (Some(state.name().to_string()), Some(state.words()));
                }
            }
            Heard::Battery(percent) => {
                if let Some(view) = self.shown(id) {
                    view.battery = Some(percent);
                }
            }
            Heard::Reading(reading) => self.reading(id, &reading),
            Heard::NotAReading(why) => {
                if let Some(words) = why.words() {
                    self.note(id, Some(words));
                }
            }
            Heard::NoAnswer => self.note(id, Some(NO_ANSWER)),
        }
    }

    fn reading(&mut self, id: &str, reading: &Reading) {
        let text = text(reading.value);
        if let Some(view) = self.shown(id) {
            view.last = Some(text.clone());
        }
        if reading.cause == Cause::Live {
            return;
        }
        let note = match (measured(reading.u), self.wants, self.place.clone()) {
            (_, _, None) => Some(NO_PLACE),
            (Measures::Tilt, Measures::Length, Some(_)) => Some(TILT),
            (Measures::Length, Measures::Tilt, Some(_)) => Some(HEIGHT),
            _ if self.waiting.len() >= MOST_WAITING => Some(TWICE),
            (_, _, Some(place)) => {
                self.offer(id, reading, place, text);
                None
            }
        };
        self.note(id, note);
    }

    fn offer(&mut self, id: &str, reading: &Reading, place: String, text: String) {
        let name = self.devices.get(id).map(|device| device.view.name.clone()).unwrap_or_default();
        let from = FromInstrument {
            device: id.to_string(),
            profile: reading.profile.clone(),
            profile_version: reading.profile_version,
            raw: HEXLOWER.encode(&reading.raw),
        };
        let (id, at) = (self.clock.id(0), self.clock.now());
        let (sd_mm, sd_degrees) = match reading.u {
            Quantity::Length(u) => (u.to_mm(), None),
            Quantity::Angle(u) => (0.0, Some(u.to_degrees())),
        };
        self.waiting.push_back(DeviceReading { id, place, name, text, sd_mm, sd_degrees, at, from });
    }
}

fn measures(profile: &Profile) -> Measures {
    measured(profile.accuracy)
}

fn measured(quantity: Quantity) -> Measures {
    match quantity {
        Quantity::Length(_) => Measures::Length,
        Quantity::Angle(_) => Measures::Tilt,
    }
}

/// The value to the ten thousandth of a millimetre or a degree.
fn text(value: Quantity) -> String {
    let rounded = |number: f64| (number * 10_000.0).round() / 10_000.0;
    match value {
        Quantity::Length(length) => format!("{} mm", rounded(length.to_mm())),
        Quantity::Angle(angle) => format!("{}\u{b0}", rounded(angle.to_degrees())),
    }
}

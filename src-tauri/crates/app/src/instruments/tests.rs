//! The practice laser through orders and views, as a screen would use it.

use crate::app::App;
use crate::clock::Clock;
use crate::forms::{DeviceView, DevicesView, LessonNote, LessonPhase, LessonView};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

const LASER: &str = "practice-laser";

/// A folder of rooms in memory, and the changes it tells.
struct Site {
    app: App,
    changes: Receiver<()>,
}

impl Site {
    fn new() -> Self {
        let app = App::in_memory(Clock::fixed("2031-04-02T07:31:05-05:00", "devices")).expect("memory");
        let (tell, changes) = channel();
        app.on_change(Box::new(move |_| {
            // The test may have seen enough.
            let _ = tell.send(());
        }));
        Self { app, changes }
    }

    fn ask(&self, name: &str, body: &str) -> DevicesView {
        let answer = self.app.dispatch(name, body).unwrap_or_else(|why| panic!("{name} {body}: {why}"));
        serde_json::from_str(&answer).expect("a view")
    }

    /// Waits for changes until the view is as wanted.
    fn until(&self, wanted: impl Fn(&DevicesView) -> bool) -> DevicesView {
        loop {
            let view = self.app.devices();
            if wanted(&view) {
                return view;
            }
            let told = self.changes.recv_timeout(Duration::from_secs(300));
            assert!(told.is_ok(), "nothing more changes: {view:?}");
        }
    }

    fn ready(&self) {
        self.ask("device-use", r#"{"device":"practice-laser","on":true}"#);
        self.until(|view| laser(view).state.as_deref() == Some("ready"));
    }

    fn press(&self) {
        self.ask("device-practice", r#"{"device":"practice-laser","deed":"press"}"#);
    }
}

fn laser(view: &DevicesView) -> &DeviceView {
    view.devices.iter().find(|device| device.device == LASER).expect("it is always there")
}

#[test]
fn a_reading_waits_for_the_place_that_was_open_and_only_there() {
    let site = Site::new();
    site.ready();
    site.press();
    let view = site.until(|view| laser(view).last.is_some());
    assert!(view.waiting.is_empty() && laser(&view).note.as_deref().is_some_and(|note| note.contains("No point")));

    site.ask("device-place", r#"{"place":"r1 s1 J1@0"}"#);
    site.ask("device-practice", r#"{"device":"practice-laser","deed":"rest","mm":1234.5}"#);
    site.press();
    let view = site.until(|view| !view.waiting.is_empty());
    let [reading] = &view.waiting[..] else { panic!("{view:?}") };
    assert_eq!(reading.place, "r1 s1 J1@0");
    let mm: f64 = reading.text.strip_suffix(" mm").expect("a length").parse().expect("a number");
    assert!((mm - 1234.5).abs() <= 1.05, "{mm}");
    // ±1 mm stated, shown to 0.1 mm: √(1/3 + 0.01/12).
    assert!((reading.sd_mm - (1.0 / 3.0 + 0.01 / 12.0_f64).sqrt()).abs() < 1e-12, "{}", reading.sd_mm);
    assert_eq!((reading.from.profile.as_str(), reading.from.profile_version), ("practice laser", 1));
    assert_eq!(reading.from.raw.len(), 16, "eight bytes: {}", reading.from.raw);

    let next = format!(r#"{{"place":"r1 s1 J1@30","taken":"{}"}}"#, reading.id);
    let view = site.ask("device-place", &next);
    assert!(view.waiting.is_empty() && laser(&view).note.is_none(), "it was taken, not left over: {view:?}");
}

#[test]
fn a_tilt_waits_where_a_tilt_is_wanted_and_nowhere_else() {
    let site = Site::new();
    site.ask("device-use", r#"{"device":"practice-level","on":true}"#);
    let level = |view: &DevicesView| view.devices.iter().find(|one| one.device == "practice-level").cloned();
    site.until(|view| level(view).is_some_and(|level| level.state.as_deref() == Some("ready")));
    let press = || site.ask("device-practice", r#"{"device":"practice-level","deed":"press"}"#);

    site.ask("device-place", r#"{"place":"a"}"#);
    press();
    let view = site.until(|view| level(view).is_some_and(|level| level.note.is_some()));
    assert!(view.waiting.is_empty(), "a height was wanted: {view:?}");

    site.ask("device-place", r#"{"place":"b","wants":"tilt"}"#);
    press();
    let view = site.until(|view| !view.waiting.is_empty());
    let [reading] = &view.waiting[..] else { panic!("{view:?}") };
    let degrees: f64 = reading.text.strip_suffix('\u{b0}').expect("degrees").parse().expect("a number");
    assert!((degrees - (1.0_f64 / 48.0).atan().to_degrees()).abs() <= 0.055, "{degrees}");
    // ±0.05° stated, shown to 0.01°.
    let sd = (0.05_f64.powi(2) / 3.0 + 0.01_f64.powi(2) / 12.0).sqrt();
    assert!(reading.sd_degrees.is_some_and(|found| (found - sd).abs() < 1e-12), "{:?}", reading.sd_degrees);
    site.ask("device-place", &format!(r#"{{"place":"b","wants":"tilt","taken":"{}"}}"#, reading.id));

    site.ready();
    site.press();
    let view = site.until(|view| laser(view).note.is_some());
    assert!(laser(&view).note.as_deref().is_some_and(|note| note.contains("wants a tilt")) && view.waiting.is_empty());
}

#[test]
fn what_waits_for_another_place_is_given_up() {
    let site = Site::new();
    site.ready();
    site.ask("device-place", r#"{"place":"a"}"#);
    site.press();
    site.until(|view| !view.waiting.is_empty());
    let view = site.ask("device-place", r#"{"place":"b"}"#);
    assert!(view.waiting.is_empty() && laser(&view).note.is_some());
}

#[test]
fn a_link_that_is_cut_comes_back() {
    let site = Site::new();
    site.ready();
    site.ask("device-practice", r#"{"device":"practice-laser","deed":"leave"}"#);
    let view = site.until(|view| laser(view).state.as_deref() == Some("lost"));
    assert!(laser(&view).words.as_deref().is_some_and(|words| words.contains("was not taken")), "{view:?}");
    site.ask("device-practice", r#"{"device":"practice-laser","deed":"return"}"#);
    site.until(|view| laser(view).state.as_deref() == Some("ready"));
}

#[test]
fn what_cannot_be_done_is_refused() {
    let site = Site::new();
    for (name, body, kind) in [
        ("device-use", r#"{"device":"nowhere","on":true}"#, "not-found"),
        ("device-measure", r#"{"device":"practice-laser"}"#, "not-ready"),
        ("device-practice", r#"{"device":"nowhere","deed":"press"}"#, "not-found"),
        ("device-practice", r#"{"device":"practice-laser","deed":"rest","mm":-1.0}"#, "out-of-range"),
    ] {
        let refused = site.app.dispatch(name, body).expect_err(name);
        let told = serde_json::to_value(&refused).expect("json");
        assert_eq!(told["kind"], kind, "{name} {body}");
    }
}

/// The lesson as it stands.
fn lesson(view: &DevicesView) -> &LessonView {
    view.lesson.as_ref().expect("a lesson")
}

impl Site {
    fn teach(&self) {
        let begin = r#"{"device":"practice-laser","name":"site laser","unit":"mm","decimals":1,"accuracy":1.0}"#;
        self.ask("device-teach", begin);
        self.until(|view| lesson(view).phase == LessonPhase::Playing);
    }

    /// Puts the laser somewhere and presses its button; what its display shows.
    fn measured(&self, mm: f64) -> String {
        self.ask("device-practice", &format!(r#"{{"device":"practice-laser","deed":"rest","mm":{mm}}}"#));
        self.press();
        let shows = |view: &DevicesView| {
            let shown = lesson(view).display.as_deref().and_then(|text| text.parse::<f64>().ok());
            shown.is_some_and(|shown| (shown - mm).abs() < 5.0)
        };
        lesson(&self.until(shows)).display.clone().expect("it shows something")
    }

    fn taught(&self, body: &str) -> DevicesView {
        self.ask("device-taught", body)
    }
}

#[test]
fn an_instrument_is_taught_by_what_its_display_shows() {
    let site = Site::new();
    site.teach();
    assert_eq!(lesson(&site.taught(r#"{"deed":"played"}"#)).note, Some(LessonNote::MorePlay));
    (0..12).for_each(|k| drop(site.measured(400.0 + 331.7 * f64::from(k))));
    assert_eq!(lesson(&site.taught(r#"{"deed":"played"}"#)).phase, LessonPhase::Showing);
    let nothing = site.taught(r#"{"deed":"shown","shown":"1.0"}"#);
    assert_eq!((lesson(&nothing).note, lesson(&nothing).typed), (Some(LessonNote::NothingSent), 0));
    let mut typed = 0;
    while lesson(&site.app.devices()).phase == LessonPhase::Showing {
        typed += 1;
        let shown = site.measured(777.0 + 1311.0 * f64::from(typed));
        site.taught(&format!(r#"{{"deed":"shown","shown":"{shown}"}}"#));
    }
    assert!((3..=5).contains(&typed), "{typed} were typed");
    let shown = site.measured(2345.6);
    let told = site.until(|view| lesson(view).guess.is_some());
    assert_eq!(lesson(&told).guess, Some(shown));
    assert_eq!(lesson(&site.taught(r#"{"deed":"right"}"#)).phase, LessonPhase::Learned);
    assert!(site.taught(r#"{"deed":"stop"}"#).lesson.is_none());
}

#[test]
fn a_lesson_out_of_turn_or_with_nonsense_is_refused() {
    let refused = |site: &Site, name: &str, body: &str, kind: &str| {
        let why = site.app.dispatch(name, body).expect_err(body);
        assert_eq!(serde_json::to_value(why.kind).expect("JSON"), kind, "{body}: {why}");
    };
    let site = Site::new();
    refused(&site, "device-taught", r#"{"deed":"played"}"#, "not-ready");
    let begin = |device: &str, name: &str, accuracy: &str| {
        format!(r#"{{"device":"{device}","name":"{name}","unit":"m","decimals":3,"accuracy":{accuracy}}}"#)
    };
    refused(&site, "device-teach", &begin("nowhere", "a", "1"), "not-found");
    refused(&site, "device-teach", &begin(LASER, " ", "1"), "out-of-range");
    refused(&site, "device-teach", &begin(LASER, "a", "0"), "out-of-range");
    site.teach();
    refused(&site, "device-taught", r#"{"deed":"right"}"#, "not-ready");
    (0..3).for_each(|k| drop(site.measured(400.0 + 331.7 * f64::from(k))));
    site.taught(r#"{"deed":"played"}"#);
    refused(&site, "device-taught", r#"{"deed":"shown","shown":"a yard"}"#, "not-understood");
    refused(&site, "device-teach", &begin(LASER, "a", "101"), "out-of-range");
    site.measured(900.0);
    site.taught(r#"{"deed":"shown","shown":"13"}"#);
    let view = site.app.devices();
    assert_eq!((lesson(&view).phase, lesson(&view).note), (LessonPhase::Showing, Some(LessonNote::LookAgain)));
    assert!(lesson(&view).fresh && lesson(&view).typed == 0, "the reading waits for its number still");
    site.taught(r#"{"deed":"shown","shown":"14"}"#);
    assert_eq!(lesson(&site.app.devices()).phase, LessonPhase::NothingFits, "twice is no slip");
}

//! A bus, a simulated service on it, and a listener in a process of its own.

use super::bluez::Bluez;
use super::bus::Bus;
use super::scenario::Scenario;
use bluetooth::decode::FixedPoint;
use bluetooth::reading::{Cause, Quantity};
use serde_json::Value;
use std::future::Future;
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};
use survey::units::Length;
use tempfile::TempDir;
use tokio::runtime::Runtime;

pub(crate) const LASER: &str = "Sim laser";
pub(crate) const LEVEL: &str = "Sim level";
const LASER_SENDS: &str = "72756566-616c-4c00-8000-000000000001";
const LEVEL_SENDS: &str = "6e400003-b5a3-f393-e0a9-e50e24dcca9e";

/// How long anything may take that is waited for, on a machine however busy.
const PATIENCE: Duration = Duration::from_secs(300);

#[allow(dead_code, reason = "the tests and the benchmark use different parts")]
pub(crate) struct Site {
    pub(crate) bus: Bus,
    runtime: Runtime,
    pub(crate) service: Option<Bluez>,
    listener: Child,
    orders: ChildStdin,
    lines: Receiver<Value>,
    pub(crate) told: Vec<Value>,
    count: u8,
    _folder: TempDir,
}

#[allow(dead_code, reason = "the tests and the benchmark use different parts")]
impl Site {
    /// A service as the scenario has it, and a listener that has just started.
    pub(crate) fn new(scenario: &str) -> Self {
        Self::with(scenario, &[])
    }

    /// The same with a listener that gives up soon, for what never answers.
    pub(crate) fn hurried(scenario: &str) -> Self {
        Self::with(scenario, &["hurried"])
    }

    fn with(scenario: &str, words: &[&str]) -> Self {
        let scenario = Scenario::read(scenario);
        let (folder, bus, runtime) = ground(scenario.denied);
        let service = Some(runtime.block_on(Bluez::start(&bus.address, &scenario)));
        Self::listen(folder, bus, runtime, service, words)
    }

    /// A bus on which there is no service.
    pub(crate) fn without_service() -> Self {
        let (folder, bus, runtime) = ground(false);
        Self::listen(folder, bus, runtime, None, &["hurried"])
    }

    fn listen(folder: TempDir, bus: Bus, runtime: Runtime, service: Option<Bluez>, words: &[&str]) -> Self {
        let mut listener = Command::new(env!("CARGO_BIN_EXE_radio-listener"))
            .args(words)
            .env("DBUS_SYSTEM_BUS_ADDRESS", &bus.address)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the listener starts");
        let orders = listener.stdin.take().expect("its input");
        let said = BufReader::new(listener.stdout.take().expect("its output"));
        let (tell, lines) = channel();
        std::thread::spawn(move || {
            for line in said.lines().map_while(Result::ok) {
                let value = serde_json::from_str(&line).unwrap_or_else(|why| panic!("{why}: {line}"));
                if tell.send(value).is_err() {
                    return;
                }
            }
        });
        Self { bus, runtime, service, listener, orders, lines, told: Vec::new(), count: 0, _folder: folder }
    }

    pub(crate) fn service(&self) -> &Bluez {
        self.service.as_ref().expect("there is a service")
    }

    /// The process that listens.
    pub(crate) fn listener_id(&self) -> u32 {
        self.listener.id()
    }

    /// Lets something happen on the site.
    pub(crate) fn happen<T>(&self, deed: impl Future<Output = T>) -> T {
        self.runtime.block_on(deed)
    }

    pub(crate) fn order(&mut self, order: &str) {
        writeln!(self.orders, "{order}").expect("the listener listens");
    }

    /// Takes an instrument into use by this profile and waits until it is ready.
    pub(crate) fn use_as(&mut self, profile: &str, name: &str) {
        self.take_up(profile, name);
        self.state(name, "ready");
    }

    pub(crate) fn take_up(&mut self, profile: &str, name: &str) {
        let id = self.id(name);
        self.order(&format!("{profile} {id}"));
    }

    /// What the platform calls the instrument.
    pub(crate) fn id(&self, name: &str) -> String {
        self.service().path(name).strip_prefix("/org/bluez/").expect("a path of the service").to_string()
    }

    /// Waits for the next line that is wanted.
    pub(crate) fn until(&mut self, what: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        let end = Instant::now() + PATIENCE;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            let Ok(line) = self.lines.recv_timeout(left) else { panic!("{what} never came: {:#?}", self.told) };
            self.told.push(line.clone());
            if wanted(&line) {
                return line;
            }
        }
    }

    /// Waits for a state of an instrument; its words.
    pub(crate) fn state(&mut self, name: &str, state: &str) -> String {
        let id = self.id(name);
        let line = self.until(&format!("{name} {state}"), |line| line["state"] == state && line["id"] == id.as_str());
        line["words"].as_str().expect("words").to_string()
    }

    /// Waits for a condition of the radio; its words.
    pub(crate) fn radio(&mut self, state: &str) -> String {
        let line = self.until(state, |line| line["radio"] == state);
        line["words"].as_str().unwrap_or_default().to_string()
    }

    /// Waits until a message was refused; why.
    pub(crate) fn refused(&mut self) -> String {
        self.until("a refusal", |line| line["refused"].is_string())["refused"].as_str().expect("a name").to_string()
    }

    /// Waits for the next reading, in millimetres or degrees.
    pub(crate) fn reading(&mut self) -> f64 {
        self.until("a reading", |line| line["reading"].is_number())["reading"].as_f64().expect("a number")
    }

    /// All readings so far, of whatever instrument.
    pub(crate) fn readings(&self) -> Vec<f64> {
        self.told.iter().filter_map(|line| line["reading"].as_f64()).collect()
    }

    /// The message of the laser for a length, with the next number.
    pub(crate) fn message(&mut self, mm: f64) -> Vec<u8> {
        self.count = self.count.wrapping_add(1);
        let value = Quantity::Length(Length::mm(mm));
        FixedPoint::PRACTICE_LENGTH.encode(value, Cause::Button, self.count).expect("it fits")
    }

    pub(crate) fn laser_sends(&self, bytes: &[u8]) {
        self.happen(self.service().notify(LASER, LASER_SENDS, bytes));
    }

    pub(crate) fn level_sends(&self, text: &str) {
        self.happen(self.service().notify(LEVEL, LEVEL_SENDS, text.as_bytes()));
    }

    /// A sound reading comes through, and it is the last there is.
    pub(crate) fn measures(&mut self, mm: f64) {
        let message = self.message(mm);
        self.laser_sends(&message);
        assert_eq!(self.reading(), mm, "{:#?}", self.told);
    }
}

impl Drop for Site {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.listener.kill();
        let _ = self.listener.wait();
    }
}

fn ground(denied: bool) -> (TempDir, Bus, Runtime) {
    let folder = TempDir::new().expect("a folder");
    let bus = Bus::start(folder.path(), denied);
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    (folder, bus, runtime)
}

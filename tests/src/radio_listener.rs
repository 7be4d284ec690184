//! A process of its own that listens to one or more instruments through the platform's Bluetooth and says on standard
//! output, a JSON object a line, all that the bridge tells. Orders come on standard input, a word a line. For the tests
//! of the fault table: the address of the message bus is kept by its library once for a process.

use bluetooth::bridge::{Bridge, Told};
use bluetooth::instrument::{Heard, Patience};
use bluetooth::profile::{Profile, Shelf};
use bluetooth::real::{Pace, RealRadio, drive};
use serde_json::{Value, json};
use std::io::BufRead;
use std::sync::mpsc::{Receiver, channel};
use std::thread::Thread;
use std::time::{Duration, Instant};

/// Longer than a busy machine takes for anything, so that nothing is given up which only comes late.
const LONG: Duration = Duration::from_secs(120);
/// Where something never answers, it is given up soon, so that the test is over soon.
const SHORT: Duration = Duration::from_secs(2);
const BEAT: Duration = Duration::from_millis(150);

fn main() {
    let orders = orders(std::thread::current());
    let is_hurried = std::env::args().any(|word| word == "hurried");
    let most = if is_hurried { SHORT } else { LONG };
    let patience = Patience { connect: most, resolve: most, subscribe: most, answer: most };
    let pace = Pace { beat: BEAT, answer: most };
    let mut bridge = Bridge::with_patience(Box::new(RealRadio::with_pace(pace)), patience);
    let started = Instant::now();
    let idle = |bridge: &mut Bridge| {
        loop {
            match orders.try_recv() {
                Ok(order) => obey(bridge, &order, started),
                Err(error) => return error == std::sync::mpsc::TryRecvError::Empty,
            }
        }
    };
    drive(&mut bridge, started, None, idle, |told| {
        println!("{}", line(told));
        true
    });
}

/// The orders of standard input, until it ends.
fn orders(thread: Thread) -> Receiver<String> {
    let (tell, orders) = channel();
    std::thread::spawn(move || {
        for line in std::io::stdin().lock().lines().map_while(Result::ok) {
            if tell.send(line).is_err() {
                return;
            }
            thread.unpark();
        }
        drop(tell);
        thread.unpark();
    });
    orders
}

fn obey(bridge: &mut Bridge, order: &str, started: Instant) {
    let (verb, id) = order.split_once(' ').unwrap_or((order, ""));
    match verb {
        "look" => bridge.look(true),
        "on" => bridge.switch_on(),
        "laser" => bridge.take_up(id.into(), Profile::practice_laser()),
        "serial" => bridge.take_up(id.into(), serial()),
        "standard" => bridge.take_up(id.into(), Shelf::open_standard().expect("it is built in")),
        "measure" => {
            let asked = bridge.measure(&id.into(), started.elapsed());
            println!("{}", json!({ "asked": asked }));
        }
        other => panic!("there is no order {other:?}"),
    }
}

fn serial() -> Profile {
    let offers = vec!["6e400001-b5a3-f393-e0a9-e50e24dcca9e".parse().expect("a number")];
    let found = bluetooth::radio::Found { id: "".into(), name: String::new(), signal_dbm: None, offers };
    Shelf::built_in().find(&found).expect("it is built in")
}

fn line(told: Told) -> Value {
    match told {
        Told::Adapter(adapter) => {
            let bars = adapter.bars();
            json!({ "radio": bars.map_or("on", |state| state.name()), "words": bars.map(|state| state.words()) })
        }
        Told::Found(found) => json!({ "found": found.name, "id": found.id.as_str() }),
        Told::Instrument(id, heard) => with_id(heard, id.as_str()),
    }
}

fn with_id(heard: Heard, id: &str) -> Value {
    match heard {
        Heard::State(state) => json!({ "id": id, "state": state.name(), "words": state.words() }),
        Heard::Reading(reading) => json!({ "id": id, "reading": reading.value.number(), "raw": reading.raw }),
        Heard::NotAReading(why) => json!({ "id": id, "refused": why.name() }),
        Heard::NoAnswer => json!({ "id": id, "refused": "no-answer" }),
        Heard::Battery(percent) => json!({ "id": id, "battery": percent }),
    }
}

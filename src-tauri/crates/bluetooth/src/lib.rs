//! Readings from instruments over the air: any radio behind one boundary, and practice instruments behind the same.
//!
//! [`radio`] is the boundary. [`bridge`] is the one owner of a radio: it connects, waits, tries again, and hands out
//! [`reading::Reading`]s in survey quantities with the bytes they came as. [`simulated`] is a radio that ships, with
//! two practice instruments, so that the whole program can be tried with no hardware.
//!
//! Nothing here sleeps, starts a thread or reads a clock. Whoever drives a [`bridge::Bridge`] says what time it is, as
//! a [`Moment`], and asks again when woken or when [`bridge::Bridge::due`] has come.
//!
//! ```
//! use bluetooth::bridge::{Bridge, Told};
//! use bluetooth::instrument::Heard;
//! use bluetooth::profile::Profile;
//! use bluetooth::reading::{Cause, Quantity};
//! use bluetooth::simulated::{Deed, LASER, SimulatedRadio};
//! use std::task::{Context, Poll, Waker};
//! use std::time::Duration;
//! use survey::units::Length;
//!
//! let radio = SimulatedRadio::practice(1);
//! let mut bridge = Bridge::new(Box::new(radio.clone()));
//! bridge.take_up(LASER.into(), Profile::practice_laser());
//! radio.script(Duration::from_secs(2), LASER, Deed::Rests(Quantity::Length(Length::inches(44.0))));
//! radio.script(Duration::from_secs(3), LASER, Deed::Press);
//!
//! let mut context = Context::from_waker(Waker::noop());
//! let mut readings = Vec::new();
//! for tick in 0..40 {
//!     while let Poll::Ready(told) = bridge.poll(Duration::from_millis(100 * tick), &mut context) {
//!         if let Told::Instrument(_, Heard::Reading(reading)) = told {
//!             readings.push(reading);
//!         }
//!     }
//! }
//! let [reading] = &readings[..] else { panic!("the button was pressed once") };
//! let Quantity::Length(length) = reading.value else { panic!("a laser gives a length") };
//! assert_eq!(reading.cause, Cause::Button);
//! assert!((length - Length::inches(44.0)).abs().at_most(Length::mm(1.05)), "within what the instrument states");
//! ```

pub mod bridge;
pub mod decode;
pub mod instrument;
mod listener;
pub mod profile;
pub mod radio;
pub mod reading;
pub mod real;
pub mod simulated;
pub mod state;
pub mod teach;

/// How long after the start a thing happened, by the clock of whoever drives the bridge. Never runs backward.
pub type Moment = std::time::Duration;

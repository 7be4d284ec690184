//! Every way in which a radio goes wrong, through the unmodified Bluetooth library against a simulated service on a
//! message bus of its own: what the user is told, and that no wrong reading comes of it.
#![cfg(target_os = "linux")]

mod bluez;
mod bus;
mod command_line;
mod scenario;
mod site;
mod tree;

use bluez::How;
use site::{LASER, LEVEL, Site};
use std::time::Duration;

const SEARCHING: &str = "Listening for the instrument. Switch it on and keep it near.";
const READY: &str = "Ready. Press the button on the instrument.";
const BROKE: &str = "The link to the instrument broke; a reading under way was not taken.";

/// Two instruments, the laser ready.
fn with_laser() -> Site {
    let mut site = Site::new("two-instruments");
    site.use_as("laser", LASER);
    site
}

#[test]
fn an_instrument_is_found_connected_and_read() {
    let mut site = Site::new("two-instruments");
    assert_eq!(site.radio("on"), "");
    site.take_up("laser", LASER);
    assert_eq!(site.state(LASER, "searching"), SEARCHING);
    assert_eq!(site.state(LASER, "connecting"), "Connecting to the instrument.");
    assert_eq!(site.state(LASER, "ready"), READY);
    site.measures(1118.5);
    // It may be read before the reading or after it.
    if !site.told.iter().any(|line| line["battery"].is_number()) {
        site.until("its battery", |line| line["battery"].is_number());
    }
    assert!(site.told.iter().any(|line| line["battery"] == 87), "{:#?}", site.told);
    assert_eq!(site.readings(), [1118.5], "a battery that was read is no reading");
}

#[test]
fn a_link_lost_in_the_middle_of_a_line_joins_nothing_to_it() {
    let mut site = Site::new("two-instruments");
    site.use_as("serial", LEVEL);
    site.level_sends("\n1.5 m\r\n1.2");
    assert_eq!(site.reading(), 1500.0);
    let path = site.service().path(LEVEL);
    site.happen(site.service().lose(&path));
    assert_eq!(site.state(LEVEL, "lost"), format!("{BROKE} Trying again (1)."));
    assert_eq!(site.state(LEVEL, "ready"), READY);
    site.level_sends("34 m\r\n2.5 m\r\n");
    assert_eq!(site.reading(), 2500.0, "neither 1.234 m nor 34 m");
    assert_eq!(site.readings(), [1500.0, 2500.0]);
}

#[test]
fn after_a_loss_it_is_subscribed_to_again() {
    let mut site = with_laser();
    site.measures(1000.0);
    let path = site.service().path(LASER);
    site.happen(site.service().lose(&path));
    site.state(LASER, "lost");
    site.state(LASER, "ready");
    site.measures(2000.0);
    assert_eq!(site.readings(), [1000.0, 2000.0]);
}

#[test]
fn two_instruments_do_not_disturb_each_other() {
    let mut site = with_laser();
    site.use_as("serial", LEVEL);
    site.level_sends("\n0.75 deg\r\n");
    assert_eq!(site.reading(), 0.75);
    let path = site.service().path(LEVEL);
    site.happen(site.service().lose(&path));
    site.measures(1200.0);
    assert_eq!(site.readings(), [0.75, 1200.0]);
}

#[test]
fn a_duplicate_counts_once() {
    let mut site = with_laser();
    let message = site.message(1000.0);
    site.laser_sends(&message);
    site.laser_sends(&message);
    assert_eq!(site.refused(), "repeated");
    site.measures(1000.0);
    assert_eq!(site.readings(), [1000.0, 1000.0], "the same length measured anew is a reading");
}

#[test]
fn a_truncated_and_an_empty_message_are_refused() {
    let mut site = with_laser();
    let message = site.message(1000.0);
    for bytes in [&message[..4], &message[..7], &[]] {
        site.laser_sends(bytes);
        assert_eq!(site.refused(), "size", "{bytes:?}");
    }
    site.measures(1000.0);
    assert_eq!(site.readings(), [1000.0]);
}

#[test]
fn garbage_is_refused() {
    let mut site = with_laser();
    let mut noise = 0x9E37_79B9_7F4A_7C15_u64;
    for _ in 0..500 {
        noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        site.laser_sends(&noise.to_be_bytes());
    }
    site.measures(1000.0);
    let damaged = site.told.iter().filter(|line| line["refused"] == "damaged").count();
    assert_eq!((damaged, site.readings()), (500, vec![1000.0]), "all came, none came through");
}

#[test]
fn a_slow_connection_is_waited_for() {
    let mut site = Site::new("two-instruments");
    site.service().fault("Connect", How::Late(Duration::from_millis(700)));
    site.use_as("laser", LASER);
    site.measures(1000.0);
    assert!(!site.told.iter().any(|line| line["state"] == "lost"), "{:#?}", site.told);
}

/// What goes wrong once, with the words for it; the next attempt is ready.
fn check_connecting(member: &'static str, how: How, words: &str) {
    let mut site = Site::hurried("two-instruments");
    site.service().fault(member, how);
    site.take_up("laser", LASER);
    assert_eq!(site.state(LASER, "lost"), format!("{words} Trying again (1)."), "{member}");
    assert_eq!(site.state(LASER, "ready"), READY, "{member}");
    site.measures(1000.0);
    assert_eq!(site.readings(), [1000.0]);
}

const REFUSES: &str = "The instrument refuses. See that no other phone or tablet holds it.";
const SILENT: &str = "The instrument does not answer. Switch it off and on again.";
const NOT_HEARD: &str = "The instrument is not heard. Bring it nearer and see that it is switched on.";

#[test]
fn connecting_that_is_never_answered_is_given_up() {
    check_connecting("Connect", How::Silent, SILENT);
}

#[test]
fn a_link_lost_before_it_is_resolved_is_noticed() {
    check_connecting("Connect", How::LostAfter, BROKE);
}

#[test]
fn connecting_that_is_refused_is_said_to_be() {
    check_connecting("Connect", How::Refused("org.bluez.Error.AuthenticationFailed"), REFUSES);
    check_connecting("Connect", How::Refused("org.bluez.Error.Failed"), NOT_HEARD);
}

#[test]
fn subscribing_that_is_refused_or_never_answered_is_said_to_be() {
    check_connecting("StartNotify", How::Refused("org.bluez.Error.NotPermitted"), REFUSES);
    check_connecting("StartNotify", How::Silent, SILENT);
}

#[test]
fn asking_that_is_not_answered_takes_no_reading() {
    let mut site = Site::hurried("two-instruments");
    site.use_as("laser", LASER);
    let id = site.id(LASER);
    site.order(&format!("measure {id}"));
    assert_eq!(site.until("asked", |line| line["asked"].is_boolean())["asked"], true);
    assert_eq!(site.state(LASER, "lost"), format!("{SILENT} Trying again (1)."));
    site.state(LASER, "ready");
    site.measures(1000.0);
    assert_eq!(site.readings(), [1000.0]);
}

#[test]
fn a_bus_that_does_not_allow_it_is_told_apart() {
    let mut site = Site::new("not-allowed");
    let words = "Truefall may not use Bluetooth. Allow it in the system settings, or type.";
    assert_eq!(site.radio("permission-refused"), words);
}

#[test]
fn no_adapter_is_told_apart() {
    let mut site = Site::new("no-adapter");
    let words = "This device has no Bluetooth radio. Type, or use an instrument that acts as a keyboard.";
    assert_eq!(site.radio("no-adapter"), words);
    site.happen(site.service().plug_in());
    assert_eq!(site.radio("on"), "");
}

const NO_SERVICE: &str = "Bluetooth does not run on this device. Start it in the system settings, or type.";

#[test]
fn no_service_is_told_apart() {
    let mut site = Site::without_service();
    assert_eq!(site.radio("no-service"), NO_SERVICE);
}

#[test]
fn a_service_that_ends_and_comes_back_is_used_again() {
    let mut site = Site::hurried("two-instruments");
    site.use_as("laser", LASER);
    site.happen(site.service().serve(false));
    assert_eq!(site.state(LASER, "no-service"), NO_SERVICE);
    site.happen(site.service().serve(true));
    assert_eq!(site.state(LASER, "ready"), READY);
    site.measures(1000.0);
}

#[test]
fn a_radio_that_is_switched_off_is_switched_on_only_when_a_person_says_so() {
    let mut site = Site::new("switched-off");
    assert_eq!(site.radio("switched-off"), "Bluetooth is switched off. Switch it on?");
    site.order("look");
    site.take_up("laser", LASER);
    assert_eq!(site.state(LASER, "switched-off"), "Bluetooth is switched off. Switch it on?");
    assert!(!site.service().was_called("Set Powered"), "nobody was asked");
    site.order("on");
    assert_eq!(site.radio("on"), "");
    site.state(LASER, "ready");
    site.happen(site.service().power(false));
    site.state(LASER, "switched-off");
    site.happen(site.service().power(true));
    site.state(LASER, "ready");
    site.measures(1000.0);
    assert_eq!(site.readings(), [1000.0]);
}

#[test]
fn an_adapter_that_is_unplugged_and_plugged_in_again_is_noticed() {
    let mut site = with_laser();
    site.happen(site.service().unplug());
    let words = "This device has no Bluetooth radio. Type, or use an instrument that acts as a keyboard.";
    assert_eq!(site.state(LASER, "no-adapter"), words);
    site.happen(site.service().plug_in());
    assert_eq!(site.state(LASER, "ready"), READY);
    site.measures(1000.0);
}

#[test]
fn out_of_range_and_back() {
    let mut site = Site::hurried("two-instruments");
    site.use_as("laser", LASER);
    site.happen(site.service().leave(LASER));
    assert_eq!(site.state(LASER, "lost"), format!("{BROKE} Trying again (1)."));
    assert_eq!(site.state(LASER, "lost"), format!("{NOT_HEARD} Trying again (2)."));
    site.service().come_back();
    assert_eq!(site.state(LASER, "ready"), READY);
    site.measures(1000.0);
}

#[test]
fn an_instrument_with_a_flag_that_the_library_does_not_know_is_said_to_be_unreadable() {
    let mut site = Site::new("unknown-flag");
    site.take_up("laser", LASER);
    let words = "This device cannot make out what the instrument offers. Type, or use another instrument.";
    assert_eq!(site.state(LASER, "lost"), format!("{words} Trying again (1)."));
}

#[test]
fn an_instrument_that_describes_itself_is_read_without_teaching() {
    let mut site = Site::new("describes-itself");
    site.use_as("standard", LASER);
    site.happen(site.service().notify(LASER, "5f6b0002-2c1a-4d3e-9a77-000000000001", &12_345_i32.to_le_bytes()));
    assert_eq!(site.reading(), 1234.5, "10^-4 m each");
}

#[test]
fn a_bus_that_is_gone_is_noticed_although_nothing_says_so() {
    let mut site = Site::hurried("two-instruments");
    site.use_as("laser", LASER);
    site.bus.stop();
    assert_eq!(site.state(LASER, "no-service"), NO_SERVICE);
    assert_eq!(site.readings(), [0.0; 0]);
}

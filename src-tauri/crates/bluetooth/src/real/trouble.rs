//! What went wrong, from the errors of the platform.

use crate::state::{Adapter, Trouble};
use btleplug::Error;

/// The name the message bus gives an error; none on other platforms and for other errors.
#[cfg(target_os = "linux")]
fn name(error: &Error) -> Option<&str> {
    use bluez_async::BluetoothError;
    let Error::Other(inner) = error else { return None };
    match inner.downcast_ref::<BluetoothError>()? {
        BluetoothError::DbusError(error) => error.name(),
        BluetoothError::ServiceDiscoveryTimedOut => Some("timed-out"),
        BluetoothError::FlagParseError(_) => Some("flag"),
        _ => None,
    }
}

#[cfg(not(target_os = "linux"))]
fn name(_: &Error) -> Option<&str> {
    None
}

/// Why a link could not be had, or was given up.
pub(super) fn trouble(error: &Error) -> Trouble {
    match error {
        Error::PermissionDenied => Trouble::Refused,
        Error::DeviceNotFound => Trouble::OutOfReach,
        Error::NotConnected => Trouble::Dropped,
        Error::TimedOut(_) => Trouble::NotAnswering,
        Error::NoSuchCharacteristic | Error::UnexpectedCharacteristic => Trouble::Unsuitable,
        _ => name(error).map_or(Trouble::NotAnswering, named),
    }
}

fn named(name: &str) -> Trouble {
    match name {
        "flag" => Trouble::Unreadable,
        "timed-out" => Trouble::NotAnswering,
        "org.bluez.Error.NotConnected" => Trouble::Dropped,
        "org.bluez.Error.Failed" | "org.bluez.Error.ConnectionAttemptFailed" => Trouble::OutOfReach,
        "org.bluez.Error.DoesNotExist" | "org.freedesktop.DBus.Error.UnknownObject" => Trouble::OutOfReach,
        "org.bluez.Error.NotSupported" => Trouble::Unsuitable,
        name if name.starts_with("org.bluez.Error.Authentication") => Trouble::Refused,
        "org.bluez.Error.NotPermitted" | "org.bluez.Error.NotAuthorized" | "org.bluez.Error.InProgress" => {
            Trouble::Refused
        }
        _ => Trouble::NotAnswering,
    }
}

/// The condition of the radio that an error of the adapter speaks of.
pub(super) fn condition(error: &Error) -> Adapter {
    match error {
        Error::PermissionDenied => Adapter::PermissionRefused,
        Error::NoAdapterAvailable => Adapter::NoAdapter,
        _ => match name(error) {
            Some("org.freedesktop.DBus.Error.AccessDenied") => Adapter::PermissionRefused,
            Some("org.bluez.Error.NotReady") => Adapter::SwitchedOff,
            _ => Adapter::NoService,
        },
    }
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    fn of_bus(name: &str) -> Error {
        let error = dbus::Error::new_custom(name, "words that nobody relies on");
        Error::Other(Box::new(bluez_async::BluetoothError::DbusError(error)))
    }

    #[test]
    fn errors_are_told_apart_by_their_name() {
        for (name, expected) in [
            ("org.bluez.Error.Failed", Trouble::OutOfReach),
            ("org.bluez.Error.AuthenticationFailed", Trouble::Refused),
            ("org.bluez.Error.NotPermitted", Trouble::Refused),
            ("org.bluez.Error.NotConnected", Trouble::Dropped),
            ("org.freedesktop.DBus.Error.NoReply", Trouble::NotAnswering),
        ] {
            assert_eq!(trouble(&of_bus(name)), expected, "{name}");
        }
        assert_eq!(condition(&of_bus("org.freedesktop.DBus.Error.AccessDenied")), Adapter::PermissionRefused);
        assert_eq!(condition(&of_bus("org.freedesktop.DBus.Error.ServiceUnknown")), Adapter::NoService);
    }
}

//! The objects of the simulated service: path, interface, property.

use super::scenario::{Device, Scenario};
use std::collections::{BTreeMap, HashMap};
use zbus::{ObjectPath, Variant};

pub(crate) const ADAPTER_PATH: &str = "/org/bluez/hci0";
pub(crate) const MANAGER: &str = "org.freedesktop.DBus.ObjectManager";
pub(crate) const PROPERTIES: &str = "org.freedesktop.DBus.Properties";
pub(crate) const ADAPTER: &str = "org.bluez.Adapter1";
pub(crate) const DEVICE: &str = "org.bluez.Device1";
pub(crate) const SERVICE: &str = "org.bluez.GattService1";
pub(crate) const CHARACTERISTIC: &str = "org.bluez.GattCharacteristic1";
pub(crate) const DESCRIPTOR: &str = "org.bluez.GattDescriptor1";

/// The value of a property.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Val {
    Text(String),
    Flag(bool),
    Dbm(i16),
    Path(String),
    Texts(Vec<String>),
    Bytes(Vec<u8>),
}

impl Val {
    pub(crate) fn text(text: &str) -> Self {
        Self::Text(text.to_string())
    }

    pub(crate) fn variant(&self) -> Variant<'static> {
        match self {
            Self::Text(text) => Variant::from(text.clone()),
            Self::Flag(flag) => Variant::from(*flag),
            Self::Dbm(dbm) => Variant::from(*dbm),
            Self::Path(path) => Variant::from(object_path(path)),
            Self::Texts(texts) => Variant::from(texts.clone()),
            Self::Bytes(bytes) => Variant::from(bytes.clone()),
        }
    }
}

pub(crate) fn object_path(path: &str) -> ObjectPath<'static> {
    ObjectPath::try_from(path.to_string()).expect("a path")
}

pub(crate) type Fields = BTreeMap<String, Val>;
pub(crate) type Faces = BTreeMap<String, Fields>;
pub(crate) type Variants = HashMap<String, Variant<'static>>;

pub(crate) fn variants(fields: &Fields) -> Variants {
    fields.iter().map(|(name, val)| (name.clone(), val.variant())).collect()
}

pub(crate) fn fields<const N: usize>(all: [(&str, Val); N]) -> Fields {
    all.into_iter().map(|(name, val)| (name.to_string(), val)).collect()
}

fn faces(face: &str, fields: Fields) -> Faces {
    Faces::from([(face.to_string(), fields)])
}

pub(crate) fn adapter(on: bool) -> Faces {
    let fields = fields([
        ("Address", Val::text("02:00:00:00:00:01")),
        ("AddressType", Val::text("public")),
        ("Name", Val::text("sim")),
        ("Alias", Val::text("sim")),
        ("Modalias", Val::text("usb:v1D6Bp0246d0542")),
        ("Powered", Val::Flag(on)),
        ("Discovering", Val::Flag(false)),
    ]);
    faces(ADAPTER, fields)
}

pub(crate) fn device(device: &Device) -> Faces {
    let fields = fields([
        ("Address", Val::text(&device.address)),
        ("AddressType", Val::text("random")),
        ("Name", Val::text(&device.name)),
        ("Alias", Val::text(&device.name)),
        ("Paired", Val::Flag(false)),
        ("Trusted", Val::Flag(false)),
        ("Blocked", Val::Flag(false)),
        ("LegacyPairing", Val::Flag(false)),
        ("Connected", Val::Flag(false)),
        ("ServicesResolved", Val::Flag(false)),
        ("RSSI", Val::Dbm(-60)),
        ("UUIDs", Val::Texts(device.advertises.clone())),
        ("Adapter", Val::Path(ADAPTER_PATH.to_string())),
    ]);
    faces(DEVICE, fields)
}

/// The services of a device with their paths, parents first.
pub(crate) fn services(device: &Device) -> Vec<(String, Faces)> {
    let mut objects = Vec::new();
    let mut handle = 0x10;
    for service in &device.services {
        let path = format!("{}/service{handle:04x}", device.path());
        handle += 1;
        let about =
            [("UUID", Val::text(&service.uuid)), ("Primary", Val::Flag(true)), ("Device", Val::Path(device.path()))];
        objects.push((path.clone(), faces(SERVICE, fields(about))));
        for one in &service.characteristics {
            let own = format!("{path}/char{handle:04x}");
            handle += 2;
            let about = [
                ("UUID", Val::text(&one.uuid)),
                ("Service", Val::Path(path.clone())),
                ("Flags", Val::Texts(one.flags.clone())),
                ("Value", Val::Bytes(one.value.clone())),
                ("Notifying", Val::Flag(false)),
            ];
            objects.push((own.clone(), faces(CHARACTERISTIC, fields(about))));
            if let Some(format) = &one.format {
                let uuid = Val::text("00002904-0000-1000-8000-00805f9b34fb");
                let about =
                    [("UUID", uuid), ("Characteristic", Val::Path(own.clone())), ("Value", Val::Bytes(format.clone()))];
                objects.push((format!("{own}/desc{handle:04x}"), faces(DESCRIPTOR, fields(about))));
                handle += 1;
            }
        }
    }
    objects
}

/// All that is there before anybody searches.
pub(crate) fn at_first(scenario: &Scenario) -> BTreeMap<String, Faces> {
    let mut tree = BTreeMap::from([("/".to_string(), faces(MANAGER, Fields::new()))]);
    tree.insert("/org/bluez".to_string(), faces("org.bluez.AgentManager1", Fields::new()));
    if !scenario.no_adapter {
        tree.insert(ADAPTER_PATH.to_string(), adapter(!scenario.switched_off));
    }
    tree
}

/// The description of one object, with the names of what lies under it.
pub(crate) fn introspection(tree: &BTreeMap<String, Faces>, path: &str) -> Option<String> {
    let under = if path == "/" { path.to_string() } else { format!("{path}/") };
    let mut below: Vec<&str> = tree
        .keys()
        .filter_map(|key| key.strip_prefix(&under)?.split('/').next())
        .filter(|name| !name.is_empty())
        .collect();
    below.dedup();
    if below.is_empty() && !tree.contains_key(path) {
        return None;
    }
    let faces = tree.get(path).into_iter().flatten().map(|(face, _)| format!("<interface name=\"{face}\"/>"));
    let nodes = below.iter().map(|name| format!("<node name=\"{name}\"/>"));
    Some(format!("<node>{}</node>", faces.chain(nodes).collect::<String>()))
}

//! A simulated `org.bluez`: every call is answered by hand from one tree of objects, so that any answer can be late,
//! refused, withheld or wrong.

use super::scenario::{Device, Scenario};
use super::tree::*;
use futures::StreamExt;
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use zbus::message::Type;
use zbus::{Connection, Message, MessageStream, OwnedVariant};

const ADVERT: Duration = Duration::from_millis(20);
const CONNECT: Duration = Duration::from_millis(5);

/// What goes wrong with the next calls of one method.
#[derive(Debug, Clone)]
struct Fault {
    member: &'static str,
    how: How,
    times: usize,
}

#[derive(Debug, Clone)]
#[allow(dead_code, reason = "the tests and the benchmark use different parts")]
pub(crate) enum How {
    Refused(&'static str),
    Late(Duration),
    Silent,
    /// Answered as if all were well, and then the link is gone before anything is resolved.
    LostAfter,
}

struct State {
    tree: BTreeMap<String, Faces>,
    devices: Vec<Device>,
    away: Vec<String>,
    faults: Vec<Fault>,
    searching: bool,
    /// Methods that were called, for what must never be.
    called: Vec<String>,
}

/// A hold on the simulated service.
#[derive(Clone)]
pub(crate) struct Bluez {
    connection: Connection,
    state: Arc<Mutex<State>>,
}

#[allow(dead_code, reason = "the tests and the benchmark use different parts")]
impl Bluez {
    pub(crate) async fn start(address: &str, scenario: &Scenario) -> Self {
        let connection = zbus::connection::Builder::address(address).build().await.expect("a bus");
        let state = State {
            tree: at_first(scenario),
            devices: scenario.devices.clone(),
            away: Vec::new(),
            faults: Vec::new(),
            searching: false,
            called: Vec::new(),
        };
        let service = Self { connection: connection.clone(), state: Arc::new(Mutex::new(state)) };
        let mut messages = MessageStream::from(&connection);
        let answering = service.clone();
        tokio::spawn(async move {
            while let Some(Ok(message)) = messages.next().await {
                if message.message_type() == Type::MethodCall {
                    let answering = answering.clone();
                    tokio::spawn(async move { answering.answer(message).await });
                }
            }
        });
        connection.request_name("org.bluez").await.expect("the name");
        tokio::spawn(service.clone().advertise());
        service
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether a client ever called this.
    pub(crate) fn was_called(&self, member: &str) -> bool {
        self.state().called.iter().any(|called| called == member)
    }

    pub(crate) fn fault(&self, member: &'static str, how: How) {
        self.state().faults.push(Fault { member, how, times: 1 });
    }

    async fn signal(&self, path: &str, face: &str, name: &str, body: &(impl serde::Serialize + zbus::DynamicType)) {
        // Nobody may be listening, and the bus may be gone: that is what is tested.
        let _ = self.connection.emit_signal(None::<&str>, path, face, name, body).await;
    }

    async fn set(&self, path: &str, face: &str, changes: Fields) {
        {
            let mut state = self.state();
            let Some(fields) = state.tree.get_mut(path).and_then(|faces| faces.get_mut(face)) else { return };
            fields.extend(changes.clone());
        }
        self.signal(path, PROPERTIES, "PropertiesChanged", &(face, variants(&changes), Vec::<String>::new())).await;
    }

    async fn add(&self, path: &str, faces: Faces) {
        let told: HashMap<String, Variants> =
            faces.iter().map(|(face, fields)| (face.clone(), variants(fields))).collect();
        if self.state().tree.insert(path.to_string(), faces).is_none() {
            self.signal("/", MANAGER, "InterfacesAdded", &(object_path(path), told)).await;
        }
    }

    async fn remove_under(&self, above: &str) {
        let gone: Vec<(String, Vec<String>)> = {
            let mut state = self.state();
            let paths: Vec<String> = state.tree.keys().filter(|path| path.starts_with(above)).cloned().collect();
            let taken = paths.into_iter().rev().filter_map(|path| Some((path.clone(), state.tree.remove(&path)?)));
            taken.map(|(path, faces)| (path, faces.into_keys().collect())).collect()
        };
        for (path, faces) in gone {
            self.signal("/", MANAGER, "InterfacesRemoved", &(object_path(&path), faces)).await;
        }
    }

    fn field(&self, path: &str, face: &str, name: &str) -> Option<Val> {
        self.state().tree.get(path)?.get(face)?.get(name).cloned()
    }

    fn is(&self, path: &str, face: &str, name: &str) -> bool {
        self.field(path, face, name) == Some(Val::Flag(true))
    }

    /// While somebody searches, every device that is near is heard again and again.
    async fn advertise(self) {
        for turn in 0_i16.. {
            tokio::time::sleep(ADVERT).await;
            let near: Vec<Device> = {
                let state = self.state();
                let heard = |device: &&Device| !state.away.contains(&device.path());
                if state.searching { state.devices.iter().filter(heard).cloned().collect() } else { Vec::new() }
            };
            for one in near {
                if self.field(&one.path(), DEVICE, "Address").is_none() {
                    self.add(&one.path(), device(&one)).await;
                } else if !self.is(&one.path(), DEVICE, "Connected") {
                    self.set(&one.path(), DEVICE, fields([("RSSI", Val::Dbm(-60 - turn % 5))])).await;
                }
            }
        }
    }

    // What happens on the site.

    /// The path of the device with this name.
    pub(crate) fn path(&self, name: &str) -> String {
        let state = self.state();
        state.devices.iter().find(|device| device.name == name).expect("it is in the scenario").path()
    }

    /// A device sends this on what it was subscribed to.
    pub(crate) async fn notify(&self, device: &str, uuid: &str, bytes: &[u8]) {
        let above = self.path(device);
        let path = {
            let state = self.state();
            let is = |faces: &Faces| {
                faces.get(CHARACTERISTIC).and_then(|fields| fields.get("UUID")) == Some(&Val::text(uuid))
            };
            state.tree.iter().find(|(path, faces)| path.starts_with(&above) && is(faces)).map(|(path, _)| path.clone())
        };
        if let Some(path) = path.filter(|path| self.is(path, CHARACTERISTIC, "Notifying")) {
            self.set(&path, CHARACTERISTIC, fields([("Value", Val::Bytes(bytes.to_vec()))])).await;
        }
    }

    pub(crate) async fn lose(&self, path: &str) {
        if self.is(path, DEVICE, "Connected") {
            let apart = [("Connected", Val::Flag(false)), ("ServicesResolved", Val::Flag(false))];
            self.remove_under(&format!("{path}/")).await;
            self.set(path, DEVICE, fields(apart)).await;
        }
    }

    pub(crate) async fn leave(&self, name: &str) {
        let path = self.path(name);
        self.state().away.push(path.clone());
        self.lose(&path).await;
    }

    pub(crate) fn come_back(&self) {
        self.state().away.clear();
    }

    pub(crate) async fn power(&self, on: bool) {
        if !on {
            self.part_all().await;
            self.state().searching = false;
        }
        self.set(ADAPTER_PATH, ADAPTER, fields([("Powered", Val::Flag(on))])).await;
    }

    pub(crate) async fn unplug(&self) {
        self.part_all().await;
        self.state().searching = false;
        self.remove_under(ADAPTER_PATH).await;
    }

    pub(crate) async fn plug_in(&self) {
        self.add(ADAPTER_PATH, adapter(true)).await;
    }

    /// The service ends, or is there again.
    pub(crate) async fn serve(&self, on: bool) {
        if on {
            self.connection.request_name("org.bluez").await.expect("the name");
        } else {
            self.connection.release_name("org.bluez").await.expect("it was ours");
            let mut state = self.state();
            state.searching = false;
            state.tree.retain(|path, _| !path.contains("/dev_"));
        }
    }

    async fn part_all(&self) {
        let paths: Vec<String> = self.state().devices.iter().map(Device::path).collect();
        for path in paths {
            self.lose(&path).await;
        }
    }

    // What a client calls.

    fn next_fault(&self, member: &str) -> Option<How> {
        let mut state = self.state();
        state.called.push(member.to_string());
        let at = state.faults.iter().position(|fault| fault.member == member)?;
        let fault = state.faults.get_mut(at)?;
        fault.times -= 1;
        let how = fault.how.clone();
        if fault.times == 0 {
            state.faults.remove(at);
        }
        Some(how)
    }

    async fn reply(&self, message: &Message, body: &(impl serde::Serialize + zbus::DynamicType)) {
        // The caller may be gone: that is what is tested.
        let _ = self.connection.reply(&message.header(), body).await;
    }

    async fn refuse(&self, message: &Message, name: &str) {
        let _ = self.connection.reply_error(&message.header(), name, &"as the scenario has it").await;
    }

    async fn answer(self, message: Message) {
        let header = message.header();
        let word = |part: Option<String>| part.unwrap_or_default();
        let path = word(header.path().map(ToString::to_string));
        let face = word(header.interface().map(ToString::to_string));
        let member = word(header.member().map(ToString::to_string));
        match self.next_fault(&member) {
            Some(How::Silent) => return,
            Some(How::Refused(name)) => return self.refuse(&message, name).await,
            Some(How::Late(later)) => tokio::time::sleep(later).await,
            Some(How::LostAfter) => {
                self.set(&path, DEVICE, fields([("Connected", Val::Flag(true))])).await;
                self.reply(&message, &()).await;
                tokio::time::sleep(CONNECT).await;
                return self.lose(&path).await;
            }
            None => {}
        }
        match face.as_str() {
            "org.freedesktop.DBus.Introspectable" => {
                let said = introspection(&self.state().tree, &path);
                match said {
                    Some(said) => self.reply(&message, &said).await,
                    None => self.refuse(&message, "org.freedesktop.DBus.Error.UnknownObject").await,
                }
            }
            MANAGER => self.objects(&message).await,
            _ if !self.state().tree.contains_key(&path) => {
                self.refuse(&message, "org.freedesktop.DBus.Error.UnknownObject").await;
            }
            PROPERTIES => self.properties(&message, &path, &member).await,
            ADAPTER => self.of_adapter(&message, &member).await,
            DEVICE => self.of_device(&message, &path, &member).await,
            CHARACTERISTIC | DESCRIPTOR => self.of_value(&message, &path, &face, &member).await,
            _ => self.refuse(&message, "org.freedesktop.DBus.Error.UnknownMethod").await,
        }
    }

    async fn objects(&self, message: &Message) {
        let all: HashMap<_, HashMap<String, Variants>> = {
            let state = self.state();
            let shown = state.tree.iter().filter(|(path, _)| *path != "/");
            let faces = |faces: &Faces| faces.iter().map(|(face, fields)| (face.clone(), variants(fields))).collect();
            shown.map(|(path, own)| (object_path(path), faces(own))).collect()
        };
        self.reply(message, &all).await;
    }

    async fn properties(&self, message: &Message, path: &str, member: &str) {
        let body = message.body();
        match member {
            "GetAll" => {
                let face: String = body.deserialize().unwrap_or_default();
                let all = self.state().tree.get(path).and_then(|faces| faces.get(&face)).map(variants);
                match all {
                    Some(all) => self.reply(message, &all).await,
                    None => self.refuse(message, "org.freedesktop.DBus.Error.InvalidArgs").await,
                }
            }
            "Get" => {
                let (face, name): (String, String) = body.deserialize().unwrap_or_default();
                match self.field(path, &face, &name) {
                    Some(val) => self.reply(message, &val.variant()).await,
                    None => self.refuse(message, "org.freedesktop.DBus.Error.InvalidArgs").await,
                }
            }
            _ => {
                let (_, name, val): (String, String, OwnedVariant) = body.deserialize().expect("a property");
                self.state().called.push(format!("Set {name}"));
                if name == "Powered" {
                    self.power(bool::try_from(val).unwrap_or(false)).await;
                }
                self.reply(message, &()).await;
            }
        }
    }

    async fn of_adapter(&self, message: &Message, member: &str) {
        let on = self.is(ADAPTER_PATH, ADAPTER, "Powered");
        match member {
            "StartDiscovery" if !on => self.refuse(message, "org.bluez.Error.NotReady").await,
            "StartDiscovery" | "StopDiscovery" => {
                self.state().searching = member == "StartDiscovery";
                self.reply(message, &()).await;
            }
            _ => self.reply(message, &()).await,
        }
    }

    async fn of_device(&self, message: &Message, path: &str, member: &str) {
        if member == "Disconnect" {
            self.lose(path).await;
            return self.reply(message, &()).await;
        }
        tokio::time::sleep(CONNECT).await;
        if !self.is(ADAPTER_PATH, ADAPTER, "Powered") {
            return self.refuse(message, "org.bluez.Error.NotReady").await;
        }
        if self.state().away.iter().any(|away| away == path) {
            return self.refuse(message, "org.bluez.Error.Failed").await;
        }
        self.set(path, DEVICE, fields([("Connected", Val::Flag(true))])).await;
        self.reply(message, &()).await;
        tokio::time::sleep(CONNECT).await;
        self.resolve(path).await;
    }

    async fn resolve(&self, path: &str) {
        let own = self.state().devices.iter().find(|device| device.path() == path).map(services).unwrap_or_default();
        for (path, faces) in own {
            self.add(&path, faces).await;
        }
        self.set(path, DEVICE, fields([("ServicesResolved", Val::Flag(true))])).await;
    }

    async fn of_value(&self, message: &Message, path: &str, face: &str, member: &str) {
        match member {
            "StartNotify" | "StopNotify" => {
                self.set(path, face, fields([("Notifying", Val::Flag(member == "StartNotify"))])).await;
                self.reply(message, &()).await;
            }
            "ReadValue" => match self.field(path, face, "Value") {
                Some(Val::Bytes(bytes)) => {
                    self.reply(message, &bytes).await;
                    // The real service tells a value that was read as a change, too.
                    self.set(path, face, fields([("Value", Val::Bytes(bytes))])).await;
                }
                _ => self.refuse(message, "org.bluez.Error.NotSupported").await,
            },
            _ => self.reply(message, &()).await,
        }
    }
}

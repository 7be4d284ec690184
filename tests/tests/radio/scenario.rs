//! What a simulated radio holds, read from a file of `fixtures/radio`.

use serde::Deserialize;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Scenario {
    #[serde(default)]
    pub(crate) no_adapter: bool,
    #[serde(default)]
    pub(crate) switched_off: bool,
    /// The bus lets nobody speak to the service.
    #[serde(default)]
    pub(crate) denied: bool,
    pub(crate) devices: Vec<Device>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Device {
    pub(crate) address: String,
    pub(crate) name: String,
    pub(crate) advertises: Vec<String>,
    pub(crate) services: Vec<Service>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Service {
    pub(crate) uuid: String,
    pub(crate) characteristics: Vec<Characteristic>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Characteristic {
    pub(crate) uuid: String,
    pub(crate) flags: Vec<String>,
    #[serde(default)]
    pub(crate) value: Vec<u8>,
    /// The presentation format descriptor.
    #[serde(default)]
    pub(crate) format: Option<Vec<u8>>,
}

impl Scenario {
    pub(crate) fn read(name: &str) -> Self {
        let file = site_tests::top().join("fixtures/radio").join(name).with_extension("json");
        let text = std::fs::read_to_string(&file).unwrap_or_else(|why| panic!("{}: {why}", file.display()));
        serde_json::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", file.display()))
    }
}

impl Device {
    /// The name of its object, and of the instrument for its client.
    pub(crate) fn path(&self) -> String {
        format!("{}/dev_{}", super::tree::ADAPTER_PATH, self.address.replace(':', "_"))
    }
}

//! How much of this machine the crew may take up. Each figure is a choice of this program, wide enough for eight
//! devices at five readings a second and narrow enough that strangers cannot fill the memory.

use std::time::Duration;

/// What is enough, and what is too much.
#[derive(Debug, Clone)]
pub struct Limits {
    /// Connections at once.
    pub connections: usize,
    /// Connections at once from one address.
    pub per_address: usize,
    /// How long a connection may take to agree on its encryption, and to send the head of a request.
    pub patience: Duration,
    /// How long the body of a request may take.
    pub body: Duration,
    /// Requests a second of one device, and how many it may have saved up.
    pub per_second: f64,
    pub saved_up: f64,
    /// How long a code to join by is good.
    pub code: Duration,
    /// Wrong codes before no one may join.
    pub guesses: u32,
    /// Devices that may have joined.
    pub members: usize,
    /// Bytes of a request; of a photograph.
    pub bytes: usize,
    pub photograph: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            connections: 256,
            per_address: 96,
            patience: Duration::from_secs(10),
            body: Duration::from_secs(30),
            per_second: 100.0,
            saved_up: 400.0,
            code: Duration::from_secs(600),
            guesses: 5,
            members: 64,
            bytes: 1 << 20,
            photograph: 24 << 20,
        }
    }
}

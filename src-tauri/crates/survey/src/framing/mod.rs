//! The framing plan: at which height to build, and what that asks of every joist. First the joist, then the lift.
//!
//! Each [`Alternative`] is the lowest target its rule permits. What a joist hangs below the target is made up by
//! strips; what stands above it is cut only where the [guard](crate::guard) or an approval on record allows it.

mod alternatives;
mod cost;
mod doorway;
mod governing;
mod plan;
mod reason;
mod settings;
mod site;
mod strips;
mod target;
mod tilted;
mod work;

pub use alternatives::Name;
pub use plan::{Alternative, Governs, Plan, plan};
pub use reason::Reason;
pub use settings::{Cost, Doorway, Dress, Settings, StripStops};
pub use strips::Strip;
pub use target::Target;
pub use work::{Action, JoistWork};

#[cfg(test)]
mod tests;

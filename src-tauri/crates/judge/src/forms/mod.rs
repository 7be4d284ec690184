//! The forms in which rooms, commands and answers travel: JSON for every front end and for the room file.
//!
//! Lengths are in mm, slopes mm per mm, probabilities 0 to 1, times RFC 3339. Heights are positive upward.
//! From these types the TypeScript of the screens and the JSON Schema of the room file are generated.

mod advice;
mod behind;
pub mod bounds;
mod build_up;
mod commands;
mod cutting;
mod drain;
mod entries;
mod fall;
pub mod fields;
mod findings;
mod height;
pub mod json;
mod plan;
mod pour;
mod problems;
mod readings;
pub mod refusal;
mod room;
mod rules;
mod tiling;
pub mod time;
mod views;
mod works;

pub use advice::*;
pub use behind::*;
pub use build_up::*;
pub use commands::*;
pub use cutting::*;
pub use drain::*;
pub use entries::*;
pub use fall::*;
pub use findings::*;
pub use height::*;
pub use plan::*;
pub use pour::*;
pub use problems::*;
pub use readings::*;
pub use room::*;
pub use rules::*;
pub use tiling::*;
pub use views::*;
pub use works::*;

/// The derives every wire type carries, and refusal of fields nobody knows.
#[macro_export]
macro_rules! wire {
    ($($item:item)*) => {
        $(
            #[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
            #[serde(deny_unknown_fields)]
            #[ts(optional_fields = nullable)]
            $item
        )*
    };
}

/// The derives of a wire type that is one of several words.
#[macro_export]
macro_rules! words {
    ($($item:item)*) => {
        $(
            #[derive(
                Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize, schemars::JsonSchema,
                ts_rs::TS,
            )]
            #[serde(rename_all = "kebab-case")]
            $item
        )*
    };
}

pub(crate) use {wire, words};

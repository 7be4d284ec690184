//! The rules in force: every tolerance, limit and default, where it comes from, and what it was changed to.

use super::{wire, words};
use std::collections::BTreeMap;

words! {
    /// Where a rule's figure comes from.
    pub enum Provenance {
        /// Read as quoted in published material.
        Read,
        /// Recalled from the standard, not read: check it before relying on it.
        Recalled,
        CommonPractice,
        /// Follows by arithmetic.
        Derived,
        /// Set by the user.
        Own,
    }

    /// How a value is held against a limit.
    pub enum Decision {
        /// The uncertainty guards the limit: within only if surely within.
        Guarded,
        /// The measured value is compared with the limit and the risk is shared.
        Simple,
    }

    /// What a judgement came to.
    pub enum Verdict {
        Within,
        Out,
        TooCloseToCall,
        NotTested,
    }
}

wire! {
    /// The settings of a room that decide its verdicts.
    #[derive(Default)]
    pub struct Rules {
        /// The figures that were changed from their defaults, by the name of the rule.
        #[serde(skip_serializing_if = "BTreeMap::is_empty", default)]
        pub changed: BTreeMap<String, f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub decision: Option<Decision>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tile: Option<Tile>,
        /// The rule for the fall of a wet floor, by its name.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub falls: Option<String>,
    }

    /// The tile that is to be laid.
    pub struct Tile {
        pub name: String,
        /// Its longest edge.
        pub longest_edge: f64,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub joint: Option<f64>,
    }

    /// One rule as it stands in a room.
    pub struct RuleView {
        pub id: String,
        pub name: String,
        /// The figure in force.
        pub value: f64,
        pub default: f64,
        /// `mm`, `ratio`, `cost` or `inches`.
        pub unit: String,
        /// The reach over which it holds.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub reach: Option<f64>,
        pub clause: String,
        pub edition: String,
        pub provenance: Provenance,
    }

    /// A rule for the fall of a wet floor, to choose from.
    pub struct FallsView {
        pub name: String,
        pub clause: String,
        pub edition: String,
        pub provenance: Provenance,
        /// Rise over run; absent where only a most is set.
        pub least: Option<f64>,
        /// Rise over run; absent where only a least is set.
        pub most: Option<f64>,
        /// Measured square to the drain, not along the water's path.
        pub square_to_drain: bool,
        pub chosen: bool,
    }

    /// The rule that a finding was judged by.
    pub struct RuleRef {
        pub name: String,
        pub clause: String,
        pub edition: String,
        pub provenance: Provenance,
        pub decision: Decision,
    }
}

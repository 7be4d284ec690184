//! What a test came to, before it is put into words.

use crate::forms::{Cover, RuleRef, TestWhy, Verdict};

/// What a test came to.
pub(super) struct CameTo {
    pub(super) verdict: Verdict,
    pub(super) why: TestWhy,
    pub(super) cover: Cover,
    pub(super) value: Option<f64>,
    pub(super) u: Option<f64>,
    pub(super) limit: Option<f64>,
    pub(super) not_before: Option<String>,
    pub(super) rule: Option<RuleRef>,
}

impl CameTo {
    pub(super) fn new(verdict: Verdict, why: TestWhy, cover: Cover) -> Self {
        Self { verdict, why, cover, value: None, u: None, limit: None, not_before: None, rule: None }
    }

    pub(super) fn with(self, value: f64, u: f64, limit: f64) -> Self {
        Self { value: Some(value), u: Some(u), limit: Some(limit), ..self }
    }
}

//! What a drawing is made of: lines, circles and texts on layers.

/// One thing that is drawn.
pub(crate) enum Mark {
    Line { layer: &'static str, from: (f64, f64), to: (f64, f64) },
    Circle { layer: &'static str, at: (f64, f64), radius: f64 },
    Text { layer: &'static str, at: (f64, f64), text: String },
}

impl Mark {
    pub(crate) fn layer(&self) -> &'static str {
        match self {
            Self::Line { layer, .. } | Self::Circle { layer, .. } | Self::Text { layer, .. } => layer,
        }
    }

    fn places(&self) -> Vec<(f64, f64)> {
        match self {
            Self::Line { from, to, .. } => vec![*from, *to],
            Self::Circle { at, .. } | Self::Text { at, .. } => vec![*at],
        }
    }
}

/// Everything that is drawn, in mm of the plan.
pub(crate) struct Drawing {
    pub(crate) marks: Vec<Mark>,
}

impl Drawing {
    /// The layers that something is on, in the order they are first used.
    pub(crate) fn layers(&self) -> Vec<&'static str> {
        let mut layers: Vec<&str> = Vec::new();
        for mark in &self.marks {
            if !layers.contains(&mark.layer()) {
                layers.push(mark.layer());
            }
        }
        layers
    }

    /// The least and the greatest place; the origin twice where nothing is drawn.
    pub(crate) fn reach(&self) -> ((f64, f64), (f64, f64)) {
        let places: Vec<(f64, f64)> = self.marks.iter().flat_map(Mark::places).collect();
        let of = |pick: fn(&(f64, f64)) -> f64, best: fn(f64, f64) -> f64| {
            places.iter().map(pick).reduce(best).unwrap_or(0.0)
        };
        ((of(|at| at.0, f64::min), of(|at| at.1, f64::min)), (of(|at| at.0, f64::max), of(|at| at.1, f64::max)))
    }
}

//! The fall of every facet, held against its least and its greatest.

use crate::mesh::Mesh;
use crate::units::{Area, Slope};

/// Along which way a fall is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FallRule {
    /// Along the path of the water: the whole slope of a facet.
    Path,
    /// Square to the drain line: the part of the slope toward it, negative where the facet falls away.
    SquareToDrain,
}

/// The falls allowed, both limits included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FallLimits {
    pub minimum: Slope,
    pub maximum: Slope,
    pub rule: FallRule,
}

/// How the fall of a facet stands to its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FallVerdict {
    Below,
    Between,
    Above,
}

impl FallVerdict {
    /// The name used on every wire: `below`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Below => "below",
            Self::Between => "between",
            Self::Above => "above",
        }
    }
}

/// The fall of one facet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacetFall {
    pub slope: Slope,
    pub area: Area,
    pub verdict: FallVerdict,
}

/// The fall of every facet; `line` is the drain line, for falls square to it.
pub(crate) fn falls(mesh: &Mesh, limits: FallLimits, line: Option<[[f64; 2]; 2]>) -> Vec<FacetFall> {
    let fall = |triangle: usize| {
        let gradient = mesh.gradient(triangle);
        let slope = Slope::ratio(match line {
            Some(line) => square_to(line, mesh.plan(triangle), gradient),
            None => (gradient[0] * gradient[0] + gradient[1] * gradient[1]).sqrt(),
        });
        FacetFall { slope, area: Area::mm2(mesh.area(triangle)), verdict: verdict(slope, limits) }
    };
    (0..mesh.triangles.len()).map(fall).collect()
}

fn verdict(slope: Slope, limits: FallLimits) -> FallVerdict {
    if !slope.at_least(limits.minimum) {
        FallVerdict::Below
    } else if !slope.at_most(limits.maximum) {
        FallVerdict::Above
    } else {
        FallVerdict::Between
    }
}

/// The part of a gradient that rises away from a line, on the side of the line where the facet lies.
fn square_to([from, to]: [[f64; 2]; 2], [a, b, c]: [[f64; 2]; 3], gradient: [f64; 2]) -> f64 {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy);
    let (nx, ny) = (-dy / length, dx / length);
    let side: f64 = [a, b, c].iter().map(|p| (p[0] - from[0]) * nx + (p[1] - from[1]) * ny).sum();
    (gradient[0] * nx + gradient[1] * ny) * side.signum()
}

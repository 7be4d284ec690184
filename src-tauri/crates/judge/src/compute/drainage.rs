//! How a floor drains: spill levels, ponds, falls, and what escapes over the entry.

use crate::forms::fields::{self, WirePoints};
use crate::forms::problems;
use super::floor::{Floor, sentence};
use super::Answer;
use crate::forms::fields::positions;
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::Point;
use survey::drainage::{Drain, Drainage, FallLimits, FallRule, FlowPath, NoDrainage, Pond, flow_paths};
use survey::units::{Length, Slope};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    boundary: Option<Vec<(f64, f64)>>,
    points: WirePoints,
    triangles: Option<Vec<[usize; 3]>>,
    drain: WireDrain,
    open_edges: Option<Vec<[usize; 2]>>,
    minimum_fall: f64,
    maximum_fall: f64,
    rule: WireRule,
    /// Places whose drops are followed.
    from: Option<Vec<(f64, f64)>>,
}

/// Where the water goes down.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WireDrain {
    /// Readings on the drain.
    Vertices(Vec<usize>),
    Point((f64, f64)),
    Line((f64, f64), (f64, f64)),
}

/// Along which way a fall is measured.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WireRule {
    Path,
    SquareToDrain,
}

impl From<WireRule> for FallRule {
    fn from(rule: WireRule) -> Self {
        match rule {
            WireRule::Path => Self::Path,
            WireRule::SquareToDrain => Self::SquareToDrain,
        }
    }
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    spill_level: Vec<Option<f64>>,
    ponds: Vec<WirePond>,
    total_volume: f64,
    total_area: f64,
    max_depth: f64,
    facets: Vec<WireFacet>,
    facet_slope_min: f64,
    facet_slope_max: f64,
    area_total: f64,
    area_below_minimum: f64,
    area_above_maximum: f64,
    escapes: Escapes,
    /// The facets as drained, over the points and then `set_in`.
    triangles: Vec<[usize; 3]>,
    /// The vertices that the drain added.
    set_in: Vec<[f64; 3]>,
    /// The way of a drop from each place of `from`; null off the surface. Only where asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    paths: Option<Vec<Option<WirePath>>>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WirePath {
    /// Every place where the drop meets an edge or a reading, with its height.
    places: Vec<[f64; 3]>,
    /// `drain`, `open-edge` or `stands`.
    end: &'static str,
    run: f64,
    fall: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WirePond {
    level: f64,
    depth: f64,
    area: f64,
    volume: f64,
    vertices: Vec<usize>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WireFacet {
    slope: f64,
    area: f64,
    verdict: &'static str,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Escapes {
    area: f64,
    fraction: f64,
}

/// # Errors
/// The refusals of the surface, `outside-boundary` for a drain off it, `rule-needs-a-line`, `out-of-range`.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let floor = Floor::read(&input.points, input.triangles.as_deref(), input.boundary.as_deref())?;
    let drain = drain(&floor, &input.drain)?;
    let open_edges = open_edges(&floor, input.open_edges.as_deref())?;
    let limits = FallLimits {
        minimum: slope("minimum_fall", input.minimum_fall)?,
        maximum: slope("maximum_fall", input.maximum_fall)?,
        rule: input.rule.into(),
    };
    let found = survey::drainage::drainage(&floor.surface, &drain, &open_edges, limits).map_err(no_drainage)?;
    let paths = input.from.as_deref().map(|from| paths(&floor, &drain, &open_edges, from)).transpose()?;
    let mut all = floor.problems.clone();
    all.extend(floor.in_input(found.problems));
    Ok(Answer::new(Output { paths, ..output(&floor, found.value) }, problems(all)))
}

fn paths(
    floor: &Floor,
    drain: &Drain,
    open_edges: &[[usize; 2]],
    from: &[(f64, f64)],
) -> Result<Vec<Option<WirePath>>, Refusal> {
    let found = flow_paths(&floor.surface, drain, open_edges, &positions("from", from)?).map_err(no_drainage)?;
    let wire = |path: FlowPath| WirePath {
        end: path.end.name(),
        run: path.run().to_mm(),
        fall: path.fall().map(Slope::to_ratio),
        places: path.places.iter().map(in_mm).collect(),
    };
    Ok(found.into_iter().map(|path| path.map(wire)).collect())
}

fn in_mm(point: &Point) -> [f64; 3] {
    [point.x.to_mm(), point.y.to_mm(), point.z.to_mm()]
}

/// The drain, its readings as they are kept.
///
/// # Errors
/// `not-finite`, or `out-of-range` for a reading that is not there.
pub fn drain(floor: &Floor, drain: &WireDrain) -> Result<Drain, Refusal> {
    Ok(match drain {
        WireDrain::Vertices(vertices) => {
            let reading = |(i, &vertex): (usize, &usize)| floor.reading(&format!("drain.vertices[{i}]"), vertex);
            Drain::Vertices(vertices.iter().enumerate().map(reading).collect::<Result<_, _>>()?)
        }
        WireDrain::Point(at) => Drain::Point(fields::position("drain.point", *at)?),
        WireDrain::Line(from, to) => {
            let ends = positions("drain.line", &[*from, *to])?;
            Drain::Line(ends[0], ends[1])
        }
    })
}

/// The open edges, their readings as they are kept.
///
/// # Errors
/// `out-of-range` for a reading that is not there.
pub fn open_edges(floor: &Floor, edges: Option<&[[usize; 2]]>) -> Result<Vec<[usize; 2]>, Refusal> {
    let edge = |(i, &[from, to]): (usize, &[usize; 2])| {
        let field = format!("open_edges[{i}]");
        Ok([floor.reading(&field, from)?, floor.reading(&field, to)?])
    };
    edges.unwrap_or_default().iter().enumerate().map(edge).collect()
}

/// The refusal for a floor whose drainage cannot be said.
pub fn no_drainage(why: NoDrainage) -> Refusal {
    let kind = match why {
        NoDrainage::DrainOutside => Kind::OutsideBoundary,
        NoDrainage::RuleNeedsALine => Kind::RuleNeedsALine,
        _ => Kind::OutOfRange,
    };
    let field = match why {
        NoDrainage::NotAnOuterEdge { open_edge } => format!("open_edges[{open_edge}]"),
        NoDrainage::FallLimits => "minimum_fall".to_string(),
        NoDrainage::RuleNeedsALine => "rule".to_string(),
        _ => "drain".to_string(),
    };
    Refusal::new(kind, sentence(why)).field(field)
}

fn slope(field: &str, ratio: f64) -> Result<Slope, Refusal> {
    Slope::try_ratio(ratio).map_err(|_| Refusal::not_finite(field))
}

fn output(floor: &Floor, found: Drainage) -> Output {
    let readings = floor.readings.items.len();
    let pond = |pond: Pond| WirePond {
        level: pond.level.to_mm(),
        depth: pond.depth.to_mm(),
        area: pond.area.to_mm2(),
        volume: pond.volume.to_litres(),
        vertices: pond.vertices.into_iter().map(|vertex| floor.vertex_in_input(vertex)).collect(),
    };
    let facets = found.facets.iter().map(|facet| WireFacet {
        slope: facet.slope.to_ratio(),
        area: facet.area.to_mm2(),
        verdict: facet.verdict.name(),
    });
    let levels = found.spill_level.iter().map(|level| level.map(Length::to_mm));
    Output {
        spill_level: floor.readings.spread(levels).into_iter().map(Option::flatten).collect(),
        total_volume: found.total_volume.to_litres(),
        total_area: found.total_area.to_mm2(),
        max_depth: found.max_depth.to_mm(),
        facets: facets.collect(),
        facet_slope_min: found.facet_slope_min.to_ratio(),
        facet_slope_max: found.facet_slope_max.to_ratio(),
        area_total: found.area_total.to_mm2(),
        area_below_minimum: found.area_below_minimum.to_mm2(),
        area_above_maximum: found.area_above_maximum.to_mm2(),
        escapes: Escapes { area: found.escaping.to_mm2(), fraction: found.escaping_share.to_f64() },
        triangles: floor.triangles_in_input(&found.triangles),
        set_in: found.points.iter().skip(readings).map(in_mm).collect(),
        ponds: found.ponds.into_iter().map(pond).collect(),
        paths: None,
    }
}

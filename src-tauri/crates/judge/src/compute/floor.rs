//! The surface that several operations start from: readings, and the triangles or the boundary around them.

use crate::forms::fields::{self, Kept, WirePoints};
use crate::forms::refusal::{Kind, Refusal, spoken};
use survey::triangulation::{NoSurface, Triangulation, triangulate, with_triangles};
use survey::{PlanPosition, Point, Problem, ProblemKind};

/// The triangulated readings of an input, and where each reading stood in it.
pub struct Floor {
    pub surface: Triangulation,
    pub readings: Kept<Point>,
    /// What is wrong with the readings, each at its index in the input.
    pub problems: Vec<Problem>,
}

impl Floor {
    /// The surface of the readings: of the triangles given, else Delaunay inside the boundary.
    ///
    /// # Errors
    /// The kinds of [`NoSurface`], `not-finite`, and `bad-triangle` for a triangle that names a reading left out.
    pub fn read(
        points: &WirePoints,
        triangles: Option<&[[usize; 3]]>,
        boundary: Option<&[(f64, f64)]>,
    ) -> Result<Self, Refusal> {
        let readings = points.kept("points")?;
        let boundary = fields::positions("boundary", boundary.unwrap_or_default())?;
        let found = match triangles {
            Some(triangles) => with_triangles(&readings.items, &kept_triangles(&readings, triangles)?, &boundary),
            None => triangulate(&readings.items, &boundary),
        };
        let found = found.map_err(no_surface)?;
        let mut floor = Self { surface: found.value, problems: readings.problems.clone(), readings };
        let problems = floor.in_input(found.problems);
        floor.problems.extend(problems);
        Ok(floor)
    }

    /// The reading of the surface at an index of the input.
    ///
    /// # Errors
    /// `not-found` where there is none, or it was left out.
    pub fn reading(&self, field: &str, index: usize) -> Result<usize, Refusal> {
        self.readings.kept_index(index).ok_or_else(|| {
            let message = format!("{} names reading {index}, which is not there or has no height.", spoken(field));
            Refusal::new(Kind::OutOfRange, message).field(field)
        })
    }

    /// Triangles over the readings as they stand in the input; vertices beyond them keep their order after it.
    pub fn triangles_in_input(&self, triangles: &[[usize; 3]]) -> Vec<[usize; 3]> {
        triangles.iter().map(|triangle| triangle.map(|vertex| self.vertex_in_input(vertex))).collect()
    }

    pub fn vertex_in_input(&self, vertex: usize) -> usize {
        match vertex.checked_sub(self.readings.items.len()) {
            Some(beyond) => self.readings.total + beyond,
            None => self.readings.input_index(vertex),
        }
    }

    /// Problems at the index their reading has in the input; those of the boundary's corners stay as they are.
    pub fn in_input(&self, problems: Vec<Problem>) -> Vec<Problem> {
        in_input(&self.readings, problems)
    }
}

/// As [`Floor::in_input`], for readings without a surface.
pub fn in_input<T>(readings: &Kept<T>, problems: Vec<Problem>) -> Vec<Problem> {
    let moved = |problem: Problem| match problem.kind {
        ProblemKind::CornerNotRead => problem,
        _ => {
            let reading = problem.at.as_deref().and_then(|at| at.parse().ok());
            Problem { at: reading.map(|at| readings.input_index(at).to_string()).or(problem.at.clone()), ..problem }
        }
    };
    problems.into_iter().map(moved).collect()
}

fn kept_triangles(readings: &Kept<Point>, triangles: &[[usize; 3]]) -> Result<Vec<[usize; 3]>, Refusal> {
    let kept = |(index, triangle): (usize, &[usize; 3])| {
        let [a, b, c] = triangle.map(|corner| readings.kept_index(corner));
        match (a, b, c) {
            (Some(a), Some(b), Some(c)) => Ok([a, b, c]),
            _ => Err(no_surface(NoSurface::BadTriangle { triangle: index })),
        }
    };
    triangles.iter().enumerate().map(kept).collect()
}

/// The refusal for readings without a surface.
pub fn no_surface(why: NoSurface) -> Refusal {
    let (kind, field) = match why {
        NoSurface::TooFewPoints => (Kind::TooFewPoints, "points".to_string()),
        NoSurface::CoincidentPoints => (Kind::CoincidentPoints, "points".to_string()),
        NoSurface::CollinearPoints => (Kind::CollinearPoints, "points".to_string()),
        NoSurface::NotSimple => (Kind::NotSimple, "boundary".to_string()),
        NoSurface::OutsideBoundary => (Kind::OutsideBoundary, "points".to_string()),
        NoSurface::BadTriangle { triangle } => (Kind::BadTriangle, format!("triangles[{triangle}]")),
    };
    Refusal::new(kind, sentence(why)).field(field)
}

/// What an error says, as a sentence.
pub fn sentence(error: impl std::fmt::Display) -> String {
    let said = error.to_string();
    let mut letters = said.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).chain(['.']).collect())
}

/// A plan position as it is written.
pub fn plan(at: PlanPosition) -> [f64; 2] {
    [at.x.to_mm(), at.y.to_mm()]
}

//! Weighted least squares for differences of two kinds of unknowns, one kind eliminated row by row.

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector};

use crate::least_squares::LeastSquares;

/// So many set-ups, or points, are solved for together; of the other there may be any number.
pub const MOST_SETUPS: usize = 1_000;

#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Unknown {
    Setup(String),
    Point(String),
}

/// One observation: `plus` less `minus` is `value`, all in mm.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) plus: Unknown,
    pub(super) minus: Option<Unknown>,
    pub(super) value: f64,
    pub(super) sd: f64,
}

/// The unknowns that fit best, and how they vary together.
#[derive(Debug, Clone)]
pub(super) struct Adjusted {
    /// The unknowns of the fewer kind, solved for together.
    kept: BTreeMap<Unknown, usize>,
    values: DVector<f64>,
    covariance: DMatrix<f64>,
    eliminated: BTreeMap<Unknown, Eliminated>,
}

/// An unknown of the other kind: its value is (right − Σ factor · kept) / own.
#[derive(Debug, Clone, Default)]
struct Eliminated {
    own: f64,
    right: f64,
    factors: Vec<(usize, f64)>,
}

impl Adjusted {
    /// The best fit; every unknown must be tied to a value. `None` if both kinds are too many.
    pub(super) fn new(rows: &[Row]) -> Option<Self> {
        let unknowns = || rows.iter().flat_map(|row| std::iter::once(&row.plus).chain(&row.minus));
        let is_setup = |unknown: &Unknown| matches!(unknown, Unknown::Setup(_));
        let of_kind = |setups: bool| unknowns().filter(move |unknown| is_setup(unknown) == setups);
        let number = |setups: bool| {
            let mut numbered: BTreeMap<Unknown, usize> = of_kind(setups).map(|unknown| (unknown.clone(), 0)).collect();
            numbered.values_mut().enumerate().for_each(|(index, place)| *place = index);
            numbered
        };
        let (setups, points) = (number(true), number(false));
        let keeps_setups = setups.len() <= points.len();
        let kept = if keeps_setups { setups } else { points };
        if kept.len() > MOST_SETUPS {
            return None;
        }
        let mut system = LeastSquares::new(kept.len());
        let mut eliminated = BTreeMap::new();
        for (unknown, rows) in by_eliminated(rows, &kept) {
            let weighted: Vec<Weighted> = rows.into_iter().map(|row| Weighted::new(row, &kept)).collect();
            match unknown {
                None => weighted.iter().for_each(|row| system.add(row.kept.as_slice(), row.value)),
                Some(unknown) => {
                    eliminated.insert(unknown.clone(), eliminate(&weighted, &mut system));
                }
            }
        }
        let (values, covariance) = system.solve()?;
        Some(Self { kept, values, covariance, eliminated })
    }

    pub(super) fn unknowns(&self) -> usize {
        self.kept.len() + self.eliminated.len()
    }

    pub(super) fn value(&self, unknown: &Unknown) -> f64 {
        if let Some(&index) = self.kept.get(unknown) {
            return self.values[index];
        }
        let Some(other) = self.eliminated.get(unknown) else { return 0.0 };
        let known: f64 = other.factors.iter().map(|&(index, factor)| factor * self.values[index]).sum();
        (other.right - known) / other.own
    }

    /// How two unknowns vary together, in mm².
    pub(super) fn covariance(&self, p: &Unknown, q: &Unknown) -> f64 {
        let (on_p, own_p) = self.dependence(p);
        let (on_q, own_q) = self.dependence(q);
        let pairs = on_p.iter().flat_map(|&(i, a)| on_q.iter().map(move |&(j, b)| (i, j, a * b)));
        let shared: f64 = pairs.map(|(i, j, product)| product * self.covariance[(i, j)]).sum();
        shared + if p == q { own_p * own_q } else { 0.0 }
    }

    /// How an unknown hangs on the kept ones, and the standard deviation of its own beside them.
    fn dependence(&self, unknown: &Unknown) -> (Vec<(usize, f64)>, f64) {
        if let Some(&index) = self.kept.get(unknown) {
            return (vec![(index, 1.0)], 0.0);
        }
        let Some(other) = self.eliminated.get(unknown) else { return (Vec::new(), 0.0) };
        (other.factors.iter().map(|&(index, factor)| (index, -factor / other.own)).collect(), 1.0 / other.own)
    }

    /// Observed less fitted.
    pub(super) fn residual(&self, row: &Row) -> f64 {
        row.value - self.value(&row.plus) + row.minus.as_ref().map_or(0.0, |minus| self.value(minus))
    }

    /// The variance of the fitted value of a row, in mm².
    pub(super) fn variance(&self, row: &Row) -> f64 {
        let plus = self.covariance(&row.plus, &row.plus);
        let Some(minus) = &row.minus else { return plus };
        plus + self.covariance(minus, minus) - 2.0 * self.covariance(&row.plus, minus)
    }
}

/// The rows of each unknown to eliminate, and under `None` those with none.
fn by_eliminated<'a>(rows: &'a [Row], kept: &BTreeMap<Unknown, usize>) -> BTreeMap<Option<&'a Unknown>, Vec<&'a Row>> {
    let mut groups: BTreeMap<Option<&Unknown>, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        let eliminated = std::iter::once(&row.plus).chain(&row.minus).find(|unknown| !kept.contains_key(unknown));
        groups.entry(eliminated).or_default().push(row);
    }
    groups
}

/// A row over its standard deviation.
struct Weighted {
    own: f64,
    kept: Option<(usize, f64)>,
    value: f64,
}

impl Weighted {
    fn new(row: &Row, kept: &BTreeMap<Unknown, usize>) -> Self {
        let mut weighted = Self { own: 0.0, kept: None, value: row.value / row.sd };
        for (unknown, sign) in std::iter::once((&row.plus, 1.0)).chain(row.minus.as_ref().map(|minus| (minus, -1.0))) {
            match kept.get(unknown) {
                Some(&index) => weighted.kept = Some((index, sign / row.sd)),
                None => weighted.own = sign / row.sd,
            }
        }
        weighted
    }
}

/// Splits rows into one that gives their common unknown and others free of it, by an orthogonal projection.
fn eliminate(rows: &[Weighted], system: &mut LeastSquares) -> Eliminated {
    let own = rows.iter().map(|row| row.own * row.own).sum::<f64>().sqrt();
    let right = rows.iter().map(|row| row.own * row.value).sum::<f64>() / own;
    let mut factors: BTreeMap<usize, f64> = BTreeMap::new();
    for row in rows {
        if let Some((index, factor)) = row.kept {
            *factors.entry(index).or_default() += row.own * factor / own;
        }
    }
    for row in rows {
        let share = row.own / own;
        let mut free: BTreeMap<usize, f64> = factors.iter().map(|(&index, factor)| (index, -share * factor)).collect();
        if let Some((index, factor)) = row.kept {
            *free.entry(index).or_default() += factor;
        }
        let free: Vec<(usize, f64)> = free.into_iter().collect();
        system.add(&free, row.value - share * right);
    }
    Eliminated { own, right, factors: factors.into_iter().collect() }
}

//! Every way a bar of one length can lie on a set of places, prepared once for whatever heights they have.

/// Lengths within this, in mm, are equal.
pub(crate) const SAME: f64 = 1e-6;

/// A bar of one length over the places of a profile.
#[derive(Debug, Clone)]
pub(crate) struct Reach<'s> {
    pub(crate) s: &'s [f64],
    /// The length of the bar, or of the line where that is shorter.
    pub(crate) length: f64,
    /// For each place the last place a bar starting there reaches, and the piece its far end lies on if between places.
    pub(crate) rightward: Vec<(usize, Option<usize>)>,
    /// Places that a bar of full length ends at with its near end between places: (place, piece of the near end).
    pub(crate) leftward: Vec<(usize, usize)>,
    /// Stretches over which a sliding bar keeps both its ends on the same pieces.
    pub(crate) slides: Vec<Slide>,
}

/// Both ends of a bar of full length on one piece each, while its near end moves from `start` to `end`.
///
/// A piece is named by the place at its far end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Slide {
    pub(crate) near: usize,
    pub(crate) far: usize,
    pub(crate) start: f64,
    pub(crate) end: f64,
}

impl<'s> Reach<'s> {
    /// At least two rising places, counted from the first.
    pub(crate) fn new(s: &'s [f64], length: f64) -> Self {
        let total = s.last().copied().unwrap_or(0.0);
        let length = if total <= length + SAME { total } else { length };
        let rightward = (0..s.len()).map(|place| rightward(s, place, length)).collect();
        let leftward = (1..s.len()).filter_map(|place| Some((place, piece(s, s[place] - length)?))).collect();
        Self { s, length, rightward, leftward, slides: slides(s, length) }
    }

    /// Whether two places are no farther apart than the bar is long.
    pub(crate) fn spans(&self, a: usize, b: usize) -> bool {
        self.s[b] - self.s[a] <= self.length + SAME
    }
}

/// The piece that `at` lies within, named by the place at its far end; `None` at a place or off the line.
fn piece(s: &[f64], at: f64) -> Option<usize> {
    let right = s.partition_point(|&place| place < at + SAME);
    let inside = right > 0 && right < s.len() && s[right - 1] < at - SAME;
    inside.then_some(right)
}

fn rightward(s: &[f64], place: usize, length: f64) -> (usize, Option<usize>) {
    let end = s[place] + length;
    (s.partition_point(|&other| other <= end + SAME) - 1, piece(s, end))
}

fn slides(s: &[f64], length: f64) -> Vec<Slide> {
    let last = s.last().copied().unwrap_or(0.0) - length;
    let mut turns: Vec<f64> = s.iter().copied().chain(s.iter().map(|place| place - length)).collect();
    turns.retain(|&turn| turn > -SAME && turn < last + SAME);
    turns.sort_by(f64::total_cmp);
    let long_enough = |pair: &&[f64]| pair[1] - pair[0] > SAME;
    let slide = |pair: &[f64]| {
        let middle = 0.5 * (pair[0] + pair[1]);
        Some(Slide { near: piece(s, middle)?, far: piece(s, middle + length)?, start: pair[0], end: pair[1] })
    };
    turns.windows(2).filter(long_enough).filter_map(slide).collect()
}

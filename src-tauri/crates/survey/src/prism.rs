//! What stands above a facet and below a level: exact, by clipping.

/// The plan area in mm² where `above` is positive, and the volume in mm³ there.
///
/// `above` is how far the level stands above each corner of a triangle of plan `area`; it is linear between them.
pub(crate) fn prism(area: f64, above: [f64; 3]) -> (f64, f64) {
    let whole = area * (above[0] + above[1] + above[2]) / 3.0;
    match above.map(|height| height > 0.0) {
        [true, true, true] => (area, whole),
        [false, false, false] => (0.0, 0.0),
        [true, false, false] => tip(area, above[0], above[1], above[2]),
        [false, true, false] => tip(area, above[1], above[2], above[0]),
        [false, false, true] => tip(area, above[2], above[0], above[1]),
        [false, true, true] => but_the_tip(area, whole, above[0], above[1], above[2]),
        [true, false, true] => but_the_tip(area, whole, above[1], above[2], above[0]),
        [true, true, false] => but_the_tip(area, whole, above[2], above[0], above[1]),
    }
}

/// The corner of height `top` whose neighbours stand on the other side of zero.
fn tip(area: f64, top: f64, left: f64, right: f64) -> (f64, f64) {
    if top == 0.0 {
        return (0.0, 0.0);
    }
    let cut = area * (top / (top - left)) * (top / (top - right));
    (cut, cut * top / 3.0)
}

fn but_the_tip(area: f64, whole: f64, below: f64, left: f64, right: f64) -> (f64, f64) {
    let (cut, missing) = tip(area, below, left, right);
    (area - cut, whole - missing)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Integrals of a linear function over the unit right triangle, by hand.
    #[test]
    fn pieces_of_a_triangle() {
        let check = |above: [f64; 3], expected: (f64, f64)| {
            let found = prism(0.5, above);
            assert!(
                (found.0 - expected.0).abs() < 1e-15 && (found.1 - expected.1).abs() < 1e-15,
                "{above:?} {found:?}"
            );
        };
        check([1.0, 1.0, 1.0], (0.5, 0.5));
        check([3.0, 0.0, 0.0], (0.5, 0.5));
        check([-1.0, -2.0, 0.0], (0.0, 0.0));
        check([1.0, -1.0, -1.0], (0.125, 0.125 / 3.0));
        check([-1.0, 1.0, 1.0], (0.375, 0.5 / 3.0 + 0.125 / 3.0));
        check([0.0, 2.0, 1.0], (0.5, 0.5));
    }
}

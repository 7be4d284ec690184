//! How much a floor may rise in its doorway.

use crate::units::Length;

/// The rise that the hall and the door leave, over what was read at the doorway; negative where the floor is too high
/// already.
///
/// `hall` is the hall's finished floor, `build_up` all that goes on what is built to, both over what was read there;
/// `door`, where one hangs, is its lower edge over the hall's floor and the gap to be left under it.
///
/// # Source
/// Common practice: no step up into the room, and the door swings clear of the finished floor.
///
/// ```
/// use survey::door_budget::door_budget;
/// use survey::units::Length;
/// let inches = Length::inches;
/// // Hall at 1-3/4 over the joists; 3/4 of subfloor and 5/8 of tile go on: 3/8 is left.
/// assert_eq!(door_budget(inches(1.75), inches(1.375), None), inches(0.375));
/// // A door half an inch over the hall that wants 3/4 under it takes 1/4 of that.
/// let under = door_budget(inches(1.75), inches(1.375), Some((inches(0.5), inches(0.75))));
/// assert!((under - inches(0.125)).abs() < Length::mm(1e-9));
/// ```
pub fn door_budget(hall: Length, build_up: Length, door: Option<(Length, Length)>) -> Length {
    let flush = hall - build_up;
    door.map_or(flush, |(edge, gap)| flush.min(hall + edge - gap - build_up))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_high_door_leaves_no_more_than_the_hall() {
        let mm = Length::mm;
        assert_eq!(door_budget(mm(40.0), mm(30.0), Some((mm(20.0), mm(6.0)))), mm(10.0));
        assert_eq!(door_budget(mm(20.0), mm(30.0), None), mm(-10.0));
    }
}

//! Rules against the figures that are printed of them: lippage and warpage.

use survey::rules::{lippage_rules, warpage_most};
use survey::units::Length;

/// Joints of 1/16 to under 1/4 in 1/32 plus warpage, from 1/4 in 1/16 plus warpage; stone 1/32 without (read:
/// tileletter.com/2016/02/7950, quoting A108.02-2013 4.3.7); worked 1/32 + 1/16 = 3/32 in (read on a page of its own).
/// British: under 6 mm 1 mm, from 6 mm 2 mm (read: tilersforums.com thread 63917, quoting BS 5385).
#[test]
fn lippage_by_the_joint() {
    let check = |rule: usize, joint: f64, warpage: f64, limit: Option<f64>| {
        let found = lippage_rules()[rule].limit(Length::inches(joint), Length::inches(warpage)).map(Length::to_inches);
        let fine = match (found, limit) {
            (Some(found), Some(limit)) => (found - limit).abs() < 1e-12,
            (found, limit) => found.is_none() && limit.is_none(),
        };
        assert!(fine, "{rule} {joint}: {found:?} {limit:?}");
    };
    check(0, 1.0 / 16.0, 0.0, Some(1.0 / 32.0));
    check(0, 0.125, 1.0 / 16.0, Some(3.0 / 32.0));
    check(0, 0.2499, 0.0, Some(1.0 / 32.0));
    check(0, 0.25, 0.0, Some(1.0 / 16.0));
    check(0, 1.0 / 32.0, 0.0, None);
    check(1, 0.125, 1.0 / 16.0, Some(1.0 / 32.0));
    check(2, 5.9 / 25.4, 0.0, Some(1.0 / 25.4));
    check(2, 6.0 / 25.4, 0.0, Some(2.0 / 25.4));
    check(3, 3.0 / 25.4, 0.0, Some(1.0 / 25.4));
    check(3, 5.0 / 25.4, 0.0, Some(2.0 / 25.4));
    // 24 in: 0.240 in of warpage on the edge, 0.2546 in on a diagonal of 33.94 in (read: tile-magazine.com 83931).
    let [edge, diagonal] =
        warpage_most(Length::inches(24.0), Length::inches(24.0 * 2f64.sqrt())).map(Length::to_inches);
    assert!((edge - 0.240).abs() < 1e-9 && (diagonal - 0.2546).abs() < 5e-5);
}

//! Lines put together from the pieces they arrive in.

use crate::Moment;
use std::time::Duration;

/// The longest line, in bytes, without its end. Longer ones are thrown away whole.
pub const MAX_LINE: usize = 128;

/// A piece without its line end is thrown away after this long. Ours.
const PATIENCE: Duration = Duration::from_secs(1);

/// Puts lines together, holding at most [`MAX_LINE`] bytes; a line ends with a line feed, a carriage return before it
/// is dropped.
///
/// A piece is never joined to what came after a loss or a pause. Lines without a check sum are moreover begun only
/// where a beginning is certain: behind a line end, or after a second of silence with nothing begun. So the tail of a
/// line whose head was lost is not taken for a line of its own.
///
/// ```
/// use bluetooth::decode::Lines;
/// use std::time::Duration;
///
/// let ms = Duration::from_millis;
/// let mut lines = Lines::new(true);
/// assert!(lines.take(b"1.2", ms(0)).is_empty());
/// assert_eq!(lines.take(b"34 m\r\n5.6", ms(50)), [b"1.234 m"]);
/// lines.lose(ms(60));
/// assert_eq!(lines.take(b"0.5 m\n", ms(70)), [b"0.5 m"], "5.6 does not become 5.60");
/// ```
#[derive(Debug, Clone)]
pub struct Lines {
    /// Whether each line carries a check sum, so that a tail gives itself away.
    summed: bool,
    part: Vec<u8>,
    /// What comes belongs to a line whose beginning is not known: up to the next line end it is thrown away.
    astray: bool,
    /// Something came since the last line end.
    open: bool,
    heard: Moment,
}

impl Lines {
    pub fn new(summed: bool) -> Self {
        Self { summed, part: Vec::new(), astray: !summed, open: false, heard: Moment::ZERO }
    }

    /// The link is lost or new: what was begun is thrown away.
    pub fn lose(&mut self, at: Moment) {
        self.part.clear();
        self.astray = !self.summed;
        self.open = false;
        self.heard = self.heard.max(at);
    }

    /// The lines these bytes complete, without their ends; empty lines are left out.
    pub fn take(&mut self, bytes: &[u8], at: Moment) -> Vec<Vec<u8>> {
        self.pause(at);
        bytes.iter().filter_map(|byte| self.byte(*byte)).collect()
    }

    /// A long pause throws away what was begun; with nothing begun, a new line begins after it.
    fn pause(&mut self, at: Moment) {
        if at.saturating_sub(self.heard) >= PATIENCE {
            self.astray = !self.summed && self.open;
            self.part.clear();
        }
        self.heard = self.heard.max(at);
    }

    fn byte(&mut self, byte: u8) -> Option<Vec<u8>> {
        self.open = byte != b'\n';
        if !self.open {
            let line = std::mem::take(&mut self.part);
            let whole = !std::mem::take(&mut self.astray);
            let line = line.strip_suffix(b"\r").map(<[u8]>::to_vec).unwrap_or(line);
            return (whole && !line.is_empty()).then_some(line);
        }
        if self.part.len() == MAX_LINE {
            self.part.clear();
            self.astray = true;
        }
        if !self.astray {
            self.part.push(byte);
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(summed: bool, pieces: &[(u64, &str)], expected: &[&str]) {
        let mut lines = Lines::new(summed);
        let found: Vec<Vec<u8>> =
            pieces.iter().flat_map(|(ms, text)| lines.take(text.as_bytes(), Duration::from_millis(*ms))).collect();
        let found: Vec<_> = found.iter().map(|line| String::from_utf8_lossy(line)).collect();
        assert_eq!(found, expected, "{pieces:?}");
    }

    #[test]
    fn lines_are_begun_only_where_they_begin() {
        check(false, &[(0, "34 m\n5.6 m\n")], &["5.6 m"]);
        check(false, &[(1000, "1.2 m\n")], &["1.2 m"]);
        check(false, &[(1000, "1.2 m\n"), (1100, "\r\n\n3.4 m\r\n")], &["1.2 m", "3.4 m"]);
        check(false, &[(1000, "1."), (2100, "2 m\n"), (2200, "3 m\n")], &["3 m"]);
        let endless = "7".repeat(MAX_LINE + 1);
        check(false, &[(1000, &endless), (2100, "2 m\n"), (2200, "3 m\n")], &["3 m"]);
        check(true, &[(0, "1."), (1100, "2 m*00\n")], &["2 m*00"]);
        check(true, &[(0, "1."), (999, "2 m*00\n")], &["1.2 m*00"]);
    }

    #[test]
    fn a_line_without_end_is_thrown_away_and_takes_no_more_room() {
        let mut lines = Lines::new(true);
        for _ in 0..1000 {
            assert!(lines.take(&[b'7'; 512], Duration::ZERO).is_empty());
            assert!(lines.part.capacity() <= 2 * MAX_LINE, "{}", lines.part.capacity());
        }
        assert!(lines.take(b"7\n", Duration::ZERO).is_empty());
        assert_eq!(lines.take(b"8\n", Duration::ZERO), [b"8"]);
        assert_eq!(lines.take(&[&[b'9'; MAX_LINE][..], b"\n"].concat(), Duration::ZERO), [vec![b'9'; MAX_LINE]]);
    }

    proptest! {
        /// However whole lines are cut into pieces, the same lines come out.
        #[test]
        fn pieces_do_not_matter(
            texts in prop::collection::vec("[ -~]{1,40}", 1..8),
            cuts in prop::collection::vec(1_usize..25, 1..60),
            summed: bool,
        ) {
            let all: Vec<u8> = texts.iter().flat_map(|text| format!("{text}\r\n").into_bytes()).collect();
            let mut lines = Lines::new(summed);
            let (mut rest, mut cuts, mut found) = (&all[..], cuts.iter().cycle(), Vec::new());
            while !rest.is_empty() {
                let (piece, after) = rest.split_at(rest.len().min(*cuts.next().expect("it goes round")));
                found.extend(lines.take(piece, PATIENCE));
                rest = after;
            }
            prop_assert_eq!(found, texts.iter().map(|text| text.clone().into_bytes()).collect::<Vec<_>>());
        }

        /// With losses and pauses anywhere, only lines that were sent whole and in one go come out.
        #[test]
        fn nothing_is_joined_over_a_loss(
            steps in prop::collection::vec((prop::collection::vec(any::<u8>(), 0..300), 0_u64..1500, any::<bool>()), 0..20),
            summed: bool,
        ) {
            let mut lines = Lines::new(summed);
            let (mut now, mut unbroken) = (Duration::ZERO, Vec::new());
            for (bytes, pause, lost) in steps {
                now += Duration::from_millis(pause);
                if lost {
                    lines.lose(now);
                }
                if lost || pause >= 1000 {
                    unbroken.clear();
                }
                unbroken.extend_from_slice(&bytes);
                for line in lines.take(&bytes, now) {
                    prop_assert!(line.len() <= MAX_LINE && !line.contains(&b'\n'));
                    let sent = |end: &[u8]| {
                        let whole = [&line[..], end].concat();
                        unbroken.windows(whole.len()).any(|part| part == whole)
                    };
                    prop_assert!(sent(b"\n") || sent(b"\r\n"));
                }
                prop_assert!(lines.part.len() <= MAX_LINE);
            }
        }
    }
}

//! The code that lets one device in, once, for a little while.

use super::image;
use crate::Limits;
use app::forms::{CrewCode, CrewImage, CrewRole};
use std::time::Instant;

/// Digits and letters that no one takes for another when they are read aloud.
const LETTERS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/// Eight of them are 40 bits; five guesses at that are one in two hundred thousand million.
const LENGTH: usize = 8;

/// One code, and what it lets a device do.
pub(super) struct Code {
    text: String,
    pub(super) role: CrewRole,
    until: String,
    ends: Instant,
    guesses: u32,
}

/// What became of a try.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Tried {
    Right,
    Wrong,
    /// That was one guess too many.
    Shut,
    Expired,
}

impl Code {
    pub(super) fn draw(role: CrewRole, limits: &Limits) -> Result<Self, getrandom::Error> {
        let mut bytes = [0u8; LENGTH];
        getrandom::fill(&mut bytes)?;
        // 256 is a multiple of 32, so every letter is as likely as any other.
        let text = bytes.iter().map(|byte| char::from(LETTERS[usize::from(byte % 32)])).collect();
        let until = super::later(limits.code);
        Ok(Self { text, role, until, ends: Instant::now() + limits.code, guesses: limits.guesses })
    }

    pub(super) fn is_over(&self) -> bool {
        Instant::now() >= self.ends
    }

    /// Compares in a time that tells nothing; every wrong one counts.
    pub(super) fn try_it(&mut self, given: &str) -> Tried {
        if self.is_over() {
            return Tried::Expired;
        }
        let given: String = given.chars().filter(char::is_ascii_alphanumeric).collect();
        if crate::door::same(&given.to_ascii_uppercase(), &self.text) {
            return Tried::Right;
        }
        self.guesses = self.guesses.saturating_sub(1);
        if self.guesses == 0 { Tried::Shut } else { Tried::Wrong }
    }

    /// How it is shown at home: to be read aloud, and as an image of the address with it.
    pub(super) fn shown(&self, addresses: &[String], fingerprint: &str) -> CrewCode {
        let image = |address: &String| {
            let (side, path) = image::squares(&link(address, &self.text, fingerprint));
            CrewImage { address: address.clone(), side, path }
        };
        let images = addresses.iter().map(image).collect();
        CrewCode { code: self.text.clone(), role: self.role, until: self.until.clone(), images }
    }
}

/// What a code image says: the page to join on, with the code, and what its certificate is to be. Nothing behind the
/// `#` goes out with a request.
pub(crate) fn link(address: &str, code: &str, fingerprint: &str) -> String {
    format!("{address}/#/join/{code}/{fingerprint}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    fn a_code_is_read_in_any_hand() {
        let mut code = Code::draw(CrewRole::Read, &Limits::default()).expect("drawn");
        let spoken = format!(" {}-{} ", code.text[..4].to_lowercase(), &code.text[4..]);
        assert_eq!(code.try_it(&spoken), Tried::Right);
    }

    #[test]
    fn five_wrong_ones_shut_it() {
        let mut code = Code::draw(CrewRole::Read, &Limits::default()).expect("drawn");
        let tried: Vec<Tried> = ["", "A", "AAAAAAAA", "0", "AAAAAAA0"].iter().map(|one| code.try_it(one)).collect();
        assert_eq!(tried, [Tried::Wrong, Tried::Wrong, Tried::Wrong, Tried::Wrong, Tried::Shut]);
    }

    #[test]
    fn a_code_ends() {
        let mut code =
            Code::draw(CrewRole::Read, &Limits { code: Duration::ZERO, ..Limits::default() }).expect("drawn");
        let text = code.text.clone();
        assert_eq!(code.try_it(&text), Tried::Expired);
    }
}

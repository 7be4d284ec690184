//! What has to be thought of again, as a file for the calendar of a phone.
//!
//! # Source
//! RFC 5545: lines end in CR LF, are folded at 75 octets, and escape commas, semicolons and backslashes (recalled).

use crate::app::App;

use crate::files::file_name::file_name;
use crate::forms::*;
use judge::{Kind, Refusal};

impl App {
    /// The reminders of a room: when a test is over or a membrane cured, and a test of the ground-fault device every
    /// month where there is a heat cable.
    ///
    /// # Errors
    /// `not-found` if there is no such room, `not-ready` where there is nothing to be reminded of.
    pub fn reminders(&self, room: &str) -> Result<FileText, Refusal> {
        let (file, now) = (self.room_state(room)?, self.now());
        let events: Vec<String> =
            judge::tests(&file, &now).iter().filter_map(|test| event(&file, test, &now)).collect();
        if events.is_empty() {
            let message =
                "There is nothing to be reminded of in this room: no test is waiting and no heat cable is on record.";
            return Err(Refusal::new(Kind::NotReady, message));
        }
        let text = format!(
            "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Truefall//Reminders//EN\r\n{}END:VCALENDAR\r\n",
            events.concat()
        );
        Ok(FileText { name: format!("{}.ics", file_name(&file.room.name)), text })
    }
}

fn event(file: &RoomFile, test: &TestView, now: &str) -> Option<String> {
    let room = &file.room.name;
    let (start, rule, says) = match (&test.entry.what, &test.not_before) {
        (EntryKind::HeatCable(cable), _) => {
            let says = format!(
                "{room}: test the ground-fault device of the floor heating ({}), with the heat calling",
                cable.product
            );
            (test.entry.at.as_str(), "RRULE:FREQ=MONTHLY\r\n", says)
        }
        (EntryKind::Flood(one), Some(end)) => {
            (end.as_str(), "", format!("{room}: look at the flood test, {}", one.place))
        }
        (EntryKind::Cure(one), Some(end)) => {
            (end.as_str(), "", format!("{room}: {} is cured by its sheet", one.product))
        }
        _ => return None,
    };
    let lines = [
        "BEGIN:VEVENT".to_string(),
        format!("UID:{}@truefall", test.entry.id),
        format!("DTSTAMP:{}", in_utc(now)?),
        format!("DTSTART:{}", in_utc(start)?),
        format!("SUMMARY:{}", escaped(&says)),
    ];
    Some(lines.iter().map(|line| folded(line)).collect::<String>() + rule + "END:VEVENT\r\n")
}

/// A time in UTC as a calendar writes it: `20310402T123105Z`.
fn in_utc(time: &str) -> Option<String> {
    let at: jiff::Timestamp = time.parse().ok()?;
    Some(at.strftime("%Y%m%dT%H%M%SZ").to_string())
}

fn escaped(text: &str) -> String {
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    plain.replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,")
}

/// A line in pieces of at most 75 octets, each further one begun with a space.
fn folded(line: &str) -> String {
    let (mut out, mut length) = (String::new(), 0);
    for c in line.chars() {
        if length + c.len_utf8() > 75 {
            out += "\r\n ";
            length = 1;
        }
        out.push(c);
        length += c.len_utf8();
    }
    out + "\r\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_folded_and_escaped() {
        let line = folded(&format!("SUMMARY:{}", escaped(&"ü, a; \\ ".repeat(20))));
        assert!(line.split("\r\n").all(|piece| piece.len() <= 75) && line.ends_with("\r\n"));
        assert!(line.split("\r\n").skip(1).filter(|piece| !piece.is_empty()).all(|piece| piece.starts_with(' ')));
        assert_eq!(escaped("a,b;c\\d\n"), "a\\,b\\;c\\\\d ");
        assert_eq!(in_utc("2031-04-02T07:31:05-05:00").as_deref(), Some("20310402T123105Z"));
    }
}

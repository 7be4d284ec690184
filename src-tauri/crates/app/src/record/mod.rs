//! The sheets of a room as one PDF: what was found, what to make, how it was measured, and the room itself inside.

mod cut_list;
mod floor;
mod judged;
mod method;
mod readings;

use crate::app::App;
use crate::findings::findings;
use crate::height::height;
use crate::refusal::{Kind, Refusal};
use crate::room_file::file_name;
use crate::wire::*;
use crate::words::Say;
use report::model::{Attachment, Evidence, Moment, Paper, Relationship, Sheet, TitleBlock};

/// Everything the sheets are made from.
pub(crate) struct Findable<'r> {
    pub(crate) file: &'r RoomFile,
    pub(crate) findings: FindingsView,
    /// The alternatives; none for a room without joists.
    pub(crate) height: Option<HeightView>,
    pub(crate) say: Say,
}

impl Findable<'_> {
    /// The alternative that is built to.
    pub(crate) fn chosen(&self) -> Option<&AlternativeView> {
        let height = self.height.as_ref()?;
        height.alternatives.iter().find(|alternative| Some(&alternative.name) == height.chosen.as_ref())
    }
}

impl App {
    /// The findings and the cut list of a room as a PDF.
    ///
    /// # Errors
    /// `not-found` if there is no such room, `not-ready` if it has no plan.
    pub fn record(&self, room: &str) -> Result<FileBytes, Refusal> {
        let name = file_name(&self.room_state(room)?.room.name);
        let base64 = base64(&self.record_pdf(room)?);
        Ok(FileBytes { name: format!("{name}.pdf"), mime: "application/pdf".to_string(), base64 })
    }

    /// The same as bytes.
    ///
    /// # Errors
    /// As [`App::record`].
    pub fn record_pdf(&self, room: &str) -> Result<Vec<u8>, Refusal> {
        let file = self.room_file(room)?;
        let room_json = self.export_room(room)?;
        let head = file.journal.as_ref().and_then(|journal| journal.last()).map(|entry| entry.hash.clone());
        let sheet = sheet(&file, head, room_json, &self.now())?;
        report::pdf(&sheet)
            .map_err(|error| Refusal::new(Kind::Internal, format!("The sheets could not be set: {error}.")))
    }
}

fn sheet(file: &RoomFile, head: Option<String>, room_json: FileText, now: &str) -> Result<Sheet, Refusal> {
    let findable = Findable {
        findings: findings(file, None)?,
        height: height(file, None).ok(),
        say: Say::new(file.room.units),
        file,
    };
    Ok(Sheet {
        paper: if file.room.units == Units::In { Paper::Letter } else { Paper::A4 },
        title: title(&findable, now)?,
        evidence: head.map(|head| Evidence { head, code: None }),
        finding: Some(judged::finding(&findable)),
        verdicts: judged::verdicts(&findable),
        cautions: judged::cautions(&findable),
        not_looked_at: judged::not_looked_at(file),
        map: floor::map(&findable),
        alternatives: cut_list::alternatives(&findable),
        cut_list: cut_list::cut_list(&findable),
        profiles: floor::profiles(&findable),
        readings: readings::readings(&findable),
        method: method::method(&findable),
        attachments: vec![attachment(room_json)],
    })
}

fn title(findable: &Findable<'_>, now: &str) -> Result<TitleBlock, Refusal> {
    let instruments: Vec<&str> =
        findable.file.setups.iter().filter(|setup| !setup.withdrawn).map(|setup| setup.instrument.as_str()).collect();
    let readers: Vec<&str> = findable.file.readings.iter().filter_map(|reading| reading.by.as_deref()).collect();
    Ok(TitleBlock {
        kind: if findable.height.is_some() { "Findings and cut list" } else { "Findings" }.to_string(),
        room: findable.file.room.name.clone(),
        place: findable.file.room.place.clone(),
        date: moment(now)?,
        who: readers.first().map(|reader| reader.to_string()),
        instrument: instruments.first().map(|instrument| instrument.to_string()),
    })
}

/// The moment of an RFC 3339 time, in its own offset.
pub(crate) fn moment(time: &str) -> Result<Moment, Refusal> {
    let unreadable = || Refusal::out_of_range("at", "a time with its offset, like 2031-04-02T07:31:05-05:00");
    let parts = jiff::fmt::strtime::parse("%Y-%m-%dT%H:%M:%S%:z", time).map_err(|_| unreadable())?;
    let date = parts.to_datetime().map_err(|_| unreadable())?;
    let offset = parts.offset().map_or(0, |offset| offset.seconds() / 60);
    let small = |number: i8| u8::try_from(number).unwrap_or(0);
    let clock = [small(date.hour()), small(date.minute()), small(date.second())];
    Moment::new(i32::from(date.year()), small(date.month()), small(date.day()), clock, offset).ok_or_else(unreadable)
}

fn attachment(room: FileText) -> Attachment {
    Attachment {
        name: room.name,
        mime: "application/json".to_string(),
        bytes: room.text.into_bytes(),
        relationship: Relationship::Source,
        description: "The room with its readings and its journal, as Truefall reads it back.".to_string(),
    }
}

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// Bytes in base 64 with padding.
///
/// # Source
/// RFC 4648, section 4 (recalled).
pub(crate) fn base64(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let word = group.iter().fold(0u32, |word, byte| word << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        for k in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * k) & 63) as usize] as char;
            text.push(if k <= group.len() { letter } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base_64_of_the_published_words() {
        // RFC 4648, section 10, test vectors (recalled).
        let words =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        words.into_iter().for_each(|(word, text)| assert_eq!(base64(word.as_bytes()), text));
    }
}

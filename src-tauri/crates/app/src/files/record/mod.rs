//! The sheets of a room as one PDF: what was found, what to make, how it was measured, and the room itself inside.

mod contents;
mod cut_list;
mod findable;
mod floor;
mod judged;
mod method;
mod readings;
mod shown;

use crate::app::App;
use crate::files::atomic_write::write_whole_by;
use crate::files::csv_readings;
use crate::files::file_name::file_name;
use crate::files::room_file::written;
use crate::files::sha256sums;
use crate::forms::*;
use data_encoding::BASE64;
use findable::Findable;
use judge::findings::findings;
use judge::framing::alternatives::height;
use judge::words::Say;
use judge::{Kind, Refusal};
use report::Enclosed;
use report::model::{Attachment, Evidence, Method, Moment, Paper, Relationship, Sheet, TitleBlock};

use std::collections::HashSet;
use std::io::Write;
use std::path::Path;
use store::is_digest;

impl App {
    /// The findings and the cut list of a room as a PDF.
    ///
    /// # Errors
    /// `not-found` if there is no such room, `not-ready` if it has no plan.
    pub fn record(&self, ask: &RecordAsk) -> Result<FileBytes, Refusal> {
        let file = self.file_as_asked(&ask.room, ask.black_out)?;
        let name = file_name(&file.room.name);
        let mut bytes = Vec::new();
        self.write_record(&file, ask, &mut bytes)?;
        let base64 = BASE64.encode(&bytes);
        Ok(FileBytes { name: format!("{name}.pdf"), mime: "application/pdf".to_string(), base64 })
    }

    /// The same as bytes.
    ///
    /// # Errors
    /// As [`App::record`].
    pub fn record_pdf(&self, room: &str) -> Result<Vec<u8>, Refusal> {
        let mut bytes = Vec::new();
        self.write_record(&self.room_file(room)?, &full(room), &mut bytes)?;
        Ok(bytes)
    }

    /// Writes the record to a path in the place of what stands there, one photograph in memory at a time.
    ///
    /// # Errors
    /// As [`App::record`], and whatever keeps the file from being written; what stood there stands there still.
    pub fn record_to(&self, ask: &RecordAsk, path: &Path) -> Result<(), Refusal> {
        let file = self.file_as_asked(&ask.room, ask.black_out)?;
        write_whole_by(path, |out| self.write_record(&file, ask, out))
    }

    /// Writes the record of a room as its file states it, with or without private texts as that file has them.
    pub(crate) fn write_record(&self, file: &RoomFile, ask: &RecordAsk, out: &mut dyn Write) -> Result<(), Refusal> {
        let contents = ask.contents.unwrap_or(Contents::Full);
        let originals = if contents == Contents::Full { self.originals(file) } else { Vec::new() };
        let carried = carried(file, written(file)?, &originals)?;
        let now = self.now();
        let photographs = shown::photographs(self, file, contents);
        let mut sheet = Sheet { photographs, ..sheet(file, carried, &now, contents)? };
        if !originals.is_empty() {
            let text = format!("{} in full size inside this file, as they were kept.", originals.len());
            sheet.method.push(Method { name: "photographs".to_string(), text });
        }
        let failed = |error: &dyn std::fmt::Display| {
            Refusal::new(Kind::Internal, format!("The sheets could not be set: {error}."))
        };
        let pdf = report::pdf(&sheet).map_err(|error| failed(&error))?;
        drop(sheet);
        let enclosed = originals.iter().map(|original| self.enclosed(original)).collect();
        report::enclose(&pdf, enclosed, moment(&now)?, out).map_err(|error| {
            Refusal::new(Kind::Io, format!("The record could not be written: {error}.")).field("output")
        })
    }

    /// The photographs whose files are here, by the names they have inside the record.
    pub(crate) fn originals(&self, file: &RoomFile) -> Vec<Original> {
        let here =
            file.photographs().filter_map(|photograph| Some((photograph, self.shelf.length(&photograph.sha256)?)));
        let mut seen = HashSet::new();
        here.filter(|(photograph, _)| seen.insert(photograph.sha256.clone()))
            .enumerate()
            .map(|(k, (photograph, length))| Original {
                name: format!(
                    "photograph-{:03}-{}.{}",
                    k + 1,
                    photograph.sha256.get(..8).unwrap_or_default(),
                    ending(&photograph.mime)
                ),
                photograph: photograph.clone(),
                length,
            })
            .collect()
    }

    fn enclosed<'f>(&'f self, original: &'f Original) -> Enclosed<'f> {
        Enclosed {
            name: original.name.clone(),
            mime: original.photograph.mime.clone(),
            description: shown::caption(&original.photograph),
            length: original.length,
            open: Box::new(|| self.shelf.open(&original.photograph.sha256)),
        }
    }
}

/// A photograph as it is carried.
pub(crate) struct Original {
    pub(crate) name: String,
    pub(crate) photograph: Photograph,
    length: u64,
}

fn ending(mime: &str) -> &str {
    if mime == "image/png" { "png" } else { "jpg" }
}

fn full(room: &str) -> RecordAsk {
    RecordAsk { room: room.to_string(), contents: None, black_out: false }
}

fn sheet(file: &RoomFile, attachments: Vec<Attachment>, now: &str, contents: Contents) -> Result<Sheet, Refusal> {
    let findable = Findable {
        findings: findings(file, None)?,
        height: height(file, None).ok(),
        say: Say::new(file.room.units),
        file,
    };
    let sheet = Sheet {
        paper: if file.room.units == Units::In { Paper::Letter } else { Paper::A4 },
        title: title(&findable, now)?,
        evidence: evidence(file),
        finding: Some(judged::finding(&findable)),
        verdicts: judged::verdicts(&findable),
        cautions: judged::cautions(&findable),
        not_looked_at: judged::not_looked_at(file),
        tests: judged::tests(file, now),
        map: floor::map(&findable),
        alternatives: cut_list::alternatives(&findable),
        cut_list: cut_list::cut_list(&findable),
        profiles: floor::profiles(&findable),
        readings: readings::readings(&findable),
        method: method::method(&findable),
        photographs: Vec::new(),
        lists: shown::lists(&findable),
        signatures: shown::signatures(file),
        attachments,
    };
    Ok(contents::chosen(sheet, contents, &findable))
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
        who: readers.first().filter(|reader| !is_digest(reader)).map(|reader| reader.to_string()),
        instrument: instruments.first().map(|instrument| instrument.to_string()),
    })
}

/// The moment of an RFC 3339 time, in its own offset.
pub(crate) fn moment(time: &str) -> Result<Moment, Refusal> {
    let unreadable = || Refusal::out_of_range("at", "a time with its offset, like 2031-04-02T07:31:05-05:00");
    let utc = time.strip_suffix('Z').map(|time| format!("{time}+00:00"));
    let parts = jiff::fmt::strtime::parse("%Y-%m-%dT%H:%M:%S%.f%:z", utc.as_deref().unwrap_or(time));
    let parts = parts.map_err(|_| unreadable())?;
    let date = parts.to_datetime().map_err(|_| unreadable())?;
    let offset = parts.offset().map_or(0, |offset| offset.seconds() / 60);
    let small = |number: i8| u8::try_from(number).unwrap_or(0);
    let clock = [small(date.hour()), small(date.minute()), small(date.second())];
    Moment::new(i32::from(date.year()), small(date.month()), small(date.day()), clock, offset).ok_or_else(unreadable)
}

/// Where the record stands in the journal: printed on every page, and as a code image beside it.
fn evidence(file: &RoomFile) -> Option<Evidence> {
    let last = file.journal.as_ref()?.last()?;
    let code = format!("TRUEFALL ROOM {} ENTRY {} HEAD {}", file.room.id, last.seq, last.hash);
    Some(Evidence { head: last.hash.clone(), code: (code.len() <= MOST_CODE).then_some(code) })
}

/// The longest text that a small code image still shows to a telephone.
const MOST_CODE: usize = 300;

/// The files inside the record, and the list of their digests.
fn carried(file: &RoomFile, room: FileText, originals: &[Original]) -> Result<Vec<Attachment>, Refusal> {
    let readings = csv_readings::write(file)?;
    let of = |name: String, mime: &str, text: String, relationship, description: &str| Attachment {
        name,
        mime: mime.to_string(),
        bytes: text.into_bytes(),
        relationship,
        description: description.to_string(),
    };
    let mut all = vec![
        of(
            room.name,
            "application/json",
            room.text,
            Relationship::Source,
            "The room with its readings and its journal, as Truefall reads it back.",
        ),
        of(
            format!("{}.readings.csv", file_name(&file.room.name)),
            "text/csv",
            readings,
            Relationship::Data,
            "Every reading that was taken, for a spreadsheet.",
        ),
    ];
    let small = all.iter().map(|one| (one.name.as_str(), sha256sums::sha256(&one.bytes)));
    let large = originals.iter().map(|one| (one.name.as_str(), one.photograph.sha256.clone()));
    let list = sha256sums::write(small.chain(large));
    let about = "The SHA-256 of each of them.";
    all.push(of(sha256sums::NAME.to_string(), "text/plain", list, Relationship::Supplement, about));
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::moment;

    #[test]
    fn any_time_with_its_offset_is_a_moment() {
        let same = moment("2031-04-02T08:00:00+00:00").expect("a moment");
        for text in ["2031-04-02T08:00:00Z", "2031-04-02T08:00:00.125Z", "2031-04-02T08:00:00.5+00:00"] {
            assert_eq!(moment(text).expect(text), same, "{text}");
        }
        assert!(moment("2031-04-02T08:00:00").is_err());
    }
}

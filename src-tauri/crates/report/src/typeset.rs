use std::fmt;
use std::sync::LazyLock;

use serde::Serialize;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Array, Bytes, Dict, IntoValue, Smart, Value, dict};
use typst_as_lib::{TypstAsLibError, TypstEngine, TypstTemplateMainFile};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::model::{Attachment, Moment, Sheet};
use crate::{code, glyphs};

/// Why there is no sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReportError {
    /// The name is empty, holds a slash, backslash or control character, or is `.` or `..`.
    AttachmentName(String),
    /// Two attachments share this name.
    AttachmentTwice(String),
    /// Not of the form `type/subtype`.
    MimeType(String),
    /// The text is longer than a code image can hold.
    CodeTooLong,
    /// The typesetter refused; its messages.
    Typesetting(String),
}

impl fmt::Display for ReportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AttachmentName(name) => write!(f, "{name:?} cannot be the name of an attached file"),
            Self::AttachmentTwice(name) => write!(f, "two attached files are called {name:?}"),
            Self::MimeType(mime) => write!(f, "{mime:?} is not a media type such as text/csv"),
            Self::CodeTooLong => f.write_str("the text for the code image is too long"),
            Self::Typesetting(messages) => write!(f, "the sheet could not be set: {messages}"),
        }
    }
}

impl std::error::Error for ReportError {}

impl From<TypstAsLibError> for ReportError {
    fn from(error: TypstAsLibError) -> Self {
        match error {
            TypstAsLibError::TypstSource(all) => refusal(all),
            other => Self::Typesetting(other.to_string()),
        }
    }
}

pub(crate) fn refusal(all: impl IntoIterator<Item = SourceDiagnostic>) -> ReportError {
    ReportError::Typesetting(all.into_iter().map(|d| d.message.to_string()).collect::<Vec<_>>().join("; "))
}

macro_rules! templates {
    ($($name:literal),* $(,)?) => { [$(($name, include_str!(concat!("../template/", $name)))),*] };
}

static ENGINE: LazyLock<TypstEngine<TypstTemplateMainFile>> = LazyLock::new(|| {
    TypstEngine::builder()
        .main_file(include_str!("../template/sheet.typ"))
        .fonts(glyphs::FACES)
        .with_static_source_file_resolver(templates![
            "alternatives.typ",
            "approval.typ",
            "cut_list.typ",
            "drawing.typ",
            "map.typ",
            "marks.typ",
            "paper.typ",
            "photographs.typ",
            "profiles.typ",
            "readings.typ",
            "text.typ",
            "title.typ",
            "verdicts.typ",
        ])
        .build()
});

/// The sheet as one PDF/A-3b file, tagged, with the attachments inside; equal sheets give equal bytes.
///
/// Conformance is what the typesetting library enforces while writing; no other checker has looked at it.
///
/// # Errors
/// [`ReportError`] for an attachment that cannot be carried or a code text that is too long. Nothing in the texts
/// can make it fail: a character without a glyph is printed as its number.
///
/// # Source
/// PDF/A-3b is ISO 19005-3 level B (recalled, not read), as the library `typst-pdf` implements it.
pub fn pdf(sheet: &Sheet) -> Result<Vec<u8>, ReportError> {
    set(sheet, &[PdfStandard::A_3b])
}

fn laid_out(sheet: &Sheet) -> Result<PagedDocument, ReportError> {
    check_attachments(&sheet.attachments)?;
    Ok(ENGINE.compile_with_input(inputs(sheet)?).output?)
}

fn set(sheet: &Sheet, standards: &[PdfStandard]) -> Result<Vec<u8>, ReportError> {
    let document = laid_out(sheet)?;
    let standards = PdfStandards::new(standards).map_err(|e| ReportError::Typesetting(e.message().to_string()))?;
    typst_pdf::pdf(&document, &options(sheet.title.date, standards)).map_err(refusal)
}

fn options(date: Moment, standards: PdfStandards) -> PdfOptions {
    PdfOptions {
        creator: Smart::Custom(Some(concat!("Truefall ", env!("CARGO_PKG_VERSION")).to_owned())),
        timestamp: date.timestamp(),
        standards,
        ..PdfOptions::default()
    }
}

/// What the template reads: the sheet itself, and beside it what is derived.
#[derive(Serialize)]
struct Page<'a> {
    sheet: &'a Sheet,
    code: Option<Vec<Vec<[i32; 2]>>>,
    numbered: bool,
    preferred: &'a str,
}

fn inputs(sheet: &Sheet) -> Result<Dict, ReportError> {
    let unwritable = |e: serde_json::Error| ReportError::Typesetting(e.to_string());
    let text = sheet.evidence.as_ref().and_then(|e| e.code.as_deref());
    let code = text.map(|text| code::runs(text).ok_or(ReportError::CodeTooLong)).transpose()?;
    let mut page = serde_json::to_value(Page { sheet, code, numbered: false, preferred: &glyphs::PREFERRED })
        .map_err(unwritable)?;
    let numbered = glyphs::number_the_undrawn(&mut page);
    page["numbered"] = numbered.into();
    let page = serde_json::to_vec(&page).map_err(unwritable)?;
    Ok(dict! { "page" => Bytes::new(page), "files" => files(&sheet.attachments), "pictures" => pictures(sheet) })
}

/// Names and bytes untouched by what the fonts can draw.
fn files(attachments: &[Attachment]) -> Array {
    attachments.iter().map(file).collect()
}

fn pictures(sheet: &Sheet) -> Array {
    sheet.photographs.iter().map(|one| Bytes::new(one.bytes.clone()).into_value()).collect()
}

fn file(one: &Attachment) -> Value {
    let bytes = Bytes::new(one.bytes.clone());
    dict! { "name" => one.name.as_str(), "mime" => one.mime.as_str(), "bytes" => bytes }.into_value()
}

fn check_attachments(all: &[Attachment]) -> Result<(), ReportError> {
    for (i, one) in all.iter().enumerate() {
        if !plain_name(&one.name) {
            return Err(ReportError::AttachmentName(one.name.clone()));
        }
        if all[..i].iter().any(|other| other.name == one.name) {
            return Err(ReportError::AttachmentTwice(one.name.clone()));
        }
        if !media_type(&one.mime) {
            return Err(ReportError::MimeType(one.mime.clone()));
        }
    }
    Ok(())
}

fn plain_name(name: &str) -> bool {
    !["", ".", ".."].contains(&name) && !name.contains(|c: char| c == '/' || c == '\\' || c.is_control())
}

fn media_type(mime: &str) -> bool {
    let part = |p: &str| !p.is_empty() && p.chars().all(|c| c.is_ascii_alphanumeric() || "-+.".contains(c));
    mime.split_once('/').is_some_and(|(kind, subtype)| part(kind) && part(subtype))
}

#[cfg(test)]
mod tests {
    use typst::layout::{Abs, Frame, FrameItem, Point, Transform};

    use super::*;
    use crate::model::{Evidence, TitleBlock};

    /// The library checks the tags of PDF/UA-1 while writing: alternative texts, headings, table headers, title.
    #[test]
    fn the_tags_are_those_of_an_accessible_file() {
        set(&crate::kestrel::sheet(), &[PdfStandard::A_3b, PdfStandard::Ua_1]).expect("accessible");
    }

    /// Both ends of every run of text, in points from the left and top of the page.
    fn ends(frame: &Frame, at: Transform, found: &mut Vec<[f64; 2]>) {
        for (place, item) in frame.items() {
            let at = at.pre_concat(Transform::translate(place.x, place.y));
            match item {
                FrameItem::Group(group) => ends(&group.frame, at.pre_concat(group.transform), found),
                FrameItem::Text(text) => found.extend(
                    [Abs::zero(), text.width()]
                        .map(|x| Point::with_x(x).transform(at))
                        .map(|p| [p.x.to_pt(), p.y.to_pt()]),
                ),
                _ => {}
            }
        }
    }

    #[test]
    fn no_text_leaves_the_paper_or_its_margins() {
        let margin = 16.0 / 25.4 * 72.0 - 0.01;
        for name in
            ["Kestrel".to_owned(), "W".repeat(400), "Bartholomew-".repeat(40), "wide WWWWWWWWWWWWWWW ".repeat(30)]
        {
            let sheet = crate::kestrel::sheet();
            let title = TitleBlock { room: name.clone(), who: Some(name.clone()), ..sheet.title };
            let evidence = Some(Evidence { head: name.clone(), code: None });
            let pages =
                laid_out(&Sheet { title, evidence, not_looked_at: vec![name.clone()], ..sheet }).expect("pages");
            let mut found = vec![];
            pages.pages().iter().for_each(|page| ends(&page.frame, Transform::identity(), &mut found));
            assert!(found.len() > 500);
            for [x, y] in found {
                assert!((margin..=612.0 - margin).contains(&x) && (12.0..=780.0).contains(&y), "{name}: {x}, {y}");
            }
        }
    }
}

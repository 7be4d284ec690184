//! The finished bytes, read back by another library.

mod kestrel;
mod reading;
mod saying;

use proptest::prelude::*;
use reading::{attached, fonts, metadata, on_paper, opened, pages, unspaced};
use report::model::*;
use report::{ReportError, pdf};

fn set(sheet: &Sheet) -> Vec<u8> {
    pdf(sheet).expect("a sheet")
}

fn all_text(sheet: &Sheet) -> String {
    unspaced(&pages(&set(sheet)).join(" "))
}

#[test]
fn what_the_sheet_says_can_be_read_out() {
    let sheet = kestrel::sheet();
    let text = all_text(&sheet);
    let mut said: Vec<&str> = sheet.verdicts.iter().map(|v| v.sentence.as_str()).collect();
    said.extend(sheet.finding.iter().flat_map(|f| f.todo.iter().chain([&f.sentence])).map(String::as_str));
    said.extend(sheet.method.iter().map(|m| m.text.as_str()));
    said.extend(sheet.cut_list.iter().flat_map(|c| &c.pieces).flat_map(|p| &p.notes).map(String::as_str));
    said.extend(sheet.alternatives.iter().flat_map(|a| &a.rows).map(|a| a.name.as_str()));
    said.extend(["Kestrel Lane hall bath", "14 March 2026, 14:20 UTC−05:00", "R. Example", "Too close to call"]);
    said.extend(["approval needed before any cut", "J4 is not to be planed.", "never strength", "44-9/16", "±5/64 in"]);
    assert!(said.len() > 30);
    for sentence in said {
        assert!(text.contains(&on_paper(sentence)), "{sentence}\n{text}");
    }
}

#[test]
fn every_page_has_its_number_the_head_hash_and_what_was_not_looked_at() {
    let sheet = kestrel::sheet();
    let pages = pages(&set(&sheet));
    assert!(pages.len() > 2);
    for (i, page) in pages.iter().enumerate() {
        let page = unspaced(page);
        for part in [&format!("page {} of {}", i + 1, pages.len()), &sheet.evidence.as_ref().unwrap().head, "bounce"] {
            assert!(page.contains(&unspaced(part)), "{part} on page {}", i + 1);
        }
        assert_eq!(i > 0, page.starts_with("KestrelLanehallbath·Findingsandcutlist"), "running header");
    }
}

#[test]
fn markup_is_printed_as_it_was_typed() {
    for typed in [
        r##"#panic("x") *b* _i_ `r` $x^2$ \ @ref <lab> // c /* d */ [e] {f} = g - h / i: ~ -- --- ... "k" 'l' \u{41}"##,
        "= heading\n- item\n+ item\n/ term: text",
        "#{ while true {} }",
        "https://example.invalid/a_b_c",
        "</script><b>&amp;\\0",
        "1/2/2026 and 1/360, L/240, 2x10",
    ] {
        let text = all_text(&saying::saying(typed, 1000.0));
        let found = text.matches(&unspaced(typed)).count();
        assert!(found >= 50, "{typed}: {found}\n{text}");
    }
}

#[test]
fn the_file_claims_what_it_is() {
    let sheet = kestrel::sheet();
    let doc = opened(&set(&sheet));
    let (catalog, xmp) = (doc.catalog().expect("a catalogue"), metadata(&doc));
    assert!(xmp.contains("<pdfaid:part>3</pdfaid:part>") && xmp.contains("<pdfaid:conformance>B</pdfaid:conformance>"));
    assert!(xmp.contains("Kestrel Lane hall bath: Findings and cut list") && xmp.contains("2026-03-14T14:20:00-05:00"));
    assert_eq!(reading::text(catalog.get(b"Lang").expect("a language")), "en");
    assert!(catalog.get(b"MarkInfo").and_then(|m| m.as_dict()?.get(b"Marked")?.as_bool()).expect("tagged"));
    assert!(catalog.has(b"StructTreeRoot") && catalog.has(b"OutputIntents"));
    let fonts = fonts(&doc);
    assert!(fonts.len() >= 2 && fonts.iter().all(|(name, inside)| *inside && name.contains("Atkinson")), "{fonts:?}");
}

#[test]
fn attachments_come_back_byte_for_byte() {
    let mut sheet = kestrel::sheet();
    sheet.attachments.push(Attachment {
        name: "Übersicht (1) 王.bin".into(),
        mime: "application/octet-stream".into(),
        bytes: (0..=255).cycle().take(100_000).collect(),
        relationship: Relationship::Supplement,
        description: String::new(),
    });
    let found = attached(&opened(&set(&sheet)));
    assert_eq!(found.len(), 3);
    for one in &sheet.attachments {
        let got = &found[&one.name];
        assert!(got.bytes == one.bytes, "{}", one.name);
        assert_eq!(
            (got.mime.as_str(), got.relationship.as_str()),
            (one.mime.as_str(), &*format!("{:?}", one.relationship))
        );
    }
}

#[test]
fn what_cannot_be_carried_is_refused_by_name() {
    let with = |names: &[(&str, &str)]| {
        let attachment = |&(name, mime): &(&str, &str)| Attachment {
            name: name.into(),
            mime: mime.into(),
            bytes: vec![],
            relationship: Relationship::Data,
            description: String::new(),
        };
        pdf(&Sheet { attachments: names.iter().map(attachment).collect(), ..saying::bare() })
    };
    for name in ["", ".", "..", "a/b", "a\\b", "a\nb"] {
        assert_eq!(with(&[(name, "text/csv")]), Err(ReportError::AttachmentName(name.into())));
    }
    for mime in ["", "csv", "text/", "/csv", "text/c sv", "a/b/c"] {
        assert_eq!(with(&[("a", mime)]), Err(ReportError::MimeType(mime.into())));
    }
    assert_eq!(with(&[("a", "text/csv"), ("a", "text/csv")]), Err(ReportError::AttachmentTwice("a".into())));
    let evidence = Some(Evidence { head: String::new(), code: Some("x".repeat(3000)) });
    assert_eq!(pdf(&Sheet { evidence, ..saying::bare() }), Err(ReportError::CodeTooLong));
}

#[test]
fn inch_rooms_are_on_letter_and_millimetre_rooms_on_a4() {
    for (paper, width, height) in [(Paper::Letter, 612.0, 792.0), (Paper::A4, 595.276, 841.89)] {
        let doc = opened(&set(&Sheet { paper, ..saying::bare() }));
        let page = doc.get_dictionary(doc.page_iter().next().expect("a page")).expect("a page");
        let sides = page.get(b"MediaBox").and_then(|b| b.as_array()).expect("a box");
        let found: Vec<f32> = sides.iter().map(|s| s.as_float().expect("a number")).collect();
        assert!((found[2] - width).abs() < 0.01 && (found[3] - height).abs() < 0.01, "{paper:?}: {found:?}");
    }
}

#[test]
fn nothing_to_say_is_said_on_one_page() {
    for sheet in [saying::bare(), saying::hollow()] {
        let pages = pages(&set(&sheet));
        assert_eq!(pages.len(), 1);
        let text = unspaced(&pages[0]);
        assert!(text.contains("Thetoolmeasuresshape,neverstrength."));
        for heading in ["Verdicts", "Heights", "Cut list", "Map", "Along", "Readings", "measured and judged", "Inside"]
        {
            assert!(!text.contains(&unspaced(heading)), "{heading}");
        }
    }
}

#[test]
fn long_names_are_printed_whole() {
    for name in ["W".repeat(400), "Bartholomew-".repeat(40)] {
        let title = TitleBlock { room: name.clone(), ..kestrel::sheet().title };
        assert!(all_text(&Sheet { title, ..kestrel::sheet() }).contains(&name));
    }
}

#[test]
fn forty_joists_take_the_pages_they_need() {
    let mut sheet = kestrel::sheet();
    let named = |i: usize| format!("J{}", i + 1);
    let (cut, profiles, readings) = (sheet.cut_list.as_mut(), sheet.profiles.as_mut(), sheet.readings.as_mut());
    let (cut, profiles, readings) = (cut.unwrap(), profiles.unwrap(), readings.unwrap());
    cut.pieces = (0..40).map(|i| Piece { joist: named(i), ..cut.pieces[i % 7].clone() }).collect();
    profiles.joists = (0..40).map(|i| Profile { name: named(i), ..profiles.joists[i % 7].clone() }).collect();
    readings.rows = (0..40).map(|i| ReadingRow { name: named(i), ..readings.rows[i % 7].clone() }).collect();
    readings.columns = (0..20).map(|i| i.to_string()).collect();
    let pages = pages(&set(&sheet));
    let text = pages.join(" ");
    assert!((10..20).contains(&pages.len()), "{}", pages.len());
    assert!((0..40).all(|i| text.matches(&format!("{} ", named(i))).count() >= 3), "each joist in all three parts");
    assert_eq!(text.matches("ripped").count() - text.matches("ripped strips").count(), 35, "a box for every strip");
}

#[test]
fn equal_sheets_give_equal_bytes() {
    let first = set(&kestrel::sheet());
    assert_ne!(first, set(&saying::bare()));
    assert_eq!(first, set(&kestrel::sheet()));
    let other = std::thread::spawn(|| set(&kestrel::sheet())).join().expect("set elsewhere");
    assert_eq!(first, other);
}

/// Letters that lose or double themselves in copying would show here.
#[test]
fn every_letter_comes_back_once() {
    let blocks = ['!'..='~', '\u{a1}'..='ɏ', 'Α'..='Ω', 'α'..='ω', 'А'..='я', 'Ạ'..='ỹ', '⅓'..='⅞'];
    let letters: Vec<char> = blocks.into_iter().flatten().filter(|&c| c != '\u{ad}' && c != '\u{3a2}').collect();
    let lines: Vec<String> = letters.chunks(16).map(|line| line.iter().collect()).collect();
    let method = lines.iter().map(|line| Method { name: String::new(), text: line.clone() }).collect();
    let text = all_text(&Sheet { method, ..saying::bare() });
    for line in &lines {
        assert!(text.contains(line.as_str()), "{line}\n{text}");
    }
}

#[test]
fn a_name_in_another_script_is_drawn_or_numbered() {
    let text = all_text(&saying::saying("Ελένη Жуков Nguyễn 王", 1.0));
    assert!(text.matches("ΕλένηЖуковNguyễn‹U+738B›").count() >= 50, "{text}");
    assert!(text.contains("printedasitsUnicodenumber"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn no_text_and_no_size_stops_a_sheet(text in "\\PC{0,40}|[\\x00-\\u{2FF}]{0,20}|.{0,12}", reach in prop_oneof![
        Just(0.0), Just(f64::NAN), Just(f64::INFINITY), Just(1e15), Just(-1e15), -1e5..1e5f64, 1e-12..1e-6f64,
    ]) {
        pdf(&saying::saying(&text, reach)).expect("a sheet");
    }
}

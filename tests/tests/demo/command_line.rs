//! The command line as scripts use it: JSON in and out, exit statuses, refusals by kind.

use serde_json::{Value, json};
use site_tests::{run, run_in};

fn answer(arguments: &[&str], input: &Value) -> Value {
    let output = run(arguments, &input.to_string());
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON on standard output")
}

/// One refused call: what went in, and the kind and field of the refusal.
fn check_refused(operation: &str, input: &str, kind: &str, field: Option<&str>) {
    let output = run(&["compute", operation], input);
    assert_eq!(output.status.code(), Some(2), "{operation} {input}");
    assert!(output.stdout.is_empty(), "{operation} {input} wrote to standard output");
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON on standard error");
    let error = &error["error"];
    assert_eq!(error["kind"], kind, "{operation} {input}: {error}");
    assert_eq!(error.get("field").and_then(Value::as_str), field, "{operation} {input}: {error}");
    assert!(error["message"].as_str().is_some_and(|message| message.ends_with('.')), "{error}");
}

#[test]
fn refusals_come_by_kind_and_name_the_field() {
    let points = |points: &str| format!(r#"{{"points":{points},"reading_sd":1}}"#);
    check_refused("plane", &points("[[0,0,0],[1,0,0]]"), "too-few-points", Some("points"));
    check_refused("plane", &points("[[5,5,0],[5,5,1],[5,5,2]]"), "coincident-points", Some("points"));
    check_refused("plane", &points("[[0,0,0],[1,1,0],[2,2,5]]"), "collinear-points", Some("points"));
    check_refused("plane", &points("[[0,0,NaN],[1,0,0],[0,1,0]]"), "not-finite", Some("points[0][2]"));
    check_refused("plane", &points("[[0,0,1e308],[1,0,0],[0,1,0]]"), "not-finite", Some("points[0][2]"));
    check_refused("plane", &points("[[0,0,0],[1,0,0],[0,1]]"), "wrong-type", Some("points[2]"));
    check_refused("plane", r#"{"points":[[0,0,0],[1,0,0],[0,1,0]]}"#, "missing-field", Some("reading_sd"));
    check_refused("plane", r#"{"points":[],"reading_sd":1,"surprise":1}"#, "unknown-field", Some("surprise"));
    check_refused(
        "plane",
        r#"{"points":[[0,0,0],[1,0,0],[0,1,0]],"reading_sd":0}"#,
        "out-of-range",
        Some("reading_sd"),
    );
    check_refused("plane", "nonsense", "not-json", None);
    check_refused("length", r#"{"text":"44 3/0","default_unit":"in"}"#, "not-understood", Some("text"));
    check_refused("planes", "{}", "unknown-operation", Some("operation"));
}

#[test]
fn a_plane_comes_out_to_the_letter() {
    // z = 1 + 0.01 x - 0.02 y over a square, centroid (500, 500).
    let input = json!({"points": [[0,0,1],[1000,0,11],[0,1000,-19],[1000,1000,-9],[500,500,null]], "reading_sd": 0.5,
        "predict_at": [[500,500]]});
    let plane = answer(&["compute", "plane"], &input);
    assert!((plane["slope_x"].as_f64().unwrap() - 0.01).abs() < 1e-15);
    assert!((plane["slope_y"].as_f64().unwrap() + 0.02).abs() < 1e-15);
    assert!((plane["height"].as_f64().unwrap() + 4.0).abs() < 1e-12);
    assert_eq!(plane["dof"], 1);
    assert_eq!(plane["residuals"].as_array().unwrap().len(), 5);
    assert_eq!(plane["residuals"][4], Value::Null);
    assert_eq!(plane["problems"][0]["kind"], "missing-reading");
    assert!((plane["predicted"][0]["u"].as_f64().unwrap() - 0.25).abs() < 1e-12, "σ/√4 at the centroid");
}

#[test]
fn the_demo_prints_its_answer_without_a_folder_or_display() {
    let output = run(&["demo", "kestrel"], "");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(output.status.success());
    for said in [
        "Level at 43-7/8, nothing cut",
        "0 to 45 in: 3/8, 1/8 at 30, 1/16",
        "J6  sister",
        "11/16 in",
        "look underneath",
    ] {
        assert!(text.contains(said), "{said:?} is missing in:\n{text}");
    }
}

#[test]
fn a_room_goes_round_by_the_command_line() {
    let home = tempfile::tempdir().expect("a folder");
    let verb = |arguments: &[&str]| {
        let output = run_in(Some(home.path()), arguments, "");
        let said = (
            String::from_utf8_lossy(&output.stdout).into_owned(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        );
        (output.status.code(), said.0, said.1)
    };
    let (code, room, _) = verb(&["room", "new", "Back bath"]);
    assert_eq!(code, Some(0));
    let csv = home.path().join("readings.csv");
    let rows = "\u{feff}point,x_mm,y_mm,sense,reading_in,setup,time,by,sd_mm,note\n\
                BM,,,down,44.25,S1,,,0.8,\nA,0,0,down,44.25,S1,,,0.8,\nB,1000,0,down,44.3,S1,,,0.8,\nC,2000,0,down,44.25,S1,,,0.8,\n";
    std::fs::write(&csv, rows).expect("the file");
    let (code, said, error) = verb(&["readings", "import", csv.to_str().unwrap(), "--room", room.trim()]);
    assert_eq!((code, said.trim()), (Some(0), "3 readings"), "{error}");
    let (code, findings, _) = verb(&["findings", "Back", "--json", "--gate"]);
    assert_eq!(code, Some(1), "an unclosed set-up is not within");
    let findings: Value = serde_json::from_str(&findings).expect("JSON");
    assert!(findings.as_array().is_some_and(|all| all.iter().any(|finding| finding["kind"] == "closing")));
    let (code, file, _) = verb(&["room", "export", room.trim()]);
    assert_eq!(code, Some(0));
    let file: Value = serde_json::from_str(&file).expect("JSON");
    assert_eq!(file["readings"].as_array().map(Vec::len), Some(3));
    let (code, _, error) = verb(&["findings", "No such room"]);
    assert_eq!(code, Some(2));
    assert!(error.contains("not-found"), "{error}");
}

/// A CSV that is refused, and where.
fn check_csv(rows: &str, kind: &str, field: &str) {
    let home = tempfile::tempdir().expect("a folder");
    let room = run_in(Some(home.path()), &["room", "new", "Bath"], "");
    let room = String::from_utf8(room.stdout).expect("text").trim().to_string();
    let csv = home.path().join("readings.csv");
    std::fs::write(&csv, rows).expect("the file");
    let output = run_in(Some(home.path()), &["readings", "import", csv.to_str().unwrap(), "--room", &room], "");
    assert_eq!(output.status.code(), Some(2), "{rows}");
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON on standard error");
    assert_eq!(
        (error["error"]["kind"].as_str(), error["error"]["field"].as_str()),
        (Some(kind), Some(field)),
        "{error}"
    );
    let exported = run_in(Some(home.path()), &["room", "export", &room], "");
    let file: Value = serde_json::from_slice(&exported.stdout).expect("JSON");
    assert_eq!(file["readings"].as_array().map(Vec::len), Some(0), "something was written");
}

#[test]
fn a_bad_csv_is_refused_with_its_line_and_nothing_is_written() {
    let header = "point,x_mm,y_mm,sense,reading_in,setup,time,by,sd_mm,note\n";
    check_csv("point,height\nA,1\n", "wrong-header", "height");
    check_csv(&format!("{header}A,0,0,down,44,S1,,,1,\n"), "datum-or-link-missing", "line 2: setup");
    check_csv(&format!("{header}BM,,,down,44,S1,,,1,\nA,0,0,down,4x,S1,,,1,\n"), "not-understood", "line 3: reading");
    check_csv(&format!("{header}BM,,,down,44,S1,,,1,\nA,0,0,sideways,4,S1,,,1,\n"), "not-understood", "line 3: sense");
    check_csv(&format!("{header}BM,,,down,44,S1,,,1,\nA,0,0,down,NaN,S1,,,1,\n"), "not-finite", "line 3: reading");
    check_csv(&format!("{header}BM,,,down,44\n"), "wrong-header", "line 2");
    for sense in ["", "gap", "bogus"] {
        check_csv(&format!("{header}BM,,,{sense},44,S1,,,1,\n"), "not-understood", "line 2: sense");
    }
    check_csv(&format!("{header}BM,,,down,44,S1,,Ana,1,\n"), "out-of-range", "line 2: by");
    check_csv(&format!("{header}BM,,,down,44,S1,,,1,wet\n"), "out-of-range", "line 2: note");
    let mark = "BM,,,down,44,S1,,,1,\n";
    check_csv(&format!("{header}{mark}{mark}A,0,0,down,44,S1,,,1,\n"), "does-not-fit", "line 4: setup");
    check_csv(&format!("{header}{mark}{mark}{mark}"), "already-there", "line 4: setup");
    for end in ["\r\n", "\r"] {
        let rows = format!("{header}{mark}A,0,0,down,4x,S1,,,1,\n").replace('\n', end);
        check_csv(&rows, "not-understood", "line 3: reading");
    }
    let many = "A,0,0,down,44,S1,,,1,\n".repeat(20_001);
    check_csv(&format!("{header}{many}"), "too-many-rows", "csv");
}

#[test]
fn a_room_file_from_tomorrow_is_refused() {
    let home = tempfile::tempdir().expect("a folder");
    let path = home.path().join("room.json");
    std::fs::write(&path, r#"{"schema": 99, "anything": true}"#).expect("the file");
    let output = run_in(Some(home.path()), &["room", "import", path.to_str().unwrap()], "");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("newer-version"));
}

#[test]
fn runs_with_a_fixed_clock_and_seed_are_repeatable() {
    let once = || {
        let home = tempfile::tempdir().expect("a folder");
        let mut ids = Vec::new();
        for name in ["One", "Two"] {
            let mut command = site_tests::truefall();
            command.args(["room", "new", name]).env("TRUEFALL_HOME", home.path());
            command.env("TRUEFALL_NOW", "2031-04-02T07:31:05-05:00").env("TRUEFALL_SEED", "7");
            ids.push(String::from_utf8(command.output().expect("it runs").stdout).expect("text"));
        }
        ids
    };
    let (first, second) = (once(), once());
    assert_eq!(first, second);
    assert_ne!(first[0], first[1]);
}

/// A refused line of words: its kind, its field, and what it says.
fn check_words(home: &std::path::Path, words: &[&str], kind: &str, field: &str, says: &[&str]) {
    let output = run_in(Some(home), words, "");
    assert_eq!(output.status.code(), Some(2), "{words:?}");
    let error: Value = serde_json::from_slice(&output.stderr).expect("JSON on standard error");
    let error = &error["error"];
    assert_eq!((error["kind"].as_str(), error["field"].as_str()), (Some(kind), Some(field)), "{error}");
    let message = error["message"].as_str().unwrap_or_default();
    says.iter().for_each(|said| assert!(message.contains(said), "{said}: {message}"));
}

#[test]
fn wrong_words_are_refused_by_their_name() {
    let home = tempfile::tempdir().expect("a folder");
    let home = home.path();
    let new = |name: &str| {
        let made = run_in(Some(home), &["room", "new", name], "");
        String::from_utf8(made.stdout).expect("text").trim().to_string()
    };
    let (first, second) = (new("Test hall"), new("Test hall"));
    check_words(home, &["room", "show", "Test hall"], "ambiguous", "room", &["2 rooms are named", &first, &second]);
    new("Test");
    assert!(run_in(Some(home), &["room", "show", "Test"], "").status.success(), "a whole name is enough");
    let out = home.join("x.foo");
    let out = out.to_str().expect("a path");
    let full = ["not-ready", "change-order"];
    let words = ["record", &first, "-o", out, "--contents", "nonsense"];
    check_words(home, &words, "not-understood", "--contents", &full);
    check_words(home, &["room", "new", "x", "--units", "ell"], "not-understood", "--units", &["in, mm"]);
    check_words(home, &["room", "list", "--colour"], "unknown-field", "--colour", &["--help"]);
    check_words(home, &["room", "export", &first, "-o", out], "out-of-range", "--output", &[".foo", ".zip"]);
    assert!(!std::path::Path::new(out).exists());
}

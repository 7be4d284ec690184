//! What the program may do, wherever a list of the system says so: each permission with the reason it is needed.
//!
//! Whoever adds one adds it here with its reason; whoever takes one away takes it away here.

use crate::source::top;
use serde_json::{Value, json};
use syn::{Expr, ExprLit, Item, Lit};

/// A permission, and why the program cannot do without it.
type Permit = (&'static str, &'static str);

/// Compares what a list grants with what is needed, in either direction.
fn check(place: &str, granted: &[String], needed: &[Permit]) {
    let wrong = complaints(place, granted, needed);
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

fn complaints(place: &str, granted: &[String], needed: &[Permit]) -> Vec<String> {
    let added = granted.iter().filter(|one| !needed.iter().any(|(name, _)| name == one));
    let gone = needed.iter().filter(|(name, _)| !granted.iter().any(|one| one == name));
    let unsaid = needed.iter().filter(|(_, why)| why.len() < 10);
    let added = added.map(|one| format!("{place} grants {one}: name it in tests/tidy/permits.rs with its reason"));
    let gone = gone.map(|(one, _)| format!("{place} no longer grants {one}: take it out of tests/tidy/permits.rs"));
    added.chain(gone).chain(unsaid.map(|(one, _)| format!("{one} is granted for no reason"))).collect()
}

#[test]
fn a_permission_more_or_less_is_told() {
    let granted = ["a".to_owned(), "b".to_owned()];
    assert_eq!(complaints("here", &granted, &[("a", "it is needed"), ("b", "this one too")]), Vec::<String>::new());
    assert_eq!(complaints("here", &granted, &[("a", "it is needed")]).len(), 1);
    assert_eq!(complaints("here", &granted[..1], &[("a", "it is needed"), ("b", "this one too")]).len(), 1);
    assert_eq!(complaints("here", &granted, &[("a", "it is needed"), ("b", "")]).len(), 1);
}

/// `permissions` of `capabilities/main.json`.
const WINDOW: &[Permit] = &[
    ("core:event:allow-listen", "the screens hear that a room changed"),
    ("core:event:allow-unlisten", "a screen that is left hears it no more"),
    ("allow-dispatch", "the one command, which carries every request to the core"),
];

/// `permissions` of `capabilities/phone.json`.
const PHONE: &[Permit] = &[
    ("dialog:allow-open", "the system's sheet chooses the file that is taken in"),
    ("dialog:allow-save", "the system's sheet chooses where a record or a room is saved"),
    ("fs:allow-read-file", "reads the file that was chosen in that sheet"),
    ("fs:allow-write-file", "writes the file that was chosen in that sheet"),
    ("haptics:allow-vibrate", "a reading from an instrument that is kept is felt through a glove"),
];

#[test]
fn the_window_may_do_three_things_and_a_phone_five_more() {
    let main = of_json("src-tauri/capabilities/main.json");
    check("capabilities/main.json", &texts(&main["permissions"]), WINDOW);
    let phone = of_json("src-tauri/capabilities/phone.json");
    assert_eq!(phone["platforms"], json!(["android", "iOS"]), "the second list is for phones alone");
    check("capabilities/phone.json", &texts(&phone["permissions"]), PHONE);
    for list in [main, phone] {
        assert_eq!(list["windows"], json!(["main"]), "there is one window");
        assert!(list.get("remote").is_none(), "no page from elsewhere may do anything");
    }
    let lists = std::fs::read_dir(top().join("src-tauri/capabilities")).expect("it is a folder").count();
    assert_eq!(lists, 2, "there are two lists of capabilities");
}

/// `csp` of `tauri.conf.json`: what the page in the window may load and do.
const WINDOW_POLICY: &[Permit] = &[
    ("default-src 'none'", "whatever is not named is not loaded"),
    ("script-src 'self'", "the screens, which are files of the program"),
    ("style-src 'self'", "their style sheets, files of the program too"),
    ("font-src 'self'", "the one typeface, a file of the program"),
    ("img-src 'self'", "the mark of the program"),
    ("img-src data:", "a photograph, which comes from the core as text"),
    ("connect-src ipc:", "how the window library carries the one command"),
    ("connect-src http://ipc.localhost", "the same where the system knows no scheme of its own (Windows, Android)"),
    ("base-uri 'none'", "no address is bent"),
    ("form-action 'none'", "no form is sent anywhere"),
    ("frame-ancestors 'none'", "no other page shows this one inside itself"),
];

/// The header that the host sends with every page and every answer.
const HOST_POLICY: &[Permit] = &[
    ("default-src 'none'", "whatever is not named is not loaded"),
    ("script-src 'self'", "the screens, which the host serves itself"),
    ("style-src 'self'", "their style sheets, which it serves too"),
    ("font-src 'self'", "the one typeface, served too"),
    ("img-src 'self'", "the mark of the program"),
    ("img-src data:", "a photograph, which comes from the core as text"),
    ("connect-src 'self'", "requests to the core, and its stream of changes"),
    ("worker-src 'self'", "the worker that keeps the screens on a phone of the crew"),
    ("manifest-src 'self'", "its place on a home screen"),
    ("base-uri 'none'", "no address is bent"),
    ("form-action 'none'", "no form is sent anywhere"),
    ("frame-ancestors 'none'", "no other page shows this one inside itself"),
];

#[test]
fn the_pages_load_nothing_but_their_own() {
    assert_eq!(sources("a 'self' b:; c 'none'"), ["a 'self'", "a b:", "c 'none'"]);
    let app = &of_json("src-tauri/tauri.conf.json")["app"];
    check(
        "the policy in tauri.conf.json",
        &sources(app["security"]["csp"].as_str().unwrap_or_default()),
        WINDOW_POLICY,
    );
    assert_ne!(app["withGlobalTauri"], json!(true), "the window hands its library to every script");
    check("the policy of the host", &sources(&text_of("src-tauri/crates/cli/src/host/door.rs", "POLICY")), HOST_POLICY);
}

/// `directive source` for each source of a content policy.
fn sources(policy: &str) -> Vec<String> {
    let each = |part: &str| -> Vec<String> {
        let mut words = part.split_whitespace();
        let directive = words.next().unwrap_or_default().to_owned();
        words.map(|source| format!("{directive} {source}")).collect()
    };
    policy.split(';').flat_map(each).collect()
}

/// `android/permissions.xml`: permissions, features and what the program may see of others.
const ANDROID: &[Permit] = &[
    ("BLUETOOTH_SCAN neverForLocation", "finds the laser or the level, and never tells from it where the phone is"),
    ("BLUETOOTH_CONNECT", "takes its readings"),
    ("BLUETOOTH to 30", "the same up to Android 11"),
    ("BLUETOOTH_ADMIN to 30", "finds it, up to Android 11"),
    ("ACCESS_FINE_LOCATION to 30", "up to Android 11 no program may look for instruments without it"),
    ("CAMERA", "the window library starts the system's camera only where it is granted"),
    ("INTERNET", "without it no socket is opened to the crew, even on the site's own network"),
    ("ACCESS_NETWORK_STATE", "names the networks that the rooms may be opened on"),
    ("VIBRATE", "a reading from an instrument that is kept is felt through a glove"),
    ("feature android.hardware.bluetooth_le, not required", "readings can be typed on a phone without it"),
    ("feature android.hardware.camera, not required", "a record can be kept without photographs"),
    ("sees android.media.action.IMAGE_CAPTURE", "without it the system hides from the window that there is a camera"),
];

#[test]
fn a_phone_with_android_is_asked_for_no_more_than_is_needed() {
    let text = read("src-tauri/android/permissions.xml");
    let document = roxmltree::Document::parse(&text).expect("it is XML");
    let of = |node: roxmltree::Node<'_, '_>, name: &str| {
        let own = node.attributes().find(|attribute| attribute.name() == name);
        own.map(|attribute| attribute.value().to_owned()).unwrap_or_default()
    };
    let granted: Vec<String> = document
        .descendants()
        .filter_map(|node| match node.tag_name().name() {
            "uses-permission" => {
                let name = of(node, "name").replace("android.permission.", "");
                let flags = Some(of(node, "usesPermissionFlags")).filter(|flags| !flags.is_empty());
                let newest = Some(of(node, "maxSdkVersion")).filter(|newest| !newest.is_empty());
                let newest = newest.map(|newest| format!("to {newest}"));
                Some([Some(name), flags, newest].into_iter().flatten().collect::<Vec<_>>().join(" "))
            }
            "uses-feature" if of(node, "required") == "false" => {
                Some(format!("feature {}, not required", of(node, "name")))
            }
            "action" => Some(format!("sees {}", of(node, "name"))),
            "manifest" | "queries" | "intent" | "application" | "activity" | "" => None,
            other => Some(format!("{other} {}", of(node, "name"))),
        })
        .collect();
    check("android/permissions.xml", &granted, ANDROID);
}

/// `Info.plist`, for a desk by the same maker.
const DESK: &[Permit] = &[
    ("NSBluetoothAlwaysUsageDescription", "without its sentence the system ends a program that looks for instruments"),
    ("NSLocalNetworkUsageDescription", "without its sentence the rooms cannot be opened to the crew"),
];

/// `Info.ios.plist`, for a phone by the same maker.
const IOS: &[Permit] = &[
    DESK[0],
    DESK[1],
    ("NSCameraUsageDescription", "without its sentence the system ends a program that takes a photograph"),
    ("NSPhotoLibraryUsageDescription", "asked where a photograph is chosen that was taken before"),
    ("UISupportedInterfaceOrientations", "a phone may be laid on its side between joists"),
    ("UISupportedInterfaceOrientations~ipad", "a tablet may lie any way round"),
];

#[test]
fn a_phone_or_desk_of_the_other_maker_is_asked_for_no_more_than_is_needed() {
    for (path, needed) in [("src-tauri/Info.plist", DESK), ("src-tauri/Info.ios.plist", IOS)] {
        let text = read(path);
        let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
        let document = roxmltree::Document::parse_with_options(&text, options).expect("it is XML");
        let keys = document.descendants().filter(|node| node.has_tag_name("key"));
        let keys: Vec<String> = keys.filter_map(|key| key.text().map(str::to_owned)).collect();
        check(path, &keys, needed);
    }
}

/// The text that a file of the code gives to a name.
fn text_of(path: &str, name: &str) -> String {
    let items = syn::parse_file(&read(path)).expect("tracked Rust parses").items;
    let named = items.into_iter().find_map(|item| match item {
        Item::Const(item) if item.ident == name => Some(*item.expr),
        _ => None,
    });
    match named {
        Some(Expr::Lit(ExprLit { lit: Lit::Str(text), .. })) => text.value(),
        _ => panic!("{path} gives no text to {name}"),
    }
}

fn texts(list: &Value) -> Vec<String> {
    let all = list.as_array().into_iter().flatten();
    // A permission with a scope is an object: it is told whole.
    all.map(|one| one.as_str().map_or_else(|| one.to_string(), str::to_owned)).collect()
}

fn of_json(path: &str) -> Value {
    serde_json::from_str(&read(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
}

fn read(path: &str) -> String {
    std::fs::read_to_string(top().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
}

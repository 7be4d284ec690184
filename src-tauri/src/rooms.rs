//! The core behind the window: opened at the first request, and tried again as long as it cannot be opened.

use app::{App, Clock, Kind, Refusal};
use host::{Crew, Limits};
use serde_json::json;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// One folder of rooms, and who is told of every change in it.
pub(crate) struct Rooms {
    folder: PathBuf,
    listener: Arc<dyn Fn(&str) + Send + Sync>,
    open: Mutex<Option<Arc<App>>>,
}

impl Rooms {
    pub(crate) fn in_folder(folder: PathBuf, listener: impl Fn(&str) + Send + Sync + 'static) -> Self {
        Self { folder, listener: Arc::new(listener), open: Mutex::default() }
    }

    /// Answers one request with JSON.
    ///
    /// # Errors
    /// The JSON of a refusal: the core's own, or why the rooms cannot be opened and what to do about it.
    pub(crate) fn dispatch(&self, name: &str, payload: &str) -> Result<String, String> {
        let answer = catch_unwind(AssertUnwindSafe(|| match name {
            "recover" => self.recover(),
            _ => self.app()?.dispatch(name, payload),
        }));
        answer.unwrap_or_else(|_| Err(broken(name))).map_err(|refusal| json!(refusal).to_string())
    }

    /// Makes damaged rooms anew, closed for it; the next request opens them.
    fn recover(&self) -> Result<String, Refusal> {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(in_use) = open.take().and_then(|app| Arc::try_unwrap(app).err()) {
            *open = Some(in_use);
            let message =
                "The rooms are in use. Close them to the crew and wait for what is under way, then try again.";
            return Err(Refusal::new(Kind::NotReady, message).worth_a_retry());
        }
        Ok(json!(App::recover(&self.folder, Clock::from_environment())?).to_string())
    }

    fn app(&self) -> Result<Arc<App>, Refusal> {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(app) = &*open {
            return Ok(Arc::clone(app));
        }
        let app = Arc::new(App::open(&self.folder, Clock::from_environment())?);
        let listener = Arc::clone(&self.listener);
        app.on_change(Box::new(move |changes| listener(changes)));
        Crew::lend(&app, Some(self.folder.clone()), Limits::default());
        let looked_over = Arc::clone(&app);
        thread::spawn(move || looked_over.look_over());
        *open = Some(Arc::clone(&app));
        Ok(app)
    }
}

/// A fault of the program itself: what was on disk before is still there.
fn broken(name: &str) -> Refusal {
    let message = format!("Truefall itself went wrong at {name:?}. What you entered before is kept. Try once more.");
    Refusal::new(Kind::Internal, message).worth_a_retry()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;
    use std::sync::atomic::{AtomicU32, Ordering};

    #[test]
    fn a_change_is_told() {
        let home = tempfile::tempdir().unwrap();
        let told = Arc::new(AtomicU32::new(0));
        let count = Arc::clone(&told);
        let rooms = Rooms::in_folder(home.path().into(), move |changes| {
            assert!(changes.contains("\"seq\""), "{changes}");
            count.fetch_add(1, Ordering::Relaxed);
        });
        let ask = json!({"name": "kestrel", "id": "one"}).to_string();
        assert_eq!(rooms.dispatch("demo", &ask), rooms.dispatch("demo", &ask), "a repeat is harmless");
        assert_eq!(told.load(Ordering::Relaxed), 1);
    }

    #[test]
    fn rooms_that_cannot_be_opened_refuse_every_request_until_they_can() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("rooms");
        std::fs::write(&folder, "a file where a folder should be").unwrap();
        let rooms = Rooms::in_folder(folder.clone(), |_| {});
        let refused: Value = serde_json::from_str(&rooms.dispatch("rooms", "{}").unwrap_err()).unwrap();
        assert_eq!(refused["kind"], "io", "{refused}");
        std::fs::remove_file(&folder).unwrap();
        assert!(rooms.dispatch("rooms", "{}").is_ok());
    }

    #[test]
    fn damaged_rooms_are_made_anew_and_open_again() {
        let home = tempfile::tempdir().unwrap();
        let app = App::open(home.path(), Clock::from_environment()).unwrap();
        let opened = app.dispatch("demo", &json!({"name": "kestrel", "id": "one"}).to_string()).unwrap();
        let room = json!({"room": serde_json::from_str::<Value>(&opened).unwrap()["room"]}).to_string();
        app.look_over();
        drop(app);
        let file = home.path().join("rooms.sqlite");
        let mut bytes = std::fs::read(&file).unwrap();
        bytes[4096..8192].iter_mut().for_each(|byte| *byte = !*byte);
        std::fs::write(&file, &bytes).unwrap();
        let rooms = Rooms::in_folder(home.path().into(), |_| {});
        let refused: Value = serde_json::from_str(&rooms.dispatch("rooms", "{}").unwrap_err()).unwrap();
        assert_eq!(refused["kind"], "damaged", "{refused}");
        let done: Value = serde_json::from_str(&rooms.dispatch("recover", "{}").unwrap()).unwrap();
        assert_eq!(done["rooms"], 1, "{done}");
        assert_eq!(std::fs::read(done["aside"].as_str().unwrap()).unwrap(), bytes, "kept as it was found");
        assert!(rooms.dispatch("room", &room).is_ok());
        let again: Value = serde_json::from_str(&rooms.dispatch("recover", "{}").unwrap_err()).unwrap();
        assert_eq!(again["kind"], "not-ready", "whole rooms are left alone: {again}");
    }

    #[test]
    fn a_refusal_reaches_the_screens_with_its_kind() {
        let home = tempfile::tempdir().unwrap();
        let rooms = Rooms::in_folder(home.path().into(), |_| {});
        let refused: Value = serde_json::from_str(&rooms.dispatch("no-such-request", "{}").unwrap_err()).unwrap();
        assert_eq!(refused["kind"], "unknown-command");
    }
}

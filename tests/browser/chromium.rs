//! Chromium driven over its own pipe (Chrome `DevTools` Protocol): JSON texts, each ended by a zero byte.

use std::collections::HashMap;
use std::io::{BufRead as _, BufReader, Write as _};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

use serde_json::{Value, json};

use crate::folder::Folder;

const PATIENCE: Duration = Duration::from_mins(1);
const FLAGS: &str = "--headless=new --no-sandbox --disable-gpu --disable-quic --no-first-run \
    --disable-background-networking --disable-component-update --disable-sync --disable-dev-shm-usage \
    --hide-scrollbars --force-color-profile=srgb --remote-debugging-pipe";

/// A browser of one test; it goes with its owner.
pub(crate) struct Chromium {
    child: Child,
    input: Mutex<ChildStdin>,
    heard: Arc<Heard>,
    next: AtomicU64,
    folder: Arc<Folder>,
    more: String,
}

/// What the browser said: answers by number, and events.
#[derive(Default)]
struct Heard {
    said: Mutex<(HashMap<u64, Value>, Vec<Value>)>,
    more: Condvar,
}

impl Chromium {
    pub(crate) fn start() -> Self {
        let there = Command::new("sh").args(["-c", "command -v chromium"]).stdout(Stdio::null()).status().unwrap();
        assert!(there.success(), "There is no chromium here. Run: sh tests/setup.sh");
        Self::on(Arc::new(Folder::new()), String::new())
    }

    /// One that takes certificates of this key without asking who signed them: the SHA-256 of it, in base64.
    pub(crate) fn trusting(key: &str) -> Self {
        Self::on(Arc::new(Folder::new()), format!("--ignore-certificate-errors-spki-list={key}"))
    }

    /// Killed, and started again on the same profile: what the disk has is there, nothing else is.
    pub(crate) fn killed_and_started(self) -> Self {
        let (folder, more) = (Arc::clone(&self.folder), self.more.clone());
        drop(self);
        Self::on(folder, more)
    }

    fn on(folder: Arc<Folder>, more: String) -> Self {
        // the shell moves the pipes to where the browser looks for them
        let call = format!(
            "exec chromium {FLAGS} {more} --user-data-dir={} 3<&0 4>&1 </dev/null >/dev/null 2>/dev/null",
            folder.0.display()
        );
        let mut child =
            Command::new("sh").args(["-c", &call]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let input = Mutex::new(child.stdin.take().unwrap());
        let mut output = BufReader::new(child.stdout.take().unwrap());
        let heard = Arc::new(Heard::default());
        let ear = Arc::clone(&heard);
        std::thread::spawn(move || {
            let mut text = Vec::new();
            while output.read_until(0, &mut text).is_ok_and(|read| read > 0) {
                text.pop();
                if let Ok(message) = serde_json::from_slice::<Value>(&text) {
                    let mut said = ear.said.lock().unwrap();
                    match message["id"].as_u64() {
                        Some(id) => drop(said.0.insert(id, message)),
                        None => said.1.push(message),
                    }
                    ear.more.notify_all();
                }
                text.clear();
            }
        });
        Self { child, input, heard, next: AtomicU64::new(1), folder, more }
    }

    /// Calls a method and waits for its result.
    pub(crate) fn call(&self, session: Option<&str>, method: &str, params: &Value) -> Value {
        let id = self.next.fetch_add(1, Ordering::Relaxed);
        let mut message = json!({ "id": id, "method": method, "params": params });
        if let Some(session) = session {
            message["sessionId"] = json!(session);
        }
        let mut bytes = message.to_string().into_bytes();
        bytes.push(0);
        self.input.lock().unwrap().write_all(&bytes).unwrap();
        let said = self.heard.said.lock().unwrap();
        let waited = self.heard.more.wait_timeout_while(said, PATIENCE, |said| !said.0.contains_key(&id)).unwrap();
        let (mut said, _) = waited;
        let answer = said.0.remove(&id).unwrap_or_else(|| panic!("{method} was not answered"));
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// What went wrong on a page: exceptions, errors in its console, what its policy forbade.
    pub(crate) fn errors(&self, session: &str) -> Vec<String> {
        let said = self.heard.said.lock().unwrap();
        let wrong = |event: &&Value| match event["method"].as_str() {
            Some("Runtime.exceptionThrown") => true,
            Some("Log.entryAdded") => event["params"]["entry"]["level"] == "error",
            Some("Runtime.consoleAPICalled") => event["params"]["type"] == "error",
            _ => false,
        };
        let here = said.1.iter().filter(|event| event["sessionId"] == session);
        here.filter(wrong).map(|event| event["params"].to_string()).collect()
    }

    /// Waits until a page told of something, and gives what it told.
    pub(crate) fn event(&self, session: &str, method: &str) -> Value {
        let is = |event: &&Value| event["sessionId"] == session && event["method"] == method;
        let said = self.heard.said.lock().unwrap();
        let none = |said: &mut (_, Vec<Value>)| !said.1.iter().any(|event| is(&event));
        let (said, _) = self.heard.more.wait_timeout_while(said, PATIENCE, none).unwrap();
        said.1.iter().rfind(is).unwrap_or_else(|| panic!("{method} was never told"))["params"].clone()
    }

    /// A folder for files that a page is given.
    pub(crate) fn folder(&self) -> &std::path::Path {
        &self.folder.0
    }
}

impl Drop for Chromium {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

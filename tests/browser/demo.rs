//! The real program serving a demo shop in a folder of its own.

use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use serde_json::Value;

use crate::folder::Folder;

/// A demo shop being served; it goes with its owner.
pub(crate) struct Demo {
    child: Child,
    line: Value,
    folder: Folder,
}

impl Demo {
    /// The build to work on, with a few photographs.
    pub(crate) fn serve() -> Self {
        Self::serve_in(Folder::new())
    }

    /// The same in a folder where something lies already.
    pub(crate) fn serve_in(folder: Folder) -> Self {
        let (child, line) = serve(&folder, "127.0.0.1:0");
        Self { child, line, folder }
    }

    /// Killed as by a power cut of its process: nothing is put in order.
    pub(crate) fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// Serves the same shop at the same address again.
    pub(crate) fn serve_again(&mut self) {
        let address = self.address().strip_prefix("http://").unwrap().to_owned();
        (self.child, self.line) = serve(&self.folder, &address);
    }

    /// The shop's folder.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder.0
    }

    pub(crate) fn address(&self) -> &str {
        self.line["address"].as_str().unwrap()
    }

    /// Name and password of a role.
    pub(crate) fn sign_in(&self, role: &str) -> (&str, &str) {
        let all = self.line["sign_ins"].as_array().unwrap();
        let one = all.iter().find(|one| one["role"] == role).unwrap();
        (one["name"].as_str().unwrap(), one["password"].as_str().unwrap())
    }
}

impl Drop for Demo {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn serve(folder: &Folder, listen: &str) -> (Child, Value) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tackbook"))
        .args(["demo", "--json", "--listen", listen, "--builds", "1", "--photos", "4", "--folder"])
        .arg(&folder.0)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    (child, serde_json::from_str(&line).unwrap())
}

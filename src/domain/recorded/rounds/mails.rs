//! What a typed-in reply was typed from: the mail, the letter, a picture of a paper, each a file as it came.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::{Came, Reply};
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::limits;

/// A file that is kept with a reply.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mail {
    /// What it was called where it came from.
    pub name: String,
    /// Its length in bytes.
    pub size: u64,
    /// Its SHA-256, under which it lies as it came.
    pub sha256: Fingerprint,
    /// When it was attached.
    pub attached: Timestamp,
    /// Who attached it.
    pub by: String,
}

impl Mail {
    /// It in a line: name, length, SHA-256, and who attached it on which day.
    pub fn describe(&self, day: &str) -> String {
        let Self { name, size, sha256, by, .. } = self;
        format!("“{name}”, {size} bytes, SHA-256 {sha256}, attached by {by}, {day}")
    }
}

/// A file as it is handed in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewMail {
    /// What it is called.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// The endings of files that can be chosen.
pub const ENDINGS: &str = ".eml,.pdf,.txt,.jpg,.jpeg,.png,.webp,.heic";
/// How a file of a kind ends and begins; a text begins as it likes.
const KINDS: [(&str, &[u8]); 8] = [
    (".eml", b""),
    (".txt", b""),
    (".pdf", b"%PDF-"),
    (".jpg", b"\xff\xd8\xff"),
    (".jpeg", b"\xff\xd8\xff"),
    (".png", b"\x89PNG"),
    (".webp", b"RIFF"),
    (".heic", b""),
];

impl NewMail {
    /// What is wrong with it by itself, if anything; the field is `mail`.
    pub fn faults(&self) -> Vec<Fault> {
        let fault = |why: String| vec![Fault::new("mail", why)];
        if self.bytes.is_empty() {
            return fault("This file is empty.".to_owned());
        }
        if self.bytes.len() as u64 > limits::MAIL_BYTES {
            return fault(too_large());
        }
        let mut faults = limits::title_faults("mail", &self.name);
        if self.name.chars().any(|letter| letter.is_control() || matches!(letter, '/' | '\\')) {
            faults.extend(fault("The name of this file has signs in it that no name has. Give it another.".to_owned()));
        }
        let ending = self.name.to_ascii_lowercase();
        match KINDS.iter().find(|(kind, _)| ending.ends_with(kind)) {
            None => faults.extend(fault(
                "A mail is a file whose name ends in .eml, .pdf, .txt, .jpg, .png, .webp or .heic. Save the mail as one of these."
                    .to_owned(),
            )),
            Some((kind, begins)) if !self.bytes.starts_with(begins) => {
                faults.extend(fault(format!("This file is called {kind} and is none. Look whether it is the right one.")));
            }
            Some(_) => {}
        }
        faults
    }
}

/// That a file has too many bytes.
pub fn too_large() -> String {
    format!(
        "A mail has at most {} MB. Attach it without its own attachments, or as a smaller picture.",
        limits::MAIL_BYTES / 1_000_000
    )
}

impl Came {
    /// Whether somebody types for whoever decided.
    pub fn is_typed_in(self) -> bool {
        Self::TYPED_IN.contains(&self)
    }
}

impl Reply {
    /// Whether it was typed in for somebody, so that it can have been typed from something.
    pub fn typed_in(&self) -> bool {
        self.came.is_none_or(Came::is_typed_in)
    }
}

//! Photographs of a build: declared by a phone, received by us, withdrawn by the office, never deleted; what was said of them.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, BuildId, CaptureId};

/// A photograph of a build.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Photo {
    /// The name the phone gave it when the shutter closed.
    pub capture: CaptureId,
    /// The build it is of.
    pub build: BuildId,
    /// The shot it answers, by the shot list's key; empty for one nobody asked for.
    pub shot: String,
    /// What the photographer wrote with it.
    pub note: String,
    /// The content's SHA-256.
    pub sha256: Fingerprint,
    /// The content's bytes.
    pub size: u64,
    /// The bytes of the camera's own picture, where the phone made this smaller one of it to send.
    pub camera_size: Option<u64>,
    /// When the phone says it was taken; shown as a claim, never used to order or decide.
    pub taken_claim: Option<String>,
    /// When the phone told of it.
    pub declared: Timestamp,
    /// Who took it.
    pub by: String,
    /// When its last byte was kept, and what was seen in it; none while it is still on a phone.
    pub received: Option<Received>,
    /// Who withdrew it, when and why.
    pub withdrawn: Option<Withdrawn>,
}

impl Photo {
    /// What there is to say of it where the phone made it smaller.
    pub fn made_smaller(&self) -> Option<String> {
        let of = bytes_in_words(self.camera_size?);
        Some(format!("Made smaller on the phone: the camera's own picture has {of} and is not here."))
    }

    /// The part that it is of, by the shot it answers; none for one that answers no shot.
    pub fn part(&self) -> Option<Balloon> {
        self.shot.split_once(' ')?.0.parse().ok()
    }

    /// Whether it came and was not withdrawn.
    pub const fn kept(&self) -> bool {
        self.received.is_some() && self.withdrawn.is_none()
    }

    /// Whether it is kept and can be shown: only then it is evidence.
    pub fn shows(&self) -> bool {
        self.kept() && self.received.as_ref().is_some_and(|received| received.dots.is_some())
    }

    /// Whether it is still on a phone, and wanted.
    pub const fn waits(&self) -> bool {
        self.received.is_none() && self.withdrawn.is_none()
    }
}

/// That somebody looked at a photograph at the shot it stood at. At another shot it shows something else, and is looked at anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LookedAt {
    /// The photograph.
    pub capture: CaptureId,
    /// The shot it stood at; empty where it answered none.
    pub shot: String,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub by: String,
}

impl LookedAt {
    /// Whether it is of a photograph as it stands.
    pub fn is_of(&self, photo: &Photo) -> bool {
        self.capture == photo.capture && self.shot == photo.shot
    }
}

/// What somebody said of a photograph at the shot it stood at. At another shot it shows something else, and is said anew.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhotoSaid {
    /// The photograph.
    pub capture: CaptureId,
    /// The shot it stood at; empty where it answered none.
    pub shot: String,
    /// What was said.
    pub said: Statement,
    /// When.
    pub at: Timestamp,
    /// Who.
    pub by: String,
}

/// A statement about a photograph. It is a person's word: nothing is judged by it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Statement {
    /// It is kept although this was remarked of it.
    KeptSo(String),
    /// This, which must be seen, was ticked as seen in it.
    Seen(String),
}

impl Statement {
    /// Its kind and its words, as they are stored.
    pub fn parts(&self) -> (&'static str, &str) {
        match self {
            Self::KeptSo(words) => ("kept so", words),
            Self::Seen(words) => ("seen", words),
        }
    }

    /// As it is stored; none of another kind.
    pub fn of(kind: &str, words: String) -> Option<Self> {
        match kind {
            "kept so" => Some(Self::KeptSo(words)),
            "seen" => Some(Self::Seen(words)),
            _ => None,
        }
    }
}

impl PhotoSaid {
    /// Whether it is of a photograph as it stands.
    pub fn is_of(&self, photo: &Photo) -> bool {
        self.capture == photo.capture && self.shot == photo.shot
    }

    /// Said with who and on which day.
    pub fn describe(&self, day: &str) -> String {
        match &self.said {
            Statement::KeptSo(remark) => format!("Kept so, says {}, {day}: “{remark}”", self.by),
            Statement::Seen(what) => format!("Seen, says {}, {day}: {what}", self.by),
        }
    }
}

/// Bytes in words: `612 kB`, `4.1 MB`, `20.3 GB`.
pub fn bytes_in_words(bytes: u64) -> String {
    match bytes {
        0..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        1_000_000..1_000_000_000 => format!("{}.{} MB", bytes / 1_000_000, bytes / 100_000 % 10),
        _ => format!("{}.{} GB", bytes / 1_000_000_000, bytes / 100_000_000 % 10),
    }
}

/// A photograph kept, and what was seen in it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Received {
    /// When its last byte was kept, by the server's clock.
    pub at: Timestamp,
    /// The number of the log entry that says so.
    pub entry: i64,
    /// Its size in dots; none when it could not be decoded.
    pub dots: Option<(u32, u32)>,
    /// What there is to say about it as evidence.
    pub remarks: Vec<String>,
}

/// A photograph withdrawn; its bytes stay.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Withdrawn {
    /// When.
    pub at: Timestamp,
    /// Who did.
    pub by: String,
    /// Why.
    pub why: String,
}

//! The list of a car's file: what is in it, each with its length and its SHA-256.

use serde::{Deserialize, Serialize};

use super::part::NoPart;
use super::{CarFault, Part, VERSION};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;

/// A thing in the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Listed {
    /// Its name in the file.
    pub path: String,
    /// Its length in bytes.
    pub size: u64,
    /// Its SHA-256.
    pub sha256: Fingerprint,
}

/// The list: the first thing in the file, and what is signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// Counts up when the format changes.
    pub tackbook_car: u32,
    /// The form of the records: the number of the step that made it.
    pub form: i64,
    /// The build.
    pub build: BuildId,
    /// What it is called.
    pub name: String,
    /// How many entries its log has.
    pub log_entries: usize,
    /// The hash of the last of them.
    pub log_head: String,
    /// What is in the file, in the order it stands there.
    pub files: Vec<Listed>,
    /// Photographs, packets and mails that the records name and that the shop did not have whole any more.
    pub lost: Vec<Fingerprint>,
}

impl Manifest {
    /// What the list is called in the file.
    pub const PATH: &'static str = "manifest.json";
    /// What its signature is called there.
    pub const SIGNATURE: &'static str = "manifest.json.sig";
    /// Most bytes of the list, and of its signature.
    pub const MOST: (u64, u64) = (16 << 20, 10_000);

    /// As it is written and signed.
    pub fn text(&self) -> String {
        // texts, whole numbers and lists: nothing in it can fail to be written
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }

    /// Reads a list; `ours` is the newest form of records that this program knows.
    pub fn read(text: &[u8], ours: i64) -> Result<Self, CarFault> {
        let wrong = |why: String| CarFault::List(why);
        let newer = serde_json::from_slice::<serde_json::Value>(text).ok();
        let number = |name: &str| newer.as_ref().and_then(|list| list.get(name)?.as_i64());
        match (number("tackbook_car"), number("form")) {
            (Some(version), _) if version > i64::from(VERSION) => {
                return Err(CarFault::Newer { theirs: version, ours: i64::from(VERSION) });
            }
            (_, Some(theirs)) if theirs > ours => return Err(CarFault::Newer { theirs, ours }),
            _ => {}
        }
        let list: Self = serde_json::from_slice(text).map_err(|error| wrong(error.to_string()))?;
        if list.text().as_bytes() != text {
            return Err(wrong("it is not written as this program writes it".to_owned()));
        }
        if list.tackbook_car != VERSION || list.form < 1 {
            return Err(wrong("no program makes files of such a form".to_owned()));
        }
        if let Some(fault) = limits::title_faults("name", &list.name).first() {
            return Err(wrong(fault.to_string().trim_end_matches('.').to_owned()));
        }
        list.parts()?;
        Ok(list)
    }

    /// What is in the file, by what it is.
    pub fn parts(&self) -> Result<Vec<(Part, &Listed)>, CarFault> {
        let part = |file: &'_ Listed| -> Result<Part, CarFault> {
            let Listed { path, size, .. } = file;
            let why = |why: NoPart| CarFault::List(format!("“{}”: {why}", shown(path)));
            let part: Part = path.parse().map_err(why)?;
            if *size > part.most() {
                return Err(CarFault::List(format!("{part} would have {size} bytes, more than it may")));
            }
            if let Part::Photo(name, _) | Part::Mail(name) = &part
                && *name != file.sha256
            {
                return Err(CarFault::List(format!("{part} is not called by its own fingerprint")));
            }
            Ok(part)
        };
        let parts: Vec<(Part, &Listed)> =
            self.files.iter().map(|file| Ok((part(file)?, file))).collect::<Result<_, CarFault>>()?;
        if let Some(pair) = parts.windows(2).find(|pair| matches!(pair, [one, next] if one.0 >= next.0)) {
            let what = pair.iter().map(|(part, _)| part.to_string()).collect::<Vec<_>>().join(" and ");
            return Err(CarFault::List(format!("{what} are there twice, or not in their order")));
        }
        for needed in [Part::Index, Part::Build, Part::Records, Part::Log] {
            if !parts.iter().any(|(part, _)| *part == needed) {
                return Err(CarFault::List(format!("{needed} is missing")));
            }
        }
        Ok(parts)
    }

    /// How many photographs are in it.
    pub fn photos(&self) -> usize {
        self.files.iter().filter(|file| file.path.starts_with("photos/")).count()
    }

    /// How many rounds are in it.
    pub fn rounds(&self) -> usize {
        self.files.iter().filter(|file| file.path.ends_with("/contents.json")).count()
    }
}

/// A name from outside as a sentence may show it: cut short, without what could hide something.
fn shown(path: &str) -> String {
    path.chars().take(60).map(|letter| if letter.is_control() { '·' } else { letter }).collect()
}

//! What a disk has after a power cut: what was synced, and of the rest nothing, all, or any part.

use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};

use super::notes::Note;

/// What a cut leaves of what was not synced.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Leaves {
    /// Nothing.
    Nothing,
    /// Everything.
    All,
    /// Any part, by this seed: bytes in blocks of 512, names apart from what they stand for.
    Some(u64),
}

/// Bytes that a disk writes whole or not at all (a sector of the oldest still in use; *common practice*).
const SECTOR: usize = 512;

#[derive(Debug, Clone)]
enum Change {
    Bytes { at: usize, bytes: Vec<u8> },
    Length(usize),
}

#[derive(Debug, Clone, Default)]
struct Content {
    synced: Vec<u8>,
    waiting: Vec<Change>,
}

#[derive(Debug, Clone)]
enum Naming {
    Add {
        name: PathBuf,
        what: What,
    },
    Remove {
        name: PathBuf,
    },
    /// Both names, or the new one alone: never neither.
    Rename {
        from: PathBuf,
        to: PathBuf,
    },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    File(usize),
    Folder,
}

/// A disk, as far as the notes go.
#[derive(Debug, Default)]
pub(crate) struct Disk {
    contents: Vec<Content>,
    /// The system's number of a file, as it is used now.
    numbered: HashMap<u64, usize>,
    names: BTreeMap<PathBuf, What>,
    waiting: Vec<Naming>,
}

/// xorshift64 (Marsaglia 2003): the same cut again for the same seed.
struct Dice(u64);

impl Dice {
    fn even(&mut self) -> bool {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 40 & 1 == 0
    }
}

fn put(content: &mut Vec<u8>, at: usize, bytes: &[u8]) {
    if content.len() < at + bytes.len() {
        content.resize(at + bytes.len(), 0);
    }
    content[at..at + bytes.len()].copy_from_slice(bytes);
}

impl Content {
    fn after(&self, leaves: Leaves, dice: &mut Dice) -> Vec<u8> {
        let mut content = self.synced.clone();
        for change in &self.waiting {
            match (leaves, change) {
                (Leaves::Nothing, _) => {}
                (Leaves::All, Change::Bytes { at, bytes }) => put(&mut content, *at, bytes),
                (Leaves::All, Change::Length(length)) => content.resize(*length, 0),
                (Leaves::Some(_), Change::Length(length)) => {
                    if dice.even() {
                        content.resize(*length, 0);
                    }
                }
                (Leaves::Some(_), Change::Bytes { at, bytes }) => {
                    let mut from = 0;
                    while from < bytes.len() {
                        // to the next edge of a sector of the file
                        let to = bytes.len().min(from + SECTOR - (at + from) % SECTOR);
                        if dice.even() {
                            put(&mut content, at + from, &bytes[from..to]);
                        }
                        from = to;
                    }
                }
            }
        }
        content
    }
}

impl Naming {
    fn folders(&self) -> Vec<&Path> {
        match self {
            Self::Add { name, .. } | Self::Remove { name } => vec![name.parent().unwrap()],
            Self::Rename { from, to } => vec![from.parent().unwrap(), to.parent().unwrap()],
        }
    }

    /// The name that a file had before.
    fn from(&self) -> Option<PathBuf> {
        match self {
            Self::Rename { from, .. } => Some(from.clone()),
            Self::Add { .. } | Self::Remove { .. } => None,
        }
    }

    /// Done for good; with `both` the old name of a file stays beside the new one.
    fn done(&self, names: &mut BTreeMap<PathBuf, What>, both: bool) {
        match self {
            Self::Add { name, what } => {
                names.insert(name.clone(), *what);
            }
            Self::Remove { name } => {
                names.remove(name);
            }
            Self::Rename { from, to } => {
                let Some(what) = names.get(from).copied() else { return };
                if !both {
                    names.remove(from);
                }
                names.insert(to.clone(), what);
            }
        }
    }
}

impl Disk {
    /// Takes a note up.
    pub(crate) fn take(&mut self, note: &Note) {
        match note {
            Note::Made { file, name } => {
                self.contents.push(Content::default());
                let content = self.contents.len() - 1;
                self.numbered.insert(*file, content);
                self.waiting.push(Naming::Add { name: name.clone(), what: What::File(content) });
            }
            Note::Wrote { file, at, bytes } => {
                let change = Change::Bytes { at: *at, bytes: bytes.clone() };
                self.contents[self.numbered[file]].waiting.push(change);
            }
            Note::CutOff { file, length } => {
                self.contents[self.numbered[file]].waiting.push(Change::Length(*length));
            }
            Note::Synced { file, .. } => {
                let content = &mut self.contents[self.numbered[file]];
                content.synced = content.after(Leaves::All, &mut Dice(1));
                content.waiting.clear();
            }
            Note::FolderSynced { name } => {
                let of_it = |naming: &Naming| naming.folders().contains(&name.as_path());
                let renamed: Vec<PathBuf> =
                    self.waiting.iter().filter(|naming| of_it(naming)).filter_map(Naming::from).collect();
                // a file that comes here by another name is the same file, whether or not that name was ever safe
                let brings = |naming: &Naming| matches!(naming, Naming::Add { name, .. } if renamed.contains(name));
                let (done, waiting): (Vec<_>, Vec<_>) =
                    self.waiting.drain(..).partition(|naming| of_it(naming) || brings(naming));
                for naming in done {
                    naming.done(&mut self.names, false);
                }
                self.waiting = waiting;
            }
            Note::Renamed { from, to } => {
                self.waiting.push(Naming::Rename { from: from.clone(), to: to.clone() });
            }
            Note::TakenAway { name } => self.waiting.push(Naming::Remove { name: name.clone() }),
            Note::FolderMade { name } => self.waiting.push(Naming::Add { name: name.clone(), what: What::Folder }),
            Note::Said { .. } => {}
        }
    }

    /// Makes a folder as it would be found after a cut now.
    pub(crate) fn found_in(&self, folder: &Path, leaves: Leaves) {
        let seed = if let Leaves::Some(seed) = leaves { seed } else { 0 };
        let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        let mut names = self.names.clone();
        for naming in &self.waiting {
            match leaves {
                Leaves::Nothing => {}
                Leaves::All => naming.done(&mut names, false),
                Leaves::Some(_) => {
                    if dice.even() {
                        let both = dice.even();
                        naming.done(&mut names, both);
                    }
                }
            }
        }
        // by name, so a folder comes before what lies in it
        for (name, what) in &names {
            let place = folder.join(name);
            if !place.parent().unwrap().is_dir() {
                // the folder's own name did not survive
                continue;
            }
            match what {
                What::Folder => std::fs::create_dir_all(&place).unwrap(),
                What::File(content) => {
                    std::fs::write(&place, self.contents[*content].after(leaves, &mut dice)).unwrap();
                }
            }
        }
    }
}

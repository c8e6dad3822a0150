//! Runs the process that keeps photographs under the recorder, and reads what was noted.

use std::ffi::OsString;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use crate::cars::{CAR, LOADS_A_CAR};
use crate::child::{KEEPS_PHOTOS, command_of};
use crate::folder::Folder;
use crate::promised::Promised;
use crate::rounds::ISSUES_ROUNDS;

/// What was done, in the order it was done.
#[derive(Debug, Clone)]
pub(crate) enum Note {
    /// A file was made under a name.
    Made { file: u64, name: PathBuf },
    /// Bytes were written into a file.
    Wrote { file: u64, at: usize, bytes: Vec<u8> },
    /// A file was cut off, or drawn out, to a length.
    CutOff { file: u64, length: usize },
    /// A file was synced.
    Synced { file: u64, name: PathBuf },
    /// A folder was synced.
    FolderSynced { name: PathBuf },
    /// A file was given another name.
    Renamed { from: PathBuf, to: PathBuf },
    /// A name was taken away.
    TakenAway { name: PathBuf },
    /// A folder was made.
    FolderMade { name: PathBuf },
    /// The process said something.
    Said { words: String },
}

/// The recorder, built once.
fn recorder() -> &'static Path {
    static BUILT: OnceLock<PathBuf> = OnceLock::new();
    BUILT.get_or_init(|| {
        let library = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("recorder-{}.so", std::process::id()));
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/promises/power/recorder.rs");
        let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| OsString::from("rustc"));
        let built = Command::new(compiler)
            .args(["--edition", "2024", "--crate-type", "cdylib", "-O", "-o"])
            .args([&library, &source])
            .output()
            .unwrap();
        assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
        library
    })
}

/// What a process notes that begins a shop in an empty folder and keeps so many photographs.
pub(crate) fn of_keeping(photos: usize) -> Vec<Note> {
    of(KEEPS_PHOTOS, |promised| promised.kept.len() == photos)
}

/// What a process notes that begins a shop, issues so many rounds and records a reply to each.
pub(crate) fn of_issuing(rounds: usize) -> Vec<Note> {
    of(ISSUES_ROUNDS, |promised| promised.replied.len() == rounds)
}

/// What a process notes that begins a shop and loads a car from its file.
pub(crate) fn of_loading(car: &Path) -> Vec<Note> {
    of_process(LOADS_A_CAR, &[(CAR, car)], |promised| promised.loaded.len() == 1)
}

fn of(process: &str, done: impl Fn(&Promised) -> bool) -> Vec<Note> {
    of_process(process, &[], done)
}

fn of_process(process: &str, told: &[(&str, &Path)], done: impl Fn(&Promised) -> bool) -> Vec<Note> {
    let (folder, notes) = (Folder::new(), Folder::new());
    let file = notes.0.join("notes");
    let mut child = command_of(process, &folder.0)
        .env("LD_PRELOAD", recorder())
        .env("TACKBOOK_RECORD_UNDER", &folder.0)
        .env("TACKBOOK_RECORD_TO", &file)
        .envs(told.iter().copied())
        .spawn()
        .unwrap();
    let mut promised = Promised::default();
    for line in BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok) {
        promised.hear(&line);
        if done(&promised) {
            break;
        }
    }
    child.kill().unwrap();
    child.wait().unwrap();
    read(&std::fs::read(file).unwrap())
}

fn read(bytes: &[u8]) -> Vec<Note> {
    let (mut notes, mut rest) = (Vec::new(), bytes);
    // the last note may be cut: the process was killed
    while let Some((note, after)) = next(rest) {
        notes.push(note);
        rest = after;
    }
    notes
}

fn next(bytes: &[u8]) -> Option<(Note, &[u8])> {
    let (kind, rest) = bytes.split_first()?;
    let (file, rest) = number(rest)?;
    let (number, rest) = number(rest)?;
    let (one, rest) = text(rest)?;
    let (other, rest) = text(rest)?;
    let number = usize::try_from(number).unwrap();
    let note = match kind {
        b'C' => Note::Made { file, name: path(one) },
        b'W' => Note::Wrote { file, at: number, bytes: one.to_vec() },
        b'T' => Note::CutOff { file, length: number },
        b'S' => Note::Synced { file, name: path(one) },
        b'D' => Note::FolderSynced { name: path(one) },
        b'R' => Note::Renamed { from: path(one), to: path(other) },
        b'U' => Note::TakenAway { name: path(one) },
        b'M' => Note::FolderMade { name: path(one) },
        b'P' => Note::Said { words: String::from_utf8_lossy(one).into_owned() },
        _ => panic!("something went past the recorder: {}", String::from_utf8_lossy(one)),
    };
    Some((note, rest))
}

fn number(bytes: &[u8]) -> Option<(u64, &[u8])> {
    let (number, rest) = bytes.split_first_chunk::<8>()?;
    Some((u64::from_le_bytes(*number), rest))
}

fn text(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let (length, rest) = number(bytes)?;
    rest.split_at_checked(usize::try_from(length).unwrap())
}

fn path(bytes: &[u8]) -> PathBuf {
    use std::os::unix::ffi::OsStrExt as _;
    PathBuf::from(std::ffi::OsStr::from_bytes(bytes))
}

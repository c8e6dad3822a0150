//! Notes in their order all that a program does to the files of one folder, and all that it says: for replaying a power
//! cut after any of it. Built by the test as a library of its own, loaded before the C library (`LD_PRELOAD`, ld.so(8)).
//! Syncs are noted and not done: nothing is cut here, and so it is fast. One line of rules: a call that changes files
//! and is not noted in full is noted as unseen, and the test fails on it.

use std::ffi::{CStr, CString, c_char, c_int, c_uint, c_void};
use std::mem::ManuallyDrop;
use std::os::fd::FromRawFd as _;
use std::os::unix::ffi::OsStrExt as _;
use std::os::unix::fs::MetadataExt as _;
use std::sync::atomic::{AtomicI32, Ordering};
use std::sync::{Mutex, OnceLock};

type Bytes = isize;

// open(2), fcntl.h of Linux: the same on every machine this runs on
const WRITE_ONLY: c_int = 1;
const CREATE: c_int = 0o100;
const TRUNCATE: c_int = 0o1000;
const APPEND: c_int = 0o2000;
const HERE: c_int = -100;

unsafe extern "C" {
    fn dlsym(library: *mut c_void, name: *const c_char) -> *mut c_void;
    fn readlink(path: *const c_char, into: *mut c_char, room: usize) -> Bytes;
    fn access(path: *const c_char, mode: c_int) -> c_int;
    fn lseek(file: c_int, offset: i64, from: c_int) -> i64;
    fn fcntl(file: c_int, command: c_int, ...) -> c_int;
}

fn found(name: &CStr) -> usize {
    // RTLD_NEXT: the next one after this library's own
    (unsafe { dlsym(usize::MAX as *mut c_void, name.as_ptr()) }) as usize
}

/// The C library's own function of a name; unsafe, for it is what one says it is.
macro_rules! real {
    ($name:literal as $kind:ty) => {{
        static FOUND: OnceLock<usize> = OnceLock::new();
        let name = match CStr::from_bytes_with_nul(concat!($name, "\0").as_bytes()) {
            Ok(name) => name,
            Err(_) => c"",
        };
        std::mem::transmute::<usize, $kind>(*FOUND.get_or_init(|| found(name)))
    }};
}

type Open = unsafe extern "C" fn(*const c_char, c_int, c_uint) -> c_int;
type OpenAt = unsafe extern "C" fn(c_int, *const c_char, c_int, c_uint) -> c_int;
type Write = unsafe extern "C" fn(c_int, *const c_void, usize) -> Bytes;

static ORDER: Mutex<()> = Mutex::new(());
static NOTES: AtomicI32 = AtomicI32::new(-1);

fn folder() -> &'static [u8] {
    static FOLDER: OnceLock<Vec<u8>> = OnceLock::new();
    FOLDER.get_or_init(|| std::env::var_os("TACKBOOK_RECORD_UNDER").map_or(Vec::new(), |name| name.as_bytes().to_vec()))
}

/// The path below the folder; none for what lies elsewhere, and for SQLite's shared memory, which it makes anew.
fn below(path: &[u8]) -> Option<&[u8]> {
    let folder = folder();
    let rest = path.strip_prefix(folder).filter(|_| !folder.is_empty())?;
    let rest = if rest.is_empty() { rest } else { rest.strip_prefix(b"/")? };
    (!rest.ends_with(b"-shm")).then_some(rest)
}

fn path_of_file(file: c_int) -> Vec<u8> {
    let link = CString::new(format!("/proc/self/fd/{file}")).unwrap_or_default();
    let mut path = vec![0_u8; 4096];
    let length = unsafe { readlink(link.as_ptr(), path.as_mut_ptr().cast(), path.len()) };
    path.truncate(usize::try_from(length).unwrap_or(0));
    path
}

fn path_at(folder: c_int, path: *const c_char) -> Vec<u8> {
    let path = unsafe { CStr::from_ptr(path) }.to_bytes();
    if folder == HERE || path.starts_with(b"/") {
        return path.to_vec();
    }
    let mut whole = path_of_file(folder);
    whole.push(b'/');
    whole.extend_from_slice(path);
    whole
}

/// Which file it is, however it is called, and whether it is a folder.
fn file_itself(file: c_int) -> (u64, bool) {
    let opened = ManuallyDrop::new(unsafe { std::fs::File::from_raw_fd(file) });
    opened.metadata().map_or((0, false), |found| (found.ino(), found.is_dir()))
}

/// One note: its kind, the file, a number, and two texts.
fn note(kind: u8, file: u64, number: u64, one: &[u8], other: &[u8]) {
    if NOTES.load(Ordering::Relaxed) < 0 {
        let path =
            CString::new(std::env::var_os("TACKBOOK_RECORD_TO").unwrap_or_default().as_bytes()).unwrap_or_default();
        let opened = unsafe { real!("open64" as Open)(path.as_ptr(), WRITE_ONLY | CREATE | APPEND, 0o600) };
        NOTES.store(opened, Ordering::Relaxed);
    }
    let mut line = vec![kind];
    line.extend_from_slice(&file.to_le_bytes());
    line.extend_from_slice(&number.to_le_bytes());
    for text in [one, other] {
        line.extend_from_slice(&(text.len() as u64).to_le_bytes());
        line.extend_from_slice(text);
    }
    let mut rest = line.as_slice();
    while !rest.is_empty() {
        let done = unsafe { real!("write" as Write)(NOTES.load(Ordering::Relaxed), rest.as_ptr().cast(), rest.len()) };
        rest = rest.get(usize::try_from(done).unwrap_or(0)..).unwrap_or_default();
    }
}

fn opened(path: &[u8], flags: c_int, open: impl FnOnce() -> c_int) -> c_int {
    let Some(name) = below(path).filter(|_| flags & (CREATE | TRUNCATE) != 0) else { return open() };
    let _order = ORDER.lock();
    let there = CString::new(path).is_ok_and(|path| unsafe { access(path.as_ptr(), 0) } == 0);
    let file = open();
    if file >= 0 {
        let itself = file_itself(file).0;
        if !there {
            note(b'C', itself, 0, name, &[]);
        } else if flags & TRUNCATE != 0 {
            note(b'T', itself, 0, &[], &[]);
        }
    }
    file
}

fn written(file: c_int, bytes: &[u8], at: Option<i64>, write: impl FnOnce() -> Bytes) -> Bytes {
    // what the program says is said in the same order
    if file == 1 {
        let _order = ORDER.lock();
        note(b'P', 0, 0, bytes, &[]);
        return write();
    }
    let path = path_of_file(file);
    if below(&path).is_none() {
        return write();
    }
    let _order = ORDER.lock();
    // F_GETFL
    let appends = unsafe { fcntl(file, 3) } & APPEND != 0;
    let at = at.filter(|_| !appends).unwrap_or_else(|| unsafe { lseek(file, 0, if appends { 2 } else { 1 }) });
    let done = write();
    if let Ok(length) = usize::try_from(done) {
        note(b'W', file_itself(file).0, u64::try_from(at).unwrap_or(0), bytes.get(..length).unwrap_or_default(), &[]);
    }
    done
}

fn cut_off(file: c_int, length: i64, cut: impl FnOnce() -> c_int) -> c_int {
    if below(&path_of_file(file)).is_none() {
        return cut();
    }
    let _order = ORDER.lock();
    let done = cut();
    if done == 0 {
        note(b'T', file_itself(file).0, u64::try_from(length).unwrap_or(0), &[], &[]);
    }
    done
}

fn synced(file: c_int, sync: impl FnOnce() -> c_int) -> c_int {
    let path = path_of_file(file);
    let Some(name) = below(&path) else { return sync() };
    let _order = ORDER.lock();
    let (itself, folder) = file_itself(file);
    note(if folder { b'D' } else { b'S' }, itself, 0, name, &[]);
    0
}

/// Something done to names, noted where it was done.
fn named(kind: u8, names: [&[u8]; 2], act: impl FnOnce() -> c_int) -> c_int {
    let [one, other] = names.map(below);
    if one.is_none() && other.is_none() {
        return act();
    }
    let _order = ORDER.lock();
    let done = act();
    if done == 0 {
        note(kind, 0, 0, one.unwrap_or_default(), other.unwrap_or_default());
    }
    done
}

fn unseen(what: &str, file: c_int) {
    if below(&path_of_file(file)).is_some() {
        let _order = ORDER.lock();
        note(b'X', 0, 0, what.as_bytes(), &[]);
    }
}

fn text(path: *const c_char) -> &'static [u8] {
    unsafe { CStr::from_ptr(path) }.to_bytes()
}

macro_rules! opens {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(path: *const c_char, flags: c_int, mode: c_uint) -> c_int {
            opened(text(path), flags, || unsafe { real!($text as Open)(path, flags, mode) })
        }
    )*};
}
opens!(open "open", open64 "open64");

macro_rules! opens_at {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(at: c_int, path: *const c_char, flags: c_int, mode: c_uint) -> c_int {
            opened(&path_at(at, path), flags, || unsafe { real!($text as OpenAt)(at, path, flags, mode) })
        }
    )*};
}
opens_at!(openat "openat", openat64 "openat64");

#[unsafe(no_mangle)]
pub unsafe extern "C" fn write(file: c_int, bytes: *const c_void, length: usize) -> Bytes {
    let given = unsafe { std::slice::from_raw_parts(bytes.cast::<u8>(), length) };
    written(file, given, None, || unsafe { real!("write" as Write)(file, bytes, length) })
}

macro_rules! writes_at {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(file: c_int, bytes: *const c_void, length: usize, at: i64) -> Bytes {
            type Call = unsafe extern "C" fn(c_int, *const c_void, usize, i64) -> Bytes;
            let given = unsafe { std::slice::from_raw_parts(bytes.cast::<u8>(), length) };
            written(file, given, Some(at), || unsafe { real!($text as Call)(file, bytes, length, at) })
        }
    )*};
}
writes_at!(pwrite "pwrite", pwrite64 "pwrite64");

macro_rules! cuts_off {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(file: c_int, length: i64) -> c_int {
            type Call = unsafe extern "C" fn(c_int, i64) -> c_int;
            cut_off(file, length, || unsafe { real!($text as Call)(file, length) })
        }
    )*};
}
cuts_off!(ftruncate "ftruncate", ftruncate64 "ftruncate64");

macro_rules! syncs {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(file: c_int) -> c_int {
            type Call = unsafe extern "C" fn(c_int) -> c_int;
            synced(file, || unsafe { real!($text as Call)(file) })
        }
    )*};
}
syncs!(fsync "fsync", fdatasync "fdatasync");

#[unsafe(no_mangle)]
pub unsafe extern "C" fn rename(from: *const c_char, to: *const c_char) -> c_int {
    type Call = unsafe extern "C" fn(*const c_char, *const c_char) -> c_int;
    named(b'R', [text(from), text(to)], || unsafe { real!("rename" as Call)(from, to) })
}

macro_rules! takes_away {
    ($($name:ident $text:literal),*) => {$(
        #[unsafe(no_mangle)]
        pub unsafe extern "C" fn $name(path: *const c_char) -> c_int {
            type Call = unsafe extern "C" fn(*const c_char) -> c_int;
            named(b'U', [text(path), b""], || unsafe { real!($text as Call)(path) })
        }
    )*};
}
takes_away!(unlink "unlink", rmdir "rmdir");

#[unsafe(no_mangle)]
pub unsafe extern "C" fn unlinkat(at: c_int, path: *const c_char, flags: c_int) -> c_int {
    type Call = unsafe extern "C" fn(c_int, *const c_char, c_int) -> c_int;
    named(b'U', [&path_at(at, path), b""], || unsafe { real!("unlinkat" as Call)(at, path, flags) })
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn mkdir(path: *const c_char, mode: c_uint) -> c_int {
    type Call = unsafe extern "C" fn(*const c_char, c_uint) -> c_int;
    named(b'M', [text(path), b""], || unsafe { real!("mkdir" as Call)(path, mode) })
}

// What is not noted in full is told of, so that nothing goes past unseen.

#[unsafe(no_mangle)]
pub unsafe extern "C" fn writev(file: c_int, parts: *const c_void, count: c_int) -> Bytes {
    type Call = unsafe extern "C" fn(c_int, *const c_void, c_int) -> Bytes;
    unseen("writev", file);
    unsafe { real!("writev" as Call)(file, parts, count) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn copy_file_range(
    from: c_int,
    from_at: *mut i64,
    to: c_int,
    to_at: *mut i64,
    length: usize,
    flags: c_uint,
) -> Bytes {
    type Call = unsafe extern "C" fn(c_int, *mut i64, c_int, *mut i64, usize, c_uint) -> Bytes;
    unseen("copy_file_range", to);
    unsafe { real!("copy_file_range" as Call)(from, from_at, to, to_at, length, flags) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn posix_fallocate64(file: c_int, at: i64, length: i64) -> c_int {
    type Call = unsafe extern "C" fn(c_int, i64, i64) -> c_int;
    unseen("posix_fallocate64", file);
    unsafe { real!("posix_fallocate64" as Call)(file, at, length) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn linkat(
    from: c_int,
    path: *const c_char,
    to: c_int,
    name: *const c_char,
    flags: c_int,
) -> c_int {
    type Call = unsafe extern "C" fn(c_int, *const c_char, c_int, *const c_char, c_int) -> c_int;
    named(b'X', [b"", &path_at(to, name)], || unsafe { real!("linkat" as Call)(from, path, to, name, flags) })
}

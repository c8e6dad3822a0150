//! Pictures from outside are decoded in a process of their own, whose memory and time are bounded. It reads the photograph
//! from its standard input and gives what it made of it at its standard output: it needs no place where anything lies.

use std::io::{Read, Write};
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

use rustix::process::{Resource, Rlimit, setrlimit};
use serde::{Deserialize, Serialize};
use tokio::io::{AsyncRead, AsyncReadExt, AsyncWriteExt as _};
use tokio::process::{Child, ChildStdin, Command};
use tokio::sync::Semaphore;

use super::decoding::decode;
use super::error::ImageError;
use super::kind::{FIRST_BYTES, Kind};
use super::look::seen;
use super::views::{SCREEN_SIDE, Views, views_of};
use crate::domain::shop::looks::Seen;
use crate::domain::words::limits::PHOTO_BYTES;

/// The word that makes our own program look at a photograph: `tackbook look-at-photo`.
pub const LOOK_AT_PHOTO: &str = "look-at-photo";

/// How long a picture may take; an unoptimised program is some ten times as slow.
const PATIENCE: Duration = Duration::from_secs(if cfg!(debug_assertions) { 30 } else { 5 });
const MOST_PROCESSOR_SECONDS: u64 = if cfg!(debug_assertions) { 20 } else { 5 };
/// Most bytes of an answer: three copies, none of them near a tenth of this.
const MOST_ANSWER_BYTES: u64 = 64 << 20;
const LOOKED: i32 = 0;
const FAILED: i32 = 1;
const REFUSED: i32 = 3;

/// Two pictures at a time, or one that needs the room of both: ten phones at once take no more memory than two.
static TURNS: Semaphore = Semaphore::const_new(2);

/// Where the child is told that it has the whole room.
const WHOLE_ROOM: &str = "TACKBOOK_WHOLE_ROOM";

/// How much memory a child may take for itself. With the server's own it stays under 450 MB, two of the usual or one of the
/// whole room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Room {
    /// What a phone's photographs need; another may be looked at beside it.
    Usual,
    /// What the largest need; nothing is looked at beside it.
    Whole,
}

impl Room {
    const fn bytes(self) -> u64 {
        match self {
            Self::Usual => 120 << 20,
            Self::Whole => 280 << 20,
        }
    }

    const fn turns(self) -> u32 {
        match self {
            Self::Usual => 1,
            Self::Whole => 2,
        }
    }
}

/// The first line of the child's answer, JSON; the copies follow it, one after the other.
#[derive(Serialize, Deserialize)]
struct Answer {
    seen: Seen,
    /// The lengths of the copies for screen, lists and paper, in bytes.
    lengths: [usize; 3],
}

/// Looks at a photograph in a process of its own, and gives what was seen and its copies; `program` is our own program.
///
/// # Errors
/// `NoRoom` where the usual room may have been too small for it; the same photograph may be read once more in the whole one.
pub async fn in_child(
    program: &Path,
    photo: impl AsyncRead + Send + Unpin,
    room: Room,
) -> Result<(Seen, Views), ImageError> {
    in_child_within(program, photo, room, PATIENCE).await
}

async fn in_child_within(
    program: &Path,
    mut photo: impl AsyncRead + Send + Unpin,
    room: Room,
    patience: Duration,
) -> Result<(Seen, Views), ImageError> {
    let mut first = Vec::new();
    let begun = (&mut photo).take(FIRST_BYTES as u64).read_to_end(&mut first).await;
    begun.map_err(|_| ImageError::NoPreview)?;
    let kind = Kind::of(&first);
    if !kind.is_photo() {
        return Err(ImageError::NotAPicture(kind));
    }
    let _turns = TURNS.acquire_many(room.turns()).await.map_err(|_| ImageError::NoPreview)?;
    let mut child = Command::new(program)
        .arg(LOOK_AT_PHOTO)
        .env_clear()
        .envs((room == Room::Whole).then_some((WHOLE_ROOM, "yes")))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .kill_on_drop(true)
        .spawn()
        .map_err(|_| ImageError::NoPreview)?;
    let answer = tokio::time::timeout(patience, answer(&mut child, AsyncReadExt::chain(first.as_slice(), photo))).await;
    let Ok(answer) = answer else {
        // its end is awaited, so that its memory is free before the next one starts
        let _ = child.kill().await;
        return Err(ImageError::NoPreview);
    };
    match answer {
        Some((LOOKED, answer)) => taken_apart(&answer).ok_or(ImageError::NoPreview),
        Some((REFUSED, answer)) => Err(serde_json::from_slice(&answer).unwrap_or(ImageError::NoPreview)),
        // a child that is refused memory ends without a word
        _ if room == Room::Usual => Err(ImageError::NoRoom),
        _ => Err(ImageError::NoPreview),
    }
}

/// Gives the child the photograph while its answer is read, and waits for its end: its exit code, and the answer.
async fn answer(child: &mut Child, photo: impl AsyncRead + Unpin) -> Option<(i32, Vec<u8>)> {
    let (input, output) = (child.stdin.take()?, child.stdout.take()?);
    let mut answer = Vec::new();
    let mut output = output.take(MOST_ANSWER_BYTES);
    let (fed, read, ended) = tokio::join!(feed(input, photo), output.read_to_end(&mut answer), child.wait());
    // a photograph that could not be read here to its end is not one whose end is missing
    fed.and(read.map(drop)).ok()?;
    Some((ended.ok()?.code()?, answer))
}

async fn feed(mut input: ChildStdin, mut photo: impl AsyncRead + Unpin) -> std::io::Result<()> {
    let given = tokio::io::copy(&mut photo, &mut input).await;
    match given.map(drop).and(input.shutdown().await) {
        // a child that ends before it has read all says why with its code
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
        done => done,
    }
}

fn taken_apart(answer: &[u8]) -> Option<(Seen, Views)> {
    let (line, copies) = answer.split_at_checked(answer.iter().position(|byte| *byte == b'\n')?)?;
    let Answer { seen, lengths: [screen, thumbnail, print] } = serde_json::from_slice(line).ok()?;
    let (screen, rest) = copies.get(1..)?.split_at_checked(screen)?;
    let (thumbnail, rest) = rest.split_at_checked(thumbnail)?;
    let whole = rest.len() == print;
    whole.then(|| (seen, Views { screen: screen.to_vec(), thumbnail: thumbnail.to_vec(), print: rest.to_vec() }))
}

/// The child's side: bounds this very process, looks at the photograph that is read, writes what was made of it, and gives
/// the exit code. Call it only in a process that does nothing else.
pub fn run_as_child(photo: impl Read, out: impl Write) -> i32 {
    let bounded = |resource, bound| setrlimit(resource, Rlimit { current: Some(bound), maximum: Some(bound) });
    let room = if std::env::var_os(WHOLE_ROOM).is_some() { Room::Whole } else { Room::Usual };
    // what it takes for itself: the program's own file, which it shares with the server, is none of it
    let bounds = bounded(Resource::Data, room.bytes()).and(bounded(Resource::Cpu, MOST_PROCESSOR_SECONDS));
    if bounds.is_err() {
        return FAILED;
    }
    look_and_tell(photo, out).unwrap_or(FAILED)
}

fn look_and_tell(photo: impl Read, mut out: impl Write) -> std::io::Result<i32> {
    let mut bytes = Vec::new();
    photo.take(PHOTO_BYTES + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > PHOTO_BYTES {
        return Ok(FAILED);
    }
    let looked = decode(&bytes, SCREEN_SIDE).and_then(|decoded| Ok((seen(&decoded), views_of(&decoded)?)));
    let code = match looked {
        Ok((seen, Views { screen, thumbnail, print })) => {
            let lengths = [screen.len(), thumbnail.len(), print.len()];
            serde_json::to_writer(&mut out, &Answer { seen, lengths })?;
            out.write_all(b"\n")?;
            for copy in [screen, thumbnail, print] {
                out.write_all(&copy)?;
            }
            LOOKED
        }
        Err(error) => {
            serde_json::to_writer(&mut out, &error)?;
            REFUSED
        }
    };
    out.flush()?;
    Ok(code)
}

#[cfg(test)]
mod tests {
    use std::io::Write as _;
    use std::os::unix::fs::PermissionsExt;
    use std::path::{Path, PathBuf};
    use std::time::{Duration, Instant};

    use image::DynamicImage;

    use super::{LOOK_AT_PHOTO, Room, in_child_within, run_as_child, taken_apart};
    use crate::domain::shop::looks::Seen;
    use crate::imaging::decoding::decode;
    use crate::imaging::samples::{fields, jpeg};
    use crate::imaging::views::{SCREEN_SIDE, views_of};
    use crate::imaging::{ImageError, Kind, Views, look};

    const PATIENCE: Duration = Duration::from_mins(1);

    /// A folder of this test alone, taken away at its end.
    struct Folder(PathBuf);

    impl Folder {
        fn new(name: &str) -> Self {
            let path = std::env::temp_dir().join(format!("tackbook-child-{name}-{}", std::process::id()));
            std::fs::create_dir_all(&path).unwrap();
            Self(path)
        }
        fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
            let file = self.0.join(name);
            std::fs::File::create(&file).unwrap().write_all(bytes).unwrap();
            file
        }
        /// A program that does `what` in the shell.
        fn program(&self, what: &str) -> PathBuf {
            let program = self.file("program", format!("#!/bin/sh\n{what}\n").as_bytes());
            std::fs::set_permissions(&program, std::fs::Permissions::from_mode(0o755)).unwrap();
            program
        }
        /// A program that runs the child's side below in this very test program, whose own words go nowhere.
        fn our_program(&self, side: &str) -> PathBuf {
            let (tests, begun) = (std::env::current_exe().unwrap(), self.0.join("begun"));
            self.program(&format!(
                "test \"$*\" = {LOOK_AT_PHOTO} || exit 9\n\
                 exec 3>&1 1>/dev/null\n\
                 BEGUN='{}' exec '{}' --ignored --exact imaging::child::tests::{side} --nocapture",
                begun.display(),
                tests.display()
            ))
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = std::fs::remove_dir_all(&self.0);
        }
    }

    async fn looked(program: &Path, photo: &[u8]) -> Result<(Seen, Views), ImageError> {
        in_child_within(program, photo, Room::Whole, PATIENCE).await
    }

    fn photo() -> Vec<u8> {
        jpeg(&DynamicImage::ImageLuma8(fields(1200, 900, 60, 190)), None)
    }

    /// The child's side between its standard input and what its standard output was.
    fn run() -> i32 {
        run_as_child(std::io::stdin().lock(), std::fs::File::options().write(true).open("/dev/fd/3").unwrap())
    }

    #[test]
    #[ignore = "the child's side of the tests below; it bounds its own process"]
    fn the_childs_side() {
        std::process::exit(run());
    }

    #[test]
    #[ignore = "the child's side of a test below; it wants more memory than it may have"]
    fn a_greedy_childs_side() {
        let code = run();
        std::fs::File::create(std::env::var("BEGUN").unwrap()).unwrap();
        let greed = std::hint::black_box(vec![1_u8; 2 << 30]);
        std::process::exit(if greed.is_empty() { 9 } else { code });
    }

    #[tokio::test]
    async fn a_child_gives_what_looking_here_gives_and_three_copies() {
        let folder = Folder::new("good");
        let (seen, copies) = looked(&folder.our_program("the_childs_side"), &photo()).await.unwrap();
        assert_eq!(Ok(seen), look(&photo()));
        assert_eq!(copies, views_of(&decode(&photo(), SCREEN_SIDE).unwrap()).unwrap());
        for copy in [copies.screen, copies.thumbnail, copies.print] {
            assert_eq!(Kind::of(&copy), Kind::Jpeg);
        }
    }

    #[tokio::test]
    async fn a_childs_refusal_arrives_with_its_reason() {
        let folder = Folder::new("cut");
        let whole = photo();
        let got = looked(&folder.our_program("the_childs_side"), &whole[..whole.len() / 2]).await;
        assert_eq!(got, Err(ImageError::CutOff));
    }

    #[tokio::test]
    async fn a_child_that_wants_too_much_memory_gives_no_preview() {
        let folder = Folder::new("greedy");
        let got = looked(&folder.our_program("a_greedy_childs_side"), &photo()).await;
        assert_eq!(got, Err(ImageError::NoPreview));
        assert!(folder.0.join("begun").exists(), "the child had begun");
    }

    #[tokio::test]
    async fn what_does_not_fit_into_the_usual_room_is_told_and_fits_into_the_whole_one() {
        let folder = Folder::new("rooms");
        let program = folder.our_program("the_childs_side");
        // 36 million dots of three bytes, of which a copy is made small
        let mut large = Vec::new();
        let picture = DynamicImage::ImageRgb8(image::RgbImage::from_pixel(7_200, 5_000, image::Rgb([90, 60, 30])));
        picture.write_to(&mut std::io::Cursor::new(&mut large), image::ImageFormat::Png).unwrap();
        drop(picture);
        let usual = in_child_within(&program, large.as_slice(), Room::Usual, PATIENCE).await;
        assert_eq!(usual, Err(ImageError::NoRoom));
        let (seen, _) = in_child_within(&program, large.as_slice(), Room::Whole, PATIENCE).await.unwrap();
        assert_eq!((seen.width, seen.height), (7_200, 5_000));
        assert!(in_child_within(&program, photo().as_slice(), Room::Usual, PATIENCE).await.is_ok());
        // the server's own beside two of the usual, or one of the whole
        assert!((2 * Room::Usual.bytes()).max(Room::Whole.bytes()) + (100 << 20) <= 450 << 20);
    }

    #[tokio::test]
    async fn a_child_that_dies_or_lingers_gives_no_preview() {
        let folder = Folder::new("dead");
        for what in ["kill -9 $$", "exit 1", "exit 0", "exit 3", "echo '{}'", "cat", "head -c 9 >/dev/null; exit 1"] {
            assert_eq!(looked(&folder.program(what), &photo()).await, Err(ImageError::NoPreview), "{what}");
        }
        assert_eq!(looked(&folder.0.join("no-such"), &photo()).await, Err(ImageError::NoPreview));
        let begun = Instant::now();
        let lingering = folder.program("exec sleep 30");
        let got = in_child_within(&lingering, photo().as_slice(), Room::Usual, Duration::from_millis(300)).await;
        assert_eq!(got, Err(ImageError::NoPreview));
        assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", begun.elapsed());
    }

    #[tokio::test]
    async fn what_is_no_picture_starts_no_child() {
        let folder = Folder::new("text");
        let started = folder.0.join("started");
        let got = looked(&folder.program(&format!("touch '{}'", started.display())), b"a note\n").await;
        assert_eq!(got, Err(ImageError::NotAPicture(Kind::Other("a text file".to_owned()))));
        assert!(!started.exists());
    }

    /// A photograph whose end the disk does not give back.
    struct Failing<'p>(&'p [u8]);

    impl tokio::io::AsyncRead for Failing<'_> {
        fn poll_read(
            mut self: std::pin::Pin<&mut Self>,
            cx: &mut std::task::Context<'_>,
            buffer: &mut tokio::io::ReadBuf<'_>,
        ) -> std::task::Poll<std::io::Result<()>> {
            if self.0.is_empty() {
                return std::task::Poll::Ready(Err(std::io::Error::other("the disk failed")));
            }
            std::pin::Pin::new(&mut self.0).poll_read(cx, buffer)
        }
    }

    #[tokio::test]
    async fn a_disk_that_fails_is_not_told_as_a_picture_whose_end_is_missing() {
        let folder = Folder::new("failing");
        let whole = photo();
        let program = folder.our_program("the_childs_side");
        let got = in_child_within(&program, Failing(&whole[..whole.len() / 2]), Room::Whole, PATIENCE).await;
        assert_eq!(got, Err(ImageError::NoPreview));
    }

    #[test]
    fn an_answer_that_is_cut_or_too_long_is_none() {
        let line = |lengths: [usize; 3]| {
            let answer = super::Answer { seen: Seen::default(), lengths };
            [serde_json::to_vec(&answer).unwrap(), b"\naabbbc".to_vec()].concat()
        };
        let (_, copies) = taken_apart(&line([2, 3, 1])).unwrap();
        assert_eq!((copies.screen, copies.thumbnail, copies.print), (b"aa".to_vec(), b"bbb".to_vec(), b"c".to_vec()));
        for lengths in [[2, 3, 2], [2, 3, 0], [usize::MAX, 1, 1], [7, 0, 0]] {
            assert!(taken_apart(&line(lengths)).is_none(), "{lengths:?}");
        }
    }
}

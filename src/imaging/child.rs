//! Pictures from outside are decoded in a process of their own, whose memory and time are bounded.

use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

use rustix::process::{Resource, Rlimit, setrlimit};
use tokio::io::AsyncReadExt;
use tokio::process::Command;
use tokio::sync::Semaphore;

use super::decoding::decode;
use super::error::ImageError;
use super::kind::{FIRST_BYTES, Kind};
use super::look::seen;
use super::views::{SCREEN_SIDE, views_of};
use crate::domain::limits::PHOTO_BYTES;
use crate::domain::looks::Seen;

/// The word that makes our own program look at a photograph: `tackbook look-at-photo FILE FOLDER`.
pub const LOOK_AT_PHOTO: &str = "look-at-photo";
/// The copy for the screen, in the folder given to the child.
pub const SCREEN_FILE: &str = "screen.jpg";
/// The copy for lists.
pub const THUMBNAIL_FILE: &str = "thumbnail.jpg";
/// The copy for paper.
pub const PRINT_FILE: &str = "print.jpg";
/// What was seen, as JSON of [`Seen`].
pub const SEEN_FILE: &str = "seen.json";
/// Why the picture could not be looked at, as JSON of [`ImageError`].
const REFUSED_FILE: &str = "refused.json";

const PATIENCE: Duration = Duration::from_secs(20);
const MOST_MEMORY_BYTES: u64 = 1_536 << 20;
const MOST_PROCESSOR_SECONDS: u64 = 15;
const LOOKED: i32 = 0;
const FAILED: i32 = 1;
const REFUSED: i32 = 3;

/// One picture at a time, so that ten phones at once take the memory of one.
static ONE_AT_A_TIME: Semaphore = Semaphore::const_new(1);

/// Looks at a photograph in a process of its own and leaves its copies in `out_folder`; `program` is our own program.
pub async fn in_child(program: &Path, photo: &Path, out_folder: &Path) -> Result<Seen, ImageError> {
    in_child_within(program, photo, out_folder, PATIENCE).await
}

async fn in_child_within(
    program: &Path,
    photo: &Path,
    out_folder: &Path,
    patience: Duration,
) -> Result<Seen, ImageError> {
    let kind = Kind::of(&first_bytes(photo).await.map_err(|_| ImageError::NoPreview)?);
    if !kind.is_photo() {
        return Err(ImageError::NotAPicture(kind));
    }
    let _turn = ONE_AT_A_TIME.acquire().await.map_err(|_| ImageError::NoPreview)?;
    let mut child = Command::new(program)
        .arg(LOOK_AT_PHOTO)
        .arg(photo)
        .arg(out_folder)
        .env_clear()
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .kill_on_drop(true)
        .spawn()
        .map_err(|_| ImageError::NoPreview)?;
    let Ok(ended) = tokio::time::timeout(patience, child.wait()).await else {
        // its end is awaited, so that its memory is free before the next one starts
        let _ = child.kill().await;
        return Err(ImageError::NoPreview);
    };
    match ended.ok().and_then(|status| status.code()) {
        Some(LOOKED) => from_json(&out_folder.join(SEEN_FILE)).await,
        Some(REFUSED) => Err(from_json(&out_folder.join(REFUSED_FILE)).await?),
        _ => Err(ImageError::NoPreview),
    }
}

async fn first_bytes(photo: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    tokio::fs::File::open(photo).await?.take(FIRST_BYTES as u64).read_to_end(&mut bytes).await?;
    Ok(bytes)
}

async fn from_json<T: serde::de::DeserializeOwned>(file: &Path) -> Result<T, ImageError> {
    let bytes = tokio::fs::read(file).await.map_err(|_| ImageError::NoPreview)?;
    serde_json::from_slice(&bytes).map_err(|_| ImageError::NoPreview)
}

/// The child's side: bounds this very process, looks at `file`, writes the copies into `out`, and gives the exit code.
/// Call it only in a process that does nothing else.
pub fn run_as_child(file: &Path, out: &Path) -> i32 {
    let bounded = |resource, bound| setrlimit(resource, Rlimit { current: Some(bound), maximum: Some(bound) });
    let bounds = bounded(Resource::As, MOST_MEMORY_BYTES).and(bounded(Resource::Cpu, MOST_PROCESSOR_SECONDS));
    if bounds.is_err() {
        return FAILED;
    }
    look_and_write(file, out).unwrap_or(FAILED)
}

fn look_and_write(file: &Path, out: &Path) -> std::io::Result<i32> {
    if std::fs::metadata(file)?.len() > PHOTO_BYTES {
        return Ok(FAILED);
    }
    let bytes = std::fs::read(file)?;
    let looked = decode(&bytes, SCREEN_SIDE).and_then(|decoded| Ok((seen(&decoded), views_of(&decoded)?)));
    match looked {
        Ok((seen, views)) => {
            write(&out.join(SCREEN_FILE), &views.screen)?;
            write(&out.join(THUMBNAIL_FILE), &views.thumbnail)?;
            write(&out.join(PRINT_FILE), &views.print)?;
            write(&out.join(SEEN_FILE), &serde_json::to_vec(&seen)?)?;
            Ok(LOOKED)
        }
        Err(error) => {
            write(&out.join(REFUSED_FILE), &serde_json::to_vec(&error)?)?;
            Ok(REFUSED)
        }
    }
}

fn write(file: &Path, bytes: &[u8]) -> std::io::Result<()> {
    File::create(file)?.write_all(bytes)
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;
    use std::path::{Path, PathBuf};
    use std::time::{Duration, Instant};

    use image::DynamicImage;

    use super::{LOOK_AT_PHOTO, PRINT_FILE, SCREEN_FILE, THUMBNAIL_FILE, in_child_within, run_as_child, write};
    use crate::domain::looks::Seen;
    use crate::imaging::samples::{fields, jpeg};
    use crate::imaging::{ImageError, Kind, look};

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
            write(&self.0.join(name), bytes).unwrap();
            self.0.join(name)
        }
        /// A program that does `what` in the shell.
        fn program(&self, what: &str) -> PathBuf {
            let program = self.file("program", format!("#!/bin/sh\n{what}\n").as_bytes());
            std::fs::set_permissions(&program, std::fs::Permissions::from_mode(0o755)).unwrap();
            program
        }
        /// A program that runs the child's side below in this very test program.
        fn our_program(&self, side: &str) -> PathBuf {
            let tests = std::env::current_exe().unwrap();
            self.program(&format!(
                "test \"$1\" = {LOOK_AT_PHOTO} || exit 9\n\
                 PHOTO=\"$2\" OUT=\"$3\" exec '{}' --ignored --exact imaging::child::tests::{side} --nocapture",
                tests.display()
            ))
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = std::fs::remove_dir_all(&self.0);
        }
    }

    async fn looked(program: &Path, photo: &Path, out: &Path) -> Result<Seen, ImageError> {
        in_child_within(program, photo, out, PATIENCE).await
    }

    fn photo() -> Vec<u8> {
        jpeg(&DynamicImage::ImageLuma8(fields(1200, 900, 60, 190)), None)
    }

    #[test]
    #[ignore = "the child's side of the tests below; it bounds its own process"]
    fn the_childs_side() {
        let (photo, out) = (std::env::var("PHOTO").unwrap(), std::env::var("OUT").unwrap());
        std::process::exit(run_as_child(Path::new(&photo), Path::new(&out)));
    }

    #[test]
    #[ignore = "the child's side of a test below; it wants more memory than it may have"]
    fn a_greedy_childs_side() {
        let (photo, out) = (std::env::var("PHOTO").unwrap(), std::env::var("OUT").unwrap());
        let code = run_as_child(Path::new(&photo), Path::new(&out));
        let greed = std::hint::black_box(vec![1_u8; 2 << 30]);
        std::process::exit(if greed.is_empty() { 9 } else { code });
    }

    #[tokio::test]
    async fn a_child_gives_what_looking_here_gives_and_leaves_three_copies() {
        let folder = Folder::new("good");
        let file = folder.file("photo", &photo());
        let got = looked(&folder.our_program("the_childs_side"), &file, &folder.0).await;
        assert_eq!(got, look(&photo()));
        for name in [SCREEN_FILE, THUMBNAIL_FILE, PRINT_FILE] {
            assert_eq!(Kind::of(&std::fs::read(folder.0.join(name)).unwrap()), Kind::Jpeg, "{name}");
        }
    }

    #[tokio::test]
    async fn a_childs_refusal_arrives_with_its_reason() {
        let folder = Folder::new("cut");
        let whole = photo();
        let file = folder.file("photo", &whole[..whole.len() / 2]);
        assert_eq!(looked(&folder.our_program("the_childs_side"), &file, &folder.0).await, Err(ImageError::CutOff));
    }

    #[tokio::test]
    async fn a_child_that_wants_too_much_memory_gives_no_preview() {
        let folder = Folder::new("greedy");
        let file = folder.file("photo", &photo());
        let got = looked(&folder.our_program("a_greedy_childs_side"), &file, &folder.0).await;
        assert_eq!(got, Err(ImageError::NoPreview));
        assert!(folder.0.join(SCREEN_FILE).exists(), "the child had begun");
    }

    #[tokio::test]
    async fn a_child_that_dies_or_lingers_gives_no_preview() {
        let folder = Folder::new("dead");
        let file = folder.file("photo", &photo());
        for what in ["kill -9 $$", "exit 1", "exit 0", "exit 3"] {
            assert_eq!(looked(&folder.program(what), &file, &folder.0).await, Err(ImageError::NoPreview), "{what}");
        }
        assert_eq!(looked(&folder.0.join("no-such"), &file, &folder.0).await, Err(ImageError::NoPreview));
        let begun = Instant::now();
        let lingering = folder.program("exec sleep 30");
        let got = in_child_within(&lingering, &file, &folder.0, Duration::from_millis(300)).await;
        assert_eq!(got, Err(ImageError::NoPreview));
        assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", begun.elapsed());
    }

    #[tokio::test]
    async fn what_is_no_picture_starts_no_child() {
        let folder = Folder::new("text");
        let file = folder.file("photo.jpg", b"a note\n");
        let got = looked(&folder.program("touch \"$3/started\""), &file, &folder.0).await;
        assert_eq!(got, Err(ImageError::NotAPicture(Kind::Other("a text file".to_owned()))));
        assert!(!folder.0.join("started").exists());
    }
}

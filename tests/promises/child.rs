//! A process that opens a shop and keeps photographs until it is ended, saying aloud what it was promised.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use tackbook::actions::recorded::photos::{Declaration, Finished, Look, Looked};
use tackbook::actions::{self, ActionError, Context, Memory};
use tackbook::clock::Clock;
use tackbook::domain::shop::builds::NewBuild;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::store::Store;
use tackbook::store::vault::Appended;

/// Where the child finds its shop; set only by the tests that start it.
pub(crate) const FOLDER: &str = "TACKBOOK_TEST_FOLDER";
/// How many bytes the child sends at a time; no divisor of a block, so that a full disk cuts a write in the middle.
const CHUNK: usize = 4_000;
/// The password of the shop's one person.
const PASSWORD: &str = "four green sticks";

/// Opens a shop, with an office person and a build when it is new.
pub(crate) async fn open(folder: &Path) -> (Context, BuildId) {
    let (store, clock) = (Store::open(folder).await.unwrap(), Clock::of_machine());
    let by = match actions::shop::people::make_setup_link(&store, &clock).await.unwrap() {
        Some(link) => {
            actions::shop::people::begin_shop(&store, &clock, &link, "Office", PASSWORD).await.unwrap().person
        }
        None => store.people().await.unwrap().pop().unwrap(),
    };
    let ctx = Context { store, clock, by, memory: Memory::default() };
    let there = ctx.store.builds().await.unwrap().pop();
    let build = if let Some(build) = there {
        build
    } else {
        let new = NewBuild { name: "Pine Coupe".to_owned(), about: String::new(), book: None, event_day: None };
        actions::shop::builds::begin(&ctx, new).await.unwrap()
    };
    (ctx, build.id)
}

/// The bytes of the photograph of a number: they begin as a JPEG does, and no two are alike.
pub(crate) fn photo(number: u64, length: usize) -> Vec<u8> {
    let mut bytes = vec![0xff, 0xd8, 0xff, 0xe0];
    let mut state = number.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    while bytes.len() < length {
        // xorshift64 (Marsaglia 2003): any bytes do, as long as the parent can make them again
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        bytes.extend_from_slice(&state.to_le_bytes());
    }
    bytes.truncate(length);
    bytes
}

/// A look that sees nothing, quickly.
pub(crate) fn look() -> Look {
    Arc::new(|_| Box::pin(async { Looked { seen: None, remarks: Vec::new() } }))
}

/// What the process that keeps photographs is called among the tests.
pub(crate) const KEEPS_PHOTOS: &str = "child::keeps_photos_until_it_is_ended";

/// This program again, as the process that keeps photographs.
pub(crate) fn command(folder: &Path) -> Command {
    command_of(KEEPS_PHOTOS, folder)
}

/// This program again, as one of the processes that work in a shop.
pub(crate) fn command_of(process: &str, folder: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    arguments(&mut command, process, folder);
    command
}

/// The same under a shell that lets no file grow over so many blocks of 512 bytes; the signal that says so is ignored, so
/// that the write itself fails (POSIX: `ulimit -f`, `trap`; setrlimit(2): EFBIG).
pub(crate) fn command_with_small_files(folder: &Path, blocks: u32) -> Command {
    let mut command = Command::new("/bin/sh");
    command.args(["-c", &format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$@\""), "sh"]);
    command.arg(std::env::current_exe().unwrap());
    arguments(&mut command, KEEPS_PHOTOS, folder);
    command
}

fn arguments(command: &mut Command, process: &str, folder: &Path) {
    command.args(["--exact", process, "--ignored", "--nocapture"]);
    command.env(FOLDER, folder).stdout(Stdio::piped()).stderr(Stdio::null());
}

/// Says something to the parent; only after this was it promised to anybody.
pub(crate) fn say(words: &str) {
    let mut out = std::io::stdout().lock();
    out.write_all(format!("\n{words}\n").as_bytes()).unwrap();
    out.flush().unwrap();
}

#[tokio::test]
#[ignore = "the other tests start it as a process of its own"]
async fn keeps_photos_until_it_is_ended() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).unwrap());
    let (ctx, build) = open(&folder).await;
    say("OPEN");
    let first = ctx.store.photos(build).await.unwrap().len() as u64;
    for number in first.. {
        // now and then a large one, which a small disk refuses
        let length = if number % 8 == 1 { 300_000 } else { 9_000 + usize::try_from(number % 7).unwrap() * 1_000 };
        if let Err(error) = keep(&ctx, build, number, length).await {
            say(&format!("REFUSED {number} {length} {}", in_full(&error)));
            if ctx.store.healthy().await.is_err() {
                say("UNHEALTHY");
                return;
            }
        }
    }
}

pub(crate) async fn keep(ctx: &Context, build: BuildId, number: u64, length: usize) -> Result<(), ActionError> {
    let bytes = photo(number, length);
    let sha256 = Fingerprint::of(&bytes);
    let answer = Declaration {
        capture: uuid::Uuid::now_v7().into(),
        sha256: sha256.clone(),
        size: length as u64,
        shot: String::new(),
        note: number.to_string(),
        camera_size: None,
        taken_claim: None,
    };
    actions::recorded::photos::declare(ctx, build, answer).await?;
    say(&format!("DECLARED {number} {length}"));
    for (at, part) in bytes.chunks(CHUNK).enumerate() {
        let appended =
            actions::recorded::photos::append(ctx, build, &sha256, (at * CHUNK) as u64, part.to_vec()).await?;
        let Appended::Now(offset) = appended else { continue };
        say(&format!("OFFSET {number} {length} {offset}"));
    }
    if let Finished::Kept(receipt) = actions::recorded::photos::finish(ctx, build, &sha256, &look()).await? {
        say(&format!("KEPT {number} {length} {}", receipt.entry));
    }
    Ok(())
}

/// An error with everything behind it.
fn in_full(error: &ActionError) -> String {
    let mut words = error.to_string();
    let mut behind: Option<&dyn std::error::Error> = std::error::Error::source(error);
    while let Some(cause) = behind {
        words = format!("{words}: {cause}");
        behind = cause.source();
    }
    words.replace('\n', " ")
}

//! `save` and `load`: a car's file out of a shop, and into another.

use std::fs::{self, File};
use std::io::{IsTerminal as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::exits::SAYS_NO;
use super::opened::{opened, opened_to_read};
use crate::actions::shop::car_file;
use crate::actions::shop::signing::fingerprint;
use crate::actions::{ActionError, Context};
use crate::clock::Clock;
use crate::startup::StartError;
use crate::store::Store;

/// Says how far it is, where somebody is looking.
fn tell(what: &str, done: u64, all: Option<u64>) {
    let mut out = std::io::stderr();
    if out.is_terminal() {
        let of = all.map(|all| format!(" of {all}")).unwrap_or_default();
        // a terminal that is gone needs no progress
        let _ = write!(out, "\r{what}: {done}{of} ");
    }
}

fn tell_end() {
    if std::io::stderr().is_terminal() {
        eprintln!();
    }
}

const MB: u64 = 1_000_000;

/// Says what was wrong with a file or the records, each in its sentence.
fn said(error: ActionError) -> Result<ExitCode, StartError> {
    match error {
        ActionError::Refused(faults) => faults.iter().for_each(|fault| eprintln!("{}", fault.why)),
        ActionError::Held(why) => eprintln!("{why}"),
        ActionError::Store(error) => return Err(error.into()),
        other => return Err(other.into()),
    }
    Ok(ExitCode::from(SAYS_NO))
}

/// Writes a build's file; what stood at its place is replaced only by the whole of it.
pub(super) async fn save(folder: &Path, slug: &str, out: &Path) -> Result<ExitCode, StartError> {
    let store = opened_to_read(folder).await?;
    let done = saved(&store, slug, out).await;
    store.close().await;
    done
}

async fn saved(store: &Store, slug: &str, out: &Path) -> Result<ExitCode, StartError> {
    let file = |why| StartError::File { file: out.display().to_string(), why };
    let Some(build) = store.build_by_slug(slug).await? else {
        eprintln!("There is no build “{slug}” in this shop. `tackbook builds` lists them.");
        return Ok(ExitCode::from(SAYS_NO));
    };
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let looked = |done| tell("Photographs and packets looked at", done, None);
    let saving = match car_file::prepare(&ctx, build.id, &looked).await {
        Ok(saving) => saving,
        Err(error) => return said(error),
    };
    tell_end();
    let (length, manifest) = (saving.writing.length(), saving.manifest);
    let part = PathBuf::from(format!("{}.part", out.display()));
    let mut to = tokio::fs::File::create(&part).await.map_err(file)?;
    let all = length.div_ceil(MB);
    let written = saving.writing.write_to(&mut to, &|done| tell("MB written", done / MB, Some(all))).await;
    tell_end();
    let synced = match written {
        Ok(()) => to.sync_all().await.map_err(file),
        Err(error) => Err(error.into()),
    };
    if let Err(error) = synced.and_then(|()| put(&part, out).map_err(file)) {
        drop_part(&part);
        return Err(error);
    }
    println!(
        "{}: {length} bytes, {} photographs, {} rounds, {} log entries.",
        out.display(),
        manifest.photos(),
        manifest.rounds(),
        manifest.log_entries
    );
    println!(
        "It holds every photograph as it was sent, with what the camera wrote into it: give it to whoever may have that."
    );
    for lost in &manifest.lost {
        println!("{lost} is recorded and not whole in this shop any more; the file says that it is lost.");
    }
    Ok(if manifest.lost.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(SAYS_NO) })
}

#[expect(clippy::disallowed_methods, reason = "a file outside the shop, whole or not at all")]
fn put(part: &Path, out: &Path) -> std::io::Result<()> {
    fs::rename(part, out)?;
    // the name is on the disk before anybody is told that the file is there
    let above = out.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    File::open(above)?.sync_all()
}

#[expect(clippy::disallowed_methods, reason = "what was begun outside the shop and not finished")]
fn drop_part(part: &Path) {
    if let Err(error) = fs::remove_file(part) {
        eprintln!("{} could not be taken away: {error}", part.display());
    }
}

/// Loads a car from its file.
pub(super) async fn load(folder: &Path, file: &Path) -> Result<ExitCode, StartError> {
    let unread = |why| StartError::File { file: file.display().to_string(), why };
    let from = File::open(file).map_err(unread)?;
    let all = from.metadata().map_err(unread)?.len().div_ceil(MB);
    let store = opened(folder).await?;
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let done = car_file::load(&ctx, from, move |done| tell("MB read", done / MB, Some(all))).await;
    store.close().await;
    tell_end();
    let loaded = match done {
        Ok(loaded) => loaded,
        Err(error) => return said(error),
    };
    let manifest = &loaded.manifest;
    println!(
        "{} is in the shop, at /builds/{}: {} photographs, {} rounds, {} log entries.",
        manifest.name,
        loaded.slug,
        manifest.photos(),
        manifest.rounds(),
        manifest.log_entries
    );
    println!("It is as it was signed by the key {}.", fingerprint(&loaded.public));
    println!("Whose key that is, the file cannot tell: compare it with what the shop that saved it told you.");
    for lost in &manifest.lost {
        println!("{lost} was lost before the file was saved.");
    }
    Ok(ExitCode::SUCCESS)
}

/// Begins a build of a name by a car's file, to the edition of that car where the shop has it.
pub(super) async fn begin(folder: &Path, file: &Path, name: String, another: bool) -> Result<ExitCode, StartError> {
    let unread = |why| StartError::File { file: file.display().to_string(), why };
    let from = File::open(file).map_err(unread)?;
    let all = from.metadata().map_err(unread)?.len().div_ceil(MB);
    let store = opened(folder).await?;
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let new = car_file::NewByPattern { name, book: car_file::BookFor::TheSame, another };
    let done = car_file::begin_by(&ctx, new, from, move |done| tell("MB read", done / MB, Some(all))).await;
    store.close().await;
    tell_end();
    let car_file::Begun { build, pattern } = match done {
        Ok(begun) => begun,
        Err(error) => return said(error),
    };
    println!("{} was begun, at /builds/{}, by the car's file of {}.", build.name, build.slug, pattern.car);
    println!("That file is as it was signed by the key {}.", fingerprint(&pattern.public));
    println!(
        "What was chosen of its cage was taken over. No figure of it is this car's before somebody states it, on \
         /builds/{}/cage/pattern.",
        build.slug
    );
    if build.book.is_none() {
        println!("It has no rule book yet: the shop does not have the edition of that car, or it had none.");
    }
    Ok(ExitCode::SUCCESS)
}

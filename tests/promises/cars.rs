//! A car loaded from its file by a process of its own, and whether what is found afterwards is all of it or nothing.

use std::io::Cursor;
use std::path::{Path, PathBuf};

use tackbook::actions;
use tackbook::actions::Context;
use tackbook::actions::shop::car_file;

use crate::child::{FOLDER, keep, open, say};
use crate::folder::Folder;
use crate::promised::Promised;
use crate::rounds::{answer, made};

/// What the process that loads a car is called among the tests.
pub(crate) const LOADS_A_CAR: &str = "cars::loads_a_car_until_it_is_ended";
/// Where the process finds the car's file.
pub(crate) const CAR: &str = "TACKBOOK_TEST_CAR";

#[tokio::test]
#[ignore = "the other tests start it as a process of its own"]
async fn loads_a_car_until_it_is_ended() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).unwrap());
    let (ctx, _) = open(&folder).await;
    say("OPEN");
    let file = std::fs::File::open(std::env::var_os(CAR).unwrap()).unwrap();
    let loaded = car_file::load(&ctx, file, |_| ()).await.unwrap();
    say(&format!("LOADED {}", loaded.slug));
    std::future::pending::<()>().await;
}

/// Makes the file of a car with photographs, a round and a reply, in another shop.
pub(crate) async fn car(to: &Path) {
    let shop = Folder::new();
    let (ctx, build) = open(&shop.0).await;
    for number in 0..3 {
        keep(&ctx, build, number, 9_000).await.unwrap();
    }
    let round = actions::recorded::rounds::issue(&ctx, build, made(&ctx, build, 1).await).await.unwrap();
    actions::recorded::rounds::reply(&ctx, build, answer(&round)).await.unwrap();
    std::fs::write(to, saved(&ctx, build).await).unwrap();
    ctx.store.close().await;
}

/// A build's file.
async fn saved(ctx: &Context, build: tackbook::domain::words::ids::BuildId) -> Vec<u8> {
    let saving = car_file::prepare(ctx, build, &|_| ()).await.unwrap();
    let mut bytes = Cursor::new(Vec::new());
    saving.writing.write_to(&mut bytes, &|_| ()).await.unwrap();
    bytes.into_inner()
}

/// Every promise about cars that was broken, and a car that is there in part: saved again it is not the file it came with.
pub(crate) async fn broken(ctx: &Context, promised: &Promised) -> Vec<String> {
    let mut broken = Vec::new();
    let builds = ctx.store.builds().await.unwrap();
    for slug in &promised.loaded {
        if !builds.iter().any(|build| build.slug == *slug) {
            broken.push(format!("{slug} was loaded and is not there"));
        }
    }
    for build in &builds {
        if ctx.store.came_with(build.id).await.unwrap().is_none() {
            continue;
        }
        if !promised.cars.contains(&saved(ctx, build.id).await) {
            broken.push(format!("{} is there, and saved again it is another car", build.name));
        }
    }
    broken
}

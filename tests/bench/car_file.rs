//! A car's file of 1,000 photographs and 2 GB saved and loaded, beside `tar` and `sha256sum` of the same photographs.
//!
//! Saving reads every photograph twice (once to know its hash is still the recorded one, once to write it), loading reads the file once and writes
//! each to its place; the peers read, write and hash each once as well. All four end with their bytes on the disk.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::LazyLock;

use divan::Bencher;
use divan::counter::BytesCount;
use tackbook::actions::shop::car_file;

use crate::folder::Folder;
use crate::shop::Shop;

/// Photographs and the bytes of each: `TACKBOOK_BENCH_PHOTOS` takes fewer.
const PHOTOS: usize = 1000;
const SIZE: usize = 2_000_000;

/// A shop with the car, its photographs' folder, and the file that was saved of it.
struct Car {
    shop: Shop,
    build: tackbook::domain::words::ids::BuildId,
    aside: Folder,
    bytes: usize,
}

static CAR: LazyLock<Car> = LazyLock::new(|| {
    let photos = std::env::var("TACKBOOK_BENCH_PHOTOS").map_or(PHOTOS, |text| text.parse().unwrap());
    let shop = Shop::new();
    let build = shop.build_of("Pine Coupe", photos, SIZE);
    let car = Car { shop, build, aside: Folder::new(), bytes: photos * SIZE };
    saved(&car, &car.file());
    car
});

impl Car {
    fn file(&self) -> PathBuf {
        self.aside.0.join("car.zip")
    }

    fn photos(&self) -> PathBuf {
        self.shop.folder().join("photos")
    }
}

fn saved(car: &Car, out: &Path) {
    car.shop.runtime.block_on(async {
        let saving = car_file::prepare(&car.shop.office, car.build, &|_| {}).await.unwrap();
        let mut to = tokio::fs::File::create(out).await.unwrap();
        saving.writing.write_to(&mut to, &|_| {}).await.unwrap();
        to.sync_all().await.unwrap();
    });
}

fn run(program: &str, arguments: &[&str]) {
    assert!(Command::new(program).args(arguments).stdout(Stdio::null()).status().unwrap().success());
}

/// The hash of every photograph, by `sha256sum`.
fn hashed(folder: &Path) {
    let list = format!("find '{}' -type f -print0 | xargs -0 sha256sum", folder.display());
    run("sh", &["-c", &list]);
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn saved_by_us(bencher: Bencher) {
    let car = &*CAR;
    let out = car.aside.0.join("again.zip");
    bencher.counter(BytesCount::new(car.bytes)).bench_local(|| saved(car, &out));
}

/// The peer: hashed, put into one file and synced.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn saved_by_tar_and_sha256sum(bencher: Bencher) {
    let car = &*CAR;
    let (photos, out) = (car.photos(), car.aside.0.join("again.tar"));
    bencher.counter(BytesCount::new(car.bytes)).bench_local(|| {
        hashed(&photos);
        run("tar", &["-cf", out.to_str().unwrap(), "-C", photos.to_str().unwrap(), "."]);
        File::open(&out).unwrap().sync_all().unwrap();
    });
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn loaded_by_us(bencher: Bencher) {
    let car = &*CAR;
    bencher.counter(BytesCount::new(car.bytes)).with_inputs(Shop::new).bench_local_refs(|shop| {
        let from = File::open(car.file()).unwrap();
        shop.runtime.block_on(car_file::load(&shop.office, from, |_| {})).unwrap();
    });
}

/// The peer: taken out of one file, hashed, each synced.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn loaded_by_tar_and_sha256sum(bencher: Bencher) {
    let car = &*CAR;
    let tar = car.aside.0.join("again.tar");
    run("tar", &["-cf", tar.to_str().unwrap(), "-C", car.photos().to_str().unwrap(), "."]);
    bencher.counter(BytesCount::new(car.bytes)).with_inputs(Folder::new).bench_local_refs(|to| {
        run("tar", &["-xf", tar.to_str().unwrap(), "-C", to.0.to_str().unwrap()]);
        hashed(&to.0);
        run("sh", &["-c", &format!("find '{}' -type f -print0 | xargs -0 sync", to.0.display())]);
    });
}

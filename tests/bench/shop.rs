//! A shop to measure in, filled through actions only.

use std::path::Path;
use std::sync::Arc;

use tackbook::actions::recorded::photos::{Finished, Look, Looked, Whole};
use tackbook::actions::{self, Context, Memory};
use tackbook::clock::Clock;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::shop::builds::NewBuild;
use tackbook::domain::shop::looks::Seen;
use tackbook::domain::weight::weigh_in::{Loads, Pads, Reading};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::quantity::{Mass, Typed, Units};
use tackbook::store::Store;
use tackbook::store::vault::{Item, View};
use tokio::runtime::Runtime;

use crate::folder::Folder;
use crate::picture::jpeg;

/// An open shop and what runs it.
pub(crate) struct Shop {
    pub(crate) office: Context,
    pub(crate) runtime: Runtime,
    folder: Folder,
}

/// Says of every photograph that it is one: here it is not looked at.
pub(crate) fn unseen() -> Look {
    Arc::new(|_| {
        Box::pin(async {
            {
                let seen = Seen { width: 1200, height: 900, sharpness: 500.0, mean: 120.0, ..Seen::default() };
                Looked { seen: Some(seen), remarks: Vec::new() }
            }
        })
    })
}

/// Puts numbers that look like chance behind a picture's end until it has its size.
fn longer(bytes: &mut Vec<u8>, size: usize, seed: u32) {
    let mut state = u64::from(seed) << 1 | 1;
    while bytes.len() < size {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        bytes.extend_from_slice(&state.to_le_bytes());
    }
}

fn pounds(text: &str) -> Typed<Mass> {
    Typed::read_as(text, Units::Inch).unwrap()
}

impl Shop {
    pub(crate) fn new() -> Self {
        let runtime = Runtime::new().unwrap();
        let folder = Folder::new();
        let office = runtime.block_on(async {
            let store = Store::open(&folder.0).await.unwrap();
            let clock = Clock::held_at("2026-05-04T09:30:00Z".parse().unwrap());
            let link = actions::shop::people::make_setup_link(&store, &clock).await.unwrap().unwrap();
            let office =
                actions::shop::people::begin_shop(&store, &clock, &link, "office", "four walls and a floor").await;
            let by = office.unwrap().person;
            let office = Context { store, clock, by, memory: Memory::default() };
            let toml = include_str!("../../src/demo/book.toml").to_owned();
            actions::book::rule_books::add(&office, toml).await.unwrap();
            office
        });
        Self { office, runtime, folder }
    }

    /// Where it lies.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder.0
    }

    /// A weighed car with the example's cage and so many photographs.
    pub(crate) fn build(&self, name: &str, photos: usize) -> BuildId {
        self.build_of(name, photos, 0)
    }

    /// The same, each photograph of at least so many bytes: behind the picture's end stands what makes it so, as some phones write a film.
    pub(crate) fn build_of(&self, name: &str, photos: usize, size: usize) -> BuildId {
        self.runtime.block_on(async {
            let ctx = &self.office;
            let book = ctx.store.books().await.unwrap().first().map(|book| book.id);
            let new = NewBuild { name: name.to_owned(), about: String::new(), book, event_day: None };
            let build = actions::shop::builds::begin(ctx, new).await.unwrap().id;
            let conditions = ["tank at half", "crew out", "loose gear out", "stage wheels on"].map(str::to_owned);
            let pads = Pads {
                left_front: pounds("661"),
                right_front: pounds("650"),
                left_rear: pounds("640"),
                right_rear: pounds("645"),
            };
            let reading = Reading::of(Loads::Pads(pads), pounds("1"), conditions.to_vec());
            actions::weight::weigh_in::record(ctx, build, reading).await.unwrap();
            let cage = example_record();
            actions::recorded::cage::save(ctx, build, 0, &cage).await.unwrap();
            let shots = Findings::of(&ctx.store.facts(build).await.unwrap(), ctx.clock.today()).worked.shots;
            for (seed, shot) in (1..).zip(shots.iter().cycle().take(photos)) {
                let mut bytes = jpeg(1200, 900, seed, 80);
                longer(&mut bytes, size, seed);
                let sha256 = Fingerprint::of(&bytes);
                let whole = Whole {
                    capture: uuid::Uuid::now_v7().into(),
                    shot: shot.name(),
                    note: String::new(),
                    bytes: bytes.clone(),
                };
                let kept = actions::recorded::photos::keep_whole(ctx, build, whole, &unseen()).await.unwrap();
                assert!(matches!(kept, Finished::Kept(_)));
                let vault = ctx.store.vault();
                vault.put(Item::View(sha256, View::Print), bytes).await.unwrap();
            }
            build
        })
    }
}

//! The sheets of cars' files.

use askama::Template;

use crate::actions::shop::signing::fingerprint;
use crate::domain::shop::people::{Deed, may};
use crate::store::car_file::CameWith;
use crate::web::gate::{Seen, SignedIn};
use crate::web::page::Sheet;

/// Where a car's file is saved, and what it is.
#[derive(Template)]
#[template(path = "car_file/sheet.html")]
pub(super) struct CarFile {
    sheet: Sheet,
    base: String,
    may_save: bool,
    photos: usize,
    megabytes: String,
    rounds: usize,
    came: Option<Came>,
}

/// With which file it came.
struct Came {
    loaded: String,
    by: String,
    key: String,
}

impl CarFile {
    pub(super) fn of(seen: &Seen, came: Option<&CameWith>) -> Self {
        let received = || seen.facts.photos.iter().filter(|photo| photo.received.is_some());
        let bytes: u64 = received().map(|photo| photo.size).sum();
        let clock = &seen.who.ctx.clock;
        Self {
            sheet: seen.sheet("Car's file"),
            base: seen.address(""),
            may_save: may(seen.who.ctx.by.role, Deed::RunShop),
            photos: received().count(),
            megabytes: format!("{}", bytes.div_ceil(1_000_000)),
            rounds: seen.facts.rounds.len(),
            came: came.map(|came| Came {
                loaded: clock.minute_of(came.loaded),
                by: came.by.clone(),
                key: fingerprint(&came.public),
            }),
        }
    }
}

/// Where a car is loaded from its file.
#[derive(Template)]
#[template(path = "car_file/load.html")]
pub(super) struct Load {
    sheet: Sheet,
    faults: Vec<String>,
}

impl Load {
    pub(super) fn of(who: &SignedIn, faults: Vec<String>) -> Self {
        Self { sheet: Sheet::of_shop(who, "A car from its file"), faults }
    }
}

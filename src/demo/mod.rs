//! The demo shop: invented builds, drawn photographs, everything done as people do it, only earlier.

mod builds;
mod cages;
mod error;
mod house;
mod pictures;
mod standing;

use std::sync::Arc;

use crate::actions::recorded::photos::Look;
use crate::clock::Clock;
use crate::domain::shop::people::Role;
use crate::store::Store;

pub use error::DemoError;
pub use standing::{Standing, standing};

/// A sign-in of the demo shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SignIn {
    /// What this person is to the shop.
    pub role: Role,
    /// The name.
    pub name: &'static str,
    /// The password: everybody can read it here, so nothing real belongs into a demo shop.
    pub password: &'static str,
}

/// The demo shop's people.
pub const SIGN_INS: [SignIn; 3] = [
    SignIn { role: Role::Office, name: "office", password: "drawn demo office" },
    SignIn { role: Role::Fabricator, name: "fabricator", password: "drawn demo fabricator" },
    SignIn { role: Role::Scrutineer, name: "scrutineer", password: "drawn demo scrutineer" },
];

/// How much of the demo shop is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    /// How many builds, the one to work on first.
    pub builds: usize,
    /// At most so many photographs of each.
    pub photos: usize,
}

impl Default for Wanted {
    fn default() -> Self {
        Self { builds: builds::ALL.len(), photos: usize::MAX }
    }
}

/// Says how far the making is: which build, how many of its photographs are drawn, of how many.
pub type Progress = Arc<dyn Fn(&str, usize, usize) + Send + Sync>;

/// A demo shop with its people and its book, and no build yet.
pub struct Begun {
    house: house::House,
    clock: Clock,
    wanted: Wanted,
}

/// Begins the demo shop in an empty one: whoever is in it can sign in.
pub async fn begin(
    store: &Store,
    look: &Look,
    clock: &Clock,
    wanted: Wanted,
    progress: Progress,
) -> Result<Begun, DemoError> {
    standing::say(store, house::begun(clock), standing::BEGUN).await?;
    let house = house::House::open(store, look, clock, wanted.photos, progress).await?;
    Ok(Begun { house, clock: clock.clone(), wanted })
}

impl Begun {
    /// Makes its builds, one after another. It can be looked at meanwhile.
    pub async fn make(self) -> Result<(), DemoError> {
        for build in builds::ALL.into_iter().filter(|build| build.rank <= self.wanted.builds) {
            (build.make)(&self.house).await?;
        }
        standing::say(&self.house.store, self.clock.now(), standing::FINISHED).await
    }
}

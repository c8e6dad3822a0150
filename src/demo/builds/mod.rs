//! The demo's builds, each at another point of its way, the oldest first.

mod asked;
mod kit;
mod log_only;
mod released;
mod rounds;
mod steps;
mod tacked;
mod weighed;
mod welds;

use std::future::Future;
use std::pin::Pin;

use super::DemoError;
use super::house::House;

/// The making of a build.
type Making<'h> = Pin<Box<dyn Future<Output = Result<(), DemoError>> + Send + 'h>>;

/// One of the demo's builds.
#[derive(Clone, Copy)]
pub(super) struct DemoBuild {
    /// Which it is when only some are wanted: 1 is the one to work on.
    pub(super) rank: usize,
    /// Makes it.
    pub(super) make: for<'h> fn(&'h House) -> Making<'h>,
}

/// All of them in the order of their days: the log of the shop runs through all.
pub(super) const ALL: [DemoBuild; 5] = [
    DemoBuild { rank: 4, make: |house| Box::pin(released::make(house)) },
    DemoBuild { rank: 3, make: |house| Box::pin(asked::make(house)) },
    DemoBuild { rank: 5, make: |house| Box::pin(log_only::make(house)) },
    DemoBuild { rank: 1, make: |house| Box::pin(tacked::make(house)) },
    DemoBuild { rank: 2, make: |house| Box::pin(weighed::make(house)) },
];

//! What every request needs: the shop, the clock, and how the server is reached.

use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;

use super::car_file::CarTurns;
use super::photos::Uploads;
use super::reached::Reached;
use super::shop::Metrics;
use super::shown::plans::Plans;
use super::shown::under_way::UnderWay;
use crate::actions::Memory;
use crate::actions::recorded::looking;
use crate::actions::recorded::photos::Look;
use crate::actions::shop::checks::Checks;
use crate::actions::shop::strangers::Strangers;
use crate::clock::Clock;
use crate::quantity::Units;
use crate::store::Store;

/// The running program, handed to each request. Cheap to clone.
#[derive(Clone)]
pub struct App {
    /// The shop's records.
    pub store: Store,
    /// What time it is.
    pub clock: Clock,
    /// Host names, beside addresses in figures and `localhost`, that this server answers to.
    pub names: Vec<String>,
    /// Where phones find it.
    pub reached: Arc<Reached>,
    /// What was worked out of each build since it last changed.
    pub memory: Memory,
    /// The cut plans that were searched for.
    pub plans: Plans,
    /// Whoever is not signed in yet.
    pub strangers: Strangers,
    /// Looks at photographs.
    pub look: Look,
    /// The photographs on their way in.
    pub uploads: Uploads,
    /// What was answered, for a program that watches over the shop.
    pub metrics: Metrics,
    /// Whose turn it is to check the shop.
    pub checks: Checks,
    /// Who may save or load a car's file now.
    pub cars: CarTurns,
    /// The units of readers who have chosen none, where no build's book says others.
    pub units: Units,
    /// What the program does meanwhile.
    pub under_way: UnderWay,
}

impl App {
    /// A shop in a browser. `program` is this program's own file: photographs are looked at in a process of it.
    pub fn new(store: Store, clock: Clock, names: Vec<String>, program: PathBuf) -> Self {
        let look = looking::in_child(store.clone(), program);
        let (memory, plans, reached) = (Memory::default(), Plans::default(), Arc::default());
        let (uploads, cars) = (Uploads::default(), CarTurns::default());
        let (strangers, checks, metrics) = (Strangers::default(), Checks::default(), Metrics::default());
        let (units, under_way) = (Units::Inch, UnderWay::default());
        Self {
            store,
            clock,
            names,
            reached,
            memory,
            plans,
            strangers,
            look,
            uploads,
            metrics,
            checks,
            cars,
            units,
            under_way,
        }
    }
}

impl fmt::Debug for App {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("App").field("store", &self.store).field("names", &self.names).finish_non_exhaustive()
    }
}

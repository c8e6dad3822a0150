//! Puts the floors together and keeps the server going until it is told to stop.

mod door;
mod nightly;
mod patient;
mod places;
mod reached;
mod stopping;
mod tls;

use std::io;
use std::net::IpAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use tokio::net::TcpListener;

use self::door::Door;
use self::nightly::Nights;
use self::tls::Tls;
use crate::actions::{self, ActionError, Context};
use crate::clock::Clock;
use crate::demo::{self, DemoError, Standing, Wanted};
use crate::domain::words::fingerprint::Fingerprint;
use crate::quantity::Units;
use crate::store::{BroughtUp, Store, StoreError};
use crate::web::{App, Metrics, router};

pub use self::reached::outward;

/// Why the server could not start.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// The shop's folder cannot be used.
    #[error("The shop's folder cannot be used: {0}.")]
    Store(#[from] StoreError),
    /// The shop could not be made ready.
    #[error("The shop could not be made ready: {0}.")]
    Action(#[from] ActionError),
    /// The address is taken or not ours.
    #[error("The address {address} cannot be listened on: {why}. Choose another with --listen.")]
    Address {
        /// The address asked for.
        address: String,
        /// What the system said.
        why: io::Error,
    },
    /// The program's own file, which looks at photographs, cannot be found.
    #[error("The program cannot find its own file: {0}. Put it where it stays, and start it again.")]
    Program(io::Error),
    /// The certificate cannot be used.
    #[error("The certificate cannot be used: {0}. Make another one, or leave it out and serve plain http.")]
    Certificate(String),
    /// Names for a certificate will not do.
    #[error("{0}")]
    Names(String),
    /// A file cannot be read.
    #[error("{file} cannot be read: {why}. Look at the name and whether it may be read.")]
    File {
        /// The file.
        file: String,
        /// What the system said.
        why: io::Error,
    },
    /// The folder is somebody's real shop.
    #[error("{0} is a real shop; a demo is never made over one. Choose another folder with --folder.")]
    RealShop(String),
    /// The folder's demo shop was never made to its end.
    #[error("The demo shop in {0} was not made to its end. Delete the folder and call again.")]
    HalfDemo(String),
    /// The demo shop could not be made.
    #[error("The demo shop could not be made: {0}.")]
    Demo(#[from] DemoError),
    /// The program could not listen for being told to stop.
    #[error("The program could not be told to stop: {0}.")]
    Stopped(io::Error),
}

/// What is said on each sheet while a demo shop is made; between its halves stands how far it is.
const DRAWING: [&str; 2] = ["The demo shop is still being made", ". Look round meanwhile."];
/// What to do about one that was not made to its end.
const NOT_WHOLE: &str = "Stop the program, delete the folder, and call again.";

/// A shop opened and an address taken, ready to serve.
pub struct Server {
    folder: PathBuf,
    listener: TcpListener,
    tls: Option<Tls>,
    app: App,
}

impl Server {
    /// Opens the shop in a folder, making an empty one where there is none, and takes the address. `given` are the PEM
    /// files of a certificate and its key; without them the shop's own is shown, where one was made.
    pub async fn open(
        folder: &Path,
        listen: &str,
        mut names: Vec<String>,
        given: Option<(&Path, &Path)>,
    ) -> Result<Self, StartError> {
        let store = Store::open(folder).await?;
        let refused = |why| StartError::Address { address: listen.to_owned(), why };
        let listener = TcpListener::bind(listen).await.map_err(refused)?;
        let program = std::env::current_exe().map_err(StartError::Program)?;
        let clock = Clock::of_machine();
        let tls = match given {
            Some((certificate, key)) => Some(Tls::given(certificate, key)?),
            None => actions::shop::certificate::own_in_time(folder, clock.today())?.map(Tls::own).transpose()?,
        };
        let carried = tls.iter().flat_map(|tls| &tls.names).filter(|name| name.parse::<IpAddr>().is_err());
        names.extend(carried.cloned());
        let listening = listener.local_addr().map_err(refused)?;
        let reached = Arc::new(reached::reached(listening, &names, tls.as_ref()));
        let app = App { reached, ..App::new(store, clock, names, program) };
        Ok(Self { folder: folder.to_owned(), listener, tls, app })
    }

    /// Tells figures of how it runs at `/metrics`, to this machine and to these addresses.
    pub fn tell_figures(&mut self, to: Vec<IpAddr>) {
        self.app.metrics = Metrics::told_to(to);
    }

    /// What became of the records of an earlier program; none where they were in this one's form.
    pub fn brought_up(&self) -> Option<&BroughtUp> {
        self.app.store.brought_up()
    }

    /// The address by which people reach the shop.
    pub fn address(&self) -> &str {
        &self.app.reached.address
    }

    /// Where a phone goes first: with an authority of the shop's own, to what it has to be told to trust.
    pub fn first_for_phones(&self) -> String {
        let reached = &self.app.reached;
        if reached.authority.is_some() { format!("{}/trust", reached.plain) } else { reached.address.clone() }
    }

    /// The SHA-256 of the shop's own authority; none where it has none.
    pub fn authority(&self) -> Option<Fingerprint> {
        self.app.reached.authority.as_deref().map(Fingerprint::of)
    }

    /// Begins the demo shop where the folder is empty; none where one is there, which is left as it is. A real shop is refused. Its book
    /// is metric, and so is what it shows to who has not chosen. How far it is, is said on each sheet, and to `progress`.
    pub async fn begin_demo(
        &mut self,
        folder: &Path,
        wanted: Wanted,
        progress: demo::Progress,
    ) -> Result<Option<demo::Begun>, StartError> {
        let named = || folder.display().to_string();
        self.app.units = Units::Metric;
        match demo::standing(&self.app.store).await? {
            Standing::Demo => Ok(None),
            Standing::Real => Err(StartError::RealShop(named())),
            Standing::Unfinished => Err(StartError::HalfDemo(named())),
            Standing::Empty => {
                let under_way = self.app.under_way.clone();
                under_way.say(DRAWING.concat());
                let said = move |build: &str, done: usize, of: usize| {
                    let [begins, ends] = DRAWING;
                    under_way.say(format!("{begins}: photograph {done} of {of} of {build} is drawn{ends}"));
                    progress(build, done, of);
                };
                let App { store, look, clock, .. } = &self.app;
                Ok(Some(demo::begin(store, look, clock, wanted, Arc::new(said)).await?))
            }
        }
    }

    /// Serves the demo shop; one that was only begun is made meanwhile, and `whole` is called when it is there.
    pub async fn serve_demo(
        self,
        begun: Option<demo::Begun>,
        whole: impl FnOnce() + Send + 'static,
    ) -> Result<(), StartError> {
        let Some(begun) = begun else {
            whole();
            return self.serve(None).await;
        };
        let (under_way, shop) =
            (self.app.under_way.clone(), Context::of_the_machine(self.app.store.clone(), self.app.clock.clone()));
        let making = tokio::spawn(async move {
            match begun.make().await {
                Ok(()) => {
                    notice_key(&shop).await;
                    under_way.say(String::new());
                    whole();
                }
                Err(error) => {
                    tracing::error!(%error, "the demo shop was not made to its end");
                    under_way.say(format!("The demo shop could not be made to its end: {error}. {NOT_WHOLE}"));
                }
            }
        });
        let served = self.served(None).await;
        making.abort();
        served
    }

    /// The path of the one-time link that makes the first office sign-in; none when the shop has people.
    pub async fn setup_link(&self) -> Result<Option<String>, StartError> {
        let token = actions::shop::people::make_setup_link(&self.app.store, &self.app.clock).await?;
        Ok(token.map(|token| format!("/set-up/{token}")))
    }

    /// Serves until the program is told to stop, then closes the shop in good order, whatever who is connected does. Each
    /// night the shop is checked, and a backup is made into a folder, where one is given.
    pub async fn serve(self, backup_to: Option<PathBuf>) -> Result<(), StartError> {
        // not before a demo shop is made: a log that has an entry is a real shop's
        notice_key(&Context::of_the_machine(self.app.store.clone(), self.app.clock.clone())).await;
        self.served(backup_to).await
    }

    async fn served(self, backup_to: Option<PathBuf>) -> Result<(), StartError> {
        let stop = stopping::told().map_err(StartError::Stopped)?;
        let (store, clock) = (self.app.store.clone(), self.app.clock.clone());
        let tidying = tokio::spawn(drop_old_parts_daily(store.clone(), clock.clone()));
        let checks = self.app.checks.clone();
        let nights = Nights { shop: self.folder, to: backup_to, store: store.clone(), clock, checks };
        let nights = tokio::spawn(nights.pass());
        let door = Door::at(self.listener, self.tls.map(|tls| tls.acceptor));
        door.serve(router(self.app), stop).await;
        tidying.abort();
        nights.abort();
        store.close().await;
        Ok(())
    }
}

async fn notice_key(shop: &Context) {
    if let Err(error) = actions::shop::signing::notice(shop).await {
        tracing::warn!(%error, "the key that packets are signed by could not be looked at; Health says more");
    }
}

async fn drop_old_parts_daily(store: Store, clock: Clock) {
    let mut days = tokio::time::interval(Duration::from_hours(24));
    loop {
        days.tick().await;
        match actions::recorded::photos::drop_old_parts(&store, &clock).await {
            Ok(0) => {}
            Ok(dropped) => tracing::info!(dropped, "parts of photographs that nobody went on with were dropped"),
            Err(error) => tracing::warn!(%error, "old parts of photographs could not be looked through"),
        }
    }
}

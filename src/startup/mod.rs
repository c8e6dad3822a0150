//! Puts the floors together and keeps the server going until it is told to stop.

use std::io;
use std::net::SocketAddr;
use std::path::Path;
use std::time::Duration;

use tokio::net::TcpListener;

use crate::actions::{self, ActionError};
use crate::clock::Clock;
use crate::demo::{self, DemoError, Standing, Wanted};
use crate::store::{Store, StoreError};
use crate::web::{App, router};

/// Why the server could not start.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// The shop's folder cannot be used.
    #[error("The shop's folder cannot be used: {0}.")]
    Store(#[from] StoreError),
    /// The first sign-in could not be prepared.
    #[error("The first sign-in could not be prepared: {0}.")]
    Link(#[from] ActionError),
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
    /// The server stopped by itself.
    #[error("The server stopped: {0}.")]
    Stopped(io::Error),
}

/// A shop opened and an address taken, ready to serve.
#[derive(Debug)]
pub struct Server {
    listener: TcpListener,
    app: App,
}

impl Server {
    /// Opens the shop in a folder, making an empty one where there is none, and takes the address.
    pub async fn open(folder: &Path, listen: &str, names: Vec<String>) -> Result<Self, StartError> {
        let store = Store::open(folder).await?;
        let refused = |why| StartError::Address { address: listen.to_owned(), why };
        let listener = TcpListener::bind(listen).await.map_err(refused)?;
        let program = std::env::current_exe().map_err(StartError::Program)?;
        Ok(Self { listener, app: App::new(store, Clock::of_machine(), names, program) })
    }

    /// The address taken.
    pub fn address(&self) -> Result<SocketAddr, StartError> {
        self.listener.local_addr().map_err(StartError::Stopped)
    }

    /// Makes the demo shop where the folder is empty; leaves one that is there as it is, and refuses a real shop.
    pub async fn make_demo(
        &self,
        folder: &Path,
        wanted: Wanted,
        progress: demo::Progress<'_>,
    ) -> Result<(), StartError> {
        let named = || folder.display().to_string();
        match demo::standing(&self.app.store).await? {
            Standing::Demo => Ok(()),
            Standing::Real => Err(StartError::RealShop(named())),
            Standing::Unfinished => Err(StartError::HalfDemo(named())),
            Standing::Empty => {
                demo::make(&self.app.store, &self.app.look, &self.app.clock, wanted, progress).await?;
                Ok(())
            }
        }
    }

    /// The path of the one-time link that makes the first office sign-in; none when the shop has people.
    pub async fn setup_link(&self) -> Result<Option<String>, StartError> {
        let token = actions::people::make_setup_link(&self.app.store, &self.app.clock).await?;
        Ok(token.map(|token| format!("/set-up/{token}")))
    }

    /// Serves until the program is told to stop, then closes the shop in good order.
    pub async fn serve(self) -> Result<(), StartError> {
        let store = self.app.store.clone();
        let tidying = tokio::spawn(drop_old_parts_daily(store.clone(), self.app.clock.clone()));
        let served = axum::serve(self.listener, router(self.app)).with_graceful_shutdown(told_to_stop()).await;
        tidying.abort();
        store.close().await;
        served.map_err(StartError::Stopped)
    }
}

async fn drop_old_parts_daily(store: Store, clock: Clock) {
    let mut days = tokio::time::interval(Duration::from_hours(24));
    loop {
        days.tick().await;
        match actions::photos::drop_old_parts(&store, &clock).await {
            Ok(0) => {}
            Ok(dropped) => tracing::info!(dropped, "parts of photographs that nobody went on with were dropped"),
            Err(error) => tracing::warn!(%error, "old parts of photographs could not be looked through"),
        }
    }
}

async fn told_to_stop() {
    let interrupted = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = interrupted => {}
                _ = ended.recv() => {}
            }
            return;
        }
    }
    if interrupted.await.is_err() {
        tracing::warn!("the program cannot be told to stop by a key here; end it from outside");
    }
}

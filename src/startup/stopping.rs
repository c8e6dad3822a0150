//! How the program is told to stop: once in good order, twice at once, and never so that it goes on.

use std::io;
use std::thread::Builder;
use std::time::Duration;

use tokio::sync::watch;

/// How long stopping in good order may take before the program ends all the same. Nothing kept is lost by it: the records and
/// the originals are safe through a power cut.
const LONGEST: Duration = Duration::from_secs(9);

/// Listens for it on a thread of its own: however busy the others are, it is heard.
pub(super) fn told() -> io::Result<watch::Receiver<bool>> {
    let (tell, told) = watch::channel(false);
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let listening = {
        let _inside = runtime.enter();
        Signals::new()?
    };
    Builder::new().name("stopping".to_owned()).spawn(move || runtime.block_on(stop(listening, tell)))?;
    Ok(told)
}

async fn stop(mut signals: Signals, tell: watch::Sender<bool>) {
    signals.next().await;
    tracing::info!("stopping; once more stops at once");
    // nobody may be listening any more
    let _ = tell.send(true);
    tokio::select! {
        () = signals.next() => tracing::warn!("stopped at once"),
        () = tokio::time::sleep(LONGEST) => tracing::warn!("something did not end; stopped without it"),
    }
    std::process::exit(1);
}

#[cfg(unix)]
struct Signals {
    interrupted: tokio::signal::unix::Signal,
    ended: tokio::signal::unix::Signal,
}

#[cfg(unix)]
impl Signals {
    fn new() -> io::Result<Self> {
        use tokio::signal::unix::{SignalKind, signal};
        Ok(Self { interrupted: signal(SignalKind::interrupt())?, ended: signal(SignalKind::terminate())? })
    }

    async fn next(&mut self) {
        tokio::select! {
            _ = self.interrupted.recv() => {}
            _ = self.ended.recv() => {}
        }
    }
}

#[cfg(not(unix))]
struct Signals;

#[cfg(not(unix))]
impl Signals {
    fn new() -> io::Result<Self> {
        Ok(Self)
    }

    async fn next(&mut self) {
        if tokio::signal::ctrl_c().await.is_err() {
            tracing::warn!("the program cannot be told to stop by a key here; end it from outside");
            std::future::pending::<()>().await;
        }
    }
}

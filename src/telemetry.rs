//! What the program writes about itself: plain lines on standard error, or JSON.

use tracing_subscriber::EnvFilter;

/// Starts writing. `TACKBOOK_LOG` says how much (`info`, `tackbook=debug`), `TACKBOOK_LOG_JSON` that it is JSON.
pub fn start() {
    let filter = EnvFilter::try_from_env("TACKBOOK_LOG").unwrap_or_else(|_| EnvFilter::new("warn"));
    let lines = tracing_subscriber::fmt().with_env_filter(filter).with_writer(std::io::stderr);
    if std::env::var_os("TACKBOOK_LOG_JSON").is_some() { lines.json().init() } else { lines.init() }
}

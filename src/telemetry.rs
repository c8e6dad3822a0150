//! What the program writes about itself: plain lines on standard error, or JSON.

use tracing_subscriber::filter::{LevelFilter, Targets};
use tracing_subscriber::fmt;
use tracing_subscriber::prelude::*;

/// Starts writing. `TACKBOOK_LOG` says how much (`info`, `tackbook=debug`), `TACKBOOK_LOG_JSON` that it is JSON.
pub fn start() {
    let wanted = filter(std::env::var("TACKBOOK_LOG").ok().as_deref());
    let lines = fmt::layer().with_writer(std::io::stderr);
    let all = tracing_subscriber::registry().with(wanted);
    if std::env::var_os("TACKBOOK_LOG_JSON").is_some() { all.with(lines.json()).init() } else { all.with(lines).init() }
}

/// How much is written: what is asked for, and warnings where nothing is or where it does not read.
fn filter(asked: Option<&str>) -> Targets {
    let read = asked.filter(|asked| !asked.trim().is_empty()).and_then(|asked| asked.parse().ok());
    read.unwrap_or_else(|| Targets::new().with_default(LevelFilter::WARN))
}

#[cfg(test)]
mod tests {
    use tracing::Level;

    use super::filter;

    #[test]
    fn as_much_is_written_as_is_asked_for() {
        for (asked, ours, others) in [
            (None, Level::WARN, Some(Level::WARN)),
            (Some(""), Level::WARN, Some(Level::WARN)),
            (Some("tackbook=[loud"), Level::WARN, Some(Level::WARN)),
            (Some("info"), Level::INFO, Some(Level::INFO)),
            (Some("tackbook=debug"), Level::DEBUG, None),
            (Some("warn,tackbook::store=trace,tackbook=info"), Level::INFO, Some(Level::WARN)),
        ] {
            let filter = filter(asked);
            let most = |target: &str| {
                let levels = [Level::TRACE, Level::DEBUG, Level::INFO, Level::WARN, Level::ERROR];
                levels.into_iter().find(|level| filter.would_enable(target, level))
            };
            assert_eq!((most("tackbook::web"), most("sqlx")), (Some(ours), others), "{asked:?}");
        }
        assert!(filter(Some("warn,tackbook::store=trace")).would_enable("tackbook::store::lane", &Level::TRACE));
    }
}

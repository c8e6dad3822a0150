//! Figures for a program that watches over the shop, in Prometheus' text format. Nothing of a build, a person or a file is
//! among them, and nobody is told any unless it was asked for when the program was started.

use std::fmt::Write as _;
use std::net::IpAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use crate::actions::shop::running::{Running, running};
use crate::web::app::App;
use crate::web::carried::CameFrom;
use crate::web::problem::Problem;

/// What was answered since the program began, and who may read the figures. Cheap to clone.
#[derive(Debug, Clone, Default)]
pub struct Metrics {
    /// Answers by the first figure of their status, from 1 to 5.
    answered: Arc<[AtomicU64; 5]>,
    told: Option<Arc<[IpAddr]>>,
}

impl Metrics {
    /// Tells the figures to this machine and to these addresses.
    pub fn told_to(addresses: Vec<IpAddr>) -> Self {
        Self { told: Some(addresses.into()), ..Self::default() }
    }

    /// Counts an answer.
    pub(crate) fn count(&self, status: StatusCode) {
        let class = usize::from(status.as_u16() / 100).checked_sub(1);
        if let Some(count) = class.and_then(|class| self.answered.get(class)) {
            count.fetch_add(1, Ordering::Relaxed);
        }
    }

    fn may(&self, from: IpAddr) -> bool {
        let from = from.to_canonical();
        self.told.as_ref().is_some_and(|told| from.is_loopback() || told.contains(&from))
    }
}

/// The figures; for whoever they are not told to there is nothing here.
pub(super) async fn figures(State(app): State<App>, CameFrom(from): CameFrom) -> Result<Response, Problem> {
    if !app.metrics.may(from) {
        return Err(Problem::NotFound);
    }
    let writes = app.store.healthy().await.is_ok();
    // what cannot be read is left out: that nothing is written is told all the same
    let runs = running(&app.store).await.ok();
    let headers =
        [(header::CONTENT_TYPE, "text/plain; version=0.0.4; charset=utf-8"), (header::CACHE_CONTROL, "no-store")];
    Ok((headers, text(&app.metrics, writes, runs.as_ref())).into_response())
}

/// One figure, with what it is.
struct Figure<T> {
    name: &'static str,
    kind: &'static str,
    help: &'static str,
    value: T,
}

fn put(text: &mut String, figure: Figure<impl ToString>) {
    let Figure { name, kind, help, value } = figure;
    // writing into a text does not fail
    let _ = writeln!(text, "# HELP {name} {help}\n# TYPE {name} {kind}\n{name} {}", value.to_string());
}

fn text(metrics: &Metrics, writes: bool, runs: Option<&Running>) -> String {
    let mut text = String::new();
    let gauge = |name, help, value: i64| Figure { name, kind: "gauge", help, value };
    put(
        &mut text,
        gauge("tackbook_records_write", "1 when a record was written just now, 0 when not.", i64::from(writes)),
    );
    let name = "tackbook_answers_total";
    // writing into a text does not fail
    let _ =
        writeln!(text, "# HELP {name} Answers since the start, by the class of their status.\n# TYPE {name} counter");
    for (class, count) in (1_u8..).zip(metrics.answered.iter()) {
        let _ = writeln!(text, "{name}{{class=\"{class}xx\"}} {}", count.load(Ordering::Relaxed));
    }
    if let Some(bytes) = resident() {
        let (name, help) = ("tackbook_memory_bytes", "Memory of the server itself that is in use.");
        put(&mut text, Figure { name, kind: "gauge", help, value: bytes });
    }
    let Some(runs) = runs else { return text };
    let Running { program, form, engine, .. } = runs;
    let labels = format!("{{program=\"{program}\",form=\"{form}\",sqlite=\"{engine}\"}}");
    let name = "tackbook_versions";
    let _ = writeln!(text, "# HELP {name} The versions, as labels.\n# TYPE {name} gauge\n{name}{labels} 1");
    if let Some(room) = runs.room {
        for (name, help, value) in [
            ("tackbook_disk_free_bytes", "What may still be written on the disk of the shop's folder.", room.free),
            ("tackbook_disk_size_bytes", "That disk, free and taken.", room.whole),
            ("tackbook_disk_reserve_bytes", "With less free than this no photographs are taken.", room.reserve),
        ] {
            put(&mut text, Figure { name, kind: "gauge", help, value });
        }
    }
    if let Some(entry) = &runs.last_entry {
        put(&mut text, gauge("tackbook_log_entries", "Entries of the log.", entry.number));
    }
    if let Some(last) = &runs.backup {
        let help = "When the last backup was made, in seconds since 1970.";
        put(&mut text, gauge("tackbook_last_backup_seconds", help, last.made.as_second()));
        let help = "Files that the last backup should have and could not get whole.";
        put(&mut text, Figure { name: "tackbook_last_backup_lost_files", kind: "gauge", help, value: last.lost });
    }
    if let Some(last) = &runs.check {
        let help = "When the whole shop was last checked, in seconds since 1970.";
        put(&mut text, gauge("tackbook_last_check_seconds", help, last.made.as_second()));
        let help = "1 when all was as it was kept then, 0 when not or when the check came to no end.";
        put(&mut text, gauge("tackbook_last_check_good", help, i64::from(last.good())));
    }
    text
}

/// The memory of this process that is in use, in bytes; none where the system does not say.
fn resident() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
    let kibibytes: u64 = line.split_whitespace().next()?.parse().ok()?;
    kibibytes.checked_mul(1 << 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_told_to_this_machine_and_to_whom_they_were_asked_for_and_else_to_nobody() {
        let address = |text: &str| text.parse::<IpAddr>().unwrap();
        let asked = Metrics::told_to(vec![address("10.1.2.3")]);
        for (from, told) in [
            ("127.0.0.1", true),
            ("::1", true),
            ("::ffff:127.0.0.1", true),
            ("10.1.2.3", true),
            ("::ffff:10.1.2.3", true),
            ("10.1.2.4", false),
            ("0.0.0.0", false),
        ] {
            assert_eq!(asked.may(address(from)), told, "{from}");
            assert!(!Metrics::default().may(address(from)), "{from}");
        }
    }
}

//! What the health and words sheets show.

use askama::Template;

use crate::actions::shop::backup_due::too_old;
use crate::domain::shop::certificate::Lasts;
use crate::domain::words::glossary::WORDS;
use crate::store::backup::Last;
use crate::store::recorded::build_log::LogCheck;
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;
use crate::web::reached::Reached;

/// Whether the records are whole.
#[derive(Template)]
#[template(path = "shop/health.html")]
pub(crate) struct Health {
    sheet: Sheet,
    entries: i64,
    head: String,
    broken_at: String,
    settings: Vec<(&'static str, String, String)>,
    address: String,
    sealed: bool,
    own: bool,
    lasts: Option<Lasts>,
    backup: Option<Backup>,
}

/// The last backup.
struct Backup {
    made: String,
    to: String,
    files: usize,
    lost: usize,
    old: bool,
}

impl Health {
    /// From the log's check and the connections' settings.
    pub(crate) fn of(
        who: &SignedIn,
        log: &LogCheck,
        settings: Vec<(&'static str, String, String)>,
        (reached, backup): (&Reached, Option<&Last>),
    ) -> Self {
        let clock = &who.ctx.clock;
        Self {
            sheet: Sheet::of_shop(who, "Health"),
            entries: log.entries,
            head: log.head.clone(),
            broken_at: log.broken_at.map(|entry| entry.to_string()).unwrap_or_default(),
            settings,
            address: reached.address.clone(),
            sealed: reached.sealed(),
            own: reached.authority.is_some(),
            lasts: reached.until.map(|until| Lasts::of(until, clock.today())),
            backup: backup.map(|last| Backup {
                made: clock.minute_of(last.made),
                to: last.to.clone(),
                files: last.files,
                lost: last.lost,
                old: too_old(last.made, clock.now()),
            }),
        }
    }
}

/// The trade's words.
#[derive(Template)]
#[template(path = "shop/words.html")]
pub(crate) struct Words {
    sheet: Sheet,
    words: &'static [(&'static str, &'static str)],
}

impl Words {
    /// All of them.
    pub(crate) fn of(who: &SignedIn) -> Self {
        Self { sheet: Sheet::of_shop(who, "Words"), words: WORDS }
    }
}

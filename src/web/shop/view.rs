//! What the health and words sheets show.

use askama::Template;

use super::running::{Line, Parts};
use crate::actions::shop::backup_due::{ahead, too_old};
use crate::actions::shop::signing::{Standing, Stands};
use crate::clock::Clock;
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
    key: Vec<Line>,
    parts: Parts,
}

/// How the key stands, and each change of it.
fn key_lines(key: &Standing, clock: &Clock) -> Vec<Line> {
    let line = |words: String, look: bool| Line { words, look };
    let last = key.keys.last().map(|(name, _)| name.as_str()).unwrap_or_default();
    let now = match &key.stands {
        Stands::NotYet => {
            line("None yet: it is made when the shop is next served, or the first round is issued.".to_owned(), false)
        }
        Stands::AsRecorded => {
            line(format!("{last}. Tell it to whoever checks packets some other way than with a packet."), false)
        }
        Stands::Another(here) => line(
            format!(
                "The key in the shop's folder is {here}, and not the one that was recorded last, {last}. Nothing was \
                     signed by it yet."
            ),
            true,
        ),
        Stands::Gone => line(
            format!(
                "The key {last} is not in the shop's folder any more: the next round is signed by a new one, which \
                     whoever checks packets has to be told."
            ),
            true,
        ),
        Stands::Unread(why) => line(format!("No round can be issued: {why}."), true),
    };
    let changes = key.keys.iter().zip(key.keys.iter().skip(1)).map(|((before, _), (after, recorded))| {
        let at = clock.minute_of(recorded.recorded);
        line(
            format!(
                "It changed: {after} in place of {before}, noticed {at} ({}). Packets from before stay signed by the \
                     earlier one. If nobody did that on purpose, somebody else had the folder.",
                recorded.by
            ),
            true,
        )
    });
    std::iter::once(now).chain(changes).collect()
}

/// The last backup.
struct Backup {
    made: String,
    to: String,
    files: usize,
    lost: usize,
    old: bool,
    ahead: bool,
}

impl Health {
    /// From the log's check and the connections' settings.
    pub(crate) fn of(
        who: &SignedIn,
        log: &LogCheck,
        settings: Vec<(&'static str, String, String)>,
        (reached, backup, key): (&Reached, Option<&Last>, &Standing),
        parts: Parts,
    ) -> Self {
        let clock = &who.ctx.clock;
        Self {
            sheet: Sheet::of_shop(who, "Health"),
            key: key_lines(key, clock),
            parts,
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
                ahead: ahead(last.made, clock.now()),
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

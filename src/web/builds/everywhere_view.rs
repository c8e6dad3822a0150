//! What is open across the shop: build by build, each folded with its counts, a hundred builds a page.

use askama::Template;
use jiff::Timestamp;

use super::grouped::worst_first;
use super::lines::{Line, hold, lines, things};
use crate::actions::Looked;
use crate::actions::shop::{backup_due, checks};
use crate::domain::derived::open_items::{Sort, Waits};
use crate::domain::shop::people::{Deed, may};
use crate::store::checked::LastCheck;
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;
use crate::web::paging::{Page, Pages};

/// Lines of a build that stand here (own choice: what a glance takes in).
const SHORT: usize = 5;

/// What is open across the shop.
#[derive(Template)]
#[template(path = "builds/everywhere.html")]
pub(super) struct OpenEverywhere {
    sheet: Sheet,
    things: usize,
    builds: Vec<Folded>,
    /// How many builds have nothing open.
    quiet: usize,
    /// What is told of the shop's own keeping.
    kept: Vec<&'static str>,
    pages: Option<Pages>,
}

/// How the shop itself is kept.
pub(super) struct Kept {
    /// When the last backup was made.
    pub(super) backup: Option<Timestamp>,
    /// What the last check found.
    pub(super) check: Option<LastCheck>,
}

/// One build, folded.
struct Folded {
    name: String,
    to: String,
    hold: String,
    count: usize,
    /// Of whom how many.
    counts: Vec<(&'static str, usize)>,
    /// How many of them are over or short.
    fails: usize,
    lines: Vec<Line>,
    more: usize,
}

impl OpenEverywhere {
    /// From what is recorded of each build, and how the shop is kept; none for what is no page.
    pub(super) fn of(who: &SignedIn, all: &[Looked], kept: &Kept, page: Option<&str>) -> Option<Self> {
        let folded: Vec<Folded> = all.iter().map(|looked| Folded::of(who, looked)).collect();
        let quiet = folded.iter().filter(|build| build.count == 0).count();
        let mut builds: Vec<Folded> = folded.into_iter().filter(|build| build.count > 0).collect();
        let open = builds.iter().map(|build| build.count).sum();
        let page = Page::of(page, builds.len())?;
        let pages = page.describe("Builds", |number| format!("/open?page={number}"));
        builds = builds.drain(page.range()).collect();
        let received = all.iter().flat_map(|looked| &looked.facts.photos).filter_map(|photo| photo.received.as_ref());
        let first = received.map(|received| received.at).min();
        let runs_shop = may(who.ctx.by.role, Deed::RunShop);
        let backup = backup_due::open_item(kept.backup, first, who.ctx.clock.now());
        let kept =
            [checks::open_item(kept.check.as_ref()), backup].into_iter().flatten().filter(|_| runs_shop).collect();
        Some(Self { sheet: Sheet::of_shop(who, "Open items"), things: open, builds, quiet, kept, pages })
    }
}

impl Folded {
    fn of(who: &SignedIn, looked: &Looked) -> Self {
        let facts = &looked.facts;
        let mut open = lines(who, facts, &looked.found);
        open.sort_by_key(|line| worst_first(line.sort));
        let count = things(&open);
        let of_whom = |waits: Waits| {
            let word = waits.word();
            (word, things(open.iter().filter(|line| line.waits_on == word)))
        };
        let people = [Waits::Fabricator, Waits::Office, Waits::Scrutineer, Waits::Outside].map(of_whom);
        let fails = things(open.iter().filter(|line| line.sort == Sort::Fails));
        open.truncate(SHORT);
        Self {
            name: facts.build.name.clone(),
            to: format!("/builds/{}", facts.build.slug),
            hold: hold(looked),
            counts: people.into_iter().filter(|person| person.1 > 0).collect(),
            fails,
            more: count - things(&open),
            count,
            lines: open,
        }
    }
}

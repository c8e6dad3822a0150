//! What is open, line by line: several parts of which the same is asked are one line.

use jiff::civil::Date;

use crate::actions::Looked;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::open_items;
use crate::domain::derived::open_items::{Group, OpenItem, Place, Sort};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::ids::Balloon;
use crate::web::gate::SignedIn;
use crate::web::page::walk_address;

/// So many numbers stand before a line of a short list; of more, the first one. The sheet it leads to has the others.
const NAMED: usize = 2;

/// One open thing as a line, or several that differ in their numbers alone.
pub(super) struct Line {
    pub(super) balloons: Vec<Balloon>,
    pub(super) things: usize,
    pub(super) what: String,
    pub(super) sort: Sort,
    pub(super) to: String,
    pub(super) waits_on: &'static str,
    pub(super) group: Group,
    pub(super) since: String,
}

/// The builds that somebody may see: all of them, or those of which a round was issued.
pub(super) fn seen_by<'l>(who: &SignedIn, all: &'l [Looked]) -> impl Iterator<Item = &'l Looked> {
    let sees_all = may(who.ctx.by.role, Deed::SeeBuilds);
    all.iter().filter(move |looked| sees_all || !looked.facts.rounds.is_empty())
}

/// How the hold of a build stands, in a word or two.
pub(super) fn hold(looked: &Looked) -> String {
    looked.facts.book.as_ref().map_or_else(|| "log only".to_owned(), |_| looked.found.hold_short())
}

pub(super) fn open(who: &SignedIn, facts: &BuildFacts, found: &Findings) -> Vec<OpenItem> {
    open_items::of(facts, found, who.units, &|at| who.ctx.clock.day_of(at))
}

pub(super) fn lines(who: &SignedIn, facts: &BuildFacts, found: &Findings) -> Vec<Line> {
    let today = who.ctx.clock.today();
    let line = |item: OpenItem| Line {
        group: item.group(),
        balloons: item.at.into_iter().collect(),
        things: 1,
        what: item.what,
        sort: item.sort,
        to: format!("/builds/{}{}", facts.build.slug, address(&item.place)),
        waits_on: item.waits_on.word(),
        since: item.since.map(|since| ago(since, today)).unwrap_or_default(),
    };
    let mut lines: Vec<Line> = Vec::new();
    for line in open(who, facts, found).into_iter().map(line) {
        match lines.last_mut().filter(|last| last.says_the_same(&line)) {
            Some(last) => last.take_in(line),
            None => lines.push(line),
        }
    }
    lines
}

/// How many things stand open in these lines.
pub(super) fn things<'l>(open: impl IntoIterator<Item = &'l Line>) -> usize {
    open.into_iter().map(|line| line.things).sum()
}

impl Line {
    /// Whether it asks for the same, at the same place, of the same people, for other parts.
    fn says_the_same(&self, other: &Self) -> bool {
        let asks = |line: &Self| !line.balloons.is_empty();
        asks(self)
            && asks(other)
            && (&self.what, &self.to) == (&other.what, &other.to)
            && (self.sort, self.waits_on, &self.since) == (other.sort, other.waits_on, &other.since)
    }

    /// The first of its numbers, and how many more there are.
    pub(super) fn named(&self) -> (&[Balloon], usize) {
        let shown = if self.balloons.len() > NAMED { 1 } else { NAMED };
        (self.balloons.get(..shown).unwrap_or(&self.balloons), self.balloons.len().saturating_sub(shown))
    }

    fn take_in(&mut self, other: Self) {
        self.balloons.extend(other.balloons);
        self.things += other.things;
    }
}

/// The end of the address of the sheet that settles it.
pub(super) fn address(place: &Place) -> String {
    let end = match place {
        Place::WeighIn => "/weigh-in",
        Place::Build => "/about",
        Place::Cage => "/cage",
        Place::Gussets(Some(joint)) => return format!("/gussets?joint={joint}"),
        Place::Gussets(None) => "/gussets",
        Place::Tube => "/tube",
        Place::Measures => "/measures",
        Place::Verdicts => "/verdicts",
        Place::Car => "/car",
        Place::Rulings => "/rulings",
        Place::Shot(None) => "/walk",
        Place::Shot(Some(name)) => return walk_address(name),
        Place::Photos => "/photos",
        Place::Kit => "/kit",
        Place::Questions => "/questions",
        Place::Rounds => "/rounds",
        Place::Lowering => "/lowering",
        Place::Welds(Some(joint)) => return format!("/welds?joint={joint}"),
        Place::Welds(None) => "/welds",
        Place::Log => "/log",
    };
    end.to_owned()
}

/// How long something is ago, in days.
pub(super) fn ago(since: Date, today: Date) -> String {
    match today.since(since).map(|span| span.get_days()) {
        Ok(0) => "today".to_owned(),
        Ok(1) => "1 day".to_owned(),
        Ok(days) => format!("{days} days"),
        Err(_) => since.to_string(),
    }
}

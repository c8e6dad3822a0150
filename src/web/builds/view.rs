//! What the sheets about vehicles show.

use askama::Template;
use jiff::Timestamp;
use jiff::civil::Date;

use crate::actions::Looked;
use crate::actions::shop::backup_due;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::open_items;
use crate::domain::derived::open_items::{OpenItem, Place, Sort};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::people::{Deed, may};
use crate::domain::weight::foreseen::{CagePart, Outlook};
use crate::domain::words::ids::Kind;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage};
use crate::drawing::car::view::View;
use crate::quantity::{Length, Show};
use crate::web::gate::{Seen, SignedIn};
use crate::web::page::{Sheet, part_address, walk_address};
use crate::web::svg::Svg;

/// One open thing as a line, or several that differ in their numbers alone.
pub(crate) struct Line {
    build: String,
    balloons: Vec<String>,
    things: usize,
    what: String,
    sort: Sort,
    to: String,
    waits_on: &'static str,
    since: String,
}

pub(super) fn open(who: &SignedIn, facts: &BuildFacts, found: &Findings) -> Vec<OpenItem> {
    open_items::of(facts, found, who.units, &|at| who.ctx.clock.day_of(at))
}

fn lines(who: &SignedIn, facts: &BuildFacts, found: &Findings) -> Vec<Line> {
    let today = who.ctx.clock.today();
    let line = |item: OpenItem| Line {
        build: facts.build.name.clone(),
        balloons: item.at.iter().map(ToString::to_string).collect(),
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
fn things(open: &[Line]) -> usize {
    open.iter().map(|line| line.things).sum()
}

impl Line {
    /// Whether it asks for the same, at the same place, of the same people, for other parts.
    fn says_the_same(&self, other: &Self) -> bool {
        let asks = |line: &Self| !line.balloons.is_empty();
        asks(self)
            && asks(other)
            && (&self.build, &self.what, &self.to) == (&other.build, &other.what, &other.to)
            && (self.sort, self.waits_on, &self.since) == (other.sort, other.waits_on, &other.since)
    }

    fn take_in(&mut self, other: Self) {
        self.balloons.extend(other.balloons);
        self.things += other.things;
    }
}

/// The end of the address of the sheet that settles it.
fn address(place: &Place) -> String {
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
        Place::Log => "/log",
    };
    end.to_owned()
}

fn ago(since: Date, today: Date) -> String {
    match today.since(since).map(|span| span.get_days()) {
        Ok(0) => "today".to_owned(),
        Ok(1) => "1 day".to_owned(),
        Ok(days) => format!("{days} days"),
        Err(_) => since.to_string(),
    }
}

/// What is open on one build.
#[derive(Template)]
#[template(path = "builds/open.html")]
pub(crate) struct OpenSheet {
    sheet: Sheet,
    slug: String,
    about: String,
    cage: Option<Svg>,
    weighed: String,
    margin: String,
    /// The finished weight foreseen, its shape, and how it stands.
    finished: Option<((String, String), Option<Sort>, String)>,
    taken: usize,
    shots: usize,
    unsent: usize,
    ruled: bool,
    things: usize,
    open: Vec<Line>,
    across: bool,
    /// Whether this reader may move it to another edition of its book.
    may_move: bool,
    /// Where this reader changes its name and its event day; empty for one who may not.
    edit: String,
    event_day: String,
}

impl OpenSheet {
    /// From what is recorded of it.
    pub(crate) fn of(seen: &Seen, found: &Findings) -> Self {
        let facts = &seen.facts;
        let open = lines(&seen.who, facts, found);
        Self {
            sheet: seen.sheet("Open"),
            about: facts.build.about.clone(),
            weighed: facts.weigh_ins.first().map(|w| w.reading.total().show(seen.who.units)).unwrap_or_default(),
            slug: facts.build.slug.clone(),
            cage: picture(seen, found),
            margin: margin(seen, found),
            finished: finished(seen, found),
            taken: found.worked.taken(),
            shots: found.worked.shots.len(),
            unsent: facts.photos.iter().filter(|photo| photo.waits()).count(),
            ruled: facts.book.is_some(),
            things: things(&open),
            open,
            across: false,
            edit: if may(seen.who.ctx.by.role, Deed::SetUpBuilds) { seen.address("/about") } else { String::new() },
            event_day: facts.build.event_day.map(|day| day.to_string()).unwrap_or_default(),
            may_move: facts.book.is_some() && may(seen.who.ctx.by.role, Deed::RunShop),
        }
    }
}

/// The cage, its joints' balloons leading to their sheets.
fn picture(seen: &Seen, found: &Findings) -> Option<Svg> {
    if found.worked.cage.members.is_empty() {
        return None;
    }
    let frame = (Length::from_mm(200.0), Length::from_mm(150.0));
    let drawn = draw_cage(
        &found.worked.cage,
        &beside(&found.worked.cage, &found.worked.around, false),
        Shown { view: View::Isometric, numbers: Numbers::Of(Kind::Joint), hidden: false },
        frame,
    );
    Some(Svg::of(&drawn.marks, frame, |part| Some(seen.address(&part_address(*part)))))
}

/// How the weight stands to its class's edge, in a few words.
fn margin(seen: &Seen, found: &Findings) -> String {
    match (&found.worked.weighed, &found.worked.class) {
        (Some(weighed), _) => weighed.describe(seen.who.units),
        (None, Some(_)) => "no class yet".to_owned(),
        (None, None) => String::new(),
    }
}

/// The finished weight foreseen, its shape, and how it stands in a few words; none while there is nothing to tell.
fn finished(seen: &Seen, found: &Findings) -> Option<((String, String), Option<Sort>, String)> {
    let foreseen = found.worked.foreseen.as_ref().filter(|foreseen| foreseen.tells())?;
    let answer = foreseen.then.as_ref().and_then(|then| then.as_ref().ok());
    let (sort, words) = match (foreseen.outlook, answer) {
        (Outlook::Crosses, Some(answer)) => (Some(Sort::Fails), format!("over the edge: class {}", answer.class)),
        (Outlook::Crosses, None) => (Some(Sort::Fails), "in no class of the book".to_owned()),
        (Outlook::TooClose, _) => (Some(Sort::TooClose), "too close to call".to_owned()),
        (Outlook::Stays, Some(answer)) => {
            let edge = answer.edge.map(|edge| format!(", {} from its edge", edge.show(seen.who.units)));
            (None, format!("class {}{}", answer.class, edge.unwrap_or_default()))
        }
        (Outlook::Stays, None) | (Outlook::NoClass, _) => (None, String::new()),
    };
    let missing = if foreseen.cage == CagePart::NotLaidOut { "the cage not counted; " } else { "" };
    Some((foreseen.figures(seen.who.units), sort, format!("{missing}{words}")))
}

/// What is open across the shop.
#[derive(Template)]
#[template(path = "builds/everywhere.html")]
pub(crate) struct OpenEverywhere {
    sheet: Sheet,
    things: usize,
    open: Vec<Line>,
    across: bool,
    backup: Option<&'static str>,
}

impl OpenEverywhere {
    /// From what is recorded of each build, and when the last backup was made.
    pub(crate) fn of(who: &SignedIn, all: &[Looked], backup: Option<Timestamp>) -> Self {
        let open: Vec<Line> = all.iter().flat_map(|looked| lines(who, &looked.facts, &looked.found)).collect();
        let received = all.iter().flat_map(|looked| &looked.facts.photos).filter_map(|photo| photo.received.as_ref());
        let first = received.map(|received| received.at).min();
        let runs_shop = may(who.ctx.by.role, Deed::RunShop);
        let backup = runs_shop.then(|| backup_due::open_item(backup, first, who.ctx.clock.now())).flatten();
        Self { sheet: Sheet::of_shop(who, "Open items"), things: things(&open), open, across: true, backup }
    }
}

//! What the sheets about vehicles show.

use askama::Template;
use jiff::civil::Date;

use crate::domain::facts::BuildFacts;
use crate::domain::hold::Hold;
use crate::domain::open_items::{self, OpenItem, Place};
use crate::domain::people::{Deed, may};
use crate::quantity::Show;
use crate::store::books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::{Seen, SignedIn};
use crate::web::page::Sheet;

/// All vehicles in the shop.
#[derive(Template)]
#[template(path = "builds/front.html")]
pub(crate) struct Front {
    sheet: Sheet,
    builds: Vec<Vehicle>,
    may_begin: bool,
}

struct Vehicle {
    to: String,
    name: String,
    about: String,
    hold: &'static str,
    weighed: String,
    open: String,
    next: String,
}

impl Front {
    /// From what is recorded of each.
    pub(crate) fn of(who: &SignedIn, all: &[BuildFacts]) -> Self {
        let role = who.ctx.by.role;
        let seen = all.iter().filter(|facts| may(role, Deed::SeeBuilds) || !facts.rounds.is_empty());
        Self {
            sheet: Sheet::of_shop(who, "Builds"),
            builds: seen.map(|facts| Vehicle::of(who, facts)).collect(),
            may_begin: may(role, Deed::SetUpBuilds),
        }
    }
}

impl Vehicle {
    fn of(who: &SignedIn, facts: &BuildFacts) -> Self {
        let hold = match (&facts.book, Hold::of(&facts.rounds, &facts.replies)) {
            (None, _) => "log only",
            (_, Hold::NothingIssued) => "held, no round yet",
            (_, Hold::Waiting(_)) => "held, round is out",
            (_, Hold::NotYet(_)) => "held, questions came",
            (_, Hold::Released { .. }) => "released",
        };
        let sees_all = may(who.ctx.by.role, Deed::SeeBuilds);
        let open = if sees_all { open_items::of(facts, &|at| who.ctx.clock.day_of(at)) } else { Vec::new() };
        let last = if sees_all { "" } else { "/rounds" };
        Self {
            to: format!("/builds/{}{last}", facts.build.slug),
            name: facts.build.name.clone(),
            about: facts.build.about.clone(),
            hold,
            weighed: facts.weigh_ins.first().map(|w| w.reading.pads.total().show(who.units)).unwrap_or_default(),
            open: if sees_all { open.len().to_string() } else { String::new() },
            next: open.first().map(|item| item.what.clone()).unwrap_or_default(),
        }
    }
}

/// One open thing as a line.
pub(crate) struct Line {
    build: String,
    balloon: String,
    what: String,
    to: String,
    waits_on: &'static str,
    since: String,
}

fn lines(who: &SignedIn, facts: &BuildFacts) -> Vec<Line> {
    let clock = &who.ctx.clock;
    let today = clock.today();
    let line = |item: OpenItem| Line {
        build: facts.build.name.clone(),
        balloon: item.at.map(|at| at.to_string()).unwrap_or_default(),
        what: item.what,
        to: format!("/builds/{}{}", facts.build.slug, address(item.place)),
        waits_on: item.waits_on.word(),
        since: item.since.map(|since| ago(since, today)).unwrap_or_default(),
    };
    open_items::of(facts, &|at| clock.day_of(at)).into_iter().map(line).collect()
}

fn address(place: Place) -> &'static str {
    match place {
        Place::WeighIn => "/weigh-in",
        Place::Photos => "/photos",
        Place::Questions => "/questions",
        Place::Rounds => "/rounds",
        Place::Log => "/log",
    }
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
    about: String,
    weighed: String,
    photos: usize,
    questions: usize,
    open: Vec<Line>,
    across: bool,
}

impl OpenSheet {
    /// From what is recorded of it.
    pub(crate) fn of(seen: &Seen) -> Self {
        let facts = &seen.facts;
        Self {
            sheet: seen.sheet("Open"),
            about: facts.build.about.clone(),
            weighed: facts.weigh_ins.first().map(|w| w.reading.pads.total().show(seen.who.units)).unwrap_or_default(),
            photos: facts.photos.iter().filter(|photo| photo.received.is_some() && photo.withdrawn.is_none()).count(),
            questions: facts.questions.iter().filter(|question| question.settled.is_none()).count(),
            open: lines(&seen.who, facts),
            across: false,
        }
    }
}

/// What is open across the shop.
#[derive(Template)]
#[template(path = "builds/everywhere.html")]
pub(crate) struct OpenEverywhere {
    sheet: Sheet,
    open: Vec<Line>,
    across: bool,
}

impl OpenEverywhere {
    /// From what is recorded of each build.
    pub(crate) fn of(who: &SignedIn, all: &[BuildFacts]) -> Self {
        let open = all.iter().flat_map(|facts| lines(who, facts)).collect();
        Self { sheet: Sheet::of_shop(who, "Open items"), open, across: true }
    }
}

/// Beginning a build.
#[derive(Template)]
#[template(path = "builds/begin.html")]
pub(crate) struct Begin {
    sheet: Sheet,
    fields: Vec<Field>,
}

impl Begin {
    /// As typed so far.
    pub(crate) fn of(who: &SignedIn, books: &[Book], form: &Form) -> Self {
        let mut choices = vec![(String::new(), "none: log only".to_owned())];
        choices.extend(books.iter().map(|book| (book.id.to_string(), format!("{}, {}", book.name, book.edition))));
        let fields = vec![
            form.field("name", "Name in the shop").hint("Short, as people here call it: Pine Coupe."),
            form.field("about", "What it is").area(),
            form.field("book", "Rule book").choice(choices),
            form.field("event_day", "First event it must be ready for")
                .day()
                .hint("Labels and papers must still be good on this day."),
        ];
        Self { sheet: Sheet::of_shop(who, "Begin a build"), fields }
    }
}

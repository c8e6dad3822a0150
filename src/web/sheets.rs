//! The sheets of somebody who is signed in: where they lead, and what stands over them.

use super::gate::{Seen, SignedIn};
use super::page::{Head, Link, Sheet};
use crate::domain::recorded::facts::BookText;
use crate::domain::shop::people::{Deed, may};
use crate::quantity::Units;

/// What must be there for a way on to be one.
enum Needs {
    Nothing,
    Book,
    NoBook,
    /// The book alone: a scrutineer, who sees no other sheet of a build, goes this way too.
    BookAlone,
}

/// A way on from any sheet of a build.
struct Way {
    words: &'static str,
    last: &'static str,
    needs: Needs,
    /// The sheets under it: their titles, and their addresses where they are linked beside each other.
    beside: &'static [(&'static str, &'static str)],
}

impl Way {
    /// Whether the sheet of this title is it, or one under it.
    fn holds(&self, title: &str) -> bool {
        self.words == title || self.beside.iter().any(|(words, _)| *words == title)
    }
}

const fn way(
    words: &'static str,
    last: &'static str,
    needs: Needs,
    beside: &'static [(&'static str, &'static str)],
) -> Way {
    Way { words, last, needs, beside }
}

/// In the order in which a build goes through them.
const WAYS: [Way; 11] = [
    way("Next", "", Needs::Nothing, &[("Open", ""), ("What it is", ""), ("Edition", "")]),
    way("Weigh-in", "/weigh-in", Needs::Book, &[]),
    way(
        "Cage",
        "/cage",
        Needs::Book,
        &[
            ("Body beside the bars", ""),
            ("Seats and helmets", ""),
            ("Gussets", ""),
            ("Bars by hand", ""),
            ("Tubes of single bars", ""),
            ("Measures", "/measures"),
        ],
    ),
    way("Tube", "/tube", Needs::Book, &[("Cut plan", "/cuts")]),
    way(
        "Sheets",
        "/sheets",
        Needs::Book,
        &[
            ("Lowering", "/lowering"),
            ("Seams", "/seams"),
            ("Heat input", ""),
            ("Welds", "/welds"),
            ("Weld walk", ""),
            ("Stickers", "/stickers"),
        ],
    ),
    way("Photographs", "/photos", Needs::Nothing, PHOTOGRAPHS),
    way("Kit", "/kit", Needs::Nothing, &[]),
    way("Verdicts", "/verdicts", Needs::Book, &[("Rulings", "/rulings"), ("Car's dates", "/car")]),
    way("Questions", "/questions", Needs::NoBook, &[]),
    way("Rounds", "/rounds", Needs::BookAlone, &[("Questions", "/questions"), ("Review", ""), ("Sign off", "")]),
    way("Log", "/log", Needs::Nothing, &[("Car's file", "/car-file"), ("Hand-over", "/hand-over")]),
];

const PHOTOGRAPHS: &[(&str, &str)] = &[
    ("Photos", ""),
    ("Photo", ""),
    ("Walk", ""),
    ("Unassigned photos", ""),
    ("A shot's history", ""),
    ("Marks over a photo", ""),
];

impl Sheet {
    /// A sheet about the shop as a whole.
    pub(crate) fn of_shop(who: &SignedIn, title: &str) -> Self {
        let link = |words, to: &str| Link { words, to: to.to_owned(), here: words == title };
        let role = who.ctx.by.role;
        let mut links = vec![link("Builds", "/")];
        if may(role, Deed::SeeBuilds) {
            links.extend([
                link("Open items", "/open"),
                link("Stock", "/stock"),
                link("Rule books", "/books"),
                link("Dies", "/dies"),
            ]);
        }
        if may(role, Deed::RunShop) {
            links.extend([link("People", "/people"), link("Health", "/shop/health")]);
        }
        links.push(link("Words", "/words"));
        Self {
            title: title.to_owned(),
            person: format!("{}, {}", who.ctx.by.name, role.word()),
            own: format!("/people/{}", who.ctx.by.id),
            date: who.ctx.clock.today().to_string(),
            build: None,
            links,
            within: Vec::new(),
            inch: who.units == Units::Inch,
            light: who.light,
            phone: may(role, Deed::RecordWork),
            under_way: who.under_way.clone(),
        }
    }

    /// A sheet about one build.
    pub(crate) fn of_build(who: &SignedIn, title: &str, head: Head) -> Self {
        let (sees, ruled) = (may(who.ctx.by.role, Deed::SeeBuilds), !head.book.is_empty());
        let stands = |way: &&Way| {
            let Way { needs, .. } = way;
            match needs {
                Needs::Nothing => sees,
                Needs::Book => sees && ruled,
                Needs::NoBook => sees && !ruled,
                Needs::BookAlone => ruled,
            }
        };
        let link = |words, last: &str, here| Link { words, to: format!("/builds/{}{last}", head.slug), here };
        let ways = || WAYS.iter().filter(stands);
        let links = ways().map(|way| link(way.words, way.last, way.holds(title))).collect();
        let around = ways().find(|way| way.holds(title) && sees && way.beside.iter().any(|(_, last)| !last.is_empty()));
        let within = around.map(|way| {
            let own = link(way.words, way.last, way.words == title);
            let beside = way.beside.iter().filter(|(_, last)| !last.is_empty());
            std::iter::once(own).chain(beside.map(|(words, last)| link(words, last, *words == title))).collect()
        });
        Self { links, within: within.unwrap_or_default(), build: Some(head), ..Self::of_shop(who, title) }
    }

    /// The same for whoever came by a link to one round: no way to anything else, and nobody's sign-in.
    pub(crate) fn alone(self, to: &str) -> Self {
        let build = self.build.map(|head| Head { to: to.to_owned(), ..head });
        let (links, within) = (Vec::new(), Vec::new());
        Self { build, links, within, person: String::new(), own: String::new(), phone: false, ..self }
    }

    /// The title as the browser's tab shows it.
    pub(crate) fn tab(&self) -> String {
        match &self.build {
            Some(head) => format!("{}: {} · Tackbook", head.name, self.title),
            None => format!("{} · Tackbook", self.title),
        }
    }
}

impl Seen {
    /// A sheet about this build.
    pub(crate) fn sheet(&self, title: &str) -> Sheet {
        let sees = may(self.who.ctx.by.role, Deed::SeeBuilds);
        let head = Head {
            to: self.address(if sees { "" } else { "/rounds" }),
            name: self.facts.build.name.clone(),
            slug: self.facts.build.slug.clone(),
            book: self.facts.book.as_ref().map(BookText::describe).unwrap_or_default(),
            book_reads: !matches!(self.facts.rules(), Some(Err(_))),
            revision: self
                .facts
                .rounds
                .last()
                .map_or("no round yet".to_owned(), |round| format!("round {}", round.number)),
            hold: self.describe_hold(),
            held: self.held(),
        };
        Sheet::of_build(&self.who, title, head)
    }
}

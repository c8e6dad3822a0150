//! The sheets of somebody who is signed in: where they lead, and what stands over them.

use super::gate::{Seen, SignedIn};
use super::page::{Head, Link, Sheet};
use crate::domain::recorded::facts::BookText;
use crate::domain::shop::people::{Deed, may};
use crate::quantity::Units;

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
            inch: who.units == Units::Inch,
            phone: may(role, Deed::RecordWork),
        }
    }

    /// A sheet about one build.
    pub(crate) fn of_build(who: &SignedIn, title: &str, head: Head) -> Self {
        let link = |words, last: &str| {
            let to = format!("/builds/{}{last}", head.slug);
            Link { words, to, here: words == title }
        };
        let mut links = vec![Link { words: "Builds", to: "/".to_owned(), here: false }];
        if may(who.ctx.by.role, Deed::SeeBuilds) {
            links.push(link("Open", ""));
            if !head.book.is_empty() {
                links.extend([
                    link("Weigh-in", "/weigh-in"),
                    link("Cage", "/cage"),
                    link("Sheets", "/sheets"),
                    link("Lowering", "/lowering"),
                    link("Tube", "/tube"),
                    link("Measures", "/measures"),
                    link("Verdicts", "/verdicts"),
                ]);
            }
            links.extend([
                link("Photos", "/photos"),
                link("Kit", "/kit"),
                link("Questions", "/questions"),
                link("Log", "/log"),
            ]);
        }
        if !head.book.is_empty() {
            links.push(link("Rounds", "/rounds"));
        }
        Self { links, build: Some(head), ..Self::of_shop(who, title) }
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
        let head = Head {
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

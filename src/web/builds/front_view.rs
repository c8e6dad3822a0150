//! What the front sheet shows: the vehicles in the shop, or the first steps of a shop that has none.

use askama::Template;

use super::lines::{hold, open, seen_by};
use crate::actions::Looked;
use crate::domain::book::read;
use crate::domain::book::reading::shipped::SHIPPED;
use crate::domain::shop::people::{Deed, may};
use crate::quantity::Show;
use crate::store::book::drafts::Draft;
use crate::store::book::rule_books::Book;
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// All vehicles in the shop.
#[derive(Template)]
#[template(path = "builds/front.html")]
pub(super) struct Front {
    sheet: Sheet,
    builds: Vec<Vehicle>,
    may_begin: bool,
    /// The first steps, while nothing is here yet.
    first: Option<FirstSteps>,
}

struct Vehicle {
    to: String,
    name: String,
    about: String,
    hold: String,
    weighed: String,
    open: String,
    next: String,
}

/// The first steps of a shop.
pub(super) struct FirstSteps {
    /// The newest book, where there is one: its address and its name.
    book: Option<(String, String)>,
    /// Whether this reader takes books in.
    may_take: bool,
    /// The draft that was saved last, to go on with.
    draft: Option<String>,
    /// Books that come with the program: key and name.
    offered: Vec<(&'static str, String)>,
}

impl FirstSteps {
    /// From the shop's books and open drafts.
    pub(super) fn of(who: &SignedIn, books: &[Book], drafts: &[Draft]) -> Self {
        let offered =
            SHIPPED.iter().filter_map(|shipped| Some((shipped.key, read(shipped.toml).ok()?.book.full_name())));
        Self {
            book: books.last().map(|book| (format!("/books/{}", book.id), format!("{}, {}", book.name, book.edition))),
            may_take: may(who.ctx.by.role, Deed::RunShop),
            draft: drafts.iter().max_by_key(|draft| draft.at).map(|draft| format!("/books/drafts/{}", draft.id)),
            offered: offered.collect(),
        }
    }
}

impl Front {
    /// From what is recorded of each.
    pub(super) fn of(who: &SignedIn, all: &[Looked], first: Option<FirstSteps>) -> Self {
        let may_begin = may(who.ctx.by.role, Deed::SetUpBuilds);
        Self {
            sheet: Sheet::of_shop(who, "Builds"),
            builds: seen_by(who, all).map(|looked| Vehicle::of(who, looked)).collect(),
            may_begin,
            first: first.filter(|_| may_begin),
        }
    }
}

impl Vehicle {
    fn of(who: &SignedIn, looked: &Looked) -> Self {
        let facts = &looked.facts;
        let sees_all = may(who.ctx.by.role, Deed::SeeBuilds);
        let open = if sees_all { open(who, facts, &looked.found) } else { Vec::new() };
        let last = if sees_all { "" } else { "/rounds" };
        Self {
            to: format!("/builds/{}{last}", facts.build.slug),
            name: facts.build.name.clone(),
            about: facts.build.about.clone(),
            hold: hold(looked),
            weighed: facts.weigh_ins.first().map(|w| w.reading.total().show(who.units)).unwrap_or_default(),
            open: if sees_all { open.len().to_string() } else { String::new() },
            next: open.first().map(|item| item.what.clone()).unwrap_or_default(),
        }
    }
}

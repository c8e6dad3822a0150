//! The sheets of cars' files.

use askama::Template;

use crate::actions::shop::builds::TWIN;
use crate::actions::shop::signing::fingerprint;
use crate::domain::shop::people::{Deed, may};
use crate::store::book::rule_books::Book;
use crate::store::car_file::CameWith;
use crate::web::form::{Field, Form};
use crate::web::gate::{Seen, SignedIn};
use crate::web::page::Sheet;
use crate::web::shown::book_choices::book_choices;

/// Where a car's file is saved, and what it is.
#[derive(Template)]
#[template(path = "car_file/sheet.html")]
pub(super) struct CarFile {
    sheet: Sheet,
    base: String,
    may_save: bool,
    photos: usize,
    megabytes: String,
    rounds: usize,
    came: Option<Came>,
}

/// With which file it came.
struct Came {
    loaded: String,
    by: String,
    key: String,
}

impl CarFile {
    pub(super) fn of(seen: &Seen, came: Option<&CameWith>) -> Self {
        let received = || seen.facts.photos.iter().filter(|photo| photo.received.is_some());
        let bytes: u64 = received().map(|photo| photo.size).sum();
        let clock = &seen.who.ctx.clock;
        Self {
            sheet: seen.sheet("Car's file"),
            base: seen.address(""),
            may_save: may(seen.who.ctx.by.role, Deed::RunShop),
            photos: received().count(),
            megabytes: format!("{}", bytes.div_ceil(1_000_000)),
            rounds: seen.facts.rounds.len(),
            came: came.map(|came| Came {
                loaded: clock.minute_of(came.loaded),
                by: came.by.clone(),
                key: fingerprint(&came.public),
            }),
        }
    }
}

/// Where a car is loaded from its file.
#[derive(Template)]
#[template(path = "car_file/load.html")]
pub(super) struct Load {
    sheet: Sheet,
    faults: Vec<String>,
    /// Of the build that is to be begun by a file.
    fields: Vec<Field>,
    wrong: Vec<String>,
    /// Whether it is asked whether this is another car than the one of its name.
    twin: bool,
    another: bool,
}

/// What was typed of a build that is to be begun, and the books to choose from.
pub(super) struct Asked {
    pub(super) form: Form,
    pub(super) books: Vec<Book>,
}

/// What is sent where the book is to be that of the pattern.
pub(super) const AS_THE_PATTERN: &str = "as the pattern";

/// The pattern's book, the shop's, none.
fn books(books: &[Book]) -> impl Iterator<Item = (String, String)> {
    let same = (AS_THE_PATTERN.to_owned(), "the edition of the file's car, if this shop has it".to_owned());
    std::iter::once(same).chain(book_choices(books))
}

impl Load {
    pub(super) fn of(who: &SignedIn, asked: &Asked, faults: Vec<String>) -> Self {
        let Asked { form, books: of_shop } = asked;
        let fields = vec![
            form.field("name", "Name of the new build").hint("Short, as people here call it: Teasel Coupe."),
            form.field("book", "Rule book").choice(books(of_shop)),
        ];
        let wrong = form.other_faults(&fields.iter().collect::<Vec<_>>());
        let another = form.text(TWIN) == "yes";
        let twin = another || form.has_fault(TWIN);
        Self { sheet: Sheet::of_shop(who, "A car from its file"), faults, fields, wrong, twin, another }
    }
}

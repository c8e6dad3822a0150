//! What the sheets about vehicles show.

use askama::Template;

use crate::domain::builds::Build;
use crate::store::books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// All vehicles in the shop.
#[derive(Template)]
#[template(path = "builds/front.html")]
pub struct Front {
    sheet: Sheet,
    builds: Vec<(String, String, String)>,
}

impl Front {
    /// From the shop's builds.
    pub fn of(who: &SignedIn, builds: &[Build]) -> Self {
        let line = |build: &Build| (build.slug.clone(), build.name.clone(), build.about.clone());
        Self { sheet: Sheet::of_shop(who, "Builds"), builds: builds.iter().map(line).collect() }
    }
}

/// Beginning a build.
#[derive(Template)]
#[template(path = "builds/begin.html")]
pub struct Begin {
    sheet: Sheet,
    fields: Vec<Field>,
}

impl Begin {
    /// As typed so far.
    pub fn of(who: &SignedIn, books: &[Book], form: &Form) -> Self {
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

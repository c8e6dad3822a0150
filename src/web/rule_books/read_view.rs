//! What the sheet of one book shows: its rules by kind, and how each is known.

use askama::Template;

use crate::domain::book;
use crate::domain::book::in_force;
use crate::domain::book::{Evidence, Force, Rule, RuleBook};
use crate::domain::shop::people::{Deed, may};
use crate::store::book::rule_books::Book;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// One book, to be read.
#[derive(Template)]
#[template(path = "rule_books/read.html")]
pub(super) struct ReadBook {
    sheet: Sheet,
    name: String,
    edition: String,
    /// The book's own address.
    to: String,
    /// The next edition's name; none for who may write none.
    edition_field: Option<Field>,
    /// From when to when it is in force, or that the book does not say; empty when its text does not read.
    valid: String,
    source: Vec<String>,
    chapters: Vec<(&'static str, Vec<Line>)>,
    /// How many rules there are, and of how many of them the words are not confirmed.
    counts: (usize, usize),
    /// Where a build to this book is made; none for who may make none, or while its text does not read.
    build_to: Option<String>,
    /// What does not read in its text, by line.
    mistakes: Vec<String>,
}

struct Line {
    clause: String,
    words: String,
    asks: String,
    when: String,
    force: &'static str,
    shown_by: &'static str,
    sure: &'static str,
    unconfirmed: bool,
}

impl Line {
    fn of((rule, asks): (&Rule, String)) -> Self {
        Self {
            clause: rule.clause.clone(),
            words: rule.words.clone(),
            asks,
            when: rule.asked_when(),
            force: match rule.force {
                Force::Must => "must",
                Force::Should => "should",
                Force::May => "may",
                Force::Scrutineer => "scrutineer decides",
            },
            shown_by: match rule.evidence {
                Evidence::Figure => "a figure",
                Evidence::Photo => "a photograph",
                Evidence::Paper => "a paper",
            },
            sure: rule.sure.word(),
            unconfirmed: rule.unconfirmed(),
        }
    }
}

impl ReadBook {
    /// From the book's text.
    pub(super) fn of(who: &SignedIn, book: &Book, form: &Form) -> Self {
        let (read, mistakes) = match book::read(&book.toml) {
            Ok(read) => (Some(read), Vec::new()),
            Err(mistakes) => (None, mistakes.iter().map(|mistake| mistake.show(&book.toml, "book.toml")).collect()),
        };
        let head = read.as_ref().map(|read| &read.book);
        let valid = head.map(in_force::describe).unwrap_or_default();
        let source = head.map(|head| head.source_note.lines().map(str::to_owned).collect()).unwrap_or_default();
        let chapters = read.iter().flat_map(RuleBook::chapters);
        let chapters: Vec<_> = chapters
            .map(|chapter| (chapter.title, chapter.rules.into_iter().map(Line::of).collect::<Vec<_>>()))
            .collect();
        let lines = || chapters.iter().flat_map(|chapter| &chapter.1);
        let counts = (lines().count(), lines().filter(|line| line.unconfirmed).count());
        Self {
            sheet: Sheet::of_shop(who, "Rule book"),
            name: book.name.clone(),
            edition: book.edition.clone(),
            to: format!("/books/{}", book.id),
            edition_field: may(who.ctx.by.role, Deed::RunShop)
                .then(|| form.field("edition", "What the next edition is called")),
            build_to: may(who.ctx.by.role, Deed::SetUpBuilds)
                .then(|| format!("/builds/new?book={}", book.id))
                .filter(|_| mistakes.is_empty()),
            valid,
            source,
            counts,
            mistakes,
            chapters,
        }
    }
}

//! What the sheets of a draft show: its rules, its mistakes, its text.

use std::collections::HashSet;

use askama::Template;

use crate::domain::book;
use crate::domain::book::forms::editing::{Editing, Pairs, RuleLine};
use crate::domain::book::{Mistake, Place, RuleKind};
use crate::domain::shop::people::{Deed, may};
use crate::quantity::Units;
use crate::store::book::drafts::Draft;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// How a rule of the invented example says that it is one.
const INVENTED: &str = "sure = \"invented for the demo\"";

/// What a draft is called, and where it is.
pub(super) struct Title {
    pub(super) to: String,
    /// The book's name, or that its text does not say it yet.
    pub(super) name: String,
    pub(super) edition: String,
    pub(super) saved: String,
    /// Whether it is still written on.
    pub(super) open: bool,
}

impl Title {
    pub(super) fn of(draft: &Draft) -> Self {
        let head = Editing::of(&draft.toml).and_then(|text| text.typed(Place { kind: RuleKind::Head, at: 0 }));
        let word = |head: &Pairs, name: &str| {
            head.iter().find(|pair| pair.0 == name).map(|pair| pair.1.trim().to_owned()).unwrap_or_default()
        };
        let name = head.as_ref().map(|head| format!("{} {}", word(head, "body"), word(head, "name")).trim().to_owned());
        Self {
            to: super::drafts::address(draft.id),
            name: name.filter(|name| !name.is_empty()).unwrap_or_else(|| "a book without a name".to_owned()),
            edition: head.map(|head| word(&head, "edition")).unwrap_or_default(),
            saved: format!("saved by {}, version {}", draft.by, draft.version),
            open: draft.open(),
        }
    }
}

/// The units that a draft's book prints, else its reader's.
pub(super) fn units_of(draft: &Draft, who: &SignedIn) -> Units {
    let head = Editing::of(&draft.toml).and_then(|text| text.typed(Place { kind: RuleKind::Head, at: 0 }));
    let units = head.and_then(|head| head.into_iter().find(|pair| pair.0 == "units")).map(|pair| pair.1);
    match units.as_deref() {
        Some("inch") => Units::Inch,
        Some("metric") => Units::Metric,
        _ => who.units,
    }
}

/// A draft: its rules, what is wrong with it, what may be done with it.
#[derive(Template)]
#[template(path = "rule_books/draft.html")]
pub(super) struct DraftSheet {
    sheet: Sheet,
    draft: Title,
    version: i64,
    /// What it became, or why it was set aside; empty while it is written on.
    ended: Option<(String, String)>,
    /// Where it stands beside the edition it was begun from.
    beside: Option<String>,
    mistakes: Vec<MistakeLine>,
    /// Rules by kind: the kind, the rules, and where one is added.
    kinds: Vec<(&'static str, Vec<Line>, Option<String>)>,
    /// Whether its text can be edited by a form.
    by_form: bool,
    may_write: bool,
    /// Whether its class table, and its bars, can be written by the short forms.
    short: (bool, bool),
    /// How many of its rules are the invented example's.
    invented: usize,
    /// What is wrong with its release.
    refused: Vec<String>,
    why: Field,
}

/// A mistake, and the form in which it is mended.
struct MistakeLine {
    shown: String,
    to: Option<String>,
}

struct Line {
    at: String,
    to: String,
    clause: String,
    words: String,
    id: String,
    wrong: usize,
}

impl DraftSheet {
    /// From the draft as it stands.
    pub(super) fn of(who: &SignedIn, draft: &Draft, form: &Form) -> Self {
        let may_write = may(who.ctx.by.role, Deed::RunShop) && draft.open();
        let mistakes = book::read(&draft.toml).err().unwrap_or_default();
        let editing = Editing::of(&draft.toml);
        let rules = editing.as_ref().map(Editing::rules).unwrap_or_default();
        let to = |place: Place| format!("{}/rules/{place}", super::drafts::address(draft.id));
        let describe = |mistake: &Mistake| {
            let place = Place::of_field(&mistake.at).filter(|place| rules.iter().any(|line| line.place == *place));
            MistakeLine { shown: mistake.show(&draft.toml, "book.toml"), to: place.filter(|_| may_write).map(to) }
        };
        let wrong = |line: &RuleLine| {
            mistakes.iter().filter(|description| line.place.field_of(&description.at).is_some()).count()
        };
        let title = Title::of(draft);
        let words = |rule: &RuleLine| match rule.place.kind {
            RuleKind::Head => format!("{}, {}", title.name, title.edition),
            _ => rule.words.clone(),
        };
        let line = |rule: &RuleLine| Line {
            at: rule.place.to_string(),
            to: to(rule.place),
            clause: rule.clause.clone(),
            words: words(rule),
            id: rule.id.clone(),
            wrong: wrong(rule),
        };
        let kinds = RuleKind::ALL.into_iter().map(|kind| {
            let lines: Vec<Line> = rules.iter().filter(|rule| rule.place.kind == kind).map(line).collect();
            let more = may_write && (lines.is_empty() || !kind.single());
            let add = more.then(|| format!("{}/new/{}", super::drafts::address(draft.id), kind.table()));
            (kind.word(), lines, add)
        });
        let why = form.field("why", "Why it is set aside");
        let ended = match (&draft.became, &draft.set_aside) {
            (Some(book), _) => Some(("It was released as an edition.".to_owned(), format!("/books/{book}"))),
            (None, Some(why)) => Some((format!("It was set aside: {why}"), "/books".to_owned())),
            (None, None) => None,
        };
        Self {
            sheet: Sheet::of_shop(who, "Draft of a rule book"),
            draft: Title::of(draft),
            version: draft.version,
            ended,
            beside: draft.begun_from.map(|book| format!("/books/beside?old={book}&new={}", draft.id)),
            mistakes: mistakes.iter().map(describe).collect(),
            kinds: if editing.is_some() { kinds.collect() } else { Vec::new() },
            by_form: editing.is_some(),
            short: (
                may_write && book::ClassTable::of(&draft.toml).is_some(),
                may_write && book::NeededBars::of(&draft.toml).is_some(),
            ),
            invented: draft.toml.matches(INVENTED).count(),
            may_write,
            refused: form.other_faults(&[&why]),
            why,
        }
    }
}

/// A draft's text.
#[derive(Template)]
#[template(path = "rule_books/text.html")]
pub(super) struct TextSheet {
    sheet: Sheet,
    draft: Title,
    version: String,
    mistakes: Vec<String>,
    field: Field,
    /// What somebody else saved meanwhile; none while nobody did.
    theirs: Option<Theirs>,
}

struct Theirs {
    by: String,
    text: String,
    /// The lines that are new in theirs, and those that are gone from it.
    new: Vec<String>,
    gone: Vec<String>,
}

impl TextSheet {
    /// From the draft and what was typed.
    pub(super) fn of(who: &SignedIn, draft: &Draft, form: &Form) -> Self {
        let field = form.field("toml", "The book's text, TOML").area();
        Self {
            sheet: Sheet::of_shop(who, "Text of a draft"),
            draft: Title::of(draft),
            version: form.text("version").to_owned(),
            mistakes: Vec::new(),
            field,
            theirs: None,
        }
    }

    /// With what is wrong with the text, by line.
    pub(super) fn with_mistakes(self, mistakes: Vec<String>) -> Self {
        Self { mistakes, ..self }
    }

    /// With what somebody else saved over the text that was edited.
    pub(super) fn overtaken(self, base: Option<&str>, now: &Draft) -> Self {
        let lines_not_in = |one: &str, other: &str| -> Vec<String> {
            let others: HashSet<&str> = other.lines().collect();
            one.lines().filter(|line| !line.trim().is_empty() && !others.contains(line)).map(str::to_owned).collect()
        };
        let base = base.unwrap_or_default();
        let (new, gone) = (lines_not_in(&now.toml, base), lines_not_in(base, &now.toml));
        Self { theirs: Some(Theirs { by: now.by.clone(), text: now.toml.clone(), new, gone }), ..self }
    }
}

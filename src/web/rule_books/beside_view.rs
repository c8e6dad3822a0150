//! What the sheet of two editions shows.

use askama::Template;

use super::changes_view::Changes;
use crate::domain::book;
use crate::domain::book::{Beside, Difference, RuleBeside};
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::shop::people::{Deed, may};
use crate::web::form::{Choice, Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// An edition, or a draft of one.
pub(super) struct Edition {
    /// What it is called by in addresses.
    pub(super) key: String,
    /// Whether it is a draft.
    pub(super) draft: bool,
    /// Its text.
    pub(super) text: BookText,
}

impl Edition {
    fn words(&self) -> String {
        let draft = if self.draft { "DRAFT: " } else { "" };
        format!("{draft}{}, {}", self.text.name, self.text.edition)
    }
}

/// Two editions side by side.
#[derive(Template)]
#[template(path = "rule_books/beside.html")]
pub(super) struct BesideSheet {
    sheet: Sheet,
    fields: Vec<Field>,
    /// Older and newer, in words; none while they are not chosen.
    pair: Option<(String, String)>,
    /// Why they cannot be compared.
    cannot: String,
    head: Vec<(String, String, String)>,
    counts: [usize; 4],
    rules: Vec<Line>,
    builds: Vec<BuildLine>,
}

struct Line {
    clause: String,
    id: String,
    words: String,
    /// `added`, `gone` or `changed`.
    how: &'static str,
    /// What it is about, before and after.
    lines: Vec<(String, String, String)>,
}

/// A build kept under the older edition.
pub(super) struct BuildLine {
    name: String,
    to: String,
    /// Where it is moved; none to a draft, and for who may not.
    move_to: Option<String>,
    changes: Changes,
}

impl BuildLine {
    pub(super) fn of(who: &SignedIn, facts: &BuildFacts, changes: Changes, newer: &Edition) -> Self {
        let slug = &facts.build.slug;
        let may_move = may(who.ctx.by.role, Deed::RunShop) && !newer.draft;
        Self {
            name: facts.build.name.clone(),
            to: format!("/builds/{slug}"),
            move_to: may_move.then(|| format!("/builds/{slug}/edition?to={}", newer.key)),
            changes,
        }
    }
}

impl Line {
    fn of(rule: &RuleBeside) -> Self {
        let (how, lines) = match &rule.difference {
            Difference::Added(says) => {
                ("added", says.iter().map(|(what, is)| (what.clone(), String::new(), is.clone())).collect())
            }
            Difference::Gone(said) => {
                ("gone", said.iter().map(|(what, was)| (what.clone(), was.clone(), String::new())).collect())
            }
            Difference::Changed(lines) => {
                ("changed", lines.iter().map(|line| (line.what.clone(), line.was.clone(), line.is.clone())).collect())
            }
        };
        // The words stand above their own table already, where they are the same in both.
        let said_above = |entry: &(String, String, String)| {
            how == "changed" || !["clause", "in our words"].contains(&entry.0.as_str())
        };
        let lines: Vec<(String, String, String)> = lines;
        Self {
            clause: rule.clause.clone(),
            id: rule.id.clone(),
            words: rule.words.clone(),
            how,
            lines: lines.into_iter().filter(said_above).collect(),
        }
    }
}

impl BesideSheet {
    /// From the editions and the two that are chosen.
    pub(super) fn of(
        who: &SignedIn,
        editions: &[Edition],
        (older, newer): (Option<&Edition>, Option<&Edition>),
        builds: Vec<BuildLine>,
    ) -> Self {
        let key = |edition: Option<&Edition>| edition.map(|edition| edition.key.clone()).unwrap_or_default();
        let chosen = vec![("old".to_owned(), key(older)), ("new".to_owned(), key(newer))];
        let form = Form::filled(who.units, chosen);
        let choices = || editions.iter().map(|edition| (edition.key.clone(), edition.words()));
        let fields = vec![
            form.field("old", "The older one").choice(choices()),
            form.field("new", "The newer one").choice(choices()),
        ];
        let read = |edition: &Edition| book::read(&edition.text.toml);
        let (mut cannot, mut description) = (String::new(), None);
        if let (Some(older), Some(newer)) = (older, newer) {
            match (read(older), read(newer)) {
                _ if older.key == newer.key => "Choose two that differ.".clone_into(&mut cannot),
                (Ok(one), Ok(other)) => description = Some(Beside::of(&one, &other)),
                (Err(_), _) => cannot = format!("{} does not read: mend it first.", older.words()),
                (_, Err(_)) => cannot = format!("{} does not read: mend it first.", newer.words()),
            }
        }
        let rules: Vec<Line> = description.iter().flat_map(|description| &description.rules).map(Line::of).collect();
        let count = |how: &str| rules.iter().filter(|rule| rule.how == how).count();
        let same = description.as_ref().map(|description| description.same).unwrap_or_default();
        let head = description.map(|description| description.head).unwrap_or_default();
        Self {
            sheet: Sheet::of_shop(who, "Editions side by side"),
            fields,
            pair: older.zip(newer).map(|(older, newer)| (older.words(), newer.words())),
            counts: [count("added"), count("gone"), count("changed"), same],
            cannot,
            head: head.into_iter().map(|line| (line.what, line.was, line.is)).collect(),
            rules,
            builds,
        }
    }
}

/// Whether a choice is there to choose at all.
impl BesideSheet {
    fn can_choose(&self) -> bool {
        let choices: &[Choice] = self.fields.first().map(|field| field.choices.as_slice()).unwrap_or_default();
        choices.len() > 1
    }
}

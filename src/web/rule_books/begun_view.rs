//! What the sheets show on which a book is begun: its head, its class table, the bars it asks for.

use askama::Template;

use super::draft_view::{Title, units_of};
use crate::domain::book::forms::editing::Editing;
use crate::domain::book::{NeededBars, RuleKind, Sure};
use crate::domain::words::roles::MemberRole;
use crate::quantity::Units;
use crate::store::book::drafts::Draft;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// Rows that a class table offers at first, and beside those that are filled.
const FIRST_ROWS: usize = 3;
const MORE_ROWS: usize = 2;

/// A book that is begun with nothing in it.
#[derive(Template)]
#[template(path = "rule_books/begin.html")]
pub(super) struct BeginBook {
    sheet: Sheet,
    fields: Vec<Field>,
}

impl BeginBook {
    pub(super) fn of(who: &SignedIn, form: &Form) -> Self {
        let units = [("inch", "inches and pounds"), ("metric", "millimetres and kilograms")];
        let units = units.map(|(value, words)| (value.to_owned(), words.to_owned()));
        let fields = vec![
            form.begins("body", "Organiser").hint("The body whose rules the car is built to."),
            form.field("name", "Name of its book").hint("As it stands on the cover."),
            form.field("edition", "Edition").hint("The year, as a rule."),
            form.field("units", "Units it prints").choice(units),
        ];
        Self { sheet: Sheet::of_shop(who, "Begin a rule book"), fields }
    }
}

/// Something to tick.
struct Tick {
    word: &'static str,
    told: String,
    on: bool,
}

/// Where a short form's rules are from: the clause, how it is known.
fn source(form: &Form) -> Vec<Field> {
    // The two words for what is invented are the demo's.
    let known = Sure::WORDS.iter().filter(|word| !matches!(word.1, Sure::Invented | Sure::ForTheDemo));
    let words = known.map(|word| (word.0.to_owned(), word.0.to_owned()));
    vec![
        form.field("clause", "Clause").hint("As the organiser's book numbers it."),
        form.field("sure", "How it is known")
            .hint("Text seen only where you have the organiser's own text before you.")
            .choice(words),
    ]
}

/// The class table of a draft.
#[derive(Template)]
#[template(path = "rule_books/classes.html")]
pub(super) struct ClassesSheet {
    sheet: Sheet,
    draft: Title,
    version: String,
    /// Whether a bare number is in pounds and inches.
    inch: bool,
    faults: Vec<String>,
    rows: Vec<Vec<Field>>,
    edge: Field,
    main_bars: Vec<Tick>,
    why_bars: Option<String>,
    source: Vec<Field>,
}

impl ClassesSheet {
    /// From what is recorded or typed, with so many rows filled.
    pub(super) fn of(who: &SignedIn, draft: &Draft, form: &Form, filled: usize) -> Self {
        let inch = units_of(draft, who) == Units::Inch;
        let (mass, tube) = if inch { ("lb", "in") } else { ("kg", "mm") };
        let cells = [
            ("over", format!("Over, {mass}")),
            ("upto", format!("Up to, {mass}")),
            ("main", format!("Tube for main bars, {tube}")),
            ("other", format!("Tube for other bars, {tube}")),
            ("name", "Called, if it has a name".to_owned()),
        ];
        let row = |at: usize| -> Vec<Field> {
            cells.iter().map(|(name, label)| form.field_named(format!("class.{at}.{name}"), label.clone())).collect()
        };
        // Every row that was sent comes back.
        let shown = (filled + MORE_ROWS).max(FIRST_ROWS).max(rows_in(form));
        let rows: Vec<Vec<Field>> = (0..shown).map(row).collect();
        let edges = [("lighter", "the lighter class: up to and including"), ("heavier", "the heavier class: under")];
        let edges = edges.map(|(value, words)| (value.to_owned(), words.to_owned()));
        let edge = form.field("edge", "A weight exactly on an edge belongs to").choice(edges);
        let chosen = form.chosen("main_bars");
        let tick = |role: MemberRole| Tick {
            word: role.word(),
            told: role.word().to_owned(),
            on: chosen.iter().any(|word| word == role.word()),
        };
        let why = form.field("main_bars", "Main bars");
        let source = source(form);
        let shown: Vec<&Field> = rows.iter().flatten().chain([&edge, &why]).chain(&source).collect();
        Self {
            sheet: Sheet::of_shop(who, "Class table"),
            draft: Title::of(draft),
            version: form.text("version").to_owned(),
            inch,
            faults: form.other_faults(&shown),
            main_bars: MemberRole::ALL.into_iter().filter(|role| *role != MemberRole::OtherBar).map(tick).collect(),
            why_bars: why.fault,
            edge,
            source,
            rows,
        }
    }

    /// Whether something is wrong in what is folded away.
    fn folded_faulty(&self) -> bool {
        self.why_bars.is_some() || self.source.iter().any(|field| field.fault.is_some())
    }
}

/// The bars that a draft asks for.
#[derive(Template)]
#[template(path = "rule_books/bars.html")]
pub(super) struct BarsSheet {
    sheet: Sheet,
    draft: Title,
    version: String,
    faults: Vec<String>,
    bars: Vec<Tick>,
    /// How many rules ask for bars in a way that no tick can say.
    others: usize,
    source: Vec<Field>,
}

impl BarsSheet {
    /// From what is recorded or ticked.
    pub(super) fn of(who: &SignedIn, draft: &Draft, form: &Form) -> Self {
        let chosen = form.chosen("bars");
        let tick = |(role, told): (MemberRole, String)| Tick {
            word: role.word(),
            told,
            on: chosen.iter().any(|word| word == role.word()),
        };
        let rules = Editing::of(&draft.toml).map(|editing| editing.rules()).unwrap_or_default();
        let all = rules.iter().filter(|rule| rule.place.kind == RuleKind::Member).count();
        let ticked = NeededBars::of(&draft.toml).unwrap_or_default().len();
        let source = source(form);
        Self {
            sheet: Sheet::of_shop(who, "Required bars"),
            draft: Title::of(draft),
            version: form.text("version").to_owned(),
            faults: form.other_faults(&source.iter().collect::<Vec<_>>()),
            bars: NeededBars::offered().map(tick).collect(),
            others: all.saturating_sub(ticked),
            source,
        }
    }

    fn folded_faulty(&self) -> bool {
        self.source.iter().any(|field| field.fault.is_some())
    }
}

/// Most rows that a table is read with.
const MOST_ROWS: usize = 100;

/// How many rows of the table a form has.
pub(super) fn rows_in(form: &Form) -> usize {
    last_row(form.pairs().iter())
}

/// How many rows of the table these fields reach down to.
pub(super) fn last_row<'p>(pairs: impl Iterator<Item = &'p (String, String)>) -> usize {
    let row = |pair: &(String, String)| pair.0.strip_prefix("class.")?.split('.').next()?.parse::<usize>().ok();
    pairs.filter_map(row).max().map_or(0, |last| (last + 1).min(MOST_ROWS))
}

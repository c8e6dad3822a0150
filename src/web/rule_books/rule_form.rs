//! What the form of one rule shows: a field for each field of the text, as it stands there or was typed.

use askama::Template;

use crate::domain::book::forms::asked::{Ask, Shape};
use crate::domain::book::forms::editing::Editing;
use crate::domain::book::{Place, RuleKind};
use crate::store::book::drafts::Draft;
use crate::web::form::{Field, Form, Keeping};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// What every field of a rule is called by in the form, so that none is taken for the form's own.
pub(super) const RULE: &str = "rule.";
/// Empty rows that a form offers beside those that are filled.
const MORE_ROWS: usize = 2;

/// The form of one rule.
#[derive(Template)]
#[template(path = "rule_books/rule.html")]
pub(super) struct RuleForm {
    sheet: Sheet,
    draft: super::draft_view::Title,
    /// What kind of rule it is.
    kind: &'static str,
    /// Its name in the book; empty of a new one and of the head.
    id: String,
    /// Where it is written to.
    to: String,
    /// Where it is taken out; none of a new one and of the head.
    take_out: Option<String>,
    /// What is wrong and is about none of the fields.
    head_faults: Vec<String>,
    faulty: bool,
    blocks: Vec<Block>,
    keeping: Keeping,
}

/// Fields that stand together; those without a label stand for themselves.
struct Block {
    label: String,
    hint: &'static str,
    pieces: Vec<Piece>,
}

/// A field, or the ticks of one.
enum Piece {
    One(Field),
    Ticks { field: Field, words: Vec<(String, bool)> },
}

impl Piece {
    fn field(&self) -> &Field {
        match self {
            Self::One(field) | Self::Ticks { field, .. } => field,
        }
    }
}

impl RuleForm {
    /// The form of a rule that is there.
    pub(super) fn of(who: &SignedIn, draft: &Draft, place: Place, form: &Form) -> Self {
        let to = format!("{}/rules/{place}", super::drafts::address(draft.id));
        let editing = Editing::of(&draft.toml);
        let unknown = editing.as_ref().map(|editing| editing.unknown(place)).unwrap_or_default();
        let rules = editing.map(|editing| editing.rules()).unwrap_or_default();
        let id = rules.into_iter().find(|line| line.place == place).map(|line| line.id).unwrap_or_default();
        let take_out = (place.kind != RuleKind::Head).then(|| format!("{to}/take-out"));
        let mut made = Self::made(who, draft, (place.kind, to), form);
        let left: Vec<Piece> =
            unknown.into_iter().map(|(name, text)| Piece::One(leave_or_take(form, name, &text))).collect();
        if !left.is_empty() {
            let label = "Not known here".to_owned();
            made.blocks
                .insert(0, Block { label, hint: "The reader of the book does not know these fields.", pieces: left });
            made.head_faults = head_faults(form, &made.blocks);
        }
        Self { id, take_out, ..made }
    }

    /// The form of a rule that is not there yet.
    pub(super) fn new_rule(who: &SignedIn, draft: &Draft, kind: RuleKind, form: &Form) -> Self {
        let to = format!("{}/new/{}", super::drafts::address(draft.id), kind.table());
        Self::made(who, draft, (kind, to), form)
    }

    fn made(who: &SignedIn, draft: &Draft, (kind, to): (RuleKind, String), form: &Form) -> Self {
        let blocks = blocks(form, kind);
        Self {
            sheet: Sheet::of_shop(who, "A rule of a draft"),
            draft: super::draft_view::Title::of(draft),
            kind: kind.word(),
            id: String::new(),
            to,
            take_out: None,
            head_faults: head_faults(form, &blocks),
            faulty: form.is_faulty(),
            blocks,
            keeping: form.keeping(),
        }
    }
}

fn head_faults(form: &Form, blocks: &[Block]) -> Vec<String> {
    let shown: Vec<&Field> = blocks.iter().flat_map(|block| &block.pieces).map(Piece::field).collect();
    form.other_faults(&shown)
}

/// A field that is not known: it can only stay as it is, or go.
fn leave_or_take(form: &Form, name: String, text: &str) -> Field {
    let choices = [(text.to_owned(), format!("leave it: {text}")), (String::new(), "take it out".to_owned())];
    form.field_named(format!("{RULE}{name}"), name).choice(choices)
}

fn blocks(form: &Form, kind: RuleKind) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    for ask in kind.asks() {
        let name = format!("{RULE}{}", ask.name);
        match ask.shape {
            Shape::Group(asks) => blocks.push(block(form, ask.label.to_owned(), ask.hint, (&name, asks))),
            Shape::Rows(asks) => {
                let filled = rows(form, &name);
                blocks.extend((0..filled + MORE_ROWS).map(|at| {
                    let more = if at < filled { "" } else { ", one more" };
                    let label = format!("{}: {}{more}", ask.label, at + 1);
                    block(form, label, "Empty all of it to take it out.", (&format!("{name}.{at}"), asks))
                }));
            }
            _ => {
                let piece = piece(form, name, ask);
                match blocks.last_mut().filter(|block| block.label.is_empty()) {
                    Some(block) => block.pieces.push(piece),
                    None => blocks.push(Block { label: String::new(), hint: "", pieces: vec![piece] }),
                }
            }
        }
    }
    blocks
}

fn block(form: &Form, label: String, hint: &'static str, (path, asks): (&str, &[Ask])) -> Block {
    Block { label, hint, pieces: asks.iter().map(|ask| piece(form, format!("{path}.{}", ask.name), ask)).collect() }
}

/// How many rows of a field are in the form.
fn rows(form: &Form, name: &str) -> usize {
    let row = |name: &str| name.strip_prefix('.')?.split('.').next()?.parse::<usize>().ok();
    let filled = form.pairs().iter().filter(|pair| !pair.1.trim().is_empty());
    filled.filter_map(|pair| row(pair.0.strip_prefix(name)?)).max().map_or(0, |last| last + 1)
}

fn piece(form: &Form, name: String, ask: &Ask) -> Piece {
    let field = form.field_named(name, ask.label).hint(ask.hint);
    match ask.shape {
        Shape::Text | Shape::Lines => Piece::One(field.area()),
        Shape::YesNo => Piece::One(one_of(field, &[("true", "yes"), ("false", "no")])),
        Shape::Word(words) => {
            let words: Vec<(&str, &str)> = words().into_iter().map(|word| (word, word)).collect();
            Piece::One(one_of(field, &words))
        }
        Shape::Words(_) if field.differs() => Piece::One(field),
        Shape::Words(words) => {
            let chosen: Vec<&str> = field.value.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
            let known = words();
            let mut ticks: Vec<(String, bool)> =
                known.iter().map(|word| ((*word).to_owned(), chosen.contains(word))).collect();
            // A word that nobody knows stays until somebody takes its tick away.
            ticks.extend(chosen.iter().filter(|word| !known.contains(word)).map(|word| ((*word).to_owned(), true)));
            Piece::Ticks { words: ticks, field }
        }
        Shape::Line | Shape::Number | Shape::Day | Shape::Group(_) | Shape::Rows(_) => Piece::One(field),
    }
}

/// A choice of words, or none of them; a word that nobody knows stays until another is chosen.
fn one_of(field: Field, words: &[(&str, &str)]) -> Field {
    let mut choices = vec![(String::new(), "left open".to_owned())];
    choices.extend(words.iter().map(|(value, word)| ((*value).to_owned(), (*word).to_owned())));
    if !field.differs() && !choices.iter().any(|choice| choice.0 == field.value) {
        choices.push((field.value.clone(), format!("{}: not known", field.value)));
    }
    field.choice(choices)
}

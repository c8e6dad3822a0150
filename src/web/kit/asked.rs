//! What the form of an item asks: the book's words, standards and label fields as choices, the rest as printed.

use crate::domain::book::RuleBook;
use crate::domain::book::kinds::{KitRule, LabelField};
use crate::domain::recorded::kit::KitItem;
use crate::web::form::{Field, Form};

/// What the names of the second label's fields begin with.
pub(super) const SECOND: &str = "second_";
/// The choice among the standards that the book takes.
pub(super) const OF_BOOK: &str = "book_standard";

/// What the form asks.
pub(super) struct KitForm {
    pub(super) faults: Vec<String>,
    pub(super) fields: Vec<Field>,
    /// What a label may show beside what the book asks for.
    pub(super) more: Vec<Field>,
    pub(super) more_open: bool,
    pub(super) second: Vec<Field>,
    pub(super) note: Vec<Field>,
    pub(super) second_open: bool,
}

/// The items that the book speaks of, each once.
pub(super) fn items_of(rules: Option<&RuleBook>) -> Vec<String> {
    let mut items: Vec<String> = rules.iter().flat_map(|rules| &rules.kit).map(|rule| rule.item.clone()).collect();
    items.sort();
    items.dedup();
    items
}

/// The items of the book that none is recorded of yet, in the book's words.
pub(super) fn open(rules: Option<&RuleBook>, kit: &[KitItem]) -> Vec<String> {
    let recorded = |item: &String| kit.iter().any(|there| same(&there.item, item));
    items_of(rules).into_iter().filter(|item| !recorded(item)).collect()
}

/// Whether two names are of one item.
pub(super) fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// The book's rules on an item.
fn rules_on<'r>(rules: Option<&'r RuleBook>, item: &str) -> Vec<&'r KitRule> {
    rules.iter().flat_map(|rules| &rules.kit).filter(|rule| rule.speaks_of(item)).collect()
}

/// The standards that the book takes for an item, each once, with the clause that names it.
fn standards<'r>(on: &[&'r KitRule]) -> Vec<(&'r str, &'r str)> {
    let mut all: Vec<(&str, &str)> = Vec::new();
    for (standard, clause) in on.iter().flat_map(|rule| rule.standards.iter().map(|text| (text, &rule.rule.clause))) {
        if !all.iter().any(|there| there.0 == standard) {
            all.push((standard, clause));
        }
    }
    all
}

/// The standard of a new item: one that the book takes for it, else as it was typed. What does not go together is told.
pub(super) fn standard(form: &mut Form, rules: Option<&RuleBook>, item: &str) -> String {
    let (chosen, typed) = (form.text(OF_BOOK).to_owned(), form.text("standard").to_owned());
    if chosen.is_empty() {
        return typed;
    }
    if !typed.is_empty() && typed != chosen {
        form.fault(OF_BOOK, "Two standards are given here. Choose one, or leave it open and type the other.");
    } else if !standards(&rules_on(rules, item)).iter().any(|one| one.0 == chosen) {
        form.fault(OF_BOOK, format!("For this item the book does not name {chosen}. Choose again."));
    }
    chosen
}

impl KitForm {
    /// The form that changes an item: everything that is recorded of it.
    pub(super) fn of(form: &Form, rules: Option<&RuleBook>) -> Self {
        let fields = item(form, rules).into_iter().chain(label(form, "", rules)).collect();
        Self::with(form, rules, fields, Vec::new())
    }

    /// The form for a new item: of what the book speaks of, what it asks; what else a label may show is folded.
    pub(super) fn of_new(form: &Form, rules: Option<&RuleBook>) -> Self {
        let on = rules_on(rules, form.text("item"));
        if on.is_empty() {
            return Self::of(form, rules);
        }
        let mut fields = item(form, rules);
        let mut label = label(form, "", rules);
        let taken = standards(&on);
        if !taken.is_empty() {
            let line =
                |(standard, clause): &(&str, &str)| ((*standard).to_owned(), format!("{standard} (clause {clause})"));
            let none = (String::new(), "choose, or type another".to_owned());
            let choices = std::iter::once(none).chain(taken.iter().map(line));
            fields.push(form.field(OF_BOOK, "Label: standard").choice(choices));
            if let Some(other) = label.first_mut() {
                "Label: another standard".clone_into(&mut other.label);
                "As printed, where the book does not name it.".clone_into(&mut other.hint);
            }
        }
        let asked_by = |field: &Field| {
            let of_name = |asked: &&LabelField| field_name(**asked) == field.name;
            let rule = on.iter().find(|rule| rule.label_fields.iter().any(|asked| of_name(&asked)));
            rule.map(|rule| rule.rule.clause.as_str())
        };
        let mut more = Vec::new();
        for field in label {
            match asked_by(&field) {
                Some(_) if field.name == "standard" && !taken.is_empty() => more.push(field),
                Some(clause) => {
                    let hint = format!("The book asks for it (clause {clause}). {}", field.hint);
                    fields.push(field.hint(hint));
                }
                None => more.push(field),
            }
        }
        Self::with(form, rules, fields, more)
    }

    fn with(form: &Form, rules: Option<&RuleBook>, fields: Vec<Field>, more: Vec<Field>) -> Self {
        let second = label(form, SECOND, rules);
        let used = |fields: &[Field]| fields.iter().any(|field| !field.value.is_empty() || field.fault.is_some());
        let (second_open, more_open) = (used(&second), used(&more));
        let note = vec![form.field("note", "What else there is to say").area()];
        let shown: Vec<&Field> = fields.iter().chain(&more).chain(&second).chain(&note).collect();
        Self { faults: form.other_faults(&shown), fields, more, more_open, second, note, second_open }
    }
}

/// The form's name of what a label shows.
const fn field_name(asked: LabelField) -> &'static str {
    match asked {
        LabelField::Standard => "standard",
        LabelField::Serial => "serial",
        LabelField::Made => "made",
        LabelField::Printed => "ends_printed",
        LabelField::Checked => "checked",
    }
}

/// What the item is.
fn item(form: &Form, rules: Option<&RuleBook>) -> Vec<Field> {
    let items = items_of(rules);
    let line = |item: String| (item.clone(), item);
    if items.is_empty() {
        return vec![form.field("other_item", "What it is").hint("As seat, belts, extinguisher, window net.")];
    }
    let other = (String::new(), "choose, or name it below".to_owned());
    let choices = [other].into_iter().chain(items.into_iter().map(line));
    vec![
        form.field("item", "What it is, in the book's word").choice(choices),
        form.field("other_item", "Something else").hint("Only for what the book has no word for."),
    ]
}

fn label(form: &Form, begins: &str, rules: Option<&RuleBook>) -> Vec<Field> {
    let which = if begins == SECOND { "Second label" } else { "Label" };
    let field = |name: &str, words: &str| form.field_named(format!("{begins}{name}"), format!("{which}: {words}"));
    let mut standards: Vec<&str> =
        rules.iter().flat_map(|rules| &rules.kit).flat_map(|rule| &rule.standards).map(String::as_str).collect();
    standards.dedup();
    let standards = if standards.is_empty() {
        "As printed on the label.".to_owned()
    } else {
        format!("As printed. The book takes: {}.", standards.join(", "))
    };
    vec![
        field("standard", "standard").hint(standards),
        field("serial", "serial number").hint("As printed."),
        field("made", "made").hint("As printed: 2026, 2026-06, JUN 2026 or 2026-06-15."),
        field("ends_printed", "good until").hint("Only where an end is printed on it."),
        field("checked", "last filled, checked or certified again").hint("For bottles and the like; from their tag."),
    ]
}

//! The text of a book, its rules as a form shows them, and the same text with one rule written, added or taken out.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

use super::comments::{hand_on, header_comments};
use super::pairs::Pairs;
use super::{rows, values};
use crate::domain::book::forms::asked::{Ask, Shape};
use crate::domain::book::terms::rule_kinds::{Place, RuleKind};

/// One rule in a list of them, as its text has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleLine {
    /// Where it stands.
    pub place: Place,
    /// Its name in the book; empty when it has none.
    pub id: String,
    /// Its clause; empty when it has none.
    pub clause: String,
    /// It in our own words; empty when it has none.
    pub words: String,
}

/// A book's text that reads as TOML, ready to be edited.
#[derive(Debug, Clone)]
pub struct Editing {
    toml: String,
    doc: DocumentMut,
}

impl Editing {
    /// A text; none when it is no TOML, or so laid out that writing it anew would not give the same bytes.
    pub fn of(toml: &str) -> Option<Self> {
        let doc: DocumentMut = toml.parse().ok()?;
        (doc.to_string() == toml).then(|| Self { toml: toml.to_owned(), doc })
    }

    /// Its rules, kind by kind, in the order of the text within a kind.
    pub fn rules(&self) -> Vec<RuleLine> {
        let mut rules = Vec::new();
        for kind in RuleKind::ALL {
            for place in (0..self.count(kind)).map(|at| Place { kind, at }) {
                let Some(table) = self.table(place) else { continue };
                let text = |name| table.get(name).and_then(Item::as_str).unwrap_or_default().trim().to_owned();
                rules.push(RuleLine { place, id: text("id"), clause: text("clause"), words: text("text_ours") });
            }
        }
        rules
    }

    /// The same rule, where others were added or taken out before it meanwhile: by its place, else by its name.
    pub fn find(&self, place: Place, id: &str) -> Option<Place> {
        let rules = self.rules();
        let same = |line: &&RuleLine| line.place.kind == place.kind && line.id == id;
        let there = rules.iter().find(|line| line.place == place).filter(same);
        there.or_else(|| rules.iter().find(same)).map(|line| line.place)
    }

    /// Every field of a rule as text, known and unknown ones; none when there is no such rule.
    pub fn typed(&self, place: Place) -> Option<Pairs> {
        let table = self.table(place)?;
        let mut typed = Pairs::new();
        for ask in place.kind.asks() {
            fill(&mut typed, table, ask);
        }
        typed.extend(self.unknown(place));
        Some(typed)
    }

    /// The fields of a rule that are not known, each with what stands there.
    pub fn unknown(&self, place: Place) -> Pairs {
        let Some(table) = self.table(place) else { return Pairs::new() };
        let known = |name: &str, item: &Item| {
            place.kind.asks().any(|ask| {
                let fits = match ask.shape {
                    Shape::Group(_) => item.as_table_like().is_some(),
                    Shape::Rows(_) => rows::count(item).is_some(),
                    _ => item.is_value(),
                };
                ask.name == name && fits
            })
        };
        let unknown = table.iter().filter(|(name, item)| !known(name, item));
        unknown.map(|(name, item)| (name.to_owned(), item.to_string().trim().to_owned())).collect()
    }

    /// The text with what was typed in a rule's place; the same bytes where nothing is another. What cannot be a number is
    /// written as a text, for the book's reader to say what is wrong with it. None when there is no such rule.
    pub fn write(mut self, place: Place, typed: &Pairs) -> Option<String> {
        let unknown: Vec<String> = self.unknown(place).into_iter().map(|entry| entry.0).collect();
        let after = self.position(place);
        let table = table_mut(self.doc.as_table_mut(), place)?;
        let mut left = Vec::new();
        let mut changed = false;
        for ask in place.kind.asks() {
            changed |= values::put(table, ask, typed, &mut left);
        }
        for name in
            unknown.iter().filter(|name| typed.iter().any(|entry| entry.0 == **name && entry.1.trim().is_empty()))
        {
            left.push(super::comments::take(table, name));
            changed = true;
        }
        if !changed {
            return Some(self.toml);
        }
        hand_on(&mut self.doc, &left.concat(), after);
        Some(self.doc.to_string())
    }

    /// The text with a new rule of a kind behind the others of it, and its place; none when the book has one and may have
    /// no more.
    pub fn add(mut self, kind: RuleKind, typed: &Pairs) -> Option<(String, Place)> {
        let at = self.count(kind);
        let place = Place { kind, at };
        let root = self.doc.as_table_mut();
        if kind.single() {
            if at > 0 {
                return None;
            }
            root.insert(kind.table(), Item::Table(Table::new()));
        } else {
            let list = root.entry(kind.table()).or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
            match list {
                Item::ArrayOfTables(list) => list.push(Table::new()),
                Item::Value(Value::Array(list)) => list.push(toml_edit::InlineTable::new()),
                _ => return None,
            }
        }
        let table = table_mut(root, place)?;
        for ask in kind.asks() {
            values::put(table, ask, typed, &mut Vec::new());
        }
        Some((self.doc.to_string(), place))
    }

    /// The text without a rule; the comments above it stay. None when there is no such rule.
    pub fn take_out(mut self, place: Place) -> Option<String> {
        let after = self.position(place);
        let root = self.doc.as_table_mut();
        let comments = match root.get_mut(place.kind.table())? {
            Item::ArrayOfTables(list) => {
                let comments = header_comments(list.get(place.at)?);
                list.remove(place.at);
                comments
            }
            Item::Value(Value::Array(list)) => {
                list.get(place.at)?;
                list.remove(place.at);
                String::new()
            }
            Item::Table(table) if place.kind.single() => {
                let comments = header_comments(table);
                root.remove(place.kind.table());
                comments
            }
            _ => return None,
        };
        hand_on(&mut self.doc, &comments, after);
        Some(self.doc.to_string())
    }

    fn count(&self, kind: RuleKind) -> usize {
        match self.doc.get(kind.table()) {
            Some(Item::Table(_) | Item::Value(Value::InlineTable(_))) if kind.single() => 1,
            Some(item) if !kind.single() => rows::count(item).unwrap_or_default(),
            _ => 0,
        }
    }

    fn table(&self, place: Place) -> Option<&dyn TableLike> {
        let item = self.doc.get(place.kind.table())?;
        if place.kind.single() { item.as_table_like() } else { rows::row(item, place.at) }
    }

    /// Where in the text a rule's table stands, counted in tables; none for one within a line.
    fn position(&self, place: Place) -> Option<isize> {
        let item = self.doc.get(place.kind.table())?;
        match item {
            Item::Table(table) => table.position(),
            Item::ArrayOfTables(list) => list.get(place.at)?.position(),
            _ => None,
        }
    }
}

fn table_mut(root: &mut Table, place: Place) -> Option<&mut dyn TableLike> {
    let item = root.get_mut(place.kind.table())?;
    if place.kind.single() { item.as_table_like_mut() } else { rows::row_mut(item, place.at) }
}

/// The pairs of one field of a table.
fn fill(typed: &mut Pairs, table: &dyn TableLike, ask: &Ask) {
    let Some(item) = table.get(ask.name) else { return };
    let mut inner = |table: &dyn TableLike, asks: &[Ask], path: &str| {
        let mut within = Pairs::new();
        for ask in asks {
            fill(&mut within, table, ask);
        }
        typed.extend(within.into_iter().map(|(name, text)| (format!("{path}.{name}"), text)));
    };
    match ask.shape {
        Shape::Group(asks) => {
            if let Some(table) = item.as_table_like() {
                inner(table, asks, ask.name);
            }
        }
        Shape::Rows(asks) => {
            for at in 0..rows::count(item).unwrap_or_default() {
                if let Some(row) = rows::row(item, at) {
                    inner(row, asks, &format!("{}.{at}", ask.name));
                }
            }
        }
        _ => typed.extend(item.as_value().map(|value| (ask.name.to_owned(), values::text_of(value)))),
    }
}

//! One field of a rule, from its text in the book to the text in a form, and back.

use toml_edit::{Array, ArrayOfTables, InlineTable, Item, RawString, Table, TableLike, Value};

use super::comments::{header_comments, take};
use super::pairs::{Pairs, under};
use super::{lists, rows};
use crate::domain::book::forms::asked::{Ask, Shape};

/// Most rows that a form adds to a field at once.
const MOST_NEW: usize = 20;

/// A value as a form shows it: a number as the text has it, a list line by line.
pub(super) fn text_of(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Integer(number) => number.display_repr().into_owned(),
        Value::Float(number) => number.display_repr().into_owned(),
        Value::Boolean(flag) => flag.value().to_string(),
        Value::Datetime(day) => day.display_repr().into_owned(),
        Value::Array(list) => list.iter().map(text_of).collect::<Vec<_>>().join("\n"),
        Value::InlineTable(table) => table.to_string().trim().to_owned(),
    }
}

/// What was typed as a value of its field; what is no number, day or flag is a text.
fn value_of(shape: Shape, text: &str) -> Value {
    let as_it_is = |fits: fn(&Value) -> bool| text.parse::<Value>().ok().filter(fits);
    let read = match shape {
        Shape::Number => {
            let number = |text: &str| text.parse::<Value>().ok().filter(|value| value.is_integer() || value.is_float());
            // people write .120; TOML wants the nought
            number(text).or_else(|| text.strip_prefix('.').and_then(|rest| number(&format!("0.{rest}"))))
        }
        Shape::YesNo => as_it_is(Value::is_bool),
        Shape::Day => as_it_is(Value::is_datetime),
        Shape::Lines | Shape::Words(_) => Some(Value::Array(entries(text).into_iter().collect())),
        _ => None,
    };
    let mut value = read.unwrap_or_else(|| Value::from(text));
    value.decor_mut().clear();
    value
}

fn entries(text: &str) -> Vec<&str> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).collect()
}

/// Puts what was typed into a field of a table; comments that are left over go to `left`. True when something is another.
pub(super) fn put(table: &mut dyn TableLike, ask: &Ask, typed: &Pairs, left: &mut Vec<String>) -> bool {
    match ask.shape {
        Shape::Group(asks) => put_group(table, ask, asks, typed, left),
        Shape::Rows(asks) => put_rows(table, ask, asks, typed, left),
        _ => put_value(table, ask, under(typed, ask.name), left),
    }
}

fn put_value(table: &mut dyn TableLike, ask: &Ask, typed: &str, left: &mut Vec<String>) -> bool {
    let old = table.get(ask.name).and_then(Item::as_value);
    if typed.is_empty() {
        if old.is_none() {
            return false;
        }
        left.push(take(table, ask.name));
        return true;
    }
    let new = value_of(ask.shape, typed);
    let Some(old) = old else {
        table.insert(ask.name, Item::Value(new));
        return true;
    };
    if same(ask.shape, old, &new, typed) {
        return false;
    }
    let new = match (old, ask.shape) {
        (Value::Array(old), Shape::Lines) => Value::Array(lists::of_texts(old, &entries(typed))),
        (Value::Array(old), Shape::Words(_)) => Value::Array(lists::of_texts(old, &in_order_of(old, &entries(typed)))),
        _ => new,
    };
    let decor = old.decor().clone();
    if let Some(Item::Value(there)) = table.get_mut(ask.name) {
        *there = new;
        *there.decor_mut() = decor;
    }
    true
}

/// Whether a field has already what was typed, as what it is to be.
fn same(shape: Shape, old: &Value, new: &Value, typed: &str) -> bool {
    if old.type_name() != new.type_name() {
        return false;
    }
    let old = text_of(old).replace("\r\n", "\n");
    match shape {
        Shape::Lines => entries(&old) == entries(typed),
        Shape::Words(_) => {
            let (mut one, mut other) = (entries(&old), entries(typed));
            one.sort_unstable();
            other.sort_unstable();
            one == other
        }
        _ => old.trim() == typed.replace("\r\n", "\n"),
    }
}

/// The words that are chosen: those that were there in their order, then the new ones.
fn in_order_of<'w>(old: &Array, wanted: &[&'w str]) -> Vec<&'w str> {
    let there: Vec<&str> = old.iter().filter_map(Value::as_str).collect();
    let place = |word: &str| there.iter().position(|other| *other == word).unwrap_or(usize::MAX);
    let mut ordered = wanted.to_vec();
    ordered.sort_by_key(|word| place(word));
    ordered
}

/// After fields of a table within a line came or went: the space before its closing brace stands there and nowhere else.
fn close_up(table: &mut InlineTable) {
    let space = |raw: Option<&RawString>| raw.and_then(RawString::as_str).unwrap_or_default().to_owned();
    let first = table.iter().next().and_then(|entry| table.key(entry.0));
    let inside = first.map(|key| space(key.leaf_decor().prefix())).filter(|space| space.trim().is_empty());
    let Some(inside) = inside else { return };
    let last = table.len().saturating_sub(1);
    for (at, (_, value)) in table.iter_mut().enumerate() {
        let suffix = space(value.decor().suffix());
        if suffix.trim().is_empty() {
            value.decor_mut().set_suffix(if at == last { inside.clone() } else { String::new() });
        }
    }
}

/// What was typed within a group or a row, under the fields' own names.
fn within(typed: &Pairs, path: &str) -> Pairs {
    let inner =
        |(name, text): &(String, String)| Some((name.strip_prefix(path)?.strip_prefix('.')?.to_owned(), text.clone()));
    typed.iter().filter_map(inner).collect()
}

fn is_empty(typed: &Pairs, asks: &[Ask]) -> bool {
    asks.iter().all(|ask| under(typed, ask.name).is_empty())
}

fn put_group(table: &mut dyn TableLike, ask: &Ask, asks: &[Ask], typed: &Pairs, left: &mut Vec<String>) -> bool {
    let typed = within(typed, ask.name);
    let there = table.get(ask.name).is_some_and(Item::is_table_like);
    match (there, is_empty(&typed, asks)) {
        (false, true) => false,
        (true, true) => {
            left.extend(table.get(ask.name).and_then(Item::as_table).map(header_comments));
            left.push(take(table, ask.name));
            true
        }
        (true, false) => {
            let Some(group) = table.get_mut(ask.name) else { return false };
            put_all(group, asks, &typed, left)
        }
        (false, false) => {
            table.insert(ask.name, Item::Value(Value::InlineTable(in_a_line(asks, &typed))));
            true
        }
    }
}

/// Puts what was typed into the fields of a table that is there.
fn put_all(item: &mut Item, asks: &[Ask], typed: &Pairs, left: &mut Vec<String>) -> bool {
    let changed = item.as_table_like_mut().is_some_and(|table| put_each(table, asks, typed, left));
    if let (true, Some(table)) = (changed, item.as_inline_table_mut()) {
        close_up(table);
    }
    changed
}

fn put_each(table: &mut dyn TableLike, asks: &[Ask], typed: &Pairs, left: &mut Vec<String>) -> bool {
    let mut changed = false;
    for ask in asks {
        changed |= put(table, ask, typed, left);
    }
    changed
}

fn in_a_line(asks: &[Ask], typed: &Pairs) -> InlineTable {
    let mut group = InlineTable::new();
    put_each(&mut group, asks, typed, &mut Vec::new());
    group
}

fn put_rows(table: &mut dyn TableLike, ask: &Ask, asks: &[Ask], typed: &Pairs, left: &mut Vec<String>) -> bool {
    let typed = within(typed, ask.name);
    let there = table.get(ask.name).and_then(rows::count).unwrap_or_default();
    let rows: Vec<Pairs> = (0..there + MOST_NEW).map(|at| within(&typed, &at.to_string())).collect();
    let wanted = rows.iter().any(|row| !is_empty(row, asks));
    if !wanted {
        if there > 0 {
            left.push(take(table, ask.name));
        }
        return there > 0;
    }
    let mut changed = false;
    if there == 0 && table.get(ask.name).and_then(rows::count).is_none() {
        // A tube has too many fields for one line.
        let list =
            if asks.len() > 3 { Item::ArrayOfTables(ArrayOfTables::new()) } else { Value::from(Array::new()).into() };
        table.insert(ask.name, list);
        changed = true;
    }
    let Some(list) = table.get_mut(ask.name) else { return changed };
    for (at, row) in rows.iter().enumerate().take(there) {
        if is_empty(row, asks) {
            continue;
        }
        changed |= match list {
            Item::ArrayOfTables(list) => list.get_mut(at).is_some_and(|there| put_each(there, asks, row, left)),
            Item::Value(Value::Array(list)) => {
                list.get_mut(at).and_then(Value::as_inline_table_mut).is_some_and(|there| {
                    let changed = put_each(there, asks, row, left);
                    if changed {
                        close_up(there);
                    }
                    changed
                })
            }
            _ => false,
        };
    }
    let emptied: Vec<usize> = (0..there).filter(|at| rows.get(*at).is_none_or(|row| is_empty(row, asks))).collect();
    for at in emptied.iter().rev() {
        take_row(list, *at, left);
    }
    let more: Vec<&Pairs> = rows.iter().skip(there).filter(|row| !is_empty(row, asks)).collect();
    for row in &more {
        push_row(list, asks, row);
    }
    changed || !emptied.is_empty() || !more.is_empty()
}

fn take_row(list: &mut Item, at: usize, left: &mut Vec<String>) {
    match list {
        Item::ArrayOfTables(list) => {
            left.extend(list.get(at).map(header_comments));
            list.remove(at);
        }
        Item::Value(Value::Array(list)) => lists::take_row(list, at),
        _ => {}
    }
}

fn push_row(list: &mut Item, asks: &[Ask], typed: &Pairs) {
    match list {
        Item::ArrayOfTables(list) => {
            let mut row = Table::new();
            put_each(&mut row, asks, typed, &mut Vec::new());
            list.push(row);
        }
        Item::Value(Value::Array(list)) => lists::push_row(list, Value::InlineTable(in_a_line(asks, typed))),
        _ => {}
    }
}

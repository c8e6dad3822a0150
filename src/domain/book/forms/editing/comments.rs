//! Comments of a text whose field or rule is taken out: they stay, at what comes after.

use toml_edit::{Decor, DocumentMut, Item, RawString, Table, TableLike};

/// What a piece of layout says, as text.
fn said(raw: Option<&RawString>) -> &str {
    raw.and_then(RawString::as_str).unwrap_or_default()
}

/// A piece of layout where it has a comment, each of its lines ended; empty where it has none.
fn with_comment(raw: &str) -> String {
    match (raw.contains('#'), raw.ends_with('\n')) {
        (false, _) => String::new(),
        (true, true) => raw.to_owned(),
        (true, false) => format!("{raw}\n"),
    }
}

/// The comments above a table's header.
pub(super) fn header_comments(table: &Table) -> String {
    with_comment(said(table.decor().prefix()))
}

/// Takes a field out of a table. Its comments go to the field after it; they are given back where there is none.
pub(super) fn take(table: &mut dyn TableLike, name: &str) -> String {
    let above = table.key(name).map(|key| with_comment(said(key.leaf_decor().prefix()))).unwrap_or_default();
    let behind = table.get(name).and_then(Item::as_value).map(|value| said(value.decor().suffix()).trim().to_owned());
    let mut comments = above;
    comments.push_str(&with_comment(&behind.unwrap_or_default()));
    let next = table.iter().skip_while(|entry| entry.0 != name).skip(1).find(|entry| entry.1.is_value());
    let next = next.map(|entry| entry.0.to_owned());
    table.remove(name);
    if comments.is_empty() {
        return comments;
    }
    let Some(next) = next else { return comments };
    let Some(mut key) = table.key_mut(&next) else { return comments };
    let before = said(key.leaf_decor().prefix()).to_owned();
    key.leaf_decor_mut().set_prefix(format!("{comments}{before}"));
    String::new()
}

/// Puts comments above the table that comes after a position, or at the text's end.
pub(super) fn hand_on(doc: &mut DocumentMut, comments: &str, after: Option<isize>) {
    if comments.is_empty() {
        return;
    }
    let mut positions = Vec::new();
    positions_of(doc.as_table(), &mut positions);
    let next = positions.into_iter().filter(|position| Some(*position) > after).min();
    if let Some(table) = next.and_then(|next| at_position(doc.as_table_mut(), next)) {
        put_before(table.decor_mut(), comments);
        return;
    }
    let trailing = doc.trailing().as_str().unwrap_or_default().to_owned();
    doc.set_trailing(format!("{comments}{trailing}"));
}

fn put_before(decor: &mut Decor, comments: &str) {
    let before = decor.prefix().and_then(RawString::as_str).unwrap_or("\n").to_owned();
    decor.set_prefix(format!("{comments}{before}"));
}

fn positions_of(table: &Table, found: &mut Vec<isize>) {
    for (_, item) in table {
        match item {
            Item::Table(inner) => {
                found.extend(inner.position().filter(|_| !inner.is_implicit() && !inner.is_dotted()));
                positions_of(inner, found);
            }
            Item::ArrayOfTables(list) => {
                for inner in list {
                    found.extend(inner.position());
                    positions_of(inner, found);
                }
            }
            _ => {}
        }
    }
}

fn at_position(table: &mut Table, position: isize) -> Option<&mut Table> {
    for (_, item) in table.iter_mut() {
        match item {
            Item::Table(inner) => {
                if inner.position() == Some(position) {
                    return Some(inner);
                }
                if let Some(found) = at_position(inner, position) {
                    return Some(found);
                }
            }
            Item::ArrayOfTables(list) => {
                for inner in list.iter_mut() {
                    if inner.position() == Some(position) {
                        return Some(inner);
                    }
                    if let Some(found) = at_position(inner, position) {
                        return Some(found);
                    }
                }
            }
            _ => {}
        }
    }
    None
}

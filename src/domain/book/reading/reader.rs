//! Reading a rule book from TOML: everything that is wrong with it at once, or the book.

use std::collections::HashSet;
use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::domain::words::limits;
use crate::domain::words::wording::capital;

use super::agreeing;
use super::agreeing::Agreeing;
use super::class_edges;
use super::exceptions;
use crate::domain::book::kinds::{
    GussetRule, HoldRule, KitRule, Limit, MemberNeeded, PlateRule, ShotRule, SteelRule, Weight, WeightClass,
};
use crate::domain::book::rule_book::{BookHead, RuleBook};
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::mistake::{Mistake, Slips};

/// Most rules in one book.
pub const MOST_RULES: usize = 10_000;
/// Most weight classes in one book; each is compared with each.
const MOST_CLASSES: usize = 100;

/// Reads a book, or says every mistake in it by line and column, in the order of the text.
pub fn read(toml: &str) -> Result<RuleBook, Vec<Mistake>> {
    let slips = Slips::default();
    let book = read_into(toml, &slips);
    match book {
        Some(book) if slips.count() == 0 => Ok(book),
        _ => {
            if slips.count() == 0 {
                slips.add(0..0, "This does not read as a rule book.", "Begin with [book].");
            }
            Err(slips.describe(toml))
        }
    }
}

fn read_into(toml: &str, slips: &Slips) -> Option<RuleBook> {
    if toml.len() > limits::BOOK_BYTES {
        let what = format!("This text has {} bytes; a rule book has at most {}.", toml.len(), limits::BOOK_BYTES);
        slips.add(0..0, what, "Split the book, or take out what is no rule.");
        return None;
    }
    let (document, errors) = DeTable::parse_recoverable(toml);
    if !errors.is_empty() {
        // what was saved of a broken text would only give mistakes that are none
        for error in &errors {
            let what = sentence(error.message());
            slips.add(error.span().unwrap_or(0..0), what, "Mend the line so that it reads as TOML.");
        }
        return None;
    }
    let table = document.get_ref();
    let rules = table.iter().map(|entry| if let DeValue::Array(list) = entry.1.get_ref() { list.len() } else { 1 });
    let count: usize = rules.sum();
    if count > MOST_RULES {
        let what = format!("This book has {count} rules; at most {MOST_RULES} are read.");
        slips.add(0..0, what, "Take out the rules that are no longer in force.");
        return None;
    }
    let book = read_table(table, document.span(), slips)?;
    twice(table, slips);
    exceptions::check(table, slips);
    Some(book)
}

/// A parser's message as a sentence of ours.
fn sentence(message: &str) -> String {
    let message = message.trim().trim_end_matches('.').replace('\n', "; ");
    format!("{}.", capital(&message))
}

fn read_table<'a>(table: &'a DeTable<'a>, span: Range<usize>, slips: &'a Slips) -> Option<RuleBook> {
    let fields = Fields::new(table, span.start..span.start, "a rule book", slips);
    let head = fields.table_maybe("book", "the book's head");
    if head.is_none() && !fields.has("book") {
        fields.slip("book", "“[book]” is missing.", "Begin with [book] and its name, body, edition and units.");
    }
    let book = head.as_ref().and_then(BookHead::read);
    let weight_table = fields.table_maybe("weight", "[weight]");
    let weight = weight_table.as_ref().and_then(Weight::read);
    let belongs = weight.as_ref().map(|weight| weight.edge_belongs_to);
    let classes = fields.tables("weight_class", "a weight class");
    if !classes.is_empty() && weight_table.is_none() {
        let wanted = "Add [weight]: its conditions, edge_belongs_to, hoop_bars.";
        fields.slip("weight_class", "There are weight classes, but nothing says how to weigh.", wanted);
    }
    if classes.len() > MOST_CLASSES {
        let wanted = format!("Write at most {MOST_CLASSES}.");
        fields.slip("weight_class", format!("There are {} weight classes.", classes.len()), wanted);
        return None;
    }
    let read = |table| agreeing::read(table, |table| WeightClass::read(table, belongs));
    let read = classes.iter().filter_map(|table| Some((table, read(table)?)));
    let weight_classes: Vec<(&Fields<'_>, WeightClass)> = read.collect();
    let as_printed = weight.as_ref().is_some_and(|weight| weight.gaps_as_printed);
    class_edges::check(&weight_classes, as_printed);
    let weight_classes = weight_classes.into_iter().map(|entry| entry.1).collect();
    let book = RuleBook {
        weight,
        weight_classes,
        steels: agreed(&fields, "steel", "a steel rule", SteelRule::read),
        members: agreed(&fields, "member_needed", "a bar that is needed", MemberNeeded::read),
        limits: agreed(&fields, "limit", "a limit", Limit::read),
        plates: agreed(&fields, "plate", "a plate rule", PlateRule::read),
        gussets: agreed(&fields, "gusset", "a gusset rule", GussetRule::read),
        kit: agreed(&fields, "kit", "a kit rule", KitRule::read),
        shots: each(&fields, "shot", "a photograph", ShotRule::read),
        hold: fields.table_maybe("hold", "[hold]").as_ref().and_then(HoldRule::read),
        book: book?,
    };
    fields.finish();
    Some(book)
}

fn each<'a, T>(
    fields: &Fields<'a>,
    name: &'static str,
    kind: &'static str,
    read: impl Fn(&Fields<'a>) -> Option<T>,
) -> Vec<T> {
    fields.tables(name, kind).iter().filter_map(read).collect()
}

/// The same of rules that hold figures, each of which must be those of its words.
fn agreed<'a, T: Agreeing>(
    fields: &Fields<'a>,
    name: &'static str,
    kind: &'static str,
    read: impl Fn(&Fields<'a>) -> Option<T>,
) -> Vec<T> {
    each(fields, name, kind, |table| agreeing::read(table, &read))
}

/// Notes every id that was there before.
fn twice<'a>(table: &'a DeTable<'a>, slips: &Slips) {
    let mut places: Vec<(Range<usize>, &str, String)> = Vec::new();
    let mut look = |value: &'a DeValue<'a>, at: String| {
        if let DeValue::Table(rule) = value
            && let Some((_, id)) = rule.iter().find(|entry| entry.0.get_ref() == "id")
            && let DeValue::String(text) = id.get_ref()
        {
            places.push((id.span(), text.trim(), format!("{at}.id")));
        }
    };
    for (name, value) in table {
        let name = name.get_ref();
        match value.get_ref() {
            DeValue::Array(list) => {
                list.iter().enumerate().for_each(|(at, entry)| look(entry.get_ref(), format!("{name}.{at}")));
            }
            other => look(other, name.to_string()),
        }
    }
    places.sort_by_key(|place| place.0.start);
    let mut seen = HashSet::new();
    for (span, id, at) in places {
        if !seen.insert(id) {
            slips.add_at((span, at), format!("Another rule is called “{id}”."), "Give each rule its own id.");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMO: &str = include_str!("../../../demo/book.toml");

    fn mistakes(toml: &str) -> Vec<Mistake> {
        read(toml).err().unwrap_or_default()
    }

    #[test]
    fn the_demo_book_reads_and_every_kind_is_in_it() {
        assert_eq!(mistakes(DEMO), []);
        let book = read(DEMO).ok();
        let counts = book.as_ref().map(|book| {
            let bars = [book.weight_classes.len(), book.members.len(), book.limits.len()];
            (bars, [book.plates.len(), book.gussets.len(), book.kit.len(), book.shots.len()], book.hold.is_some())
        });
        assert_eq!(counts, Some(([3, 12, 15], [4, 3, 4, 8], true)));
        assert_eq!(book.map(|book| book.rules().count()), Some(DEMO.matches("\nid = ").count()));
    }

    #[test]
    fn every_mistake_is_told_at_its_place() {
        let toml = DEMO
            .replacen("clause = \"4.1\"", "claus = \"4.1\"", 1)
            .replacen("measure = \"gusset leg\"", "measure = \"gusset lag\"", 1)
            .replacen("count = 1", "count = 0.5", 1)
            .replacen("id = \"kit-belts\"", "id = \"kit-seat\"", 1);
        let line_of = |part: &str| toml.lines().position(|line| line.contains(part)).map_or(0, |at| at + 1);
        let found = mistakes(&toml);
        let at = |part: &str| {
            found.iter().find(|found| found.line == line_of(part)).map(|found| (found.column, found.wanted.clone()))
        };
        assert_eq!(at("claus = "), Some((1, "Did you mean “clause”?".to_owned())), "{found:#?}");
        assert_eq!(at("gusset lag"), Some((11, "Did you mean “gusset leg”?".to_owned())));
        assert_eq!(at("count = 0.5"), Some((9, "Write a whole number from 0 to 50.".to_owned())));
        let field = |part: &str| found.iter().find(|found| found.line == line_of(part)).map(|found| found.at.as_str());
        assert_eq!(field("count = 0.5"), Some("member_needed.0.count"));
        assert_eq!(field("claus = "), Some("limit.0.claus"));
        let twice = found.iter().filter(|found| found.what.contains("“kit-seat”")).count();
        assert_eq!((twice, found.len()), (1, 5), "the missing clause is the fifth: {found:#?}");
        assert!(found.is_sorted(), "in the order of the text");
    }

    #[test]
    fn what_is_no_toml_is_told_by_its_line() {
        let found = mistakes("[book]\nname = \nbody = \"x\"\nbody = \"y\"\n");
        assert_eq!(found.iter().map(|found| found.line).collect::<Vec<_>>(), [2, 4], "{found:#?}");
    }

    #[test]
    fn bounds_are_kept() {
        let big = format!("# {}\n{DEMO}", "x".repeat(limits::BOOK_BYTES));
        assert!(mistakes(&big).iter().any(|found| found.what.contains("bytes")));
        let many = "[[limit]]\n".repeat(MOST_RULES + 1);
        assert!(mistakes(&many).iter().any(|found| found.what.contains("rules")));
        let few = mistakes(&"[[limit]]\n".repeat(MOST_RULES - 5));
        assert!((100..1000).contains(&few.len()), "{}", few.len());
        assert!(!mistakes("").is_empty());
    }

    #[test]
    fn classes_that_overlap_are_refused() {
        // without its own words, which would be wrong of every other figure
        let lines = DEMO.lines().map(|line| if line.starts_with("text_ours") { "text_ours = \"x\"" } else { line });
        let demo = lines.collect::<Vec<_>>().join("\n");
        assert_eq!(mistakes(&demo), []);
        let found = mistakes(&demo.replacen("over = 1360", "over = 1300", 1));
        assert!(found.iter().any(|found| found.what.contains("overlap")), "{found:#?}");
        let over = demo.lines().position(|line| line == "over = 1360").map(|at| at + 1);
        assert_eq!(
            found.iter().map(|found| Some(found.line)).collect::<Vec<_>>(),
            [over],
            "at the class that begins too soon"
        );
        let gap = demo.replacen("over = 1360", "over = 1361", 1);
        let found = mistakes(&gap);
        let what = "No class holds a car between 1360 kg, where “middle” ends, and 1361 kg, where “heavy” begins.";
        assert_eq!(
            found.iter().map(|found| (Some(found.line), found.what.as_str())).collect::<Vec<_>>(),
            [(over, what)]
        );
        let printed = gap.replacen("edge_belongs_to", "gaps_as_printed = true\nedge_belongs_to", 1);
        assert_eq!(mistakes(&printed), [], "a body's own table may be so");
        let found = mistakes(&demo.replacen("upto = 1360", "upto = 1360\nupto_included = true", 1));
        assert!(found.iter().any(|found| found.what.contains("second time")), "{found:#?}");
    }
}

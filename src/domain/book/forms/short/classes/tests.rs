//! A class table written by rows, and what a text had before kept.

use super::*;
use crate::domain::book::kinds::WeightClass;
use crate::domain::book::read;

const DEMO: &str = include_str!("../../../../../demo/book.toml");
const HEAD: &str = "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n";

fn row(over: &str, upto: &str, main: &str, other: &str) -> ClassRow {
    let [over, upto, main, other] = [over, upto, main, other].map(str::to_owned);
    ClassRow { name: String::new(), over, upto, main, other }
}

fn table(rows: &[ClassRow], units: Units) -> ClassTable {
    let source = Source { clause: "2".to_owned(), sure: "from memory".to_owned() };
    ClassTable { rows: rows.to_vec(), lighter: true, main_bars: vec![MemberRole::MainHoop], source, units }
}

#[test]
fn rows_make_classes_that_begin_where_the_one_above_ends() {
    let rows = [
        row("", "2470", "1.5 x .095", "1 1/4 x .095"),
        row("", "2950", "1.5 x .120", "1.5 x .095"),
        row("", "", "1.75 x .120", "1.5 x .120 in"),
    ];
    let table = table(&rows, Units::Inch);
    assert_eq!(table.faults(), []);
    let (text, placed) = table.write(HEAD).unwrap_or_default();
    assert_eq!(placed, [0, 1, 2]);
    let book = read(&text);
    let classes: Vec<(String, String, String)> = book
        .iter()
        .flat_map(|book| &book.weight_classes)
        .map(|class| (class.name.clone(), class.edges(), class.hoop[0].size.to_string()))
        .collect();
    let told = |name: &str, edges: &str, tube: &str| (name.to_owned(), edges.to_owned(), tube.to_owned());
    let expected = [
        told("up to 2470 lb", "up to and including 2470 lb", "1.5 × .095 in"),
        told("over 2470 lb, up to 2950 lb", "over 2470 lb, up to and including 2950 lb", "1.5 × .120 in"),
        told("over 2950 lb", "over 2950 lb", "1.75 × .120 in"),
    ];
    assert_eq!(classes, expected, "{book:?}");
    // Read again it is the same table, and writing it again changes nothing.
    let (again, lighter, bars) = ClassTable::of(&text).unwrap_or_default();
    assert_eq!((lighter, bars, again.len()), (true, vec![MemberRole::MainHoop], 3));
    let (same, _) = ClassTable { rows: again.clone(), ..table.clone() }.write(&text).unwrap_or_default();
    assert_eq!(same, text);
    // An edge moved: the class above it, the one below it and the words of both follow.
    let mut moved = again;
    moved[0].upto = "1100 kg".to_owned();
    moved[1].upto = "1350 kg".to_owned();
    moved.remove(2);
    let (text, _) = ClassTable { rows: moved, ..table }.write(&text).unwrap_or_default();
    let book = read(&text);
    let edges: Vec<String> = book.iter().flat_map(|book| &book.weight_classes).map(WeightClass::edges).collect();
    assert_eq!(edges, ["up to and including 1100 kg", "over 1100 kg, up to and including 1350 kg"], "{book:?}");
}

#[test]
fn what_does_not_read_is_told_at_its_cell() {
    let rows = [
        row("", "heavy", "45", "1.5 x .8 in"),
        row("", "1000 kg", "45 x 2.5 mm", "38 x 2.5 mm"),
        row("", "2900 lb", "45 x 2.5 mm", "38 x 2.5 mm"),
    ];
    let wrong = table(&rows, Units::Metric);
    let at: Vec<String> = wrong.faults().into_iter().map(|fault| fault.at).collect();
    assert_eq!(at, ["class.0.upto", "class.0.main", "class.0.other", "class.2.upto"]);
    assert_eq!(wrong.write(HEAD), None);
    let empty = ClassTable { main_bars: Vec::new(), ..table(&[ClassRow::default()], Units::Inch) };
    let at: Vec<String> = empty.faults().into_iter().map(|fault| fault.at).collect();
    assert_eq!(at, ["class.0.main", "main_bars"]);
    // Rows that read and do not follow one another are told by the book's own reader, at the row.
    let overlap =
        table(&[row("", "1000", "45 x 2.5", "38 x 2.5"), row("900", "", "45 x 2.5", "38 x 2.5")], Units::Metric);
    let (text, placed) = overlap.write(HEAD).unwrap_or_default();
    let mistakes = read(&text).err().unwrap_or_default();
    let at: Vec<String> = ClassTable::faults_of(&mistakes, &placed).into_iter().map(|fault| fault.at).collect();
    assert_eq!(at, ["class.1.over"], "{mistakes:?}");
}

#[test]
fn a_book_that_says_more_than_a_row_keeps_it() {
    let (rows, lighter, bars) = ClassTable::of(DEMO).unwrap_or_default();
    assert_eq!((rows.len(), rows[1].over.as_str(), rows[1].upto.as_str()), (3, "", "1360 kg"));
    let all = ClassTable { lighter, main_bars: bars, ..table(&rows, Units::Metric) };
    assert_eq!(all.write(DEMO).map(|written| written.0).as_deref(), Some(DEMO), "byte for byte");
    let mut thicker = rows;
    thicker[2].main = "48.3 x 3.6 mm".to_owned();
    let (text, placed) = ClassTable { rows: thicker, ..all }.write(DEMO).unwrap_or_default();
    // Its words were somebody's own, and now say another figure: the row is told so.
    let mistakes = read(&text).err().unwrap_or_default();
    let faults = ClassTable::faults_of(&mistakes, &placed);
    assert_eq!(faults.iter().map(|fault| fault.at.as_str()).collect::<Vec<_>>(), ["class.2.name"], "{mistakes:?}");
    assert!(text.contains("wall = 3.6") && text.matches("seamless").count() == DEMO.matches("seamless").count());
    // A table whose classes say for themselves where their edges belong is none of rows.
    let says = include_str!("../../../reading/cage-article-253.toml");
    assert_eq!(ClassTable::of(says), None);
}

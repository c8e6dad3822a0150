//! Until when kit is good: calendar figures of the data file, and rows C30 to C36 of published books, each passed and failed.

use jiff::civil::Date;
use tackbook::domain::book::kinds::{KitRule, LabelField};
use tackbook::domain::book::{RuleBook, read};
use tackbook::domain::judge::verdicts::{Known, Verdict, Word, judge};
use tackbook::domain::recorded::kit::life::{Good, good_by_label, good_through};
use tackbook::domain::recorded::kit::{KitItem, Label};
use tackbook::domain::words::car_dates::CarDates;
use tackbook::domain::words::ids::KitId;
use tackbook::domain::words::label_dates::LabelDate;

use crate::known::nothing;
use crate::oracle::oracles;

const DATA: &str = include_str!("data/date.json");

/// A kit rule of a book that says no more than `fields`.
fn rule(fields: &str) -> KitRule {
    book(fields).kit.remove(0)
}

pub(crate) fn book(fields: &str) -> RuleBook {
    let book = format!(
        "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n[[kit]]\nid = \"k\"\nclause = \"1\"\n\
         text_ours = \"x\"\nforce = \"must\"\nevidence = \"figure\"\nsure = \"text seen\"\nitem = \"x\"\n{fields}\n",
    );
    read(&book).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

pub(crate) fn item(label: Label, second_label: Option<Label>) -> KitItem {
    KitItem {
        id: KitId::from(uuid::Uuid::nil()),
        number: 1,
        item: "x".to_owned(),
        label,
        second_label,
        note: String::new(),
        version: 1,
    }
}

/// What is said of an item that is good through one day, for an event that ends on another.
fn at_event(last: &str, event: &str) -> Verdict {
    let (car, kit) = (CarDates::default(), [item(printed(last), None)]);
    let known = Known { kit: &kit, event_day: Some(day(event)), ..nothing(&car, day("2020-01-01")) };
    judge(&book("counts_from = \"printed\""), &known).verdicts.remove(0)
}

#[test]
fn an_item_is_good_for_an_event_when_it_is_on_its_last_day() {
    for case in oracles(DATA, "date.event.") {
        let text = |name: &str| case.inputs[name].as_str().unwrap();
        let word = |event: &str| at_event(text("last_valid_day"), event).word;
        let wanted = |name: &str| if case.expected[name] == true { Word::Meets } else { Word::OverBy };
        assert_eq!(word(text("event_last")), wanted("valid"), "{}", case.id);
        assert_eq!(word(text("event_first")), wanted("valid_on_first_day"), "{}", case.id);
        let said = at_event(text("last_valid_day"), text("event_last")).evidence.join(" ");
        let late = -case.expected["days_left_at_event_end"].as_i64().unwrap();
        let told = if late == 0 { "its last day.".to_owned() } else { format!("That is {late} day") };
        assert!(said.contains(&told), "{}: {said}", case.id);
    }
}

#[test]
fn the_days_that_are_left_are_counted_by_the_calendar() {
    let cases = oracles(DATA, "date.days.");
    assert_eq!(cases.len(), 5);
    for case in cases {
        let [event, last] = ["from", "to"].map(|name| case.inputs[name].as_str().unwrap());
        let said = at_event(last, event).evidence.join(" ");
        let told = match case.expected["days"].as_i64().unwrap() {
            1 => "1 day is left then.".to_owned(),
            left if left > 1 => format!("{left} days are left then."),
            late => format!("That is {} days too late.", -late),
        };
        assert!(said.ends_with(&told), "{}: {said}", case.id);
    }
}

#[test]
fn a_label_of_29_february_reads_in_leap_years_alone() {
    for case in oracles(DATA, "date.leap.") {
        let text = format!("{}-02-29", case.inputs["year"]);
        assert_eq!(text.parse::<LabelDate>().is_ok(), case.expected["leap"] == true, "{text}");
    }
}

#[expect(clippy::unnecessary_wraps, reason = "as a label has it")]
fn date(text: &str) -> Option<LabelDate> {
    Some(text.parse().unwrap())
}

pub(crate) fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn made(text: &str) -> Label {
    Label { made: date(text), ..Label::default() }
}

fn printed(text: &str) -> Label {
    Label { ends_printed: date(text), ..Label::default() }
}

/// Fails unless the label is good on the one day and not on the other.
fn good_until(row: &str, fields: &str, label: &Label, days: [&str; 2]) {
    let Good::Through(last) = good_by_label(&rule(fields), label) else { panic!("{row}: no end") };
    let [good, bad] = days.map(day);
    assert!(good <= last && bad > last, "{row}: good through {last}");
}

#[test]
fn years_later_is_the_same_day_or_the_months_last() {
    for case in oracles(DATA, "date.add.") {
        let years = case.inputs["years"].as_u64().unwrap();
        let rule = rule(&format!("life_years = {years}\ncounts_from = \"made\""));
        let wanted = day(case.expected["date"].as_str().unwrap());
        let got = good_by_label(&rule, &made(case.inputs["from"].as_str().unwrap()));
        assert_eq!(got, Good::Through(wanted), "{}", case.id);
    }
}

#[test]
fn a_month_or_a_year_counts_to_its_last_day() {
    for case in oracles(DATA, "date.month_label.") {
        let life = case.inputs["life_years"].as_u64().unwrap();
        let rule = rule(&format!("life_years = {life}\ncounts_from = \"made\"\nends = \"month end\""));
        let wanted = day(case.expected["last_valid_day"].as_str().unwrap());
        let got = good_by_label(&rule, &made(case.inputs["made"].as_str().unwrap()));
        assert_eq!(got, Good::Through(wanted), "{}", case.id);
    }
    for case in oracles(DATA, "date.end_of_year.") {
        let life = case.inputs["life_years"].as_u64().unwrap();
        let rule = rule(&format!("life_years = {life}\ncounts_from = \"made\"\nends = \"year end\""));
        let wanted = day(case.expected["last_valid_day"].as_str().unwrap());
        let got = good_by_label(&rule, &made(&case.inputs["made_year"].to_string()));
        assert_eq!(got, Good::Through(wanted), "{}", case.id);
    }
}

#[test]
fn a_printed_end_is_itself_good_unless_the_book_says_otherwise() {
    for case in oracles(DATA, "date.label.") {
        let text = case.inputs["label"].as_str().unwrap();
        let exclusive = text.ends_with("(exclusive)");
        let fields = format!("counts_from = \"printed\"\nincluded = {}", !exclusive);
        let shown = text.trim_end_matches(" (exclusive)").rsplit(' ').next().unwrap();
        let wanted = day(case.expected["last_valid_day"].as_str().unwrap());
        let good = |ends: &str| good_by_label(&rule(&format!("{fields}{ends}")), &printed(shown));
        assert_eq!(good("\nends = \"label end\""), Good::Through(wanted), "{}", case.id);
        // A book that does not say so stretches nothing: the first day that it can mean is its last.
        let shown = date(shown).unwrap();
        let first = if exclusive { wanted } else { shown.first_day() };
        assert_eq!(good(""), Good::Through(first), "{}", case.id);
    }
}

#[test]
fn a_label_that_could_be_read_two_ways_is_not_guessed() {
    for case in oracles(DATA, "date.parse.") {
        let read = case.inputs["text"].as_str().unwrap().parse::<LabelDate>();
        match case.expected["reads"].as_str().unwrap() {
            "ambiguous" => assert!(read.unwrap_err().contains(" or "), "{}", case.id),
            "error" => assert!(read.is_err(), "{}", case.id),
            reads => assert_eq!(read.unwrap().to_string(), reads, "{}", case.id),
        }
    }
    assert_eq!("15 Jun 2026".parse::<LabelDate>().unwrap().to_string(), "2026-06-15");
    assert!("2026-02-30".parse::<LabelDate>().is_err());
}

#[test]
fn c30_printed_belts_are_good_through_the_years_end() {
    // GCR 2017 9.3.18
    let fields = "counts_from = \"printed\"\nends = \"year end\"";
    good_until("C30", fields, &printed("2026"), ["2026-12-31", "2027-01-01"]);
}

#[test]
fn c31_belts_by_the_fifth_year() {
    // GCR 2017 9.3.18
    let fields = "life_years = 5\ncounts_from = \"made\"\nends = \"year end\"";
    good_until("C31", fields, &made("2014-02"), ["2019-12-31", "2020-01-01"]);
}

#[test]
fn c32_belts_by_two_years_in_both_wordings() {
    // two wordings in use, quoted second-hand: "not more than two years", "less than two years"
    let fields = "life_years = 2\ncounts_from = \"made\"";
    good_until("C32", fields, &made("2024-03-10"), ["2026-03-10", "2026-03-11"]);
    let fields = "life_years = 2\ncounts_from = \"made\"\nincluded = false";
    good_until("C32, less than", fields, &made("2024-03-10"), ["2026-03-09", "2026-03-10"]);
}

#[test]
fn c33_of_two_labels_the_later_counts_where_the_book_says_so() {
    // GCR 2017 9.3.18; a book that does not say leaves it open
    let fields = "counts_from = \"printed\"\nends = \"year end\"\n";
    let item = item(printed("2025"), Some(printed("2027")));
    let good = |words: &str| good_through(&rule(&format!("{fields}{words}")), &item);
    assert_eq!(good("two_labels = \"later\""), Good::Through(day("2027-12-31")));
    assert_eq!(good("two_labels = \"each\""), Good::Through(day("2025-12-31")));
    assert_eq!(good(""), Good::TwoEnds(day("2025-12-31"), day("2027-12-31")));
}

#[test]
fn c34_c35_a_seats_month_or_year() {
    // an article on seats of standard FIA 8855-1999, quoted second-hand: a label with a month lasts to the month's end, one
    // with a year alone to the year's end
    let fields = "life_years = 5\ncounts_from = \"made\"\nends = \"label end\"";
    good_until("C34", fields, &made("2013-02"), ["2018-02-28", "2018-03-01"]);
    good_until("C35", fields, &made("2013"), ["2018-12-31", "2019-01-01"]);
    let by_month = "life_years = 5\ncounts_from = \"made\"\nends = \"month end\"";
    good_until("C34 by a book of month ends", by_month, &made("2013-02"), ["2018-02-28", "2018-03-01"]);
    let by_year = "life_years = 5\ncounts_from = \"made\"\nends = \"year end\"";
    good_until("C35 by a book of year ends", by_year, &made("2013"), ["2018-12-31", "2019-01-01"]);
    good_until("C35, the month not known", by_month, &made("2013"), ["2018-01-31", "2018-02-01"]);
    let longer = format!("{fields}\nextend_years = 2");
    good_until("C35 with two national years", &longer, &made("2013"), ["2020-12-31", "2021-01-01"]);
}

#[test]
fn c36_a_bottle_was_checked_within_two_years() {
    // MSUK App. 6 3.6
    let label = Label { checked: date("2024-05-01"), ..Label::default() };
    good_until("C36", "life_years = 2\ncounts_from = \"checked\"", &label, ["2026-05-01", "2026-05-02"]);
    let rule = rule("life_years = 2\ncounts_from = \"checked\"");
    let missing = good_by_label(&rule, &made("2025"));
    assert!(
        matches!(missing, Good::Unknown { missing: LabelField::Checked, .. }),
        "a date that is not there is not guessed"
    );
}

//! Kit by its dates: for every way a book counts, one row inside, on its last day, outside, with a date missing, with one that
//! shows less than the book needs, and with dates that contradict one another. Calendar sums by hand.

use tackbook::domain::book::AppliesWhen;
use tackbook::domain::judge::verdicts::{Known, Verdict, Word, judge};
use tackbook::domain::recorded::kit::Label;
use tackbook::domain::words::car_dates::{CarDate, CarDates};

use crate::kit::{book, day, item};
use crate::known::nothing;

/// What a label shows: made, end printed, checked; nothing where empty.
type Shown = [&'static str; 3];

fn label(shown: Shown) -> Label {
    let [made, ends_printed, checked] = shown.map(|text| (!text.is_empty()).then(|| text.parse().unwrap()));
    Label { made, ends_printed, checked, ..Label::default() }
}

/// What is said of an item with these labels at an event, judged on a day.
fn said(fields: &str, labels: (Shown, Option<Shown>), event: &str, today: &str) -> Verdict {
    let (car, kit) = (CarDates::default(), [item(label(labels.0), labels.1.map(label))]);
    let event_day = (!event.is_empty()).then(|| day(event));
    let known = Known { kit: &kit, event_day, ..nothing(&car, day(today)) };
    judge(&book(fields), &known).verdicts.remove(0)
}

const TODAY: &str = "2026-05-04";
const MADE: &str = "life_years = 5\ncounts_from = \"made\"\nends = \"month end\"";
const CHECKED: &str = "life_years = 2\ncounts_from = \"checked\"";
const PRINTED: &str = "counts_from = \"printed\"\nends = \"year end\"";
const PRINTED_DAY: &str = "counts_from = \"printed\"";
const NO_LIFE: &str = "label_fields = []";

#[test]
fn every_way_of_counting_has_its_inside_its_last_day_and_its_outside() {
    use Word::{Meets, NotMeasured, OverBy};
    for (fields, shown, event, word) in [
        // Five years from the month's end.
        (MADE, ["2022-03", "", ""], "2027-03-30", Meets),
        (MADE, ["2022-03", "", ""], "2027-03-31", Meets),
        (MADE, ["2022-03", "", ""], "2027-04-01", OverBy),
        (MADE, ["", "", ""], "2027-04-01", NotMeasured),
        // Only the year is known: the book asks for the month, so January counts.
        (MADE, ["2022", "", ""], "2027-01-31", Meets),
        (MADE, ["2022", "", ""], "2027-02-01", OverBy),
        // A printed end ends, though the book counts a life from the making; the earlier of the two counts.
        (MADE, ["2022-03", "2026-12-31", ""], "2026-12-31", Meets),
        (MADE, ["2022-03", "2026-12-31", ""], "2027-01-01", OverBy),
        (MADE, ["2022-03", "2030-12-31", ""], "2027-04-01", OverBy),
        (MADE, ["2022-03", "2026-11", ""], "2026-11-30", Meets),
        (MADE, ["2022-03", "2026-11", ""], "2026-12-01", OverBy),
        (MADE, ["2022-03", "2026-11-10", ""], "2026-11-11", OverBy),
        // The making is missing, but the printed end is past: that alone decides.
        (MADE, ["", "2026-06-30", ""], "2026-07-01", OverBy),
        (MADE, ["", "2026-06-30", ""], "2026-06-30", NotMeasured),
        // Two years from the check, to the day.
        (CHECKED, ["", "", "2025-05-01"], "2027-04-30", Meets),
        (CHECKED, ["", "", "2025-05-01"], "2027-05-01", Meets),
        (CHECKED, ["", "", "2025-05-01"], "2027-05-02", OverBy),
        (CHECKED, ["2020", "", ""], "2027-05-02", NotMeasured),
        (CHECKED, ["", "", "2024"], "2026-01-01", Meets),
        (CHECKED, ["", "", "2024"], "2026-06-01", OverBy),
        (CHECKED, ["", "", "2025"], "2027-01-01", Meets),
        (CHECKED, ["", "", "2025"], "2027-01-02", OverBy),
        (CHECKED, ["", "", "2025-05"], "2027-05-01", Meets),
        (CHECKED, ["", "", "2025-05"], "2027-05-02", OverBy),
        (CHECKED, ["", "2026-09", "2026-05-01"], "2026-09-30", OverBy),
        (CHECKED, ["", "2026-09-30", "2026-05-01"], "2026-09-30", Meets),
        // A printed year ends with the year where the book says so, and only there.
        (PRINTED, ["", "2026", ""], "2026-12-30", Meets),
        (PRINTED, ["", "2026", ""], "2026-12-31", Meets),
        (PRINTED, ["", "2026", ""], "2027-01-01", OverBy),
        (PRINTED, ["2025", "", ""], "2026-12-31", NotMeasured),
        (PRINTED_DAY, ["", "2027", ""], "2027-01-01", Meets),
        (PRINTED_DAY, ["", "2027", ""], "2027-01-02", OverBy),
        (PRINTED_DAY, ["", "2027-02-10", ""], "2027-02-10", Meets),
        (PRINTED_DAY, ["", "2027-02-10", ""], "2027-02-11", OverBy),
        // A rule that counts nothing still ends on a printed end.
        (NO_LIFE, ["", "", ""], "2099-01-01", Meets),
        (NO_LIFE, ["", "2027-02-10", ""], "2027-02-10", Meets),
        (NO_LIFE, ["", "2027-02-10", ""], "2027-02-11", OverBy),
    ] {
        let verdict = said(fields, (shown, None), event, TODAY);
        assert_eq!(verdict.word, word, "{fields} {shown:?} {event}: {verdict:?}");
    }
}

#[test]
fn dates_that_cannot_all_be_true_never_meet() {
    for (fields, shown, event, today, told) in [
        // Made, or checked, after the event; or on a day that is still to come.
        (MADE, ["2026-10", "", ""], "2026-09-12", "2026-12-01", "made 2026-10, which is after 2026-09-12"),
        (MADE, ["2027", "", ""], "2028-09-12", TODAY, "made 2027, which is after 2026-05-04"),
        (MADE, ["2026-06", "", ""], "", TODAY, "made 2026-06, which is after 2026-05-04"),
        (CHECKED, ["", "", "2026-09-13"], "2026-09-12", "2026-12-01", "checked 2026-09-13, which is after 2026-09-12"),
        (CHECKED, ["", "", "2026-05-05"], "2026-09-12", TODAY, "checked 2026-05-05, which is after 2026-05-04"),
        (CHECKED, ["2026-03", "", "2026-02"], "2026-09-12", TODAY, "checked 2026-02, before it was made, 2026-03"),
        (PRINTED, ["2025", "2024-12-31", ""], "2024-06-01", "2024-06-01", "made 2025, which is after 2024-06-01"),
        (PRINTED, ["2026-02", "2026-01", ""], "2026-09-12", TODAY, "ends 2026-01, before it was made, 2026-02"),
        // Whatever the book counts: an item without an end is held to its dates too.
        (NO_LIFE, ["2027", "", ""], "2026-09-12", TODAY, "made 2027, which is after 2026-05-04"),
    ] {
        let verdict = said(fields, (shown, None), event, today);
        assert_eq!(verdict.word, Word::OverBy, "{shown:?} {event}: {verdict:?}");
        assert!(verdict.evidence.join(" ").contains(told), "{told}: {:?}", verdict.evidence);
    }
    // The same day, month or year is no contradiction.
    for (fields, shown) in [
        (MADE, ["2026-05", "", ""]),
        (MADE, ["2026", "", ""]),
        (CHECKED, ["2026-05", "", "2026-05-04"]),
        (CHECKED, ["2026", "2027", "2026-05-04"]),
        (PRINTED, ["2026", "2026-06", ""]),
    ] {
        assert_eq!(said(fields, (shown, None), "2026-09-12", TODAY).word, Word::Meets, "{shown:?}");
    }
    // A check of which only the year is known may have been after an event that is past.
    let past = said(CHECKED, (["", "", "2026"], None), "2026-09-12", "2026-12-01");
    assert_eq!(past.word, Word::NotMeasured, "{past:?}");
    assert!(past.evidence.join(" ").contains("may be after the event of 2026-09-12"), "{:?}", past.evidence);
}

#[test]
fn of_two_labels_a_missing_date_is_never_read_as_good() {
    use Word::{Meets, NotMeasured, OverBy, ScrutineerDecides};
    let (good, past, bare) = (["", "2027", ""], ["", "2025", ""], ["", "", ""]);
    for (says, labels, word) in [
        ("later", (good, past), Meets),
        ("later", (past, bare), NotMeasured),
        ("later", (bare, good), Meets),
        ("each", (good, past), OverBy),
        ("each", (good, bare), NotMeasured),
        ("each", (bare, past), OverBy),
        ("", (good, past), ScrutineerDecides),
        ("", (good, bare), NotMeasured),
        ("", (past, bare), NotMeasured),
        ("", (past, past), OverBy),
    ] {
        let rule = if says.is_empty() { String::new() } else { format!("\ntwo_labels = \"{says}\"") };
        let verdict = said(&format!("{PRINTED}{rule}"), (labels.0, Some(labels.1)), "2026-09-12", TODAY);
        assert_eq!(verdict.word, word, "{says} {labels:?}: {verdict:?}");
    }
    // A second label that says nothing of an end does not lift the first one's.
    let none = said(NO_LIFE, (past, Some(["2024", "", ""])), "2026-09-12", TODAY);
    assert_eq!(none.word, OverBy, "{none:?}");
}

#[test]
fn which_end_counts_is_said() {
    let told = |fields: &str, shown| said(fields, (shown, None), "2026-09-12", TODAY).evidence.join(" ");
    let both = told(MADE, ["2022-03", "2026-12-31", ""]);
    assert!(both.contains("Printed end 2026-12-31: good through 2026-12-31."), "{both}");
    assert!(both.contains("Made 2022-03: good through 2027-03-31."), "{both}");
    let coarse = told(CHECKED, ["", "", "2024"]);
    assert!(coarse.contains("counted from its first day, 2024-01-01, as the day is not known"), "{coarse}");
    let plain = told(PRINTED, ["", "2026", ""]);
    assert!(!plain.contains("Printed end"), "{plain}");
}

#[test]
fn a_car_whose_year_or_month_has_an_edge_in_it_is_not_judged_by_it() {
    let when = |from: &str, before: &str| AppliesWhen {
        car: CarDate::Registered,
        from: (!from.is_empty()).then(|| day(from)),
        before: (!before.is_empty()).then(|| day(before)),
    };
    let both = when("2005-01-01", "2017-07-01");
    for (applies, registered, holds) in [
        (both, "2004", Some(false)),
        (both, "2004-12-31", Some(false)),
        (both, "2005", Some(true)),
        (both, "2005-01", Some(true)),
        (both, "2016", Some(true)),
        (both, "2017-06", Some(true)),
        (both, "2017-06-30", Some(true)),
        (both, "2017-07-01", Some(false)),
        (both, "2017-07", Some(false)),
        (both, "2018", Some(false)),
        (both, "2017", None),
        (when("2005-01-02", ""), "2005", None),
        (when("2005-01-02", ""), "2005-01", None),
        (when("2005-01-02", ""), "2005-01-02", Some(true)),
        (when("", "2005-01-31"), "2005-01", None),
        (when("", "2005-01-31"), "2004-12", Some(true)),
        (when("", "2005-01-31"), "2005-02", Some(false)),
        // Both edges in the one year.
        (when("2005-03-01", "2005-09-01"), "2005", None),
        (both, "", None),
    ] {
        let car = CarDates { registered: registered.parse().ok(), ..CarDates::default() };
        assert_eq!(applies.holds(&car), holds, "{} {registered}", applies.text());
    }
}

/// A rule that is not asked of newer cars is not lifted by a date that has not come yet.
#[test]
fn a_car_date_that_is_still_to_come_decides_nothing() {
    let dated = "applies_when = { car = \"registered\", before = 2010-01-01 }";
    let word = |registered: &str| {
        let car = CarDates { registered: registered.parse().ok(), ..CarDates::default() };
        judge(&book(dated), &nothing(&car, day(TODAY))).verdicts.remove(0)
    };
    assert_eq!(word("2011").word, Word::NotAsked);
    let to_come = word("2027");
    assert_eq!((to_come.word, to_come.car_date), (Word::NotMeasured, Some(CarDate::Registered)));
    assert!(to_come.evidence.join(" ").contains("is still to come"), "{:?}", to_come.evidence);
    let (today, later): (Vec<_>, Vec<_>) = ["2026-05-04", "2026-05-05"]
        .into_iter()
        .map(|text| {
            let car = CarDates { log_book: text.parse().ok(), ..CarDates::default() };
            car.faults(day(TODAY))
        })
        .partition(Vec::is_empty);
    assert_eq!((today.len(), later.len()), (1, 1));
    assert_eq!(later[0][0].at, "log_book");
}

//! The demo's kit: seats, belts, bottle and padding, their labels' dates reckoned from today.

use jiff::civil::Date;

use crate::actions::kit::{NewItem, add};
use crate::demo::DemoError;
use crate::demo::house::{House, Past};
use crate::domain::ids::BuildId;
use crate::domain::kit::{Label, LabelDate};
use crate::domain::people::Role;

/// Two seats, two belts, a bottle, padding. With a `short` year the second belt ends before the event.
pub(super) async fn bring(
    house: &House<'_>,
    build: BuildId,
    past: Past,
    event: Date,
    short: bool,
) -> Result<(), DemoError> {
    let ctx = house.at(Role::Fabricator, past)?;
    let month = |days: i64| Some(LabelDate::Month(house.day(days).first_of_month()));
    let year = |year: i16| Some(LabelDate::Year(jiff::civil::date(year, 1, 1)));
    let label = |standard: &str, serial: &str| Label {
        standard: standard.to_owned(),
        serial: serial.to_owned(),
        ..Label::default()
    };
    let seat = |serial: &str| Label { made: month(-420), ..label("FIA 8855-1999", serial) };
    let belts = |serial: &str, last: i16| Label { ends_printed: year(last), ..label("FIA 8853-2016", serial) };
    let second = if short { event.year() - 1 } else { event.year() + 3 };
    let bottle = Label { checked: Some(LabelDate::Day(house.day(-200))), ..label("", "B-0412") };
    let kit = [
        ("seat", seat("S-20731"), "left"),
        ("seat", seat("S-20732"), "right"),
        ("belts", belts("H-5518", event.year() + 3), "left"),
        ("belts", belts("H-2207", second), "right"),
        ("extinguisher", bottle, "behind the left seat"),
        ("padding", label("SFI 45.1", ""), "roof, both sides"),
    ];
    for (item, label, note) in kit {
        let new = NewItem { item: item.to_owned(), label, second_label: None, note: note.to_owned() };
        add(&ctx, build, new).await?;
    }
    Ok(())
}

//! The demo's kit: seats, belts, bottle and padding, their labels' dates reckoned from today.

use jiff::civil::Date;

use crate::actions::recorded::kit::add;
use crate::demo::DemoError;
use crate::demo::house::{House, Past};
use crate::domain::recorded::kit::Label;
use crate::domain::recorded::kit::NewItem;
use crate::domain::shop::people::Role;
use crate::domain::words::ids::BuildId;
use crate::domain::words::label_dates::LabelDate;

/// Two seats, two belts, a bottle, padding. Where it is `short` the second belt is too old: its last year ends before the
/// event's begins.
pub(super) async fn bring(
    house: &House,
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
    let seat = |serial: &str| Label { made: month(-500), ..label("LSL-S3", serial) };
    let belts = |serial: &str, made: i16| Label { made: year(made), ..label("LSL-B6", serial) };
    let second = event.year() - if short { 5 } else { 2 };
    let bottle = Label { checked: Some(LabelDate::Day(house.day(-150))), ..label("", "E-117") };
    let kit = [
        ("seat", seat("SH-4406"), "left"),
        ("seat", seat("SH-4409"), "right"),
        ("belts", belts("BW-0932", event.year() - 1), "left"),
        ("belts", belts("BW-0718", second), "right"),
        ("extinguisher", bottle, "on the tunnel"),
        ("padding", label("LSL-P1", ""), "half hoops, both"),
    ];
    for (item, label, note) in kit {
        let new = NewItem { item: item.to_owned(), label, second_label: None, note: note.to_owned() };
        add(&ctx, build, new).await?;
    }
    Ok(())
}

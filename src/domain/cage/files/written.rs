//! A cage's record as a cage file in the measured form.

use super::cage_file::Unit;
use super::entry::Entry;
use super::measured_file::{FileGusset, FilePlate, FileSize, MeasuredFile, OwnTube, VERSION};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::{MainBars, TubeRole, Tubes};

/// The file: JSON in a fixed order, every measurement with the text it was typed as, so that the same record always gives
/// the same bytes. `tubes` are the sizes the book's class asks for.
pub fn written(record: &CageRecord, tubes: &Tubes) -> String {
    let unit = Unit::of(tubes.hoop.printed);
    let entry = Entry::of;
    let file = MeasuredFile {
        tackbook_cage: VERSION,
        unit,
        structure: record.structure,
        measurements: record.measures.iter().map(|(measure, typed)| (*measure, entry(typed))).collect(),
        options: record.options.clone(),
        bars_by_hand: each(&record.hand_bars, |bar| bar.with_lengths(|_, typed| Some(entry(typed)))),
        body: each(&record.body, |place| place.with_lengths(|_, typed| Some(entry(typed)))),
        torch_radius: record.torch_radius.as_ref().map(entry),
        seats: each(&record.seats, |seat| seat.with_lengths(|_, typed| Some(entry(typed)))),
        tubes: [(TubeRole::Hoop, tubes.hoop), (TubeRole::Other, tubes.other)]
            .map(|(role, tube)| (role, FileSize::of(&tube, unit)))
            .into(),
        main_bars: Some(tubes.main).filter(|main| *main != MainBars::BASIC_STRUCTURE).map(MainBars::roles),
        bend_radius: record.bend_radius.iter().map(|(role, typed)| (*role, entry(typed))).collect(),
        plates: record.plates.iter().map(|(foot, plate)| (*foot, FilePlate::of(plate))).collect(),
        gussets: record.gussets.iter().map(FileGusset::of).collect(),
        own_tubes: record.tubes.iter().map(|(key, own)| (key.clone(), OwnTube::of(own, unit))).collect(),
        numbers: record.numbers.clone(),
    };
    // Texts, finite numbers and tables with text for names: nothing in it can fail to be written.
    serde_json::to_string_pretty(&file).unwrap_or_default() + "\n"
}

fn each<T, F>(list: &[T], of: impl Fn(&T) -> Option<F>) -> Vec<F> {
    list.iter().filter_map(of).collect()
}

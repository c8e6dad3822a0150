//! What the car and its cage are: structure, mass, the tube with its heats.

use std::collections::BTreeMap;

use super::HandOver;
use crate::documents::chapters::Chapters;
use crate::documents::teller::Teller as _;
use crate::domain::cage::Member;
use crate::domain::derived::hold::named;
use crate::domain::words::car_dates::CarDate;
use crate::domain::words::ids::Balloon;
use crate::domain::words::wording::capital;
use crate::quantity::Show as _;

pub(super) fn tell(chapters: &mut Chapters<'_>, of: &HandOver<'_>) {
    chapters.chapter("What the car and its cage are", "car");
    let (facts, cage, units) = (of.facts, &of.found.worked.cage, of.units);
    let mut rows = vec![vec!["Car".to_owned(), facts.build.about.clone()]];
    rows.retain(|row| row.iter().all(|words| !words.is_empty()));
    for date in CarDate::ALL {
        if let Some(day) = facts.car.of(date) {
            rows.push(vec![capital(date.word()), day.to_string()]);
        }
    }
    rows.push(vec!["Weighed".to_owned(), weighed(of)]);
    if let Some(weighed) = &of.found.worked.weighed {
        rows.push(vec!["Weight class".to_owned(), weighed.describe(units)]);
    }
    if cage.members.is_empty() {
        rows.push(vec!["Cage".to_owned(), "not set up".to_owned()]);
        return chapters.grid(&["What", "As recorded"], rows);
    }
    let structure = cage.structure().map_or("not told by its bars", |structure| structure.word());
    rows.push(vec!["Cage".to_owned(), capital(structure)]);
    let parts = [
        (cage.members.len(), "bars"),
        (cage.joints.len(), "joints"),
        (cage.gussets.len(), "gussets"),
        (cage.plates.len(), "plates"),
    ];
    let parts = parts.map(|(many, words)| format!("{many} {words}"));
    rows.push(vec!["Parts".to_owned(), parts.join(", ")]);
    if !cage.whole {
        rows.push(vec![
            "Laid out".to_owned(),
            "not wholly: bars that were chosen are missing in every figure".to_owned(),
        ]);
    }
    let mass = format!("{} by the model, with gussets and plates", cage.mass().show(units));
    rows.push(vec!["Cage's mass".to_owned(), mass]);
    let tube = format!("{}, node to node; {} as cut", cage.tube_length().show(units), cage.tube_mass().show(units));
    rows.push(vec!["Tube".to_owned(), tube]);
    chapters.grid(&["What", "As recorded"], rows);
    chapters.subheading("Tube with its heats");
    chapters.grid(&["Tube", "Cut from", "Grade", "Heat", "Bars"], tubes(of));
}

fn weighed(of: &HandOver<'_>) -> String {
    let Some(newest) = of.facts.weigh_ins.first() else { return "not yet".to_owned() };
    let (total, doubt) = (newest.reading.total().show(of.units), (newest.reading.doubt() * 2.0).show(of.units));
    let cage = if newest.reading.cage_in { "with its cage" } else { "without its cage" };
    format!("{total} ± {doubt}, {cage}, on {}", newest.day)
}

/// Bars of one tube from one stick in a row.
fn tubes(of: &HandOver<'_>) -> Vec<Vec<String>> {
    let mut rows: BTreeMap<[String; 4], Vec<Balloon>> = BTreeMap::new();
    for bar in &of.found.worked.cage.members {
        rows.entry(cut_from(of, bar)).or_default().push(bar.balloon);
    }
    let row = |([tube, stick, grade, heat], mut bars): ([String; 4], Vec<Balloon>)| {
        bars.sort();
        vec![tube, stick, grade, heat, named(&bars)]
    };
    rows.into_iter().map(row).collect()
}

fn cut_from(of: &HandOver<'_>, bar: &Member) -> [String; 4] {
    let tube = bar.describe_tube();
    match of.facts.stick_of(bar.balloon) {
        Some(stick) => [tube, stick.describe_number(), stick.grade.clone(), stick.describe_heat()],
        None => [tube, "no stick recorded yet".to_owned(), String::new(), "not known".to_owned()],
    }
}

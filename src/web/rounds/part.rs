//! One part of a round as it was issued: figures, verdicts, photographs, in the reader's units.

use super::reader::Read;
use crate::domain::cage::Cage;
use crate::domain::derived::contents::{IssuedPhoto, IssuedVerdict};
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::Word;
use crate::domain::measure::amounts::Amount;
use crate::domain::recorded::mark_ups::Drawn;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::reviews::PhotoMark;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::mark_up;
use crate::quantity::{Show as _, Units};
use crate::web::svg::Svg;

/// A figure of a part: what it is, and how much.
pub(super) struct Figure {
    pub(super) label: &'static str,
    pub(super) value: String,
}

/// What a rule said.
pub(super) struct Line {
    /// None of a round that kept its sentence alone, in words of its own.
    pub(super) word: Option<Word>,
    pub(super) says: String,
    pub(super) clause: String,
    pub(super) words: String,
    pub(super) figure: String,
    pub(super) limit: String,
}

/// A photograph of it.
pub(super) struct Shown {
    pub(super) to: String,
    pub(super) view: String,
    pub(super) day: String,
    /// Its SHA-256.
    pub(super) sha256: String,
    /// Whether the round before did not show it; never of a first round.
    pub(super) new: bool,
    pub(super) readable: bool,
    pub(super) drawn: Option<Svg>,
    /// What is drawn over it, in words.
    pub(super) over: Vec<String>,
    /// What there was to say of it, and what had been said of it, when the round was issued.
    pub(super) said: Vec<String>,
}

/// What a part is called: by the cage it was drawn from, else by what was frozen of it.
pub(super) fn named(read: &Read<'_>, part: Balloon) -> String {
    let frozen = || read.contents.lines_of(part).first().cloned();
    match part.kind {
        Kind::Joint | Kind::Member | Kind::Gusset | Kind::Plate => {
            let cage = read.issued.cage.as_ref().filter(|cage| cage.has(part));
            cage.map(|cage| shots::part(cage, read.facts, part))
                .or_else(frozen)
                .unwrap_or_else(|| part.kind.word().to_owned())
        }
        Kind::Car => "the car as a whole".to_owned(),
        Kind::Stick => shots::part(&Cage::default(), read.facts, part),
        Kind::Kit | Kind::WeighIn | Kind::Question => frozen().unwrap_or_else(|| part.kind.word().to_owned()),
    }
}

/// The figures of a part, where the cage that it was drawn from says all that was frozen of it; else none.
pub(super) fn figures(read: &Read<'_>, part: Balloon) -> Vec<Figure> {
    let (Some(cage), units) = (read.issued.cage.as_ref(), read.reader.units) else { return Vec::new() };
    let agrees = |part: Balloon| read.contents.agrees_of(cage, part);
    if !agrees(part) {
        return Vec::new();
    }
    let figure = |label, value| Figure { label, value };
    match part.kind {
        Kind::Joint => joint(cage, part, units, &agrees),
        Kind::Gusset => cage.gusset(part).map_or_else(Vec::new, |gusset| {
            vec![
                figure("Leg along each tube", gusset.leg.show(units)),
                figure("Sheet", gusset.thickness.show(units)),
                figure("Hole", gusset.hole.answer(|hole| hole.show(units))),
                figure("Kind", gusset.kind.word().to_owned()),
            ]
        }),
        Kind::Plate => cage.plate(part).map_or_else(Vec::new, |plate| {
            vec![
                figure("Along the car", plate.sides.0.value.show(units)),
                figure("Across the car", plate.sides.1.value.show(units)),
                figure("Thickness", plate.thickness.value.show(units)),
                figure("Area", plate.area.show(units)),
            ]
        }),
        Kind::Member => cage.member(part).map_or_else(Vec::new, |bar| {
            vec![
                figure("Tube", bar.describe_tube()),
                figure("Developed, node to node", bar.developed.by_tape(units)),
                figure("Bends", bar.line.bends().len().to_string()),
            ]
        }),
        _ => Vec::new(),
    }
}

/// Of a joint: what its welds come to, and how sharp its bars meet.
fn joint(cage: &Cage, part: Balloon, units: Units, agrees: &dyn Fn(Balloon) -> bool) -> Vec<Figure> {
    let Some(joint) = cage.joint(part) else { return Vec::new() };
    let bars = || joint.incoming.iter().map(|end| end.0).chain([joint.carrier]);
    if !bars().all(agrees) {
        return Vec::new();
    }
    let cope = |(bar, end): &(Balloon, usize)| cage.member(*bar)?.copes.get(*end)?.as_ref();
    let angles = joint.incoming.iter().filter_map(cope).map(crate::geometry::Cope::angle);
    let sharpest = angles.min_by(|one, other| one.radians().total_cmp(&other.radians()));
    let mut tubes: Vec<String> =
        bars().filter_map(|bar| cage.member(bar)).map(crate::domain::cage::Member::describe_tube).collect();
    tubes.sort();
    tubes.dedup();
    let figure = |label, value| Figure { label, value };
    let mut figures = vec![
        figure("Seam", joint.seam.show(units)),
        figure("Looks down, overhead", format!("{:.0} %", joint.overhead * 100.0)),
    ];
    figures.extend(sharpest.map(|angle| figure("Sharpest angle", angle.show(units))));
    figures.push(figure("Tube", tubes.join(", ")));
    figures
}

/// What every rule said of a part that asked something of it, what wants most first; and how many asked nothing.
pub(super) fn lines(read: &Read<'_>, part: Balloon) -> (Vec<Line>, usize) {
    let all = read.contents.verdicts_of(part);
    let asked = |verdict: &&IssuedVerdict| verdict.word != Some(Word::NotAsked);
    let mut lines: Vec<Line> = all.iter().filter(asked).map(|verdict| line(read, verdict)).collect();
    let silent = all.len() - lines.len();
    lines.sort_by_key(|line| ORDER.iter().position(|word| Some(*word) == line.word));
    (lines, silent)
}

/// What he decides first, then what is not met, what meets last.
const ORDER: [Word; 8] = [
    Word::ScrutineerDecides,
    Word::OverBy,
    Word::ShortBy,
    Word::TooClose,
    Word::NotMeasured,
    Word::NoPhoto,
    Word::Meets,
    Word::NotAsked,
];

fn line(read: &Read<'_>, verdict: &IssuedVerdict) -> Line {
    let (units, word) = (read.reader.units, verdict.word);
    let show = |amount: &Amount| amount.show(units);
    let says = match (word, &verdict.margin) {
        (Some(Word::ScrutineerDecides), _) if read.reader.answers() => "you decide".to_owned(),
        (Some(word), Some(margin)) if word.fails() => format!("{word} {}", show(margin)),
        (Some(word), None) if word.fails() => "does not meet".to_owned(),
        (Some(word), _) => word.to_string(),
        // What was kept is the sentence alone.
        (None, _) => verdict.line.clone(),
    };
    let rule = read.book().and_then(|book| book.rules().find(|rule| rule.id == verdict.rule_id));
    let words = rule.map_or_else(|| verdict.rule_id.replace('-', " "), |rule| rule.words.clone());
    let measure = if verdict.measure.is_empty() { String::new() } else { format!("{}: ", verdict.measure) };
    let figure = verdict.figure.as_ref().map(|figure| format!("{measure}{}", show(figure))).unwrap_or_default();
    Line { word, says, clause: verdict.clause.clone(), words, figure, limit: verdict.limit.clone() }
}

/// The photographs of a part, each with what stood drawn over it then, and with these marks of whoever answers.
pub(super) fn photos(read: &Read<'_>, part: Balloon, marks: &[PhotoMark]) -> Vec<Shown> {
    let shown = read.contents.photos_of(part, &read.facts.photos);
    shown.iter().map(|photo| picture(read, part, photo, marks)).collect()
}

fn picture(read: &Read<'_>, part: Balloon, one: &IssuedPhoto<'_>, pointed: &[PhotoMark]) -> Shown {
    let photo = one.photo;
    let to = read.address(&format!("/photos/{}/screen", photo.sha256));
    let dots = photo.received.as_ref().and_then(|received| received.dots);
    let before = read.issued.before.as_ref();
    let marks = read.facts.mark_ups.iter().filter(|mark| mark.sha256 == photo.sha256);
    let then = |number: u32| one.drawn.iter().any(|(drawn, _)| *drawn == number);
    let mut drawn: Vec<Drawn> = marks.filter(|mark| then(mark.number)).map(|mark| mark.drawn).collect();
    drawn.extend(pointed.iter().filter(|mark| mark.sha256 == photo.sha256).map(PhotoMark::drawn));
    let over = dots.filter(|_| !drawn.is_empty()).map(|dots| {
        let (marks, size) = mark_up::over(&to, &format!("{part} {}", one.view), dots, &drawn);
        Svg::of(&marks, size, |_| None)
    });
    Shown {
        view: if one.view.is_empty() { "photograph".to_owned() } else { one.view.clone() },
        day: read.reader.clock.day_of(photo.declared).to_string(),
        new: before.is_some_and(|before| !before.shows_photo(&photo.sha256)),
        readable: dots.is_some(),
        drawn: over,
        said: said(read, photo),
        sha256: photo.sha256.to_string(),
        over: one.drawn.iter().map(|(_, words)| words.clone()).collect(),
        to,
    }
}

/// What was remarked of a photograph, and what had been said of it until the round was issued: what came later is no part of it.
fn said(read: &Read<'_>, photo: &Photo) -> Vec<String> {
    let remarks = photo.received.iter().flat_map(|received| received.remarks.clone());
    let then = read.facts.photos_said.iter().filter(|one| one.is_of(photo) && one.at <= read.issued.round.issued);
    remarks.chain(then.map(|one| one.describe(&read.reader.clock.day_of(one.at).to_string()))).collect()
}

//! The form of one line: what it starts out with, what it shows, what it says.

use jiff::civil::Date;

use super::Asked;
use crate::domain::recorded::welds::process::{Level, Outcome, Position, WeldProcess};
use crate::domain::recorded::welds::run::{Run, Welder};
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::recorded::welds::{Did, Inspection, NewWeld, newest_of};
use crate::domain::words::ids::{Balloon, CaptureId};
use crate::web::form::{Choice, Field, Form, Pairs};
use crate::web::gate::Seen;

/// Most photographs that are offered (own choice: the newest; the others have their own sheets).
const PHOTOS: usize = 30;

/// The form of one line as it is shown.
pub(super) struct LineForm {
    /// The joint, the kind of line, and the joint's newest line.
    pub(super) joint: String,
    pub(super) kind: String,
    pub(super) seen: u32,
    /// What is done, and where each kind's form is.
    pub(super) kinds: Vec<(&'static str, String, bool)>,
    pub(super) inspects: bool,
    pub(super) fields: Vec<Field>,
    pub(super) positions: Vec<Choice>,
    pub(super) position_fault: String,
    /// The figures read off, and what may stay empty.
    pub(super) figures: Vec<Field>,
    pub(super) rest: Vec<Field>,
    /// Whether what may stay empty is open: something is typed there, or at fault.
    pub(super) open: bool,
    pub(super) faults: Vec<String>,
}

/// What a form that was sent is about.
pub(super) fn asked(form: &Form) -> Asked {
    Asked { joint: form.text("joint").parse().ok(), kind: form.text("did").to_owned(), like: None }
}

/// What a new line starts out with: the day, and of whoever writes it his last welder, process, filler and gas. The figures
/// read off the machine are taken over from an alike joint only where that was asked for.
pub(super) fn begun(seen: &Seen, asked: &Asked) -> Pairs {
    let by = &seen.who.ctx.by.name;
    let mut typed: Pairs = vec![("day".to_owned(), seen.who.ctx.clock.today().to_string())];
    let mut put = |name: &str, text: &str| {
        if !text.is_empty() {
            typed.push((name.to_owned(), text.to_owned()));
        }
    };
    let standing = || seen.facts.welds.iter().rev().filter(|weld| weld.stands());
    let own = standing().filter(|weld| weld.by == *by).find_map(|weld| weld.did.run());
    let like = asked.like.and_then(|line| standing().find(|weld| weld.line == line)).and_then(|weld| weld.did.run());
    put("inspector", by);
    match own {
        None => put("welder", by),
        Some(Run { welder, .. }) => {
            put("welder", &welder.name);
            put("qualification", &welder.qualification);
            put("expires", &welder.expires.map(|day| day.to_string()).unwrap_or_default());
        }
    }
    if let Some(run) = like.or(own) {
        put("process", run.process.number());
        put("filler", &run.filler);
        put("batch", &run.batch);
        put("gas", &run.gas);
    }
    if let Some(run) = like {
        run.positions.iter().for_each(|position| put("position", position.letters()));
        put("volts", run.volts.as_ref().map_or("", |figure| &figure.text));
        put("amperes", run.amperes.as_ref().map_or("", |figure| &figure.text));
        put("wire_speed", run.wire_speed.as_ref().map_or("", |figure| &figure.text));
        put("travel", run.travel.as_ref().map_or("", |figure| &figure.text));
        put("stick_out", run.stick_out.as_ref().map_or("", |figure| &figure.text));
        put("preheat", run.preheat.as_ref().map_or("", |figure| &figure.text));
    }
    typed
}

/// The kind of line that a joint asks for next, where none was chosen.
fn kind_of(seen: &Seen, asked: &Asked, joint: Balloon) -> &'static str {
    let chosen = Did::KINDS.into_iter().find(|(kind, _)| *kind == asked.kind).map(|one| one.0);
    chosen.unwrap_or_else(|| next_kind(Stage::of(&seen.facts.welds, joint)))
}

/// The kind of line that follows at a joint that has come so far.
pub(super) const fn next_kind(stage: Stage) -> &'static str {
    match stage {
        Stage::NotWelded => "welded",
        Stage::RepairWanted => "repaired",
        Stage::Welded | Stage::Repaired | Stage::Accepted => "inspected",
    }
}

impl LineForm {
    /// At a joint; `typed` is a form that was sent and not taken. `page` is the sheet that it stands on.
    pub(super) fn of(seen: &Seen, joint: Balloon, asked: &Asked, typed: Option<&Form>, page: &str) -> Self {
        let blank = Form::filled(seen.who.units, begun(seen, asked));
        let form = typed.unwrap_or(&blank);
        let kind = kind_of(seen, asked, joint);
        let inspects = kind == "inspected";
        let link = |(key, words): (&'static str, &'static str)| {
            (words, seen.address(&format!("{page}?joint={joint}&did={key}")), key == kind)
        };
        let fields = if inspects { of_inspection(form) } else { of_run(form) };
        let (figures, rest) =
            if inspects { (Vec::new(), vec![note(form)]) } else { (figures(form), rest(form, photos(seen))) };
        let shown: Vec<&Field> = fields.iter().chain(&figures).chain(&rest).collect();
        let mut faults = form.other_faults(&shown);
        let position = form.field("position", "Position").fault.unwrap_or_default();
        faults.retain(|why| *why != position);
        Self {
            joint: joint.to_string(),
            kind: kind.to_owned(),
            seen: newest_of(&seen.facts.welds, joint),
            kinds: Did::KINDS.map(link).to_vec(),
            open: rest.iter().any(|field| field.fault.is_some() || field.name == "note" && !field.value.is_empty()),
            positions: positions(form),
            position_fault: position,
            inspects,
            fields,
            figures,
            rest,
            faults,
        }
    }
}

/// The positions, those ticked that are chosen.
pub(super) fn positions(form: &Form) -> Vec<Choice> {
    let chosen = form.chosen("position");
    let one = |position: Position| Choice {
        value: position.letters().to_owned(),
        words: format!("{}, {}", position.letters(), position.word()),
        chosen: chosen.iter().any(|one| one == position.letters()),
    };
    Position::ALL.map(one).to_vec()
}

pub(super) fn of_run(form: &Form) -> Vec<Field> {
    let processes = WeldProcess::ALL.map(|process| (process.number().to_owned(), process.name().to_owned()));
    vec![
        form.field("day", "Day").day(),
        form.field("welder", "Welder"),
        form.field("process", "Process").choice(processes),
    ]
}

pub(super) fn of_inspection(form: &Form) -> Vec<Field> {
    let levels = Level::ALL.map(|level| (level.letter().to_owned(), format!("ISO 5817, level {}", level.letter())));
    let outcomes = [
        (String::new(), "choose".to_owned()),
        (Outcome::Accepted.word().to_owned(), "accepted".to_owned()),
        (Outcome::Repair.word().to_owned(), "repair wanted".to_owned()),
    ];
    vec![
        form.field("day", "Day").day(),
        form.field("inspector", "Looked at by"),
        form.field("level", "Against").choice(std::iter::once((String::new(), "choose".to_owned())).chain(levels)),
        form.field("outcome", "Outcome").choice(outcomes),
    ]
}

pub(super) fn figures(form: &Form) -> Vec<Field> {
    vec![
        form.field("volts", "Volts").hint("Off the machine, as it welds: 18."),
        form.field("amperes", "Amperes").hint("Off the machine: 120."),
        form.field("travel", "Travel").hint("12 in/min or 300 mm/min, stops not counted."),
        form.field("wire_speed", "Wire speed").hint("240 in/min or 6 m/min."),
    ]
}

pub(super) fn note(form: &Form) -> Field {
    form.field("note", "Note").area()
}

/// The newest photographs that answer no shot, as they are offered.
fn photos(seen: &Seen) -> Vec<(String, String)> {
    let photos = seen.facts.photos.iter().rev().filter(|photo| photo.shows() && photo.shot.is_empty()).take(PHOTOS);
    let clock = &seen.who.ctx.clock;
    let photo = |photo: &crate::domain::recorded::photos::Photo| {
        let when = photo.received.as_ref().map(|received| clock.minute_of(received.at)).unwrap_or_default();
        (photo.capture.to_string(), format!("{when}, {} {}", photo.by, photo.note).trim_end().to_owned())
    };
    photos.map(photo).collect()
}

pub(super) fn rest(form: &Form, photos: Vec<(String, String)>) -> Vec<Field> {
    let none = std::iter::once((String::new(), "none".to_owned()));
    vec![
        form.field("qualification", "Qualification").hint("As its certificate says."),
        form.field("expires", "Good through").day(),
        form.field("filler", "Filler").hint("As its label says, with its diameter."),
        form.field("batch", "Batch"),
        form.field("gas", "Gas").hint("Mixture and flow."),
        form.field("stick_out", "Stick-out").hint("1/2 in or 12 mm."),
        form.field("preheat", "Preheat").hint("How warm the steel was: 70 °F or 20 °C."),
        form.field("photo", "Photograph").hint("Of those that answer no shot.").choice(none.chain(photos)),
        note(form),
    ]
}

/// What a form says; none where something does not read.
pub(super) fn read(form: &mut Form) -> Option<NewWeld> {
    let joint = form.parse::<Balloon>("joint", "A joint is a letter and a number, like J7.");
    if joint.is_none() && form.text("joint").is_empty() {
        form.fault("joint", "Choose the joint.");
    }
    let day = form.parse::<Date>("day", "This does not read as a day. Try 2026-05-16.");
    if day.is_none() && form.text("day").is_empty() {
        form.fault("day", "Which day was it?");
    }
    let kind = form.text("did").to_owned();
    let did = if kind == "inspected" { inspection(form).map(Did::Inspected) } else { run(form, &kind) };
    let (seen, note) = (form.text("seen").parse().unwrap_or_default(), form.text("note").to_owned());
    if form.is_faulty() {
        return None;
    }
    Some(NewWeld { joint: joint?, day: day?, did: did?, note, seen })
}

fn run(form: &mut Form, kind: &str) -> Option<Did> {
    let run = read_run(form)?;
    match kind {
        "welded" => Some(Did::Welded(run)),
        "repaired" => Some(Did::Repaired(run)),
        "coupon" => Some(Did::Coupon(run)),
        _ => {
            form.fault("did", "Say what was done: welded, inspected, repaired, or a practice coupon.");
            None
        }
    }
}

fn read_run(form: &mut Form) -> Option<Run> {
    let process = WeldProcess::of(form.text("process"));
    if process.is_none() {
        form.fault("process", "Choose the process.");
    }
    let expires = form.parse::<Date>("expires", "This does not read as a day. Try 2026-05-16.");
    let photo = form.parse::<CaptureId>("photo", "Choose one of the photographs listed.");
    let chosen = form.chosen("position");
    let mut positions: Vec<Position> = chosen.iter().filter_map(|letters| Position::of(letters)).collect();
    positions.sort();
    positions.dedup();
    let (volts, amperes) = (form.read_if_typed("volts"), form.read_if_typed("amperes"));
    let (wire_speed, travel) = (form.read_if_typed("wire_speed"), form.read_if_typed("travel"));
    let (stick_out, preheat) = (form.read_if_typed("stick_out"), form.read_if_typed("preheat"));
    let text = |name: &str| form.text(name).to_owned();
    let welder = Welder { name: text("welder"), qualification: text("qualification"), expires };
    let (filler, batch, gas) = (text("filler"), text("batch"), text("gas"));
    let process = process?;
    Some(Run {
        welder,
        process,
        positions,
        filler,
        batch,
        gas,
        volts,
        amperes,
        wire_speed,
        travel,
        stick_out,
        preheat,
        photo,
    })
}

fn inspection(form: &mut Form) -> Option<Inspection> {
    let (level, outcome) = (Level::of(form.text("level")), Outcome::of(form.text("outcome")));
    if level.is_none() {
        form.fault("level", "Say by which level it was looked at.");
    }
    if outcome.is_none() {
        form.fault("outcome", "Say what it came to.");
    }
    Some(Inspection { level: level?, outcome: outcome?, inspector: form.text("inspector").to_owned() })
}

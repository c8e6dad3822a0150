//! What the sheet of one part of a round shows to whoever reviews it.

use askama::Template;
use axum::http::StatusCode;

use super::marking::{Kept, MARK};
use super::part::{Figure, Line, Shown, figures, lines, named, photos};
use super::reader::Read;
use super::tally::{Tally, next, part_address};
use crate::domain::derived::contents::Accepted;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::reviews::{PartAnswer, PhotoMark, Reviewed};
use crate::domain::words::ids::Balloon;
use crate::quantity::Length;
use crate::web::form::{Field, Form};
use crate::web::page::Sheet;
use crate::web::shown::located::locator;
use crate::web::svg::Svg;

/// The locator's frame.
const FRAME: (Length, Length) = (Length::from_mm(110.0), Length::from_mm(78.0));
/// So many photographs stand large; the rest under them.
const LARGE: usize = 2;

/// One part, with what is answered of it.
#[derive(Template)]
#[template(path = "rounds/review.html")]
pub(super) struct Review {
    sheet: Sheet,
    round: u32,
    frozen: String,
    packet: String,
    tally: Tally,
    balloon: String,
    words: String,
    figures: Vec<Figure>,
    /// What was frozen of it, where its figures are not shown in the reader's units.
    said: Vec<String>,
    drawing: Option<Svg>,
    photos: Vec<Shown>,
    more: Vec<Shown>,
    missing: String,
    lines: Vec<Line>,
    silent: usize,
    /// What changed since the round before, and which that is; none of a first round.
    changed: Option<(u32, Vec<String>)>,
    /// That it was accepted in a round before, and whether what is shown of it is the same as then; empty where it was not.
    accepted: String,
    /// How many parts were accepted before, are the same and are not answered yet.
    same: usize,
    asked: Vec<Asked>,
    answering: Option<Answering>,
    /// What was answered, for whoever only reads.
    stands: String,
    sign: String,
    /// The first part that is not answered; empty when all are.
    first_open: String,
    /// Where the newest round is, where this is an older one; no address for whoever came by a link to this one.
    followed: Option<(u32, String)>,
    signed: String,
}

struct Asked {
    number: String,
    lines: Vec<String>,
}

/// The form.
struct Answering {
    to: String,
    choices: Vec<(PartAnswer, bool)>,
    why: String,
    remark: Field,
    seen: i64,
    /// "Save, next: J8".
    save: String,
    /// What somebody else answered meanwhile.
    theirs: String,
    skip: String,
    /// What it points at so far, and what is wrong with that.
    marks: Vec<Kept>,
    marks_why: String,
    /// Whether something stands in the form that is saved nowhere yet.
    unsaved: bool,
}

/// What was typed, and what became of it.
pub(super) struct Typed {
    pub(super) form: Option<Form>,
    pub(super) status: StatusCode,
}

impl Typed {
    /// Before anything is.
    pub(super) const fn nothing() -> Self {
        Self { form: None, status: StatusCode::OK }
    }

    /// Whether somebody else answered meanwhile.
    fn overtaken(&self) -> bool {
        self.status == StatusCode::CONFLICT
    }
}

impl Review {
    /// From a round and the part of it that is looked at, with what was typed of it.
    pub(super) fn of(read: &Read<'_>, sheet: Sheet, part: Balloon, typed: &Typed) -> Self {
        let (number, contents) = (read.issued.round.number, read.contents);
        let marks = marks(read, part, typed);
        let mut photos = photos(read, part, &marks);
        let more = if photos.len() > LARGE { photos.split_off(LARGE) } else { Vec::new() };
        let figures = figures(read, part);
        let said = if figures.is_empty() { contents.lines_of(part).to_vec() } else { Vec::new() };
        let (lines, silent) = lines(read, part);
        let before = read.issued.before.as_ref();
        let changed = before.map(|before| {
            let changes = contents.changes_since(before).into_iter().filter(|change| change.at == part);
            (before.round, changes.map(|change| change.what).collect())
        });
        let question = |(number, lines): (&str, &[String])| Asked { number: number.to_owned(), lines: lines.to_vec() };
        let first_open = next(read, None);
        Self {
            sheet,
            round: number,
            frozen: read.reader.clock.day_of(read.issued.round.issued).to_string(),
            packet: read.address("/packet.pdf"),
            tally: Tally::of(read, Some(part)),
            balloon: part.to_string(),
            words: named(read, part),
            figures,
            said,
            drawing: read.issued.cage.as_ref().and_then(|cage| locator(cage, part, FRAME)),
            photos,
            more,
            missing: contents.missing_of(part).join(", "),
            lines,
            silent,
            changed,
            accepted: read.earlier.accepted(contents, part).map(|one| accepted(read, &one)).unwrap_or_default(),
            same: if read.open() { left_the_same(read) } else { 0 },
            asked: contents.questions_of(part).into_iter().map(question).collect(),
            answering: read.open().then(|| Answering::of(read, part, typed, &marks)),
            stands: read.answer_of(part).map(|one| describe(read, one)).unwrap_or_default(),
            sign: read.address("/review/sign"),
            first_open: first_open.map(|open| part_address(read, open)).unwrap_or_default(),
            followed: (read.issued.newest != number).then(|| (read.issued.newest, read.address_of(read.issued.newest))),
            signed: signed(read),
        }
    }
}

impl Answering {
    fn of(read: &Read<'_>, part: Balloon, typed: &Typed, marks: &[PhotoMark]) -> Self {
        let stands = read.answer_of(part);
        let kept = Form::filled(read.reader.units, of_answer(stands));
        let form = typed.form.as_ref().unwrap_or(&kept);
        let chosen = form.text("answer");
        let answer = form.field("answer", "");
        let following = next(read, Some(part));
        Self {
            to: read.address("/review"),
            choices: PartAnswer::ALL.into_iter().map(|one| (one, one.word() == chosen)).collect(),
            why: answer.fault.or_else(|| form.field("part", "").fault).unwrap_or_default(),
            remark: form.field("remark", "Remark").area(),
            seen: stands.map_or(0, |stands| stands.number),
            save: following.map_or("Save, then sign off".to_owned(), |next| format!("Save, next: {next}")),
            theirs: stands.filter(|_| typed.overtaken()).map(|one| describe(read, one)).unwrap_or_default(),
            marks: Kept::all(read, part, marks),
            marks_why: form.field("marks", "").fault.unwrap_or_default(),
            unsaved: typed.form.is_some(),
            skip: following.map(|next| next.to_string()).unwrap_or_default(),
        }
    }
}

/// An answer as the form has it.
fn of_answer(stands: Option<&Reviewed>) -> Vec<(String, String)> {
    let pair = |name: &str, value: &str| (name.to_owned(), value.to_owned());
    stands.map_or_else(Vec::new, |one| {
        let answer = one.answer.map(PartAnswer::word).unwrap_or_default();
        let marks = one.marks.iter().map(|mark| pair(MARK, &mark.to_string()));
        [pair("answer", answer), pair("remark", &one.remark)].into_iter().chain(marks).collect()
    })
}

/// What is pointed at on the photographs of a part: as the form has it, else as it stands.
fn marks(read: &Read<'_>, part: Balloon, typed: &Typed) -> Vec<PhotoMark> {
    match &typed.form {
        Some(form) => form.chosen(MARK).iter().filter_map(|text| text.parse().ok()).collect(),
        None => read.answer_of(part).map(|one| one.marks.clone()).unwrap_or_default(),
    }
}

fn accepted(read: &Read<'_>, one: &Accepted) -> String {
    one.describe(&read.reader.clock.day_of(one.at).to_string())
}

/// How many parts could be left accepted as they were.
fn left_the_same(read: &Read<'_>) -> usize {
    let answered = read.answers();
    let open = read.shown.iter().filter(|part| !answered.iter().any(|one| one.part == **part));
    open.filter(|part| read.earlier.accepted(read.contents, **part).is_some_and(|one| one.same())).count()
}

/// An answer in a sentence, with who gave it.
fn describe(read: &Read<'_>, one: &Reviewed) -> String {
    let word = one.answer.map_or("only a remark", PartAnswer::word);
    let remark = if one.remark.is_empty() { String::new() } else { format!(": “{}”", one.remark) };
    let marked = marked(&one.marks);
    format!("{word}{remark}{marked}, by {}, {}", one.by, read.reader.clock.minute_of(one.at))
}

/// That an answer points at photographs; empty where it does not.
pub(super) fn marked(marks: &[PhotoMark]) -> String {
    match marks.len() {
        0 => String::new(),
        1 => ", 1 mark on a photograph".to_owned(),
        many => format!(", {many} marks on photographs"),
    }
}

/// What was signed last of this round; empty where nothing was.
pub(super) fn signed(read: &Read<'_>) -> String {
    let Some(reply) = read.signed() else { return String::new() };
    let (day, by) = (read.reader.clock.minute_of(reply.received), &reply.given_by);
    format!("Signed “{}” by {by}, {day}.", reply.decision.word())
}

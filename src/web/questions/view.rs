//! What the questions' sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::questions::{Answer, Question};
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::ids::{Balloon, Kind};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};
use crate::web::shown::picture::Picture;
use crate::web::shown::pointed::Pointed;

/// So many photographs are offered for an answer, the newest first.
const OFFERED: usize = 40;

/// The open questions, the form for the next, the settled ones below.
#[derive(Template)]
#[template(path = "questions/questions.html")]
pub(crate) struct Questions {
    sheet: Sheet,
    base: String,
    open: Vec<QuestionLine>,
    settled: Vec<QuestionLine>,
    fields: Vec<Field>,
    faults: Vec<String>,
}

/// One question.
struct QuestionLine {
    number: String,
    about: String,
    about_to: String,
    text: String,
    from: String,
    state: String,
    /// What it points at.
    pointed: Vec<Pointed>,
    answers: Vec<Given>,
    fields: Vec<Field>,
    /// Whether its form stands open: nobody answered yet, or something was typed.
    open: bool,
    may_settle: bool,
}

struct Given {
    text: String,
    from: String,
    picture: Option<Picture>,
}

/// The name of the field for a question's answer.
pub(crate) fn answer_field(question: &Question) -> String {
    format!("answer_Q{}", question.number)
}

/// The name of the field for the photograph that shows it.
pub(crate) fn capture_field(question: &Question) -> String {
    format!("capture_Q{}", question.number)
}

/// Whether a build has a part of this number.
pub(crate) fn is_here(seen: &Seen, found: &Findings, of: Balloon) -> bool {
    let facts = &seen.facts;
    match of.kind {
        Kind::Member | Kind::Joint | Kind::Gusset | Kind::Plate => found.worked.cage.has(of),
        Kind::Stick => facts.sticks.iter().any(|stick| stick.number == of.number),
        Kind::Kit => facts.kit.iter().any(|item| item.number == of.number),
        Kind::WeighIn => facts.weigh_ins.iter().any(|weigh_in| weigh_in.number == of.number),
        Kind::Car => of.number == 1,
        Kind::Question => false,
    }
}

/// A question as a line of a table.
pub(crate) fn row(seen: &Seen, question: &Question) -> [String; 8] {
    let minute = |at: jiff::Timestamp| seen.who.ctx.clock.minute_of(at);
    let answer = |answer: &Answer| format!("{} ({}, {})", answer.text, answer.by, minute(answer.given));
    [
        Balloon::new(Kind::Question, question.number).to_string(),
        question.about.map(|about| about.to_string()).unwrap_or_default(),
        minute(question.asked),
        question.by.clone(),
        if question.from_reply { "yes" } else { "no" }.to_owned(),
        question.text.clone(),
        question.answers.iter().map(answer).collect::<Vec<_>>().join("; "),
        question.settled.map(minute).unwrap_or_default(),
    ]
}

impl Questions {
    /// From the questions, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let asked = |settled: bool| {
            let all = seen.facts.questions.iter().filter(move |question| question.settled.is_some() == settled);
            all.map(|question| QuestionLine::of(seen, found, question, form)).collect::<Vec<_>>()
        };
        let fields = vec![
            form.field("about", "About").hint("A number like J7 or M3; empty for the build as a whole."),
            form.field("text", "Question").area(),
        ];
        let (open, settled) = (asked(false), asked(true));
        let shown: Vec<&Field> = fields.iter().chain(open.iter().flat_map(|asked| &asked.fields)).collect();
        let faults = form.other_faults(&shown);
        Self { sheet: seen.sheet("Questions"), base: seen.address("/questions"), open, settled, fields, faults }
    }
}

impl QuestionLine {
    fn of(seen: &Seen, found: &Findings, question: &Question, form: &Form) -> Self {
        let role = seen.who.ctx.by.role;
        let day = |at: jiff::Timestamp| seen.who.ctx.clock.minute_of(at);
        let asks = if question.from_reply { "with the scrutineer's reply, entered" } else { "asked" };
        let state = match (question.settled, question.answers.is_empty(), question.from_reply) {
            (Some(at), _, _) => format!("settled {}", day(at)),
            (None, true, _) => "not answered yet".to_owned(),
            (None, false, true) => "answered; goes to the scrutineer with the next round".to_owned(),
            (None, false, false) => "answered, not settled".to_owned(),
        };
        let fields = fields(seen, question, form);
        let leads = question.about.filter(|about| is_here(seen, found, *about));
        Self {
            number: Balloon::new(Kind::Question, question.number).to_string(),
            about: question.about.map(|about| about.to_string()).unwrap_or_default(),
            about_to: leads.map(|about| seen.address(&part_address(about))).unwrap_or_default(),
            text: question.text.clone(),
            from: format!("{asks} by {}, {}", question.by, day(question.asked)),
            state,
            pointed: Pointed::all(seen, question),
            answers: question.answers.iter().map(|answer| Given::of(seen, answer)).collect(),
            open: question.answers.is_empty()
                || fields.iter().any(|field| field.fault.is_some() || !field.value.is_empty()),
            fields,
            // What came with a reply is settled by whoever may record one.
            may_settle: may(role, if question.from_reply { Deed::Reply } else { Deed::RecordWork }),
        }
    }
}

fn fields(seen: &Seen, question: &Question, form: &Form) -> Vec<Field> {
    let number = Balloon::new(Kind::Question, question.number);
    let mut fields = vec![form.field_named(answer_field(question), format!("Answer to {number}")).area()];
    let begins = question.about.map(|about| format!("{about} "));
    let fits = |photo: &&Photo| photo.kept() && begins.as_ref().is_none_or(|begins| photo.shot.starts_with(begins));
    let line = |photo: &Photo| {
        let day = seen.who.ctx.clock.minute_of(photo.declared);
        (photo.capture.to_string(), format!("{}, {day}", if photo.shot.is_empty() { &photo.note } else { &photo.shot }))
    };
    let kept: Vec<_> = seen.facts.photos.iter().rev().filter(fits).take(OFFERED).map(line).collect();
    if !kept.is_empty() {
        let none = (String::new(), "none".to_owned());
        let field = form.field_named(capture_field(question), "A photograph that shows it");
        fields.push(field.choice([none].into_iter().chain(kept)));
    }
    fields
}

impl Given {
    fn of(seen: &Seen, answer: &Answer) -> Self {
        let shown = answer.capture.and_then(|capture| seen.facts.photos.iter().find(|photo| photo.capture == capture));
        Self {
            text: answer.text.clone(),
            from: format!("{}, {}", answer.by, seen.who.ctx.clock.minute_of(answer.given)),
            picture: shown.map(|photo| Picture::of(seen, photo)),
        }
    }
}

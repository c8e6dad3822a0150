//! What the last sheet of a review shows: everything that is not accepted, what may be decided, and why not.

use askama::Template;

use super::part::named;
use super::reader::Read;
use super::review::{marked, signed};
use super::signing::{CONDITIONS, settles, signed_as};
use super::tally::{Tally, part_address};
use crate::actions::recorded::rounds::reviews::as_reply;
use crate::domain::derived::approving;
use crate::domain::derived::approving::Beside;
use crate::domain::derived::hold::named as listed;
use crate::domain::recorded::reviews::{PartAnswer, Reviewed};
use crate::domain::recorded::rounds::Decision;
use crate::domain::words::ids::Balloon;
use crate::web::form::{Field, Form};
use crate::web::page::Sheet;

/// The answer as a whole, before it is signed.
#[derive(Template)]
#[template(path = "rounds/sign_off.html")]
pub(super) struct SignOff {
    sheet: Sheet,
    round: u32,
    frozen: String,
    packet: String,
    back: String,
    to: String,
    tally: Tally,
    rows: Vec<Row>,
    /// Those accepted without a remark, and with one.
    plain: Vec<Row>,
    remarked: Vec<Row>,
    signing: Option<Signing>,
    signed: String,
}

/// A part, how it stands, and the way back to it.
struct Row {
    part: String,
    to: String,
    answer: Option<PartAnswer>,
    state: &'static str,
    words: String,
}

/// What may be decided.
struct Signing {
    /// In whose name it is signed; empty of whoever came by a link and types it.
    name: String,
    /// The licence or role, and before it the name of whoever came by a link.
    who: Vec<Field>,
    date: String,
    seen: i64,
    decision: String,
    why: String,
    /// The joints that a round of single joints asks for: number, what is welded, whether it is accepted, whether it is ticked.
    early: Vec<(String, String, bool, bool)>,
    early_why: String,
    /// Why a release is not offered; empty where it is.
    not_offered: String,
    unanswered: usize,
    words: Field,
    /// What a release can be given under, line by line.
    conditions: Vec<ConditionLine>,
    conditions_why: String,
    settles: Vec<(String, String, bool)>,
    /// What is open in the round as it was put, over which a release passes.
    open: Vec<String>,
    despite: (String, bool),
    despite_why: String,
    despite_words: Field,
    faults: Vec<String>,
}

/// A line in which a condition is typed.
struct ConditionLine {
    about: Field,
    text: Field,
    /// The name of the tick that welding waits for it, and whether it is on.
    holds: (String, bool),
}

impl ConditionLine {
    fn all(form: &Form) -> Vec<Self> {
        let line = |line: usize| {
            let holds = format!("condition_holds_{line}");
            Self {
                about: form.field_named(format!("condition_about_{line}"), "No."),
                text: form.field_named(format!("condition_{line}"), "Condition"),
                holds: (holds.clone(), !form.chosen(&holds).is_empty()),
            }
        };
        (1..=CONDITIONS).map(line).collect()
    }
}

impl SignOff {
    /// From the answers that stand, and what was typed.
    pub(super) fn of(read: &Read<'_>, sheet: Sheet, form: &Form) -> Self {
        let tally = Tally::of(read, None);
        let (asked, answers) = (&read.asked, read.answers());
        let of = |part: &Balloon| answers.iter().find(|one| one.part == *part).copied();
        let relevant = |part: &Balloon| asked.contains(part) || of(part).is_some_and(|one| one.answer.is_some());
        let all: Vec<(Balloon, Option<&Reviewed>)> =
            read.shown.iter().copied().filter(relevant).map(|part| (part, of(&part))).collect();
        let accepted = |one: Option<&Reviewed>| one.and_then(|one| one.answer) == Some(PartAnswer::Accepted);
        let row = |(part, one): &(Balloon, Option<&Reviewed>)| Row::of(read, *part, *one);
        let mut rows: Vec<Row> = all.iter().filter(|(_, one)| !accepted(*one)).map(row).collect();
        rows.sort_by_key(|row| row.answer.is_some());
        let bare = |one: Option<&Reviewed>| one.is_some_and(|one| one.remark.is_empty());
        Self {
            sheet,
            round: read.issued.round.number,
            frozen: read.reader.clock.day_of(read.issued.round.issued).to_string(),
            packet: read.address("/packet.pdf"),
            back: read.address("/review"),
            to: read.address("/review/sign"),
            plain: all.iter().filter(|(_, one)| accepted(*one) && bare(*one)).map(row).collect(),
            remarked: all.iter().filter(|(_, one)| accepted(*one) && !bare(*one)).map(row).collect(),
            signing: read.open().then(|| Signing::of(read, &tally, form)),
            tally,
            rows,
            signed: signed(read),
        }
    }
}

impl Row {
    fn of(read: &Read<'_>, part: Balloon, one: Option<&Reviewed>) -> Self {
        let answer = one.and_then(|one| one.answer);
        let remark = one.map(|one| one.remark.clone()).unwrap_or_default();
        let words = match (answer, remark.is_empty()) {
            (None, true) => format!("{}. Not looked at yet.", named(read, part)),
            (None, false) => format!("{}. A remark is kept: “{remark}”", named(read, part)),
            (Some(PartAnswer::Accepted), true) => named(read, part),
            (Some(_), _) => format!("{remark}{}", one.map(|one| marked(&one.marks)).unwrap_or_default()),
        };
        let state = answer.map_or("not answered", PartAnswer::word);
        Self { part: part.to_string(), to: part_address(read, part), answer, state, words }
    }
}

impl Signing {
    /// Whether a condition is typed so far.
    fn has_conditions(&self) -> bool {
        self.conditions.iter().any(|line| !line.text.value.is_empty() || !line.about.value.is_empty())
    }

    fn of(read: &Read<'_>, tally: &Tally, form: &Form) -> Self {
        let open = still_open(read, form);
        let fingerprint = approving::fingerprint(&open).text().to_owned();
        let decided = form.field("decision", "");
        let (ticked, settled) = (form.chosen("released"), form.chosen("settles"));
        let answers = read.answers();
        let accepted =
            |part: &Balloon| answers.iter().any(|one| one.part == *part && one.answer == Some(PartAnswer::Accepted));
        let early = read.contents.early.iter().map(|(joint, welds)| {
            let name = joint.to_string();
            let on = ticked.contains(&name);
            (name, welds.clone(), accepted(joint), on)
        });
        let unsettled = read.facts.questions.iter().filter(|question| question.settled.is_none());
        let settles = unsettled.map(|question| {
            let id = question.id.to_string();
            let on = settled.contains(&id);
            let about = question.about.map(|about| format!(", {about}")).unwrap_or_default();
            (id, format!("Q{}{about}: {}", question.number, question.text), on)
        });
        let fields = [
            form.field("words", "To the shop, if anything").area(),
            form.field("despite_words", "Why you release all the same").area(),
        ];
        let (released, despite) = (form.field("released", ""), form.field("despite", ""));
        let linked = read.reader.link.is_some();
        let who = who(form, linked);
        let conditions = ConditionLine::all(form);
        let under = form.field("conditions", "");
        let lines = conditions.iter().flat_map(|line| [&line.about, &line.text]);
        let shown = fields.iter().chain(&who).chain([&decided, &released, &despite, &under]).chain(lines);
        let faults = form.other_faults(&shown.collect::<Vec<_>>());
        let [words, despite_words] = fields;
        Self {
            name: if linked { String::new() } else { read.reader.name.clone() },
            who,
            date: read.reader.clock.today().to_string(),
            seen: read.newest_answer(),
            decision: form.text("decision").to_owned(),
            why: decided.fault.unwrap_or_default(),
            early: early.collect(),
            early_why: released.fault.unwrap_or_default(),
            not_offered: not_offered(read, tally),
            unanswered: tally.open,
            words,
            conditions_why: under.fault.unwrap_or_default(),
            conditions,
            settles: settles.collect(),
            despite: (fingerprint.clone(), form.text("despite") == fingerprint),
            despite_why: despite.fault.unwrap_or_default(),
            despite_words,
            open,
            faults,
        }
    }
}

/// Who signs, as far as it is typed.
fn who(form: &Form, linked: bool) -> Vec<Field> {
    let licence =
        form.field("licence", "Licence or role").hint("As it stands on the licence; it goes into the record.");
    if linked { vec![form.field("name", "Your name"), licence] } else { vec![licence] }
}

/// What a release would pass over: the round's own open things, by what is ticked so far.
fn still_open(read: &Read<'_>, form: &Form) -> Vec<String> {
    let signed = signed_as(form, read.issued.round.number, Decision::Approved);
    let reply = as_reply(read.facts, &read.issued.round, &read.issued.answers, signed);
    let settles = settles(form);
    let beside = Beside { items: &reply.items, settles: &settles };
    approving::still_open(read.facts, read.changes(), &read.issued.round, beside)
}

/// Why a release is not offered; empty where it is. Of a round of single joints one accepted joint is enough.
fn not_offered(read: &Read<'_>, tally: &Tally) -> String {
    let answers: std::collections::BTreeMap<Balloon, &Reviewed> =
        read.answers().into_iter().map(|one| (one.part, one)).collect();
    if read.contents.early.is_empty() {
        let not = read.contents.not_accepted(&answers, &[]);
        if not.is_empty() {
            return String::new();
        }
        let counts = [
            (tally.change, "change wanted", "changes wanted"),
            (tally.question, "question", "questions"),
            (tally.open, "not answered", "not answered"),
        ];
        let said = counts
            .iter()
            .filter(|one| one.0 > 0)
            .map(|(count, one, more)| format!("{count} {}", if *count == 1 { one } else { more }));
        return format!("Not offered: {}.", said.collect::<Vec<_>>().join(", "));
    }
    let joints: Vec<Balloon> = read.contents.early.keys().copied().collect();
    let not = read.contents.not_accepted(&answers, &joints);
    if not.len() < joints.len() {
        String::new()
    } else {
        format!("Not offered: none of {} is accepted.", listed(&joints))
    }
}

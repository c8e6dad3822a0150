//! What the newest round waits for, and what its answer changed: for each side the next thing to do.

use super::reader::Reader;
use crate::domain::derived::contents::Contents;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::{Hold, answer};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::reviews::PartAnswer;
use crate::domain::recorded::rounds::{Reply, Round};
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::ids::{Balloon, Kind};
use crate::web::gate::Seen;
use crate::web::page::part_address;

/// How many parts a signed reply has of each answer: "30 accepted, 2 changes wanted, 1 question, 1 not answered".
pub(super) fn counts(reply: &Reply, round: &Round) -> String {
    let Some(answers) = &reply.answers else { return String::new() };
    let count = |answer| answers.iter().filter(|one| one.answer == Some(answer)).count();
    let asked = Contents::read(&round.contents).map(|contents| contents.asked()).unwrap_or_default();
    let answered = |part: &&Balloon| answers.iter().any(|one| one.part == **part && one.answer.is_some());
    let open = asked.len() - asked.iter().filter(answered).count();
    let (change, question) = (count(PartAnswer::ChangeWanted), count(PartAnswer::Question));
    let many = |count: usize, one: &str, more: &str| format!("{count} {}", if count == 1 { one } else { more });
    [
        format!("{} accepted", count(PartAnswer::Accepted)),
        many(change, "change wanted", "changes wanted"),
        many(question, "question", "questions"),
        format!("{open} not answered"),
    ]
    .join(", ")
}

/// What stands between the newest round and the next step.
pub(super) struct Now {
    /// What stands.
    pub(super) heading: String,
    /// Who has to do what, and where.
    pub(super) lines: Vec<String>,
    /// What came of the answer, each with the way to it.
    pub(super) items: Vec<Item>,
    /// The way to the next thing.
    pub(super) to: String,
    pub(super) words: String,
    /// The packet, and how large it is.
    pub(super) packet: String,
}

/// Something that came of an answer and is open.
pub(super) struct Item {
    pub(super) to: String,
    pub(super) number: String,
    /// The part it is of; empty for the car.
    pub(super) part: String,
    pub(super) part_to: String,
    pub(super) words: String,
    pub(super) state: &'static str,
}

impl Now {
    /// None before the first round. `scrutineers` are those who have a sign-in.
    pub(super) fn of(seen: &Seen, found: &Findings, scrutineers: &[String]) -> Option<Self> {
        let facts = &seen.facts;
        let round = facts.rounds.last()?;
        let number = round.number;
        let base = seen.address("");
        let reader = &Reader::at(seen, format!("{base}/rounds/{number}"));
        let sees = may(reader.role, Deed::SeeBuilds);
        let (heading, lines) = said(reader, facts, found, scrutineers)?;
        let open = answer(facts, round).map(|reply| came_of(facts, reply)).unwrap_or_default();
        let item = |question: &Question| Item {
            to: if sees { format!("{base}/questions#Q{}", question.number) } else { String::new() },
            number: Balloon::new(Kind::Question, question.number).to_string(),
            part: question.about.map(|part| part.to_string()).unwrap_or_default(),
            part_to: question
                .about
                .filter(|_| sees)
                .map(|part| format!("{base}{}", part_address(part)))
                .unwrap_or_default(),
            words: question.text.clone(),
            state: if question.answers.is_empty() { "not answered yet" } else { "answered, goes with the next round" },
        };
        let review = reader.address("/review");
        let (to, words) = match (&found.hold, reader.answers()) {
            (Hold::Waiting(_), true) => (review, format!("Review round {number}")),
            (_, true) => (review, format!("Review round {number} again")),
            (Hold::Conditions { .. }, false) => (format!("{base}/questions"), "Meet the conditions".to_owned()),
            (Hold::NotYet(_), false) if !open.is_empty() => {
                (format!("{base}/questions"), "Answer the questions".to_owned())
            }
            (_, false) => (review, format!("Look at round {number} as issued")),
        };
        Some(Self {
            heading,
            lines,
            items: open.into_iter().map(item).collect(),
            to,
            words,
            packet: reader.address("/packet.pdf"),
        })
    }
}

/// The questions that came with a reply and are not settled: those asked when it was received, or later with it.
fn came_of<'f>(facts: &'f BuildFacts, reply: &Reply) -> Vec<&'f Question> {
    let open = facts.questions.iter().filter(|question| question.from_reply && question.settled.is_none());
    open.filter(|question| question.asked >= reply.received).collect()
}

/// Who has to do what while a round waits.
fn waiting(issued: jiff::civil::Date, scrutineers: &[String]) -> Vec<String> {
    let who = if scrutineers.is_empty() {
        "No scrutineer has a sign-in here. Make a reading link below, or send the packet and enter the answer beside when it \
         comes."
            .to_owned()
    } else {
        format!("With a sign-in as {}, or by a reading link: answer part by part, then sign.", scrutineers.join(" or "))
    };
    vec![
        format!("Issued {issued}. Who: the scrutineer. What: look at each part, say yes, or what must change first."),
        who,
        "The packet below is the same round on paper: it may go by mail, and its answer is entered beside.".to_owned(),
        "Until then: tacks only.".to_owned(),
    ]
}

fn said(
    reader: &Reader,
    facts: &BuildFacts,
    found: &Findings,
    scrutineers: &[String],
) -> Option<(String, Vec<String>)> {
    let round = facts.rounds.last()?;
    let number = round.number;
    let day = |at| reader.clock.day_of(at);
    let reply = answer(facts, round);
    let by = reply.map(|reply| format!("{}, {}", reply.given_by, day(reply.received))).unwrap_or_default();
    Some(match &found.hold {
        Hold::NothingIssued => return None,
        Hold::Waiting(_) if reader.answers() => (
            format!("Round {number} waits for your answer"),
            vec!["Answer each part, then sign. Nothing is recorded as your answer before you sign.".to_owned()],
        ),
        Hold::Waiting(_) => {
            (format!("Round {number} is out and waits for the scrutineer"), waiting(day(round.issued), scrutineers))
        }
        Hold::NotYet(_) => (
            format!("Round {number} is answered: not yet"),
            vec![
                format!("By {by}. The build stays held."),
                format!("Then: answer what is open, change what is wanted, issue round {}.", number + 1),
            ],
        ),
        Hold::Refused(_) => (
            format!("Round {number} is refused"),
            vec![format!("By {by}. The build stays held. Change what is said, and issue round {}.", number + 1)],
        ),
        Hold::Conditions { open, .. } => (
            format!("Round {number} is approved under conditions"),
            vec![
                format!("By {by}. Held until met: {}.", open.join("; ").trim_end_matches('.')),
                "Then: do it, show it, and settle it on the questions' sheet.".to_owned(),
            ],
        ),
        Hold::Released { .. } => (
            format!("Round {number} is approved"),
            vec![format!(
                "By {by}. The cage may be fully welded as the round shows it. A change to it holds it again."
            )],
        ),
        Hold::Lapsed { changes, .. } => (
            format!("Round {number} was approved, and the build is held again"),
            vec![format!("{} things changed since. Issue round {}.", changes.len(), number + 1)],
        ),
        Hold::JointsOnly(_) | Hold::Unreadable(_) => {
            (format!("Round {number} is answered"), vec![found.describe_hold()])
        }
    })
}

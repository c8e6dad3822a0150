//! What the rounds' sheet shows.

use askama::Template;

use super::LINES;
use super::link_view::Links;
use super::mails::{MAIL, Mails, OF};
use super::now::{Now, counts};
use super::signed::Signed;
use crate::domain::derived::approving;
use crate::domain::derived::approving::Beside;
use crate::domain::derived::contents;
use crate::domain::derived::contents::Asks;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::{Hold, named};
use crate::domain::derived::open_items;
use crate::domain::derived::open_items::Sort;
use crate::domain::recorded::rounds::links::ReadingLink;
use crate::domain::recorded::rounds::{Came, PacketSize, Reply, Round};
use crate::domain::shop::people::{Deed, may};
use crate::domain::shop::signing::RoundSignature;
use crate::domain::words::cautions;
use crate::domain::words::fingerprint::short;
use crate::domain::work::lowering::Plan;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// The rounds so far, what would go out next, and the form for the newest round's reply.
#[derive(Template)]
#[template(path = "rounds/rounds.html")]
pub(crate) struct Rounds {
    sheet: Sheet,
    /// Links to the newest round; none for whoever makes none, or before the first round.
    links: Option<Links>,
    /// What the newest round waits for, or what its answer changed; none before the first.
    now: Option<Now>,
    rounds: Vec<Issued>,
    may_issue: bool,
    sees_draft: bool,
    draft: String,
    rulings: String,
    /// Whether anything is released to be welded.
    released: bool,
    /// The joints that a round could ask for, each with what is welded there.
    early: Vec<(String, String)>,
    /// What was chosen to be asked: these, or else the whole cage.
    asks: String,
    /// What the packet can be kept under, in MB, and whether it was chosen.
    sizes: Vec<(u32, bool)>,
    key: String,
    next: u32,
    fails: usize,
    missing: usize,
    close: usize,
    changes: Vec<Changed>,
    reply: Option<ReplyForm>,
    faults: Vec<String>,
}

struct Issued {
    number: u32,
    day: String,
    by: String,
    short: String,
    packet: String,
    /// How the packet can be checked; none of a round that was issued before packets were signed.
    signed: Option<Signed>,
    /// The round part by part, as it was issued; empty where its contents cannot be read.
    review: String,
    /// The book and edition it was issued under; empty where that cannot be told.
    edition: String,
    /// The joints it asks for; empty where it asks about the whole cage.
    early: String,
    /// Whether what it asked cannot be read.
    unreadable: bool,
    replies: Vec<Answered>,
}

struct Answered {
    id: String,
    mails: Mails,
    decision: &'static str,
    /// Who gave it, with which licence, and how it came.
    given_by: String,
    day: String,
    words: String,
    released: String,
    /// How many parts have which answer, and where they are listed; empty of a reply that was not signed part by part.
    counts: String,
    listed: String,
    /// What was open and approved all the same, and why.
    despite: Vec<String>,
    despite_words: String,
}

struct Changed {
    at: String,
    to: String,
    what: String,
}

struct ReplyForm {
    to: String,
    /// Whether it is typed for somebody, so that a mail can go with it.
    typed: bool,
    /// What is wrong with that mail.
    mail_why: String,
    round: u32,
    packet_sha256: String,
    short: String,
    decision: String,
    why: String,
    first: bool,
    fields: Vec<Field>,
    lines: Vec<[Field; 3]>,
    /// The joints that the round asks for, what is welded there, and whether it was ticked.
    early: Vec<(String, String, bool)>,
    /// What is wrong with those ticks.
    early_why: String,
    settles: Vec<(String, String, bool)>,
    /// What is open in the round, once it is to be approved all the same.
    open: Vec<String>,
    /// That list by its fingerprint, and whether it was ticked as read.
    despite: (String, bool),
    despite_why: String,
    despite_words: Field,
}

/// What stands around the rounds: who signs in as scrutineer, the links there are, and the packets' signatures.
pub(super) struct Around<'a> {
    pub(super) scrutineers: &'a [String],
    pub(super) links: &'a [ReadingLink],
    pub(super) signatures: &'a [RoundSignature],
}

impl Rounds {
    /// From the rounds and replies, and what was typed so far.
    pub(super) fn of(seen: &Seen, found: &Findings, form: &Form, around: &Around<'_>) -> Self {
        let (facts, role) = (&seen.facts, seen.who.ctx.by.role);
        let day_of = |at| seen.who.ctx.clock.day_of(at);
        let open = open_items::of(facts, found, seen.who.units, &day_of);
        let count = |sort: Sort| open.iter().filter(|item| item.sort == sort).count();
        let key = match form.text("key") {
            "" => seen.who.ctx.clock.new_id().to_string(),
            typed => typed.to_owned(),
        };
        // Whoever answers part by part has no need of the form, unless something came back of it.
        let by_form = may(role, Deed::Reply) && (!may(role, Deed::Review) || !form.pairs().is_empty());
        let reply = facts.rounds.last().filter(|_| by_form);
        let reply = reply.map(|round| ReplyForm::of(seen, found, round, form));
        let fields = |reply: &'_ ReplyForm| {
            [&reply.despite_words]
                .into_iter()
                .chain(&reply.fields)
                .chain(reply.lines.iter().flatten())
                .cloned()
                .collect::<Vec<Field>>()
        };
        let may_issue = may(role, Deed::IssueRounds);
        let links = if may_issue { Links::of(seen, around.links, form) } else { None };
        let mut shown: Vec<Field> = reply.iter().flat_map(fields).collect();
        shown.extend(links.iter().map(|links| links.reader.clone()));
        let decision = form.field("decision", "");
        let released = form.field("released", "");
        let despite = form.field("despite", "");
        let mail = form.field(MAIL, "");
        // told at the file that was chosen, where the sheet has its field
        let at_file = [&mail].into_iter().filter(|_| !may(role, Deed::Review) || !form.text(OF).is_empty());
        let faults = [&decision, &released, &despite].into_iter().chain(at_file).chain(&shown);
        let faults = form.other_faults(&faults.collect::<Vec<_>>());
        let early = found.worked.lowering.as_ref().filter(|_| !matches!(found.hold, Hold::Released { .. }));
        let early = early.map(Plan::asks).unwrap_or_default().into_iter();
        Self {
            sheet: seen.sheet("Rounds"),
            links,
            now: Now::of(seen, found, around.scrutineers),
            rulings: seen.address("/rulings"),
            released: matches!(found.hold, Hold::Released { .. } | Hold::JointsOnly(_)),
            rounds: facts.rounds.iter().rev().map(|round| Issued::of(seen, round, around.signatures, form)).collect(),
            may_issue,
            sees_draft: may(role, Deed::SeeBuilds),
            draft: seen.address("/packet.pdf"),
            early: early.map(|(joint, welds)| (joint.to_string(), welds)).collect(),
            asks: form.text("asks").to_owned(),
            sizes: sizes(form.text("size")),
            key,
            next: facts.rounds.last().map_or(1, |round| round.number + 1),
            fails: count(Sort::Fails),
            missing: count(Sort::Missing),
            close: count(Sort::TooClose),
            changes: if may(role, Deed::SeeBuilds) { changed(seen, found) } else { Vec::new() },
            reply,
            faults,
        }
    }
}

/// How a reply that is typed in can have come.
fn came() -> Vec<(String, String)> {
    let none = (String::new(), "not said".to_owned());
    std::iter::once(none).chain(Came::TYPED_IN.map(|came| (came.word().to_owned(), came.word().to_owned()))).collect()
}

/// Who gave a reply, with which licence or role, and how it came.
fn given_by(reply: &Reply) -> String {
    let licence = if reply.licence.is_empty() { String::new() } else { format!(" ({})", reply.licence) };
    let came = reply.came.map(|came| format!(", {}", came.word())).unwrap_or_default();
    format!("{}{licence}{came}", reply.given_by)
}

fn sizes(sent: &str) -> Vec<(u32, bool)> {
    let chosen = PacketSize::of_text(sent);
    PacketSize::ALL.iter().map(|size| (size.megabytes(), *size == chosen)).collect()
}

fn changed(seen: &Seen, found: &Findings) -> Vec<Changed> {
    let line = |change: &crate::domain::derived::contents::Change| Changed {
        at: change.at.to_string(),
        to: seen.address(&part_address(change.at)),
        what: change.what.clone(),
    };
    found.changes.iter().map(line).collect()
}

impl Issued {
    fn of(seen: &Seen, round: &Round, signatures: &[RoundSignature], form: &Form) -> Self {
        let base = seen.address(&format!("/rounds/{}", round.number));
        let signature = signatures.iter().find(|one| one.round == round.id);
        let clock = &seen.who.ctx.clock;
        let own = seen.facts.replies.iter().filter(|reply| reply.round == round.id);
        let answered = |reply: &Reply| Answered {
            id: reply.id.clone(),
            mails: Mails::of(seen, round, reply, form),
            decision: reply.decision.word(),
            given_by: given_by(reply),
            day: clock.day_of(reply.received).to_string(),
            words: reply.words.clone(),
            released: named(&reply.released),
            counts: counts(reply, round),
            listed: format!("{base}/review/sign"),
            despite: reply.despite.as_ref().map(|despite| despite.open.clone()).unwrap_or_default(),
            despite_words: reply.despite.as_ref().map(|despite| despite.words.clone()).unwrap_or_default(),
        };
        Self {
            number: round.number,
            day: clock.day_of(round.issued).to_string(),
            by: round.by.clone(),
            short: short(round.packet_sha256.text()),
            edition: contents::edition_of(round).unwrap_or_default(),
            packet: format!("{base}/packet.pdf"),
            signed: signature.map(|one| Signed::of(one, &base, &seen.facts.build.slug, round.number)),
            review: match Asks::of(round) {
                Asks::Unreadable => String::new(),
                _ => format!("{base}/review"),
            },
            unreadable: Asks::of(round) == Asks::Unreadable,
            early: named(Asks::of(round).joints().keys()),
            replies: own.map(answered).collect(),
        }
    }
}

/// What a line of a reply that is typed in can be, as sent and as read.
const KINDS: [(&str, &str); 4] = [
    ("question", "question"),
    ("change", "change asked"),
    ("condition", "condition"),
    ("holds", "condition, holds until met"),
];

impl ReplyForm {
    fn of(seen: &Seen, found: &Findings, round: &Round, form: &Form) -> Self {
        let open = if form.text("decision") == "approved" {
            let (items, settles) = (super::items(form), super::settles(form));
            let beside = Beside { items: &items, settles: &settles };
            approving::still_open(&seen.facts, &found.changes, round, beside)
        } else {
            Vec::new()
        };
        let read = approving::fingerprint(&open).text().to_owned();
        let decision = form.field("decision", "");
        let own_mail = form.text(OF).is_empty();
        let (settled, ticked) = (form.chosen("settles"), form.chosen("released"));
        let early = Asks::of(round).joints().into_iter().map(|(joint, welds)| {
            let joint = joint.to_string();
            let on = ticked.contains(&joint);
            (joint, welds, on)
        });
        let unsettled = seen.facts.questions.iter().filter(|question| question.settled.is_none());
        let settles = unsettled.map(|question| {
            let id = question.id.to_string();
            let about = question.about.map(|about| format!(" ({about})")).unwrap_or_default();
            let ticked = settled.contains(&id);
            (id, format!("Q{}{about}: {}", question.number, question.text), ticked)
        });
        let kinds = KINDS.map(|(value, words)| (value.to_owned(), words.to_owned()));
        let line = |line: usize| {
            [
                form.field_named(format!("about_{line}"), "No."),
                form.field_named(format!("kind_{line}"), "Kind").choice(kinds.clone()),
                form.field_named(format!("asked_{line}"), "What is asked"),
            ]
        };
        Self {
            to: seen.address(&format!("/rounds/{}/reply", round.number)),
            typed: !may(seen.who.ctx.by.role, Deed::Review),
            mail_why: form.field(MAIL, "").fault.filter(|_| own_mail).unwrap_or_default(),
            round: round.number,
            packet_sha256: round.packet_sha256.text().to_owned(),
            short: short(round.packet_sha256.text()),
            decision: form.text("decision").to_owned(),
            why: decision.fault.unwrap_or_default(),
            first: decision.first,
            fields: vec![
                form.field("given_by", "Who gave the reply").hint("As the scrutineer signs."),
                form.field("licence", "Licence or role"),
                form.field("came", "How it came").choice(came()),
                form.field("words", "In the scrutineer's words").area(),
            ],
            lines: (1..=LINES).map(line).collect(),
            early: early.collect(),
            early_why: form.field("released", "").fault.unwrap_or_default(),
            settles: settles.collect(),
            despite: (read.clone(), form.text("despite") == read),
            open,
            despite_why: form.field("despite", "").fault.unwrap_or_default(),
            despite_words: form
                .field("despite_words", "Why it is approved all the same, in the scrutineer's words")
                .area(),
        }
    }
}

//! What the sheets of reading links show: the ready mail, what a link leads to, the office's list.

use askama::Template;

use super::door::Door;
use super::signed::Signed;
use crate::domain::derived::contents::{Asks, Contents};
use crate::domain::recorded::rounds::Round;
use crate::domain::recorded::rounds::links::{GoodFor, ReadingLink};
use crate::domain::shop::signing::RoundSignature;
use crate::domain::words::fingerprint::short;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address};
use crate::web::qr::Code;

/// A link just made: its address is shown this once.
#[derive(Template)]
#[template(path = "rounds/link.html")]
pub(super) struct LinkMade {
    sheet: Sheet,
    reader: String,
    until: String,
    address: String,
    code: Option<Code>,
    subject: String,
    mail: String,
    /// The same as an address that opens the mail program.
    mailto: String,
    back: String,
}

/// What is sent: the link's whole address, and how large the packet behind it is.
pub(super) struct Sent {
    pub(super) address: String,
    pub(super) bytes: u64,
}

impl LinkMade {
    /// From the link and what is sent of it.
    pub(super) fn of(seen: &Seen, round: &Round, link: &ReadingLink, sent: &Sent) -> Self {
        let address = sent.address.as_str();
        let until = seen.who.ctx.clock.minute_of(link.ends);
        let build = &seen.facts.build.name;
        let subject = format!("{build}: round {} waits for your answer", round.number);
        let mail = format!(
            "{reader},\n\n\
             round {number} of {build} is ready to be looked at. It asks: {asks}\n\n\
             Open it, without an account:\n{address}\n\n\
             It is good until {until}, and shows this round and nothing else. Opening it records nothing; you answer part by \
             part and sign at the end.\n\
             The same as a PDF, {size}, can be opened there. Its SHA-256 begins {sha}.\n\n\
             Nothing is fully welded before you answer.",
            reader = link.reader,
            number = round.number,
            asks = asks(round),
            size = megabytes(sent.bytes),
            sha = short(round.packet_sha256.text()),
        );
        Self {
            sheet: seen.sheet("Reading link"),
            reader: link.reader.clone(),
            until,
            address: address.to_owned(),
            code: Code::of(address),
            mailto: format!(
                "mailto:?subject={}&body={}",
                in_address(&subject),
                in_address(&mail.replace('\n', "\r\n"))
            ),
            subject,
            mail,
            back: seen.address("/rounds#links"),
        }
    }
}

/// What a round asks, as a question.
fn asks(round: &Round) -> String {
    let asked = Asks::of(round);
    if asked == Asks::Unreadable {
        return "what its packet says.".to_owned();
    }
    let joints: Vec<String> = asked.joints().keys().map(ToString::to_string).collect();
    if joints.is_empty() {
        return "may the cage, tacked as shown, be fully welded?".to_owned();
    }
    format!("may {} alone be welded while the cage is lowered?", joints.join(", "))
}

/// In megabytes of a million bytes, to a tenth; never nought.
fn megabytes(bytes: u64) -> String {
    let tenths = (bytes / 100_000).max(1);
    format!("{}.{} MB", tenths / 10, tenths % 10)
}

/// What whoever has a link sees first.
#[derive(Template)]
#[template(path = "rounds/front.html")]
pub(super) struct Front {
    sheet: Sheet,
    build: String,
    round: u32,
    issued: String,
    reader: String,
    until: String,
    asks: String,
    parts: usize,
    review: String,
    packet: String,
    /// How the packet can be checked; none of a round that was issued before packets were signed.
    signed: Option<Signed>,
    /// Where the receipt is; empty while nobody answered through a link.
    receipt: String,
    /// The newest round, where another followed.
    followed: Option<u32>,
}

impl Front {
    /// None for whoever did not come by a link.
    pub(super) fn of(door: &Door, answered: bool, signature: Option<&RoundSignature>) -> Option<Self> {
        let reader = door.reader();
        let link = reader.link.as_ref()?;
        let facts = &door.seen.facts;
        let round = facts.rounds.iter().find(|round| round.number == door.round)?;
        let newest = facts.rounds.last().map_or(door.round, |round| round.number);
        Some(Self {
            sheet: door.sheet("Round to be answered"),
            build: facts.build.name.clone(),
            round: round.number,
            issued: reader.clock.day_of(round.issued).to_string(),
            reader: link.reader.clone(),
            until: reader.clock.minute_of(link.ends),
            asks: asks(round),
            parts: Contents::read(&round.contents).map_or(0, |contents| contents.asked().len()),
            review: door.address("/review"),
            packet: door.address("/packet.pdf"),
            signed: signature.map(|one| Signed::of(one, &door.address(""), &facts.build.slug, round.number)),
            receipt: if answered { door.address("/receipt") } else { String::new() },
            followed: (newest != door.round).then_some(newest),
        })
    }
}

/// The office's list of links to the newest round, and the form for one more.
pub(super) struct Links {
    pub(super) to: String,
    pub(super) round: u32,
    pub(super) reader: Field,
    pub(super) days: Vec<(i64, bool)>,
    pub(super) rows: Vec<LinkRow>,
}

/// A link in the list.
pub(super) struct LinkRow {
    pub(super) reader: String,
    pub(super) round: u32,
    pub(super) state: String,
    /// Where it is withdrawn; empty of one that is not good any more.
    pub(super) withdraw: String,
}

impl Links {
    /// None before the first round.
    pub(super) fn of(seen: &Seen, links: &[ReadingLink], form: &Form) -> Option<Self> {
        let newest = seen.facts.rounds.last()?;
        let (clock, base) = (&seen.who.ctx.clock, seen.address("/rounds"));
        let chosen = GoodFor::of_text(form.text("days"));
        let row = |link: &ReadingLink| {
            let round = link.number;
            let good = link.is_good(clock.now());
            let state = match &link.withdrawn {
                Some((at, by)) => format!("withdrawn {} by {by}", clock.minute_of(*at)),
                None if good => format!("good until {}", clock.minute_of(link.ends)),
                None => format!("over since {}", clock.minute_of(link.ends)),
            };
            let withdraw = if good { format!("{base}/{round}/links/{}/withdraw", link.id) } else { String::new() };
            LinkRow { reader: link.reader.clone(), round, state, withdraw }
        };
        Some(Self {
            to: format!("{base}/{}/links", newest.number),
            round: newest.number,
            reader: form.field("reader", "Whom it is for").hint("A name; answers are kept under it until they sign."),
            days: GoodFor::ALL.iter().map(|one| (one.days(), *one == chosen)).collect(),
            rows: links.iter().rev().map(row).collect(),
        })
    }
}

//! Rounds issued to the scrutineer, and the replies to them; neither ever changes.

pub mod links;
pub mod mails;
pub mod marked;
pub mod receipt;

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use self::mails::Mail;
use crate::domain::recorded::questions::Condition;
use crate::domain::recorded::reviews::Reviewed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::QuestionId;
use crate::domain::words::ids::{Balloon, BuildId, RoundId};
use crate::domain::words::limits;

/// The joints of which an early round asks the release for welding while the cage is lowered, and what is welded there:
/// "M2 onto M1". Empty for a round that asks about the whole cage.
pub type Early = BTreeMap<Balloon, String>;

/// What a round asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReleaseRequest {
    /// May the whole cage be fully welded?
    WholeCage,
    /// May just these joints be welded while the cage is lowered?
    Lowering,
}

/// What a packet is to stay under, so that it can be sent: in MB of a million bytes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum PacketSize {
    /// For the strictest mailboxes.
    Five,
    /// For most (our own choice).
    #[default]
    Ten,
    /// Where it is handed over by other ways.
    Twenty,
}

impl PacketSize {
    /// All of them, the smallest first.
    pub const ALL: [Self; 3] = [Self::Five, Self::Ten, Self::Twenty];

    /// In MB.
    pub const fn megabytes(self) -> u32 {
        match self {
            Self::Five => 5,
            Self::Ten => 10,
            Self::Twenty => 20,
        }
    }

    /// In bytes.
    pub const fn bytes(self) -> usize {
        match self {
            Self::Five => 5_000_000,
            Self::Ten => 10_000_000,
            Self::Twenty => 20_000_000,
        }
    }

    /// As it is sent; the usual one where nothing or something else is.
    pub fn of_text(text: &str) -> Self {
        Self::ALL.into_iter().find(|size| size.megabytes().to_string() == text.trim()).unwrap_or_default()
    }
}

/// What a packet is made to be: what it asks, and what it stays under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    /// What it asks.
    pub release: ReleaseRequest,
    /// What it stays under.
    pub size: PacketSize,
}

impl From<ReleaseRequest> for Wanted {
    fn from(release: ReleaseRequest) -> Self {
        Self { release, size: PacketSize::default() }
    }
}

/// A round as it was issued.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Round {
    /// The store's name for it.
    pub id: RoundId,
    /// The build it is of.
    pub build: BuildId,
    /// 1, 2 … in the build.
    pub number: u32,
    /// The form's own key: pressing twice gives one round.
    pub issue_key: String,
    /// The contents list, canonical JSON.
    pub contents: String,
    /// The contents list's SHA-256.
    pub contents_sha256: Fingerprint,
    /// The packet's SHA-256.
    pub packet_sha256: Fingerprint,
    /// The build's last log entry when the contents were gathered.
    pub as_of: i64,
    /// When it was issued.
    pub issued: Timestamp,
    /// Who issued it.
    pub by: String,
}

/// What the scrutineer decided of a round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Decision {
    /// The work may go on.
    Approved,
    /// There are questions.
    NotYet,
    /// The cage as it was shown is not released; nothing that is answered changes that.
    Refused,
}

impl Decision {
    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Approved => "approved",
            Self::NotYet => "not yet",
            Self::Refused => "refused",
        }
    }

    /// All of them.
    pub const ALL: [Self; 3] = [Self::Approved, Self::NotYet, Self::Refused];

    /// The one of a sent word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|decision| decision.word() == word)
    }
}

/// How a reply came to the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Came {
    /// A scrutineer with a sign-in gave it here.
    SignedIn,
    /// It was given through a reading link.
    Link,
    /// The office typed in what a mail says.
    Mail,
    /// The office typed in what was said on the telephone.
    Telephone,
    /// The office typed in what a paper says.
    Paper,
    /// The office typed in what was said at the car.
    InPerson,
}

impl Came {
    /// All of them.
    pub const ALL: [Self; 6] = [Self::SignedIn, Self::Link, Self::Mail, Self::Telephone, Self::Paper, Self::InPerson];
    /// Those in which the office types for the scrutineer.
    pub const TYPED_IN: [Self; 4] = [Self::Mail, Self::Telephone, Self::Paper, Self::InPerson];

    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::SignedIn => "signed in",
            Self::Link => "reading link",
            Self::Mail => "e-mail",
            Self::Telephone => "telephone",
            Self::Paper => "on paper",
            Self::InPerson => "in person",
        }
    }

    /// The one of a stored or sent word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|came| came.word() == word)
    }
}

/// What was open in a round that was approved all the same.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Despite {
    /// What was open, each in a sentence, as it was read before it was confirmed.
    pub open: Vec<String>,
    /// Why it is approved all the same, in the scrutineer's words.
    pub words: String,
}

/// A reply to a round as it was received.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reply {
    /// The store's name for it.
    pub id: String,
    /// The round it replies to.
    pub round: RoundId,
    /// What was decided.
    pub decision: Decision,
    /// The joints it releases for welding while the cage is lowered; none of a round that asks about the whole cage.
    pub released: Vec<Balloon>,
    /// The scrutineer's words.
    pub words: String,
    /// Who gave it, as typed.
    pub given_by: String,
    /// The licence or role they gave it with, as typed; empty where none was said.
    #[serde(default)]
    pub licence: String,
    /// How it came; none where nobody said.
    #[serde(default)]
    pub came: Option<Came>,
    /// What was open in the round and approved all the same; none where nothing was, or it was not approved.
    pub despite: Option<Despite>,
    /// What was answered part by part and signed with it; none of a reply that came by mail or by telephone.
    pub answers: Option<Vec<Reviewed>>,
    /// When it was received.
    pub received: Timestamp,
    /// Who recorded it.
    pub by: String,
    /// What it was typed from, in the order it was attached.
    #[serde(default)]
    pub mails: Vec<Mail>,
}

/// A condition of a release, as it is entered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NewCondition {
    /// The part; none for the cage as a whole.
    pub about: Option<Balloon>,
    /// What is to be done.
    pub text: String,
    /// What waits for it.
    pub condition: Condition,
}

/// A reply as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReply {
    /// The round it replies to.
    pub round: u32,
    /// The SHA-256 of the packet it replies to.
    pub packet_sha256: Fingerprint,
    /// What was decided.
    pub decision: Decision,
    /// The joints it releases for welding while the cage is lowered, where the round asks for that.
    pub released: Vec<Balloon>,
    /// The scrutineer's words.
    pub words: String,
    /// Who gave it, as typed.
    pub given_by: String,
    /// The licence or role they gave it with, as typed.
    pub licence: String,
    /// How it came.
    pub came: Option<Came>,
    /// What was read of all that is open in the round, by its fingerprint, and why it is approved all the same; none where
    /// nobody was asked yet.
    pub despite: Option<(Fingerprint, String)>,
    /// A question for each item, with its balloon as printed.
    pub items: Vec<(Option<Balloon>, String)>,
    /// What it releases under, each an open thing until it is met.
    pub conditions: Vec<NewCondition>,
    /// The questions that it settles.
    pub settles: Vec<QuestionId>,
    /// The answers that stood when it was signed; none of a reply that came by mail or by telephone.
    pub answers: Option<Vec<Reviewed>>,
}

impl NewReply {
    /// What is wrong with it by itself, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("given_by", &self.given_by);
        faults.extend(limits::words_faults("licence", &self.licence).into_iter().filter(|_| !self.licence.is_empty()));
        faults.extend(limits::text_faults("words", &self.words));
        faults.extend(self.items.iter().flat_map(|item| limits::words_faults("items", &item.1)));
        let wanted = self.answers.iter().flatten().any(Reviewed::wants);
        if self.decision == Decision::NotYet && self.items.is_empty() && self.words.trim().is_empty() && !wanted {
            faults.push(Fault::new("words", "Say what is missing, in words or item by item."));
        }
        if self.decision == Decision::Refused && self.words.trim().is_empty() {
            faults.push(Fault::new("words", "Say why it is refused."));
        }
        if self.decision != Decision::Approved && !self.conditions.is_empty() {
            let why = "Conditions go with a release. Choose that, or ask for a change instead.";
            faults.push(Fault::new("decision", why));
        }
        faults.extend(self.conditions.iter().flat_map(|one| limits::words_faults("conditions", &one.text)));
        faults
    }
}

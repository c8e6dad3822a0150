//! Who reads a round, and the round they read: all that its sheets need, whether somebody signed in or came by another door.

use crate::actions::recorded::rounds::as_issued::AsIssued;
use crate::clock::Clock;
use crate::domain::book::RuleBook;
use crate::domain::derived::contents::{Contents, Earlier};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::reviews::{Reviewed, newest, standing};
use crate::domain::recorded::rounds::Reply;
use crate::domain::recorded::rounds::links::ReadingLink;
use crate::domain::shop::people::{Deed, Role, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::quantity::Units;
use crate::web::gate::Seen;

/// Somebody who reads a round, as far as its sheets go by it.
pub(super) struct Reader {
    /// In whose name answers are saved and signed.
    pub(super) name: String,
    /// What they are to the shop: who may answer is the table of roles.
    pub(super) role: Role,
    /// The units they read in.
    pub(super) units: Units,
    /// What time it is where the shop is.
    pub(super) clock: Clock,
    /// The link they came by; none of whoever signed in.
    pub(super) link: Option<ReadingLink>,
    /// Where the addresses of the round that is read begin.
    base: String,
}

impl Reader {
    /// Somebody who signed in, at the round whose addresses begin so.
    pub(super) fn at(seen: &Seen, base: String) -> Self {
        let ctx = &seen.who.ctx;
        Self {
            name: ctx.by.name.clone(),
            role: ctx.by.role,
            units: seen.who.units,
            clock: ctx.clock.clone(),
            link: None,
            base,
        }
    }

    /// The same, who came by this link where they did.
    pub(super) fn with(self, link: Option<ReadingLink>) -> Self {
        Self { link, ..self }
    }

    /// Whether they answer part by part and sign.
    pub(super) const fn answers(&self) -> bool {
        may(self.role, Deed::Review)
    }

    /// An address of the round that is read.
    pub(super) fn address(&self, last: &str) -> String {
        format!("{}{last}", self.base)
    }
}

/// A round that is read.
pub(super) struct Read<'r> {
    pub(super) reader: &'r Reader,
    pub(super) issued: &'r AsIssued,
    /// What it showed.
    pub(super) contents: &'r Contents,
    /// What is recorded now: rows that never change, and replies.
    pub(super) facts: &'r BuildFacts,
    /// Every part that it shows, and those that are answered one by one.
    pub(super) shown: Vec<Balloon>,
    pub(super) asked: Vec<Balloon>,
    /// What was answered of the rounds before.
    pub(super) earlier: Earlier<'r>,
    found: &'r Findings,
}

impl<'r> Read<'r> {
    /// None of a round whose contents this program cannot read: its packet is all there is of it.
    pub(super) fn of(
        reader: &'r Reader,
        issued: &'r AsIssued,
        facts: &'r BuildFacts,
        found: &'r Findings,
    ) -> Option<Self> {
        let contents = issued.contents.as_ref()?;
        let earlier = Earlier::of(&facts.rounds, &facts.replies, issued.round.number);
        let (shown, asked) = (contents.shown(), contents.asked());
        Some(Self { reader, issued, contents, facts, shown, asked, earlier, found })
    }

    /// What stands: of whoever answers, each newest answer; for everybody else what was signed, if anything was.
    pub(super) fn answers(&self) -> Vec<&'r Reviewed> {
        if self.reader.answers() {
            return standing(&self.issued.answers).into_values().collect();
        }
        self.signed().and_then(|reply| reply.answers.as_ref()).into_iter().flatten().collect()
    }

    /// What stands of a part.
    pub(super) fn answer_of(&self, part: Balloon) -> Option<&'r Reviewed> {
        self.answers().into_iter().find(|one| one.part == part)
    }

    /// The newest answer there is.
    pub(super) fn newest_answer(&self) -> i64 {
        newest(&self.issued.answers)
    }

    /// The newest reply to it that was signed part by part.
    pub(super) fn signed(&self) -> Option<&'r Reply> {
        self.facts.replies.iter().rfind(|reply| reply.round == self.issued.round.id && reply.answers.is_some())
    }

    /// Whether answers can still be given: another round may have followed.
    pub(super) fn open(&self) -> bool {
        self.reader.answers() && self.issued.newest == self.issued.round.number
    }

    /// The book it was judged by, where the shop still has it for this build, byte for byte.
    pub(super) fn book(&self) -> Option<&'r RuleBook> {
        let [_, _, text] = self.contents.book.as_ref()?;
        let now = self.facts.book.as_ref()?;
        (Fingerprint::of(now.toml.as_bytes()).text() == text).then_some(self.found.worked.rules.as_ref()?)
    }

    /// What is not as the newest round showed it.
    pub(super) fn changes(&self) -> &'r [crate::domain::derived::contents::Change] {
        &self.found.changes
    }

    /// Where another round of the build is reviewed; nowhere for whoever came by a link to this one.
    pub(super) fn address_of(&self, round: u32) -> String {
        if self.reader.link.is_some() {
            return String::new();
        }
        format!("/builds/{}/rounds/{round}/review", self.facts.build.slug)
    }

    /// An address of this round.
    pub(super) fn address(&self, last: &str) -> String {
        self.reader.address(last)
    }
}

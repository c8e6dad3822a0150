//! Reading links: a round shown to one person without a sign-in, for some days, until it is withdrawn.

use jiff::{SignedDuration, Timestamp};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BuildId, LinkId, RoundId};
use crate::domain::words::limits;

/// How long a link is good (own choice: a scrutineer who is at events answers within weeks).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum GoodFor {
    /// Three days.
    ThreeDays,
    /// A fortnight.
    #[default]
    Fortnight,
    /// Two months.
    TwoMonths,
}

impl GoodFor {
    /// All of them, the shortest first.
    pub const ALL: [Self; 3] = [Self::ThreeDays, Self::Fortnight, Self::TwoMonths];

    /// In days.
    pub const fn days(self) -> i64 {
        match self {
            Self::ThreeDays => 3,
            Self::Fortnight => 14,
            Self::TwoMonths => 60,
        }
    }

    /// As a span of time.
    pub const fn span(self) -> SignedDuration {
        SignedDuration::from_hours(24 * self.days())
    }

    /// As it is sent; the usual one where nothing or something else is.
    pub fn of_text(text: &str) -> Self {
        Self::ALL.into_iter().find(|span| span.days().to_string() == text.trim()).unwrap_or_default()
    }
}

/// A link to one round. Its secret is kept nowhere: only the secret's SHA-256 is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadingLink {
    /// The store's name for it.
    pub id: LinkId,
    /// The build it leads to.
    pub build: BuildId,
    /// The one round it shows.
    pub round: RoundId,
    /// That round's number in the build.
    pub number: u32,
    /// Whom it is for, as typed.
    pub reader: String,
    /// When it was made.
    pub made: Timestamp,
    /// Who made it.
    pub by: String,
    /// From when on it is not good any more.
    pub ends: Timestamp,
    /// When it was withdrawn, and by whom; none while it was not.
    pub withdrawn: Option<(Timestamp, String)>,
}

impl ReadingLink {
    /// Whether it is good at a moment.
    pub fn is_good(&self, now: Timestamp) -> bool {
        self.withdrawn.is_none() && now < self.ends
    }

    /// The name under which answers that come through it are kept.
    pub fn name(&self) -> String {
        format!("{}, by reading link", self.reader)
    }
}

/// A link as it is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReadingLink {
    /// The round.
    pub round: u32,
    /// Whom it is for.
    pub reader: String,
    /// How long it is good.
    pub good_for: GoodFor,
}

impl NewReadingLink {
    /// What is wrong with it by itself, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        limits::title_faults("reader", &self.reader)
    }
}

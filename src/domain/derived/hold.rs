//! The hold point: the one word of it, which every sheet, paper and list reads.

use jiff::Timestamp;

use super::contents::{Asks, Change};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::questions::{Condition, Question};
use crate::domain::recorded::rounds::{Decision, Reply, Round};
use crate::domain::words::ids::Balloon;

/// How the cage as a whole stands: full welding waits for the scrutineer's yes to the newest round, and for nothing being
/// otherwise than it was shown then.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hold {
    /// Nothing was issued yet.
    NothingIssued,
    /// This round waits for its reply.
    Waiting(u32),
    /// The reply to this round has questions.
    NotYet(u32),
    /// What this round asked cannot be read: its approval releases nothing.
    Unreadable(u32),
    /// The newest round, which is answered with a yes, asked for single joints only; how these stand, its release says.
    JointsOnly(u32),
    /// The reply to this round refuses the cage as it was shown.
    Refused(u32),
    /// The newest round is approved under conditions, and one at least that holds is not met.
    Conditions {
        /// Which round.
        round: u32,
        /// Who gave it.
        given_by: String,
        /// What is not met, one at least.
        open: Vec<String>,
    },
    /// The newest round is approved, and all is as it was shown.
    Released {
        /// Which round.
        round: u32,
        /// Since when: the reply was received, and the last condition that held was met.
        at: Timestamp,
        /// Who gave it.
        given_by: String,
    },
    /// The newest round was approved, and something is not as it was shown: what was released is held again.
    Lapsed {
        /// Which round.
        round: u32,
        /// Who approved it.
        given_by: String,
        /// What is not as it was shown, one at least.
        changes: Vec<Change>,
    },
}

/// The joints that may be welded while the cage is lowered, though the cage is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EarlyRelease {
    /// The round that asked.
    pub round: u32,
    /// The joints.
    pub joints: Vec<Balloon>,
    /// Who released them.
    pub given_by: String,
}

impl EarlyRelease {
    /// In a sentence.
    pub fn describe(&self) -> String {
        let (given_by, round) = (&self.given_by, self.round);
        let joints = named(&self.joints);
        format!(
            "{given_by} released {joints} in round {round} for welding while the cage is lowered, and nothing else."
        )
    }
}

/// Parts by their numbers, in a line.
pub fn named<'a>(parts: impl IntoIterator<Item = &'a Balloon>) -> String {
    parts.into_iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

/// What every held sheet begins with.
pub const HELD: &str = "HELD: tacks only.";
/// What paper without a shop's records says of the hold.
pub const HELD_UNTIL: &str = "HELD: tacks only. Nothing is fully welded before the scrutineer releases it.";

/// The latest reply to a round.
pub fn answer<'a>(facts: &'a BuildFacts, round: &Round) -> Option<&'a Reply> {
    facts.replies.iter().rfind(|reply| reply.round == round.id)
}

/// Since when what a reply releases is released: a condition that held was met first.
pub fn released_at(facts: &BuildFacts, reply: &Reply) -> Timestamp {
    let held = facts.questions.iter().filter(|one| one.condition == Some(Condition::Holds));
    held.filter_map(|one| one.settled).fold(reply.received, Timestamp::max)
}

impl Hold {
    /// What follows from a build's rounds, the replies to them and what changed since the newest round. Only a reply to the
    /// newest round counts, and of those the latest.
    pub fn of(facts: &BuildFacts, changes: &[Change]) -> Self {
        let Some(newest) = facts.rounds.iter().max_by_key(|round| round.number) else {
            return Self::NothingIssued;
        };
        let round = newest.number;
        let Some(reply) = answer(facts, newest) else { return Self::Waiting(round) };
        match (reply.decision, Asks::of(newest)) {
            (Decision::NotYet, _) => Self::NotYet(round),
            (Decision::Refused, _) => Self::Refused(round),
            (Decision::Approved, Asks::Unreadable) => Self::Unreadable(round),
            // An early round asks for single joints: its yes releases those, and never the cage.
            (Decision::Approved, Asks::Joints(_)) if reply.released.is_empty() => Self::NotYet(round),
            (Decision::Approved, Asks::WholeCage) if !changes.is_empty() => {
                Self::Lapsed { round, given_by: reply.given_by.clone(), changes: changes.to_vec() }
            }
            (Decision::Approved, _) if facts.questions.iter().any(Question::holds) => {
                let open = facts.questions.iter().filter(|one| one.holds());
                let open = open.map(|one| format!("Q{}: {}", one.number, one.text)).collect();
                Self::Conditions { round, given_by: reply.given_by.clone(), open }
            }
            (Decision::Approved, Asks::Joints(_)) => Self::JointsOnly(round),
            (Decision::Approved, Asks::WholeCage) => {
                Self::Released { round, at: released_at(facts, reply), given_by: reply.given_by.clone() }
            }
        }
    }

    /// Whether anything is held.
    pub const fn held(&self) -> bool {
        !matches!(self, Self::Released { .. })
    }

    /// In a sentence for everybody in the shop; `joints` is what is said of those that were released before the cage.
    pub fn describe(&self, joints: Option<&str>) -> String {
        let description = match self {
            Self::NothingIssued => {
                format!("{HELD} No round was issued yet; nothing is fully welded before the scrutineer releases it.")
            }
            Self::Waiting(round) => {
                format!("{HELD} Round {round} waits for the scrutineer's reply; nothing is fully welded before it.")
            }
            Self::NotYet(round) => format!(
                "{HELD} The scrutineer has questions on round {round}; nothing is fully welded before an approval."
            ),
            Self::Refused(round) => {
                format!("{HELD} The scrutineer refused round {round}; change the cage and issue a new round.")
            }
            Self::Conditions { round, given_by, open } => format!(
                "{HELD} {given_by} approved round {round} under conditions, and {} not met: {}",
                if open.len() == 1 { "one is".to_owned() } else { format!("{} are", open.len()) },
                open.join("; ")
            ),
            Self::Unreadable(round) => format!(
                "{HELD} What round {round} asked cannot be read, so that its approval releases nothing: issue a new round."
            ),
            Self::JointsOnly(_) => HELD.to_owned(),
            Self::Released { round, given_by, .. } => {
                return format!(
                    "Released: {given_by} approved round {round}. A change to what was approved holds it again."
                );
            }
            Self::Lapsed { round, given_by, changes } => format!(
                "{HELD} {} since {given_by} approved round {round}, so that nothing is released any more: issue a new round. {}",
                counted(changes),
                first_of(changes)
            ),
        };
        match joints {
            Some(joints) if matches!(self, Self::JointsOnly(_)) => format!("{description} {joints}"),
            Some(joints) => format!("{description} But {joints}"),
            None => description,
        }
    }

    /// In few words, for lists; `joints_released` where some were released before the cage.
    pub fn short(&self, joints_released: bool) -> String {
        match self {
            Self::NothingIssued => "held, no round yet".to_owned(),
            Self::Waiting(round) => format!("held, round {round} is out"),
            Self::NotYet(round) => format!("held, questions on round {round}"),
            Self::Refused(round) => format!("held, round {round} is refused"),
            Self::Conditions { round, .. } => format!("held, conditions of round {round}"),
            Self::Unreadable(round) => format!("held, round {round} cannot be read"),
            Self::JointsOnly(round) if joints_released => {
                format!("held, joints released by round {round}")
            }
            Self::JointsOnly(round) | Self::Lapsed { round, .. } => format!("held, changed since round {round}"),
            Self::Released { round, .. } => format!("released by round {round}"),
        }
    }
}

/// "1 thing changed", "3 things changed".
pub fn counted(changes: &[Change]) -> String {
    match changes.len() {
        1 => "1 thing changed".to_owned(),
        many => format!("{many} things changed"),
    }
}

/// The first change in words, and how many more there are.
fn first_of(changes: &[Change]) -> String {
    let Some((first, rest)) = changes.split_first() else { return String::new() };
    let more = if rest.is_empty() { String::new() } else { format!(" And {} more.", rest.len()) };
    format!("{}: {}.{more}", first.at, first.what)
}

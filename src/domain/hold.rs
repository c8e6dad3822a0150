//! The hold point: what the newest reply to the newest round says of it.

use jiff::Timestamp;

use super::ids::Balloon;
use super::rounds::{Decision, Reply, Round};

/// The hold point: full welding waits for the scrutineer's yes to the newest round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hold {
    /// Nothing was issued yet.
    NothingIssued,
    /// This round waits for its reply.
    Waiting(u32),
    /// The reply to this round has questions.
    NotYet(u32),
    /// The newest round asked for single joints only, and these are released; everything else stays held.
    Early(EarlyRelease),
    /// The newest round is approved.
    Released {
        /// Which round.
        round: u32,
        /// When the reply was received.
        at: Timestamp,
        /// Who gave it.
        given_by: String,
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
    pub fn told(&self) -> String {
        let joints: Vec<String> = self.joints.iter().map(ToString::to_string).collect();
        let (given_by, round) = (&self.given_by, self.round);
        format!(
            "{given_by} released {} in round {round} for welding while the cage is lowered, and nothing else.",
            joints.join(", ")
        )
    }
}

/// What the latest reply to the newest early round released; a later round about the whole cage takes nothing back.
pub fn early_release(rounds: &[Round], replies: &[Reply]) -> Option<EarlyRelease> {
    let round = rounds.iter().rfind(|round| !round.early().is_empty())?;
    let reply = replies.iter().rfind(|reply| reply.round == round.id)?;
    let joints = reply.released.clone();
    let given = reply.decision == Decision::Approved && !joints.is_empty();
    given.then(|| EarlyRelease { round: round.number, joints, given_by: reply.given_by.clone() })
}

impl Hold {
    /// What follows from a build's rounds and the replies to them. Only a reply to the newest round counts, and of those
    /// the latest.
    pub fn of(rounds: &[Round], replies: &[Reply]) -> Self {
        let Some(newest) = rounds.iter().max_by_key(|round| round.number) else {
            return Self::NothingIssued;
        };
        match replies.iter().rfind(|reply| reply.round == newest.id) {
            None => Self::Waiting(newest.number),
            Some(reply) if reply.decision == Decision::NotYet => Self::NotYet(newest.number),
            // An early round asks for single joints: its yes releases those, and never the cage.
            Some(_) if !newest.early().is_empty() => {
                early_release(rounds, replies).map_or(Self::NotYet(newest.number), Self::Early)
            }
            Some(reply) => {
                Self::Released { round: newest.number, at: reply.received, given_by: reply.given_by.clone() }
            }
        }
    }
}

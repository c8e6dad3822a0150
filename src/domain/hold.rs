//! The hold point: what the newest reply to the newest round says of it.

use jiff::Timestamp;

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
            Some(reply) => {
                Self::Released { round: newest.number, at: reply.received, given_by: reply.given_by.clone() }
            }
        }
    }
}

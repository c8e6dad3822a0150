//! The release of the joints that are welded while the cage is down: asked in a round, given by the reply to it, gone
//! when what was put before the scrutineer is not so any more.

use super::contents::{Asks, Contents};
use super::hold::{EarlyRelease, Hold, answer};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::questions::Question;
use crate::domain::recorded::rounds::{Decision, Early};
use crate::domain::words::ids::Balloon;
use crate::domain::work::lowering::Plan;

/// How the joints stand that are welded while the cage is down. Without a release they are blocked: they would be fully
/// welded before the cage is approved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Release {
    /// No joint is welded while the cage is down, and none was released.
    NothingToAsk,
    /// No round asked yet.
    NotAsked,
    /// This round asks and waits for its reply.
    Waits(u32),
    /// The reply to this round did not release them.
    Refused(u32),
    /// This round's reply released some of them under a condition that is not met: nothing is released before it is.
    Conditions(u32),
    /// What this round asked cannot be read: nothing is released by it.
    Unreadable(u32),
    /// This round's reply released some of them: these stand, and the plan waits for the others.
    Partly {
        /// What was released.
        given: EarlyRelease,
        /// What the plan needs beside it.
        missing: Vec<Balloon>,
    },
    /// What this round's reply released is not as it was shown: nothing is released any more.
    Lapsed {
        /// The round.
        round: u32,
        /// What is not as it was shown, each in a sentence.
        what: Vec<String>,
    },
    /// Released, all that the plan needs.
    Given(EarlyRelease),
    /// The whole cage is released.
    WholeCage,
}

impl Release {
    /// Whether the plan stands still for want of it.
    pub const fn blocks(&self) -> bool {
        match self {
            Self::NothingToAsk | Self::Given(_) | Self::WholeCage => false,
            Self::NotAsked
            | Self::Waits(_)
            | Self::Refused(_)
            | Self::Conditions(_)
            | Self::Unreadable(_)
            | Self::Partly { .. }
            | Self::Lapsed { .. } => true,
        }
    }

    /// The single joints that are released now.
    pub const fn released(&self) -> Option<&EarlyRelease> {
        match self {
            Self::Partly { given, .. } | Self::Given(given) => Some(given),
            _ => None,
        }
    }

    /// What the hold says of single joints; none where nothing was released of them by itself.
    pub fn describe_joints(&self) -> Option<String> {
        match self {
            Self::Partly { given, .. } | Self::Given(given) => Some(given.describe()),
            Self::Lapsed { round, what } => Some(format!(
                "what round {round} released for welding while the cage is lowered is held again. {}",
                what.join(" ")
            )),
            _ => None,
        }
    }

    /// How it stands, in a sentence.
    pub fn describe(&self) -> String {
        match self {
            Self::NothingToAsk => "No joint is welded while the cage is down: nothing is to be released.".to_owned(),
            Self::NotAsked => {
                "BLOCKED: these joints would be fully welded before the scrutineer approved the cage, and no round has \
                 asked for their release."
                    .to_owned()
            }
            Self::Waits(round) => format!("BLOCKED: round {round} asks for their release; the reply is awaited."),
            Self::Refused(round) => format!("BLOCKED: the reply to round {round} did not release them."),
            Self::Conditions(round) => {
                format!("BLOCKED: what round {round} released waits for a condition that is not met.")
            }
            Self::Unreadable(round) => {
                format!("BLOCKED: what round {round} asked cannot be read, so that nothing is released by it.")
            }
            Self::Partly { given, missing } => {
                format!("BLOCKED: {} {}", given.describe(), lacking(missing))
            }
            Self::Lapsed { round, what } => {
                format!("BLOCKED: not as released in round {round}. {}", what.join(" "))
            }
            Self::Given(EarlyRelease { round, given_by, .. }) => format!(
                "Released by {given_by} in round {round}: these joints and no others may be welded while the cage is down."
            ),
            Self::WholeCage => "The whole cage is released.".to_owned(),
        }
    }

    /// How the joints stand, from the rounds, the replies, how the whole cage stands, and what would be shown now. `plan` is
    /// none where the cage is not to be lowered.
    pub fn of(facts: &BuildFacts, hold: &Hold, now: &Contents, plan: Option<&Plan>) -> Self {
        let asks = plan.map(Plan::asks).unwrap_or_default();
        if matches!(hold, Hold::Released { .. }) {
            return if asks.is_empty() { Self::NothingToAsk } else { Self::WholeCage };
        }
        let early = facts.rounds.iter().rev().map(|round| (round, Asks::of(round)));
        let mut early = early.filter(|(_, asks)| *asks != Asks::WholeCage);
        let unasked = if asks.is_empty() { Self::NothingToAsk } else { Self::NotAsked };
        let (round, asked) = match early.next() {
            None => return unasked,
            Some((round, Asks::Joints(asked))) => (round, asked),
            Some((round, _)) => return Self::Unreadable(round.number),
        };
        let number = round.number;
        let Some(reply) = answer(facts, round) else {
            return if asks.is_empty() { unasked } else { Self::Waits(number) };
        };
        if reply.decision != Decision::Approved || reply.released.is_empty() {
            return if asks.is_empty() { unasked } else { Self::Refused(number) };
        }
        if facts.questions.iter().any(Question::holds) {
            return if asks.is_empty() { unasked } else { Self::Conditions(number) };
        }
        let mut what = otherwise(&asks, &asked);
        match Contents::read(&round.contents) {
            Some(before) => what.extend(changed(&asked, plan, &before, now)),
            None => what.push("What was shown then cannot be read any more.".to_owned()),
        }
        if !what.is_empty() {
            return Self::Lapsed { round: number, what };
        }
        let joints = reply.released.clone();
        let missing: Vec<Balloon> = asks.keys().copied().filter(|joint| !joints.contains(joint)).collect();
        let given = EarlyRelease { round: number, joints, given_by: reply.given_by.clone() };
        if missing.is_empty() { Self::Given(given) } else { Self::Partly { given, missing } }
    }
}

fn lacking(joints: &[Balloon]) -> String {
    joints.iter().map(|joint| format!("{joint} was not released.")).collect::<Vec<_>>().join(" ")
}

/// What is welded now otherwise than it was asked: a plan that was changed is another plan.
fn otherwise(asks: &Early, asked: &Early) -> Vec<String> {
    let now = asks.iter().filter_map(|(joint, welds)| match asked.get(joint) {
        None => Some(format!("{joint} was not asked for.")),
        Some(then) if then != welds => Some(format!("{joint} was asked for as {then}, and is {welds} now.")),
        Some(_) => None,
    });
    let gone = asked.keys().filter(|joint| !asks.contains_key(joint));
    now.chain(gone.map(|joint| format!("{joint} is not welded while the cage is down any more."))).collect()
}

/// What of the joints and of the bars that end there is not as it was shown. What was only added to it since, a figure
/// read or a photograph, is no change of the weld.
fn changed(asked: &Early, plan: Option<&Plan>, before: &Contents, now: &Contents) -> Vec<String> {
    let mut parts: Vec<Balloon> = asked.keys().copied().collect();
    for weld in plan.iter().flat_map(|plan| &plan.welds).filter(|weld| asked.contains_key(&weld.joint)) {
        parts.extend(weld.now.iter().chain([&weld.carrier]));
    }
    let older = before.unknown();
    let changes = now.changes_since(before).into_iter().filter(|change| parts.contains(&change.at) && !change.adds);
    older.into_iter().chain(changes).map(|change| format!("{}: {}.", change.at, change.what)).collect()
}

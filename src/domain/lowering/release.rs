//! The release of the joints that are welded while the cage is down: asked in a round, given by the reply to it, gone
//! when what was put before the scrutineer is not so any more.

use super::Plan;
use crate::domain::contents::{self, Contents};
use crate::domain::facts::BuildFacts;
use crate::domain::findings::Findings;
use crate::domain::hold::{self, Hold};
use crate::domain::ids::Balloon;
use crate::domain::rounds::{Decision, Early};

/// How the plan stands to the scrutineer's release. Without one it is blocked: lowering means welding these joints
/// fully before the cage is approved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Release {
    /// No joint is welded while the cage is down.
    NothingToAsk,
    /// No round asked yet.
    NotAsked,
    /// This round asks and waits for its reply.
    Waits(u32),
    /// The reply to this round did not release them.
    Refused(u32),
    /// This round's reply released less than the plan needs, or something is not as it was shown then.
    Differs {
        /// The round.
        round: u32,
        /// What differs, each in a sentence.
        what: Vec<String>,
    },
    /// Released by the reply to this round.
    Given {
        /// The round.
        round: u32,
        /// Who gave it.
        given_by: String,
    },
    /// The whole cage is released.
    WholeCage,
}

impl Release {
    /// Whether the plan stands still for want of it.
    pub const fn blocks(&self) -> bool {
        matches!(self, Self::NotAsked | Self::Waits(_) | Self::Refused(_) | Self::Differs { .. })
    }

    /// How it stands, in a sentence.
    pub fn told(&self) -> String {
        match self {
            Self::NothingToAsk => "No joint is welded while the cage is down: nothing is to be released.".to_owned(),
            Self::NotAsked => {
                "BLOCKED: these joints would be fully welded before the scrutineer approved the cage, and no round has \
                 asked for their release."
                    .to_owned()
            }
            Self::Waits(round) => format!("BLOCKED: round {round} asks for their release; the reply is awaited."),
            Self::Refused(round) => format!("BLOCKED: the reply to round {round} did not release them."),
            Self::Differs { round, what } => {
                format!("BLOCKED: not as released in round {round}. {}", what.join(" "))
            }
            Self::Given { round, given_by } => format!(
                "Released by {given_by} in round {round}: these joints and no others may be welded while the cage is down."
            ),
            Self::WholeCage => "The whole cage is released.".to_owned(),
        }
    }

    /// How the plan's release stands, from the rounds, the replies and what is so now.
    pub fn of(facts: &BuildFacts, found: &Findings, plan: &Plan) -> Self {
        let asks = plan.asks();
        if asks.is_empty() {
            return Self::NothingToAsk;
        }
        if matches!(found.hold, Hold::Released { .. }) {
            return Self::WholeCage;
        }
        let Some(round) = facts.rounds.iter().rfind(|round| !round.early().is_empty()) else {
            return Self::NotAsked;
        };
        let reply = facts.replies.iter().rfind(|reply| reply.round == round.id);
        match reply.map(|reply| reply.decision) {
            None => return Self::Waits(round.number),
            Some(Decision::NotYet) => return Self::Refused(round.number),
            Some(Decision::Approved) => {}
        }
        let Some(given) = hold::early_release(&facts.rounds, &facts.replies) else {
            return Self::Refused(round.number);
        };
        let mut what = lacking(&asks, &round.early(), &given.joints);
        if let Ok(before) = serde_json::from_str::<Contents>(&round.contents) {
            what.extend(changed(&asks, plan, &before, &Contents::of(facts, found, round.number)));
        } else {
            what.push("What was shown then cannot be read any more.".to_owned());
        }
        if what.is_empty() {
            Self::Given { round: round.number, given_by: given.given_by }
        } else {
            Self::Differs { round: round.number, what }
        }
    }
}

/// What the plan welds now and was not asked so, or not released.
fn lacking(asks: &Early, asked: &Early, released: &[Balloon]) -> Vec<String> {
    let lacks = |(joint, welds): (&Balloon, &String)| match asked.get(joint) {
        None => Some(format!("{joint} was not asked for.")),
        Some(then) if then != welds => Some(format!("{joint} was asked for as {then}, and is {welds} now.")),
        Some(_) if !released.contains(joint) => Some(format!("{joint} was not released.")),
        Some(_) => None,
    };
    asks.iter().filter_map(lacks).collect()
}

/// What of the joints and of the bars that end there is not as it was shown.
fn changed(asks: &Early, plan: &Plan, before: &Contents, now: &Contents) -> Vec<String> {
    let mut parts: Vec<Balloon> = asks.keys().copied().collect();
    for weld in plan.welds.iter().filter(|weld| asks.contains_key(&weld.joint)) {
        parts.extend(weld.now.iter().chain([&weld.carrier]));
    }
    parts.sort();
    parts.dedup();
    // What a part is, which tube and where, stands in its first lines; what was measured or recorded of it since is no
    // change of the weld.
    let built = |contents: &Contents, part: &Balloon| -> Vec<String> {
        contents.parts.get(&part.to_string()).into_iter().flatten().take(contents::BUILT).cloned().collect()
    };
    let differs = |part: &Balloon| built(before, part) != built(now, part);
    parts.iter().filter(|part| differs(part)).map(|part| format!("{part} is not as it was shown.")).collect()
}

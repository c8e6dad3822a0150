//! What is open of the welding: first of all whatever was welded while it was held.

use super::{OpenItem, Place, Sort, Waits};
use crate::domain::derived::contents::{Asks, Contents};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::hold::answer;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::rounds::{Decision, Round};
use crate::domain::recorded::welds::Weld;
use crate::domain::recorded::welds::stage::{Stage, practised};
use crate::domain::work::weld_order::stages;

/// What was welded while it was held, until the scrutineer approved a round that told him of it.
pub(super) fn while_held(facts: &BuildFacts) -> Vec<OpenItem> {
    let held = facts.welds.iter().filter_map(|weld| Some((weld, weld.describe_held()?)));
    let open = held.filter(|(weld, line)| !approved_with(facts, weld, line));
    open.map(|(weld, _)| {
        let (joint, day, who) = (weld.joint, weld.day, weld.did.who());
        let why = weld.held.as_deref().unwrap_or_default();
        let what = format!(
            "Welded while held: {joint}, {day}, by {who} ({why}). Weld no further; the next round tells the scrutineer"
        );
        let item = OpenItem::missing(what, Waits::Fabricator, Place::Welds(Some(joint)));
        item.at(joint).since(day).sort(Sort::Fails)
    })
    .collect()
}

/// Whether a round that told of it was answered with a yes that covers this joint.
fn approved_with(facts: &BuildFacts, weld: &Weld, line: &String) -> bool {
    let told = |round: &&Round| {
        let contents = Contents::read(&round.contents);
        contents.is_some_and(|contents| {
            contents.welded_held.get(&weld.joint.to_string()).is_some_and(|lines| lines.contains(line))
        })
    };
    facts.rounds.iter().filter(told).any(|round| {
        let yes = answer(facts, round).filter(|reply| reply.decision == Decision::Approved);
        yes.is_some_and(|reply| match Asks::of(round) {
            Asks::WholeCage => true,
            Asks::Joints(_) => reply.released.contains(&weld.joint),
            Asks::Unreadable => false,
        })
    })
}

/// What the log itself leaves open, once welding began.
pub(super) fn log(facts: &BuildFacts, found: &Findings) -> Vec<OpenItem> {
    let begun = facts.welds.iter().any(|weld| weld.stands() && weld.did.on_the_joint().is_some());
    if !begun {
        return Vec::new();
    }
    let stages = stages(&found.worked.cage, &facts.welds);
    let mut open = Vec::new();
    for (at, _) in stages.iter().filter(|(_, stage)| *stage == Stage::RepairWanted) {
        let what = "The inspection wants a repair of this weld";
        let item = OpenItem::missing(what, Waits::Fabricator, Place::Welds(Some(*at))).at(*at);
        open.push(item.sort(Sort::Fails));
    }
    open.extend(facts.welds.iter().filter(|weld| weld.stands()).flat_map(|weld| of_welder(facts, weld)));
    let count = |of: fn(Stage) -> bool| stages.iter().filter(|(_, stage)| of(*stage)).count();
    let item = |what: String| OpenItem::missing(what, Waits::Fabricator, Place::Welds(None));
    let (bare, unseen) = (count(|stage| stage == Stage::NotWelded), count(Stage::to_inspect));
    if bare > 0 {
        open.push(item(format!("{bare} of {} joints and feet have no weld logged", stages.len())));
    }
    if unseen > 0 {
        open.push(item(format!("Inspect what is welded: {unseen} of {} joints and feet", stages.len() - bare)));
    }
    open
}

/// What is open of who welded a joint: a qualification that had ended, and overhead without a coupon first.
fn of_welder(facts: &BuildFacts, weld: &Weld) -> Vec<OpenItem> {
    let Some(run) = weld.did.on_the_joint() else { return Vec::new() };
    let (who, day) = (&run.welder.name, weld.day);
    let item = |what: String| {
        let item = OpenItem::missing(what, Waits::Office, Place::Welds(Some(weld.joint))).at(weld.joint).since(day);
        item.sort(Sort::Fails)
    };
    let ended = run.welder.expires.filter(|last| *last < day);
    let ended = ended.map(|last| item(format!("Welded by {who} on {day}; that qualification was good through {last}")));
    let unpractised = run.overhead() && !practised(&facts.welds, who, day);
    let what = format!("Welded overhead by {who} on {day}, and no practice coupon of {who} is logged by that day");
    ended.into_iter().chain(unpractised.then(|| item(what))).collect()
}

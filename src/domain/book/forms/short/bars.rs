//! The bars that a book asks for, as ticks.

use super::rule::{Source, free_id, under};
use crate::domain::book::forms::editing::{Editing, Pairs};
use crate::domain::book::terms::rule_kinds::{Place, RuleKind};
use crate::domain::words::faults::Fault;
use crate::domain::words::roles::MemberRole;

/// The bars that are ticked, each wanted once, or once on each side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NeededBars {
    /// Which ones.
    pub roles: Vec<MemberRole>,
    /// Where that is from.
    pub source: Source,
}

/// How many bars a tick asks for: a bar beside the car's middle is asked for on the left and on the right.
const fn on_each_side(role: MemberRole) -> bool {
    use MemberRole::{Backstay, DoorBar, LateralHalfHoop, LateralHoop, PillarStrut, RoofBar, SillBar};
    matches!(role, Backstay | DoorBar | LateralHalfHoop | LateralHoop | PillarStrut | RoofBar | SillBar)
}

/// True where a rule asks for a bar and for no more than a tick can say.
fn is_a_tick(typed: &Pairs) -> bool {
    let more = ["either", "needed_if.", "applies_when.", "exempt_with", "count"];
    let role: Option<MemberRole> = under(typed, "role").parse().ok();
    let sides = under(typed, "each_side") == "true";
    role.is_some_and(|role| sides == on_each_side(role))
        && !typed.iter().any(|(name, text)| {
            let counts_one = name == "count" && text.trim() == "1";
            !counts_one && !text.trim().is_empty() && more.iter().any(|more| name.starts_with(more))
        })
}

fn ticks(editing: &Editing) -> Vec<(Place, MemberRole)> {
    let places = editing.rules().into_iter().map(|line| line.place).filter(|place| place.kind == RuleKind::Member);
    let tick = |place: Place| {
        let typed = editing.typed(place).filter(is_a_tick)?;
        Some((place, under(&typed, "role").parse().ok()?))
    };
    places.filter_map(tick).collect()
}

impl NeededBars {
    /// The bars that can be ticked, each with what a tick asks for.
    pub fn offered() -> impl Iterator<Item = (MemberRole, String)> {
        let named = MemberRole::ALL.into_iter().filter(|role| *role != MemberRole::OtherBar);
        named.map(|role| (role, format!("{}{}", role.word(), if on_each_side(role) { ", each side" } else { "" })))
    }

    /// The bars that a text asks for by ticks; none where the text is none that a form can write.
    pub fn of(toml: &str) -> Option<Vec<MemberRole>> {
        Some(ticks(&Editing::of(toml)?).into_iter().map(|tick| tick.1).collect())
    }

    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        self.source.faults()
    }

    /// A text with these bars asked for, and no others by a tick; none where no form can write it.
    pub fn write(&self, toml: &str) -> Option<String> {
        let mut text = toml.to_owned();
        let there = ticks(&Editing::of(toml)?);
        for (place, _) in there.iter().rev().filter(|tick| !self.roles.contains(&tick.1)) {
            text = Editing::of(&text)?.take_out(*place)?;
        }
        for (role, _) in Self::offered().filter(|offered| self.roles.contains(&offered.0)) {
            if there.iter().any(|tick| tick.1 == role) {
                continue;
            }
            let editing = Editing::of(&text)?;
            let sides = on_each_side(role);
            let words = format!("A {} is fitted{}.", role.word(), if sides { " on each side" } else { "" });
            let id = free_id(&editing, &format!("bar-{}", role.word().replace(' ', "-")));
            let mut typed = self.source.of_new(id, words);
            typed.push(("role".to_owned(), role.word().to_owned()));
            if sides {
                typed.push(("each_side".to_owned(), "true".to_owned()));
            }
            text = editing.add(RuleKind::Member, &typed)?.0;
        }
        Some(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::read;

    const DEMO: &str = include_str!("../../../../demo/book.toml");
    const HEAD: &str = "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n";

    fn bars(roles: &[MemberRole]) -> NeededBars {
        let source = Source { clause: "4".to_owned(), sure: "from memory".to_owned() };
        NeededBars { roles: roles.to_vec(), source }
    }

    #[test]
    fn every_tick_is_a_rule_that_reads_and_goes_again() {
        let all: Vec<MemberRole> = NeededBars::offered().map(|offered| offered.0).collect();
        let text = bars(&all).write(HEAD).unwrap_or_default();
        let book = read(&text);
        let asked: Vec<(MemberRole, bool)> =
            book.iter().flat_map(|book| &book.members).map(|needed| (needed.role, needed.each_side)).collect();
        assert_eq!(asked.len(), all.len(), "{book:?}");
        assert!(asked.contains(&(MemberRole::Backstay, true)) && asked.contains(&(MemberRole::MainHoop, false)));
        assert_eq!(NeededBars::of(&text), Some(all.clone()));
        let fewer = bars(&all[1..]).write(&text);
        assert_eq!(fewer.as_deref().and_then(NeededBars::of), Some(all[1..].to_vec()));
        assert_eq!(bars(&all).write(&text), Some(text), "what is ticked already stays byte for byte");
    }

    #[test]
    fn what_a_tick_cannot_say_is_left_alone() {
        let ticked = NeededBars::of(DEMO).unwrap_or_default();
        let count = |toml: &str| read(toml).map(|book| book.members.len()).unwrap_or_default();
        assert!(!ticked.is_empty() && ticked.len() < count(DEMO), "{ticked:?}");
        assert_eq!(bars(&ticked).write(DEMO).as_deref(), Some(DEMO));
        let none = bars(&[]).write(DEMO).unwrap_or_default();
        assert_eq!(count(&none), count(DEMO) - ticked.len());
    }
}

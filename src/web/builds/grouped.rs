//! A build's open things as a reader asks for them: whose, when, which group, which page; the groups short, or a list whole.

use std::collections::HashMap;

use super::lines::{Line, things};
use crate::domain::derived::open_items::{Group, Sort, Waits, When};
use crate::web::paging::{Page, Pages};

/// Lines of a group that stand on the sheet; the rest are a page of their own (own choice: what a glance takes in).
const SHORT: usize = 5;

/// What is asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Filter {
    /// Of whom; everybody's when none.
    who: Option<&'static str>,
    /// When; any time when none.
    when: Option<When>,
}

/// A list of lines whole, a page at a time.
pub(super) struct Whole {
    pub(super) title: &'static str,
    pub(super) lines: Vec<Line>,
    pub(super) pages: Option<Pages>,
}

/// One way to filter, as a link.
pub(super) struct Way {
    pub(super) to: String,
    pub(super) words: String,
    pub(super) here: bool,
}

/// One group, short.
pub(super) struct Short {
    pub(super) name: &'static str,
    pub(super) of_whom: &'static str,
    pub(super) count: usize,
    pub(super) lines: Vec<Line>,
    /// How many more things the group has, and where they all stand.
    pub(super) more: Option<(usize, String)>,
}

/// The open things of a build, grouped, with the filters over them.
pub(super) struct Grouped {
    pub(super) all: usize,
    pub(super) now: usize,
    pub(super) who: Vec<Way>,
    pub(super) when: Vec<Way>,
    pub(super) groups: Vec<Short>,
}

const PEOPLE: [Waits; 4] = [Waits::Fabricator, Waits::Office, Waits::Scrutineer, Waits::Outside];

impl Filter {
    /// As the address says; what it does not say well is not asked for.
    pub(super) fn of(asked: &HashMap<String, String>) -> Self {
        let text = |name: &str| asked.get(name).map(String::as_str).unwrap_or_default();
        Self {
            who: PEOPLE.iter().map(|waits| waits.word()).find(|word| *word == text("who")),
            when: When::ALL.into_iter().find(|when| when.key() == text("when")),
        }
    }

    fn takes(&self, line: &Line) -> bool {
        self.who.is_none_or(|who| line.waits_on == who) && self.when.is_none_or(|when| line.group.when() == when)
    }

    /// Its address below a sheet's, with what is seen of it.
    fn address(&self, base: &str, see: Option<&str>) -> String {
        let pairs = [("who", self.who), ("when", self.when.map(When::key)), ("see", see)];
        let asked: Vec<String> = pairs.into_iter().filter_map(|(at, word)| Some(format!("{at}={}", word?))).collect();
        if asked.is_empty() { base.to_owned() } else { format!("{base}?{}", asked.join("&")) }
    }
}

/// The whole list that an address asks for; none where it asks for the groups, or says no page.
pub(super) fn whole(asked: &HashMap<String, String>, base: &str, lines: Vec<Line>) -> Option<Whole> {
    let see = asked.get("see")?.as_str();
    let group = Group::ALL.into_iter().find(|group| group.key() == see);
    if group.is_none() && see != "all" {
        return None;
    }
    let filter = Filter::of(asked);
    let taken = |line: &Line| filter.takes(line) && group.is_none_or(|group| line.group == group);
    let mut lines: Vec<Line> = lines.into_iter().filter(taken).collect();
    let page = Page::of(asked.get("page").map(String::as_str), lines.len())?;
    let pages = page.describe("Lines", |number| format!("{}&page={number}", filter.address(base, Some(see))));
    lines = lines.drain(page.range()).collect();
    Some(Whole { title: group.map_or("All that is open", Group::name), lines, pages })
}

impl Grouped {
    /// From all lines of a build, what is asked for, and the sheet's address.
    pub(super) fn of(lines: Vec<Line>, filter: Filter, base: &str) -> Self {
        let way = |words: &str, to: Filter, counted: bool| {
            let count = things(lines.iter().filter(|line| to.takes(line)));
            let words = if counted { format!("{words} {count}") } else { words.to_owned() };
            (count, Way { to: to.address(base, None), words, here: to == filter })
        };
        let kept = |(count, way): (usize, Way)| (count > 0 || way.here).then_some(way);
        let mut who = vec![way("everybody", Filter { who: None, ..filter }, false).1];
        let people = PEOPLE.iter().map(|waits| way(waits.word(), Filter { who: Some(waits.word()), ..filter }, true));
        who.extend(people.filter_map(kept));
        let mut when = vec![way("any time", Filter { when: None, ..filter }, false).1];
        let times = When::ALL.into_iter().map(|at| way(at.word(), Filter { when: Some(at), ..filter }, true));
        when.extend(times.filter_map(kept));
        let all = things(&lines);
        let now = things(lines.iter().filter(|line| line.group.when() == When::Now));
        let taken: Vec<Line> = lines.into_iter().filter(|line| filter.takes(line)).collect();
        let groups = short(taken, |group| filter.address(base, Some(group.key())));
        Self { all, now, who, when, groups }
    }
}

/// Lines in their groups, what fails first, so many of each.
pub(super) fn short(lines: Vec<Line>, to: impl Fn(Group) -> String) -> Vec<Short> {
    let mut by_group: Vec<(Group, Vec<Line>)> = Group::ALL.into_iter().map(|group| (group, Vec::new())).collect();
    for line in lines {
        if let Some(entry) = by_group.iter_mut().find(|entry| entry.0 == line.group) {
            entry.1.push(line);
        }
    }
    by_group.retain(|entry| !entry.1.is_empty());
    let one = |(group, mut lines): (Group, Vec<Line>)| {
        lines.sort_by_key(|line| worst_first(line.sort));
        let count = things(&lines);
        lines.truncate(SHORT);
        let left = count - things(&lines);
        let more = (left > 0).then(|| (left, to(group)));
        Short { name: group.name(), of_whom: group.of_whom(), count, lines, more }
    };
    by_group.into_iter().map(one).collect()
}

/// What is over or short stands before what is too close to call, and that before what is only missing.
pub(super) const fn worst_first(sort: Sort) -> u8 {
    match sort {
        Sort::Fails => 0,
        Sort::TooClose => 1,
        Sort::Missing => 2,
    }
}

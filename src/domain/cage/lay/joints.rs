//! Which ends make one joint: those that land on the same carrier within one carrier diameter of each other.

use super::draft::{Bar, Draft, Landing};
use crate::quantity::Length;

/// Ends that meet, by key.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Meeting {
    /// The carrier's key.
    pub(in crate::domain::cage) carrier: String,
    /// Mean of the ends' places along the carrier.
    pub(in crate::domain::cage) along: Length,
    /// The incoming bars' keys and ends, in the order the bars are laid out.
    pub(in crate::domain::cage) incoming: Vec<(String, usize)>,
}

impl Meeting {
    /// The keys under which its number may be kept: one for each end, the first one first.
    pub(in crate::domain::cage) fn keys(&self) -> impl Iterator<Item = String> {
        self.incoming.iter().map(|(member, end)| {
            let end = if *end == 0 { "start" } else { "end" };
            format!("joint/{}+{member}/{end}", self.carrier)
        })
    }

    /// True when a bar runs through here or ends here.
    pub(in crate::domain::cage) fn has(&self, key: &str) -> bool {
        self.carrier == key || self.incoming.iter().any(|end| end.0 == key)
    }
}

/// An end on a carrier: its place among all ends, the bar, the end, along the carrier.
struct Ending<'a> {
    order: usize,
    bar: &'a Bar,
    end: usize,
    along: Length,
}

/// All joints, in the order of their first ends.
pub(in crate::domain::cage) fn meetings(draft: &Draft<'_>) -> Vec<Meeting> {
    let mut found: Vec<(usize, Meeting)> = Vec::new();
    for carrier in &draft.bars {
        let mut endings = endings_on(draft, &carrier.label.key);
        endings.sort_by(|one, other| one.along.mm().total_cmp(&other.along.mm()).then(one.order.cmp(&other.order)));
        let groups = together(&endings, carrier.tube.outside, |ending| ending.along);
        found.extend(groups.into_iter().map(|together| meeting(carrier, together)));
    }
    found.sort_by_key(|entry| entry.0);
    found.into_iter().map(|entry| entry.1).collect()
}

/// Ends that make one joint: of those sorted along a carrier, each group reaches one carrier's diameter from its first.
pub(in crate::domain::cage) fn together<T>(sorted: &[T], outside: Length, along: impl Fn(&T) -> Length) -> Vec<&[T]> {
    let mut groups = Vec::new();
    let mut rest = sorted;
    while let Some(first) = rest.first() {
        let reach = along(first) + outside;
        let (group, others) = rest.split_at(rest.partition_point(|end| along(end) <= reach));
        groups.push(group);
        rest = others;
    }
    groups
}

/// The mean of places along a carrier.
pub(in crate::domain::cage) fn mean(places: impl ExactSizeIterator<Item = Length>) -> Length {
    let count = u32::try_from(places.len()).unwrap_or(u32::MAX).max(1);
    places.sum::<Length>() / f64::from(count)
}

fn endings_on<'a>(draft: &'a Draft<'_>, carrier: &str) -> Vec<Ending<'a>> {
    let all =
        draft.bars.iter().flat_map(|bar| bar.ends.iter().enumerate().map(move |(end, landing)| (bar, end, landing)));
    let on = all.enumerate().filter_map(|(order, (bar, end, landing))| match landing {
        Landing::Onto(place) if place.carrier == carrier => Some(Ending { order, bar, end, along: place.along }),
        _ => None,
    });
    on.collect()
}

fn meeting(carrier: &Bar, together: &[Ending<'_>]) -> (usize, Meeting) {
    let mut ends: Vec<&Ending<'_>> = together.iter().collect();
    ends.sort_by_key(|ending| ending.order);
    let first = ends.first().map_or(0, |ending| ending.order);
    let along = mean(ends.iter().map(|ending| ending.along));
    let incoming = ends.iter().map(|ending| (ending.bar.label.key.clone(), ending.end)).collect();
    (first, Meeting { carrier: carrier.label.key.clone(), along, incoming })
}

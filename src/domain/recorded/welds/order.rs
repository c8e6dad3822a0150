//! The order in which the office wants a cage welded, where it is not the one that is suggested.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};

/// Most joints and feet of an order (own choice: a cage has some sixty).
pub const MOST: usize = 500;

/// An order that was set, or that it is to be as suggested again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WeldOrder {
    /// Counts up in the build with each change, from 1.
    pub version: i64,
    /// What was left then, the first first; none where it is to be as suggested.
    pub joints: Option<Vec<Balloon>>,
    /// When it was set.
    pub at: Timestamp,
    /// Who set it.
    pub by: String,
}

/// A joint or a foot moved one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Move {
    /// Towards the beginning.
    Up,
    /// Towards the end.
    Down,
}

/// The order with one of it moved one place; as it is where it is at that end already, or not in it.
pub fn moved(mut order: Vec<Balloon>, one: Balloon, way: Move) -> Vec<Balloon> {
    let Some(at) = order.iter().position(|joint| *joint == one) else { return order };
    let to = match way {
        Move::Up => at.checked_sub(1),
        Move::Down => Some(at + 1).filter(|to| *to < order.len()),
    };
    if let Some(to) = to {
        order.swap(at, to);
    }
    order
}

/// What is wrong with an order by itself, if anything; the field is `order`.
pub fn faults(order: &[Balloon]) -> Vec<Fault> {
    let fault = |why: String| vec![Fault::new("order", why)];
    if order.len() > MOST {
        return fault(format!("An order has at most {MOST} joints."));
    }
    if let Some(other) = order.iter().find(|one| !matches!(one.kind, Kind::Joint | Kind::Plate)) {
        return fault(format!("{other} is not welded: an order is of joints and feet."));
    }
    let mut seen = std::collections::BTreeSet::new();
    match order.iter().find(|one| !seen.insert(**one)) {
        Some(double) => fault(format!("{double} is in the order twice.")),
        None => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn order(text: &str) -> Vec<Balloon> {
        text.split(' ').map(|one| one.parse().unwrap()).collect()
    }

    #[test]
    fn one_place_at_a_time_and_nothing_is_lost_at_the_ends() {
        for (one, way, then) in [
            ("J2", Move::Up, "J2 J1 P1"),
            ("J2", Move::Down, "J1 P1 J2"),
            ("J1", Move::Up, "J1 J2 P1"),
            ("P1", Move::Down, "J1 J2 P1"),
            ("J9", Move::Up, "J1 J2 P1"),
        ] {
            assert_eq!(moved(order("J1 J2 P1"), one.parse().unwrap(), way), order(then), "{one}");
        }
        assert!(faults(&order("J1 P1")).is_empty());
        for (text, why) in [("J1 J1", "J1 is in the order twice."), ("J1 M1", "M1 is not welded")] {
            assert!(faults(&order(text)).first().unwrap().why.contains(why), "{text}");
        }
    }
}

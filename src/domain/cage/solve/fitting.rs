//! How bars are fitted to each other: in which order, and how an end is cut to all that stands before it.

use std::cmp::Ordering;

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Joint};
use crate::domain::words::ids::Balloon;
use crate::domain::words::wording::listed;
use crate::geometry::{BranchEnd, CentreLine, Cope, CopeFault, Fitted, InTheWay, TubeEnd};
use crate::quantity::Length;

/// The order, in words: each end is coped round what is fitted before it, never the other way (own choice; that the thinner
/// tube is coped is *common practice*).
pub const ORDER_OF_FITTING: &str = "Fit each bar after those it ends on. Of bars that end beside each other the thicker \
tube goes in first, then the lower number; the later one is coped round the earlier.";

/// What an end stands on.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) enum EndsOn {
    /// A plate, or nothing that is a bar.
    OnPlate,
    /// Other bars, by their places in the list: the carrier first.
    Onto {
        carriers: Vec<usize>,
        /// Along the carrier.
        along: Length,
        /// Where the cut counts from.
        node: DVec3,
        /// By how much the wall may stand off what it misses.
        may_miss: Length,
    },
    Free,
}

/// A bar as it is fitted.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Standing<'a> {
    pub(in crate::domain::cage) balloon: Option<Balloon>,
    pub(in crate::domain::cage) outside: Length,
    pub(in crate::domain::cage) line: &'a CentreLine,
    pub(in crate::domain::cage) ends: [EndsOn; 2],
}

impl Standing<'_> {
    fn in_the_way(&self) -> InTheWay<'_> {
        let ends = self.ends.each_ref().map(|end| match end {
            EndsOn::OnPlate => TubeEnd::RunsOn,
            EndsOn::Onto { .. } => TubeEnd::Joined,
            EndsOn::Free => TubeEnd::Square,
        });
        InTheWay { line: self.line, outside: self.outside, ends }
    }

    /// The bars it ends on.
    fn on(&self) -> impl Iterator<Item = usize> {
        self.ends
            .iter()
            .flat_map(|end| match end {
                EndsOn::Onto { carriers, .. } => carriers.as_slice(),
                EndsOn::OnPlate | EndsOn::Free => &[],
            })
            .copied()
    }

    /// Which of two comes first when nothing else decides: the thicker tube, then the lower number.
    fn before(&self, other: &Self) -> Ordering {
        let number = |bar: &Self| bar.balloon.map_or(u32::MAX, |balloon| balloon.number);
        other.outside.mm().total_cmp(&self.outside.mm()).then(number(self).cmp(&number(other)))
    }
}

/// All bars, and when each is fitted.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct Fitting<'a> {
    bars: Vec<Standing<'a>>,
    /// Of each bar its turn.
    turns: Vec<usize>,
}

/// How an end is cut.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::cage) struct EndFitted {
    pub(in crate::domain::cage) fitted: Fitted,
    /// The other bars its cut was looked for on, carriers and those fitted before, by their places in the list.
    pub(in crate::domain::cage) beside: Vec<usize>,
}

impl EndFitted {
    /// The bars besides its carrier that have a part in the cut.
    pub(in crate::domain::cage) fn round(&self) -> impl Iterator<Item = usize> {
        self.fitted.round.iter().filter_map(|at| self.beside.get(*at)).copied()
    }
}

/// Why an end cannot be cut by a template where its bar bends so near that the cut reaches into the bend.
pub(in crate::domain::cage) fn into_its_bend(line: &CentreLine, end: usize, cope: &Cope) -> Option<String> {
    let straights = line.straights();
    let straight = *if end == 0 { straights.first() } else { straights.last() }?;
    let reach = cope.short_point();
    (!line.straight() && reach > straight).then(|| {
        let (reach, straight) = (reach.mm(), straight.mm());
        format!("Its end is cut back {reach:.0} mm, and only {straight:.0} mm before its bend are straight. Move the bend or the end.")
    })
}

impl<'a> Fitting<'a> {
    pub(in crate::domain::cage) fn new(bars: Vec<Standing<'a>>) -> Self {
        let mut turns: Vec<Option<usize>> = vec![None; bars.len()];
        for turn in 0..bars.len() {
            let waiting = || bars.iter().zip(&turns).enumerate().filter(|(_, (_, turn))| turn.is_none());
            let fitted = |at: usize| turns.get(at).is_some_and(Option::is_some);
            let ready = waiting().filter(|(at, (bar, _))| bar.on().all(|on| on == *at || fitted(on)));
            let first =
                |one: &(usize, (&Standing<'_>, _)), other: &(usize, (&Standing<'_>, _))| one.1.0.before(other.1.0);
            // Bars that end on each other in a round are begun at the one that would come first.
            let next = ready.min_by(first).or_else(|| waiting().min_by(first)).map(|(at, _)| at);
            if let Some(given) = next.and_then(|at| turns.get_mut(at)) {
                *given = Some(turn);
            }
        }
        Self { bars, turns: turns.into_iter().map(Option::unwrap_or_default).collect() }
    }

    /// The bars' numbers in the order of fitting.
    pub(in crate::domain::cage) fn order(&self) -> Vec<Balloon> {
        let mut order: Vec<(usize, Balloon)> =
            self.turns.iter().zip(&self.bars).filter_map(|(turn, bar)| Some((*turn, bar.balloon?))).collect();
        order.sort_unstable();
        order.into_iter().map(|(_, balloon)| balloon).collect()
    }

    /// The cut of a bar's end that stands on others; none of one that does not.
    pub(in crate::domain::cage) fn cut(&self, at: usize, end: usize) -> Option<Result<EndFitted, CopeFault>> {
        let bar = self.bars.get(at)?;
        let EndsOn::Onto { carriers, along, node, may_miss } = bar.ends.get(end)? else { return None };
        let carrier = self.bars.get(*carriers.first()?)?;
        let branch = BranchEnd {
            node: *node,
            into: bar.line.into_bar(end),
            outside: bar.outside,
            length: bar.line.developed_length(),
            may_miss: *may_miss,
        };
        let mut beside: Vec<usize> = carriers.iter().copied().skip(1).collect();
        beside.extend((0..self.bars.len()).filter(|other| {
            *other != at
                && !carriers.contains(other)
                && self.is_before(*other, at)
                && self.stands_beside(*other, at, end)
        }));
        let others: Vec<InTheWay<'_>> =
            beside.iter().filter_map(|other| self.bars.get(*other)).map(Standing::in_the_way).collect();
        let fitted = branch.fitted(&carrier.in_the_way(), *along, &others);
        Some(fitted.map(|fitted| EndFitted { fitted, beside }))
    }

    fn is_before(&self, one: usize, other: usize) -> bool {
        self.turns.get(one) < self.turns.get(other)
    }

    /// Whether another bar belongs to the place where this end stands: it ends there on the same carrier, within that
    /// carrier's diameter, or the carrier itself ends on it so near that this end reaches it.
    fn stands_beside(&self, other: usize, at: usize, end: usize) -> bool {
        let (Some(bar), Some(beside)) = (self.bars.get(at), self.bars.get(other)) else { return false };
        let Some(EndsOn::Onto { carriers, along, node, .. }) = bar.ends.get(end) else { return false };
        let Some(carrier) = carriers.first().and_then(|carrier| self.bars.get(*carrier)) else { return false };
        let same = beside.ends.iter().any(|its| match its {
            EndsOn::Onto { carriers: on, along: there, .. } => {
                on.first() == carriers.first() && (*there - *along).abs() <= carrier.outside
            }
            EndsOn::OnPlate | EndsOn::Free => false,
        });
        let reached = || beside.line.nearest(*node).2 < (beside.outside + bar.outside) / 2.0;
        same || (carrier.on().any(|on| on == other) && reached())
    }
}

impl Cage {
    /// The bars that end at a joint in the order of fitting, each with those that it is coped round.
    pub fn fitted_at(&self, joint: &Joint) -> Vec<(Balloon, &[Balloon])> {
        let turn = |bar: &Balloon| self.order.iter().position(|fitted| fitted == bar);
        let mut bars: Vec<(Balloon, &[Balloon])> = joint
            .incoming
            .iter()
            .map(|(bar, end)| {
                let round = self.member(*bar).and_then(|member| member.round.get(*end));
                (*bar, round.map_or(&[][..], Vec::as_slice))
            })
            .collect();
        bars.sort_by_key(|(bar, _)| turn(bar));
        bars
    }

    /// The same in words, `M2, M5 round M2`.
    pub fn describe_fitted_at(&self, joint: &Joint) -> String {
        let bars = self.fitted_at(joint).into_iter().map(|(bar, round)| {
            if round.is_empty() { bar.to_string() } else { format!("{bar} round {}", listed(round)) }
        });
        bars.collect::<Vec<_>>().join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::words::ids::Kind;

    fn line(from: [f64; 3], to: [f64; 3]) -> CentreLine {
        CentreLine::new(vec![DVec3::from_array(from), DVec3::from_array(to)], Length::default()).unwrap()
    }

    fn bar(line: &CentreLine, number: u32, outside: f64, onto: Option<(usize, f64)>) -> Standing<'_> {
        let first = onto.map_or(EndsOn::OnPlate, |(carrier, along)| EndsOn::Onto {
            carriers: vec![carrier],
            along: Length::from_mm(along),
            node: line.points()[0],
            may_miss: Length::from_mm(0.01),
        });
        let balloon = Some(Balloon::new(Kind::Member, number));
        Standing { balloon, outside: Length::from_mm(outside), line, ends: [first, EndsOn::OnPlate] }
    }

    fn order(fitting: &Fitting<'_>) -> Vec<u32> {
        fitting.order().into_iter().map(|balloon| balloon.number).collect()
    }

    /// Two bars end at one place of a third, 30 degrees apart: the thicker is fitted first whatever its number, of two
    /// alike the lower number; the later is cut round the earlier, and never both round each other.
    #[test]
    fn the_later_bar_is_coped_round_the_earlier() {
        let sill = line([-500.0, 0.0, 0.0], [500.0, 0.0, 0.0]);
        let up = line([0.0, 0.0, 0.0], [0.0, 0.0, 600.0]);
        let leaning = line([0.0, 0.0, 0.0], [300.0, 0.0, 520.0]);
        let fitted = |thick: f64, numbers: [u32; 2]| {
            let bars = vec![
                bar(&sill, 9, 50.8, None),
                bar(&up, numbers[0], 38.1, Some((0, 500.0))),
                bar(&leaning, numbers[1], thick, Some((0, 500.0))),
            ];
            let fitting = Fitting::new(bars);
            let round = |at: usize| fitting.cut(at, 0).unwrap().unwrap().round().collect::<Vec<_>>();
            (order(&fitting), round(1), round(2))
        };
        assert_eq!(fitted(38.1, [2, 3]), (vec![9, 2, 3], vec![], vec![1]));
        assert_eq!(fitted(38.1, [3, 2]), (vec![9, 2, 3], vec![2], vec![]));
        assert_eq!(fitted(44.45, [2, 3]), (vec![9, 3, 2], vec![2], vec![]));
    }

    /// A bar comes after what it ends on, though that has the higher number and the thinner tube; of a round of three none
    /// is left out.
    #[test]
    fn every_bar_comes_after_its_carrier() {
        let lines = [0.0, 1.0, 2.0].map(|at| line([at * 300.0, 0.0, 0.0], [at * 300.0, 0.0, 600.0]));
        let [one, two, three] = &lines;
        let chain =
            vec![bar(one, 1, 44.45, Some((1, 0.0))), bar(two, 2, 44.45, Some((2, 0.0))), bar(three, 3, 30.0, None)];
        assert_eq!(order(&Fitting::new(chain)), [3, 2, 1]);
        let ring = |on: [usize; 3]| {
            let bars = lines.iter().zip([3, 1, 2]).zip(on);
            order(&Fitting::new(bars.map(|((line, number), on)| bar(line, number, 38.1, Some((on, 0.0)))).collect()))
        };
        // Number 1 would come first; then what ends on it, and what ends on that.
        assert_eq!(ring([1, 2, 0]), [1, 3, 2]);
    }
}

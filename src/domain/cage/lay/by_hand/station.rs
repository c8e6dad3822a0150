//! Where on a bar: the way a fabricator measures it, turned into so far along the bar's centre line.

use crate::domain::cage::lay::draft::Landing;
use crate::domain::cage::lay::stations::first_passing;
use crate::domain::cage::parts::{Cage, End, Member};
use crate::domain::cage::record::by_hand::At;
use crate::domain::cage::record::fittings::Toward;
use crate::domain::cage::record::key_words::words;
use crate::geometry::CentreLine;
use crate::quantity::Length;

/// A bar that something is measured on.
pub(in crate::domain::cage) struct Carrier<'c> {
    key: &'c str,
    line: &'c CentreLine,
    /// Whether its first and its last end stand on plates.
    on_plate: [bool; 2],
}

impl<'c> Carrier<'c> {
    /// A bar that is being laid out.
    pub(in crate::domain::cage) fn laid(key: &'c str, line: &'c CentreLine, ends: &[Landing; 2]) -> Self {
        Self { key, line, on_plate: ends.each_ref().map(|end| matches!(end, Landing::Plate(..))) }
    }

    /// A bar of the worked out cage.
    pub(in crate::domain::cage) fn of(member: &'c Member) -> Self {
        let on_plate = member.ends.each_ref().map(|end| matches!(end, End::OnPlate(_)));
        Self { key: &member.key, line: &member.line, on_plate }
    }
}

impl At {
    /// So far along the bar; `other` finds another bar's line by its key. It may lie off the bar's ends.
    pub(in crate::domain::cage) fn along<'o>(
        &self,
        on: &Carrier<'_>,
        other: impl FnOnce(&str) -> Result<&'o CentreLine, String>,
    ) -> Result<Length, String> {
        let (line, name, whole) = (on.line, words(on.key), on.line.developed_length());
        let from = |end: Toward, by: Length| if end == Toward::Start { by } else { whole - by };
        Ok(match self {
            Self::Middle => whole / 2.0,
            Self::FromEnd { end, by } => from(*end, by.value),
            Self::OverPlate { end, by } => {
                let [first, last] = on.on_plate;
                let (is_foot, foot) = match end {
                    Toward::Start => (first, line.points().first()),
                    Toward::End => (last, line.points().last()),
                };
                if !is_foot {
                    return Err(format!("The {name} does not stand on a plate there."));
                }
                let height = foot.map_or(0.0, |foot| foot.z) + by.value.mm();
                first_passing(line, *end, |point| point.z - height)
                    .ok_or_else(|| format!("So high over its plate the {name} does not reach."))?
            }
            Self::Bend { bend, past } => {
                let bend = usize::from(*bend).checked_sub(1).and_then(|at| line.bends().get(at));
                let bend = bend.ok_or_else(|| format!("The {name} has no such bend."))?;
                bend.start + bend.arc() / 2.0 + past.as_ref().map_or(Length::default(), |past| past.value)
            }
            Self::Passing { axis, at, from } => first_passing(line, *from, |point| axis.of(point) - at.value.mm())
                .ok_or_else(|| format!("The {name} does not pass there."))?,
            Self::Meets { bar, from } => meeting(line, other(bar)?, *from)?,
        })
    }
}

impl Cage {
    /// The bar with this key and so far along it, or why there is no such place.
    pub(in crate::domain::cage) fn station(&self, on: &str, at: &At) -> Result<(&Member, Length), String> {
        let bar = |key: &str| {
            let gone = || format!("The cage has no {} that is laid out.", words(key));
            self.member_called(key).ok_or_else(gone)
        };
        let member = bar(on)?;
        let along = at.along(&Carrier::of(member), |key| bar(key).map(|other| &other.line))?;
        if along < Length::default() || along > member.developed {
            return Err(format!("That is off the end of the {}.", words(on)));
        }
        Ok((member, along))
    }
}

/// Two bars meet where an end of one comes this near to the other's centre line (own choice: about half a tube).
const MEETS: Length = Length::from_mm(25.0);

/// Along a line, where another bar comes nearest: at an end of either, since bars that cross end on each other. Where
/// they meet at several places, the first that is seen from this end.
fn meeting(line: &CentreLine, other: &CentreLine, from: Option<Toward>) -> Result<Length, String> {
    let theirs = other.points().first().into_iter().chain(other.points().last()).map(|end| {
        let (along, _, off) = line.nearest(*end);
        (along, off)
    });
    let own = line.points().first().into_iter().chain(line.points().last()).map(|end| {
        let off = other.nearest(*end).2;
        (line.nearest(*end).0, off)
    });
    let all: Vec<(Length, Length)> = theirs.chain(own).collect();
    let by_place = |one: &&(Length, Length), next: &&(Length, Length)| one.0.mm().total_cmp(&next.0.mm());
    let met = all.iter().filter(|(_, off)| *off <= MEETS);
    let seen = match from {
        None => None,
        Some(Toward::Start) => met.min_by(by_place),
        Some(Toward::End) => met.max_by(by_place),
    };
    let nearest = seen.or_else(|| all.iter().min_by(|one, next| one.1.mm().total_cmp(&next.1.mm())));
    nearest.map(|(along, _)| *along).ok_or_else(|| "These two bars have no points.".to_owned())
}

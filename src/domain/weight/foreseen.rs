//! The finished weight foreseen: what was weighed, what still comes out and goes in, and the cage itself.

use std::f64::consts::TAU;

use super::carried::{Listed, Spread, Thing, Way};
use super::weigh_in::WeighIn;
use crate::domain::book::{ClassAnswer, ClassTubes, NoClass, RuleBook};
use crate::domain::cage::solve;
use crate::domain::cage::{Cage, CageRecord};
use crate::quantity::{Mass, Show as _, Units};

/// How far the model's cage may be off what stands in the car: a share of its mass, within which it lies anywhere alike.
/// A wall of .120 in may be .004 in thinner, 3 % (tolerance of drawn-over-mandrel tube after ASTM A513, quoted
/// second-hand); weld metal and fitting add the rest (own choice).
pub const CAGE_OFF: f64 = 0.05;

/// Whether a listed thing is still to be added to what the scale showed, or taken off it. A finished car that was weighed
/// with its cage in stood there with all that was listed before: the weighing has it, and only what is listed after counts.
pub fn still_counts(listed: &Listed, newest: &WeighIn) -> bool {
    !(newest.reading.cage_in && listed.before(newest.number))
}

/// What the cage adds to the weighed car.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CagePart {
    /// It stood in the car on the scale: nothing.
    Weighed,
    /// Its bars, gussets and plates by the model.
    Model(Mass),
    /// No bar is laid out yet: how much is not known, and the foreseen weight lacks it.
    NotLaidOut,
}

impl CagePart {
    const fn mass(self) -> Mass {
        match self {
            Self::Model(mass) => mass,
            Self::Weighed | Self::NotLaidOut => Mass::from_kg(0.0),
        }
    }
}

/// How the finished car stands to the class it was weighed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outlook {
    /// It stays in the class, by more than the doubt.
    Stays,
    /// It is on the same side of the edge by less than the doubt.
    TooClose,
    /// It is in another class, or in none.
    Crosses,
    /// No class was given to the weighed car, so there is nothing to stay in.
    NoClass,
}

/// What follows where the finished car is in another class: the cage itself gets heavier.
#[derive(Debug, Clone, PartialEq)]
pub struct Then {
    /// The class's tubes.
    pub tubes: ClassTubes,
    /// The same cage made of the first of them; none while it is not laid out, or stood on the scale.
    pub cage: Option<Mass>,
    /// The finished weight with that cage.
    pub finished: Mass,
}

/// The finished weight foreseen, and what follows from it. An estimate: only the finished car on a scale decides.
#[derive(Debug, Clone, PartialEq)]
pub struct Foreseen {
    /// What the car weighed.
    pub weighed: Mass,
    /// One standard deviation of that, by the scale.
    pub weighed_doubt: Mass,
    /// All that goes in yet: what a finished car stood on the scale with is not among it.
    pub goes_in: Mass,
    /// All that comes out yet.
    pub comes_out: Mass,
    /// How many things have no plus-minus: they are taken as exact.
    pub unspread: usize,
    /// What the cage adds.
    pub cage: CagePart,
    /// The finished car.
    pub finished: Mass,
    /// One standard deviation of that.
    pub doubt: Mass,
    /// The class of the weighed car; none without a book.
    pub now: Option<Result<ClassAnswer, NoClass>>,
    /// The class of the finished car; none without a book.
    pub then: Option<Result<ClassAnswer, NoClass>>,
    /// How the two stand to each other.
    pub outlook: Outlook,
    /// The chance that the finished car is not in the class of the weighed one, 0 to 1, by a normal distribution
    /// (JCGM 106 section 7); none where the weighed car has no class.
    pub chance: Option<f64>,
    /// What another class would ask for; none while the class stays.
    pub other: Option<Then>,
}

impl Foreseen {
    /// From the newest weigh-in, the list, and the cage as it is worked out; `rules` where the build has a book.
    pub fn of(
        newest: &WeighIn,
        listed: &[Listed],
        rules: Option<&RuleBook>,
        (record, cage): (&CageRecord, &Cage),
    ) -> Self {
        let reading = &newest.reading;
        let (weighed, weighed_doubt) = (reading.total(), reading.doubt());
        let things = || listed.iter().filter(|listed| still_counts(listed, newest)).map(|listed| &listed.thing);
        let sum = |way| things().filter(|thing| thing.way == way).map(|thing| thing.mass.value).sum::<Mass>();
        let cage = match (reading.cage_in, cage.members.is_empty()) {
            (true, _) => CagePart::Weighed,
            (false, true) => CagePart::NotLaidOut,
            (false, false) => CagePart::Model(cage.mass()),
        };
        let before = weighed + things().map(Thing::signed).sum::<Mass>();
        let finished = before + cage.mass();
        let spreads = things().filter_map(|thing| thing.spread.as_ref()).map(Spread::deviation);
        let off = cage.mass() * CAGE_OFF / 3.0_f64.sqrt();
        let doubt = in_quadrature(spreads.chain([weighed_doubt, off]));
        let class = |mass, doubt| rules.map(|rules| rules.class(mass, doubt, &reading.conditions));
        let (now, then) = (class(weighed, weighed_doubt), class(finished, doubt));
        let held = now.as_ref().and_then(|now| now.as_ref().ok());
        let outlook = outlook(held, then.as_ref());
        let bounds = held.zip(rules).and_then(|(now, rules)| rules.bounds(&now.rule_id));
        let chance = bounds.map(|bounds| 1.0 - chance_between(finished, doubt, bounds));
        let answer = then.as_ref().and_then(|then| then.as_ref().ok());
        let other = answer.filter(|_| outlook == Outlook::Crosses).map(|answer| {
            let tubes = answer.tubes.first();
            let remade = tubes.filter(|_| matches!(cage, CagePart::Model(_)));
            let remade = remade.map(|tubes| solve(record, &tubes).mass());
            Then { tubes: answer.tubes.clone(), cage: remade, finished: before + remade.unwrap_or_default() }
        });
        Self {
            weighed,
            weighed_doubt,
            goes_in: sum(Way::In),
            comes_out: sum(Way::Out),
            unspread: things().filter(|thing| thing.spread.is_none()).count(),
            cage,
            finished,
            doubt,
            now,
            then,
            outlook,
            chance,
            other,
        }
    }

    /// Whether the foreseen weight is more than the weighed one with a doubt: something is listed, or the cage is known.
    pub fn tells(&self) -> bool {
        matches!(self.cage, CagePart::Model(_)) || self.goes_in + self.comes_out > Mass::default()
    }
}

impl Foreseen {
    /// The finished weight, and its two standard deviations with the unit of both: `2,641`, `± 14 lb`.
    pub fn figures(&self, units: Units) -> (String, String) {
        self.finished.show_with_doubt(self.doubt * 2.0, units)
    }

    /// Both in one: `2,641 ± 14 lb`.
    pub fn figure(&self, units: Units) -> String {
        let (finished, doubt) = self.figures(units);
        format!("{finished} {doubt}")
    }

    /// How it stands to the class, in a sentence; none where there is no class to stay in, or nothing to tell.
    pub fn describe(&self, units: Units) -> Option<String> {
        let Some(Ok(now)) = &self.now else { return None };
        if !self.tells() {
            return None;
        }
        let figure = self.figure(units);
        let missing = if self.cage == CagePart::NotLaidOut { ", the cage itself not counted" } else { "" };
        let edge = |answer: &ClassAnswer| answer.edge.map(|edge| edge.abs().show(units)).unwrap_or_default();
        Some(match (self.outlook, &self.then) {
            (Outlook::Crosses, Some(Ok(then))) => format!(
                "Predicted to finish at {figure}{missing}: in the class “{}”, {} over the edge of “{}” that it was weighed in",
                then.class,
                edge(then),
                now.class
            ),
            (Outlook::Crosses, _) => {
                format!(
                    "Predicted to finish at {figure}{missing}: outside the class “{}”, in no class of the book",
                    now.class
                )
            }
            (Outlook::TooClose, Some(Ok(then))) => format!(
                "Predicted to finish at {figure}{missing}: {} inside the edge of the class “{}”, which is less than the doubt",
                edge(then),
                now.class
            ),
            (_, Some(Ok(then))) if then.edge.is_some() => format!(
                "Predicted to finish at {figure}{missing}: {} inside the edge of the class “{}”",
                edge(then),
                now.class
            ),
            _ => format!("Predicted to finish at {figure}{missing}: in the class “{}”", now.class),
        })
    }

    /// The chance of finishing outside the class, in words; none where there is no class to stay in.
    pub fn describe_chance(&self) -> Option<String> {
        let percent = self.chance? * 100.0;
        Some(match percent {
            low if low < 1.0 => "less than 1 %".to_owned(),
            high if high > 99.0 => "more than 99 %".to_owned(),
            between => format!("about {between:.0} %"),
        })
    }
}

/// Independent doubts together (GUM 5.1.2): the root of the sum of their squares.
fn in_quadrature(doubts: impl Iterator<Item = Mass>) -> Mass {
    Mass::from_kg(doubts.map(|doubt| doubt.kg().powi(2)).sum::<f64>().sqrt())
}

fn outlook(now: Option<&ClassAnswer>, then: Option<&Result<ClassAnswer, NoClass>>) -> Outlook {
    match (now, then) {
        (None, _) | (_, None) => Outlook::NoClass,
        (Some(now), Some(Ok(then))) if then.rule_id != now.rule_id => Outlook::Crosses,
        (Some(_), Some(Err(_))) => Outlook::Crosses,
        (Some(_), Some(Ok(then))) if then.too_close => Outlook::TooClose,
        _ => Outlook::Stays,
    }
}

/// The chance that a mass with this doubt lies between two bounds, either of which may be missing.
fn chance_between(mass: Mass, doubt: Mass, (over, upto): (Option<Mass>, Option<Mass>)) -> f64 {
    let below = |edge: Mass| {
        if doubt > Mass::default() { normal((edge - mass) / doubt) } else { f64::from(u8::from(mass < edge)) }
    };
    (upto.map_or(1.0, below) - over.map_or(0.0, below)).clamp(0.0, 1.0)
}

/// The normal distribution's Φ, by the series about its middle (Abramowitz and Stegun 26.2.11); past eight standard
/// deviations nothing is left to tell.
pub fn normal(z: f64) -> f64 {
    if !(-8.0..=8.0).contains(&z) {
        return f64::from(u8::from(z > 0.0));
    }
    let (mut sum, mut term, mut odd) = (z, z, 3.0);
    while term.abs() > sum.abs() * f64::EPSILON / 4.0 {
        term *= z * z / odd;
        sum += term;
        odd += 2.0;
    }
    (0.5 + sum * (-z * z / 2.0).exp() / TAU.sqrt()).clamp(0.0, 1.0)
}

//! The finished car on the scale beside what was foreseen: how far apart, what may explain it, and which class it is now.

use super::worked::Worked;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::steel::tube::TubeSize;
use crate::domain::weight::carried::{Thing, Way};
use crate::domain::weight::forecast::Forecast;
use crate::domain::weight::weigh_in::WeighIn;
use crate::domain::words::ids::Balloon;
use crate::quantity::{Mass, Show as _, Units};

/// A figure that lies within so many standard deviations fits (JCGM 106, as everywhere here).
const FITS: f64 = 2.0;
/// A cage that is off its model by more than this share is not offered as an explanation (own choice).
const CAGE_OFF_MOST: f64 = 0.25;
/// Nor is a mass without a plus-minus that would be off by more than this share of itself (own choice).
const THING_OFF_MOST: f64 = 0.5;
/// So many explanations are told at most.
const TOLD: usize = 6;

/// What may explain a difference.
#[derive(Debug, Clone, PartialEq)]
pub enum Explains {
    /// The thing was not put in, or not taken out: then so much is left unexplained.
    NotDone(Thing, Mass),
    /// The thing had no plus-minus and would weigh so much instead.
    Weighs(Thing, Mass),
    /// The cage would weigh so much instead of what the model says.
    Cage(Mass, Mass),
}

impl Explains {
    /// In a sentence.
    pub fn describe(&self, units: Units) -> String {
        match self {
            Self::NotDone(thing, left) => {
                let how = if thing.way == Way::In { "is not in the car yet" } else { "is still in the car" };
                let left = left.abs().show(units);
                format!("If {} ({}) {how}, all but {left} is explained", thing.name, thing.mass.text)
            }
            Self::Weighs(thing, would) => {
                let would = would.show(units);
                format!("{} was taken as {} exactly; it would have to weigh {would}", thing.name, thing.mass.text)
            }
            Self::Cage(model, would) => {
                let percent = (*would / *model - 1.0) * 100.0;
                let (model, would) = (model.show(units), would.show(units));
                format!("The cage would have to weigh {would} instead of the model’s {model} ({percent:+.0} %)")
            }
        }
    }
}

/// What the class of the finished car asks of some bars.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The tube they are cut from; none when they are not cut.
    pub cut: Option<TubeSize>,
    /// What the class asks for, in words.
    pub wanted: String,
    /// The word on it.
    pub word: Word,
    /// The bars.
    pub bars: Vec<Balloon>,
}

impl Effect {
    /// The bars' numbers.
    pub fn named(&self) -> String {
        self.bars.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
    }

    /// In a sentence without its bars.
    pub fn describe(&self) -> String {
        let have = self.cut.map_or_else(|| "not cut yet".to_owned(), |cut| format!("cut from {cut}"));
        let does = match (self.cut, self.word) {
            (None, _) => "to be cut from",
            (_, Word::Meets) => "which does for",
            (_, Word::TooClose) => "too close to call against",
            _ => "short of",
        };
        format!("{have}, {does} {}", self.wanted)
    }
}

/// The finished car beside its prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What was foreseen.
    pub forecast: Forecast,
    /// The number of the weigh-in of the finished car.
    pub number: u32,
    /// What it weighs.
    pub weighed: Mass,
    /// One standard deviation of that.
    pub weighed_doubt: Mass,
    /// How much more it weighs than foreseen.
    pub difference: Mass,
    /// One standard deviation of that: both doubts together (GUM 5.1.2).
    pub doubt: Mass,
    /// What may explain it, the likeliest first; empty where it fits.
    pub explains: Vec<Explains>,
    /// The conditions that were ticked at one weighing alone, and that weigh-in's number.
    pub ticked_once: Vec<(String, u32)>,
    /// The class that its tube was chosen by and the one it is in now, where they differ.
    pub changed: Option<(String, String)>,
    /// What that does to the bars.
    pub effects: Vec<Effect>,
}

impl Compared {
    /// From what is recorded and what follows; none before the finished car was weighed, or when nothing was foreseen.
    pub fn of(facts: &BuildFacts, worked: &Worked) -> Option<Self> {
        let newest = facts.weigh_ins.first().filter(|newest| newest.reading.cage_in)?;
        let forecast = facts.forecasts.iter().rfind(|forecast| forecast.weigh_in <= newest.number)?.clone();
        let (weighed, weighed_doubt) = (newest.reading.total(), newest.reading.doubt());
        let difference = weighed - forecast.finished;
        let doubt = Mass::from_kg(forecast.doubt.kg().hypot(weighed_doubt.kg()));
        let now = worked.class.as_ref().and_then(|class| class.as_ref().ok());
        let changed = forecast.class.as_ref().zip(now).filter(|([rule, _], now)| *rule != now.rule_id);
        let changed = changed.map(|([_, was], now)| (was.clone(), now.class.clone()));
        let effects = if changed.is_some() { effects(facts, worked) } else { Vec::new() };
        Some(Self {
            explains: explains(&forecast, difference, doubt),
            ticked_once: ticked_once(&forecast, newest, worked),
            number: newest.number,
            forecast,
            weighed,
            weighed_doubt,
            difference,
            doubt,
            changed,
            effects,
        })
    }

    /// Whether the two are apart by no more than their doubt.
    pub fn fits(&self) -> bool {
        self.difference.abs() <= self.doubt * FITS
    }

    /// How far apart they are, in a sentence.
    pub fn describe(&self, units: Units) -> String {
        let (apart, doubt) = (self.difference.abs().show(units), (self.doubt * FITS).show(units));
        let foreseen = format!("{} ± {}", self.forecast.finished.show(units), (self.forecast.doubt * FITS).show(units));
        let more = if self.difference < Mass::default() { "less" } else { "more" };
        let fits = if self.fits() { "within the doubt of both" } else { "more than the doubt of both" };
        format!(
            "W{} weighs {apart} {more} than the {foreseen} predicted from W{}: {fits}, ± {doubt}",
            self.number, self.forecast.before
        )
    }

    /// What the class is now, in a sentence; none where it is as before.
    pub fn describe_class(&self) -> Option<String> {
        let (was, now) = self.changed.as_ref()?;
        let short: usize = self
            .effects
            .iter()
            .filter(|effect| effect.word.fails() && effect.cut.is_some())
            .map(|effect| effect.bars.len())
            .sum();
        let bars = match short {
            0 => "no bar that is cut falls short of it".to_owned(),
            1 => "1 bar that is cut falls short of it".to_owned(),
            many => format!("{many} bars that are cut fall short of it"),
        };
        Some(format!("The finished car is in class “{now}”, its tube was chosen by class “{was}”: {bars}"))
    }
}

fn explains(forecast: &Forecast, difference: Mass, doubt: Mass) -> Vec<Explains> {
    let reach = doubt * FITS;
    if difference.abs() <= reach {
        return Vec::new();
    }
    let left = |thing: &Thing| match thing.way {
        Way::In => difference + thing.mass.value,
        Way::Out => difference - thing.mass.value,
    };
    let mut undone: Vec<(Mass, &Thing)> = forecast.things.iter().map(|thing| (left(thing).abs(), thing)).collect();
    undone.retain(|(left, _)| *left <= reach);
    undone.sort_by(|one, two| one.0.kg().total_cmp(&two.0.kg()));
    let undone = undone.into_iter().map(|(left, thing)| Explains::NotDone(thing.clone(), left));
    let cage = forecast.cage.filter(|cage| difference.abs() <= *cage * CAGE_OFF_MOST);
    let cage = cage.map(|cage| Explains::Cage(cage, cage + difference));
    let unsure = forecast.things.iter().filter(|thing| thing.spread.is_none());
    let mut unsure: Vec<&Thing> =
        unsure.filter(|thing| difference.abs() <= thing.mass.value * THING_OFF_MOST).collect();
    unsure.sort_by(|one, two| two.mass.value.kg().total_cmp(&one.mass.value.kg()));
    let weighs = unsure.into_iter().map(|thing| {
        let would = if thing.way == Way::In { thing.mass.value + difference } else { thing.mass.value - difference };
        Explains::Weighs(thing.clone(), would)
    });
    undone.chain(cage).chain(weighs).take(TOLD).collect()
}

/// The conditions ticked at one of the two weighings, in the book's words.
fn ticked_once(forecast: &Forecast, newest: &WeighIn, worked: &Worked) -> Vec<(String, u32)> {
    let now = &newest.reading.conditions;
    let words = |key: &String| {
        let conditions = worked.rules.iter().flat_map(|rules| &rules.weight).flat_map(|weight| &weight.conditions);
        conditions.filter(|condition| condition.key == *key).map(|condition| condition.words.clone()).next()
    };
    let describe = |key: &String, at| (words(key).unwrap_or_else(|| key.clone()), at);
    let gone = forecast.conditions.iter().filter(|key| !now.contains(key)).map(|key| describe(key, forecast.before));
    let new = now.iter().filter(|key| !forecast.conditions.contains(key)).map(|key| describe(key, newest.number));
    gone.chain(new).collect()
}

/// What the class asks of every bar, those alike together.
fn effects(facts: &BuildFacts, worked: &Worked) -> Vec<Effect> {
    let Some(Ok(class)) = &worked.class else { return Vec::new() };
    let mut effects: Vec<Effect> = Vec::new();
    for verdict in worked.verdicts.iter().filter(|verdict| verdict.rule_id == class.rule_id) {
        let Some(bar) = verdict.of else { continue };
        let cut = facts.stick_of(bar).map(|stick| stick.size.value);
        let wanted = verdict.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default();
        let word = verdict.state();
        match effects.iter_mut().find(|known| known.cut == cut && known.wanted == wanted && known.word == word) {
            Some(known) => known.bars.push(bar),
            None => effects.push(Effect { cut, wanted, word, bars: vec![bar] }),
        }
    }
    // Those that fall short stand first.
    effects.sort_by_key(|effect| (!effect.word.fails(), effect.cut.is_none()));
    effects
}

//! Weigh-in: four pads, what was ticked, the shares, and the doubt of the scale.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::scale_class::{Looked, ScaleClass};
use super::scale_paper::Paper;
use super::shares::Shared;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::WeighInId;
use crate::domain::words::limits;
use crate::quantity::{Mass, Show as _, Typed, Units};

/// One weighing of the car.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WeighIn {
    /// The store's name for it.
    pub id: WeighInId,
    /// W1, W2 … in the build.
    pub number: u32,
    /// What was read and ticked.
    pub reading: Reading,
    /// The day it was done, in the shop's zone.
    pub day: Date,
    /// Who did it.
    pub by: String,
}

/// What the scale showed and under which conditions.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// What the scale showed.
    pub loads: Loads,
    /// The step of the scale's display.
    pub resolution: Typed<Mass>,
    /// The conditions that were ticked, by the book's own key.
    pub conditions: Vec<String>,
    /// Whether the cage stood in the car already, so that its mass is in the figures.
    pub cage_in: bool,
    /// Which scale it was, who checked it and when, its certificate; empty when nobody said.
    pub scale: String,
    /// The class or certificate that the doubt goes by, beside the display's step; none where it is not known.
    #[serde(default)]
    pub paper: Option<Paper>,
    /// The totals of further weighings, rolled off and on between; the mean counts.
    #[serde(default)]
    pub again: Vec<Typed<Mass>>,
    /// How the car stood.
    #[serde(default)]
    pub stood: Stood,
    /// What else there is to say.
    pub note: String,
}

/// How the car stood on the scale, in people's words; empty where nobody said.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stood {
    /// Who sat in it, or what stood in for them.
    pub aboard: String,
    /// Its hub or ride heights.
    pub heights: String,
}

/// The car on four pads, or as a whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Loads {
    /// A pad under each wheel.
    Pads(Pads),
    /// The total alone, by a weighbridge or two axles: no share of a wheel is known.
    Whole(Typed<Mass>),
}

impl Loads {
    /// The whole car.
    pub fn total(&self) -> Mass {
        match self {
            Self::Pads(pads) => pads.total(),
            Self::Whole(total) => total.value,
        }
    }

    /// The four pads; none when the car was weighed as a whole.
    pub const fn pads(&self) -> Option<&Pads> {
        match self {
            Self::Pads(pads) => Some(pads),
            Self::Whole(_) => None,
        }
    }

    /// What each display read.
    pub fn each(&self) -> Vec<Mass> {
        match self {
            Self::Pads(pads) => pads.all().map(|pad| pad.1).to_vec(),
            Self::Whole(total) => vec![total.value],
        }
    }

    fn faults(&self) -> Vec<Fault> {
        match self {
            Self::Pads(pads) => pads.faults(),
            Self::Whole(total) if total.value <= Mass::from_kg(0.0) || total.value > limits::PAD * 4.0 => {
                vec![Fault::new("total", "A car weighs more than nothing and at most 10,000 kg (22,000 lb).")]
            }
            Self::Whole(_) => Vec::new(),
        }
    }
}

/// The loads under the four wheels.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pads {
    /// Left front.
    pub left_front: Typed<Mass>,
    /// Right front.
    pub right_front: Typed<Mass>,
    /// Left rear.
    pub left_rear: Typed<Mass>,
    /// Right rear.
    pub right_rear: Typed<Mass>,
}

/// What is ticked before a weighing counts where no book says so, by key (*common practice*).
pub const USUAL_CONDITIONS: [(&str, &str); 4] = [
    ("fuel", "Fuel tank full"),
    ("nobody", "Nobody aboard"),
    ("level", "Pads level, one under each wheel"),
    ("settled", "Suspension rolled and settled, brakes off"),
];

impl Pads {
    fn all(&self) -> [(&'static str, Mass); 4] {
        [
            ("left_front", self.left_front.value),
            ("right_front", self.right_front.value),
            ("left_rear", self.left_rear.value),
            ("right_rear", self.right_rear.value),
        ]
    }

    /// The whole car.
    pub fn total(&self) -> Mass {
        self.all().into_iter().map(|pad| pad.1).sum()
    }

    /// Share of the front axle, (LF + RF) / total.
    pub fn front(&self) -> f64 {
        (self.left_front.value + self.right_front.value) / self.total()
    }

    /// Share of the left side, (LF + LR) / total.
    pub fn left(&self) -> f64 {
        (self.left_front.value + self.left_rear.value) / self.total()
    }

    /// Share of one diagonal, (RF + LR) / total; the other is what is left to 1. Two conventions are in use, so print the wheels with it.
    pub fn diagonal(&self) -> f64 {
        (self.right_front.value + self.left_rear.value) / self.total()
    }

    /// What is wrong with them, if anything. A pad typed in the wrong unit stands out by a factor of 2.2.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (at, load) in self.all() {
            if load <= Mass::from_kg(0.0) || load > limits::PAD {
                faults.push(Fault::new(at, "A pad reads more than nothing and at most 2,500 kg (5,500 lb)."));
            }
        }
        if faults.is_empty() {
            faults.extend(self.unlike_faults());
        }
        faults
    }

    /// Two pads of one axle that stand to each other as a pound to a kilogram, if there are any, with their names.
    fn mixed(&self) -> Option<[(&'static str, Mass); 2]> {
        let pair = |left: &Typed<Mass>, right: &Typed<Mass>| unit_apart(left.value / right.value);
        if pair(&self.left_front, &self.right_front) {
            return Some([("Left front", self.left_front.value), ("right front", self.right_front.value)]);
        }
        pair(&self.left_rear, &self.right_rear)
            .then_some([("Left rear", self.left_rear.value), ("right rear", self.right_rear.value)])
    }

    fn unlike_faults(&self) -> Vec<Fault> {
        let loads = self.all();
        let mut sorted = loads.map(|pad| pad.1.kg());
        sorted.sort_by(f64::total_cmp);
        let [_, low, high, _] = sorted;
        let middle = f64::midpoint(low, high);
        loads
            .into_iter()
            .filter(|pad| !(middle / 4.0..=middle * 4.0).contains(&pad.1.kg()))
            .map(|pad| {
                Fault::new(pad.0, "This pad is far from the other three. Was it read in another unit (1 kg is 2.2 lb), or is a digit missing?")
            })
            .collect()
    }
}

/// What cars with a cage weigh (*common practice*); anything else is more likely a figure in the other unit.
const USUAL: (Mass, Mass) = (Mass::from_kg(500.0), Mass::from_kg(2_500.0));

/// Two weighings of one car that stand to each other as a pound to a kilogram, within this share, have their units mixed
/// up (own choice: no car that is caged changes its weight twofold).
const NEAR_A_UNIT: f64 = 0.1;

/// Whether a quotient is that of a pound to a kilogram, or the other way round.
fn unit_apart(factor: f64) -> bool {
    let unit = Mass::from_kg(1.0).lb();
    [unit, 1.0 / unit].iter().any(|wanted| (factor / wanted - 1.0).abs() < NEAR_A_UNIT)
}

/// What is asked then.
const WHICH_UNIT: &str = "a factor of 2.2, as between kilograms and pounds. Were the two mixed up? Write the unit behind each \
                          figure, like 299.8 kg, or tick below that it is right.";

/// So many further weighings are kept with one weigh-in.
const MOST_AGAIN: usize = 9;
/// A further weighing that is farther from the first, by this share of it, is not of the same car as it stood (own choice).
const FAR: f64 = 0.02;

#[expect(clippy::cast_precision_loss, reason = "a weigh-in has at most ten totals")]
const fn count(totals: &[Mass]) -> f64 {
    totals.len() as f64
}

impl Reading {
    /// A reading of which no more is said than what the display showed, its step, and what was ticked; the cage is not
    /// in the car.
    pub fn of(loads: Loads, resolution: Typed<Mass>, conditions: Vec<String>) -> Self {
        Self {
            loads,
            resolution,
            conditions,
            cage_in: false,
            scale: String::new(),
            paper: None,
            again: Vec::new(),
            stood: Stood::default(),
            note: String::new(),
        }
    }

    /// Why its unit is asked about before it is recorded, if it is: a pad stands to its neighbour, or the car to the
    /// weigh-in before it, as one unit to the other, or the total is no usual car's.
    pub fn doubtful(&self, before: Option<&WeighIn>) -> Option<String> {
        let total = self.total();
        let both = |mass: Mass| format!("{} ({})", mass.show(Units::Metric), mass.show(Units::Inch));
        if let Some([one, other]) = self.loads.pads().and_then(Pads::mixed) {
            let (reads, beside) = (both(one.1), both(other.1));
            return Some(format!("{} reads {reads} and {} {beside}: {WHICH_UNIT}", one.0, other.0));
        }
        if let Some(before) = before {
            let was = before.reading.total();
            if unit_apart(total / was) {
                let (now, was) = (both(total), both(was));
                let number = before.number;
                return Some(format!("This car would weigh {now}, and at W{number} it weighed {was}: {WHICH_UNIT}"));
            }
        }
        if total >= USUAL.0 && total <= USUAL.1 {
            return None;
        }
        Some(format!(
            "This car would weigh {}; cars with a cage weigh 500 to 2,500 kg (1,100 to 5,500 lb). Was it \
             read in another unit? Write the unit behind each figure, like 299.8 kg, or tick below that it is right.",
            both(total)
        ))
    }

    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = self.loads.faults();
        if self.resolution.value <= Mass::from_kg(0.0) || self.resolution.value > Mass::from_kg(10.0) {
            faults.push(Fault::new("resolution", "A scale's step is more than nothing and at most 10 kg (22 lb)."));
        }
        faults.extend(self.again_faults());
        if self.paper.is_some() && faults.is_empty() && self.scale_doubt().is_none() {
            let why = "A scale of this class and step may not weigh so much (OIML R 76-1, table 6). Look at its step and class.";
            faults.push(Fault::new("paper", why));
        }
        faults.extend(limits::text_faults("scale", &self.scale));
        faults.extend(limits::text_faults("aboard", &self.stood.aboard));
        faults.extend(limits::text_faults("heights", &self.stood.heights));
        faults.extend(limits::text_faults("note", &self.note));
        faults
    }

    fn again_faults(&self) -> Option<Fault> {
        let first = self.loads.total();
        if self.again.len() > MOST_AGAIN {
            return Some(Fault::new(
                "again",
                format!("At most {MOST_AGAIN} further weighings are kept with one weigh-in."),
            ));
        }
        let far = self.again.iter().find(|again| ((again.value - first).abs() / first) > FAR);
        far.map(|far| {
            let why = "is more than 2 % from the first total. Is a digit wrong, or was it another unit or another load? Then it \
                       is a weigh-in of its own.";
            Fault::new("again", format!("“{}” {why}", far.text))
        })
    }

    /// Every total that was read, the first weighing's first.
    pub fn totals(&self) -> Vec<Mass> {
        std::iter::once(self.loads.total()).chain(self.again.iter().map(|again| again.value)).collect()
    }

    /// Every total that was read, and their spread, in words; none of a car weighed once.
    pub fn describe_totals(&self, units: Units) -> Option<(String, String)> {
        let each: Vec<String> = self.totals().iter().map(|total| total.show(units)).collect();
        Some((each.join(", "), self.spread()?.show(units)))
    }

    /// What the car weighs: the mean of all its weighings (GUM 4.2.1).
    pub fn total(&self) -> Mass {
        let totals = self.totals();
        totals.iter().copied().sum::<Mass>() / count(&totals)
    }

    /// Doubt of the total (one standard deviation): that of the displays, of the scale itself where its class or certificate is
    /// known, and of the mean where it was weighed again (GUM 5.1.2).
    pub fn doubt(&self) -> Mass {
        let (steps, scale) = (self.step_doubt(), self.scale_doubt().unwrap_or_default());
        let spread = self.spread().map(|spread| spread / count(&self.totals()).sqrt());
        Mass::from_kg(steps.kg().hypot(scale.kg()).hypot(spread.unwrap_or_default().kg()))
    }

    /// The experimental standard deviation of its weighings (GUM 4.2.2); none of a single one.
    pub fn spread(&self) -> Option<Mass> {
        if self.again.is_empty() {
            return None;
        }
        let (totals, mean) = (self.totals(), self.total());
        let squares: f64 = totals.iter().map(|total| (*total - mean).kg().powi(2)).sum();
        Some(Mass::from_kg((squares / (count(&totals) - 1.0)).sqrt()))
    }

    /// The shares of the front axle, of the left side, and of the diagonal right front and left rear, by the first weighing;
    /// none of a car weighed as a whole. Each pad's doubt is its own here, the safe figure for a share (GUM 5.1.2).
    pub fn shares(&self) -> Option<[Shared; 3]> {
        let pads = self.loads.pads()?;
        let doubt = |load: Mass| {
            let scale = self.paper.as_ref().and_then(|paper| paper.accuracy.deviation(&[load], self.resolution.value));
            scale.unwrap_or_default().kg().hypot(self.resolution.value.kg() * (2.0_f64 / 12.0).sqrt())
        };
        let [left_front, right_front, left_rear, right_rear] = pads.all().map(|pad| doubt(pad.1).powi(2));
        let of = |share: f64, within: f64, without: f64| {
            let variance = within * (1.0 - share).powi(2) + without * share.powi(2);
            Shared { share, doubt: variance.sqrt() / pads.total().kg() }
        };
        Some([
            of(pads.front(), left_front + right_front, left_rear + right_rear),
            of(pads.left(), left_front + left_rear, right_front + right_rear),
            of(pads.diagonal(), right_front + left_rear, left_front + right_rear),
        ])
    }

    /// What the display's step leaves: each display is a rectangle of one step, and each was zeroed once (GUM 4.3.7; reading
    /// and zero give twice the variance). Four pads are four displays, the whole car is one.
    pub fn step_doubt(&self) -> Mass {
        let variance: f64 = self.loads.each().iter().map(|_| 2.0 / 12.0).sum();
        self.resolution.value * variance.sqrt()
    }

    /// What the scale's class or certificate leaves; none where it is not known, or the class may not weigh so much.
    pub fn scale_doubt(&self) -> Option<Mass> {
        self.paper.as_ref()?.accuracy.deviation(&self.loads.each(), self.resolution.value)
    }

    /// What the doubt comes of, in words.
    pub fn doubt_from(&self) -> String {
        let paper = if self.scale_doubt().is_some() { ", its paper" } else { "" };
        match (self.again.len(), paper) {
            (0, "") => "the scale's step".to_owned(),
            (0, _) => "the scale's step and its paper".to_owned(),
            (more, _) => format!("the scale's step{paper} and the spread of {} weighings", more + 1),
        }
    }

    /// The error allowed of all displays together, at worst: each at its own load. None above what the class may weigh.
    pub fn allowed(&self, class: ScaleClass, looked: Looked) -> Option<Mass> {
        let each = self.loads.each().into_iter().map(|load| class.permissible(load, self.resolution.value, looked));
        each.collect::<Option<Vec<Mass>>>().map(|each| each.into_iter().sum())
    }
}

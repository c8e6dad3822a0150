//! A weld as it was run: by whom, how, with what, and the heat that follows where the figures are there.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::process::{Position, WeldProcess};
use crate::domain::steel::heat_input::Arc;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::CaptureId;
use crate::domain::words::limits;
use crate::quantity::{Current, Length, Show, Speed, Temperature, Typed, Units, Voltage};

/// Who welded, as far as it was said.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Welder {
    /// The name.
    pub name: String,
    /// The qualification, as typed; empty where none was said.
    pub qualification: String,
    /// The last day it is good; none where that is not known.
    pub expires: Option<Date>,
}

/// A weld as it was run. A figure that nobody read off is none.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Run {
    /// Who welded.
    pub welder: Welder,
    /// How.
    pub process: WeldProcess,
    /// In which positions.
    pub positions: Vec<Position>,
    /// Filler, as its label says.
    pub filler: String,
    /// Its batch.
    pub batch: String,
    /// Gas.
    pub gas: String,
    /// Volts at the arc.
    pub volts: Option<Typed<Voltage>>,
    /// Amperes.
    pub amperes: Option<Typed<Current>>,
    /// How fast the wire was fed.
    pub wire_speed: Option<Typed<Speed>>,
    /// How fast the seam grew, stops not counted.
    pub travel: Option<Typed<Speed>>,
    /// From the contact tip, or the cup, to the work.
    pub stick_out: Option<Typed<Length>>,
    /// How warm the steel was before.
    pub preheat: Option<Typed<Temperature>>,
    /// A photograph of it.
    pub photo: Option<CaptureId>,
}

/// What an arc put into each length of seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Heat input, kJ/mm: k·U·I / v.
    pub kj_per_mm: f64,
    /// The thermal efficiency k that it is reckoned with (EN 1011-1, quoted second-hand).
    pub efficiency: f64,
}

impl Heat {
    /// In the reader's units, with the efficiency: "0.35 kJ/mm (k 0.8)".
    pub fn describe(&self, units: Units) -> String {
        let figure = match units {
            Units::Metric => format!("{:.2} kJ/mm", self.kj_per_mm),
            Units::Inch => format!("{:.1} kJ/in", self.kj_per_mm * Length::from_inches(1.0).mm()),
        };
        format!("{figure} (k {})", self.efficiency)
    }
}

impl Run {
    /// The heat input by EN 1011-1; where a figure is missing, which.
    pub fn heat(&self) -> Result<Heat, Vec<&'static str>> {
        let (Some(volts), Some(amperes), Some(travel)) = (&self.volts, &self.amperes, &self.travel) else {
            let missing = [
                (self.volts.is_none(), "volts"),
                (self.amperes.is_none(), "amperes"),
                (self.travel.is_none(), "travel speed"),
            ];
            return Err(missing.into_iter().filter(|one| one.0).map(|one| one.1).collect());
        };
        let process = self.process.arc();
        let arc = Arc {
            process,
            volts: volts.value.volts(),
            amperes: amperes.value.amperes(),
            in_a_second: Length::from_mm(travel.value.mm_per_second()),
        };
        Ok(Heat { kj_per_mm: arc.heat_input(), efficiency: process.efficiency() })
    }

    /// The heat input in words, or that it is not known and for want of what.
    pub fn describe_heat(&self, units: Units) -> String {
        match self.heat() {
            Ok(heat) => heat.describe(units),
            Err(missing) => format!("not known: no {}", missing.join(", no ")),
        }
    }

    /// Whether some of it was overhead.
    pub fn overhead(&self) -> bool {
        self.positions.iter().any(|position| position.overhead())
    }

    /// The positions' letters in a line.
    pub fn describe_positions(&self) -> String {
        self.positions.iter().map(|position| position.letters()).collect::<Vec<_>>().join(", ")
    }

    /// The figures that were read off, in a line; empty where none was.
    pub fn describe_figures(&self, units: Units) -> String {
        fn one<T: Show>(figure: Option<&Typed<T>>, before: &str, units: Units) -> Option<String> {
            figure.map(|figure| format!("{before}{}", figure.value.show(units)))
        }
        let figures = [
            one(self.volts.as_ref(), "", units),
            one(self.amperes.as_ref(), "", units),
            one(self.wire_speed.as_ref(), "wire ", units),
            one(self.travel.as_ref(), "travel ", units),
            one(self.stick_out.as_ref(), "stick-out ", units),
            one(self.preheat.as_ref(), "preheat ", units),
        ];
        figures.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// Filler, batch and gas in a line; empty where none was said.
    pub fn describe_filler(&self) -> String {
        let batch = if self.batch.is_empty() { String::new() } else { format!("batch {}", self.batch) };
        let all = [self.filler.clone(), batch, self.gas.clone()];
        all.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ")
    }

    /// What is wrong with it, if anything.
    pub(super) fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("welder", &self.welder.name);
        let words = [
            ("qualification", &self.welder.qualification),
            ("filler", &self.filler),
            ("batch", &self.batch),
            ("gas", &self.gas),
        ];
        for (at, text) in words.into_iter().filter(|(_, text)| !text.is_empty()) {
            faults.extend(limits::title_faults(at, text));
        }
        if self.positions.is_empty() {
            faults.push(Fault::new("position", "Tick each position the seam was welded in."));
        }
        faults.extend(within("volts", self.volts.as_ref(), limits::ARC_VOLTS, "An arc has 5 to 50 volts."));
        faults.extend(within("amperes", self.amperes.as_ref(), limits::ARC_AMPERES, "An arc has 5 to 500 amperes."));
        let why = "A wire is fed 0.3 to 30 m a minute (12 in to 98 ft).";
        faults.extend(within("wire_speed", self.wire_speed.as_ref(), limits::WIRE_FED, why));
        let why = "A seam grows by 12 mm to 3 m a minute (1/2 in to 10 ft).";
        faults.extend(within("travel", self.travel.as_ref(), limits::TRAVEL, why));
        let (least, most) = limits::STICK_OUT;
        let why = format!("A stick-out is {}.", Length::between(least, most));
        faults.extend(within("stick_out", self.stick_out.as_ref(), limits::STICK_OUT, &why));
        let why = "Steel is welded at 0 to 450 °C (32 to 842 °F).";
        faults.extend(within("preheat", self.preheat.as_ref(), limits::PREHEAT, why));
        faults
    }
}

/// A fault where a figure lies outside its bounds; one that is not there lies nowhere.
fn within<T: PartialOrd + Copy>(at: &str, figure: Option<&Typed<T>>, bounds: (T, T), why: &str) -> Option<Fault> {
    let inside = figure.is_none_or(|figure| figure.value >= bounds.0 && figure.value <= bounds.1);
    (!inside).then(|| Fault::new(at, why))
}

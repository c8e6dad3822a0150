//! Heat input of a weld: what arc and speed put into each length of seam. For information; no rule of a cage's book asks it.

use crate::domain::words::faults::Fault;
use crate::quantity::Length;

/// Volts, amperes and speeds that a hand-held arc can have (own choice, wide).
const VOLTS: std::ops::RangeInclusive<f64> = 5.0..=50.0;
const AMPERES: std::ops::RangeInclusive<f64> = 5.0..=500.0;
const SPEEDS: (Length, Length) = (Length::from_mm(0.2), Length::from_mm(50.0));

/// How the arc is made. The thermal efficiencies are those of EN 1011-1:2009, table 1 (quoted second-hand).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Process {
    /// Wire under gas, 135 and 136 of ISO 4063.
    Wire,
    /// Covered electrode, 111.
    Electrode,
    /// Tungsten under inert gas, 141.
    Tungsten,
}

impl Process {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Wire, Self::Electrode, Self::Tungsten];

    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wire => "wire under gas (MAG, MIG)",
            Self::Electrode => "covered electrode (stick)",
            Self::Tungsten => "tungsten under gas (TIG)",
        }
    }

    /// Its name in forms.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Wire => "wire",
            Self::Electrode => "electrode",
            Self::Tungsten => "tungsten",
        }
    }

    /// The share of the arc's energy that reaches the work.
    pub const fn efficiency(self) -> f64 {
        match self {
            Self::Wire | Self::Electrode => 0.8,
            Self::Tungsten => 0.6,
        }
    }
}

/// An arc as the machine shows it, and how fast it moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// How it is made.
    pub process: Process,
    /// Volts.
    pub volts: f64,
    /// Amperes.
    pub amperes: f64,
    /// Seam in one second, without stops.
    pub in_a_second: Length,
}

impl Arc {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if !VOLTS.contains(&self.volts) {
            faults.push(Fault::new("volts", "An arc has between 5 and 50 volts."));
        }
        if !AMPERES.contains(&self.amperes) {
            faults.push(Fault::new("amperes", "An arc has between 5 and 500 amperes."));
        }
        if !(self.in_a_second >= SPEEDS.0 && self.in_a_second <= SPEEDS.1) {
            faults.push(Fault::new("laid", "A seam grows by 12 mm to 3 m a minute (1/2 in to 10 ft)."));
        }
        faults
    }

    /// The arc's own energy in each length of seam, kJ/mm: U I / (1000 v). ASME IX compares this one.
    pub fn energy(&self) -> f64 {
        self.volts * self.amperes / (1000.0 * self.in_a_second.mm())
    }

    /// Heat input, kJ/mm: the arc's energy times the process's efficiency (EN 1011-1).
    pub fn heat_input(&self) -> f64 {
        self.energy() * self.process.efficiency()
    }
}

//! Reading and printing what a welder reads off his machine: volts, amperes, speeds, a temperature.

use super::kinds::short;
use super::{Current, FromTyped, Length, Show, Speed, Temperature, Units, Unreadable, Voltage};

/// Longest text that is looked at.
const LONGEST: usize = 40;
/// A unit: its names, the size of one in the base unit, and what its nought is in it.
struct Unit(&'static [&'static str], f64, f64);

/// What is wanted of a text, and in which units.
struct Wanted {
    what: &'static str,
    example: &'static str,
    /// Longer names before those that they end with.
    units: &'static [Unit],
}

const VOLTS: Wanted =
    Wanted { what: "a voltage", example: "18.5 V", units: &[Unit(&["volts", "volt", "v"], 1.0, 0.0)] };
const AMPERES: Wanted = Wanted {
    what: "a current",
    example: "120 A",
    units: &[Unit(&["amperes", "ampere", "amps", "amp", "a"], 1.0, 0.0)],
};
const PER_MINUTE: f64 = 1.0 / 60.0;
const IN: f64 = super::base::MM_PER_INCH;
const SPEEDS: Wanted = Wanted {
    what: "a speed",
    example: "12 in/min or 300 mm/min",
    units: &[
        Unit(&["mm/min", "mm a minute"], PER_MINUTE, 0.0),
        Unit(&["cm/min", "cm a minute"], 10.0 * PER_MINUTE, 0.0),
        Unit(&["m/min", "m a minute"], 1000.0 * PER_MINUTE, 0.0),
        Unit(&["in/min", "in a minute", "ipm"], IN * PER_MINUTE, 0.0),
        Unit(&["mm/s"], 1.0, 0.0),
        Unit(&["in/s"], IN, 0.0),
    ],
};
/// Fahrenheit's degree is 5/9 of a kelvin, and its 32 is 0 °C (NIST Special Publication 811, appendix B.8).
const TEMPERATURES: Wanted = Wanted {
    what: "a temperature",
    example: "100 °C or 212 °F",
    units: &[Unit(&["°c", "deg c", "c"], 1.0, 0.0), Unit(&["°f", "deg f", "f"], 5.0 / 9.0, -32.0 * 5.0 / 9.0)],
};

impl Wanted {
    /// The value in the base unit; a bare number is of the unit of this name.
    fn read(&self, text: &str, bare: &str) -> Result<f64, Unreadable> {
        let refused = |because: &str| Unreadable {
            typed: text.trim().chars().take(LONGEST).collect(),
            wanted: self.what,
            example: self.example,
            because: Some(because.to_owned()),
        };
        let lower = text.trim().to_lowercase();
        if lower.is_empty() {
            return Err(refused("nothing was typed"));
        }
        if lower.chars().count() > LONGEST {
            return Err(refused("it is too long"));
        }
        let whole = if is_bare(&lower) { format!("{lower}{bare}") } else { lower };
        let found = self.units.iter().find_map(|unit| {
            let name = unit.0.iter().find(|name| whole.ends_with(**name))?;
            Some((whole.strip_suffix(name)?.trim_end().to_owned(), unit))
        });
        let (number, unit) = found.ok_or_else(|| refused("its unit is not known"))?;
        let number = number.replace(',', ".");
        let read = number.parse::<f64>().ok().filter(|_| is_bare(&number));
        read.map(|value| value * unit.1 + unit.2).ok_or_else(|| refused("it is no number"))
    }
}

/// Whether it is a plain number: figures and a point or a comma.
fn is_bare(text: &str) -> bool {
    let text = text.trim();
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit() || b".,".contains(&byte))
}

/// What stands behind a bare number.
fn meant(text: &str, unit: &'static str) -> &'static str {
    if is_bare(text) { unit } else { "" }
}

const fn speed_unit(units: Units) -> &'static str {
    if matches!(units, Units::Inch) { " in/min" } else { " mm/min" }
}

const fn heat_unit(units: Units) -> &'static str {
    if matches!(units, Units::Inch) { " °F" } else { " °C" }
}

impl FromTyped for Voltage {
    /// A bare number is volts.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        VOLTS.read(text, "v").map(Self::from_volts)
    }

    fn unit_meant(text: &str, _: Units) -> Result<&'static str, Unreadable> {
        Ok(meant(text, " V"))
    }

    fn written(&self) -> String {
        format!("{} V", short(self.volts(), 6))
    }
}

impl FromTyped for Current {
    /// A bare number is amperes.
    fn from_typed_as(text: &str, _: Units) -> Result<Self, Unreadable> {
        AMPERES.read(text, "a").map(Self::from_amperes)
    }

    fn unit_meant(text: &str, _: Units) -> Result<&'static str, Unreadable> {
        Ok(meant(text, " A"))
    }

    fn written(&self) -> String {
        format!("{} A", short(self.amperes(), 6))
    }
}

impl FromTyped for Speed {
    /// A bare number is millimetres a minute; for a reader in inches it is inches a minute.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        SPEEDS.read(text, speed_unit(units)).map(Self::from_mm_per_second)
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        Ok(meant(text, speed_unit(units)))
    }

    fn written(&self) -> String {
        format!("{} mm/min", short(self.mm_per_second() * 60.0, 5))
    }
}

impl FromTyped for Temperature {
    /// A bare number is degrees Celsius; for a reader in inches it is Fahrenheit.
    fn from_typed_as(text: &str, units: Units) -> Result<Self, Unreadable> {
        TEMPERATURES.read(text, &heat_unit(units).to_lowercase()).map(Self::from_celsius)
    }

    fn unit_meant(text: &str, units: Units) -> Result<&'static str, Unreadable> {
        Ok(meant(text, heat_unit(units)))
    }

    fn written(&self) -> String {
        format!("{} °C", short(self.celsius(), 6))
    }
}

impl Show for Voltage {
    fn show(&self, _: Units) -> String {
        format!("{} V", short(self.volts(), 1))
    }
}

impl Show for Current {
    fn show(&self, _: Units) -> String {
        format!("{} A", short(self.amperes(), 0))
    }
}

impl Show for Speed {
    fn show(&self, units: Units) -> String {
        let a_minute = Length::from_mm(self.mm_per_second() * 60.0);
        match units {
            Units::Inch => format!("{} in/min", short(a_minute.inches(), 1)),
            Units::Metric => format!("{} mm/min", short(a_minute.mm(), 0)),
        }
    }
}

impl Show for Temperature {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Inch => format!("{} °F", short(self.celsius() * 1.8 + 32.0, 0)),
            Units::Metric => format!("{} °C", short(self.celsius(), 0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Typed;

    #[test]
    fn what_a_machine_shows_reads_in_its_units() {
        for (text, units, mm_per_second) in [
            ("300 mm/min", Units::Inch, Some(5.0)),
            ("300", Units::Metric, Some(5.0)),
            ("12", Units::Inch, Some(5.08)),
            ("12 in/min", Units::Metric, Some(5.08)),
            ("12 IPM", Units::Metric, Some(5.08)),
            ("0,3 m/min", Units::Metric, Some(5.0)),
            ("5 mm/s", Units::Metric, Some(5.0)),
            ("12 in", Units::Metric, None),
            ("-5", Units::Metric, None),
            ("1.2.3", Units::Metric, None),
            ("", Units::Metric, None),
        ] {
            let read = Speed::from_typed_as(text, units).ok();
            assert_eq!(read, mm_per_second.map(Speed::from_mm_per_second), "{text}");
        }
        assert_eq!(Voltage::from_typed("18,5 v"), Ok(Voltage::from_volts(18.5)));
        assert_eq!(Current::from_typed("120 amps"), Ok(Current::from_amperes(120.0)));
        assert!(Voltage::from_typed("18 A").is_err() && Current::from_typed("twelve").is_err());
        // 212 °F is water's boiling point, 100 °C
        assert_eq!(Temperature::from_typed_as("212", Units::Inch), Ok(Temperature::from_celsius(100.0)));
        assert_eq!(Temperature::from_typed("212 °F"), Ok(Temperature::from_celsius(100.0)));
        assert_eq!(Temperature::from_celsius(100.0).show(Units::Inch), "212 °F");
        assert_eq!(Speed::from_mm_per_second(5.08).show(Units::Inch), "12 in/min");
    }

    /// Whoever reads the text again, in whatever units, reads the same value.
    #[test]
    fn a_text_keeps_its_unit() {
        for units in [Units::Inch, Units::Metric] {
            let speed = Typed::<Speed>::read_as("12.5", units).ok();
            let again = |units| speed.as_ref().and_then(|speed| Typed::<Speed>::read_as(&speed.text, units).ok());
            assert_eq!((again(Units::Inch), again(Units::Metric)), (speed.clone(), speed.clone()));
            let warm = Typed::<Temperature>::read_as("80", units).ok();
            let again = |units| warm.as_ref().and_then(|warm| Typed::<Temperature>::read_as(&warm.text, units).ok());
            assert_eq!((again(Units::Inch), again(Units::Metric)), (warm.clone(), warm.clone()));
        }
        let odd = Speed::from_mm_per_second(1.0 / 3.0);
        assert_eq!(Speed::from_typed(&odd.written()), Ok(odd));
    }
}

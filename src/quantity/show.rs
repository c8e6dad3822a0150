//! Printing quantities in the reader's units.

use super::{Angle, Area, Fraction, Hours, Length, Mass, Money, Stress, Units};

/// A length within this many inches of a sixteenth is shown as the fraction (own choice: no tape shows the difference).
const NEAR_A_SIXTEENTH: f64 = 0.002;
/// The most digits that [`Show::show_against`] adds: to a millionth, where quantities are no longer told apart.
const MOST_DIGITS_MORE: u32 = 6;

/// The parts of an inch that a bench can hold over its tape's sixteenths (common practice).
pub(super) const FINEST_OF_A_BENCH: u32 = 64;

/// So many sixty-fourths as they are found on a tape of sixteenths: the mark, and what is over it.
pub(super) fn on_a_tape(sixty_fourths: i128) -> String {
    let text = |parts: i128, of: i128| Fraction::new(parts, of).map(|inches| inches.mixed(64)).unwrap_or_default();
    let (marks, over) = (sixty_fourths.div_euclid(4), sixty_fourths.rem_euclid(4));
    if over == 0 || marks <= 0 {
        return format!("{} in", text(sixty_fourths, 64));
    }
    format!("{} + {} in", text(marks, 16), text(over, 64))
}

/// Something printed with its unit for a reader.
pub trait Show {
    /// The text in these units: `43 5/8 in`, `1108 mm`.
    fn show(&self, units: Units) -> String;

    /// The text with so many digits more after the point.
    fn show_finer(&self, units: Units, more: u32) -> String {
        let _ = more;
        self.show(units)
    }

    /// The text beside a limit: where rounding would make a figure off the limit look like it, with as many digits
    /// more as tell them apart. The verdict itself is made on the figures, never on the texts.
    fn show_against(&self, limit: &Self, units: Units) -> String
    where
        Self: PartialEq,
    {
        if self == limit || self.show(units) != limit.show(units) {
            return self.show(units);
        }
        let plain = limit.show(units);
        let differs = |more: &u32| {
            let finer = self.show_finer(units, *more);
            finer != plain && finer != limit.show_finer(units, *more)
        };
        if let Some(more) = (0..=MOST_DIGITS_MORE).find(differs) {
            return self.show_finer(units, more);
        }
        let finest = self.show_finer(units, MOST_DIGITS_MORE);
        // A round figure beside a limit that only looks round: its noughts are what tells the two apart.
        if finest == plain { plain.replacen(' ', ".00 ", 1) } else { finest }
    }
}

/// A figure with this many places; past all use it keeps the binary figure's own digits.
fn figure(value: f64, places: u32) -> String {
    Fraction::nearest(value).map_or_else(|| format!("{value:.*}", places as usize), |value| value.decimal(places))
}

/// A figure with at most this many places, a round one with none.
fn round_figure(value: f64, places: u32) -> String {
    let text = figure(value, places);
    match text.split_once('.') {
        Some((whole, decimals)) if decimals.chars().all(|digit| digit == '0') => whole.to_owned(),
        _ => text,
    }
}

/// With a comma between thousands: `2,600`.
fn with_thousands(text: &str) -> String {
    let (sign, text) = text.strip_prefix('-').map_or(("", text), |rest| ("-", rest));
    let (whole, decimals) = text.split_once('.').map_or((text, None), |(whole, rest)| (whole, Some(rest)));
    let mut grouped = sign.to_owned();
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    if let Some(decimals) = decimals {
        grouped.push('.');
        grouped.push_str(decimals);
    }
    grouped
}

impl Length {
    /// On a tape, to the nearest `1/parts` inch: `1 25/32 in`. A display only, never stored over what was typed.
    pub fn show_fraction(self, parts: u32) -> String {
        Fraction::nearest(self.inches())
            .map_or_else(|| self.show_finer(Units::Inch, 0), |inches| format!("{} in", inches.mixed(parts)))
    }

    /// As the shop's tape shows it: inches to the sixteenth, or millimetres.
    pub fn by_tape(self, units: Units) -> String {
        if units == Units::Inch { self.show_fraction(16) } else { self.show(units) }
    }

    /// A long run: feet and inches, or metres to a tenth. `27 ft 11 in`, `64.6 m`.
    pub fn by_run(self, units: Units) -> String {
        match units {
            Units::Inch => {
                let inches = self.inches().round();
                let (feet, rest) = ((inches / 12.0).trunc(), inches.abs() % 12.0);
                if rest == 0.0 { format!("{feet:.0} ft") } else { format!("{feet:.0} ft {rest:.0} in") }
            }
            Units::Metric => format!("{:.1} m", self.mm() / 1000.0),
        }
    }

    /// The same for a bench: inches to the sixteenth with what is over it to a sixty-fourth, `124 1/2 + 1/64 in`, or
    /// millimetres to a tenth.
    pub fn by_tape_exactly(self, units: Units) -> String {
        match units {
            Units::Inch => Fraction::nearest(self.inches()).map_or_else(
                || self.show_finer(Units::Inch, 0),
                |inches| on_a_tape(inches.in_parts(FINEST_OF_A_BENCH)),
            ),
            Units::Metric => format!("{:.1} mm", self.mm()),
        }
    }

    /// The length that `show_fraction` of the same parts says.
    pub fn nearest_fraction(self, parts: u32) -> Self {
        Fraction::nearest(self.inches())
            .and_then(|inches| Fraction::new(inches.in_parts(parts), i128::from(parts)))
            .map_or(self, |inches| Self::from_inches(inches.to_f64()))
    }
}

impl Show for Length {
    /// In inches a fraction to 1/16 where it is one, else three decimals; in millimetres one decimal at most.
    fn show(&self, units: Units) -> String {
        let near = self.nearest_fraction(16);
        let off = (*self - near).abs();
        let shown_as_nothing = near == Self::default() && *self != Self::default();
        if units == Units::Inch && off <= Self::from_inches(NEAR_A_SIXTEENTH) && !shown_as_nothing {
            return self.show_fraction(16);
        }
        self.show_finer(units, 0)
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match units {
            Units::Inch => format!("{} in", figure(self.inches(), 3 + more)),
            Units::Metric => format!("{} mm", round_figure(self.mm(), 1 + more)),
        }
    }
}

impl Show for Mass {
    /// One decimal at most, pounds with a comma between thousands.
    fn show(&self, units: Units) -> String {
        self.show_finer(units, 0)
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match units {
            Units::Inch => format!("{} lb", with_thousands(&round_figure(self.lb(), 1 + more))),
            Units::Metric => format!("{} kg", round_figure(self.kg(), 1 + more)),
        }
    }
}

impl Mass {
    /// The figure without its unit, and its doubt with it, both to the same place (GUM 7.2.6): `2,643`, `± 13 lb`. Whole
    /// pounds or kilograms where the doubt has two digits before the point, else one decimal.
    pub fn show_with_doubt(self, doubt: Self, units: Units) -> (String, String) {
        let (figure, doubt, unit) = match units {
            Units::Inch => (self.lb(), doubt.lb(), "lb"),
            Units::Metric => (self.kg(), doubt.kg(), "kg"),
        };
        let places = u32::from(doubt < 9.95);
        let figure = round_figure(figure, places);
        let figure = if units == Units::Inch { with_thousands(&figure) } else { figure };
        (figure, format!("± {} {unit}", round_figure(doubt, places)))
    }
}

impl Angle {
    /// As it is set on a bender, always with its tenth: `76.6°`. A turn of nothing has no sign.
    pub fn to_the_tenth(self) -> String {
        let tenths = (self.degrees() * 10.0).round() / 10.0 + 0.0;
        format!("{tenths:.1}°")
    }

    /// The same with its sign, where it has one: `+30.0°`, `0.0°`.
    pub fn to_the_tenth_signed(self) -> String {
        let plain = self.to_the_tenth();
        if self.degrees() >= 0.05 { format!("+{plain}") } else { plain }
    }
}

impl Show for Angle {
    /// Degrees with one decimal at most.
    fn show(&self, units: Units) -> String {
        self.show_finer(units, 0)
    }

    fn show_finer(&self, _: Units, more: u32) -> String {
        format!("{}°", round_figure(self.degrees(), 1 + more))
    }
}

impl Show for Area {
    /// Square inches with two decimals, square centimetres with one.
    fn show(&self, units: Units) -> String {
        self.show_finer(units, 0)
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match units {
            Units::Inch => format!("{} in²", figure(self.square_inches(), 2 + more)),
            Units::Metric => format!("{} cm²", figure(self.cm2(), 1 + more)),
        }
    }
}

impl Show for Stress {
    /// Thousands of pounds per square inch with one decimal at most, whole newtons per square millimetre.
    fn show(&self, units: Units) -> String {
        self.show_finer(units, 0)
    }

    fn show_finer(&self, units: Units, more: u32) -> String {
        match units {
            Units::Inch => format!("{} ksi", round_figure(self.ksi(), 1 + more)),
            Units::Metric => format!("{} N/mm²", round_figure(self.mpa(), more)),
        }
    }
}

impl Show for Hours {
    /// Hours and whole minutes: `1 h 30 min`, `45 min`, `2 h`.
    fn show(&self, _: Units) -> String {
        let Some(minutes) = Fraction::nearest(self.hours()).map(|hours| hours.in_parts(60)) else {
            return format!("{} h", self.hours());
        };
        let sign = if minutes < 0 { "-" } else { "" };
        match (minutes.abs() / 60, minutes.abs() % 60) {
            (0, minutes) => format!("{sign}{minutes} min"),
            (hours, 0) => format!("{sign}{hours} h"),
            (hours, minutes) => format!("{sign}{hours} h {minutes} min"),
        }
    }
}

impl Show for Money {
    /// In the shop's own currency, which is named where the amount stands: `12.50`.
    fn show(&self, _: Units) -> String {
        let (sign, coins) = (if self.minor() < 0 { "-" } else { "" }, self.minor().unsigned_abs());
        format!("{sign}{}.{:02}", coins / 100, coins % 100)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_fractions_where_a_tape_shows_one() {
        assert_eq!(Length::from_mm(1108.075).show(Units::Inch), "43 5/8 in");
        assert_eq!(Length::from_inches(0.12).show(Units::Inch), "0.120 in");
        assert_eq!(Length::from_inches(-0.001).show(Units::Inch), "-0.001 in");
        assert_eq!(Length::default().show(Units::Inch), "0 in");
        assert_eq!(Length::from_mm(1108.0).show(Units::Metric), "1108 mm");
        assert_eq!(Length::from_mm(44.45).show(Units::Metric), "44.5 mm");
        assert_eq!(Length::from_mm(-0.04).show(Units::Metric), "0 mm");
        for (inches, text) in [
            (124.515_625, "124 1/2 + 1/64 in"),
            (42.5, "42 1/2 in"),
            (0.031_25, "1/32 in"),
            (3.97, "3 15/16 + 1/32 in"),
            (-2.26, "-2 17/64 in"),
        ] {
            assert_eq!(Length::from_inches(inches).by_tape_exactly(Units::Inch), text);
        }
        assert_eq!(Length::from_mm(1108.04).by_tape_exactly(Units::Metric), "1108.0 mm");
        assert_eq!(Length::from_inches(335.228).by_run(Units::Inch), "27 ft 11 in");
        assert_eq!(Length::from_inches(24.0).by_run(Units::Inch), "2 ft");
        assert_eq!(Length::from_mm(64_620.0).by_run(Units::Metric), "64.6 m");
    }

    #[test]
    fn each_quantity_has_its_unit() {
        assert_eq!(Mass::from_lb(2600.0).show(Units::Inch), "2,600 lb");
        assert_eq!(Mass::from_lb(2250.5).show(Units::Inch), "2,250.5 lb");
        assert_eq!(Mass::from_kg(1179.0).show(Units::Metric), "1179 kg");
        let both = |mass: f64, doubt: f64| Mass::from_lb(mass).show_with_doubt(Mass::from_lb(doubt), Units::Inch);
        assert_eq!(both(2643.2, 13.0), ("2,643".to_owned(), "± 13 lb".to_owned()));
        assert_eq!(both(2643.25, 1.44), ("2,643.3".to_owned(), "± 1.4 lb".to_owned()));
        assert_eq!(Angle::from_degrees(30.5).show(Units::Inch), "30.5°");
        assert_eq!(Angle::from_degrees(-0.04).to_the_tenth(), "0.0°");
        assert_eq!(Area::from_square_inches(12.25).show(Units::Inch), "12.25 in²");
        assert_eq!(Area::from_square_inches(12.25).show(Units::Metric), "79.0 cm²");
        assert_eq!(Hours::from_hours(1.5).show(Units::Inch), "1 h 30 min");
        assert_eq!(Money::from_minor(-5).show(Units::Inch), "-0.05");
    }

    #[test]
    fn a_figure_off_its_limit_gets_the_digits_that_say_so() {
        let limit = Length::from_inches(1.5);
        assert_eq!(Length::from_inches(1.499).show_against(&limit, Units::Inch), "1.499 in");
        assert_eq!(Length::from_inches(1.4999).show_against(&limit, Units::Inch), "1.4999 in");
        assert_eq!(limit.show_against(&limit, Units::Inch), "1 1/2 in");
        let limit = Mass::from_kg(1200.0);
        assert_eq!(Mass::from_kg(1199.96).show_against(&limit, Units::Metric), "1199.96 kg");
        assert_eq!(Mass::from_kg(1199.9).show_against(&limit, Units::Metric), "1199.9 kg");
        assert_eq!(Mass::from_kg(1199.998).show_against(&Mass::from_kg(1199.96), Units::Metric), "1199.998 kg");
    }
}

//! The doubt that a figure of the cage has from the tape measurements it follows from, carried through the whole laying out.

use super::gap_figures::gap_figures;
use super::of_lines::figures;
use crate::domain::cage::around::Around;
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::body::{BodyPlace, Taken};
use crate::domain::cage::record::fittings::Tubes;
use crate::domain::cage::solve::outline::outline;
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::Figure;
use crate::domain::measure::tools::Tool;
use crate::quantity::{Length, Typed};

/// One tape measurement of the record moved by so much.
type Moved<'a> = Box<dyn Fn(&CageRecord, Length) -> CageRecord + 'a>;

/// One standard deviation of each figure that follows from the cage's tape measurements and from no other reading: the
/// measurements are moved one after another by the standard deviation of their tape, up and down, the cage is laid out
/// again, and half of what a figure moves counts (GUM 5.1.3, note 2), the root of the sum of their squares together
/// (GUM 5.1.2). A right side that follows the left moves with it. What follows from no measurement has none.
pub fn spreads(record: &CageRecord, tubes: &Tubes, figures: &mut [Figure]) {
    let mut squares = vec![0.0_f64; figures.len()];
    for (by, moved) in inputs(record) {
        let [up, down] = [by, -by].map(|by| drawn(&moved(record, by), tubes));
        for (square, figure) in squares.iter_mut().zip(figures.iter()) {
            if let (Some(up), Some(down)) = (same(&up, figure), same(&down, figure)) {
                *square += ((up - down) / 2.0).powi(2);
            }
        }
    }
    for (square, figure) in squares.into_iter().zip(figures.iter_mut()) {
        let follows = figure.tool.is_none() && square > 0.0;
        figure.spread = follows.then(|| figure.amount.dimension().of_base_unit(square.sqrt()));
    }
}

/// The figures of the lines alone.
fn drawn(record: &CageRecord, tubes: &Tubes) -> Vec<Figure> {
    let cage = outline(record, tubes);
    let mut all = figures(&cage, record);
    all.extend(gap_figures(&cage, &Around::of(record, &cage)));
    all
}

/// The figure of the same measure and part, nearest to this one where there are several: a bar has a narrowest and a
/// widest gap.
fn same(among: &[Figure], figure: &Figure) -> Option<f64> {
    let alike = among.iter().filter(|other| (other.measure, other.of) == (figure.measure, figure.of));
    let apart = |other: &f64| (other - figure.amount.in_base_unit()).abs();
    alike
        .map(|other| other.amount.in_base_unit())
        .min_by(|one, next| apart(one).total_cmp(&apart(next)))
        .filter(|_| !matches!(figure.amount, Amount::Count(_) | Amount::Grade(_)))
}

/// Every measurement that was taken with a tape, each with the standard deviation of its tape.
fn inputs(record: &CageRecord) -> Vec<(Length, Moved<'_>)> {
    let mut inputs: Vec<(Length, Moved<'_>)> = Vec::new();
    for (measure, typed) in &record.measures {
        inputs.push((
            deviation(typed),
            Box::new(|record, by| {
                let mut moved = record.clone();
                if let Some(typed) = moved.measures.get_mut(measure) {
                    *typed = Typed::written(typed.value + by);
                }
                moved
            }),
        ));
    }
    for (at, place) in record.body.iter().enumerate().filter(|(_, place)| matches!(place.taken, Taken::Point { .. })) {
        for (which, typed) in lengths(|read| place.with_lengths(read)).into_iter().enumerate() {
            inputs.push((
                deviation(&typed),
                Box::new(move |record, by| {
                    let mut moved = record.clone();
                    if let Some(place) = moved.body.get_mut(at)
                        && let Some(shifted) = place.with_lengths(shift(which, by))
                    {
                        *place = shifted;
                    }
                    moved
                }),
            ));
        }
    }
    for (at, seat) in record.seats.iter().enumerate() {
        for (which, (_, typed)) in seat.figures().into_iter().enumerate() {
            inputs.push((
                deviation(typed),
                Box::new(move |record, by| {
                    let mut moved = record.clone();
                    if let Some(seat) = moved.seats.get_mut(at)
                        && let Some(shifted) = seat.with_lengths(shift(which, by))
                    {
                        *seat = shifted;
                    }
                    moved
                }),
            ));
        }
    }
    inputs
}

fn deviation(typed: &Typed<Length>) -> Length {
    Length::from_mm(Tool::tape_of(typed).deviation())
}

/// The lengths that something has, in the order in which it reads them.
fn lengths(
    read_all: impl FnOnce(&mut dyn FnMut(&str, &Typed<Length>) -> Option<Typed<Length>>) -> Option<BodyPlace>,
) -> Vec<Typed<Length>> {
    let mut found = Vec::new();
    read_all(&mut |_, typed| {
        found.push(typed.clone());
        Some(typed.clone())
    });
    found
}

/// Reads lengths as they are, but the one at this place moved.
fn shift(which: usize, by: Length) -> impl FnMut(&str, &Typed<Length>) -> Option<Typed<Length>> {
    let mut at = 0;
    move |_, typed| {
        at += 1;
        Some(if at - 1 == which { Typed::written(typed.value + by) } else { typed.clone() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::measures::TapeMeasure;
    use crate::domain::cage::solve;
    use crate::domain::measure::measures::Measure;

    fn spread(record: &CageRecord, measure: Measure, key: &str) -> Option<f64> {
        let cage = solve(record, &TUBES);
        let mut all = figures(&cage, record);
        spreads(record, &TUBES, &mut all);
        let of = record.numbers.get(key)?;
        let found = all.into_iter().find(|figure| figure.measure == measure && figure.of == *of)?;
        found.spread.map(Amount::in_base_unit)
    }

    fn typed(mm: f64) -> Typed<Length> {
        Typed::of(Length::from_mm(mm), format!("{mm} mm"))
    }

    /// The hoop leans by atan(lean / roof height), whatever its feet stand on; both are read with a tape of 1 mm, u = 0.408 mm,
    /// so that by the law of propagation (GUM 5.1.2, worked by hand) u(angle) = u √(h² + l²) / (h² + l²).
    #[test]
    fn the_doubt_of_a_lean_is_that_of_its_measurements_by_hand() {
        let mut record = example_record();
        let (lean, height) = (38.0_f64, 1_108.0_f64);
        record.measures.insert(TapeMeasure::HoopLean, typed(lean));
        record.measures.insert(TapeMeasure::HoopRoofHeight, typed(height));
        let u = (2.0_f64 / 12.0).sqrt();
        let by_hand = u / (height * height + lean * lean).sqrt();
        let found = spread(&record, Measure::AngleToVertical, "main-hoop").unwrap();
        assert!((found - by_hand).abs() < 1e-7, "{found} {by_hand}");
    }

    /// What is chosen and not measured, a die's radius or how far over its plate a bar lands, has no doubt of a tape.
    #[test]
    fn what_follows_from_no_measurement_has_no_spread() {
        let record = example_record();
        assert_eq!(spread(&record, Measure::BendRadius, "main-hoop"), None);
        assert_eq!(spread(&record, Measure::PlateThickness, "plate/front/left"), None);
        assert!(spread(&record, Measure::AngleToVertical, "backstay/left").is_some_and(|spread| spread > 0.0));
        assert!(spread(&record, Measure::OverSill, "sill-bar/left").is_some_and(|spread| spread > 0.0));
    }
}

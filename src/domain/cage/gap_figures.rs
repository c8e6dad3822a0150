//! Figures that follow from where the body is and who sits in the car: gaps to the body, room round a helmet.

use super::body::{BodyAt, gaps};
use super::parts::Cage;
use super::seats::{HELMET, SeatAt};
use crate::domain::figures::{Amount, Figure, Measure};
use crate::domain::ids::Balloon;
use crate::domain::tools::Tool;
use crate::quantity::Length;

/// The narrowest and the widest gap to the body of each bar beside which it was measured, and of every bar what is left to
/// the helmet that is nearest to it.
pub fn gap_figures(cage: &Cage) -> Vec<Figure> {
    let mut figures = Vec::new();
    for (bar, [narrowest, widest]) in gaps(&cage.body) {
        figures.extend(of_body(cage, bar, narrowest));
        if narrowest.number != widest.number {
            figures.extend(of_body(cage, bar, widest));
        }
    }
    for bar in &cage.members {
        let left = |seat: &SeatAt| {
            let (_, left) = *seat.bars.iter().find(|(of, _)| *of == bar.balloon)?;
            let whose = if seat.radius == HELMET { "common practice" } else { "as the shop says" };
            let ball = seat.radius.mm();
            let told = format!("the seats: helmet of “{}”, taken as a ball of {ball:.0} mm radius, {whose}", seat.name);
            Some((left, told))
        };
        let nearest = cage.seats.iter().filter_map(left).min_by(|one, next| one.0.mm().total_cmp(&next.0.mm()));
        figures
            .extend(nearest.and_then(|(left, told)| figure(cage, Measure::HeadGap, bar.balloon, (left, told, None))));
    }
    figures
}

fn of_body(cage: &Cage, bar: Balloon, at: &BodyAt) -> Option<Figure> {
    let told = format!("the body: {}, place {}", at.part.word(), at.number);
    figure(cage, Measure::BodyGap, bar, (at.gap, told, at.tool))
}

/// What is less than nothing overlaps: nothing is left.
fn figure(cage: &Cage, measure: Measure, of: Balloon, known: (Length, String, Option<Tool>)) -> Option<Figure> {
    let bar = cage.member(of)?;
    let (left, from, tool) = known;
    let left = if left < Length::default() { Length::default() } else { left };
    let (role, diameter, amount) = (Some(bar.role), bar.tube.outside, Amount::Length(left));
    Some(Figure { measure, of, role, diameter, amount, from, tool })
}

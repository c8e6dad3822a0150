//! Figures that follow from where the body is and who sits in the car: gaps to the body, room round a helmet.

use crate::domain::cage::around::Around;
use crate::domain::cage::around::body::{BodyAt, gaps};
use crate::domain::cage::around::seats::SeatAt;
use crate::domain::cage::parts::{Cage, Member};
use crate::domain::cage::record::seats::HELMET;
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::Figure;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::words::basis::{Basis, Diameter};
use crate::domain::words::ids::Balloon;
use crate::quantity::Length;

/// The narrowest and the widest gap to the body of each bar beside which it was measured, and of every bar how far the
/// helmet that has least is from the bar nearest to it, whichever bar that is, once all are laid out. A place that lies within a tube was measured
/// wrong and gives no figure.
pub fn gap_figures(cage: &Cage, around: &Around) -> Vec<Figure> {
    let outside: Vec<BodyAt> = around.body.iter().filter(|at| at.gap >= Length::default()).cloned().collect();
    let mut figures = Vec::new();
    for (bar, [narrowest, widest]) in gaps(&outside) {
        figures.extend(of_body(cage, bar, narrowest));
        if narrowest.number != widest.number {
            figures.extend(of_body(cage, bar, widest));
        }
    }
    // A bar that is not laid out yet may be nearer than those that are.
    if !cage.whole {
        return figures;
    }
    let nearest = |seat: &SeatAt| Some((helmet(cage, seat)?, seat.bars.first()?.1));
    let least = around.seats.iter().filter_map(nearest).min_by(|one, next| one.1.mm().total_cmp(&next.1.mm()));
    if let Some((description, left)) = least {
        let of = |bar: &Member| figure(cage, Measure::HeadGap, bar.balloon, (left, description.clone(), None));
        figures.extend(cage.members.iter().filter_map(of));
    }
    figures
}

/// What the room round a helmet rests on, with the bar nearest to it.
fn helmet(cage: &Cage, seat: &SeatAt) -> Option<String> {
    let bar = cage.member(seat.bars.first()?.0)?;
    let whose = if seat.radius == HELMET { "common practice" } else { "as the shop says" };
    Some(format!(
        "the seats: from the helmet of “{}”, taken as a ball of {} radius, {whose}, to {} {}",
        seat.name,
        seat.radius.in_both(),
        bar.balloon,
        bar.role.word()
    ))
}

fn of_body(cage: &Cage, bar: Balloon, at: &BodyAt) -> Option<Figure> {
    let description = format!("the body: {}, place {}", at.part.word(), at.number);
    figure(cage, Measure::BodyGap, bar, (at.gap, description, at.tool))
}

/// What is less than nothing overlaps: nothing is left.
fn figure(cage: &Cage, measure: Measure, of: Balloon, known: (Length, String, Option<Tool>)) -> Option<Figure> {
    let bar = cage.member(of)?;
    let (left, from, tool) = known;
    let left = if left < Length::default() { Length::default() } else { left };
    let (role, diameter, amount) = (Some(bar.role), Diameter::Planned(bar.tube.outside), Amount::Length(left));
    let basis = if tool.is_some() { Basis::Measured } else { Basis::Drawn };
    Some(Figure { measure, of, role, diameter, amount, from, basis, tool, spread: None })
}

//! A stick of the cut plan drawn: its pieces to scale one after the other, what is left of it empty.

use glam::dvec2;

use super::paper::text::width;
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::work::cut_plan::{CutPlan, CutStick};
use crate::quantity::{Length, Units};

/// How high a stick is for type of this size.
pub fn height(size: Length) -> Length {
    size * 5.4
}

/// One stick in a frame so wide, with type of this size; all sticks of a plan to one scale.
pub fn drawn(plan: &CutPlan, stick: &CutStick, (wide, size): (Length, Length), units: Units) -> Vec<Mark> {
    let longest = plan.sizes.iter().flat_map(|size| &size.sticks).map(|stick| stick.length.mm()).fold(1.0, f64::max);
    let scale = wide.mm() / longest;
    let (top, high) = (size.mm() * 1.6, size.mm() * 1.9);
    let text = |(x, y): (f64, f64), words: &str, weight: Weight, anchor: Anchor| {
        let (at, words) = (dvec2(x, y), words.to_owned());
        Mark::Text { at, size, words, weight, anchor, ink: Ink::Black }
    };
    let mut marks = vec![
        text((0.0, size.mm() * 1.1), &stick.named(units), Weight::Bold, Anchor::Start),
        text((wide.mm(), size.mm() * 1.1), &stick.left(units), Weight::Regular, Anchor::End),
        Mark::rectangle(dvec2(0.0, top), dvec2(stick.length.mm() * scale, high), Some(Pen::Narrow), None),
    ];
    let mut from = stick.trim.mm() * scale;
    // Names that do not fit in their piece stand under it, none over another.
    let mut free = 0.0;
    for piece in &stick.pieces {
        let long = piece.length.mm() * scale;
        marks.push(Mark::rectangle(dvec2(from, top), dvec2(long, high), Some(Pen::Wide), None));
        let middle = from + long / 2.0;
        let own = width(&piece.name, size, Weight::Bold).mm();
        if own + size.mm() * 0.5 <= long {
            marks.push(text((middle, top + size.mm() * 1.3), &piece.name, Weight::Bold, Anchor::Middle));
        } else {
            let left = (middle - own / 2.0).max(free);
            let below = top + high;
            let to = dvec2(left + own / 2.0, below + size.mm() * 0.4);
            marks.push(Mark::Line { from: dvec2(middle, below), to, pen: Pen::Narrow });
            marks.push(text((left, below + size.mm() * 1.35), &piece.name, Weight::Bold, Anchor::Start));
            free = left + own + size.mm() * 0.5;
        }
        from += long + plan.saw.kerf.value.mm() * scale;
    }
    marks
}

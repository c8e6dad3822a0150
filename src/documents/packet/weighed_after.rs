//! The finished car beside its prediction, in the packet.

use super::Packet;
use super::flow::{SMALL, TYPE};
use crate::documents::teller::Teller;
use crate::drawing::weight_line::{Classes, compared_line, height};
use crate::drawing::{Ink, Weight};
use crate::quantity::Length;

/// Its lines; none before the finished car was weighed.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    let Some(compared) = &packet.found.compared else { return };
    let units = packet.units;
    flow.subheading("The finished car beside its prediction");
    if let Some(rules) = packet.found.worked.rules.as_ref().filter(|rules| !rules.weight_classes.is_empty()) {
        let wide = Length::from_mm(flow.width().min(150.0));
        let drawn =
            compared_line(compared, &Classes { rules, chosen: packet.found.worked.chosen() }, (wide, TYPE), units);
        let shows = "The predicted weight and the weight weighed, on the line of the classes.";
        flow.drawing(shows, drawn, height(TYPE));
    }
    flow.words(&format!("{}.", compared.describe(units)), TYPE, Weight::Bold, Ink::Black);
    if let Some(description) = compared.describe_class() {
        flow.words(&format!("{description}."), TYPE, Weight::Bold, Ink::Black);
    }
    for effect in &compared.effects {
        flow.words(&format!("{}: {}.", effect.named(), effect.describe()), TYPE, Weight::Regular, Ink::Black);
    }
    for explains in &compared.explains {
        flow.words(&format!("{}.", explains.describe(units)), TYPE, Weight::Regular, Ink::Black);
    }
    for (words, at) in &compared.ticked_once {
        flow.words(&format!("Ticked at W{at} alone: {words}"), TYPE, Weight::Regular, Ink::Black);
    }
    let kept = "The prediction is as it stood when the finished car was weighed. ± is two standard deviations.";
    flow.words(kept, SMALL, Weight::Regular, Ink::Grey);
}

//! Views of a whole cage, with the balloons and the part that a reader is to look at.

use super::view::{Bar, Drawn, Scale, Scene, Spot, View, draw};
use crate::domain::cage::{Cage, Member};
use crate::domain::ids::{Balloon, Kind};
use crate::domain::shots::place;
use crate::quantity::Length;

/// How far a drawn bend may be from the true one: less than a pen's width at any scale used.
const SAGITTA: Length = Length::from_mm(1.0);

/// Which balloons a view carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbers {
    /// Those of one kind of part.
    Of(Kind),
    /// That of one part.
    Only(Balloon),
}

/// The cage in a frame of this width and height; what belongs to `at` stands out.
pub fn draw_cage(
    cage: &Cage,
    view: View,
    frame: (Length, Length),
    numbers: Numbers,
    at: Option<Balloon>,
    hidden: bool,
) -> Drawn {
    let bar = |member: &Member| Bar {
        balloon: member.balloon,
        polyline: member.line.chords(SAGITTA),
        outside: member.tube.outside,
    };
    let bars: Vec<Bar> = cage.members.iter().map(bar).collect();
    let wanted: Vec<Balloon> = match numbers {
        Numbers::Of(Kind::Joint) => cage.joints.iter().map(|joint| joint.balloon).collect(),
        Numbers::Of(Kind::Gusset) => cage.gussets.iter().map(|gusset| gusset.balloon).collect(),
        Numbers::Of(Kind::Plate) => cage.plates.iter().map(|plate| plate.balloon).collect(),
        Numbers::Of(_) => cage.members.iter().map(|member| member.balloon).collect(),
        Numbers::Only(part) => vec![part],
    };
    let spot = |balloon: Balloon| Some(Spot { balloon, at: place(cage, balloon)? });
    let spots: Vec<Spot> = wanted.into_iter().filter_map(spot).collect();
    let darkened = at.map(|at| belonging(cage, at)).unwrap_or_default();
    draw(&Scene { bars: &bars, spots: &spots, darkened: &darkened, hidden }, view, frame, Scale::Fit)
}

/// The part itself, and of a joint the bars that end there, of a gusset those it stands between, of a plate the one
/// that stands on it.
fn belonging(cage: &Cage, at: Balloon) -> Vec<Balloon> {
    let mut parts = vec![at];
    match at.kind {
        Kind::Joint => parts.extend(cage.joint(at).iter().flat_map(|joint| &joint.incoming).map(|end| end.0)),
        Kind::Gusset => {
            let gusset = cage.gussets.iter().find(|gusset| gusset.balloon == at);
            parts.extend(gusset.iter().flat_map(|gusset| [gusset.between.0, gusset.between.1]));
        }
        Kind::Plate => {
            let plate = cage.plates.iter().find(|plate| plate.balloon == at);
            parts.extend(plate.map(|plate| plate.under));
        }
        _ => {}
    }
    parts
}

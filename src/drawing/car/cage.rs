//! Views of a whole cage, with the balloons and the part that a reader is to look at.

use super::beside::{Beside, beside, parted};
use super::view::{Bar, Drawn, Scale, Scene, Spot, View, draw_with, locator, measured, small_with};
use crate::domain::cage::record::where_measured;
use crate::domain::cage::{Around, Cage, CageRecord, Member, TapeMeasure};
use crate::domain::judge::shots::place;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::Mark;
use crate::quantity::Length;

/// How far a drawn bend may be from the true one: less than a pen's width at any scale used.
const SAGITTA: Length = Length::from_mm(1.0);

/// Which balloons a view carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbers {
    /// Those of one kind of part.
    Of(Kind),
    /// None.
    Without,
}

/// Where to hold the tape for a measurement, on the example's cage: a car that is not measured yet has no picture.
pub fn measurement(example: &CageRecord, cage: &Cage, measure: TapeMeasure, frame: (Length, Length)) -> Vec<Mark> {
    let bar = |member: &Member| Bar {
        balloon: member.balloon,
        polyline: member.line.chords(Length::from_mm(20.0)),
        outside: member.tube.outside,
    };
    let bars: Vec<Bar> = cage.members.iter().map(bar).collect();
    let taken = where_measured::drawn(measure, example);
    taken.map(|points| measured(&bars, points, frame)).unwrap_or_default()
}

/// The cage small and without a number, for a choice between cages: what tells them apart stands out.
pub fn small(cage: &Cage, apart: &[Balloon], frame: (Length, Length)) -> Vec<Mark> {
    locator(&Scene { bars: &bars_of(cage), spots: &[], darkened: apart, hidden: false }, None, frame)
}

/// How a whole cage is shown.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    /// From where.
    pub view: View,
    /// With which balloons.
    pub numbers: Numbers,
    /// Whether what lies behind a bar is drawn in dashes; else it is left out.
    pub hidden: bool,
}

/// The cage, and this beside its bars, in a frame of this width and height.
pub fn draw_cage(cage: &Cage, beside: &[Beside], shown: Shown, frame: (Length, Length)) -> Drawn {
    let bars = bars_of(cage);
    let wanted: Vec<Balloon> = match shown.numbers {
        Numbers::Of(Kind::Joint) => cage.joints.iter().map(|joint| joint.balloon).collect(),
        Numbers::Of(Kind::Gusset) => cage.gussets.iter().map(|gusset| gusset.balloon).collect(),
        Numbers::Of(Kind::Plate) => cage.plates.iter().map(|plate| plate.balloon).collect(),
        Numbers::Of(_) => cage.members.iter().map(|member| member.balloon).collect(),
        Numbers::Without => Vec::new(),
    };
    let spot = |balloon: Balloon| Some(Spot { balloon, at: place(cage, balloon)? });
    let spots: Vec<Spot> = wanted.into_iter().filter_map(spot).collect();
    let scene = Scene { bars: &bars, spots: &spots, darkened: &[], hidden: shown.hidden };
    draw_with(&scene, beside, shown.view, frame, Scale::Fit)
}

/// The cage from one side without balloons, every place of the body with its number.
pub fn draw_with_body(cage: &Cage, around: &Around, view: View, frame: (Length, Length)) -> Vec<Mark> {
    view_beside(cage, &parted(beside(cage, around, true), view), view, frame)
}

/// The cage from one side without balloons, with this beside its bars.
pub fn view_beside(cage: &Cage, beside: &[Beside], view: View, frame: (Length, Length)) -> Vec<Mark> {
    let scene = Scene { bars: &bars_of(cage), spots: &[], darkened: &[], hidden: false };
    draw_with(&scene, beside, view, frame, Scale::Fit).marks
}

/// The cage small, some bars standing out, with this beside them.
pub fn small_beside(cage: &Cage, darkened: &[Balloon], beside: &[Beside], frame: (Length, Length)) -> Vec<Mark> {
    small_with(&Scene { bars: &bars_of(cage), spots: &[], darkened, hidden: false }, beside, frame)
}

/// Where on the car a part is: the cage small, what belongs to the part standing out.
pub fn locate(cage: &Cage, part: Balloon, frame: (Length, Length)) -> Vec<Mark> {
    let (bars, darkened) = (bars_of(cage), belonging(cage, part));
    let scene = Scene { bars: &bars, spots: &[], darkened: &darkened, hidden: false };
    locator(&scene, place(cage, part).map(|at| Spot { balloon: part, at }), frame)
}

pub(in crate::drawing) fn bars_of(cage: &Cage) -> Vec<Bar> {
    let bar = |member: &Member| Bar {
        balloon: member.balloon,
        polyline: member.line.chords(SAGITTA),
        outside: member.tube.outside,
    };
    cage.members.iter().map(bar).collect()
}

/// The part itself, and of a joint the bars that end there, of a gusset those it stands between, of a plate the one
/// that stands on it.
fn belonging(cage: &Cage, at: Balloon) -> Vec<Balloon> {
    let mut parts = vec![at];
    match at.kind {
        Kind::Joint => parts.extend(cage.joint(at).iter().flat_map(|joint| &joint.incoming).map(|end| end.0)),
        Kind::Gusset => {
            parts.extend(cage.gusset(at).iter().flat_map(|gusset| [gusset.between.0, gusset.between.1]));
        }
        Kind::Plate => parts.extend(cage.plate(at).map(|plate| plate.under)),
        _ => {}
    }
    parts
}

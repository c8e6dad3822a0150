//! Where on the cage a part is, as a picture on a sheet.

use crate::domain::cage::Cage;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::cage::locate;
use crate::quantity::Length;
use crate::web::svg::Svg;

/// The cage from the front left above with one part darkened and numbered; none before there is a cage.
pub(crate) fn locator(cage: &Cage, part: Balloon, frame: (Length, Length)) -> Option<Svg> {
    (!cage.members.is_empty()).then(|| Svg::of(&locate(cage, part, frame), frame, |_| None))
}

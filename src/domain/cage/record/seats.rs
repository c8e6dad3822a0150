//! Who sits in the car and where: the seat, the shoulder that the harness goes over, the helmet as a ball.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Length, Typed};

/// Most seats of one car (own choice).
const MOST: usize = 6;
/// A helmet's outside fits in a ball of this radius (*common practice*: shells are 240 to 300 mm long); a shop can say its own.
pub const HELMET: Length = Length::from_mm(150.0);
/// A belted head moves so far from where it was measured (*common practice*, own choice); a shop can say its own.
pub const REACH: Length = Length::from_mm(75.0);
/// Smallest and largest ball that is taken for a helmet (own choice).
const BALL: (Length, Length) = (Length::from_mm(80.0), Length::from_mm(300.0));
/// Farthest that a head is taken to move (own choice).
const FARTHEST: Length = Length::from_mm(600.0);

/// A seat and who sits in it. Forward is from the plane of the main hoop's feet, minus behind it; up is from the floor. `L`
/// is a length as it is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeatRecord<L = Typed<Length>> {
    /// Its own number among the seats.
    pub number: u32,
    /// Who sits there: "driver".
    pub name: String,
    /// The seat's middle, left of the centre plane; minus is to the right. Shoulder and helmet lie in the same plane.
    pub left: L,
    /// Where cushion and back meet, forward.
    pub hips_forward: L,
    /// The same, up.
    pub hips_up: L,
    /// The top of the shoulder, forward.
    pub shoulder_forward: L,
    /// The same, up.
    pub shoulder_up: L,
    /// The helmet's middle, forward.
    pub helmet_forward: L,
    /// The same, up.
    pub helmet_up: L,
    /// The helmet's ball; where none is said, the usual one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub helmet_radius: Option<L>,
    /// So far the head moves; where nothing is said, the usual.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reach: Option<L>,
}

impl<L> SeatRecord<L> {
    /// Its key.
    pub fn key(&self) -> String {
        format!("seat/{}", self.number)
    }

    /// A seat of its number, who sits there, the figures in the order of [`figures`](Self::figures), and the helmet's
    /// ball and the reach, which need not be said; none where a figure lacks.
    pub fn of((number, name): (u32, String), figures: [Option<L>; 7], stated: [Option<L>; 2]) -> Option<Self> {
        let [left, hips_forward, hips_up, shoulder_forward, shoulder_up, helmet_forward, helmet_up] = figures;
        let [helmet_radius, reach] = stated;
        Some(Self {
            number,
            name,
            left: left?,
            hips_forward: hips_forward?,
            hips_up: hips_up?,
            shoulder_forward: shoulder_forward?,
            shoulder_up: shoulder_up?,
            helmet_forward: helmet_forward?,
            helmet_up: helmet_up?,
            helmet_radius,
            reach,
        })
    }

    /// The figures that always stand there, by field name.
    pub fn figures(&self) -> [(&'static str, &L); 7] {
        [
            ("left", &self.left),
            ("hips_forward", &self.hips_forward),
            ("hips_up", &self.hips_up),
            ("shoulder_forward", &self.shoulder_forward),
            ("shoulder_up", &self.shoulder_up),
            ("helmet_forward", &self.helmet_forward),
            ("helmet_up", &self.helmet_up),
        ]
    }

    /// The same with its lengths kept another way: `read` gets the field's name and the length; none where it
    /// gives none.
    pub(in crate::domain::cage) fn with_lengths<M>(
        &self,
        mut read: impl FnMut(&str, &L) -> Option<M>,
    ) -> Option<SeatRecord<M>> {
        let figures = self.figures().map(|(name, length)| read(name, length));
        let stated = [("helmet_radius", &self.helmet_radius), ("reach", &self.reach)];
        let stated = stated.map(|(name, length)| length.as_ref().map(|length| read(name, length)));
        if stated.iter().any(|read| matches!(read, Some(None))) {
            return None;
        }
        SeatRecord::of((self.number, self.name.clone()), figures, stated.map(Option::flatten))
    }
}

impl SeatRecord {
    /// What cannot be stored, by the form's field names.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        for (at, typed) in self.figures() {
            if !(typed.value.is_finite() && typed.value.abs() <= limits::CAR) {
                faults.push(Fault::new(at, format!("“{}” is farther than a car is long.", typed.text)));
            }
        }
        let mut under = |at: &str, low: &Typed<Length>, high: &Typed<Length>, why: &str| {
            if low.value >= high.value {
                faults.push(Fault::new(at, why));
            }
        };
        under("hips_up", &self.hips_up, &self.shoulder_up, "The hips would be over the shoulder; measure both again.");
        under(
            "shoulder_up",
            &self.shoulder_up,
            &self.helmet_up,
            "The shoulder would be over the helmet's middle; measure both again.",
        );
        if let Some(radius) = self.helmet_radius.as_ref().filter(|r| !(r.value >= BALL.0 && r.value <= BALL.1)) {
            let fits = Length::between(BALL.0, BALL.1);
            let why = format!("“{}” is no helmet's radius: {fits} fits.", radius.text);
            faults.push(Fault::new("helmet_radius", why));
        }
        if let Some(reach) = self.reach.as_ref().filter(|r| !(r.value >= Length::default() && r.value <= FARTHEST)) {
            let why = format!("“{}”: from nothing to {} a head moves.", reach.text, Length::at_most(FARTHEST));
            faults.push(Fault::new("reach", why));
        }
        faults
    }

    /// Where it stands, every length as typed.
    pub fn describe(&self) -> String {
        let place = |forward: &Typed<Length>, up: &Typed<Length>| format!("{} forward, {} up", forward.text, up.text);
        let stated =
            |typed: &Option<Typed<Length>>| typed.as_ref().map_or("as usual", |typed| typed.text.as_str()).to_owned();
        format!(
            "{} left of the centre; hips {}; shoulder {}; helmet {}, its radius {}, reach {}",
            self.left.text,
            place(&self.hips_forward, &self.hips_up),
            place(&self.shoulder_forward, &self.shoulder_up),
            place(&self.helmet_forward, &self.helmet_up),
            stated(&self.helmet_radius),
            stated(&self.reach)
        )
    }
}

/// What cannot be stored of all of them, each field by its seat's key.
pub(in crate::domain::cage) fn faults(seats: &[SeatRecord]) -> Vec<Fault> {
    if seats.len() > MOST {
        return vec![Fault::new("seats", format!("At most {MOST} seats."))];
    }
    let mut faults = Vec::new();
    let mut numbers = BTreeSet::new();
    for seat in seats {
        faults.extend(
            seat.faults().into_iter().map(|fault| Fault::new(format!("{}/{}", seat.key(), fault.at), fault.why)),
        );
        if !numbers.insert(seat.number) {
            let why = format!("Two seats have the number {}; a number is given once.", seat.number);
            faults.push(Fault::new(seat.key(), why));
        }
    }
    faults
}

/// The number for the next seat.
pub fn next_number(seats: &[SeatRecord]) -> u32 {
    seats.iter().map(|seat| seat.number).max().unwrap_or(0).saturating_add(1)
}

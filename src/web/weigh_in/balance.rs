//! What the weigh-in sheet shows of the cage's mass: by size, where its middle is, what it does to the shares.

use crate::domain::cage::Masses;
use crate::domain::derived::findings::Findings;
use crate::domain::weight::balance::Wheels;
use crate::drawing::balance::balance;
use crate::quantity::{Length, Show as _, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::svg::Svg;

/// The cage's mass and where it is.
pub(super) struct Balance {
    pub(super) description: Option<CageMass>,
    pub(super) fields: Vec<Field>,
    /// What is known of where the wheels stand, in two words.
    pub(super) told: String,
    pub(super) to: String,
}

/// What is known of it.
pub(super) struct CageMass {
    pub(super) whole: String,
    /// What, how many, along the centre lines, mass.
    pub(super) rows: Vec<(String, usize, String, String)>,
    /// Forward of the hoop's feet, left of the centre plane, over the floor.
    pub(super) centre: [String; 3],
    pub(super) drawn: Svg,
    pub(super) shares: Result<Shares, &'static str>,
}

/// The shares before and after, and where the masses are.
pub(super) struct Shares {
    /// What, as weighed, with the cage, by how much.
    pub(super) rows: [(&'static str, String, String, String); 2],
    /// Where the weighed car's centre is, and the cage's.
    pub(super) places: [(&'static str, String, String); 2],
}

/// The drawing's frame and its type; on a phone its words stay readable.
const FRAME: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(88.0));
const SIZE: Length = Length::from_mm(5.2);

/// The names of the fields, as in the record.
pub(super) const FIELDS: [&str; 4] = ["wheelbase", "track_front", "track_rear", "hoop_behind"];

impl Balance {
    pub(super) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let wheels = seen.facts.wheels.as_ref();
        let typed = wheels.map(|wheels| {
            let texts = [&wheels.wheelbase, &wheels.track_front, &wheels.track_rear, &wheels.hoop_behind];
            FIELDS.into_iter().zip(texts).map(|(name, typed)| (name.to_owned(), typed.text.clone())).collect()
        });
        // What was typed stands; else what is recorded.
        let sent = FIELDS.into_iter().any(|name| !form.text(name).is_empty()) || form.text("wheels") == "yes";
        let recorded = Form::filled(seen.who.units, typed.unwrap_or_default());
        let form = if sent { form } else { &recorded };
        let fields = vec![
            form.field("wheelbase", "Wheelbase").hint("Between the axles: 98 1/2 in or 2500 mm."),
            form.field("track_front", "Track, front").hint("Between the middles of the front tyres."),
            form.field("track_rear", "Track, rear").hint("Between the middles of the rear tyres."),
            form.field("hoop_behind", "Main hoop's feet behind the front axle")
                .hint("Along the car, from the front axle back to the middle of the hoop's feet."),
        ];
        let told = wheels.map_or_else(|| "not measured".to_owned(), |wheels| wheels.wheelbase.text.clone());
        Self { description: describe(seen, found), fields, told, to: seen.address("/weigh-in/wheels") }
    }
}

/// The wheels as typed, or their faults noted.
pub(super) fn read(form: &mut Form) -> Option<Wheels> {
    let [wheelbase, track_front, track_rear, hoop_behind] = FIELDS.map(|name| form.read(name));
    Some(Wheels {
        wheelbase: wheelbase?,
        track_front: track_front?,
        track_rear: track_rear?,
        hoop_behind: hoop_behind?,
    })
}

fn describe(seen: &Seen, found: &Findings) -> Option<CageMass> {
    let (units, masses) = (seen.who.units, Masses::of(&found.worked.cage));
    let centre = masses.centre?;
    let row = |what: String, count: usize, length: String, mass: crate::quantity::Mass| {
        (what, count, length, mass.show(units))
    };
    let sizes = masses.tubes.iter();
    let mut rows: Vec<_> =
        sizes.map(|size| row(format!("tube {}", size.tube), size.bars, size.length.by_run(units), size.mass)).collect();
    rows.push(row("plates".to_owned(), masses.plates.0, String::new(), masses.plates.1));
    rows.push(row("gussets".to_owned(), masses.gussets.0, String::new(), masses.gussets.1));
    let wheels = seen.facts.wheels.as_ref();
    let drawn = balance(&found.worked.cage, centre, wheels, (FRAME, SIZE));
    Some(CageMass {
        whole: masses.whole.show(units),
        rows,
        centre: centre.to_array().map(|mm| Length::from_mm(mm).by_tape(units)),
        drawn: Svg::of(&drawn, FRAME, |_| None),
        shares: shares(seen, &masses, centre, units),
    })
}

fn shares(seen: &Seen, masses: &Masses, centre: glam::DVec3, units: Units) -> Result<Shares, &'static str> {
    let weighed = seen.facts.weigh_ins.first().ok_or("The car is not weighed yet.")?;
    let pads = weighed.reading.loads.pads().ok_or("The car was weighed as a whole: no share of a wheel is known.")?;
    let wheels = seen.facts.wheels.as_ref();
    let wheels = wheels.ok_or("Where the wheels stand is not known: measure the four below.")?;
    if weighed.reading.cage_in {
        return Err("The cage stood in the car on the scale: the shares above have it already.");
    }
    let at = wheels.place(centre);
    let with = wheels.with(pads, masses.whole, at);
    let row = |what, before: f64, after: f64| {
        let percent = |share: f64| format!("{:.1} %", share * 100.0);
        let by = format!("{:+.1} points", (after - before) * 100.0);
        (
            what,
            percent(before),
            percent(after),
            if by.trim_start_matches(['+', '-']).starts_with("0.0 ") { "none".to_owned() } else { by },
        )
    };
    let car = wheels.centre(pads);
    let place =
        |what, at: crate::domain::weight::balance::Placed| (what, at.behind.by_tape(units), beside(at.left, units));
    Ok(Shares {
        rows: [row("Front, LF + RF", pads.front(), with.front), row("Left, LF + LR", pads.left(), with.left)],
        places: [place("the weighed car", car), place("the cage", at)],
    })
}

/// How far beside the centre line, and on which side.
fn beside(left: Length, units: Units) -> String {
    let side = if left < Length::default() { "right" } else { "left" };
    // Under half a millimetre no tape tells the side.
    if left.abs() < Length::from_mm(0.5) {
        "on the centre line".to_owned()
    } else {
        format!("{} {side} of it", left.abs().by_tape(units))
    }
}

//! The cautions: each said once, plainly, where its work is. They are no training and stand in for none; the makers'
//! instructions and local codes come first.

/// What every sheet and page says of itself.
pub const APPROVES_NOTHING: &str = "Tackbook computes, records and presents; it approves nothing. The governing body's current rule book and its scrutineer \
     decide. Structural questions go to a licensed engineer, welds to a qualified welder; local codes and makers' instructions \
     first.";

/// Stands before anything else (*common practice*; the maker of the stands says what they carry and on what).
pub const STANDS_FIRST: &str = "Stands first: the car on stands rated for it, on hard and level ground, wheels chocked. Nobody reaches under it before, and \
     never while it hangs on a jack.";

/// The look underneath, before the cut (*common practice*).
pub const LOOK_UNDER: &str =
    "Then look underneath, with the battery disconnected: what lies under each cut is moved out of the way.";

/// Fuel: what held it is cleaned of vapour before hot work (29 CFR 1910.252(a)(3), *from memory*).
pub const FUEL: &str = "Fuel tank out of the car with its lines, or purged by somebody who is trained for it. A tank that is only emptied holds \
     vapour, and the vapour explodes.";

/// Charges that fire by heat or current (*common practice*; the car's maker says how and how long to wait).
pub const AIRBAGS: &str = "Airbags and belt tensioners disconnected as the car's maker says, and taken out: heat or a stray current fires them.";

/// What burns or gives poisonous fumes on a body's sheet (*common practice*; zinc: 29 CFR 1910.252(c), *from memory*).
pub const COATINGS: &str = "Sealer, underseal, matting and paint scraped off well past each cut and weld, on both faces: they burn, and their smoke is \
     poison. Zinc gives fumes that make you ill: grind it off where you weld, and draw the fumes away.";

/// Eyes, ears and breathing at the cut, which comes after all above (*common practice*).
pub const THEN_CUT: &str = "Only then cut. Goggles under the face shield, ears covered, a mask for dust and smoke; sparks away from people, carpet and \
     glass.";

/// Nobody where the car or the cage could fall (*common practice*).
pub const NOBODY_UNDER: &str =
    "Nobody under the car, and no hand between tube and floor, while it is sawn, welded or let down.";

/// The fire watch: half an hour by 29 CFR 1910.252(a)(2)(iii), an hour by NFPA 51B of 2019 (both *from memory*); the longer.
pub const FIRE_WATCH: &str = "Extinguisher in reach and one person who only watches for fire, through the work and for an hour after the last spark: \
     cavities smoulder.";

/// Who settles what a floor's structure and its welds need (this tool's own bounds).
pub const WHO_SETTLES: &str = "A floor's structure may not be cut: questions go to a licensed engineer. Welds by a qualified welder. The body's current book \
     and its scrutineer decide whether floors may be cut at all; the plan approves nothing.";

/// Before and while a cage is let down through its floor, in the order of the work: stands, then the look underneath, then the
/// cut.
pub const LOWERING: [&str; 9] =
    [STANDS_FIRST, LOOK_UNDER, FUEL, AIRBAGS, COATINGS, THEN_CUT, NOBODY_UNDER, FIRE_WATCH, WHO_SETTLES];

/// That a cage which hangs is held, with its own mass in the reader's units (*common practice*; the mass is the model's).
pub fn held(mass: &str) -> String {
    format!(
        "The cage weighs {mass} by the model, and more with what hangs on it. Hold it at two points or more by gear rated for \
         that before a plate is taken away; block it from below as soon as it is down."
    )
}

/// Where a photograph is taken from under the car (*common practice*).
pub const UNDER_THE_CAR: &str = "From underneath: only with the car on stands, on hard ground, wheels chocked. Never under a car that hangs on a jack.";

/// Where the car is driven or pushed onto the pads (*common practice*).
pub const ON_THE_PADS: &str = "Chock the wheels as soon as the car stands on the pads; nobody in front of it, behind it or under it while it is moved.";

/// Where coped ends are handled and cut to a template (*common practice*; gloves at turning tools: 29 CFR 1910.138 leaves it to
/// the hazard, makers of saws and drills forbid them, from memory).
pub const COPED_ENDS: &str = "Gloves to handle coped ends alone: their edges are razors. No gloves at a running saw, drill or grinder: they are drawn in \
     with the hand.";

/// Where tube is sawn (*common practice*; the saw's own instructions come first).
pub const SAW: &str = "At the saw: tube clamped, guard on, eyes and ears covered, nothing loose at sleeve or neck, no gloves. Let it stop before \
     you reach for the piece.";

/// Where tube is bent (*common practice*; the bender's own instructions come first).
pub const BENDER: &str = "At the bender: hands clear of die, follower and pin, they pinch without mercy; eyes covered; nobody in the tube's swing, and \
     it springs back when it is let go.";

/// Where seams are laid and where joints are released for it (*common practice*; ultraviolet, fumes, fire: ISO/TR 18786 and the
/// makers' safety sheets, from memory).
pub const WELDING: &str = "Welding: draw the fumes away at the arc, more so inside a car. Ultraviolet burns eyes and skin, other people's too: helmet, \
     leather, screens. Overhead, spatter falls on you: collar shut, ears covered. Fire: nothing that burns near, extinguisher in \
     reach, somebody watches for an hour after the last arc. Fuel tank, airbags, belt tensioners and battery out first.";

/// Where seams look down (*common practice*, all of it; a qualified welder and a written procedure decide).
pub const OVERHEAD: &str = "Overhead, by common practice and not by a procedure: first a coupon of the same tube in the same position, cut through \
     and looked at. Less heat than flat, short arc, short runs, the puddle small and cold enough to hold; body and head never under \
     it. Where a joint can be let down or turned, that is better than any of this. A qualified welder decides.";

/// Where an order of welding is suggested (*common practice*; our own rule, no standard's).
pub const WELD_ORDER: &str = "The order is a suggestion by common practice, no procedure: first what can be reached only while the cage is let down, then \
     the bracing while the middle of the car is open, then the rest, each time the joint farthest from the last one, so that heat \
     spreads and the cage pulls less. Leave the tacks in, measure the diagonals as you go, let each joint cool by itself. A \
     qualified welder decides.";

/// Where a grade of steel is chosen or welded (*common practice*; many books forbid the alloy or ask for a procedure of its own).
pub const CHROME_MOLY: &str = "Chrome-moly (4130, 25CrMo4) is not welded as mild steel is: filler and heat follow a procedure of its own, by a welder \
     qualified for it. Some books forbid it: ask the body first.";

/// The short list of a packet's cover, beside what the packet is and is not (*common practice*; each stands in full where its
/// work is).
pub const COVER: &str = "Before looking underneath: stands, never a jack alone. Before cutting or welding: fuel tank, airbags, belt tensioners and \
     battery out. At it: eyes, ears, breathing, skin; fumes drawn away; a fire watch for an hour afterwards.";

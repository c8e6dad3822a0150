//! How a figure with a doubt stands to a limit, by guarded acceptance (JCGM 106:2012, clause 8; the guard band is twice the
//! standard deviation, as ILAC-G8:09/2019 has it).

/// What is said wherever a figure was too close to call.
pub const RULE: &str = "A figure counts as inside or outside when it is so by at least twice the standard deviation of what \
                        it was read with (JCGM 106); nearer than that it is too close to call.";

/// So many standard deviations are the guard band.
const BAND: f64 = 2.0;

/// How a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acceptance {
    /// Inside by the band or more.
    Inside,
    /// Inside, but by less.
    InsideWithin,
    /// Outside, but by less.
    OutsideWithin,
    /// Outside by the band or more.
    Outside,
}

impl Acceptance {
    /// By the margin and one standard deviation in one unit; `inside` says on which side of the edge the figure lies.
    pub fn of(margin: f64, deviation: f64, inside: bool) -> Self {
        let clear = margin.abs() >= deviation.abs() * BAND;
        match (inside, clear) {
            (true, true) => Self::Inside,
            (true, false) => Self::InsideWithin,
            (false, false) => Self::OutsideWithin,
            (false, true) => Self::Outside,
        }
    }

    /// True when the doubt reaches over the edge.
    pub const fn too_close(self) -> bool {
        matches!(self, Self::InsideWithin | Self::OutsideWithin)
    }
}

//! The surface a branch tube is cut to, a round carrier or a flat plate, seen from the branch.

use glam::DVec3;

/// One surface in the branch's terms. `toward` and `aside` are square to the branch and to each other: `toward` leans
/// the carrier's way, `aside` is `toward` x `branch`. All lengths in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Carrier {
    pub(crate) branch: DVec3,
    pub(crate) toward: DVec3,
    pub(crate) aside: DVec3,
    /// Of the angle between the branch and the carrier's line or plate.
    pub(crate) sine: f64,
    pub(crate) cosine: f64,
    pub(crate) shape: Shape,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Shape {
    /// The branch's axis passes the carrier's axis at `offset` along `aside`.
    Round {
        radius: f64,
        offset: f64,
    },
    Flat,
}

impl Carrier {
    /// How far the branch's wall stands outside the carrier here; below zero it bites.
    pub(crate) fn overhang(&self, around: DVec3, reach: f64) -> f64 {
        match self.shape {
            Shape::Round { radius, offset } => (offset + reach * around.dot(self.aside)).abs() - radius,
            Shape::Flat => f64::NEG_INFINITY,
        }
    }

    /// Half of the carrier's width where the wall meets it, seen along the carrier.
    fn root(&self, around: DVec3, reach: f64) -> f64 {
        match self.shape {
            Shape::Round { radius, offset } => {
                // radius² - (offset + reach sin)², written so that equal tubes lose no digits where the root is none.
                let spare = (radius - reach) * (radius + reach);
                let beside = offset * (offset + 2.0 * reach * around.dot(self.aside));
                (spare - beside + (reach * around.dot(self.toward)).powi(2)).max(0.0).sqrt()
            }
            Shape::Flat => 0.0,
        }
    }

    /// Where the wall is cut: the distance along the branch from the node. `around` is the unit vector from the
    /// branch's axis to the place on the wall, `reach` the wall's radius there.
    pub(crate) fn cut(&self, around: DVec3, reach: f64) -> f64 {
        (self.root(around, reach) + reach * around.dot(self.toward) * self.cosine) / self.sine
    }

    /// How the cut changes with the angle around the branch; `onward` is the change of `around`.
    pub(crate) fn slope(&self, around: DVec3, onward: DVec3, reach: f64) -> f64 {
        let root = self.root(around, reach);
        let across = match self.shape {
            Shape::Round { offset, .. } if root > 0.0 => {
                -(offset + reach * around.dot(self.aside)) * reach * onward.dot(self.aside) / root
            }
            _ => 0.0,
        };
        (across + reach * onward.dot(self.toward) * self.cosine) / self.sine
    }

    /// The carrier's outward unit normal where the wall is cut.
    pub(crate) fn normal(&self, around: DVec3, reach: f64) -> DVec3 {
        match self.shape {
            Shape::Flat => self.branch * self.sine - self.toward * self.cosine,
            Shape::Round { offset, .. } => {
                let line = self.branch * self.cosine + self.toward * self.sine;
                let place = self.aside * offset + around * reach + self.branch * self.cut(around, reach);
                (place - line * place.dot(line)).normalize_or_zero()
            }
        }
    }
}

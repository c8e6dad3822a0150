//! The surface a branch tube is cut to, a round carrier or a flat plate, seen from the branch.

use glam::DVec3;

/// A place around a branch by the sine and cosine of its angle: 0 is where the branch leans the carrier's way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    pub(crate) sine: f64,
    pub(crate) cosine: f64,
}

impl Place {
    /// The place at an angle in radians.
    pub(crate) fn at(phi: f64) -> Self {
        let (sine, cosine) = phi.sin_cos();
        Self { sine, cosine }
    }

    /// The same place counted from another one.
    pub(crate) fn from(self, zero: Self) -> Self {
        Self {
            sine: self.sine * zero.cosine - self.cosine * zero.sine,
            cosine: self.cosine * zero.cosine + self.sine * zero.sine,
        }
    }
}

/// One surface in the branch's terms. `toward` and `aside` are square to the branch and to each other: `toward` leans
/// the carrier's way, `aside` is `toward` x `branch`. Places are counted from `toward` to `aside`; `reach` is the radius
/// of the wall that is looked at. All lengths in millimetres.
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
    /// Its own place 0 as another surface of the same branch counts it.
    pub(crate) fn zero_seen_by(&self, other: &Self) -> Place {
        Place { sine: self.toward.dot(other.aside), cosine: self.toward.dot(other.toward) }
    }

    /// How far the branch's wall stands outside the carrier here; below zero it bites.
    pub(crate) fn overhang(&self, place: Place, reach: f64) -> f64 {
        match self.shape {
            Shape::Round { radius, offset } => (offset + reach * place.sine).abs() - radius,
            Shape::Flat => f64::NEG_INFINITY,
        }
    }

    /// Half of the carrier's width where the wall meets it, seen along the carrier.
    pub(crate) fn root(&self, place: Place, reach: f64) -> f64 {
        match self.shape {
            Shape::Round { radius, offset } => {
                // radius² - (offset + reach sin)², written so that equal tubes lose no digits where the root is none.
                let spare = (radius - reach) * (radius + reach);
                let beside = offset * (offset + 2.0 * reach * place.sine);
                (spare - beside + (reach * place.cosine).powi(2)).max(0.0).sqrt()
            }
            Shape::Flat => 0.0,
        }
    }

    /// Where the wall is cut: the distance along the branch from the node.
    pub(crate) fn cut(&self, place: Place, reach: f64) -> f64 {
        (self.root(place, reach) + reach * place.cosine * self.cosine) / self.sine
    }

    /// How the cut changes with the angle around the branch.
    pub(crate) fn slope(&self, place: Place, reach: f64) -> f64 {
        let root = self.root(place, reach);
        let across = match self.shape {
            Shape::Round { offset, .. } if root > 0.0 => -(offset + reach * place.sine) * reach * place.cosine / root,
            _ => 0.0,
        };
        (across - reach * place.sine * self.cosine) / self.sine
    }

    /// How much the weld's face looks upward where the wall is cut, -1 to 1 for directions given with z up: the face
    /// halfway between this surface and the branch's wall.
    pub(crate) fn face_up(&self, place: Place, reach: f64) -> f64 {
        // The surface's outward normal, in parts along `aside` and along what is square to both the carrier and `aside`.
        let (beside, over) = match self.shape {
            Shape::Flat => (0.0, 1.0),
            Shape::Round { offset, .. } => {
                let (beside, over) = (offset + reach * place.sine, self.root(place, reach));
                let radius = beside.hypot(over);
                if radius > 0.0 { (beside / radius, over / radius) } else { (0.0, 0.0) }
            }
        };
        let [aside, toward, along] = [beside + place.sine, place.cosine - over * self.cosine, over * self.sine];
        let length = (aside * aside + toward * toward + along * along).sqrt();
        if length > 0.0 {
            (self.aside.z * aside + self.toward.z * toward + self.branch.z * along) / length
        } else {
            0.0
        }
    }
}

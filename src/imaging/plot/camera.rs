//! The camera: where a point of the shop falls in the picture.

use glam::DVec3;

/// Half the picture's height over its distance: a telephone's camera, 26 mm on 24 × 36 held as 4 : 3 (*from memory*),
/// moved in closer.
const HALF_HEIGHT: f64 = 0.40;
/// Nothing nearer than this is drawn, in millimetres.
const NEAREST: f64 = 20.0;

/// A camera that looks at a point, its upper edge up.
pub(super) struct Camera {
    /// Where it stands.
    pub(super) eye: DVec3,
    /// The direction it looks in.
    pub(super) forward: DVec3,
    /// To the right of the picture.
    pub(super) right: DVec3,
    /// Upward in the picture.
    pub(super) up: DVec3,
    centre: (f64, f64),
    scale: f64,
}

impl Camera {
    /// A camera at `eye` with `at` in the middle of a picture of `size` dots.
    pub(super) fn new(eye: DVec3, at: DVec3, size: (u32, u32)) -> Self {
        let forward = (at - eye).try_normalize().unwrap_or(DVec3::X);
        // looking straight up or down, the car's front is up in the picture
        let upright = if forward.z.abs() > 0.999 { DVec3::X } else { DVec3::Z };
        let right = forward.cross(upright).normalize_or(DVec3::Y);
        let up = right.cross(forward);
        let (width, height) = (f64::from(size.0), f64::from(size.1));
        Self { eye, forward, right, up, centre: (width / 2.0, height / 2.0), scale: height / 2.0 / HALF_HEIGHT }
    }

    /// How far in front of the camera, in millimetres.
    pub(super) fn depth(&self, point: DVec3) -> f64 {
        (point - self.eye).dot(self.forward)
    }

    /// Where a point falls, in dots from the upper left; none when it is behind the camera or too near.
    #[expect(clippy::cast_possible_truncation, reason = "the drawing library counts dots in single precision")]
    pub(super) fn project(&self, point: DVec3) -> Option<(f32, f32)> {
        let depth = self.depth(point);
        if depth < NEAREST {
            return None;
        }
        let seen = point - self.eye;
        let (across, up) = (seen.dot(self.right) / depth, seen.dot(self.up) / depth);
        Some(((self.centre.0 + across * self.scale) as f32, (self.centre.1 - up * self.scale) as f32))
    }

    /// How many dots a length in millimetres spans there; none behind the camera.
    pub(super) fn dots(&self, length: f64, point: DVec3) -> f64 {
        let depth = self.depth(point);
        if depth < NEAREST { 0.0 } else { length / depth * self.scale }
    }

    /// The part of a flat outline that lies in front of the camera.
    pub(super) fn in_front(&self, corners: &[DVec3]) -> Vec<DVec3> {
        let mut kept = Vec::new();
        for (one, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            let (here, there) = (self.depth(*one) - 2.0 * NEAREST, self.depth(*next) - 2.0 * NEAREST);
            if here >= 0.0 {
                kept.push(*one);
            }
            if (here >= 0.0) != (there >= 0.0) {
                kept.push(one.lerp(*next, here / (here - there)));
            }
        }
        kept
    }

    /// True when a ball of this radius in millimetres can show in the picture.
    pub(super) fn may_show(&self, point: DVec3, radius: f64) -> bool {
        let depth = self.depth(point);
        if depth < NEAREST {
            return false;
        }
        let seen = point - self.eye;
        let room = |half: f64| half / self.scale * depth + radius * 1.5;
        seen.dot(self.right).abs() < room(self.centre.0) && seen.dot(self.up).abs() < room(self.centre.1)
    }
}

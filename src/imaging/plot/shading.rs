//! How steel looks in the shop's light: bare tube, the dark ring of a coped seam, its tacks and their heat tint.

use glam::DVec3;

use super::backdrop::noise;
use super::camera::Camera;
use super::surface::{Facet, SEAM};

/// The lamps.
pub(super) struct Light {
    key: DVec3,
    fill: DVec3,
}

impl Light {
    /// A lamp over the photographer's left shoulder and a weaker one from the right.
    pub(super) fn beside(camera: &Camera) -> Self {
        let key = camera.up * 0.9 - camera.right * 0.65 - camera.forward * 0.7;
        let fill = camera.right * 0.8 - camera.forward * 0.5 - camera.up * 0.15;
        Self { key: key.normalize_or(DVec3::Z), fill: fill.normalize_or(DVec3::Y) }
    }
}

/// What a surface is made of.
pub(super) struct Material;

/// Reach of a tack, in millimetres.
const TACK: f64 = 4.2;
/// Reach of the heat tint, in millimetres.
const TINT: f64 = 17.0;

impl Material {
    /// The colour of a facet: red, green, blue.
    pub(super) fn colour(facet: &Facet, camera: &Camera, light: &Light, seed: u64) -> (u8, u8, u8) {
        let to_eye = (camera.eye - facet.middle).normalize_or(DVec3::Z);
        let lit = |lamp: DVec3| facet.normal.dot(lamp).max(0.0);
        let half = (light.key + to_eye).normalize_or(DVec3::Z);
        let gloss = Self::gloss(facet, half);
        let shadow = Self::corner_shadow(facet);
        let mut bright = (0.20 + 0.58 * lit(light.key) + 0.20 * lit(light.fill)) * shadow;
        bright *= 1.0 + 0.07 * Self::mill_marks(facet, seed);
        let (mut red, mut green, mut blue) = (172.0, 177.0, 184.0);
        if facet.along.is_none() {
            (red, green, blue) = (150.0, 153.0, 158.0);
        }
        let mut gloss = gloss * shadow;
        if facet.coped && facet.to_joint < TINT {
            let tacked = Self::tacked(facet, seed) * if facet.along.is_some() { 1.0 } else { 0.55 };
            if facet.to_joint < TACK * tacked {
                (red, green, blue) = (138.0, 134.0, 130.0);
                bright *= 1.0 + 0.18 * (facet.to_joint * 3.0).sin();
                gloss *= 1.3;
            } else if facet.to_joint < SEAM {
                (red, green, blue) = (46.0, 44.0, 43.0);
                gloss *= 0.15;
            } else if tacked > 0.0 {
                // straw next to the heat, then blue, then bare
                let away = facet.to_joint / TINT;
                let straw = (1.0 - (away - 0.35).abs() * 4.0).clamp(0.0, 1.0) * tacked;
                let blued = (1.0 - (away - 0.62).abs() * 4.0).clamp(0.0, 1.0) * tacked;
                red += 14.0 * straw - 48.0 * blued;
                green += -14.0 * straw - 30.0 * blued;
                blue += -62.0 * straw + 12.0 * blued;
            }
        }
        let tone = |base: f64| toned(base / 255.0 * bright * 1.25 + 0.62 * gloss);
        (tone(red), tone(green), tone(blue))
    }

    /// The lamp's reflection: a streak along a tube, a dull shine on a plate.
    fn gloss(facet: &Facet, half: DVec3) -> f64 {
        match facet.along {
            Some(along) => {
                let across = (half - along * half.dot(along)).normalize_or(half);
                facet.normal.dot(across).max(0.0).powi(38) * (1.0 - half.dot(along).powi(2)).max(0.0)
            }
            None => 0.25 * facet.normal.dot(half).max(0.0).powi(12),
        }
    }

    /// Less light reaches the corner between two tubes.
    fn corner_shadow(facet: &Facet) -> f64 {
        let open = (facet.to_joint.max(0.0) / 22.0).min(1.0);
        0.58 + 0.42 * open.sqrt()
    }

    /// Streaks along the tube and blotches, each between -1 and 1.
    fn mill_marks(facet: &Facet, seed: u64) -> f64 {
        let streak = noise(seed ^ (facet.part << 8), (facet.turn * 30.0, 0.0));
        let blotch = noise(seed ^ (facet.part << 8) ^ 0x51, (facet.run / 14.0, facet.turn * 9.0));
        0.6 * streak + 0.7 * blotch
    }

    /// How much of a tack there is here, 0 to 1: four around a tube, two on a plate's way out.
    fn tacked(facet: &Facet, seed: u64) -> f64 {
        let begin = (noise(seed ^ (facet.part << 16) ^ 0x7a, (0.5, 0.5)) + 1.0) / 8.0;
        let place = if facet.along.is_some() { facet.turn * 4.0 + begin } else { facet.run / 28.0 + begin };
        let off = (place - place.round()).abs();
        (1.0 - off / 0.26).clamp(0.0, 1.0).sqrt()
    }
}

/// A brightness, 1 being white, as a dot's value with soft highlights.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255 first")]
fn toned(bright: f64) -> u8 {
    let soft = if bright > 0.75 { 0.75 + 0.25 * (1.0 - (-(bright - 0.75) / 0.25).exp()) } else { bright };
    (soft * 255.0).round().clamp(0.0, 255.0) as u8
}

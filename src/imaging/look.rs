//! What is seen in a photograph: its size, when it was taken, and what there is to say about it as evidence.

use serde::{Deserialize, Serialize};

use super::decoding::{Decoded, decode};
use super::error::ImageError;
use super::grey::{Grey, difference_hash};

/// Long side of the grey picture that is judged, in dots; figures of other sizes do not compare.
const JUDGED_SIDE: u32 = 1024;
/// Sharpness below which a picture is called blurred. *From memory*: 100 is the usual figure; lower here, because a
/// smooth painted tube fills much of the frame.
const BLURRED: f64 = 40.0;
/// Mean of the middle below which a picture is called very dark (*from memory*).
const DARK: f64 = 45.0;
/// Share of black dots in the middle from which a picture is called very dark (*from memory*).
const MOSTLY_BLACK: f64 = 0.5;
/// Share of white dots in the middle from which a picture is called burnt out (*from memory*).
const MOSTLY_WHITE: f64 = 0.3;
/// Long side under which a card in the frame may not be readable on paper: 85 mm at 200 dots an inch, and the card a
/// third of the frame.
const SMALL: u32 = 1_000;

/// What was seen in a photograph.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Seen {
    /// Dots across, upright.
    pub width: u32,
    /// Dots down, upright.
    pub height: u32,
    /// When the camera says it was taken: `2026-05-04 10:11:12 +02:00`, the offset only where it knew it. A claim.
    pub taken: Option<String>,
    /// Variance of the Laplacian of the whole frame, brought to 1024 dots; the more, the sharper.
    pub sharpness: f64,
    /// Mean of the middle of the frame, 0 black to 255 white.
    pub mean: f64,
    /// Share of the middle that is black (at most 5 of 255).
    pub dark_share: f64,
    /// Share of the middle that is white (at least 250 of 255).
    pub bright_share: f64,
    /// The difference hash, to find pictures that look alike.
    pub difference_hash: u64,
    /// What there is to say about it, in sentences; they tell, and refuse nothing.
    pub remarks: Vec<String>,
}

/// Looks at a photograph.
pub fn look(bytes: &[u8]) -> Result<Seen, ImageError> {
    Ok(seen(&decode(bytes, super::views::SCREEN_SIDE)?))
}

/// What is seen in a decoded picture.
pub(super) fn seen(decoded: &Decoded) -> Seen {
    let grey = Grey::of(&decoded.pixels, JUDGED_SIDE);
    let middle = grey.middle();
    let mut seen = Seen {
        width: decoded.width,
        height: decoded.height,
        taken: decoded.taken.clone(),
        sharpness: short(grey.sharpness()),
        mean: short(middle.mean()),
        dark_share: short(middle.share_at_most(5.0)),
        bright_share: short(middle.share_at_least(250.0)),
        difference_hash: difference_hash(&decoded.pixels),
        remarks: Vec::new(),
    };
    seen.remarks = remarks(&seen);
    seen
}

/// A figure to six decimals: so short it comes back from JSON as it went.
fn short(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

/// What there is to say about a photograph as evidence.
pub fn remarks(seen: &Seen) -> Vec<String> {
    let mut remarks = Vec::new();
    let dark = seen.mean < DARK || seen.dark_share > MOSTLY_BLACK;
    if dark {
        remarks.push("Very dark in the middle. Bring a lamp and take it again if the seam cannot be seen.".to_owned());
    }
    if seen.bright_share > MOSTLY_WHITE {
        remarks.push("Burnt out white in the middle. Turn the lamp or the flash aside and take it again.".to_owned());
    }
    if seen.sharpness < BLURRED && !dark {
        let hint = "This looks blurred, or shows little but smooth paint. Look at the seam before you leave the joint.";
        remarks.push(hint.to_owned());
    }
    if seen.width.max(seen.height) < SMALL {
        remarks.push(format!(
            "A small picture ({} × {} dots): small letters may not be readable on paper.",
            seen.width, seen.height
        ));
    }
    remarks
}

#[cfg(test)]
mod tests {
    use image::{DynamicImage, GrayImage, Luma};

    use super::{Seen, look};
    use crate::imaging::grey::{hash_distance, look_alike};
    use crate::imaging::samples::{fields, jpeg, notes};

    fn seen(picture: GrayImage, notes: Option<&[u8]>) -> Seen {
        look(&jpeg(&DynamicImage::ImageLuma8(picture), notes)).unwrap()
    }

    fn says(seen: &Seen, words: &str) -> bool {
        seen.remarks.iter().any(|remark| remark.contains(words))
    }

    #[test]
    fn a_good_photo_gets_no_remark() {
        let good = seen(fields(1200, 900, 60, 190), None);
        assert_eq!(good.remarks, Vec::<String>::new(), "{good:?}");
        assert_eq!(good.taken, None);
    }

    #[test]
    fn blurred_dark_burnt_out_and_small_photos_are_told_not_refused() {
        let soft = GrayImage::from_fn(1200, 900, |x, _| Luma([u8::try_from(60 + x / 10).unwrap()]));
        assert!(says(&seen(soft, None), "blurred"));
        let night = seen(fields(1200, 900, 2, 30), None);
        assert!(says(&night, "Very dark") && !says(&night, "blurred"), "{night:?}");
        let arc =
            GrayImage::from_fn(1200, 900, |x, y| Luma([if (300..900).contains(&x) { 255 } else { (y % 200) as u8 }]));
        assert!(says(&seen(arc, None), "Burnt out"));
        assert!(says(&seen(fields(640, 480, 60, 190), None), "640 × 480"));
    }

    #[test]
    fn bright_edges_do_not_make_a_photo_burnt_out() {
        let window = GrayImage::from_fn(1200, 900, |x, y| {
            let edge = !(300..900).contains(&x) || !(225..675).contains(&y);
            Luma([if edge { 255 } else { u8::try_from(60 + 8 * ((x + y) % 10)).unwrap() }])
        });
        assert!(!says(&seen(window, None), "Burnt out"));
    }

    #[test]
    fn the_time_is_read_with_its_offset_and_the_place_is_not() {
        let file = fields(1200, 900, 60, 190);
        let with = seen(file.clone(), Some(&notes(1, "2026:05:04 10:11:12", "+02:00")));
        assert_eq!(with.taken.as_deref(), Some("2026-05-04 10:11:12 +02:00"));
        assert!(!serde_json::to_string(&with).unwrap().contains("34"), "{with:?}");
        let without = seen(file.clone(), Some(&notes(1, "2026:05:04 10:11:12", "")));
        assert_eq!(without.taken.as_deref(), Some("2026-05-04 10:11:12"));
        for nonsense in ["0000:00:00 00:00:00", "2026:13:04 10:11:12", "<b>yesterday</b>..."] {
            assert_eq!(seen(file.clone(), Some(&notes(1, nonsense, "+02:00"))).taken, None, "{nonsense}");
        }
    }

    #[test]
    fn the_same_view_smaller_and_brighter_looks_alike_and_another_does_not() {
        let blobs = |step: u32, lift: u32| {
            GrayImage::from_fn(1600 / step, 1200 / step, |x, y| {
                let (x, y) = (x * step, y * step);
                Luma([u8::try_from(lift + (x * x / 7000 + y * (1600 - x) / 9000) % 180).unwrap()])
            })
        };
        let other =
            GrayImage::from_fn(1600, 1200, |x, y| Luma([u8::try_from(20 + (x / 200 + y / 150) % 2 * 200).unwrap()]));
        let (one, again, other) = (seen(blobs(1, 20), None), seen(blobs(2, 30), None), seen(other, None));
        assert!(
            look_alike(one.difference_hash, again.difference_hash),
            "{:x} {:x}",
            one.difference_hash,
            again.difference_hash
        );
        assert!(hash_distance(one.difference_hash, other.difference_hash) > 10);
    }

    #[test]
    fn flat_pictures_look_like_no_other() {
        assert!(!look_alike(0, 0));
    }
}

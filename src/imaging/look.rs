//! What is seen in a photograph: its size, when it was taken, how sharp and how bright it is.

use super::decoding::{Decoded, decode};
use super::error::ImageError;
use super::grey::{Grey, difference_hash};
use crate::domain::shop::looks::Seen;

/// Long side of the grey picture that is judged, in dots; figures of other sizes do not compare.
const JUDGED_SIDE: u32 = 1024;

/// Looks at a photograph.
pub fn look(bytes: &[u8]) -> Result<Seen, ImageError> {
    Ok(seen(&decode(bytes, super::views::SCREEN_SIDE)?))
}

/// What is seen in a decoded picture.
pub(super) fn seen(decoded: &Decoded) -> Seen {
    let grey = Grey::of(&decoded.pixels, JUDGED_SIDE);
    let middle = grey.middle();
    Seen {
        width: decoded.width,
        height: decoded.height,
        taken: decoded.taken.clone(),
        sharpness: short(grey.sharpness()),
        mean: short(middle.mean()),
        dark_share: short(middle.share_at_most(5.0)),
        bright_share: short(middle.share_at_least(250.0)),
        difference_hash: difference_hash(&decoded.pixels),
    }
}

/// A figure to six decimals: so short it comes back from JSON as it went.
fn short(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

#[cfg(test)]
mod tests {
    use image::{DynamicImage, GrayImage, Luma};

    use super::look;
    use crate::domain::shop::looks::{Bounds, Seen, hash_distance, look_alike, remarks};
    use crate::imaging::samples::{fields, jpeg, notes};

    fn seen(picture: GrayImage, notes: Option<&[u8]>) -> Seen {
        look(&jpeg(&DynamicImage::ImageLuma8(picture), notes)).unwrap()
    }

    fn describe(seen: &Seen) -> Vec<String> {
        remarks(seen, &Bounds::default())
    }

    fn says(seen: &Seen, words: &str) -> bool {
        describe(seen).iter().any(|remark| remark.contains(words))
    }

    #[test]
    fn a_good_photo_gets_no_remark() {
        let good = seen(fields(1200, 900, 60, 190), None);
        assert_eq!(describe(&good), Vec::<String>::new(), "{good:?}");
        assert_eq!(good.taken, None);
    }

    #[test]
    fn blurred_dark_washed_out_and_small_photos_are_told_not_refused() {
        let soft = GrayImage::from_fn(1200, 900, |x, _| Luma([u8::try_from(60 + x / 10).unwrap()]));
        assert!(says(&seen(soft, None), "blurred"));
        let night = seen(fields(1200, 900, 2, 30), None);
        assert!(says(&night, "Very dark") && !says(&night, "blurred"), "{night:?}");
        let arc =
            GrayImage::from_fn(1200, 900, |x, y| Luma([if (300..900).contains(&x) { 255 } else { (y % 200) as u8 }]));
        assert!(says(&seen(arc, None), "Washed out"));
        assert!(says(&seen(fields(640, 480, 60, 190), None), "640 × 480"));
    }

    #[test]
    fn bright_edges_do_not_make_a_photo_washed_out() {
        let window = GrayImage::from_fn(1200, 900, |x, y| {
            let edge = !(300..900).contains(&x) || !(225..675).contains(&y);
            Luma([if edge { 255 } else { u8::try_from(60 + 8 * ((x + y) % 10)).unwrap() }])
        });
        assert!(!says(&seen(window, None), "Washed out"));
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
            look_alike(one.difference_hash, again.difference_hash, 10),
            "{:x} {:x}",
            one.difference_hash,
            again.difference_hash
        );
        assert!(hash_distance(one.difference_hash, other.difference_hash) > 10);
    }
}

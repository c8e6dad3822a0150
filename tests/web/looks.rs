//! What is said of a photograph when it comes: nearly the same as another, by the shop's own bounds; the camera's claim.

use axum::http::StatusCode;
use jpeg_encoder::{ColorType, Encoder};
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for};
use crate::house::House;

const WIDE: &str = "J7 joint-tacked/wide";
const OTHER: &str = "J8 joint-tacked/wide";

/// Camera notes (EXIF 2.3, little end first): a time with its offset, and a place.
fn notes(taken: &str) -> Vec<u8> {
    let taken = format!("{taken}\0");
    let mut out = b"II*\0\x08\0\0\0".to_vec();
    let directory = |out: &mut Vec<u8>, entries: &[(u16, u16, u32, u32)]| {
        out.extend(u16::try_from(entries.len()).unwrap().to_le_bytes());
        for (tag, kind, count, value) in entries {
            out.extend(tag.to_le_bytes());
            out.extend(kind.to_le_bytes());
            out.extend(count.to_le_bytes());
            out.extend(value.to_le_bytes());
        }
        out.extend([0; 4]);
    };
    // the header, then the directory with two entries, the camera's with two, the place's with two, then what they lead to
    let (camera, place, words) = (8 + 30, 8 + 30 + 30, 8 + 30 + 30 + 30);
    let long = u32::try_from(taken.len()).unwrap();
    directory(&mut out, &[(0x8769, 4, 1, camera), (0x8825, 4, 1, place)]);
    directory(&mut out, &[(0x9003, 2, long, words), (0x9011, 2, 7, words + long)]);
    directory(&mut out, &[(1, 2, 2, u32::from(b'N')), (2, 5, 3, words + long + 7)]);
    out.extend(taken.bytes().chain(*b"+02:00\0"));
    for part in [47_u32, 1, 11, 1, 58, 1] {
        out.extend(part.to_le_bytes());
    }
    out
}

/// Broad light and shade with an edge everywhere, a little brighter with each step; `seed` gives another place.
fn picture(seed: u32, brighter: u8, notes: Option<&[u8]>) -> Vec<u8> {
    let (width, height) = (1200_u16, 900_u16);
    let mut grey = Vec::new();
    for y in 0..u32::from(height) {
        for x in 0..u32::from(width) {
            let block = (x / 150 + 1) * (y / 120 + 3) * (seed * 7 + 5) % 11 * 12;
            let edge = if (x / 4 + y / 4) % 2 == 0 { 0 } else { 30 };
            grey.push(u8::try_from(50 + block + edge).unwrap().saturating_add(brighter));
        }
    }
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, 88);
    if let Some(notes) = notes {
        encoder.add_exif_metadata(notes).unwrap();
    }
    encoder.encode(&grey, width, height, ColorType::Luma).unwrap();
    out
}

#[tokio::test]
async fn nearly_the_same_picture_at_another_shot_is_told_at_once_by_the_shops_bound() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let remarks = |receipt: &str| serde_json::from_str::<serde_json::Value>(receipt).unwrap()["remarks"].to_string();
    assert_eq!(remarks(&phone.keep(&picture(1, 0, None), WIDE).await.text), "[]");
    let again = remarks(&phone.keep(&picture(1, 6, None), OTHER).await.text);
    assert!(again.contains("Nearly the same picture as the one at J7 joint-tacked/wide"), "{again}");
    // Once more for the same shot is what one does, and another place is another picture.
    assert_eq!(
        remarks(&phone.keep(&picture(1, 9, None), WIDE).await.text),
        format!("[\"Nearly the same picture as the one at {OTHER}. Look whether it shows the right place.\"]")
    );
    assert_eq!(remarks(&phone.keep(&picture(2, 0, None), OTHER).await.text), "[]");
    // The shop sets what is told; it counts for those that come after.
    let office = house.browser("office").await;
    let bounds = |alike: &'static str| {
        [("blurred", "40"), ("dark", "45"), ("black", "50 %"), ("washed_out", "30 %"), ("alike", alike)]
    };
    for (wrong, words) in [("65", "From 0 to 20"), ("few", "whole number"), ("", "Type a number")] {
        let refused = office.post("/shop/looking", &bounds(wrong)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
        assert!(refused.text.contains(words), "{words}: {}", refused.text);
    }
    assert_eq!(office.post("/shop/looking", &bounds("0")).await.status, StatusCode::SEE_OTHER);
    assert!(office.get("/shop/looking").await.text.contains("name=\"alike\" type=\"text\" value=\"0\""));
    assert_eq!(remarks(&phone.keep(&picture(1, 12, None), OTHER).await.text), "[]");
    let stays =
        phone.browser.get(&format!("/builds/elm-saloon/photos/{}", Fingerprint::of(&picture(1, 6, None)))).await.text;
    assert!(stays.contains("Nearly the same picture"), "{stays}");
    assert_eq!(phone.browser.post("/shop/looking", &bounds("6")).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_the_camera_claims_stands_beside_the_time_that_counts_and_the_place_nowhere() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let bytes = picture(3, 0, Some(&notes("2026:05:04 10:18:00")));
    phone.keep(&bytes, WIDE).await;
    let page = phone.browser.get(&format!("/builds/elm-saloon/photos/{}", Fingerprint::of(&bytes))).await.text;
    // Received at 09:30 UTC; the camera says 10:18 two hours east of it.
    assert!(page.contains("taken 2026-05-04 10:18:00 +02:00; 1 h 12 min before it"), "{page}");
    assert!(page.contains("Received</th><td>2026-05-04 09:30"), "{page}");
    for place in ["47", "GPS", "latitude"] {
        assert!(
            !page.replace(&Fingerprint::of(&bytes).to_string(), "").contains(&format!(" {place}")),
            "{place}: {page}"
        );
    }
    let wrong = picture(4, 0, Some(&notes("2031:13:04 10:18:00")));
    phone.keep(&wrong, OTHER).await;
    let page = phone.browser.get(&format!("/builds/elm-saloon/photos/{}", Fingerprint::of(&wrong))).await.text;
    assert!(!page.contains("The camera says"), "{page}");
}

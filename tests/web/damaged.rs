//! Damaged pictures: bytes flipped, cut off, headers that lie. They are kept and told of, and break nothing.

use image::{DynamicImage, GrayImage, ImageFormat, Luma};
use jpeg_encoder::{ColorType, Encoder};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::imaging::{ImageError, look};
use tackbook::store::vault::Item;

use crate::camera::{Phone, new_capture};
use crate::house::House;

const WIDE: u16 = 240;
const HIGH: u16 = 180;

/// A number that looks like chance and is the same each time (xorshift, Marsaglia 2003).
struct Chance(u32);

impl Chance {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        usize::try_from(self.0).unwrap() % most.max(1)
    }
}

fn grey() -> GrayImage {
    GrayImage::from_fn(WIDE.into(), HIGH.into(), |x, y| {
        Luma([u8::try_from((x * x / 90 + y * 3 + (x / 9 + y / 7) % 2 * 60) % 230).unwrap()])
    })
}

/// Whole pictures of every kind that is taken.
fn whole() -> Vec<Vec<u8>> {
    let grey = grey();
    let jpeg = |progressive| {
        let mut out = Vec::new();
        let mut encoder = Encoder::new(&mut out, 85);
        encoder.set_progressive(progressive);
        encoder.encode(grey.as_raw(), WIDE, HIGH, ColorType::Luma).unwrap();
        out
    };
    let other = |format| {
        let mut out = std::io::Cursor::new(Vec::new());
        DynamicImage::ImageLuma8(grey.clone()).write_to(&mut out, format).unwrap();
        out.into_inner()
    };
    vec![jpeg(false), jpeg(true), other(ImageFormat::Png), other(ImageFormat::WebP)]
}

/// The picture with one kind of damage, drawn by chance.
fn damaged(whole: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    match chance.below(4) {
        // a run of bytes turned over, the first few left so that it still is called a picture
        0 => {
            let (at, long) = (12 + chance.below(bytes.len() - 12), 1 + chance.below(64));
            bytes.iter_mut().skip(at).take(long).for_each(|byte| *byte = !*byte);
        }
        // single bits, anywhere behind the name of its kind
        1 => {
            for _ in 0..8 {
                let at = 12 + chance.below(bytes.len() - 12);
                let bit = 1 << chance.below(8);
                bytes.iter_mut().skip(at).take(1).for_each(|byte| *byte ^= bit);
            }
        }
        // the end missing
        2 => bytes.truncate(12 + chance.below(bytes.len() - 12)),
        // a piece of it once more in the middle of it
        _ => {
            let at = 12 + chance.below(bytes.len() - 12);
            let piece: Vec<u8> = bytes.iter().skip(chance.below(at)).take(200).copied().collect();
            bytes.splice(at..at, piece);
        }
    }
    bytes
}

/// Pictures whose header names another size than they have, up to giants of many gigabytes.
fn lying() -> Vec<Vec<u8>> {
    let mut lying = Vec::new();
    let [jpeg, _, png, webp] = <[Vec<u8>; 4]>::try_from(whole()).unwrap();
    // JPEG: two bytes of height and two of width, five behind the marker of its frame (ITU-T T.81, B.2.2)
    let frame = jpeg.windows(2).position(|two| two == [0xff, 0xc0]).unwrap() + 5;
    // PNG: four bytes each behind IHDR (PNG 11.2.2); WebP without an extended header: fourteen bits each (RFC 6386, 9.1)
    let header = png.windows(4).position(|four| four == b"IHDR").unwrap() + 4;
    for size in [0_u32, 1, 239, 4_000, 20_001, 65_535] {
        let two = u16::try_from(size).unwrap().to_be_bytes();
        let mut told = jpeg.clone();
        told.splice(frame..frame + 4, [two, two].concat());
        lying.push(told);
        let mut told = png.clone();
        told.splice(header..header + 8, [size.to_be_bytes(), size.to_be_bytes()].concat());
        let sum = crc(told.get(header - 4..header + 13).unwrap());
        told.splice(header + 13..header + 17, sum.to_be_bytes());
        lying.push(told);
    }
    let mut long = webp.clone();
    long.splice(4..8, u32::MAX.to_le_bytes());
    let mut short = webp;
    short.splice(4..8, 16_u32.to_le_bytes());
    lying.extend([long, short]);
    lying
}

/// The sum that ends a PNG's chunk (PNG, annex D), so that the lie reads as the truth.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 })
    })
}

#[test]
fn no_damage_makes_looking_stop_and_giants_are_refused_by_their_header() {
    let mut chance = Chance(20_260_504);
    for whole in whole() {
        assert!(look(&whole).is_ok());
        for _ in 0..150 {
            // either figures or a reason: a panic would end this test
            let _ = look(&damaged(&whole, &mut chance));
        }
    }
    let mut giants = 0;
    for told in lying() {
        if let Err(ImageError::TooLarge { width, height }) = look(&told) {
            assert!(u64::from(width) * u64::from(height) > 110_000_000, "{width} × {height}");
            giants += 1;
        }
    }
    assert_eq!(giants, 4, "JPEG and PNG of 20,001 and 65,535 dots a side");
}

#[tokio::test]
async fn damaged_pictures_sent_by_a_phone_are_kept_or_refused_and_the_sheets_go_on() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let mut chance = Chance(7);
    let mut sent: Vec<Vec<u8>> =
        whole().iter().flat_map(|whole| [(); 4].map(|()| damaged(whole, &mut chance))).collect();
    sent.extend(lying().into_iter().step_by(3));
    for bytes in &sent {
        phone.tell(&new_capture(), bytes, "").await;
        let answer = phone.send(bytes, 0, bytes.len(), true).await;
        assert!(answer.status.is_success() || answer.status.is_client_error(), "{}: {}", answer.status, answer.text);
        for last in ["", "/thumbnail", "/large", "/marks", "/original"] {
            let shown = phone.ask("GET", &format!("/photos/{}{last}", Fingerprint::of(bytes)), &[], Vec::new()).await;
            assert!(!shown.status.is_server_error(), "{last} {}: {}", shown.status, shown.text);
        }
    }
    for last in ["/photos", "/photos/days", "/photos/unplaced", "/photos/contact.pdf"] {
        let shown = phone.ask("GET", last, &[], Vec::new()).await;
        assert!(shown.status.is_success(), "{last} {}: {}", shown.status, shown.text);
    }
    // Every one that was taken is there as it was sent.
    let build = house.store.builds().await.unwrap().remove(0).id;
    let kept = house.store.photos(build).await.unwrap();
    assert!(kept.iter().filter(|photo| photo.received.is_some()).count() >= sent.len() / 2);
    for photo in kept.iter().filter(|photo| photo.received.is_some()) {
        let bytes = crate::kept::kept(&house.store, Item::Photo(photo.sha256.clone())).await.unwrap();
        assert_eq!(Fingerprint::of(&bytes), photo.sha256);
    }
}

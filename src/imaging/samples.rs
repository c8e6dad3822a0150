//! Pictures made for the tests of this floor.

use image::{DynamicImage, GrayImage, Rgb, RgbImage};
use jpeg_encoder::{ColorType, Encoder};

/// A picture with hard edges everywhere, a different colour in each quarter: red, green, blue, white.
pub(super) fn quarters(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| match (x < width / 2, y < height / 2) {
        (true, true) => Rgb([230, 20, 20]),
        (false, true) => Rgb([20, 230, 20]),
        (true, false) => Rgb([20, 20, 230]),
        (false, false) => Rgb([240, 240, 240]),
    })
}

/// A grey picture of small bright and dim fields.
pub(super) fn fields(width: u32, height: u32, dim: u8, bright: u8) -> GrayImage {
    GrayImage::from_fn(width, height, |x, y| image::Luma([if (x / 3 + y / 5) % 2 == 0 { dim } else { bright }]))
}

/// A JPEG with these camera notes, if any.
pub(super) fn jpeg(picture: &DynamicImage, notes: Option<&[u8]>) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, 92);
    if let Some(notes) = notes {
        encoder.add_exif_metadata(notes).unwrap();
    }
    let (width, height) = (u16::try_from(picture.width()).unwrap(), u16::try_from(picture.height()).unwrap());
    match picture {
        DynamicImage::ImageLuma8(grey) => encoder.encode(grey.as_raw(), width, height, ColorType::Luma).unwrap(),
        other => encoder.encode(other.to_rgb8().as_raw(), width, height, ColorType::Rgb).unwrap(),
    }
    out
}

/// A picture in another format.
pub(super) fn in_format(picture: &DynamicImage, format: image::ImageFormat) -> Vec<u8> {
    let mut out = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut out, format).unwrap();
    out.into_inner()
}

/// Camera notes (EXIF 2.3, little end first): orientation, time with offset, and a place at 12° 34′ north.
pub(super) fn notes(orientation: u8, taken: &str, offset: &str) -> Vec<u8> {
    let mut out = b"II*\0\x08\0\0\0".to_vec();
    let (camera_at, place_at) = (8 + 2 + 3 * 12 + 4, 8 + 2 + 3 * 12 + 4 + 2 + 2 * 12 + 4);
    let texts_at = place_at + 2 + 2 * 12 + 4;
    let (taken, offset) = (format!("{taken}\0"), format!("{offset}\0"));
    let length = |text: &str| u32::try_from(text.len()).unwrap();
    directory(&mut out, &[(0x0112, 3, 1, u32::from(orientation)), (0x8769, 4, 1, camera_at), (0x8825, 4, 1, place_at)]);
    let offset_at = texts_at + length(&taken);
    directory(&mut out, &[(0x9003, 2, length(&taken), texts_at), (0x9011, 2, length(&offset), offset_at)]);
    directory(&mut out, &[(1, 2, 2, u32::from(b'N')), (2, 5, 3, offset_at + length(&offset))]);
    out.extend(taken.as_bytes());
    out.extend(offset.as_bytes());
    for part in [12_u32, 1, 34, 1, 0, 1] {
        out.extend(part.to_le_bytes());
    }
    out
}

fn directory(out: &mut Vec<u8>, entries: &[(u16, u16, u32, u32)]) {
    out.extend(u16::try_from(entries.len()).unwrap().to_le_bytes());
    for (tag, kind, count, value) in entries {
        out.extend(tag.to_le_bytes());
        out.extend(kind.to_le_bytes());
        out.extend(count.to_le_bytes());
        out.extend(value.to_le_bytes());
    }
    out.extend([0; 4]);
}

/// A grey JPEG whose dots jump, so that it does not press well.
pub(crate) fn grain(seed: u32, width: u16, height: u16) -> Vec<u8> {
    let mut state = seed;
    let mut jump = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        state.to_be_bytes()[0]
    };
    let pixels: Vec<u8> = (0..usize::from(width) * usize::from(height)).map(|_| jump()).collect();
    let mut bytes = Vec::new();
    jpeg_encoder::Encoder::new(&mut bytes, 80).encode(&pixels, width, height, jpeg_encoder::ColorType::Luma).unwrap();
    bytes
}

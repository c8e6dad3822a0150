//! Small upright copies of a photograph for screen, list and paper, with nothing in them but the picture.

use image::DynamicImage;
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

use super::decoding::{Decoded, decode, shrunk};
use super::error::ImageError;

/// Long side of the copy for the screen, in dots.
pub const SCREEN_SIDE: u32 = 1_600;
/// Long side of the copy for lists, in dots.
pub const THUMBNAIL_SIDE: u32 = 320;
/// Long side of the copy for paper, in dots.
pub const PRINT_SIDE: u32 = 1_200;
/// JPEG quality of the copies for screen and lists.
const SCREEN_QUALITY: u8 = 82;
/// JPEG quality of the copy for paper.
const PRINT_QUALITY: u8 = 80;

/// Copies of a photograph, all JPEG, upright, without notes of the camera or the place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Views {
    /// For the screen, at most [`SCREEN_SIDE`] dots.
    pub screen: Vec<u8>,
    /// For lists, at most [`THUMBNAIL_SIDE`] dots.
    pub thumbnail: Vec<u8>,
    /// For paper, at most [`PRINT_SIDE`] dots.
    pub print: Vec<u8>,
}

/// Makes the copies of a photograph.
pub fn views(bytes: &[u8]) -> Result<Views, ImageError> {
    views_of(&decode(bytes, SCREEN_SIDE)?)
}

/// A copy for paper made smaller still: its long side at most `long_side` dots.
pub fn smaller(print: &[u8], long_side: u32) -> Result<Vec<u8>, ImageError> {
    jpeg_of(&decode(print, long_side)?.pixels, PRINT_QUALITY)
}

/// Makes the copies of a decoded picture.
pub(super) fn views_of(decoded: &Decoded) -> Result<Views, ImageError> {
    let print = shrunk(decoded.pixels.clone(), PRINT_SIDE);
    let thumbnail = shrunk(print.clone(), THUMBNAIL_SIDE);
    Ok(Views {
        screen: jpeg_of(&decoded.pixels, SCREEN_QUALITY)?,
        thumbnail: jpeg_of(&thumbnail, SCREEN_QUALITY)?,
        print: jpeg_of(&print, PRINT_QUALITY)?,
    })
}

/// A picture as a JPEG of this quality; grey stays grey.
pub(super) fn jpeg_of(pixels: &DynamicImage, quality: u8) -> Result<Vec<u8>, ImageError> {
    let side = |dots: u32| u16::try_from(dots).map_err(|_| ImageError::NoPreview);
    let (width, height) = (side(pixels.width())?, side(pixels.height())?);
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, quality);
    encoder.set_sampling_factor(SamplingFactor::F_2_2);
    let encoded = match pixels {
        DynamicImage::ImageLuma8(grey) => encoder.encode(grey.as_raw(), width, height, ColorType::Luma),
        other => encoder.encode(other.to_rgb8().as_raw(), width, height, ColorType::Rgb),
    };
    encoded.map_err(|_| ImageError::NoPreview)?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use image::{DynamicImage, ImageFormat, RgbImage};

    use super::views;
    use crate::imaging::look;
    use crate::imaging::samples::{fields, in_format, jpeg, notes, quarters};

    /// The upright place of a stored dot (EXIF 2.3 tag 0x0112, as in the check values `photo.exif.*`).
    fn upright_place(orientation: u8, (x, y): (u32, u32), (width, height): (u32, u32)) -> (u32, u32) {
        let (from_right, from_bottom) = (width - 1 - x, height - 1 - y);
        match orientation {
            1 => (x, y),
            2 => (from_right, y),
            3 => (from_right, from_bottom),
            4 => (x, from_bottom),
            5 => (y, x),
            6 => (from_bottom, x),
            7 => (from_bottom, from_right),
            8 => (y, from_right),
            other => panic!("{other}"),
        }
    }

    fn stored(upright: &RgbImage, orientation: u8) -> RgbImage {
        let (width, height) =
            if orientation >= 5 { (upright.height(), upright.width()) } else { (upright.width(), upright.height()) };
        RgbImage::from_fn(width, height, |x, y| {
            let (across, down) = upright_place(orientation, (x, y), (width, height));
            *upright.get_pixel(across, down)
        })
    }

    #[test]
    fn every_orientation_comes_out_upright_and_without_notes() {
        for orientation in 1..=8 {
            // one of full size, the others small, for the tests' time
            let (width, height) = if orientation == 6 { (2000, 1400) } else { (400, 280) };
            let upright = quarters(width, height);
            let file = jpeg(
                &DynamicImage::ImageRgb8(stored(&upright, orientation)),
                Some(&notes(orientation, "2026:05:04 10:11:12", "+02:00")),
            );
            let views = views(&file).unwrap();
            let sides = [(&views.screen, 1600), (&views.print, 1200), (&views.thumbnail, 320)];
            for (bytes, long_side) in sides {
                let size = (width.min(long_side), width.min(long_side) * 7 / 10);
                let picture = image::load_from_memory_with_format(bytes, ImageFormat::Jpeg).unwrap().to_rgb8();
                assert_eq!(picture.dimensions(), size, "{orientation}");
                for (across, down) in [(1, 1), (3, 1), (1, 3), (3, 3)] {
                    let got = picture.get_pixel(size.0 * across / 4, size.1 * down / 4).0;
                    let want = upright.get_pixel(width * across / 4, height * down / 4).0;
                    let near = got.iter().zip(want).all(|(got, want)| got.abs_diff(want) < 12);
                    assert!(near, "{orientation} at {across} {down}: {got:?}, expected {want:?}");
                }
                assert!(exif::Reader::new().read_from_container(&mut std::io::Cursor::new(bytes)).is_err());
                assert!(!bytes.windows(4).any(|four| four == b"Exif"));
            }
            let seen = look(&file).unwrap();
            assert_eq!((seen.width, seen.height), (width, height), "{orientation}");
        }
    }

    #[test]
    fn small_pictures_are_not_enlarged_and_grey_stays_grey() {
        for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
            let file = in_format(&DynamicImage::ImageLuma8(fields(200, 100, 20, 220)), format);
            let views = views(&file).unwrap();
            for bytes in [&views.screen, &views.print, &views.thumbnail] {
                let picture = image::load_from_memory(bytes).unwrap();
                assert_eq!((picture.width(), picture.height()), (200, 100), "{format:?}");
                let dot = picture.to_rgb8().get_pixel(50, 50).0;
                assert!(dot[0].abs_diff(dot[1]) < 4 && dot[1].abs_diff(dot[2]) < 4, "{format:?} {dot:?}");
            }
        }
    }
}

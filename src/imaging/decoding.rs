//! From a file's bytes to upright pixels, refusing what is cut off or too large before the memory is taken.

use std::io::Cursor;

use fast_image_resize::images::{TypedImage, TypedImageRef};
use fast_image_resize::pixels::{U8, U8x3};
use fast_image_resize::{FilterType, PixelTrait, ResizeAlg, ResizeOptions, Resizer};
use image::metadata::Orientation;
use image::{DynamicImage, GrayImage, ImageFormat, ImageReader, Limits, RgbImage};
use jpeg_decoder::PixelFormat;

use super::camera_notes::{CameraNotes, camera_notes};
use super::error::ImageError;
use super::kind::Kind;

/// Longest side of a picture that is decoded, in dots.
pub const LONGEST_SIDE: u32 = 20_000;
/// Most dots of a picture that is decoded.
pub const MOST_DOTS: u64 = 110_000_000;
/// Most bytes a decoder may take for its result.
const MOST_MEMORY: usize = 900 << 20;

/// A decoded picture, upright, possibly smaller than it was stored.
pub struct Decoded {
    /// The pixels, grey or red-green-blue.
    pub pixels: DynamicImage,
    /// Dots across of the original, upright.
    pub width: u32,
    /// Dots down of the original, upright.
    pub height: u32,
    /// When it was taken, as the camera wrote it.
    pub taken: Option<String>,
}

/// Decodes a photograph so that its long side has about `long_side` dots, and no more than needed above that.
pub fn decode(bytes: &[u8], long_side: u32) -> Result<Decoded, ImageError> {
    let (pixels, stored) = match Kind::of(bytes) {
        Kind::Jpeg => jpeg(bytes, long_side)?,
        Kind::Png => other(bytes, ImageFormat::Png, long_side)?,
        Kind::WebP => webp(bytes, long_side)?,
        kind => return Err(ImageError::NotAPicture(kind)),
    };
    let CameraNotes { orientation, taken } = camera_notes(bytes);
    let (width, height) = if orientation >= 5 { (stored.1, stored.0) } else { stored };
    Ok(Decoded { pixels: upright(shrunk(pixels, long_side), orientation), width, height, taken })
}

/// Turns stored pixels upright by the camera's note, 1 to 8 (EXIF 2.3 tag 0x0112); any other number leaves them.
pub fn upright(mut pixels: DynamicImage, orientation: u8) -> DynamicImage {
    if let Some(turn) = Orientation::from_exif(orientation) {
        pixels.apply_orientation(turn);
    }
    pixels
}

/// The picture with its long side at most `long_side` dots; never enlarged.
pub fn shrunk(pixels: DynamicImage, long_side: u32) -> DynamicImage {
    let (width, height) = fitted((pixels.width(), pixels.height()), long_side);
    if (width, height) == (pixels.width(), pixels.height()) { pixels } else { resized(&pixels, width, height) }
}

/// The size with its long side at most `long_side`, shape kept, no side under one dot.
pub(super) fn fitted((width, height): (u32, u32), long_side: u32) -> (u32, u32) {
    let long = width.max(height);
    if long <= long_side {
        return (width, height);
    }
    let part = |side: u32| {
        let exact = (u64::from(side) * u64::from(long_side) + u64::from(long) / 2) / u64::from(long);
        u32::try_from(exact).unwrap_or(long_side).max(1)
    };
    (part(width), part(height))
}

/// The picture at exactly this size; grey stays grey, all else becomes red-green-blue.
pub(super) fn resized(pixels: &DynamicImage, width: u32, height: u32) -> DynamicImage {
    let small = match pixels {
        DynamicImage::ImageLuma8(grey) => resized_bytes::<U8>(grey.as_raw(), grey.dimensions(), (width, height))
            .and_then(|bytes| GrayImage::from_raw(width, height, bytes))
            .map(DynamicImage::ImageLuma8),
        other => {
            let rgb = other.to_rgb8();
            resized_bytes::<U8x3>(rgb.as_raw(), rgb.dimensions(), (width, height))
                .and_then(|bytes| RgbImage::from_raw(width, height, bytes))
                .map(DynamicImage::ImageRgb8)
        }
    };
    // the sizes above always agree; the slower way gives the same picture
    small.unwrap_or_else(|| pixels.resize_exact(width, height, image::imageops::FilterType::Triangle))
}

/// Of the kinds of dots that the library knows only those named here are compiled.
fn resized_bytes<P: PixelTrait>(bytes: &[u8], from: (u32, u32), to: (u32, u32)) -> Option<Vec<u8>> {
    let source = TypedImageRef::<P>::from_buffer(from.0, from.1, bytes).ok()?;
    let dots = usize::try_from(u64::from(to.0) * u64::from(to.1)).ok()?;
    let mut small = vec![0; dots.checked_mul(P::size())?];
    let mut target = TypedImage::<P>::from_buffer(to.0, to.1, &mut small).ok()?;
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3));
    Resizer::new().resize_typed(&source, &mut target, &options).ok()?;
    Some(small)
}

fn refuse_too_large(width: u32, height: u32) -> Result<(), ImageError> {
    let dots = u64::from(width) * u64::from(height);
    if width.max(height) > LONGEST_SIDE || dots > MOST_DOTS {
        return Err(ImageError::TooLarge { width, height });
    }
    Ok(())
}

fn jpeg(bytes: &[u8], long_side: u32) -> Result<(DynamicImage, (u32, u32)), ImageError> {
    let mut decoder = jpeg_decoder::Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(MOST_MEMORY);
    decoder.read_info().map_err(|error| jpeg_error(&error))?;
    let stored = decoder.info().ok_or(ImageError::Damaged)?;
    let (width, height) = (u32::from(stored.width), u32::from(stored.height));
    refuse_too_large(width, height)?;
    let (want_width, want_height) = fitted((width, height), long_side);
    let side = |dots: u32| u16::try_from(dots).unwrap_or(u16::MAX);
    let (small_width, small_height) =
        decoder.scale(side(want_width), side(want_height)).map_err(|error| jpeg_error(&error))?;
    let (small_width, small_height) = (u32::from(small_width), u32::from(small_height));
    let pixels = decoder.decode().map_err(|error| jpeg_error(&error))?;
    let picture = match stored.pixel_format {
        PixelFormat::L8 => GrayImage::from_raw(small_width, small_height, pixels).map(DynamicImage::ImageLuma8),
        PixelFormat::RGB24 => RgbImage::from_raw(small_width, small_height, pixels).map(DynamicImage::ImageRgb8),
        PixelFormat::CMYK32 => {
            RgbImage::from_raw(small_width, small_height, inks_to_light(&pixels)).map(DynamicImage::ImageRgb8)
        }
        // twelve and more bits a dot: medical and scientific cameras only
        PixelFormat::L16 => None,
    };
    Ok((picture.ok_or(ImageError::Damaged)?, (width, height)))
}

/// Four printing inks to red, green and blue, each ink taking its part of the light (*common practice* without a profile).
fn inks_to_light(inks: &[u8]) -> Vec<u8> {
    let mut light = Vec::with_capacity(inks.len() / 4 * 3);
    for dot in inks.chunks_exact(4) {
        if let [cyan, magenta, yellow, black] = dot {
            light.extend([cyan, magenta, yellow].map(|ink| {
                let left = u16::from(255 - ink) * u16::from(255 - black) / 255;
                u8::try_from(left).unwrap_or(u8::MAX)
            }));
        }
    }
    light
}

fn jpeg_error(error: &jpeg_decoder::Error) -> ImageError {
    match error {
        jpeg_decoder::Error::Io(_) => ImageError::CutOff,
        _ => ImageError::Damaged,
    }
}

fn webp(bytes: &[u8], long_side: u32) -> Result<(DynamicImage, (u32, u32)), ImageError> {
    // the header tells the length of all that follows its first eight bytes (RFC 9649 2.4)
    if let Some([a, b, c, d]) = bytes.get(4..8) {
        let description = u64::from(u32::from_le_bytes([*a, *b, *c, *d])) + 8;
        if (bytes.len() as u64) < description {
            return Err(ImageError::CutOff);
        }
    }
    other(bytes, ImageFormat::WebP, long_side)
}

fn other(bytes: &[u8], format: ImageFormat, long_side: u32) -> Result<(DynamicImage, (u32, u32)), ImageError> {
    let (width, height) = ImageReader::with_format(Cursor::new(bytes), format)
        .into_dimensions()
        .map_err(|error| other_error(&error, (0, 0)))?;
    refuse_too_large(width, height)?;
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY as u64);
    reader.limits(limits);
    let mut picture = reader.decode().map_err(|error| other_error(&error, (width, height)))?;
    if width.max(height) > long_side.saturating_mul(2) {
        // a coarse first step keeps the memory of deep and see-through pictures small
        picture = picture.thumbnail(long_side.saturating_mul(2), long_side.saturating_mul(2));
    }
    Ok((on_white(picture), (width, height)))
}

/// The picture as 8-bit grey or red-green-blue, what shows through laid on white.
fn on_white(picture: DynamicImage) -> DynamicImage {
    match picture {
        DynamicImage::ImageLuma8(_) | DynamicImage::ImageRgb8(_) => picture,
        DynamicImage::ImageLuma16(_) => DynamicImage::ImageLuma8(picture.into_luma8()),
        DynamicImage::ImageRgb16(_) | DynamicImage::ImageRgb32F(_) => DynamicImage::ImageRgb8(picture.into_rgb8()),
        see_through => {
            let see_through = see_through.into_rgba8();
            let (width, height) = see_through.dimensions();
            let mut white =
                DynamicImage::ImageRgba8(image::RgbaImage::from_pixel(width, height, image::Rgba([255; 4])));
            image::imageops::overlay(&mut white, &see_through, 0, 0);
            DynamicImage::ImageRgb8(white.into_rgb8())
        }
    }
}

fn other_error(error: &image::ImageError, (width, height): (u32, u32)) -> ImageError {
    match error {
        image::ImageError::IoError(_) => ImageError::CutOff,
        image::ImageError::Limits(_) if width > 0 => ImageError::TooLarge { width, height },
        _ => ImageError::Damaged,
    }
}

#[cfg(test)]
mod tests {

    use image::{DynamicImage, ImageFormat, Rgba, RgbaImage};
    use jpeg_encoder::{ColorType, Encoder};

    use super::{decode, fitted};
    use crate::imaging::samples::{fields, in_format, jpeg, notes, quarters};
    use crate::imaging::{ImageError, Kind};

    fn error(bytes: &[u8]) -> ImageError {
        decode(bytes, 1600).err().unwrap()
    }

    #[test]
    fn a_jpeg_cut_anywhere_is_called_cut_off() {
        for picture in [DynamicImage::ImageRgb8(quarters(64, 48)), DynamicImage::ImageLuma8(fields(64, 48, 20, 200))] {
            let whole = jpeg(&picture, Some(&notes(6, "2026:05:04 10:11:12", "+02:00")));
            assert!(decode(&whole, 1600).is_ok());
            for length in 3..whole.len() {
                assert_eq!(error(&whole[..length]), ImageError::CutOff, "cut to {length} of {}", whole.len());
            }
        }
    }

    #[test]
    fn a_progressive_jpeg_cut_anywhere_is_called_cut_off() {
        let mut whole = Vec::new();
        let mut encoder = Encoder::new(&mut whole, 90);
        encoder.set_progressive(true);
        encoder.encode(quarters(64, 48).as_raw(), 64, 48, ColorType::Rgb).unwrap();
        for length in 3..whole.len() {
            assert_eq!(error(&whole[..length]), ImageError::CutOff, "cut to {length} of {}", whole.len());
        }
    }

    #[test]
    fn what_telephones_append_after_the_end_does_no_harm() {
        let mut bytes = jpeg(&DynamicImage::ImageRgb8(quarters(64, 48)), None);
        bytes.extend(b"a clip of two seconds");
        assert!(decode(&bytes, 1600).is_ok());
    }

    #[test]
    fn png_and_webp_cut_in_half_are_refused() {
        for format in [ImageFormat::Png, ImageFormat::WebP] {
            let whole = in_format(&DynamicImage::ImageLuma8(fields(200, 150, 20, 200)), format);
            assert_eq!(decode(&whole, 100).unwrap().pixels.width(), 100);
            for length in (20..whole.len() * 9 / 10).step_by(7) {
                let error = error(&whole[..length]);
                assert!(matches!(error, ImageError::CutOff | ImageError::Damaged), "{format:?} {length}: {error:?}");
            }
            assert_eq!(error(&whole[..whole.len() / 2]), ImageError::CutOff, "{format:?}");
        }
    }

    #[test]
    fn a_text_called_photo_is_refused_by_its_content() {
        assert_eq!(error(b"no picture\n"), ImageError::NotAPicture(Kind::Other("a text file".to_owned())));
        assert!(error(b"no picture\n").to_string().contains("a text file"));
    }

    #[test]
    fn headers_that_claim_giants_are_refused_before_decoding() {
        let mut giant = jpeg(&DynamicImage::ImageRgb8(quarters(64, 48)), None);
        let frame = giant.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
        giant[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xdc, 0xff, 0xdc]);
        let mut png = in_format(&DynamicImage::ImageRgb8(quarters(64, 48)), ImageFormat::Png);
        png[16..24].copy_from_slice(&[0, 0, 0x2e, 0xe0, 0, 0, 0x2e, 0xe0]);
        let check = crc(&png[12..29]);
        png[29..33].copy_from_slice(&check.to_be_bytes());
        // cut off where the picture begins: there is nothing to decode
        giant.truncate(frame + 19);
        let data = png.windows(4).position(|four| four == b"IDAT").unwrap();
        png.truncate(data + 12);
        for (bytes, side) in [(giant, 65_500), (png, 12_000)] {
            assert_eq!(error(&bytes), ImageError::TooLarge { width: side, height: side });
        }
    }

    /// The check sum of a PNG chunk (ISO/IEC 15948 annex D).
    fn crc(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(!0, |sum, byte| {
            (0..8).fold(sum ^ u32::from(*byte), |sum, _| if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 })
        })
    }

    #[test]
    fn damage_in_the_middle_never_stops_the_program() {
        let whole = jpeg(&DynamicImage::ImageRgb8(quarters(96, 64)), Some(&notes(3, "2026:05:04 10:11:12", "")));
        let mut state = 7_u32;
        for _ in 0..400 {
            let mut bytes = whole.clone();
            for _ in 0..4 {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let at = usize::try_from(state >> 8).unwrap() % bytes.len();
                bytes[at] = state.to_be_bytes()[1];
            }
            if let Ok(decoded) = decode(&bytes, 1600) {
                assert!(decoded.pixels.width() <= 1600 && decoded.pixels.height() <= 1600);
            }
        }
    }

    #[test]
    fn inks_become_light() {
        // full cyan, magenta and yellow ink leave red out, green out, blue out; black leaves nothing; no ink is white
        let inks = [[255_u8, 0, 0, 0], [0, 255, 0, 0], [0, 0, 255, 0], [0, 0, 0, 255], [0, 0, 0, 0]];
        let light = [[0_u8, 255, 255], [255, 0, 255], [255, 255, 0], [0, 0, 0], [255, 255, 255]];
        for (ink, want) in inks.iter().zip(light) {
            for kind in [ColorType::Cmyk, ColorType::CmykAsYcck] {
                let mut bytes = Vec::new();
                Encoder::new(&mut bytes, 95).encode(&ink.repeat(256), 16, 16, kind).unwrap();
                let got = decode(&bytes, 1600).unwrap().pixels.to_rgb8().get_pixel(8, 8).0;
                let near = got.iter().zip(want).all(|(got, want)| got.abs_diff(want) < 6);
                assert!(near, "{ink:?} {kind:?}: {got:?}, expected {want:?}");
            }
        }
    }

    #[test]
    fn what_shows_through_lies_on_white() {
        let clear = RgbaImage::from_pixel(8, 8, Rgba([0, 0, 0, 0]));
        let bytes = in_format(&DynamicImage::ImageRgba8(clear), ImageFormat::Png);
        assert_eq!(decode(&bytes, 1600).unwrap().pixels.to_rgb8().get_pixel(4, 4).0, [255, 255, 255]);
    }

    #[test]
    fn the_shape_is_kept() {
        assert_eq!(fitted((4032, 3024), 1600), (1600, 1200));
        assert_eq!(fitted((3024, 4032), 320), (240, 320));
        assert_eq!(fitted((20_000, 3), 320), (320, 1));
        assert_eq!(fitted((300, 200), 320), (300, 200));
    }
}

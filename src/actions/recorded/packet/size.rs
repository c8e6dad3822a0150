//! Bringing a packet under the size that it is to be sent in: its photographs are printed smaller, and it says so. The
//! originals stay as they are.

use std::collections::BTreeMap;

use crate::documents::DocumentError;
use crate::documents::packet::Reduced;
use crate::documents::pdf::Jpeg;
use crate::domain::recorded::rounds::PacketSize;
use crate::domain::words::fingerprint::Fingerprint;
use crate::imaging::smaller;

/// A packet, and what was done so that it can be sent.
pub(super) struct Fitted {
    pub(super) pdf: Vec<u8>,
    pub(super) reduced: Option<Reduced>,
}

/// The copies for print, by the original's fingerprint.
pub(super) type Pictures = BTreeMap<Fingerprint, Jpeg>;

/// Makes the packet with these pictures, saying what was done to them.
type Make<'a> = dyn Fn(&Pictures, Option<Reduced>) -> Result<Vec<u8>, DocumentError> + 'a;

/// The least long side of a photograph in print, dots: 150 to the inch at 88 mm (our own choice).
const LEAST: u32 = 520;
/// Long sides are whole multiples of this, dots.
const STEP: u32 = 20;
/// Tries before the least is taken.
const TRIES: u32 = 4;

/// Makes a packet that stays under its size where its photographs can be made small enough; where they cannot, it says that
/// too. The same facts give the same bytes.
pub(super) fn fitted(pictures: &Pictures, size: PacketSize, make: &Make<'_>) -> Result<Fitted, DocumentError> {
    let whole = make(pictures, None)?;
    if whole.len() <= size.bytes() {
        return Ok(Fitted { pdf: whole, reduced: None });
    }
    let held = |pictures: &Pictures| pictures.values().map(|jpeg| jpeg.bytes.len()).sum::<usize>();
    let mut side = pictures.values().map(|jpeg| jpeg.width.max(jpeg.height)).max().unwrap_or(LEAST);
    let (mut pdf, mut held_now, mut done) = (whole, held(pictures), None);
    for tried in 1..=TRIES {
        let other = pdf.len().saturating_sub(held_now);
        let room = size.bytes().saturating_sub(other);
        side = if tried == TRIES { LEAST } else { next(side, room, held_now) };
        let shrunk: Pictures = pictures.iter().map(|(name, jpeg)| (name.clone(), shrunk(jpeg, side))).collect();
        let reduced = Reduced { megabytes: size.megabytes(), long_side: side, still_over: false };
        done = Some(reduced);
        pdf = make(&shrunk, done)?;
        if pdf.len() <= size.bytes() {
            break;
        }
        if side == LEAST {
            done = Some(Reduced { still_over: true, ..reduced });
            pdf = make(&shrunk, done)?;
            break;
        }
        held_now = held(&shrunk);
    }
    Ok(Fitted { pdf, reduced: done })
}

/// The next long side to try: bytes go about with the area, and a little less than that is asked for.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "few dots")]
fn next(side: u32, room: usize, held: usize) -> u32 {
    let share = (room as f64 / held.max(1) as f64).min(1.0).sqrt() * 0.97;
    let wanted = (f64::from(side) * share) as u32 / STEP * STEP;
    wanted.min(side.saturating_sub(STEP)).max(LEAST)
}

/// The copy with its long side at most this, dots; as it is where it cannot be made smaller.
fn shrunk(jpeg: &Jpeg, side: u32) -> Jpeg {
    let smaller =
        if jpeg.width.max(jpeg.height) > side { smaller(&jpeg.bytes, side).ok().and_then(Jpeg::of) } else { None };
    smaller.filter(|small| small.bytes.len() < jpeg.bytes.len()).unwrap_or_else(|| jpeg.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture that does not press well: its dots jump.
    fn picture(seed: u32) -> Jpeg {
        Jpeg::of(crate::imaging::samples::grain(seed, 1_200, 900)).unwrap()
    }

    fn packet(pictures: &Pictures, reduced: Option<Reduced>) -> Vec<u8> {
        let mut bytes: Vec<u8> = pictures.values().flat_map(|jpeg| jpeg.bytes.clone()).collect();
        bytes.extend(format!("{reduced:?}").bytes());
        bytes
    }

    #[test]
    fn it_stays_under_its_size_and_says_what_was_done_or_that_it_could_not() {
        let pictures: Pictures = (0..12).map(|seed| (Fingerprint::of(&[seed]), picture(seed.into()))).collect();
        let make = |pictures: &Pictures, reduced: Option<Reduced>| Ok(packet(pictures, reduced));
        let whole = packet(&pictures, None).len();
        assert!(whole > 5_000_000 && whole < 20_000_000, "{whole}");
        let large = fitted(&pictures, PacketSize::Twenty, &make).unwrap().pdf;
        assert_eq!(large, packet(&pictures, None), "byte for byte as it is kept where that fits");
        let small = fitted(&pictures, PacketSize::Five, &make).unwrap().pdf;
        let said = String::from_utf8_lossy(&small[small.len() - 120..]).into_owned();
        assert!(small.len() <= 5_000_000 && small.len() > 3_000_000, "{}", small.len());
        assert!(said.contains("megabytes: 5") && said.contains("still_over: false"), "{said}");
        assert_eq!(small, fitted(&pictures, PacketSize::Five, &make).unwrap().pdf, "the same facts, the same bytes");
        let many: Pictures = (0..60).map(|seed| (Fingerprint::of(&[seed]), picture(seed.into()))).collect();
        let over = fitted(&many, PacketSize::Five, &make).unwrap().pdf;
        let said = String::from_utf8_lossy(&over[over.len() - 120..]).into_owned();
        assert!(over.len() > 5_000_000 && said.contains("still_over: true") && said.contains("520"), "{said}");
    }
}

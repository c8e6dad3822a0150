//! The bound on every input, in one place, quoted where the input is asked for.

use super::faults::Fault;
use crate::quantity::{Current, Length, Mass, Share, Speed, Stress, Temperature, Voltage};

/// Longest running text, in characters.
pub const TEXT: usize = 4_000;
/// Longest remark of a scrutineer under one part, in characters (own choice: a question that it becomes stays under `TEXT`).
pub const REMARK: usize = 2_000;
/// Longest title or name, in characters.
pub const TITLE: usize = 200;
/// Longest address of a server that stands on a sticker, in characters: with its code it fits a square a phone still reads.
pub const ORIGIN: usize = 60;
/// Most bytes of one photograph.
pub const PHOTO_BYTES: u64 = 64 << 20;
/// Most photographs that one person tells of within a day.
pub const PHOTOS_A_DAY: usize = 2_000;
/// Bytes of a build's photographs from which on the office is told of it.
pub const BUILD_BYTES: u64 = 20_000_000_000;
/// How many days a phone may hold photographs before the office is told of it.
pub const PHONE_DAYS: i32 = 3;
/// How many days what has arrived of a photograph waits for its rest.
pub const PART_DAYS: i64 = 14;
/// Fewest and most characters of the passphrase that keys are saved under (own choice: the file lies where others may take
/// it, and is guessed at without limit).
pub const PASSPHRASE: (usize, usize) = (12, 400);
/// Most bytes of a mail that is kept with a reply (own choice: what most mailboxes send).
pub const MAIL_BYTES: u64 = 10_000_000;
/// Most mails of one reply (own choice).
pub const MAILS: usize = 20;
/// Most bytes of one form.
pub const FORM_BYTES: usize = 512 << 10;
/// Most fields of one form (own choice: the largest, a cut plan with every bar, has some hundreds).
pub const FORM_FIELDS: usize = 2_000;
/// Most bytes of a cage file that a build takes in; written as a form it stays under a form's bound.
pub const CAGE_FILE_BYTES: usize = 128 << 10;
/// Most bytes of a rule book: those of a form, so that a book that reads can be added.
pub const BOOK_BYTES: usize = FORM_BYTES;
/// Heaviest load on one pad.
pub const PAD: Mass = Mass::from_kg(2_500.0);
/// Heaviest thing that goes into a weighed car or comes out of it.
pub const CARRIED: Mass = Mass::from_kg(1_000.0);
/// Most things that are listed as going in or coming out.
pub const CARRIED_THINGS: usize = 200;
/// Longest measurement of a car.
pub const CAR: Length = Length::from_mm(8_000.0);
/// Longest stick of tube.
pub const STICK: Length = Length::from_mm(15_000.0);
/// Most sticks that are put on the rack at once (own choice).
pub const STICKS_AT_ONCE: u32 = 50;
/// Least and most that a saw takes with a cut.
pub const KERF: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(10.2));
/// Least and most that is trimmed at an end of a stick.
pub const TRIM: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(305.0));
/// Least and most that is added to a blank for a cope.
pub const COPE_MORE: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(102.0));
/// Least and most of the straight tube that a bender holds beyond a bend.
pub const GRIP: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(1_500.0));
/// Thinnest and thickest tube that a cage shop handles (*common practice*).
pub const OUTSIDE: (Length, Length) = (Length::from_mm(10.0), Length::from_mm(100.0));
/// Thinnest and thickest wall (*common practice*).
pub const WALL: (Length, Length) = (Length::from_mm(0.5), Length::from_mm(10.0));
/// Least and greatest centre-line radius of a die.
pub const DIE_RADIUS: (Length, Length) = (Length::from_mm(15.0), Length::from_mm(1_000.0));
/// Least and most from a die's mark to where the bend begins.
pub const DIE_OFFSET: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(500.0));
/// Shortest and longest stick that is bought.
pub const BOUGHT: (Length, Length) = (Length::from_mm(1_000.0), Length::from_mm(15_000.0));
/// Least and most that the shortest offcut kept is long.
pub const KEPT: (Length, Length) = (Length::from_mm(0.0), Length::from_mm(3_000.0));
/// Most pieces, and most sticks, of one cut plan.
pub const CUT_PIECES: usize = 500;
/// Shortest and longest leg of a fillet.
pub const FILLET: (Length, Length) = (Length::from_mm(1.0), Length::from_mm(12.0));
/// Thinnest and thickest welding wire.
pub const WIRE: (Length, Length) = (Length::from_mm(0.5), Length::from_mm(4.0));
/// Least and most seam laid in one minute of arc.
pub const LAID: (Length, Length) = (Length::from_mm(20.0), Length::from_mm(2_000.0));
/// Least and most volts of an arc that a hand holds (own choice, wide).
pub const ARC_VOLTS: (Voltage, Voltage) = (Voltage::from_volts(5.0), Voltage::from_volts(50.0));
/// Least and most amperes of such an arc (own choice, wide).
pub const ARC_AMPERES: (Current, Current) = (Current::from_amperes(5.0), Current::from_amperes(500.0));
/// Slowest and fastest that a seam grows: 12 mm to 3 m a minute (own choice, wide).
pub const TRAVEL: (Speed, Speed) = (Speed::from_mm_per_second(0.2), Speed::from_mm_per_second(50.0));
/// Slowest and fastest that a wire is fed: 0.3 m to 30 m a minute (own choice, wide).
pub const WIRE_FED: (Speed, Speed) = (Speed::from_mm_per_second(5.0), Speed::from_mm_per_second(500.0));
/// Shortest and longest stick-out (own choice, wide).
pub const STICK_OUT: (Length, Length) = (Length::from_mm(1.0), Length::from_mm(60.0));
/// Coldest and hottest that steel is said to be before it is welded (own choice, wide).
pub const PREHEAT: (Temperature, Temperature) = (Temperature::from_celsius(0.0), Temperature::from_celsius(450.0));
/// Most lines of one build's weld log (own choice).
pub const WELD_LINES: usize = 5_000;
/// Least share that is taken: what divides is never nothing.
pub const LEAST_SHARE: Share = Share::from_ratio(0.01);
/// Shortest and longest wheelbase.
pub const WHEELBASE: (Length, Length) = (Length::from_mm(1_200.0), Length::from_mm(4_500.0));
/// Narrowest and widest track.
pub const TRACK: (Length, Length) = (Length::from_mm(800.0), Length::from_mm(2_500.0));
/// From the front axle back to the main hoop's feet.
pub const HOOP_BEHIND: (Length, Length) = (Length::from_mm(300.0), Length::from_mm(5_000.0));
/// Greatest strength of a steel.
pub const STRENGTH: Stress = Stress::from_mpa(3_000.0);
/// Least and most room that is stated for a torch.
pub const TORCH_ROOM: (Length, Length) = (Length::from_mm(25.0), Length::from_mm(500.0));
/// Least and most that a hole in the floor is larger than its tube.
pub const HOLE_OVER: (Length, Length) = (Length::from_mm(1.0), Length::from_mm(50.0));
/// Least and most that a car's floor stands over the shop's.
pub const ON_STANDS: (Length, Length) = (Length::from_mm(50.0), Length::from_mm(3_000.0));
/// Shortest password, in characters.
pub const PASSWORD_LEAST: usize = 12;
/// Longest password, in characters.
pub const PASSWORD_MOST: usize = 128;

/// What is wrong with a title, if anything: it must be there and within bounds.
pub fn title_faults(at: &str, text: &str) -> Vec<Fault> {
    let length = text.trim().chars().count();
    match length {
        0 => vec![Fault::new(at, "This must not be empty.")],
        _ if length > TITLE => vec![Fault::new(at, format!("This has {length} characters; {TITLE} fit."))],
        _ => unseen_faults(at, text, &[]),
    }
}

/// What is wrong with a running text, if anything: it must be within bounds.
pub fn text_faults(at: &str, text: &str) -> Vec<Fault> {
    let length = text.chars().count();
    if length > TEXT {
        return vec![Fault::new(at, format!("This has {length} characters; {TEXT} fit."))];
    }
    unseen_faults(at, text, &['\n', '\r', '\t'])
}

/// What is wrong with a text that has letters which show nothing themselves and turn or hide what stands beside them: controls
/// (Unicode's Cc), the signs that turn the direction of writing (UAX 9, 2) and the ends of lines that no page shows.
fn unseen_faults(at: &str, text: &str, may: &[char]) -> Vec<Fault> {
    let turns = |letter: &char| matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let unseen = |(_, letter): &(usize, char)| (letter.is_control() && !may.contains(letter)) || turns(letter);
    let Some((place, letter)) = text.trim().char_indices().find(unseen) else { return Vec::new() };
    let before: Vec<char> = text.trim().get(..place).unwrap_or_default().chars().rev().take(20).collect();
    let before: String = before.into_iter().rev().collect();
    let after = if before.is_empty() { "at the beginning".to_owned() } else { format!("after “{before}”") };
    let number = u32::from(letter);
    let why = format!("A sign that does not show stands {after} (U+{number:04X}). Type this anew, without it.");
    vec![Fault::new(at, why)]
}

/// What is wrong with words that must be there, if anything.
pub fn words_faults(at: &str, text: &str) -> Vec<Fault> {
    if text.trim().is_empty() {
        return vec![Fault::new(at, "This must not be empty.")];
    }
    text_faults(at, text)
}

#[cfg(test)]
mod tests {
    use super::{text_faults, title_faults};

    #[test]
    fn signs_that_hide_or_turn_are_told_of_and_names_in_any_script_are_not() {
        for (text, said) in [
            ("front\u{202e}tnorf", "after “front” (U+202E)"),
            ("\u{2066}a", "at the beginning (U+2066)"),
            ("a\u{0}b", "after “a” (U+0000)"),
            ("a\u{7}b", "U+0007"),
            ("a\u{200f}b", "U+200F"),
        ] {
            for faults in [title_faults("name", text), text_faults("name", text)] {
                assert!(matches!(faults.as_slice(), [one] if one.why.contains(said)), "{text:?}: {faults:?}");
            }
        }
        assert_eq!(title_faults("name", "two\nlines").len(), 1);
        assert!(text_faults("text", "two\r\nlines\tand a tab").is_empty());
        for name in ["東京ガレージ", "مرآب", "Гараж", "Ørn & Sönner", "می‌خواهم", "👩‍🔧"]
        {
            assert!(title_faults("name", name).is_empty(), "{name}");
        }
    }
}

//! What is printed reads back, what is typed is read or refused in words, and nothing typed stops the program.

use proptest::prelude::{ProptestConfig, any, prop, prop_assert, prop_assert_eq, prop_assert_ne, proptest};
use proptest::test_runner::TestCaseError;
use serde::Serialize;
use serde::de::DeserializeOwned;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::quantity::{
    Angle, Area, Fraction, FromTyped, Hours, Length, Mass, Money, Share, Show, Stress, Typed, Units, Unreadable,
};

/// Letters and signs that amounts are made of, so that random texts come near to real ones.
const NEARLY: &str = "[0-9 ./,'\"½⅞⅟°:²^mincftlbkgh-]{0,24}";

fn refused<T>(read: Result<T, Unreadable>) -> Option<Unreadable> {
    read.err()
}

/// Every refusal of a text, by every kind of quantity.
fn refusals(text: &str, units: Units) -> Vec<Unreadable> {
    [
        refused(Length::from_typed_as(text, units)),
        refused(Mass::from_typed_as(text, units)),
        refused(Angle::from_typed_as(text, units)),
        refused(Area::from_typed_as(text, units)),
        refused(Hours::from_typed_as(text, units)),
        refused(Money::from_typed_as(text, units)),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn units(inch: bool) -> Units {
    if inch { Units::Inch } else { Units::Metric }
}

/// Fails where a text that reads loses its value on its way through the store and another reader's form.
fn keeps<T: FromTyped + PartialEq + Copy + std::fmt::Debug + Serialize + DeserializeOwned>(
    text: &str,
    units: Units,
) -> Result<(), TestCaseError> {
    let Ok(typed) = Typed::<T>::read_as(text, units) else { return Ok(()) };
    let meant = T::from_typed_as(text, units).unwrap();
    prop_assert_eq!(typed.value, meant);
    for other in [Units::Inch, Units::Metric] {
        let again = Typed::<T>::read_as(&typed.text, other).unwrap();
        prop_assert_eq!(&again, &typed, "{} by a reader of {:?}", text, other);
    }
    let stored: Typed<T> = serde_json::from_str(&serde_json::to_string(&typed).unwrap()).unwrap();
    prop_assert_eq!(&stored.text, &typed.text);
    // The same row as it was stored bare.
    let bare = serde_json::json!({ "value": typed.value, "text": text.trim() });
    let shown: Typed<T> = serde_json::from_value(bare).unwrap();
    for other in [Units::Inch, Units::Metric] {
        prop_assert_eq!(T::from_typed_as(&shown.text, other).unwrap(), shown.value, "{} as {}", text, shown.text);
    }
    prop_assert_eq!(shown.value, meant);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]

    #[test]
    fn any_text_is_read_or_refused_in_words(text in any::<String>(), inch in any::<bool>()) {
        for refusal in refusals(&text, units(inch)) {
            prop_assert!(refusal.because.is_some());
            prop_assert!(refusal.to_string().chars().count() < 400);
        }
    }

    #[test]
    fn nearly_right_text_is_read_or_refused_in_words(text in NEARLY, inch in any::<bool>()) {
        for refusal in refusals(&text, units(inch)) {
            prop_assert!(refusal.because.is_some());
        }
        if let Ok(typed) = Typed::<Length>::read_as(&text, units(inch)) {
            prop_assert!(typed.value.is_finite());
            let unit = typed.text.strip_prefix(text.trim());
            prop_assert!(unit.is_some_and(|unit| ["", " mm", " in"].contains(&unit)), "{}", typed.text);
        }
    }

    /// Whatever was typed by somebody, its text reads as the same value to everybody, and so does what was stored before
    /// texts kept their unit.
    #[test]
    fn what_is_kept_reads_alike_in_all_units(text in NEARLY, plain in "-?[0-9]{1,4}([.,][0-9]{1,2}| [1-7]/8|½)?", inch in any::<bool>()) {
        for text in [text.as_str(), plain.as_str()] {
            keeps::<Length>(text, units(inch))?;
            keeps::<Mass>(text, units(inch))?;
            keeps::<Angle>(text, units(inch))?;
            keeps::<Area>(text, units(inch))?;
            keeps::<Hours>(text, units(inch))?;
            keeps::<Stress>(text, units(inch))?;
            keeps::<Share>(text, units(inch))?;
        }
        keeps::<TubeSize>(&format!("{plain} x {plain}"), units(inch))?;
    }

    /// What is cut and fitted by is rounded to the side that does no harm, in both units: read back, a blank is no shorter, room
    /// no greater. On a tape a twentieth of a millimetre and two thousandths of an inch are nothing.
    #[test]
    fn what_is_cut_by_is_never_rounded_to_the_unsafe_side(micro in -100_000_000_i64..9_000_000_000) {
        #[expect(clippy::cast_precision_loss, reason = "below 2^53")]
        let length = Length::from_mm(micro as f64 / 1e6);
        for units in [Units::Inch, Units::Metric] {
            let (near, step) = match units {
                Units::Inch => (Length::from_inches(0.002), Length::from_inches(1.0 / 16.0)),
                Units::Metric => (Length::from_mm(0.05), Length::from_mm(1.0)),
            };
            let (least, most) = (length.by_tape_at_least(units), length.by_tape_at_most(units));
            let [up, down] = [&least, &most].map(|told| Length::from_typed(told).unwrap());
            prop_assert!(up >= length - near && up - length <= step, "{} {}", length.mm(), least);
            prop_assert!(down <= length + near && length - down <= step, "{} {}", length.mm(), most);
            // The saw's figure: no shorter by more than a millionth, and no more than a step longer.
            let told = length.by_saw(units);
            let sawn = Length::from_typed(&told).unwrap();
            let finest = if units == Units::Inch { Length::from_inches(1.0 / 64.0) } else { Length::from_mm(0.1) };
            prop_assert!(sawn >= length - Length::from_mm(3e-5), "{} {}", length.mm(), told);
            prop_assert!(sawn - length <= finest + Length::from_mm(1e-6), "{} {}", length.mm(), told);
            // For the bench the nearest: no further off than half a step.
            let told = length.by_tape_exactly(units);
            let off = (Length::from_typed(&told).unwrap() - length).abs();
            prop_assert!(off <= finest * 0.5 + Length::from_mm(1e-6), "{} {}", length.mm(), told);
        }
        let (mm, inches): (f64, f64) = (length.saw_mm().parse().unwrap(), length.saw_inches().parse().unwrap());
        prop_assert!(mm >= length.mm() - 2e-6 && mm - length.mm() <= 0.1 + 1e-6);
        prop_assert!(Length::from_inches(inches) >= length - Length::from_mm(3e-5));
        prop_assert!(inches - length.inches() <= 0.001 + 1e-6);
    }

    /// A value that nobody typed has a text too.
    #[test]
    fn a_value_written_out_reads_as_itself(micro in -9_000_000_000_i64..9_000_000_000, inch in any::<bool>()) {
        #[expect(clippy::cast_precision_loss, reason = "below 2^53")]
        let value = micro as f64 / 1e6;
        let (mm, kg) = (Length::from_mm(value), Mass::from_kg(value.abs()));
        prop_assert_eq!(Length::from_typed_as(&Typed::written(mm).text, units(inch)).unwrap(), mm);
        prop_assert_eq!(Mass::from_typed_as(&Typed::written(kg).text, units(inch)).unwrap(), kg);
        let angle = Angle::from_degrees(value);
        prop_assert_eq!(Angle::from_typed_as(&Typed::written(angle).text, units(inch)).unwrap(), angle);
        let area = Area::from_mm2(value.abs());
        prop_assert_eq!(Area::from_typed_as(&Typed::written(area).text, units(inch)).unwrap(), area);
        // A text that does not read as its value was never typed.
        prop_assert_eq!(&Typed::of(mm, "a thumb").text, &Typed::written(mm).text);
    }

    #[test]
    fn the_example_of_a_refusal_reads(inch in any::<bool>()) {
        for refusal in refusals("?", units(inch)) {
            for example in refusal.example.split(" or ") {
                prop_assert!(refusals(example, units(inch)).len() < 6, "{}", example);
            }
        }
    }

    #[test]
    fn a_length_reads_back_as_printed(sixteenths in -160_000_i32..160_000, parts in prop::sample::select(vec![16_u32, 32, 64])) {
        let length = Length::from_inches(f64::from(sixteenths) / f64::from(parts));
        prop_assert_eq!(Length::from_typed(&length.show_fraction(parts)).unwrap(), length);
        prop_assert_eq!(Length::from_typed_as(length.show_fraction(parts).trim_end_matches(" in"), Units::Inch).unwrap(), length);
    }

    #[test]
    fn a_printed_length_is_as_near_as_it_claims(mm in -20_000.0..20_000.0_f64) {
        let length = Length::from_mm(mm);
        let inch = Length::from_typed(&length.show(Units::Inch)).unwrap();
        prop_assert!((inch - length).abs() <= Length::from_inches(0.002), "{}", length.show(Units::Inch));
        let metric = Length::from_typed(&length.show(Units::Metric)).unwrap();
        prop_assert!((metric - length).abs() <= Length::from_mm(0.05), "{}", length.show(Units::Metric));
        let tape = length.show_fraction(32);
        prop_assert!((Length::from_typed(&tape).unwrap() - length).abs() <= Length::from_inches(1.0 / 64.0), "{}", tape);
    }

    #[test]
    fn masses_areas_and_angles_read_back_as_printed(tenths in 0_u32..9_999_999) {
        let tenth = f64::from(tenths) / 10.0;
        prop_assert_eq!(Mass::from_typed(&Mass::from_kg(tenth).show(Units::Metric)).unwrap(), Mass::from_kg(tenth));
        // the comma between thousands is for reading only, and typing it is refused rather than guessed at
        let pounds = Mass::from_lb(tenth).show(Units::Inch);
        prop_assert_eq!(Mass::from_typed(&pounds.replace(',', "")).unwrap(), Mass::from_lb(tenth));
        prop_assert_eq!(Mass::from_typed(&pounds).is_err(), pounds.contains(','));
        prop_assert_eq!(Area::from_typed(&Area::from_cm2(tenth).show(Units::Metric)).unwrap(), Area::from_cm2(tenth));
        let square = Area::from_square_inches(tenth);
        prop_assert!((Area::from_typed(&square.show(Units::Inch)).unwrap() - square).abs() <= Area::from_mm2(1e-3));
        let angle = Angle::from_degrees(tenth % 360.0);
        prop_assert!((Angle::from_typed(&angle.show(Units::Inch)).unwrap() - angle).abs() <= Angle::from_degrees(0.051));
    }

    #[test]
    fn hours_and_money_read_back_as_printed(minutes in 0_u32..600_000, minor in -99_999_999_999_i64..99_999_999_999) {
        let hours = Hours::from_hours(f64::from(minutes) / 60.0);
        prop_assert_eq!(Hours::from_typed(&hours.show(Units::Metric)).unwrap(), hours);
        prop_assert_eq!(Hours::from_typed(&format!("{}:{:02}", minutes / 60, minutes % 60)).unwrap(), hours);
        let money = Money::from_minor(minor);
        prop_assert_eq!(Money::from_typed(&money.show(Units::Metric)).unwrap(), money);
    }

    #[test]
    fn a_figure_off_its_limit_never_looks_like_it(limit in 1_i32..200_000, off in 2_i32..50_000, less in any::<bool>()) {
        // off by 2e-6 to 0.05 mm, kg or cm²; the limit in hundredths
        let limit = f64::from(limit) / 100.0;
        let value = limit + f64::from(if less { -off } else { off }) * 1e-6;
        for units in [Units::Inch, Units::Metric] {
            let (length, length_limit) = (Length::from_mm(value), Length::from_mm(limit));
            if (length - length_limit).abs() > Length::from_inches(1e-6) {
                let shown = length.show_against(&length_limit, units);
                prop_assert_ne!(&shown, &length_limit.show(units));
                let back = Length::from_typed(&shown).unwrap();
                prop_assert_eq!(back < length_limit, length < length_limit, "{} {}", shown, limit);
            }
            let (mass, mass_limit) = (Mass::from_kg(value), Mass::from_kg(limit));
            prop_assert_ne!(mass.show_against(&mass_limit, units), mass_limit.show(units));
        }
    }

    #[test]
    fn fractions_add_up(a in -9_999_i128..9_999, b in 1_i128..999, c in -9_999_i128..9_999, d in 1_i128..999) {
        let (one, two) = (Fraction::new(a, b).unwrap(), Fraction::new(c, d).unwrap());
        let sum = one.plus(two).unwrap();
        prop_assert_eq!(sum.above() * b * d, (a * d + c * b) * sum.below());
        prop_assert_eq!(one.is_less_than(two), a * d < c * b);
        prop_assert_eq!(sum.plus(two.negative()).unwrap(), one);
    }
}

/// The limit is shown as 1893 mm, which the figure is exactly: its noughts tell the two apart.
#[test]
fn a_round_figure_keeps_its_noughts_beside_a_limit_that_looks_round() {
    let (value, limit) = (Length::from_mm(1893.0), Length::from_mm(1892.98));
    assert_eq!(limit.show(Units::Metric), "1893 mm");
    assert_eq!(value.show_against(&limit, Units::Metric), "1893.00 mm");
}

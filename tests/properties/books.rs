//! A book's text edited by a form: what is not touched stays byte for byte, comments and order among it.

use proptest::prelude::*;

use tackbook::domain::book::forms::asked::Shape;
use tackbook::domain::book::forms::editing::Editing;
use tackbook::domain::book::{Place, RuleKind, read};

const BOOKS: [&str; 2] =
    [include_str!("../../src/demo/book.toml"), include_str!("../../src/domain/book/reading/cage-article-253.toml")];

/// The same book as another hand would lay it out: comments and empty lines between the lines, more space within them, its
/// rules in another order.
fn laid_out(toml: &str, seeds: &[u8]) -> String {
    let mut blocks: Vec<String> = Vec::new();
    for (at, line) in toml.lines().enumerate() {
        let seed = seeds.get(at % seeds.len()).copied().unwrap_or_default();
        // A tube belongs to the class above it: its header begins no block of its own.
        if blocks.is_empty() || (line.starts_with('[') && !line.contains('.')) {
            blocks.push(String::new());
        }
        let block = blocks.last_mut().unwrap();
        let inside = line.starts_with(' ') || line.starts_with(']') || line.starts_with('"');
        match seed % 7 {
            0 if !inside => {
                block.push_str(&["# said of line ", &at.to_string(), ", “", &seed.to_string(), "”\n"].concat());
            }
            1 if !inside => block.push('\n'),
            _ => {}
        }
        let plain = !inside && line.contains(" = ") && !line.ends_with('[') && !line.contains("\"\"\"");
        match seed % 5 {
            0 if plain => {
                block.push_str(&[&line.replacen(" = ", "   =  ", 1), "  # of ", &at.to_string(), "\n"].concat());
            }
            1 if plain => block.push_str(&[line, "  \n"].concat()),
            _ => block.push_str(&[line, "\n"].concat()),
        }
    }
    let head = blocks.remove(0);
    let turn = usize::from(seeds.first().copied().unwrap_or_default()) % blocks.len().max(1);
    blocks.rotate_left(turn);
    format!("{head}{}", blocks.concat())
}

fn comments(toml: &str) -> Vec<&str> {
    let mut found: Vec<&str> = toml.lines().filter_map(|line| Some(&line[line.find('#')?..])).collect();
    found.sort_unstable();
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_form_saved_without_a_change_gives_the_identical_bytes(which in 0..2_usize, seeds in prop::collection::vec(any::<u8>(), 1..40)) {
        let toml = laid_out(BOOKS[which], &seeds);
        prop_assert!(read(&toml).is_ok(), "{:?}", read(&toml));
        let editing = Editing::of(&toml).unwrap();
        for line in editing.rules() {
            let typed = editing.typed(line.place).unwrap();
            // As a browser sends a form: lines end in both characters, and fields that are empty are sent as well.
            let mut sent: Vec<(String, String)> =
                typed.iter().map(|(name, text)| (name.clone(), format!(" {} ", text.replace('\n', "\r\n")))).collect();
            for ask in line.place.kind.asks().filter(|ask| !matches!(ask.shape, Shape::Group(_) | Shape::Rows(_))) {
                if !typed.iter().any(|pair| pair.0 == ask.name) {
                    sent.push((ask.name.to_owned(), String::new()));
                }
            }
            let sent = sent.into_iter().map(|(name, text)| (name, text.trim().to_owned())).collect();
            let again = editing.clone().write(line.place, &sent);
            prop_assert_eq!(again.as_deref(), Some(toml.as_str()), "{}", line.place);
        }
    }

    #[test]
    fn one_field_written_changes_one_line_and_one_taken_out_leaves_its_comments(which in 0..2_usize, seeds in prop::collection::vec(any::<u8>(), 1..40), pick in any::<prop::sample::Index>()) {
        let toml = laid_out(BOOKS[which], &seeds);
        let editing = Editing::of(&toml).unwrap();
        let rules: Vec<Place> = editing.rules().into_iter().map(|line| line.place).filter(|place| place.kind != RuleKind::Head).collect();
        let place = *pick.get(&rules);
        let put = |name: &str, text: &str| {
            let mut typed = editing.typed(place).unwrap();
            typed.retain(|pair| pair.0 != name);
            typed.push((name.to_owned(), text.to_owned()));
            editing.clone().write(place, &typed).unwrap()
        };
        let written = put("clause", "99.9 “x”");
        let differ: Vec<_> = toml.lines().zip(written.lines()).filter(|(one, other)| one != other).collect();
        prop_assert_eq!((differ.len(), toml.lines().count()), (1, written.lines().count()), "{:?}", differ);
        prop_assert_eq!(comments(&toml), comments(&written));
        prop_assert!(read(&written).is_ok());
        let shorter = put("clause", "");
        prop_assert_eq!(comments(&toml), comments(&shorter));
        let kept: Vec<&str> = shorter.lines().filter(|line| !line.trim_start().starts_with('#') && !line.trim().is_empty()).collect();
        let were: Vec<&str> = toml.lines().filter(|line| !line.trim_start().starts_with('#') && !line.trim().is_empty()).collect();
        prop_assert_eq!(kept.len() + 1, were.len());
        // What was taken out and typed again stands in the rule, and reads.
        let back = Editing::of(&shorter).unwrap();
        let mut typed = back.typed(place).unwrap();
        typed.push(("clause".to_owned(), "7.7".to_owned()));
        let again = back.write(place, &typed).unwrap();
        prop_assert!(read(&again).is_ok_and(|book| book.rules().any(|rule| rule.clause == "7.7")));
    }

    #[test]
    fn a_rule_taken_out_leaves_every_other_line_and_every_comment_above_it(which in 0..2_usize, seeds in prop::collection::vec(any::<u8>(), 1..40), pick in any::<prop::sample::Index>()) {
        let toml = laid_out(BOOKS[which], &seeds);
        let editing = Editing::of(&toml).unwrap();
        let rules = editing.rules();
        let line = pick.get(&rules);
        let less = editing.clone().take_out(line.place).unwrap();
        let others = Editing::of(&less).unwrap().rules();
        prop_assert_eq!(others.len() + 1, rules.len());
        prop_assert!(line.id.is_empty() || others.iter().all(|other| other.id != line.id));
        prop_assert!(less.lines().all(|line| toml.lines().any(|other| other == line)), "no line is new");
        let typed = editing.typed(line.place).unwrap();
        let (more, place) = Editing::of(&less).unwrap().add(line.place.kind, &typed).unwrap();
        let added = Editing::of(&more).unwrap().typed(place).unwrap();
        // What is typed is written without the space around it.
        let written: Vec<_> = typed.into_iter().map(|(name, text)| (name, text.trim().to_owned())).collect();
        prop_assert_eq!(added, written);
        prop_assert!(less.lines().all(|line| more.lines().any(|other| other == line)));
        prop_assert_eq!(read(&more).is_ok(), read(&toml).is_ok(), "{:?}", read(&more).err());
    }
}

/// Every field that the reader of a book asks for can be filled in on the form of its kind.
#[test]
fn the_form_asks_for_every_field_that_the_books_have() {
    for toml in BOOKS {
        let editing = Editing::of(toml).unwrap();
        for line in editing.rules() {
            assert_eq!(editing.unknown(line.place), [], "{}", line.place);
        }
    }
}

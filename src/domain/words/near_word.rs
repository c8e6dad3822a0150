//! The known word nearest to a mistyped one.

/// Longest word that is compared at all; what is longer is no slip of the fingers.
const LONGEST: usize = 60;

/// How many letters must be changed, added, taken out or swapped with their neighbour to turn one word into the other.
fn distance(from: &str, to: &str) -> usize {
    let (from, to): (Vec<char>, Vec<char>) = (from.chars().collect(), to.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=to.len()).collect();
    for (row, letter) in from.iter().enumerate() {
        let mut next = vec![row + 1];
        for (column, other) in to.iter().enumerate() {
            let at = |line: &[usize], place: usize| line.get(place).copied().unwrap_or(usize::MAX / 2);
            let changed = at(&last, column) + usize::from(letter != other);
            let mut least = changed.min(at(&last, column + 1) + 1).min(at(&next, column) + 1);
            let swapped = row > 0
                && column > 0
                && from.get(row - 1) == Some(other)
                && to.get(column - 1) == Some(letter)
                && letter != other;
            if swapped {
                least = least.min(at(&before, column - 1) + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut last, next);
    }
    last.last().copied().unwrap_or(0)
}

/// The word of `known` that `typed` most likely stands for; none when all are far off.
pub(crate) fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if typed.chars().count() > LONGEST {
        return None;
    }
    let plain = |word: &str| word.to_lowercase().replace(['-', '_'], " ");
    let wanted = plain(typed);
    known
        .into_iter()
        .map(|word| (distance(&wanted, &plain(word)), word))
        .filter(|(steps, word)| *steps <= 1 + word.chars().count() / 4)
        .min_by_key(|(steps, _)| *steps)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_the_classic_ones() {
        // the textbook pairs of Wagner and Fischer 1974, and a swap of neighbours after Damerau 1964
        for (from, to, steps) in [
            ("kitten", "sitting", 3),
            ("saturday", "sunday", 3),
            ("", "abc", 3),
            ("same", "same", 0),
            ("form", "from", 1),
        ] {
            assert_eq!(distance(from, to), steps, "{from} {to}");
            assert_eq!(distance(to, from), steps, "{to} {from}");
        }
    }

    #[test]
    fn a_slip_is_known_and_a_stranger_is_not() {
        let known = ["clause", "force", "evidence", "over_included"];
        assert_eq!(nearest("claus", known), Some("clause"));
        assert_eq!(nearest("evidnece", known), Some("evidence"));
        assert_eq!(nearest("over-included", known), Some("over_included"));
        assert_eq!(nearest("banana", known), None);
        assert_eq!(nearest(&"x".repeat(100_000), known), None);
    }
}

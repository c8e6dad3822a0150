//! How words are put together for people to read.

/// Things one after another as a sentence names them: `M2`, `M2 and M5`, `M2, M5 and M7`.
pub fn listed<T: std::fmt::Display>(things: &[T]) -> String {
    let words: Vec<String> = things.iter().map(ToString::to_string).collect();
    match words.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
    }
}

/// The text with its first letter large, as a sentence begins.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

//! How words are put together for people to read.

/// The text with its first letter large, as a sentence begins.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

//! Fixed words of a book: an enumeration, and the word that stands for each of its values.

/// Makes an enumeration whose values are written as words in a book.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$value_doc:meta])* $value:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum $name {
            $($(#[$value_doc])* $value,)+
        }

        impl $name {
            /// Every value and its word.
            pub const WORDS: &[(&str, Self)] = &[$(($word, Self::$value),)+];

            /// The word for it in a book.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$value => $word,)+ }
            }
        }
    };
}

pub(in crate::domain::book) use words;

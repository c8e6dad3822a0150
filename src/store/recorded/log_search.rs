//! Looking for entries of a build's log: by words, by who, by room, each with its count.

use super::build_log::{LogEntry, Row};
use crate::domain::words::ids::BuildId;
use crate::store::error::StoreError;
use crate::store::handle::Store;

/// What is looked for; what is empty asks for nothing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LogSearch {
    /// Words that stand in the sentence or in the figures, small and capital letters alike.
    pub words: String,
    /// Who did it, by name.
    pub by: String,
    /// The room it belongs to.
    pub room: String,
}

impl LogSearch {
    /// The words as a pattern: what has a meaning there is taken as it is written.
    fn pattern(&self) -> String {
        let words = self.words.trim().to_ascii_lowercase();
        if words.is_empty() {
            return String::new();
        }
        let letter =
            |letter: char| if matches!(letter, '!' | '%' | '_') { format!("!{letter}") } else { letter.to_string() };
        format!("%{}%", words.chars().map(letter).collect::<String>())
    }
}

/// The entries that are looked for, newest first.
const FOUND: &str = "SELECT * FROM log WHERE build = $1 AND ($2 = '' OR by = $2) AND ($3 = '' OR room = $3)
     AND ($4 = '' OR lower(what) LIKE $4 ESCAPE '!' OR lower(detail) LIKE $4 ESCAPE '!')
     ORDER BY number DESC LIMIT $5 OFFSET $6";
/// How many there are of each person.
const BY: &str = "SELECT by, COUNT(*) FROM log WHERE build = $1 AND ($2 = '' OR by = $2) AND ($3 = '' OR room = $3)
     AND ($4 = '' OR lower(what) LIKE $4 ESCAPE '!' OR lower(detail) LIKE $4 ESCAPE '!')
     GROUP BY by ORDER BY COUNT(*) DESC, by";
/// How many there are of each room.
const ROOM: &str = "SELECT room, COUNT(*) FROM log WHERE build = $1 AND ($2 = '' OR by = $2) AND ($3 = '' OR room = $3)
     AND ($4 = '' OR lower(what) LIKE $4 ESCAPE '!' OR lower(detail) LIKE $4 ESCAPE '!')
     GROUP BY room ORDER BY COUNT(*) DESC, room";

impl Store {
    /// The entries of a build that are looked for, newest first, without the newest so many, at most so many.
    pub async fn log_found(
        &self,
        build: BuildId,
        search: &LogSearch,
        skip: u32,
        most: u32,
    ) -> Result<Vec<LogEntry>, StoreError> {
        let query = sqlx::query_as(FOUND).bind(build.to_string()).bind(&search.by).bind(&search.room);
        let rows: Vec<Row> = query.bind(search.pattern()).bind(most).bind(skip).fetch_all(self.readers()).await?;
        rows.into_iter().map(Row::entry).collect()
    }

    /// Who did how many of the entries that are looked for, whoever they are by.
    pub async fn log_people(&self, build: BuildId, search: &LogSearch) -> Result<Vec<(String, u32)>, StoreError> {
        let query = sqlx::query_as(BY).bind(build.to_string()).bind("").bind(&search.room);
        Ok(query.bind(search.pattern()).fetch_all(self.readers()).await?)
    }

    /// How many of the entries that are looked for belong to which room, whatever room they are of.
    pub async fn log_rooms(&self, build: BuildId, search: &LogSearch) -> Result<Vec<(String, u32)>, StoreError> {
        let query = sqlx::query_as(ROOM).bind(build.to_string()).bind(&search.by).bind("");
        Ok(query.bind(search.pattern()).fetch_all(self.readers()).await?)
    }
}

#[cfg(test)]
mod tests {
    use super::LogSearch;

    #[test]
    fn what_has_a_meaning_in_a_pattern_is_taken_as_it_is_written() {
        let of = |words: &str| LogSearch { words: words.to_owned(), ..LogSearch::default() }.pattern();
        assert_eq!((of("  "), of("100 %_Cut!")), (String::new(), "%100 !%!_cut!!%".to_owned()));
    }
}

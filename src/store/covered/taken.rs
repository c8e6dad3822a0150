//! Rows that stood there before the log covered them, or that a step of the records' form made anew, taken as they stand.

use serde_json::json;

use super::check::compare;
use super::{Line, mark};
use crate::store::engine::{self, Connection};
use crate::store::error::StoreError;
use crate::store::recorded::build_log::{self, Entry};

/// Whether the rows are those that the log tells of, in records of any form; none where it never told of any.
pub(in crate::store) async fn agree(on: &mut Connection) -> Result<Option<bool>, StoreError> {
    let columns = engine::columns(on, "log_rows").await?;
    if columns.is_empty() || !any(on).await? {
        return Ok(None);
    }
    Ok(Some(compare(on).await?.faults.is_empty()))
}

/// Whether the log tells of any row.
async fn any(on: &mut Connection) -> Result<bool, StoreError> {
    Ok(sqlx::query_scalar("SELECT EXISTS (SELECT 1 FROM log_rows)").fetch_one(on).await?)
}

/// Writes an entry that covers all rows as they stand, where the log told of none or they were brought into another form;
/// says in it whether they agreed with the log until then.
pub(in crate::store) async fn take_as_they_stand(
    on: &mut Connection,
    brought_up: bool,
    agreed: Option<bool>,
) -> Result<(), StoreError> {
    // nobody else writes: the folder is this program's
    if !brought_up && any(on).await? {
        return Ok(());
    }
    engine::begin(on).await?;
    let mut lines = vec![Line::anew()];
    for table in engine::covered(on).await? {
        for row in engine::rows_of(on, &table).await? {
            lines.push(Line { name: table.name.clone(), before: None, after: Some(mark(&row)) });
        }
    }
    let rows = lines.len() - 1;
    if rows > 0 {
        let before = match agreed {
            None => "What they were before, no entry covers.",
            Some(true) => "Until now they were as the log says.",
            Some(false) => "Until now they were NOT as the log says: some were altered beside the program.",
        };
        let entry = Entry {
            build: None,
            by: "the program".to_owned(),
            // no clock was passed in where a shop is not open yet
            at: engine::moment(&mut *on).await?,
            room: "shop",
            what: format!("From here on the log covers the records as they stand, {rows} rows. {before}"),
            detail: json!({ "rows": rows, "form": engine::form(), "agreed": agreed }),
        };
        build_log::append_covering(on, entry, &lines).await?;
    }
    engine::end(on).await
}

//! Rows of what replies were typed from; they never change.

use sqlx::FromRow;

use crate::domain::recorded::rounds::Reply;
use crate::domain::recorded::rounds::mails::Mail;
use crate::domain::words::ids::BuildId;
use crate::store::engine::Executor;
use crate::store::error::StoreError;
use crate::store::lane::Write;
use crate::store::text::{moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    reply: String,
    name: String,
    size: i64,
    sha256: String,
    attached: String,
    by: String,
}

impl Row {
    fn mail(self) -> Result<(String, Mail), StoreError> {
        let mail = Mail {
            name: self.name,
            size: u64::try_from(self.size).map_err(|_| StoreError::Damaged { table: "reply_mails", column: "size" })?,
            sha256: parsed("reply_mails", "sha256", &self.sha256)?,
            attached: parsed("reply_mails", "attached", &self.attached)?,
            by: self.by,
        };
        Ok((self.reply, mail))
    }
}

/// What the replies to a build's rounds were typed from, each with the name of its reply, in the order they were attached.
pub(in crate::store) async fn of_build(
    on: impl Executor<'_>,
    build: BuildId,
) -> Result<Vec<(String, Mail)>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as(
        "SELECT reply_mails.* FROM reply_mails JOIN replies ON replies.id = reply
         JOIN rounds ON rounds.id = replies.round WHERE build = $1 ORDER BY reply_mails.number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    rows.into_iter().map(Row::mail).collect()
}

impl Write {
    /// The replies to a build's rounds, as the writer finds it.
    pub async fn replies(&mut self, build: BuildId) -> Result<Vec<Reply>, StoreError> {
        super::replies_of_build(&mut self.connection, build).await
    }

    /// Attaches a mail to a reply.
    pub async fn add_mail(&mut self, reply: &str, mail: &Mail) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO reply_mails (reply, name, size, sha256, attached, by) VALUES ($1, $2, $3, $4, $5, $6)",
        )
        .bind(reply)
        .bind(&mail.name)
        .bind(i64::try_from(mail.size).unwrap_or(i64::MAX))
        .bind(mail.sha256.text())
        .bind(moment(mail.attached))
        .bind(&mail.by)
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }
}

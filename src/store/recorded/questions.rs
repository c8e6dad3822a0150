//! Rows of questions and their answers.

use jiff::Timestamp;
use sqlx::FromRow;

use crate::domain::recorded::questions::{Answer, Condition, Question};
use crate::domain::words::ids::{BuildId, QuestionId};
use crate::store::engine::{Connection, Executor};
use crate::store::error::StoreError;
use crate::store::handle::Store;
use crate::store::lane::Write;
use crate::store::text::{maybe, moment, parsed};

#[derive(Debug, FromRow)]
struct Row {
    id: String,
    build: String,
    balloon: u32,
    about: Option<String>,
    text: String,
    reply: Option<String>,
    asked: String,
    by: String,
    settled: Option<String>,
    condition: String,
}

impl Row {
    fn question(self) -> Result<Question, StoreError> {
        Ok(Question {
            id: parsed("questions", "id", &self.id)?,
            build: parsed("questions", "build", &self.build)?,
            number: self.balloon,
            about: maybe("questions", "about", self.about.as_deref())?,
            text: self.text,
            from_reply: self.reply.is_some(),
            asked: parsed("questions", "asked", &self.asked)?,
            by: self.by,
            settled: maybe("questions", "settled", self.settled.as_deref())?,
            condition: match self.condition.as_str() {
                "" => None,
                word => {
                    Some(Condition::of(word).ok_or(StoreError::Damaged { table: "questions", column: "condition" })?)
                }
            },
            answers: Vec::new(),
        })
    }
}

type AnswerRow = (String, String, Option<String>, String, String);

fn answer((question, text, capture, given, by): AnswerRow) -> Result<(QuestionId, Answer), StoreError> {
    let capture = maybe("answers", "capture", capture.as_deref())?;
    let given = parsed("answers", "given", &given)?;
    Ok((parsed("answers", "question", &question)?, Answer { text, capture, given, by }))
}

async fn by_id(on: impl Executor<'_>, id: QuestionId) -> Result<Option<Question>, StoreError> {
    let row: Option<Row> =
        sqlx::query_as("SELECT * FROM questions WHERE id = $1").bind(id.to_string()).fetch_optional(on).await?;
    row.map(Row::question).transpose()
}

/// A build's questions with their answers, oldest first; the two are read one after the other, so `on` is best inside a
/// transaction.
pub(in crate::store) async fn of_build(on: &mut Connection, build: BuildId) -> Result<Vec<Question>, StoreError> {
    let rows: Vec<Row> = sqlx::query_as("SELECT * FROM questions WHERE build = $1 ORDER BY balloon")
        .bind(build.to_string())
        .fetch_all(&mut *on)
        .await?;
    let answers: Vec<AnswerRow> = sqlx::query_as(
        "SELECT question, answers.text, capture, given, answers.by FROM answers
         JOIN questions ON questions.id = question WHERE build = $1 ORDER BY answers.number",
    )
    .bind(build.to_string())
    .fetch_all(on)
    .await?;
    let mut questions: Vec<Question> = rows.into_iter().map(Row::question).collect::<Result<_, _>>()?;
    for row in answers {
        let (id, answer) = answer(row)?;
        if let Some(question) = questions.iter_mut().find(|question| question.id == id) {
            question.answers.push(answer);
        }
    }
    Ok(questions)
}

impl Store {
    /// A build's questions with their answers, oldest first.
    pub async fn questions(&self, build: BuildId) -> Result<Vec<Question>, StoreError> {
        let mut moment_of_reading = self.readers().begin().await?;
        of_build(&mut moment_of_reading, build).await
    }
}

impl Write {
    /// A question without its answers, as the writer finds it, looked up within its build.
    pub async fn question(&mut self, build: BuildId, id: QuestionId) -> Result<Question, StoreError> {
        let found = by_id(&mut self.connection, id).await?;
        found.filter(|question| question.build == build).ok_or(StoreError::NotFound("question"))
    }

    /// The number the next question of a build gets.
    pub async fn next_question(&mut self, build: BuildId) -> Result<u32, StoreError> {
        Ok(sqlx::query_scalar("SELECT COALESCE(MAX(balloon), 0) + 1 FROM questions WHERE build = $1")
            .bind(build.to_string())
            .fetch_one(&mut self.connection)
            .await?)
    }

    /// Adds a question; `reply` is the reply's name when it came with one.
    pub async fn add_question(&mut self, question: &Question, reply: Option<&str>) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO questions (id, build, balloon, about, text, reply, asked, by, condition)
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        )
        .bind(question.id.to_string())
        .bind(question.build.to_string())
        .bind(question.number)
        .bind(question.about.map(|balloon| balloon.to_string()))
        .bind(&question.text)
        .bind(reply)
        .bind(moment(question.asked))
        .bind(&question.by)
        .bind(question.condition.map(Condition::word).unwrap_or_default())
        .execute(&mut self.connection)
        .await?;
        Ok(())
    }

    /// Adds an answer to a question.
    pub async fn add_answer(&mut self, question: QuestionId, answer: &Answer) -> Result<(), StoreError> {
        sqlx::query("INSERT INTO answers (question, text, capture, given, by) VALUES ($1, $2, $3, $4, $5)")
            .bind(question.to_string())
            .bind(&answer.text)
            .bind(answer.capture.map(|capture| capture.to_string()))
            .bind(moment(answer.given))
            .bind(&answer.by)
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }

    /// Settles a question, or opens it again.
    pub async fn set_settled(&mut self, question: QuestionId, settled: Option<Timestamp>) -> Result<(), StoreError> {
        sqlx::query("UPDATE questions SET settled = $2 WHERE id = $1")
            .bind(question.to_string())
            .bind(settled.map(moment))
            .execute(&mut self.connection)
            .await?;
        Ok(())
    }
}

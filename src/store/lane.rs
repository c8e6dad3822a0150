//! The writer's lane: one task owns the only writing connection, commits what waits at once, then answers.

use std::future::Future;
use std::path::{Path, PathBuf};
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use sqlx::Connection as _;
use tokio::sync::{mpsc, oneshot};

use super::covered;
use super::engine::{self, Connection};
use super::error::StoreError;
use super::recorded::build_log;
use super::recorded::build_log::Entry;

/// Most changes in one commit.
const MOST: usize = 64;

/// The work of one change: a value, and the entry that says what happened (none when it was already so).
pub type Work<'w, T, E> = Pin<Box<dyn Future<Output = Result<(T, Option<Entry>), E>> + Send + 'w>>;

/// The writing connection, lent to one change at a time.
#[derive(Debug)]
pub struct Write {
    pub(super) connection: Connection,
}

impl Write {
    /// Says in the log what one of several things was that a change does; a change of one thing gives its entry back instead.
    pub async fn log(&mut self, entry: Entry) -> Result<(), StoreError> {
        build_log::append(&mut self.connection, entry).await.map(|_| ())
    }
}

type Answer = Box<dyn FnOnce(Result<(), String>) + Send>;
type Running<'w> = Pin<Box<dyn Future<Output = Answer> + Send + 'w>>;
type Job = Box<dyn for<'w> FnOnce(&'w mut Write) -> Running<'w> + Send>;

enum Message {
    Change(Job),
    Stop(oneshot::Sender<()>),
}

/// The way into the lane.
#[derive(Debug, Clone)]
pub(super) struct Lane {
    queue: mpsc::Sender<Message>,
    /// Whether the disk failed a sync, after which nothing is written until a restart.
    failed: Arc<AtomicBool>,
}

impl Lane {
    /// Starts the lane on its connection.
    pub(super) fn start(connection: Connection, folder: &Path) -> Self {
        let (queue, messages) = mpsc::channel(1024);
        let failed = Arc::new(AtomicBool::new(false));
        let running = tokio::spawn(run(Write { connection }, messages, folder.to_owned(), Arc::clone(&failed)));
        tokio::spawn(async move {
            if let Err(error) = running.await {
                tracing::error!(%error, "the writer's lane ended; nothing is taken until a restart");
            }
        });
        Self { queue, failed }
    }

    /// Does a change and waits until it is on the disk.
    pub(super) async fn change<T, E, F>(&self, work: F) -> Result<T, E>
    where
        T: Send + 'static,
        E: From<StoreError> + Send + 'static,
        F: for<'w> FnOnce(&'w mut Write) -> Work<'w, T, E> + Send + 'static,
    {
        let (answer, answered) = oneshot::channel();
        let job: Job = Box::new(move |write| Box::pin(one(write, work, answer)));
        let stopped = || E::from(StoreError::Ended);
        self.queue.send(Message::Change(job)).await.map_err(|_| stopped())?;
        answered.await.map_err(|_| stopped())?
    }

    /// Whether nothing is written any more: the lane was stopped, it ended by itself, or the disk failed it.
    pub(super) fn ended(&self) -> bool {
        self.queue.is_closed() || self.failed.load(Ordering::Relaxed)
    }

    /// Lets what waits be done, folds the write-ahead log in and ends the lane.
    pub(super) async fn stop(&self) {
        let (done, ended) = oneshot::channel();
        if self.queue.send(Message::Stop(done)).await.is_ok() {
            // an error only says that the lane had already ended
            let _ = ended.await;
        }
    }
}

/// One change inside its own savepoint; what it gives back is told to its caller after the commit.
async fn one<T, E, F>(write: &mut Write, work: F, answer: oneshot::Sender<Result<T, E>>) -> Answer
where
    T: Send + 'static,
    E: From<StoreError> + Send + 'static,
    F: for<'w> FnOnce(&'w mut Write) -> Work<'w, T, E> + Send + 'static,
{
    let done = in_savepoint(write, work).await;
    Box::new(move |committed| {
        let said = match committed {
            Ok(()) => done,
            Err(why) => done.and_then(|_| Err(StoreError::NotKept(why).into())),
        };
        // the caller may have gone away; the change stands all the same
        let _ = answer.send(said);
    })
}

async fn in_savepoint<T, E, F>(write: &mut Write, work: F) -> Result<T, E>
where
    E: From<StoreError>,
    F: for<'w> FnOnce(&'w mut Write) -> Work<'w, T, E> + Send,
{
    say(write, "SAVEPOINT change").await?;
    let done = match work(write).await {
        Ok((value, Some(entry))) => match build_log::append(&mut write.connection, entry).await {
            Ok(_) => Ok(value),
            Err(error) => Err(E::from(error)),
        },
        Ok((value, None)) => covered::nothing_untold(&mut write.connection).await.map(|()| value).map_err(E::from),
        Err(error) => Err(error),
    };
    if done.is_err() {
        say(write, "ROLLBACK TO change").await?;
    }
    say(write, "RELEASE change").await?;
    done
}

async fn say(write: &mut Write, words: &'static str) -> Result<(), StoreError> {
    sqlx::query(words).execute(&mut write.connection).await?;
    Ok(())
}

async fn run(mut write: Write, mut messages: mpsc::Receiver<Message>, folder: PathBuf, failed: Arc<AtomicBool>) {
    let mut waiting = Vec::with_capacity(MOST);
    let mut stopping = None;
    let mut broken: Option<String> = None;
    while stopping.is_none() {
        if messages.recv_many(&mut waiting, MOST).await == 0 {
            break;
        }
        let mut jobs = Vec::with_capacity(waiting.len());
        for message in waiting.drain(..) {
            match message {
                Message::Change(job) => jobs.push(job),
                Message::Stop(done) => stopping = Some(done),
            }
        }
        if jobs.is_empty() {
            continue;
        }
        if broken.is_none() {
            broken = commit(&mut write, jobs).await;
            failed.store(broken.is_some(), Ordering::Relaxed);
            if engine::fold_in_when_long(&mut write.connection, &folder).await.is_err() {
                tracing::warn!("the write-ahead log could not be folded in now");
            }
        } else {
            // Dropping the jobs answers each with "ended": after a failed sync nothing is written until a restart.
            tracing::error!(why = ?broken, "changes refused: the disk failed a sync; restart to go on");
        }
    }
    messages.close();
    if broken.is_none() && engine::fold_in(&mut write.connection).await.is_err() {
        tracing::warn!("the write-ahead log was not folded in at the end; the next start does it");
    }
    if write.connection.close().await.is_err() {
        tracing::warn!("the writing connection did not close cleanly");
    }
    if let Some(done) = stopping {
        // nobody may be waiting any more
        let _ = done.send(());
    }
}

/// Runs the jobs in one transaction and answers them; gives back why, when the disk failed for good.
async fn commit(write: &mut Write, jobs: Vec<Job>) -> Option<String> {
    if let Err(error) = engine::begin(&mut write.connection).await {
        tracing::error!(%error, "no transaction could be begun");
        return None;
    }
    let mut answers = Vec::with_capacity(jobs.len());
    for job in jobs {
        answers.push(job(write).await);
    }
    let committed = sqlx::query("COMMIT").execute(&mut write.connection).await;
    let mut failed = None;
    if let Err(error) = &committed {
        tracing::error!(%error, "a commit failed");
        if engine::disk_failed(error) {
            failed = Some(error.to_string());
        }
        if say(write, "ROLLBACK").await.is_err() {
            tracing::debug!("nothing was left to roll back");
        }
    }
    let outcome = committed.map(|_| ()).map_err(|error| error.to_string());
    for answer in answers {
        answer(outcome.clone());
    }
    failed
}

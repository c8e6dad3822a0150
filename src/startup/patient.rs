//! A connection whose other end takes what it is sent: slowly, if it must, but not never.

use std::io;
use std::pin::Pin;
use std::task::{Context, Poll, ready};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Sleep, sleep};

/// How long not one byte of an answer may be taken (own choice: a phone that went round a corner comes back sooner).
const PATIENCE: Duration = Duration::from_mins(1);

/// A connection that breaks when nothing is taken any more.
pub(super) struct Patient<C> {
    inner: C,
    patience: Duration,
    /// Since when nothing was taken; none while something is.
    waiting: Option<Pin<Box<Sleep>>>,
}

impl<C: AsyncWrite + Unpin> Patient<C> {
    /// Around a connection.
    pub(super) fn with(inner: C) -> Self {
        Self { inner, patience: PATIENCE, waiting: None }
    }

    fn patiently<T>(&mut self, cx: &mut Context<'_>, done: Poll<io::Result<T>>) -> Poll<io::Result<T>> {
        if done.is_ready() {
            self.waiting = None;
            return done;
        }
        let waiting = self.waiting.get_or_insert_with(|| Box::pin(sleep(self.patience)));
        ready!(waiting.as_mut().poll(cx));
        Poll::Ready(Err(io::ErrorKind::TimedOut.into()))
    }
}

impl<C: AsyncRead + Unpin> AsyncRead for Patient<C> {
    fn poll_read(mut self: Pin<&mut Self>, cx: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_read(cx, into)
    }
}

impl<C: AsyncWrite + Unpin> AsyncWrite for Patient<C> {
    fn poll_write(mut self: Pin<&mut Self>, cx: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let done = Pin::new(&mut self.inner).poll_write(cx, bytes);
        self.patiently(cx, done)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        bytes: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let done = Pin::new(&mut self.inner).poll_write_vectored(cx, bytes);
        self.patiently(cx, done)
    }

    fn is_write_vectored(&self) -> bool {
        self.inner.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let done = Pin::new(&mut self.inner).poll_flush(cx);
        self.patiently(cx, done)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let done = Pin::new(&mut self.inner).poll_shutdown(cx);
        self.patiently(cx, done)
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

    use super::Patient;

    #[tokio::test]
    async fn who_takes_slowly_is_waited_for_and_who_takes_nothing_is_not() {
        let (ours, mut theirs) = tokio::io::duplex(8);
        let mut ours = Patient { patience: Duration::from_millis(500), ..Patient::with(ours) };
        let sending = tokio::spawn(async move { ours.write_all(&[7; 64]).await.map_err(|error| error.kind()) });
        let mut taken = [0; 8];
        for _ in 0..3 {
            tokio::time::sleep(Duration::from_millis(300)).await;
            theirs.read_exact(&mut taken).await.unwrap();
        }
        assert!(!sending.is_finished());
        tokio::time::sleep(Duration::from_millis(900)).await;
        assert!(sending.is_finished());
        assert_eq!(sending.await.unwrap(), Err(std::io::ErrorKind::TimedOut));
    }
}

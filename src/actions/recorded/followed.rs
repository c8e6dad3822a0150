//! A photograph followed while somebody reads it: afterwards it is known whether all that was read, and the rest, is the file
//! that was received.

use std::pin::Pin;
use std::task::{Context, Poll, ready};

use sha2::{Digest as _, Sha256};
use tokio::io::{AsyncRead, ReadBuf};

use crate::domain::words::fingerprint::Fingerprint;

/// What is read, hashed as it passes.
pub(super) struct Followed<R> {
    read: R,
    hasher: Sha256,
}

impl<R: AsyncRead + Unpin> Followed<R> {
    /// Follows a file from its beginning.
    pub(super) fn of(read: R) -> Self {
        Self { read, hasher: Sha256::new() }
    }

    /// The fingerprint of all that was read and of all that is left.
    pub(super) async fn fingerprint(mut self) -> std::io::Result<Fingerprint> {
        tokio::io::copy(&mut self, &mut tokio::io::sink()).await?;
        Ok(Fingerprint::of_hasher(self.hasher))
    }
}

impl<R: AsyncRead + Unpin> AsyncRead for Followed<R> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<std::io::Result<()>> {
        let before = buffer.filled().len();
        ready!(Pin::new(&mut self.read).poll_read(cx, buffer))?;
        self.hasher.update(buffer.filled().get(before..).unwrap_or_default());
        Poll::Ready(Ok(()))
    }
}

#[cfg(test)]
mod tests {
    use tokio::io::AsyncReadExt as _;

    use super::Followed;
    use crate::domain::words::fingerprint::Fingerprint;

    #[tokio::test]
    async fn all_counts_whether_it_was_read_by_somebody_or_left() {
        let all = vec![7_u8; 300_000];
        for taken in [0, 1, 8_191, 8_192, 299_999, 300_000] {
            let mut followed = Followed::of(all.as_slice());
            let mut some = vec![0; taken];
            followed.read_exact(&mut some).await.unwrap();
            assert_eq!(followed.fingerprint().await.unwrap(), Fingerprint::of(&all), "{taken}");
        }
    }
}

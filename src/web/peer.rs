//! The other end of a connection: who it is, whether it came encrypted (from the
//! connection, or from what a proxy on this machine says where one was announced), and
//! how fast it goes. Who sends, or takes what is sent, may pause for a while and is then
//! given up, however little still comes. So one who never finishes holds nothing for
//! long, and of several the slowest is known.

use super::{error_page::ErrorPage, state::AppState};
use axum::{
    extract::FromRequestParts,
    http::{HeaderMap, request::Parts},
};
use std::{
    convert::Infallible,
    io::{self, IoSlice},
    net::{IpAddr, Ipv4Addr},
    pin::Pin,
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    task::{Context, Poll, ready},
    time::Duration,
};
use tokio::{
    io::{AsyncRead, AsyncWrite, ReadBuf},
    net::TcpStream,
    sync::Notify,
    time::{Instant, sleep_until},
};

/// What each byte gains: some 4 KB a second are enough to be waited for.
const BYTE: Duration = Duration::from_micros(250);

/// The other end of a connection; each request of it carries this.
#[derive(Debug, Clone)]
pub(super) struct Peer {
    pub(super) address: IpAddr,
    pub(super) pace: Arc<Pace>,
}

/// Who sent a request.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sender {
    pub(super) address: IpAddr,
    /// Whether nobody on the way can read it.
    pub(super) is_encrypted: bool,
}

impl FromRequestParts<Arc<AppState>> for Sender {
    type Rejection = Infallible;

    async fn from_request_parts(
        parts: &mut Parts,
        state: &Arc<AppState>,
    ) -> Result<Self, Infallible> {
        let peer = parts.extensions.get::<Peer>();
        let peer = peer.map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |peer| peer.address);
        // From anybody else these headers are a mere claim.
        let said = |name| {
            let is_proxy = state.is_behind_proxy && peer.to_canonical().is_loopback();
            is_proxy.then(|| last(&parts.headers, name)).flatten()
        };
        let address = said("x-forwarded-for").and_then(|text| text.parse().ok());
        Ok(Self {
            address: address.unwrap_or(peer),
            is_encrypted: said("x-forwarded-proto") == Some("https"),
        })
    }
}

/// The last value of a header that may be a list: the one that the nearest proxy added.
fn last<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let value = headers.get_all(name).iter().next_back()?.to_str().ok()?;
    value.rsplit(',').next().map(str::trim)
}

/// How long the other end is still waited for.
#[derive(Debug)]
pub(super) struct Pace {
    /// The longest pause.
    pause: Duration,
    /// When it will have paused for too long; nothing while it waits for us.
    due: Mutex<Option<Instant>>,
    given_up: Notify,
}

impl Pace {
    /// Of one who just came and may pause so long.
    pub(super) fn with_pause(pause: Duration) -> Self {
        Self {
            pause,
            due: Mutex::new(Some(Instant::now() + pause)),
            given_up: Notify::new(),
        }
    }

    /// The other end is to send, or to take what is sent.
    pub(super) fn wait(&self) {
        *self.locked() = Some(Instant::now() + self.pause);
    }

    /// All has been sent: the other end waits for us.
    pub(super) fn work(&self) {
        *self.locked() = None;
    }

    /// So many bytes went either way.
    fn moved(&self, bytes: usize) {
        let gain = BYTE.saturating_mul(u32::try_from(bytes).unwrap_or(u32::MAX));
        if let Some(due) = &mut *self.locked() {
            *due = (*due + gain).min(Instant::now() + self.pause);
        }
    }

    /// When it will have paused for too long; nothing while it waits for us.
    pub(super) fn due(&self) -> Option<Instant> {
        *self.locked()
    }

    /// Waits no longer.
    pub(super) fn give_up(&self) {
        self.given_up.notify_one();
    }

    /// Ends when the other end has paused for too long or is given up.
    pub(super) async fn late(&self) {
        loop {
            let now = Instant::now();
            let due = self.due().unwrap_or(now + self.pause);
            if due <= now {
                return;
            }
            tokio::select! {
                () = sleep_until(due) => {}
                () = self.given_up.notified() => return,
            }
        }
    }

    fn locked(&self) -> MutexGuard<'_, Option<Instant>> {
        self.due.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A connection that tells its pace, and has a page for what hyper refuses before there
/// is a request.
#[derive(Debug)]
pub(super) struct PacedStream {
    stream: TcpStream,
    pace: Arc<Pace>,
    /// What is sent in the place of a bare refusal, and how much of it went.
    instead: Option<(Vec<u8>, usize)>,
}

/// Whether this is all that hyper says of an address, or of a head, that is too long.
fn is_bare_refusal(bytes: &[u8]) -> bool {
    let begins = [&b"HTTP/1.1 414 "[..], b"HTTP/1.1 431 "];
    begins.iter().any(|begin| bytes.starts_with(begin))
        && bytes.ends_with(b"\r\n\r\n")
        && bytes.windows(17).any(|part| part == b"content-length: 0")
}

impl PacedStream {
    pub(super) fn new(stream: TcpStream, pace: Arc<Pace>) -> Self {
        Self {
            stream,
            pace,
            instead: None,
        }
    }

    fn stream(&mut self) -> Pin<&mut TcpStream> {
        Pin::new(&mut self.stream)
    }

    /// Sends the page that takes the place of a bare refusal of so many bytes.
    fn write_instead(
        &mut self,
        context: &mut Context<'_>,
        bytes: usize,
    ) -> Poll<io::Result<usize>> {
        let page = self.instead.take();
        let (page, mut gone) = page.unwrap_or_else(|| (ErrorPage::of_long_address(), 0));
        while let Some(rest) = page.get(gone..).filter(|rest| !rest.is_empty()) {
            match self.stream().poll_write(context, rest) {
                Poll::Ready(Ok(written)) if written > 0 => gone += written,
                Poll::Pending => {
                    self.instead = Some((page, gone));
                    return Poll::Pending;
                }
                Poll::Ready(failed) => return Poll::Ready(failed),
            }
        }
        self.instead = Some((page, gone));
        Poll::Ready(Ok(bytes))
    }

    /// Reads what still comes of a refused head: a browser that is cut off while it
    /// sends shows no page.
    fn drain(&mut self, context: &mut Context<'_>) -> Poll<()> {
        let mut scrap = [0; 16 * 1024];
        loop {
            let mut buffer = ReadBuf::new(&mut scrap);
            match ready!(self.stream().poll_read(context, &mut buffer)) {
                Ok(()) if !buffer.filled().is_empty() => {}
                Ok(()) | Err(_) => return Poll::Ready(()),
            }
        }
    }

    fn count(&self, written: io::Result<usize>) -> Poll<io::Result<usize>> {
        if let Ok(bytes) = written {
            self.pace.moved(bytes);
        }
        Poll::Ready(written)
    }
}

impl AsyncRead for PacedStream {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        let room = buffer.remaining();
        let read = self.stream().poll_read(context, buffer);
        self.pace.moved(room.saturating_sub(buffer.remaining()));
        read
    }
}

impl AsyncWrite for PacedStream {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        if self.instead.is_some() || is_bare_refusal(bytes) {
            return self.write_instead(context, bytes.len());
        }
        let written = ready!(self.stream().poll_write(context, bytes));
        self.count(written)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        parts: &[IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        if let [part] = parts {
            return self.poll_write(context, part);
        }
        let written = ready!(self.stream().poll_write_vectored(context, parts));
        self.count(written)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.stream().poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        ready!(self.stream().poll_shutdown(context))?;
        if self.instead.is_some() {
            ready!(self.drain(context));
        }
        Poll::Ready(Ok(()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::time::timeout;

    const PAUSE: Duration = Duration::from_millis(100);

    #[tokio::test]
    async fn who_sends_a_little_now_and_then_is_given_up_and_who_sends_enough_is_not() {
        let (slow, quick) = (Pace::with_pause(PAUSE), Pace::with_pause(PAUSE));
        let sending = async {
            for _ in 0..40 {
                slow.moved(1);
                quick.moved(4000);
                tokio::time::sleep(PAUSE / 10).await;
            }
        };
        tokio::select! {
            () = sending => panic!("one byte in ten milliseconds is not enough"),
            () = quick.late() => panic!("it sent enough"),
            () = slow.late() => {}
        }
    }

    #[tokio::test]
    async fn who_waits_for_us_is_never_late() {
        let pace = Pace::with_pause(PAUSE);
        pace.work();
        assert!(timeout(3 * PAUSE, pace.late()).await.is_err());
        pace.wait();
        pace.late().await;
    }

    #[test]
    fn what_was_sent_at_once_gains_no_more_than_one_pause() {
        let pace = Pace::with_pause(PAUSE);
        pace.moved(24 << 20);
        assert!(pace.due().unwrap() <= Instant::now() + PAUSE);
    }
}

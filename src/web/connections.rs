//! Open connections: how many there may be, who gives way where there is no room,
//! how long one lasts, and how all of them end. What is asked in them is left to the
//! router.

use super::peer::{Pace, PacedStream, Peer};
use axum::{Router, body::HttpBody, response::Response};
use hyper::{
    Request,
    body::Incoming,
    server::conn::http1,
    service::{Service, service_fn},
};
use hyper_util::{
    rt::{TokioIo, TokioTimer},
    service::TowerToHyperService,
};
use std::{
    cmp::Reverse,
    convert::Infallible,
    io,
    net::SocketAddr,
    pin::pin,
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    time::Duration,
};
use tokio::{
    net::{TcpListener, TcpStream},
    sync::{Notify, OwnedSemaphorePermit, Semaphore},
    time::{sleep, timeout},
};

/// The most bytes of the head of a request, so that all of them together stay under
/// 32 MiB. An address alone has at most 64 KiB; beyond, hyper refuses it and
/// `PacedStream` sends a page.
const HEAD: usize = 128 * 1024;
/// How long a newcomer waits before another one is asked to give way.
const MOMENT: Duration = Duration::from_millis(100);

/// What connections may take.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// Connections that are open at once; a browser holds some six.
    pub(super) most: u32,
    /// How long the other end may pause: in a head, in a body, while it takes an
    /// answer, and between two requests.
    pub(super) pausing: Duration,
    /// How long an answer may take to arrive once a connection is to end.
    pub(super) answering: Duration,
    /// How long one connection lasts.
    pub(super) lasting: Duration,
    /// How long all of them may take to end once the program is to stop.
    pub(super) ending: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            most: 256,
            pausing: Duration::from_secs(20),
            answering: Duration::from_secs(60),
            lasting: Duration::from_secs(600),
            ending: Duration::from_secs(4),
        }
    }
}

/// All connections of a server.
#[derive(Debug)]
pub(super) struct Connections {
    limits: Limits,
    room: Arc<Semaphore>,
    /// Who is at the other ends, and was not asked to give way yet.
    peers: Arc<Mutex<Vec<Peer>>>,
    leave: Arc<Notify>,
}

impl Connections {
    pub(super) fn within(limits: Limits) -> Self {
        let most = usize::try_from(limits.most).unwrap_or(usize::MAX);
        Self {
            limits,
            room: Arc::new(Semaphore::new(most)),
            peers: Arc::default(),
            leave: Arc::new(Notify::new()),
        }
    }

    /// Lets in whoever comes, and never ends. Whoever comes where there is no
    /// room waits until there is.
    pub(super) async fn open(&self, listener: TcpListener, router: Router) {
        loop {
            let (stream, from) = accepted(&listener).await;
            let Some(slot) = self.slot().await else {
                return;
            };
            let peer = Peer {
                address: from.ip(),
                pace: Arc::new(Pace::with_pause(self.limits.pausing)),
            };
            locked(&self.peers).push(peer.clone());
            let leave = Arc::clone(&self.leave).notified_owned();
            let (router, limits) = (router.clone(), self.limits);
            let peers = Arc::clone(&self.peers);
            tokio::spawn(async move {
                conversation(stream, router, &peer, limits, leave).await;
                locked(&peers).retain(|other| !Arc::ptr_eq(&other.pace, &peer.pace));
                drop(slot);
            });
        }
    }

    /// Room for one more. Where there is none, the slowest gives way, so that those
    /// who send nothing, or hardly anything, keep no newcomer out.
    async fn slot(&self) -> Option<OwnedSemaphorePermit> {
        if let Ok(slot) = Arc::clone(&self.room).try_acquire_owned() {
            return Some(slot);
        }
        loop {
            give_way(&mut locked(&self.peers));
            let freed = timeout(MOMENT, Arc::clone(&self.room).acquire_owned());
            if let Ok(slot) = freed.await {
                return slot.ok();
            }
        }
    }

    /// Ends them all, each with the answer that is under way.
    pub(super) async fn close(&self) {
        self.leave.notify_waiters();
        drop(self.room.acquire_many(self.limits.most).await);
    }
}

fn locked(peers: &Mutex<Vec<Peer>>) -> MutexGuard<'_, Vec<Peer>> {
    peers.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Gives the slowest up, where there is one.
fn give_way(peers: &mut Vec<Peer>) {
    if let Some(place) = slowest(peers) {
        peers.swap_remove(place).pace.give_up();
    }
}

/// Who gives way: of those that we wait for, one from where most connections come, and
/// there the one that we would give up first. Who waits for us never does.
fn slowest(peers: &[Peer]) -> Option<usize> {
    let from = |address| peers.iter().filter(|peer| peer.address == address).count();
    let waited_for = peers.iter().enumerate().filter_map(|(place, peer)| {
        let due = peer.pace.due()?;
        Some((Reverse(from(peer.address)), due, place))
    });
    waited_for.min().map(|(_, _, place)| place)
}

/// The next connection, and from where. What fails with one of them is no matter of the next.
async fn accepted(listener: &TcpListener) -> (TcpStream, SocketAddr) {
    loop {
        match listener.accept().await {
            Ok(accepted) => return accepted,
            Err(error) if is_of_one(&error) => {}
            // Such as too many open files: others are closed before long.
            Err(_) => sleep(Duration::from_secs(1)).await,
        }
    }
}

fn is_of_one(error: &io::Error) -> bool {
    matches!(
        error.kind(),
        io::ErrorKind::ConnectionRefused
            | io::ErrorKind::ConnectionAborted
            | io::ErrorKind::ConnectionReset
    )
}

/// One connection, until it ends by itself, pauses for too long, is to leave or lasted
/// long enough.
async fn conversation(
    stream: TcpStream,
    router: Router,
    peer: &Peer,
    limits: Limits,
    leave: impl Future<Output = ()>,
) {
    // Without it answers are only slower.
    drop(stream.set_nodelay(true));
    let pace = Arc::clone(&peer.pace);
    let talk = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(None)
        .max_buf_size(HEAD)
        .serve_connection(
            TokioIo::new(PacedStream::new(stream, pace)),
            answered(router, peer),
        );
    let mut talk = pin!(talk);
    tokio::select! {
        // How it ended is the other side's affair.
        _ = talk.as_mut() => return,
        () = peer.pace.late() => return,
        () = leave => {}
        () = sleep(limits.lasting) => {}
    }
    talk.as_mut().graceful_shutdown();
    tokio::select! {
        _ = timeout(limits.answering, talk) => {}
        () = peer.pace.late() => {}
    }
}

/// Answers requests of this peer, and keeps its pace: it is waited for until all of a
/// request has come and again once it is answered.
fn answered(
    router: Router,
    peer: &Peer,
) -> impl Service<Request<Incoming>, Response = Response, Error = Infallible, Future: Send> + use<>
{
    let (pages, peer) = (TowerToHyperService::new(router), peer.clone());
    service_fn(move |mut request: Request<Incoming>| {
        if request.body().is_end_stream() {
            peer.pace.work();
        }
        request.extensions_mut().insert(peer.clone());
        let (answer, pace) = (pages.call(request), Arc::clone(&peer.pace));
        async move {
            let answer = answer.await;
            pace.wait();
            answer
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::routing::get;
    use std::{
        io::{Read, Write},
        net::{SocketAddr, TcpStream as Socket},
        time::Instant,
    };
    use tokio::task::spawn_blocking;

    const QUICK: Limits = Limits {
        most: 2,
        pausing: Duration::from_millis(300),
        answering: Duration::from_secs(5),
        lasting: Duration::from_secs(60),
        ending: Duration::from_secs(5),
    };

    async fn begun(limits: Limits) -> SocketAddr {
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let all_of_it = async |text: String| text;
        let router = Router::new()
            .route("/", get(async || "here").post(all_of_it))
            .route("/much", get(async || "much".repeat(10_000_000)));
        tokio::spawn(async move { Connections::within(limits).open(listener, router).await });
        address
    }

    fn opened(address: SocketAddr) -> Socket {
        let socket = Socket::connect(address).unwrap();
        let most = Some(Duration::from_secs(20));
        socket.set_read_timeout(most).unwrap();
        socket
    }

    fn ask(socket: &mut Socket) -> String {
        socket
            .write_all(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            .unwrap();
        let mut answer = [0; 1024];
        let read = socket.read(&mut answer).unwrap();
        String::from_utf8_lossy(&answer[..read]).into_owned()
    }

    fn is_ended(socket: &mut Socket) -> bool {
        let mut rest = Vec::new();
        socket.read_to_end(&mut rest).is_ok() && rest.is_empty()
    }

    /// Everything that is answered to an address of so many bytes.
    async fn answer_to_address(bytes: usize) -> String {
        let address = begun(Limits {
            pausing: Duration::from_secs(10),
            ..QUICK
        })
        .await;
        let answer = spawn_blocking(move || {
            let mut socket = opened(address);
            let asked = format!("GET /?{} HTTP/1.1\r\nHost: x\r\n\r\n", "a".repeat(bytes));
            socket.write_all(asked.as_bytes()).unwrap();
            let mut answer = String::new();
            socket.read_to_string(&mut answer).unwrap();
            answer
        });
        answer.await.unwrap()
    }

    #[tokio::test]
    async fn an_address_that_is_too_long_is_answered_with_a_page() {
        // Beyond what an address may have, and beyond what a head may have.
        for bytes in [70_000, 1_000_000] {
            let answer = answer_to_address(bytes).await;
            let (head, page) = answer.split_once("\r\n\r\n").unwrap();
            assert!(head.starts_with("HTTP/1.1 414 URI Too Long"), "{head}");
            assert!(head.contains("content-security-policy: default-src 'none'"));
            assert!(head.contains(&format!("content-length: {}", page.len())));
            assert!(page.contains("This address is too long"), "{page}");
        }
    }

    #[tokio::test]
    async fn a_request_that_is_half_sent_is_dropped() {
        let address = begun(QUICK).await;
        let begin = Instant::now();
        let ended = spawn_blocking(move || {
            let mut socket = opened(address);
            socket.write_all(b"GET / HTTP/1.1\r\nHos").unwrap();
            is_ended(&mut socket)
        });
        assert!(ended.await.unwrap());
        assert!(begin.elapsed() >= QUICK.pausing);
    }

    /// Where two may be open and may pause for long, `hold` of each of them keeps no
    /// newcomer out.
    async fn no_newcomer_is_kept_out(hold: impl Fn(&mut Socket) + Send + 'static) {
        let pausing = Duration::from_secs(60);
        let address = begun(Limits { pausing, ..QUICK }).await;
        let done = spawn_blocking(move || {
            let mut before: Vec<Socket> = (0..2).map(|_| opened(address)).collect();
            before.iter_mut().for_each(hold);
            // Read by the server before the next one comes.
            std::thread::sleep(Duration::from_millis(50));
            let mut newcomers: Vec<Socket> = (0..2).map(|_| opened(address)).collect();
            for newcomer in &mut newcomers {
                assert!(ask(newcomer).contains("200 OK"));
            }
            before.iter_mut().all(is_given_up)
        });
        assert!(done.await.unwrap());
    }

    fn is_given_up(socket: &mut Socket) -> bool {
        let mut rest = vec![0; 1 << 20];
        loop {
            match socket.read(&mut rest) {
                Ok(0) => return true,
                Ok(_) => {}
                Err(error) => return error.kind() != io::ErrorKind::WouldBlock,
            }
        }
    }

    #[tokio::test]
    async fn those_who_ask_nothing_more_give_way() {
        no_newcomer_is_kept_out(|socket| assert!(ask(socket).contains("200 OK"))).await;
    }

    #[tokio::test]
    async fn those_who_never_finish_a_head_give_way() {
        no_newcomer_is_kept_out(|socket| socket.write_all(b"GET /").unwrap()).await;
    }

    #[tokio::test]
    async fn those_who_never_finish_a_body_give_way() {
        let half = b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\n\r\nhalf";
        no_newcomer_is_kept_out(|socket| socket.write_all(half).unwrap()).await;
    }

    #[tokio::test]
    async fn those_who_never_take_their_answer_give_way() {
        let much = b"GET /much HTTP/1.1\r\nHost: x\r\n\r\n";
        no_newcomer_is_kept_out(|socket| socket.write_all(much).unwrap()).await;
    }

    fn peer(address: &str, pause: u64, waits: bool) -> Peer {
        let pace = Pace::with_pause(Duration::from_secs(pause));
        if !waits {
            pace.work();
        }
        Peer {
            address: address.parse().unwrap(),
            pace: Arc::new(pace),
        }
    }

    #[test]
    fn the_slowest_of_the_address_with_most_connections_gives_way_and_nobody_who_waits_for_us() {
        let mut peers = vec![
            peer("192.0.2.1", 1, true),
            peer("192.0.2.2", 7, true),
            peer("192.0.2.2", 5, true),
            peer("192.0.2.2", 0, false),
        ];
        assert_eq!(slowest(&peers), Some(2));
        peers.drain(1..3);
        assert_eq!(slowest(&peers), Some(0));
        peers.remove(0);
        assert_eq!(slowest(&peers), None);
    }

    #[tokio::test]
    async fn no_connection_lasts_for_ever() {
        let short = Duration::from_millis(200);
        let address = begun(Limits {
            lasting: short,
            pausing: Duration::from_secs(60),
            ..QUICK
        })
        .await;
        let ended = spawn_blocking(move || {
            let mut socket = opened(address);
            assert!(ask(&mut socket).contains("200 OK"));
            is_ended(&mut socket)
        });
        assert!(ended.await.unwrap());
    }
}

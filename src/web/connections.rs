//! Open connections: how many there may be, how long each may take to ask and
//! how long it lasts, and how all of them end. What is asked in them is left to
//! the router.

use super::sender::Peer;
use axum::{Extension, Router};
use hyper::server::conn::http1;
use hyper_util::{
    rt::{TokioIo, TokioTimer},
    service::TowerToHyperService,
};
use std::{io, net::SocketAddr, pin::pin, sync::Arc, time::Duration};
use tokio::{
    net::{TcpListener, TcpStream},
    sync::{Notify, OwnedSemaphorePermit, Semaphore},
    time::{sleep, timeout},
};

/// What connections may take.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// Connections that are open at once; a browser holds some six.
    pub(super) most: u32,
    /// How long the head of a request may take, also of the next one.
    pub(super) asking: Duration,
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
            asking: Duration::from_secs(10),
            answering: Duration::from_secs(60),
            lasting: Duration::from_secs(600),
            ending: Duration::from_secs(5),
        }
    }
}

/// All connections of a server.
#[derive(Debug)]
pub(super) struct Connections {
    limits: Limits,
    room: Arc<Semaphore>,
    leave: Arc<Notify>,
}

impl Connections {
    pub(super) fn within(limits: Limits) -> Self {
        Self {
            limits,
            room: Arc::new(Semaphore::new(
                usize::try_from(limits.most).unwrap_or(usize::MAX),
            )),
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
            let leave = Arc::clone(&self.leave).notified_owned();
            let router = router.clone().layer(Extension(Peer(from.ip())));
            let limits = self.limits;
            tokio::spawn(async move {
                conversation(stream, router, limits, leave).await;
                drop(slot);
            });
        }
    }

    /// Room for one more. Where there is none, those that are open end with the
    /// answer that is under way, and those that ask nothing end now.
    async fn slot(&self) -> Option<OwnedSemaphorePermit> {
        if let Ok(slot) = Arc::clone(&self.room).try_acquire_owned() {
            return Some(slot);
        }
        self.leave.notify_waiters();
        Arc::clone(&self.room).acquire_owned().await.ok()
    }

    /// Ends them all, each with the answer that is under way.
    pub(super) async fn close(&self) {
        self.leave.notify_waiters();
        drop(self.room.acquire_many(self.limits.most).await);
    }
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

/// One connection, until it ends by itself, is to leave or lasted long enough.
async fn conversation(
    stream: TcpStream,
    router: Router,
    limits: Limits,
    leave: impl Future<Output = ()>,
) {
    // Without it answers are only slower.
    drop(stream.set_nodelay(true));
    let talk = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(limits.asking)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(router));
    let mut talk = pin!(talk);
    tokio::select! {
        // How it ended is the other side's affair.
        _ = talk.as_mut() => return,
        () = leave => {}
        () = sleep(limits.lasting) => {}
    }
    talk.as_mut().graceful_shutdown();
    drop(timeout(limits.answering, talk).await);
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
        asking: Duration::from_millis(300),
        answering: Duration::from_secs(5),
        lasting: Duration::from_secs(60),
        ending: Duration::from_secs(5),
    };

    async fn begun(limits: Limits) -> SocketAddr {
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let router = Router::new().route("/", get(async || "here"));
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
        assert!(begin.elapsed() >= QUICK.asking);
    }

    #[tokio::test]
    async fn those_who_ask_nothing_give_way_where_there_is_no_room() {
        let long = Duration::from_secs(60);
        let address = begun(Limits {
            asking: long,
            ..QUICK
        })
        .await;
        let done = spawn_blocking(move || {
            let mut before: Vec<Socket> = (0..2).map(|_| opened(address)).collect();
            for socket in &mut before {
                assert!(ask(socket).contains("200 OK"));
            }
            assert!(ask(&mut opened(address)).contains("200 OK"));
            before.iter_mut().all(is_ended)
        });
        assert!(done.await.unwrap());
    }

    #[tokio::test]
    async fn who_comes_where_all_are_asking_waits_and_is_answered() {
        let address = begun(QUICK).await;
        let done = spawn_blocking(move || {
            let mut halves: Vec<Socket> = (0..2).map(|_| opened(address)).collect();
            for socket in &mut halves {
                socket.write_all(b"GET /").unwrap();
            }
            // Read by the server before the next one comes.
            std::thread::sleep(Duration::from_millis(50));
            ask(&mut opened(address))
        });
        assert!(done.await.unwrap().contains("200 OK"));
    }

    #[tokio::test]
    async fn no_connection_lasts_for_ever() {
        let short = Duration::from_millis(200);
        let address = begun(Limits {
            lasting: short,
            asking: Duration::from_secs(60),
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

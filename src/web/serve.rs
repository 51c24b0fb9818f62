//! The server: it listens, tells where, and stops in good order: what is being
//! written is finished, what never finishes is given up after a while.

use super::{
    connections::{Connections, Limits},
    router::router,
    state::AppState,
};
use std::{io, net::SocketAddr, sync::Arc, time::Duration};
use tokio::{
    net::TcpListener,
    time::{sleep, timeout},
};

/// How long a change that is under way may take beyond that once the program is to
/// stop. All of it together leaves some of the ten seconds that a machine gives when it
/// is shut down, since the program is slow under load; a change that is not done then
/// is undone whole.
const LAST_CHANGE: Duration = Duration::from_secs(3);
/// How long the answer to that change may take to arrive.
const LAST_WORD: Duration = Duration::from_millis(500);
/// Threads for work: those that read the records, one that writes, those that read
/// texts, one for passcodes, one to spare.
const THREADS: usize = 8;

/// A server that listens already.
pub struct PageServer {
    runtime: tokio::runtime::Runtime,
    listener: TcpListener,
    /// Where it listens.
    pub address: SocketAddr,
}

impl PageServer {
    /// Listens at an address; port 0 takes any that is free.
    pub fn at(address: SocketAddr) -> io::Result<Self> {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .max_blocking_threads(THREADS)
            .build()?;
        let listener = runtime.block_on(TcpListener::bind(address))?;
        let address = listener.local_addr()?;
        Ok(Self {
            runtime,
            listener,
            address,
        })
    }
}

/// Serves until the program is asked to stop; asked a second time, it stops at
/// once.
pub fn serve(listening: PageServer, state: AppState) {
    let PageServer {
        runtime, listener, ..
    } = listening;
    runtime.block_on(async {
        tokio::select! {
            () = until(listener, Arc::new(state), Limits::default(), told_to_stop()) => {}
            () = async { told_to_stop().await; told_to_stop().await } => {}
        }
    });
    // What still runs is undone whole when the records are opened next.
    runtime.shutdown_background();
}

async fn until(
    listener: TcpListener,
    state: Arc<AppState>,
    limits: Limits,
    stop: impl Future<Output = ()>,
) {
    let connections = Connections::within(limits);
    tokio::select! {
        () = connections.open(listener, router(Arc::clone(&state))) => {}
        () = stop => {}
    }
    // The listener is gone with the future that had it: nobody new comes in.
    tokio::select! {
        () = connections.close() => {}
        () = async {
            sleep(limits.ending).await;
            drop(timeout(LAST_CHANGE, state.at_rest()).await);
            sleep(LAST_WORD).await;
        } => {}
    }
}

async fn told_to_stop() {
    let interrupt = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        let Ok(mut end) = signal(SignalKind::terminate()) else {
            drop(interrupt.await);
            return;
        };
        tokio::select! {
            _ = interrupt => {}
            _ = end.recv() => {}
        }
    }
    #[cfg(not(unix))]
    drop(interrupt.await);
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::{
        io::Write,
        sync::atomic::{AtomicBool, Ordering},
        thread,
        time::Instant,
    };

    #[test]
    fn the_program_ends_within_ten_seconds_whatever_is_under_way() {
        let longest = Limits::default().ending + LAST_CHANGE + LAST_WORD;
        assert!(longest < Duration::from_secs(8), "{longest:?}");
    }

    #[tokio::test]
    async fn the_end_waits_for_a_change_and_not_for_who_never_finishes_asking() {
        let folder = tempfile::tempdir().unwrap();
        let state = Arc::new(AppState::open(&folder.path().join("r.db")).unwrap());
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let mut half = std::net::TcpStream::connect(listener.local_addr().unwrap()).unwrap();
        half.write_all(b"GET / HT").unwrap();
        let (done, begun) = (
            Arc::new(AtomicBool::new(false)),
            Arc::new(AtomicBool::new(false)),
        );
        let (changing, ended, started) =
            (Arc::clone(&state), Arc::clone(&done), Arc::clone(&begun));
        tokio::spawn(async move {
            let change = changing.write(move |_| {
                started.store(true, Ordering::Release);
                thread::sleep(Duration::from_millis(900));
                ended.store(true, Ordering::Release);
            });
            change.await.is_ok()
        });
        let limits = Limits {
            ending: Duration::from_millis(200),
            pausing: Duration::from_secs(60),
            ..Limits::default()
        };
        let stop = async move {
            while !begun.load(Ordering::Acquire) {
                sleep(Duration::from_millis(10)).await;
            }
        };
        let begin = Instant::now();
        until(listener, state, limits, stop).await;
        assert!(done.load(Ordering::Acquire));
        assert!(begin.elapsed() < Duration::from_secs(20));
    }
}

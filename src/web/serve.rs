//! The server: it listens, tells where, and stops in good order: what is being
//! written is finished, what never finishes is given up after a while.

use super::{router::router, shop::Shop};
use std::{io, net::SocketAddr, sync::Arc, time::Duration};
use tokio::{net::TcpListener, sync::Notify};

/// How long answers that are under way may take once the program is to stop.
const LAST: Duration = Duration::from_secs(5);
/// Threads for work on the records.
const THREADS: usize = 6;

/// A server that listens already.
pub struct Listening {
    runtime: tokio::runtime::Runtime,
    listener: TcpListener,
    /// Where it listens.
    pub address: SocketAddr,
}

impl Listening {
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

/// Serves until the program is told to stop.
pub fn serve(listening: Listening, shop: Shop) -> io::Result<()> {
    let Listening {
        runtime, listener, ..
    } = listening;
    let done = runtime.block_on(until(listener, Arc::new(shop), told_to_stop()));
    runtime.shutdown_timeout(LAST);
    done
}

async fn until(
    listener: TcpListener,
    shop: Arc<Shop>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    let stopping = Arc::new(Notify::new());
    let told = Arc::clone(&stopping);
    let serving = axum::serve(listener, router(shop)).with_graceful_shutdown(async move {
        stop.await;
        told.notify_one();
    });
    tokio::select! {
        done = async { serving.await } => done,
        () = async {
            stopping.notified().await;
            tokio::time::sleep(LAST).await;
        } => Ok(()),
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

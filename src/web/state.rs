//! What all requests share: one connection that writes, a few that read, and
//! what is held between two pages. Work on the records runs on threads of its
//! own, so that waiting for the disk keeps nobody else waiting; one waits for
//! one's turn without a thread, and gets an error where the turn does not come.

use super::{
    error_page::ErrorPage,
    passcode::Passcode,
    sent_once::{Done, Held, SentOnce, Told},
    session::Sessions,
};
use crate::app::{AppError, NameCache, Records, TableKind};
use axum::body::Bytes;
use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    time::Duration,
};
use tokio::{sync::Semaphore, task::spawn_blocking, time::timeout};

/// Connections that read at once.
const READERS: usize = 3;
/// Texts that are read at once for an answer without records.
const COMPUTING: usize = 2;
/// Bytes of files that are under way to here, all together.
const RECEIVING: usize = 64 * 1024 * 1024;
/// How long one waits for one's turn.
const TURN: Duration = Duration::from_secs(20);
/// Bytes of files that are held while they are looked over.
const FILES: usize = 16 * 1024 * 1024;
/// Changes by forms that are remembered.
const CHANGES: usize = 512;
/// Pages of what was done that are held until they are shown.
const FLASHES: usize = 64;

/// A file that was sent, and what it is a table of.
#[derive(Clone)]
pub(super) struct Upload {
    pub(super) name: String,
    pub(super) kind: TableKind,
    pub(super) update: bool,
    pub(super) bytes: Bytes,
}

/// The records and what is held of them for the pages.
pub struct AppState {
    path: PathBuf,
    writer: Arc<tokio::sync::Mutex<Records>>,
    readers: Mutex<Vec<Records>>,
    reading: Arc<Semaphore>,
    computing: Arc<Semaphore>,
    pub(super) receiving: Arc<Semaphore>,
    pub(super) uploads: Held<Upload>,
    pub(super) flashes: Held<Told>,
    /// What forms led to that may come twice.
    pub(super) changes: Held<Done, SentOnce>,
    pub(super) sessions: Option<Sessions>,
    pub(super) names: Vec<String>,
    pub(super) is_behind_proxy: bool,
    /// The names of yarns, for all that read.
    name_cache: NameCache,
}

impl AppState {
    /// Opens the records at `path`; begins new ones where there are none.
    pub fn open(path: &Path) -> Result<Self, AppError> {
        Ok(Self::of(path, Records::open(path)?))
    }

    /// The records at `path`, which are open already.
    pub fn of(path: &Path, records: Records) -> Self {
        Self {
            path: path.to_owned(),
            writer: Arc::new(tokio::sync::Mutex::new(records)),
            readers: Mutex::default(),
            reading: Arc::new(Semaphore::new(READERS)),
            computing: Arc::new(Semaphore::new(COMPUTING)),
            receiving: Arc::new(Semaphore::new(RECEIVING)),
            uploads: Held::with_weight(FILES, |file| file.bytes.len()),
            flashes: Held::new(FLASHES),
            changes: Held::new(CHANGES),
            sessions: None,
            names: Vec::new(),
            is_behind_proxy: false,
            name_cache: NameCache::default(),
        }
    }

    /// The same, open only to those who give the passcode of these records. Refused
    /// where none is set, or its file is damaged.
    pub fn with_passcode(mut self) -> Result<Self, AppError> {
        self.sessions = Some(Sessions::new(Passcode::of(&self.path)?));
        Ok(self)
    }

    /// The same behind a proxy on this machine, which says who asks and how.
    #[must_use]
    pub fn behind_proxy(mut self) -> Self {
        self.is_behind_proxy = true;
        self
    }

    /// The same, also known by these names on the network.
    #[must_use]
    pub fn with_names(mut self, names: Vec<String>) -> Self {
        self.names = names;
        self
    }

    /// Looks something up.
    pub(super) async fn read<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Records) -> T + Send + 'static,
    ) -> Result<T, ErrorPage> {
        let state = Arc::clone(self);
        let turn = turn(Arc::clone(&self.reading).acquire_owned()).await?;
        let done = spawn_blocking(move || {
            let _turn = turn;
            let kept = state.readers().pop();
            let records = kept.map_or_else(|| state.new_reader(), Ok)?;
            let done = work(&records);
            state.readers().push(records);
            Ok::<T, AppError>(done)
        });
        Ok(done.await.map_err(|_| ErrorPage::broken())??)
    }

    /// Computes something for which no record is needed, off the thread that serves
    /// everyone. What it reads is limited in size, so that it ends by itself.
    pub(super) async fn compute<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, ErrorPage> {
        let turn = turn(Arc::clone(&self.computing).acquire_owned()).await?;
        let done = spawn_blocking(move || {
            let _turn = turn;
            work()
        });
        done.await.map_err(|_| ErrorPage::broken())
    }

    /// Changes something; one at a time.
    pub(super) async fn write<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Records) -> T + Send + 'static,
    ) -> Result<T, ErrorPage> {
        let mut records = turn(Arc::clone(&self.writer).lock_owned()).await?;
        let done = spawn_blocking(move || work(&mut records));
        done.await.map_err(|_| ErrorPage::broken())
    }

    /// Waits until nothing is being changed.
    pub(super) async fn at_rest(&self) {
        drop(self.writer.lock().await);
    }

    fn readers(&self) -> MutexGuard<'_, Vec<Records>> {
        self.readers.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn new_reader(&self) -> Result<Records, AppError> {
        Ok(Records::open_existing(&self.path)?.with_name_cache(self.name_cache.clone()))
    }
}

/// One's turn; held by the work itself, which goes on when nobody waits for its
/// answer any longer.
async fn turn<T>(next: impl Future<Output = T>) -> Result<T, ErrorPage> {
    timeout(TURN, next).await.map_err(|_| ErrorPage::busy())
}

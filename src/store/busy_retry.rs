//! Waiting for a file that someone else writes, where SQLite itself does not
//! wait: while it switches to write-ahead logging, and in the online backup.

use rusqlite::{Connection, ErrorCode};
use std::time::Duration;

/// How long to wait between two attempts.
const PAUSE: Duration = Duration::from_millis(20);

/// Attempts that are left.
pub(super) struct BusyRetry(u128);

impl BusyRetry {
    /// As many attempts as fit into `time`.
    pub(super) fn new(time: Duration) -> Self {
        Self(time.as_millis() / PAUSE.as_millis())
    }

    /// Waits a moment; false, and no waiting, once all attempts are used up.
    pub(super) fn wait(&mut self) -> bool {
        let left = self.0.checked_sub(1);
        if let Some(left) = left {
            self.0 = left;
            std::thread::sleep(PAUSE);
        }
        left.is_some()
    }
}

/// Switches to write-ahead logging, and from then on waits up to `time` for
/// other writers.
pub(super) fn switch_to_wal(conn: &Connection, time: Duration) -> rusqlite::Result<()> {
    conn.busy_timeout(Duration::ZERO)?;
    let mut retry = BusyRetry::new(time);
    loop {
        let done = conn.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()));
        match done {
            Err(error) if is_busy(&error) && retry.wait() => {}
            Err(error) => return Err(error),
            Ok(()) => return conn.busy_timeout(time),
        }
    }
}

fn is_busy(error: &rusqlite::Error) -> bool {
    error.sqlite_error_code() == Some(ErrorCode::DatabaseBusy)
}

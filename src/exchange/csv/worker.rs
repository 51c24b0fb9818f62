//! Cells are read beside the rest of the work: while one thread cuts the file
//! into rows and keeps the records, another reads the cells of the rows to come.
//! Rows come out in the order in which they went in.

use super::{header::Header, memory::Memory, row::Cells, rows::Row};
use crate::exchange::CellError;
use std::{
    cell::RefCell,
    collections::VecDeque,
    io,
    sync::mpsc::{Receiver, Sender, channel},
    thread,
};

/// A row whose cells are not yet read.
pub(super) struct Raw {
    pub line: u64,
    pub record: csv::StringRecord,
    /// Why its cells cannot be told apart.
    pub misshapen: Option<CellError>,
}

/// How a row is read.
pub(super) type ReadRow<T> = fn(&mut Cells<'_>) -> Option<T>;

/// Batches on their way at once: one is read while the next waits.
const ON_THEIR_WAY: usize = 2;

/// Reads rows on a thread of its own.
pub(super) struct Worker<T> {
    to_read: Sender<Vec<Raw>>,
    read: Receiver<Vec<Row<T>>>,
    on_their_way: usize,
    ready: VecDeque<Row<T>>,
}

impl<T: Send + 'static> Worker<T> {
    /// Starts the thread; it ends with the worker.
    pub fn start(header: Header, read: ReadRow<T>) -> io::Result<Self> {
        let (to_read, waiting) = channel::<Vec<Raw>>();
        let (done, read_rows) = channel();
        let work = move || {
            let memory = RefCell::new(Memory::default());
            for batch in waiting {
                let read_one = |raw| read_row(raw, &header, &memory, read);
                let rows: Vec<Row<T>> = batch.into_iter().map(read_one).collect();
                if done.send(rows).is_err() {
                    return;
                }
            }
        };
        thread::Builder::new().spawn(work)?;
        Ok(Self {
            to_read,
            read: read_rows,
            on_their_way: 0,
            ready: VecDeque::new(),
        })
    }

    /// The next row that was read and not yet given.
    pub fn next_ready(&mut self) -> Option<Row<T>> {
        self.ready.pop_front()
    }

    /// Whether another batch should be given before waiting.
    pub fn wants_more(&self) -> bool {
        self.on_their_way < ON_THEIR_WAY
    }

    /// Gives rows to read.
    pub fn give(&mut self, batch: Vec<Raw>) -> io::Result<()> {
        self.on_their_way += 1;
        self.to_read.send(batch).map_err(|_| stopped())
    }

    /// Waits for the oldest batch; false where none is on its way.
    pub fn wait(&mut self) -> io::Result<bool> {
        if self.on_their_way == 0 {
            return Ok(false);
        }
        self.ready.extend(self.read.recv().map_err(|_| stopped())?);
        self.on_their_way -= 1;
        Ok(true)
    }
}

fn stopped() -> io::Error {
    io::Error::other("the reading of cells stopped")
}

fn read_row<T>(raw: Raw, header: &Header, memory: &RefCell<Memory>, read: ReadRow<T>) -> Row<T> {
    let line = raw.line;
    if let Some(fault) = raw.misshapen {
        return Row {
            line,
            record: Err(vec![fault]),
            warnings: Vec::new(),
        };
    }
    let mut cells = Cells::new(line, header, &raw.record, memory);
    let read = read(&mut cells);
    let (errors, warnings) = cells.into_errors();
    let record = match read {
        Some(read) if errors.is_empty() => Ok(read),
        _ => Err(errors),
    };
    Row {
        line,
        record,
        warnings,
    }
}

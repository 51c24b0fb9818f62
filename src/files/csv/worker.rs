//! Rows are cut and their cells are read beside the rest of the work: while one
//! thread reads the file and keeps the records, another makes rows of its bytes.
//! Rows come out in the order in which they stand in the file.

use super::{
    columns::Column,
    cutter::{Cutter, Raw},
    header::Header,
    memory::Memory,
    row::Cells,
    rows::Row,
};
use crate::files::{CellNote, ExchangeError};
use std::{
    cell::RefCell,
    io::{self, Read},
    sync::mpsc::{Receiver, Sender, channel},
    thread,
};

/// How a row is read.
pub(super) type ReadRow<T> = fn(&mut Cells<'_>) -> Option<T>;

/// Bytes of the file, none at its end, or why they could not be read.
type Block = io::Result<Vec<u8>>;

/// What the worker tells.
pub(super) enum Told<T> {
    /// What to know about the header line, or what is wrong with it.
    Header(Result<Vec<CellNote>, ExchangeError>),
    /// The next rows.
    Rows(Vec<Row<T>>),
    /// It began with a block and has room for another.
    TookBlock,
    /// All rows were told, or it had to stop.
    Ended(Option<ExchangeError>),
}

/// Rows that are told at a time.
const BATCH: usize = 256;

/// Makes rows on a thread of its own, which ends with the worker.
pub(super) struct Worker<T> {
    blocks: Sender<Block>,
    told: Receiver<Told<T>>,
    back: Sender<Vec<T>>,
    /// Records that are about to go back.
    used: Vec<T>,
}

impl<T: Send + 'static> Worker<T> {
    /// Starts the thread.
    pub fn start(
        file: &str,
        delimiter: u8,
        columns: &'static [Column],
        read: ReadRow<T>,
    ) -> io::Result<Self> {
        let (blocks, waiting) = channel();
        let (tell, told) = channel();
        let (back, used) = channel();
        let file = file.to_owned();
        let work = move || {
            let source = Box::new(Fed {
                blocks: waiting,
                tell: tell.clone(),
                block: Vec::new(),
                at: 0,
                ended: false,
            });
            let cutter = Cutter::of(&file, source, delimiter);
            // Nobody listens any more where the rest of the rows is not wanted.
            let _ = make_rows(cutter, columns, read, (&tell, &used));
        };
        thread::Builder::new().spawn(work)?;
        Ok(Self {
            blocks,
            told,
            back,
            used: Vec::new(),
        })
    }

    /// Gives bytes to make rows of. A worker that stopped takes none; it told why.
    pub fn give(&self, block: Block) {
        let _ = self.blocks.send(block);
    }

    /// Gives a record back that is needed no more: its memory is given back at the
    /// least cost by the thread that took it, beside the rest of the work.
    pub fn give_back(&mut self, record: T) {
        self.used.push(record);
        if self.used.len() == BATCH {
            let _ = self.back.send(std::mem::take(&mut self.used));
        }
    }

    /// Waits for what is told next.
    pub fn hear(&self) -> io::Result<Told<T>> {
        let stopped = |_| io::Error::other("the reading of cells stopped");
        self.told.recv().map_err(stopped)
    }
}

/// The blocks as one run of bytes.
struct Fed<T> {
    blocks: Receiver<Block>,
    tell: Sender<Told<T>>,
    block: Vec<u8>,
    at: usize,
    ended: bool,
}

impl<T> Read for Fed<T> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.at == self.block.len() && !self.ended {
            (self.block, self.at) = (self.blocks.recv().unwrap_or(Ok(Vec::new()))?, 0);
            self.ended = self.block.is_empty();
            if !self.ended {
                let _ = self.tell.send(Told::TookBlock);
            }
        }
        let given = self.block.get(self.at..).unwrap_or_default().read(buffer)?;
        self.at += given;
        Ok(given)
    }
}

/// An error is that nobody listens.
type Unheard<T> = std::sync::mpsc::SendError<Told<T>>;

fn make_rows<T>(
    mut cutter: Cutter,
    columns: &'static [Column],
    read: ReadRow<T>,
    (tell, used): (&Sender<Told<T>>, &Receiver<Vec<T>>),
) -> Result<(), Unheard<T>> {
    let header = match cutter.header(columns) {
        Ok((header, notes)) => {
            tell.send(Told::Header(Ok(notes)))?;
            header
        }
        Err(why) => return tell.send(Told::Header(Err(why))),
    };
    let memory = RefCell::new(Memory::default());
    loop {
        used.try_iter().for_each(drop);
        let mut rows = Vec::with_capacity(BATCH);
        let ended = loop {
            match cutter.next_raw() {
                Ok(Some(raw)) => rows.push(read_row(raw, &header, &memory, read)),
                Ok(None) => break Some(None),
                Err(why) => break Some(Some(why)),
            }
            if rows.len() == BATCH {
                break None;
            }
        };
        tell.send(Told::Rows(rows))?;
        if let Some(why) = ended {
            return tell.send(Told::Ended(why));
        }
    }
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

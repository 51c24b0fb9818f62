//! A page as blocks, whatever it is later written as.

use super::{Picture, Table, working::WORKED_OUT};
use crate::words::joined;

/// What a piece of text is, so that each writer can show it in its own way.
/// Never the only carrier of meaning: the words say it too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Running text.
    Plain,
    /// Good news.
    Good,
    /// A condition to meet.
    Doubtful,
    /// Bad news.
    Bad,
    /// A caution.
    Caution,
    /// Working, sources, asides.
    Aside,
}

/// The card that opens an answer: whether, how many, for how much, and whether the
/// stash has it. What is not known is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Good, doubtful or bad news.
    pub role: Role,
    /// Whether, as a finished sentence.
    pub verdict: String,
    /// How many: `14 balls`.
    pub count: Option<String>,
    /// What they hold: `1330 m (1455 yd)`.
    pub length: Option<String>,
    /// What they cost: `41.30 EUR`.
    pub cost: Option<String>,
    /// What the stash has of it: `You have 10: 4 short.`
    pub stash: Option<String>,
}

impl Answer {
    /// The verdict alone, where nobody should buy.
    pub fn without_amounts(self) -> Self {
        Self {
            role: self.role,
            ..Self::alone(self.verdict)
        }
    }

    /// A card that says all in one sentence.
    pub fn alone(verdict: String) -> Self {
        Self {
            role: Role::Plain,
            verdict,
            count: None,
            length: None,
            cost: None,
            stash: None,
        }
    }

    /// What stands before the count.
    pub fn lead(&self) -> &'static str {
        match self.role {
            Role::Bad => "You would need",
            _ => "You need",
        }
    }

    /// Count, length, cost and stash in one line: `You need 14 balls (1330 m, 41.30
    /// EUR). You have 10: 4 short.`
    pub fn amounts(&self) -> String {
        let inside = joined(self.length.iter().chain(&self.cost), ", ");
        let brackets = if inside.is_empty() {
            inside
        } else {
            format!(" ({inside})")
        };
        let count = self.count.as_ref();
        let count = count.map(|count| format!("{} {count}{brackets}.", self.lead()));
        joined(count.iter().chain(&self.stash), " ")
    }
}

/// Whether a reason speaks for a yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// It is within the limit.
    For,
    /// It is outside.
    Against,
    /// It is not known.
    Unknown,
}

/// How a yarn does by one criterion. Texts that would say nothing are empty.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// For or against.
    pub side: Side,
    /// What is compared, as people say it: `metres per 100 g`.
    pub criterion: &'static str,
    /// What the yarn has: `190`.
    pub offered: String,
    /// What the pattern wants, with its limits: `wanted 240 (221 to 259)`.
    pub wanted: String,
    /// What that means in the hand: `too thick`; how to find out what is not known.
    pub meaning: String,
    /// The same as a picture, where both are numbers.
    pub rail: Option<Rail>,
}

/// Numbers of a rail, all in one unit: what is wanted in the middle of a line, the
/// limits as a band on it, a mark where the yarn falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rail {
    /// In the middle.
    pub wanted: f64,
    /// Where the mark falls.
    pub offered: f64,
    /// The band reaches so far either way; the line twice as far.
    pub tolerance: f64,
    /// What the yarn is beyond the left end and beyond the right one: `thicker` and
    /// `thinner`.
    pub ends: [&'static str; 2],
}

impl Rail {
    /// Where the mark falls: 0 in the middle, -1 and 1 at the limits.
    pub fn place(&self) -> f64 {
        (self.offered - self.wanted) / self.tolerance
    }

    /// Whether the mark falls within the limits; at a limit it does.
    pub fn is_within(&self) -> bool {
        self.place().abs() <= 1.0 + 1e-9
    }

    /// The ends of the band.
    pub fn limits(&self) -> [f64; 2] {
        [self.wanted - self.tolerance, self.wanted + self.tolerance]
    }
}

/// One block of a page.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// The title of the page.
    Title(String),
    /// The head of a part.
    Section(String),
    /// A paragraph.
    Text(Role, String),
    /// Points, one below the other.
    Items(Role, Vec<String>),
    /// A table.
    Table(Table),
    /// The card that opens an answer.
    Answer(Answer),
    /// What speaks for a yarn and against it, a row each.
    Reasons(Vec<Reason>),
    /// A picture, with the table that says the same.
    Picture(Picture),
    /// A part that is folded on a page, and left out in a terminal unless asked for.
    Details(String, Vec<Block>),
}

/// Blocks in reading order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// The blocks.
    pub blocks: Vec<Block>,
}

impl Page {
    /// A page with a title.
    pub fn titled(title: impl Into<String>) -> Self {
        Self {
            blocks: vec![Block::Title(title.into())],
        }
    }

    /// The page in one sentence: its card, else its news, else its title.
    pub fn headline(&self) -> String {
        let card = self.blocks.iter().find_map(|block| match block {
            Block::Answer(answer) => Some(answer.verdict.clone()),
            Block::Text(Role::Good | Role::Doubtful | Role::Bad, text) => Some(text.clone()),
            _ => None,
        });
        let title = self.blocks.iter().find_map(|block| match block {
            Block::Title(text) => Some(text.clone()),
            _ => None,
        });
        card.or(title).unwrap_or_default()
    }

    /// Begins a part.
    pub fn section(&mut self, head: impl Into<String>) {
        self.blocks.push(Block::Section(head.into()));
    }

    /// Adds a paragraph.
    pub fn text(&mut self, role: Role, text: impl Into<String>) {
        self.blocks.push(Block::Text(role, text.into()));
    }

    /// Adds points; nothing for none.
    pub fn items(&mut self, role: Role, items: &[String]) {
        if !items.is_empty() {
            self.blocks.push(Block::Items(role, items.to_vec()));
        }
    }

    /// A part with points; nothing for none.
    pub fn part(&mut self, head: &str, role: Role, items: &[String]) {
        if !items.is_empty() {
            self.section(head);
            self.items(role, items);
        }
    }

    /// Adds a part that is folded; nothing for one without blocks.
    pub fn details(&mut self, head: impl Into<String>, folded: Page) {
        if !folded.blocks.is_empty() {
            self.blocks.push(Block::Details(head.into(), folded.blocks));
        }
    }

    /// How an answer was reached, and notes beside it.
    pub fn working(&mut self, working: &[String], notes: &[String]) {
        self.part("Notes", Role::Caution, notes);
        let mut folded = Self::default();
        folded.items(Role::Aside, working);
        self.details(WORKED_OUT, folded);
    }

    /// Adds a table; nothing for one without rows.
    pub fn table(&mut self, table: impl Into<Table>) {
        let table = table.into();
        if !table.rows.is_empty() {
            self.blocks
                .push(Block::Table(table.without_empty_columns()));
        }
    }
}

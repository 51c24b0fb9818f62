//! What a report says, and how it is written down: as a page of blocks that
//! becomes text for a terminal, Markdown or HTML, and as JSON with documented fields.
//!
//! Reports hold finished numbers and words; nothing is computed here.

mod alternative;
mod candidate;
mod card;
mod check;
mod chip;
mod contradiction;
mod convert;
mod cover;
mod facts_words;
mod fault;
mod find;
mod gauge;
mod gauge_change;
mod history;
mod html;
mod in_hand;
mod json;
mod judgement;
mod last;
mod last_pieces;
mod lint;
mod listing;
mod looked_through;
mod markdown;
mod measured_yarn;
mod needs;
mod needs_progress;
mod page;
mod per_size;
mod picture;
mod plan;
mod purchase;
mod read;
mod record_change;
mod records;
mod replace;
mod sheet;
mod sheet_sizes;
mod size;
mod skeins;
mod stripes;
mod style;
mod suits;
mod table;
mod terminal;
mod terminal_table;
mod undo;
mod unlabelled;
mod working;

pub use check::yarns_asked;
pub use facts_words::{class_words, gauge_words, needle_words, range_words};
pub use fault::{error_words, fault_words};
pub use find::{find_page, in_full_name};
pub use history::history_table;
pub use html::{
    Head, NameLinks, entities, escaped, escaped_message, html, html_page, linked, list_table,
    stacked,
};
pub use json::{Shape, fields, json, schema, shape, shape_of_demo, shape_of_several};
pub use judgement::{
    DepartureLine, NotJudgedLine, RemedyLine, RemedySkeins, ReworkLine, caution_text,
    departure_in_short, reason_sentences, remedy_text, verdict_words,
};
pub use listing::Notice;
pub use markdown::markdown;
pub use needs::needs_note;
pub use page::{Answer, Block, Page, Rail, Reason, Role, Side};
pub use per_size::{measures_of_sizes, sizes_as_patterns_write_them};
pub use picture::{Bar, Bars, Map, Mark, Picture};
pub use plan::{ProjectPage, plan_news, plan_uses, project_pages, yarn_option_words};
pub use records::{
    ListEntry, RowLine, count_rest, count_title, count_words, exported_words, field_words,
    layout_words, ledger_table, lot_entry, lot_heading, lot_rows, pattern_page, pattern_rows,
    preview_notes, reservation_table, row_line, session_line_words, swatch_entry, table_columns,
    yarn_rows,
};
pub use sheet::{WorkingCopy, sheet_cells, sheet_notes};
pub use style::{FieldNames, Style, UnitOrder};
pub use table::{Align, Cell, Columns, Table};
pub use terminal::{plain_text, terminal};
pub use undo::{NOTHING as NOTHING_TO_UNDO, change_words};
use working::what_to_know;
pub use working::{remark_sentence, why_left_out, working_sentences};

/// The head of the column that says whether a yarn would work; where a row has an answer
/// of its own, its cell leads to it.
const VERDICT: &str = "verdict";

/// The line that ends every answer about a swap.
pub const SWATCH_LINE: &str = "Only a washed swatch proves a swap: knit one in the pattern's stitch, wash and dry it as the finished thing will be, and measure it before you buy the rest.";

/// The same in short.
pub(crate) const SWATCH_IN_SHORT: &str = "Swatch and wash it before you buy the rest.";

/// An answer that can be written down: as a page for people, in the style that
/// they want, and as fields for programs.
pub trait Render {
    /// The documented fields; their schema goes by this type.
    type Fields: serde::Serialize + schemars::JsonSchema;

    /// The documented fields, in metres, with fields named as options.
    fn fields(&self) -> Self::Fields;
    /// The page, in reading order.
    fn page(&self, style: &Style) -> Page;
    /// The answer in one sentence.
    fn headline(&self, style: &Style) -> String {
        self.page(style).headline()
    }
}

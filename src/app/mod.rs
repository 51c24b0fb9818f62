//! The one doorway for every front end: one function per thing a person asks.
//! Text as typed goes in, a report with its warnings comes out.

mod browse;
mod candidate_search;
mod check;
mod convert;
mod corrected;
mod demo;
mod edit_lot;
mod edit_pattern;
mod edit_swatch;
mod edit_yarn;
mod error;
mod export;
mod fault;
mod fields;
mod find;
mod gauge;
mod heard;
mod import;
mod input;
mod last;
mod ledger;
mod lint;
mod needs;
mod passcode;
mod patterns;
mod question;
mod read;
mod records;
mod request;
mod sheet;
mod size;
mod skeins;
mod stock;
mod stock_entries;
mod strictness;
mod swatches;
mod today;
mod typed_number;
mod unlabelled;
mod upkeep;
mod yarn_view;
mod yarns;

use input::{InputReader, MOST_STRANDS};

pub use crate::{quantity::Keep, record::EntryKind};
pub use browse::{Browsed, Entry, browse_lots, browse_yarns, lot_entry_of, suggest_yarns};
pub use check::{CheckAnswer, CheckRequest, RoleAnswer, check};
pub use convert::{ConvertAnswer, ConvertRequest, convert};
pub use corrected::strands;
pub use demo::{Demo, demo};
pub use edit_lot::{lot_to_edit, save_lot};
pub use edit_pattern::{
    PatternChoice, PatternText, pattern_choice, pattern_choices, pattern_to_edit, save_pattern,
};
pub use edit_swatch::{save_swatch, swatch_to_edit};
pub use edit_yarn::{ToEdit, save_yarn, yarn_to_edit};
pub use error::AppError;
pub use export::{export_stock, export_swatches, export_yarns, text_to_file, to_file};
pub use fault::{Fault, FaultKind, GaugeFault, QuestionFault, TextFault};
pub use fields::{FieldFault, FieldFaults, FieldKind, FormData, lot_fields, yarn_fields};
pub use find::{BestRequest, FindAnswer, FindRequest, Source, find};
pub use gauge::{
    GaugeAnswer, GaugeRequest, GaugeSource, Growth, NeedAtGauge, OwnGauge, SizeAtGauge,
    SwatchDifference, gauge,
};
pub use import::{
    BadRows, ImportRow, Preview, import_stock, import_swatches, import_yarns, preview_stock,
    preview_swatches, preview_yarns,
};
pub use input::{FieldNote, SourceFile};
pub use last::{
    LastAnswer, LastFault, LastRequest, Lasts, RowShape, RowUseSource, RowsAhead, Weighing, last,
};
pub use ledger::ledger;
pub use lint::{Finding, FindingKind, LintAnswer, LintRequest, LintSubject, lint};
pub use needs::{
    NeedsAnswer, NeedsError, NeedsPatternRequest, NeedsRequest, NeedsTemplateRequest, SampleCheck,
    StatedNeeds, StitchRate, YarnNeed, fits, needs, needs_pattern, needs_template, purposes,
};
pub use passcode::{keep_passcode, kept_passcode};
pub use patterns::{export_pattern, import_patterns, list_patterns, remove_pattern, show_pattern};
pub use question::{
    ChanceRequest, QuestionRequest,
    amounts::{KnittingPlan, SizeEstimate, SizePurchase},
    answer::{CandidateAnswer, Remark, RemedyAnswer, Working},
    candidate::{Candidate, LotHeld},
    chance::{ChanceBasis, LabelBasis, SizeChance},
    cover::SizeCover,
};
pub use read::{FACT_FIELDS, ReadAnswer, ReadFields, ReadRequest, read, read_fields};
pub use records::{NameCache, Records};
pub use request::{Field, FieldInput, Request, fields as request_fields, from_form};
pub use sheet::{Alternative, Material, SheetAnswer, SheetRequest, sheet, sheet_table};
pub use size::{SizeAnswer, SizeRequest, size};
pub use skeins::{GaugeChange, SkeinsAnswer, SkeinsRequest, skeins};
pub use stock::list_stock;
pub use stock_entries::{Bought, buy, enter};
pub use swatches::{Swatched, add_swatch, list_swatches, remove_swatch};
pub use typed_number::typed_number;
pub use unlabelled::{Method, MethodResult, UnlabelledAnswer, UnlabelledRequest, unlabelled};
pub use upkeep::{backup, restore, verify};
pub use yarn_view::{YarnView, remove_pattern_numbered, remove_yarn_numbered, view_yarn};
pub use yarns::{add_yarn, list_yarns, remove_yarn, show_yarn};

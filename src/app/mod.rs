//! The one doorway for every front end: one function per thing a person asks.
//! Text as typed goes in; numbers, kinds and names come out. The words are `report`'s.

mod candidate_search;
mod change;
mod check;
mod convert;
mod corrected;
mod demo;
mod error;
mod export;
mod fault;
mod find;
mod gauge;
mod gauge_change;
mod history;
mod import;
mod input;
mod last;
mod lint;
mod needs;
mod once;
mod passcode;
mod patterns;
mod plan;
mod projects;
mod question;
mod read;
mod records;
mod request;
mod sheet;
mod size;
mod skeins;
mod stock;
mod stripes;
mod suits;
mod swatches;
mod undo;
mod unlabelled;
mod upkeep;
mod yarns;

use input::{InputReader, MOST_STRANDS};

pub use crate::{
    files::{
        csv::{
            Column, PROJECT_COLUMNS, RESERVATION_COLUMNS, STOCK_COLUMNS, SWATCH_COLUMNS,
            YARN_COLUMNS, fact_columns,
        },
        is_workbook,
        layout::FIELDS,
    },
    quantity::Keep,
    record::EntryKind,
    store::{
        Action, ChangePart, ChangedField, HistoryStep, KeptChange, KeptCount, RecordKind,
        SystemRefusal, open_ordinary,
    },
};
pub use change::{
    KeptFields, ListPage, Overpromise, PlanReserved, ProjectChange, ProjectDeed, RecordChange,
};
pub use check::{CheckAnswer, CheckRequest, RoleAnswer, ShoppingLine, check};
pub use convert::{ConvertAnswer, ConvertRequest, convert};
pub use demo::{Demo, demo, is_new, take_sample};
pub use error::AppError;
pub use export::{Exported, export_table, text_to_file, to_file};
pub use fault::{Fault, FaultKind, GaugeFault, ProjectFault, QuestionFault, TextFault};
pub use find::{
    BestRequest, FindAnswer, FindRequest, MapPlace, MapYarn, Source, YarnMap, find, find_with_map,
    pattern_maps,
};
pub use gauge::{
    GaugeAnswer, GaugeRequest, GaugeSource, Growth, HeldYarn, NeedAtGauge, OwnGauge, SizeAtGauge,
    SwatchDifference, gauge,
};
pub use gauge_change::{GaugeChange, GaugeReading};
pub use history::{History, history, history_of};
pub use import::{
    BadRows, Difference, FieldChange, ImportAnswer, ImportNote, ImportRow, KeptLayout, LEAVE_OUT,
    LayoutList, Listed, MOST_TABLE_BYTES, MissingKind, MissingName, NearName, NearNames, Preview,
    RowChange, RowFate, RowFault, RowFaultKind, TableKind, TableLook, TableRequest, forget_layout,
    import_any_table, import_table, list_layouts, look_at_table, preview_table,
};
pub use input::{FieldNote, SourceFile};
pub use last::{
    LastAnswer, LastFault, LastPiecesAnswer, LastPiecesRequest, LastRequest, PieceAhead, RowShape,
    RowUseSource, RowsAhead, Weighing, YarnLasts, YarnPieces, last, last_pieces,
};
pub use lint::{Finding, FindingKind, LintAnswer, LintRequest, LintSubject, lint};
pub use needs::{
    DonePiece, NeedsAnswer, NeedsError, NeedsPatternRequest, NeedsProgress, NeedsProgressRequest,
    NeedsRequest, NeedsTemplateRequest, PieceToGo, PieceYarn, RestReach, SampleCheck, StatedNeeds,
    StitchRate, YarnNeed, YarnToGo, fits, needs, needs_in_progress, needs_pattern, needs_template,
    purposes,
};
pub use passcode::{damaged_passcode, keep_passcode, kept_passcode};
pub use patterns::{
    ANOTHER, AddPatternRequest, PATTERN_TEXT, PatternAmounts, PatternAnswer, PatternChoice,
    PatternFate, PatternList, PatternsImport, ReadMaterials, add_pattern, export_pattern,
    import_patterns, list_patterns, need_field, pattern_choice, pattern_choices, pattern_fields,
    pattern_to_edit, read_pattern_text, remove_pattern, remove_pattern_numbered, rename_pattern,
    save_pattern, save_pattern_fields, show_pattern, size_field, sizes_of_form, view_pattern,
    with_another, yarn_field, yarns_of_form,
};
pub use plan::{
    KeptProject, LeastOf, LeftOutProject, LotUse, MOST_NEW, NotBought, PlanAnswer, PlanRequest,
    PlanWorking, PlannedProject, PlannedPurchase, PlannedYarn, ProjectName, RoleOptions,
    ShoppingList, WhyLeftOut, YarnOption, plan, reserve_plan,
};
pub use projects::{
    AddProjectRequest, EditProjectRequest, PinRequest, ProjectLine, ProjectList,
    ProjectWishesRequest, Reservation, Which, add_project, choose_yarns, edit_project,
    list_projects, move_project, pin_yarn, remove_project, unpin_yarn,
};
pub use question::{
    ChanceRequest, FibresRequest, PatternRequest, QuestionRequest, StashRequest, TermsRequest,
    WishesRequest,
    amounts::{KnittingPlan, SizeEstimate, SizePurchase},
    answer::{CandidateAnswer, Remark, RemedyAnswer, Working},
    candidate::{Candidate, StockLot},
    chance::{ChanceBasis, LabelBasis, SizeChance},
    cover::SizeCover,
    in_hand::{EnoughInHand, InHand, SizeInHand},
    wishes::{LeftOutReason, UnmetWish, Wishes},
};
pub use read::{ReadAnswer, ReadFields, ReadRequest, read, read_fields};
pub use records::{NameCache, Records};
pub use request::{Field, FieldInput, FormData, Request, fields as request_fields, from_form};
pub use sheet::{Alternative, Material, SheetAnswer, SheetRequest, sheet, sheet_table};
pub use size::{SizeAnswer, SizeRequest, size};
pub use skeins::{SkeinsAnswer, SkeinsRequest, skeins};
pub use stock::{
    BuyRequest, CountSession, CountedLot, EntryRequest, Ledger, LotChoice, LotOrder, LotQuery,
    LotRequest, LowShade, LowStock, ReservationList, SessionLine, StockCount, StockLine, StockList,
    add_to_count, begin_count, book_count, browse_lots, buy, colour_to_pick, count_session,
    count_stock, counts_under_way, drop_count, edit_lot, enter, enter_of, is_colour, ledger,
    list_reservations, list_stock, lot_to_edit, low_stock, move_lot, release_all, rename_shade,
    rename_shade_of, save_lot, sell, take_from_count,
};
pub use stripes::{Leftover, StripesAnswer, StripesRequest, stripes};
pub use suits::{
    ReplaceAnswer, ReplaceRequest, Replacement, SuitedRole, SuitsAnswer, SuitsRequest, replace,
    suits,
};
pub use swatches::{
    ListedSwatch, SwatchList, SwatchRequest, add_swatch, edit_swatch, list_swatches, remove_swatch,
    save_swatch, swatch_to_edit,
};
pub use undo::{UndoList, list_undo, preview_undo, undo, undo_of};
pub use unlabelled::{
    BallTrait, CouldBe, KeepBallRequest, Method, MethodResult, PossibleYarn, UnlabelledAnswer,
    UnlabelledRequest, keep_ball, unlabelled,
};
pub use upkeep::{Soundness, backup, restore, verify};
pub use yarns::{
    AddYarnRequest, EditYarnRequest, ListedYarn, YarnAnswer, YarnFilter, YarnList, YarnOrder,
    YarnQuery, YarnView, YarnsMerged, add_yarn, browse_yarns, edit_yarn, list_yarns,
    merge_yarn_numbered, merge_yarns, remove_yarn, remove_yarn_numbered, save_yarn, show_yarn,
    suggest_yarns, view_yarn, yarn_number, yarn_to_edit,
};

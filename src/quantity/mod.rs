//! How much: skeins for a need, cost, cover from lots, finished size, what another
//! gauge does to size, counts and need, needs of every size from what was
//! weighed, and where the figures of a pattern contradict each other. Pure.

mod chance;
mod cover;
mod finished_size;
mod gauge_change;
mod mass_estimate;
mod pattern_misfit;
mod piece;
mod purchase;
mod remaining_yarn;
mod swatch;
mod uncertainty;
mod unlabelled;
mod use_rates;

pub use chance::{UncertainNeed, label_spread, use_spread};
pub use cover::{Cover, Shelf, cover};
pub use finished_size::{Counts, FinishedSize, IntendedSize, finished_size, nearest_width};
pub use gauge_change::{GaugeRatio, Keep};
pub use mass_estimate::{ClassReading, MassEstimate, mass_estimates};
pub use pattern_misfit::{CountMisfit, Misfit, falls_short, misfits};
pub use piece::{Basis, Edge, Extent, Shape, stitches_in};
pub use purchase::{
    DEFAULT_MARGIN, Purchase, QuantityError, cost, purchase, strand_need, total, up_to_step,
    whole_up,
};
pub use remaining_yarn::{RemainingYarn, RowCourse, RowUse};
pub use swatch::{OwnTendency, SPREAD, WashGrowth, own_tendency};
pub use uncertainty::{Doubt, Estimate, Measurement};
pub use unlabelled::{BallMethod, grist_of_wraps};
pub use use_rates::{
    GEOMETRY_TOLERANCE, WeighedPiece, left_out_errors, metres_by_geometry, pace, stitch_factor,
    use_rates,
};

//! How much: skeins for a need, cost, cover from lots, finished size, what another
//! gauge does to size, counts and need, needs of every size from what was
//! weighed, and where the figures of a pattern contradict each other. Pure.

mod ceiling;
mod chance;
mod cost;
mod cover;
mod edge;
mod estimate;
mod extent;
mod finished_size;
mod gauge_change;
mod gauge_ratio;
mod lasting;
mod linear;
mod loop_geometry;
mod own_tendency;
mod pattern_misfit;
mod purchase;
mod resized;
mod round_step;
mod row_counts;
mod rows_ahead;
mod shape;
mod spread;
mod unlabelled;
mod use_rates;
mod wash_growth;

pub use chance::{Uncertain, label_spread, use_spread};
pub use cost::cost;
pub use cover::{Cover, Shelf, cover};
pub use edge::Edge;
pub use estimate::{Estimate, estimates};
pub use extent::{Basis, Extent};
pub use finished_size::{FinishedSize, finished_size};
pub use gauge_change::Keep;
pub use gauge_ratio::GaugeRatio;
pub use lasting::{Lasting, Taken};
pub use loop_geometry::{GEOMETRY_TOLERANCE, metres_by_geometry, stitch_factor};
pub use own_tendency::{OwnTendency, SPREAD, own_tendency};
pub use pattern_misfit::{Misfit, falls_short, misfits};
pub use purchase::{Purchase, QuantityError, purchase, strand_need};
pub use resized::{Counts, Wanted, nearest_width};
pub use round_step::up_to_step;
pub use row_counts::stitches_in;
pub use rows_ahead::RowCourse;
pub use shape::Shape;
pub use spread::{Doubt, Estimated, HELD, Known, estimated, half_width};
pub use unlabelled::{Found, grist_of_wraps};
pub use use_rates::{Weighed, left_out_errors, use_rates};
pub use wash_growth::WashGrowth;

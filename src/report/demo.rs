//! Three questions about the sample stash, answered, as fields.

use super::{CheckReport, FindReport, Style};
use crate::app::Demo;
use serde::Serialize;

/// Fields of the answer to `demo`.
#[derive(Debug, Serialize)]
struct DemoFields {
    /// A knitter's: what in the cupboard would do for a jumper?
    knitter: Vec<FindReport>,
    /// A customer's: will this yarn of the same class do?
    shop: CheckReport,
    /// One that must be refused: acrylic for a pad for hot dishes.
    hazard: CheckReport,
}

/// The fields of the demo, for programs.
pub fn demo_fields(demo: &Demo) -> impl Serialize {
    let style = Style::default();
    let found = demo.knitter.iter();
    DemoFields {
        knitter: found.map(|found| FindReport::new(found, &style)).collect(),
        shop: CheckReport::new(&demo.shop, &style),
        hazard: CheckReport::new(&demo.hazard, &style),
    }
}

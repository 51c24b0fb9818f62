//! Three questions about the sample stash, answered, as fields.

use super::Render;
use crate::app::Demo;
use serde::Serialize;
use serde_json::json;

/// The fields of the demo, for programs: what in the cupboard would do for a
/// knitter's jumper, whether a yarn of the same class does for a customer, and what
/// must be refused: acrylic for a pad for hot dishes.
pub fn demo_fields(demo: &Demo) -> impl Serialize {
    json!({
        "knitter": demo.knitter.iter().map(Render::fields).collect::<Vec<_>>(),
        "shop": demo.shop.fields(),
        "hazard": demo.hazard.fields(),
    })
}

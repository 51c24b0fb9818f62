//! One size of a pattern.

use super::{Name, Printed};
use crate::measure::Length;

/// One size, in the pattern's order.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// As the pattern calls it.
    pub name: Name,
    /// Finished width (chest round, hat round, shawl across).
    pub width: Option<Printed<Length>>,
    /// Finished height.
    pub height: Option<Printed<Length>>,
    /// Stitches of that width, at the pattern's gauge.
    pub cast_on: Option<u32>,
    /// Rows of that height.
    pub rows: Option<u32>,
}

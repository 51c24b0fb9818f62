//! Needle and hook sizes. Millimetres are the only stored key: numbers and
//! letters of the markets are aliases and live in `trade`.

use super::quantity::quantity;

quantity!(
    /// The diameter of a needle or hook in millimetres.
    NeedleSize, "needle", "mm", millimetres, as_millimetres, 0.5, 60.0
);

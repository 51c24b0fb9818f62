//! Everything that reads human text: numbers, quantities, gauges, needles,
//! fibres, amounts, cells, whole bands and materials lines. Files leave their
//! texts to this room; what is read leaves it as records and measures.
//!
//! A text is cut into tokens (`token`); one grammar a kind of thing, each in the
//! file of its name, recognises that kind at the place where the stream stands and
//! resolves it: what may mean two things is refused with both meanings. A cell
//! (`cells`) asks for the whole text to be one of them, a band (`band`) takes them
//! as they come.

pub mod amount;
pub mod band;
mod care;
pub mod cells;
mod class;
mod construction;
pub mod contradiction;
mod count;
mod fibre;
mod gauge;
mod grist;
mod held_together;
pub mod length_mass;
pub mod materials;
pub mod measured;
mod money;
pub mod needles;
mod price;
mod purpose;
pub mod range;
pub mod reading;
pub mod size_list;
pub mod token;

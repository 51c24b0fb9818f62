//! How each kind of value is read from a cell or a key, and written so that it reads
//! back to the same: the one list for tables and pattern files.

use crate::{
    label::cells::{self, Cell, written},
    measure::{GristTolerance, Interval, Length, Mass, NeedleSize, YarnCount},
    record::{Blend, Care, Classes, Multiple, Needles, Price, Printed, StatedGauge, StockAmount},
    trade::Colour,
};

/// A value beside its text.
pub(super) trait Value: PartialEq + Sized {
    /// Reads a text.
    fn read(text: &str) -> Cell<Self>;

    /// A text that reads back to it.
    fn write(&self) -> String;
}

/// The most bytes of a text with a grammar: needs of twenty sizes take some hundred.
pub(super) const MOST_VALUE: usize = 4 * 1024;

/// Why a text is too long for one value, and what may be written.
pub(super) fn too_long(text: &str) -> Option<(String, String)> {
    (text.len() > MOST_VALUE).then(|| {
        let why = format!("this is {} bytes long", text.len());
        (why, format!("write at most {MOST_VALUE} bytes"))
    })
}

/// The text of a value: as printed where that reads back to it, else as it is written.
pub(super) fn text_of<T: Value>(printed: &Printed<T>) -> String {
    written::text_of(printed, T::read, T::write)
}

macro_rules! values {
    ($($value:ty: $read:expr, $write:expr;)*) => {$(
        impl Value for $value {
            fn read(text: &str) -> Cell<Self> {
                $read(text)
            }

            fn write(&self) -> String {
                let write: fn(&Self) -> String = $write;
                write(self)
            }
        }
    )*};
}

values! {
    Length: cells::length, |length| written::length(*length);
    Mass: cells::mass, |mass| written::mass(*mass);
    YarnCount: cells::count, |count| written::count(*count);
    Classes: cells::class, written::class;
    Blend: cells::blend, written::blend;
    StatedGauge: cells::gauge, written::gauge;
    Needles: cells::needles, |needles| written::needles(*needles);
    NeedleSize: cells::needle, |needle| written::needles(Interval::one(*needle));
    Care: cells::care, |care| care.name().to_owned();
    Price: cells::price, written::price;
    Multiple: cells::multiple, written::multiple;
    GristTolerance: cells::tolerance, written::tolerance;
    StockAmount: cells::new_amount, ToString::to_string;
    Colour: cells::colour, ToString::to_string;
    (Mass, Option<Length>): cells::weighed, written::weighed;
}

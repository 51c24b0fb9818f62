//! Any text as a ball band: no panic, spans inside the text and on the bounds
//! of characters, and what was read comes back from what is printed of it.

use std::fmt::Debug;
use understudy::label::{
    band::{BandReading, read_band},
    cells::{self, Cell, written},
};

/// Panics where `data` does not hold.
pub fn check(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let band = read_band(&text);
    spans_lie_in(&band, &text);
    comes_back(&band);
}

fn spans_lie_in(band: &BandReading, text: &str) {
    for note in &band.warnings {
        assert!(text.get(note.span.clone()).is_some(), "{note:?}");
    }
    let mut end = 0;
    for left in &band.not_read {
        assert_eq!(text.get(left.span.clone()), Some(left.text.as_str()));
        assert!(left.span.start >= end, "{left:?} before {end}");
        end = left.span.end;
    }
}

fn same<T: PartialEq + Debug>(printed: &str, read: Cell<T>, value: &T) {
    match read {
        Ok(reading) => assert_eq!(&reading.value, value, "printed {printed:?}"),
        Err(error) => panic!("printed {printed:?} of {value:?} is refused: {error}"),
    }
}

fn comes_back(band: &BandReading) {
    let facts = &band.facts;
    if let Some(length) = &facts.length {
        let printed = written::length(length.value);
        same(&printed, cells::length(&printed), &length.value);
    }
    if let Some(mass) = &facts.mass {
        let printed = written::mass(mass.value);
        same(&printed, cells::mass(&printed), &mass.value);
    }
    if let Some(count) = &facts.count {
        let printed = written::count(count.value);
        same(&printed, cells::count(&printed), &count.value);
    }
    if let Some(gauge) = &facts.gauge {
        let printed = written::gauge(&gauge.value);
        same(&printed, cells::gauge(&printed), &gauge.value);
    }
    if let Some(needles) = &facts.needles {
        let printed = written::needles(needles.value);
        same(&printed, cells::needles(&printed), &needles.value);
    }
    if let Some(price) = &facts.price {
        let printed = written::price(&price.value);
        same(&printed, cells::price(&printed), &price.value);
    }
    if let Some(blend) = &facts.blend {
        let printed = written::blend(&blend.value);
        same(&printed, cells::blend(&printed), &blend.value);
    }
    if let Some(care) = &facts.care {
        let printed = care.value.name();
        same(printed, cells::care(printed), &care.value);
    }
}

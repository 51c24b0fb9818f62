//! (to be split: one file per kind of cell)

use crate::{
    measure::{
        Grist, GristTolerance, Length, Mass, NeedleSize, Ratio, YarnCount,
        reading::{ReadError, Reading},
    },
    record::{
        Blend, Care, Classes, Fit, Multiple, Need, Needles, Price, Purpose, StatedGauge,
        StockAmount, YarnFacts,
    },
    trade::Construction,
};

/// What reading a cell gives.
pub type Cell<T> = Result<Reading<T>, ReadError>;

fn not_yet<T>(text: &str) -> Cell<T> {
    Err(ReadError {
        span: 0..text.len(),
        given: text.to_owned(),
        why: "not read yet".to_owned(),
        allowed: "something else".to_owned(),
    })
}

/// `125 m`, `137 yd`, `1 1/2 yd`.
pub fn length(text: &str) -> Cell<Length> {
    not_yet(text)
}
/// `50 g`, `1 3/4 oz`, `50 g (1.75 oz)`.
pub fn mass(text: &str) -> Cell<Mass> {
    not_yet(text)
}
/// `2/14 Nm`, `tex 120/2`, `20/2 Ne`.
pub fn count(text: &str) -> Cell<YarnCount> {
    not_yet(text)
}
/// `230 m/100 g`, `1150 yd/lb`, `125 m per 50 g`, or a yarn count.
pub fn grist(text: &str) -> Cell<Grist> {
    not_yet(text)
}
/// A put-up: length, mass or both, both systems allowed; fills `length`, `mass`, `count`.
pub fn put_up(text: &str) -> Cell<YarnFacts> {
    not_yet(text)
}
/// `8 %`, `8%`.
pub fn percent(text: &str) -> Cell<Ratio> {
    not_yet(text)
}
/// `8 %` or `15 m/100 g`.
pub fn tolerance(text: &str) -> Cell<GristTolerance> {
    not_yet(text)
}
/// `DK`, `3`, `8 ply`, `sport / 5 ply`. In a cell the ambiguous `4 ply` gives all its classes and a note.
pub fn class(text: &str) -> Cell<Classes> {
    not_yet(text)
}
/// `75% wool 25% nylon`.
pub fn blend(text: &str) -> Cell<Blend> {
    not_yet(text)
}
/// `plied`, `3 plied` (second value: number of plies, where given).
pub fn construction(text: &str) -> Cell<(Construction, Option<u8>)> {
    not_yet(text)
}
/// `22 sts x 30 rows / 10 cm`, with stitch, flat or round, washed, strands where stated.
pub fn gauge(text: &str) -> Cell<StatedGauge> {
    not_yet(text)
}
/// `4 mm`, `3.25-3.75 mm`, `US 6`, `old UK 8`.
pub fn needles(text: &str) -> Cell<Needles> {
    not_yet(text)
}
/// One needle.
pub fn needle(text: &str) -> Cell<NeedleSize> {
    not_yet(text)
}
/// `machine wash`, `superwash`, `hand wash`, `dry clean`, `30 C`.
pub fn care(text: &str) -> Cell<Care> {
    not_yet(text)
}
/// `6.50 GBP`, `12,95 €`, `£6.50/50g`.
pub fn price(text: &str) -> Cell<Price> {
    not_yet(text)
}
/// `3.5 skeins`, `2 + 60 g`, `340 g`.
pub fn stock_amount(text: &str) -> Cell<StockAmount> {
    not_yet(text)
}
/// A lot's own full skein: `48.5 g`, `48 g = 121 m`.
pub fn weighed(text: &str) -> Cell<(Mass, Option<Length>)> {
    not_yet(text)
}
/// Needs, one a size in order, with the size's name where given:
/// `9 (10, 11) skeins`, `9 x 200 yd`, `900-1100 m`, `650 (700) g`, `12 oz`.
/// Skeins without a put-up of their own are those of `reference`.
pub fn needs(text: &str, reference: &YarnFacts) -> Cell<Vec<(Option<String>, Need)>> {
    let _ = reference;
    not_yet(text)
}
/// `4 + 2`, `6`.
pub fn multiple(text: &str) -> Cell<Multiple> {
    not_yet(text)
}
/// `hot pad`, `garment`, `child's nightwear`.
pub fn purpose(text: &str) -> Cell<Purpose> {
    not_yet(text)
}
/// `fitted`, `relaxed`, `unfitted`.
pub fn fit(text: &str) -> Cell<Fit> {
    not_yet(text)
}
/// `yes` or `no`.
pub fn yes_no(text: &str) -> Cell<bool> {
    not_yet(text)
}

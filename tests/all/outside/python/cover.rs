//! Lots for a need against an integer programme.

use super::{super::spread, answers};
use serde_json::{Value, json};
use understudy::{
    measure::Length,
    quantity::{Shelf, cover},
};

/// SciPy 1.17, milp: the fewest lots, then the least left over.
#[test]
fn lots_are_those_that_an_integer_programme_picks() {
    let lots = proptest::collection::vec(1_u32..500, 1..15);
    let cases: Vec<(Vec<u32>, u32)> = spread(&(lots, 1_u32..2500), 100);
    let question =
        |(held, need): &(Vec<u32>, u32)| json!({"ask": "cover", "need": need, "held": held});
    let Some(theirs) = answers(&cases.iter().map(question).collect::<Vec<_>>()) else {
        return;
    };
    for ((held, need), theirs) in cases.iter().zip(theirs) {
        let shelves: Vec<Shelf<usize>> = held
            .iter()
            .enumerate()
            .map(|(key, metres)| Shelf {
                key,
                shade: "moss".to_owned(),
                holds: Length::metres(f64::from(*metres)).unwrap(),
            })
            .collect();
        let need_m = Length::metres(f64::from(*need)).unwrap();
        let best = cover(need_m, &shelves, None).remove(0);
        let ours = best
            .left_over_m
            .map(|left| json!([best.lots.len(), left as i64]));
        assert_eq!(ours.unwrap_or(Value::Null), theirs, "{need} from {held:?}");
    }
}

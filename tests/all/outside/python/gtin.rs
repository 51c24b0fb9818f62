//! Article numbers against python-stdnum.

use super::{super::spread, answers};
use serde_json::{Value, json};
use understudy::trade::Gtin;

fn digits(length: usize) -> impl proptest::strategy::Strategy<Value = String> {
    proptest::string::string_regex(&format!("[0-9]{{{length}}}")).unwrap()
}

/// python-stdnum 2.2, stdnum.ean.
#[test]
fn the_check_digit_is_that_of_stdnum() {
    let data: Vec<String> = [7, 11, 12, 13]
        .into_iter()
        .flat_map(|length| spread(&digits(length), 100))
        .collect();
    let question = |data: &String| json!({"ask": "check_digit", "data": data});
    let Some(theirs) = answers(&data.iter().map(question).collect::<Vec<_>>()) else {
        return;
    };
    for (data, theirs) in data.iter().zip(theirs) {
        let theirs = theirs.as_str().unwrap();
        for digit in 0..10 {
            let read = Gtin::read(&format!("{data}{digit}"));
            assert_eq!(read.is_ok(), digit.to_string() == theirs, "{data} {digit}");
        }
    }
}

/// python-stdnum 2.2, stdnum.ean.
#[test]
fn numbers_pass_or_fail_as_they_do_with_stdnum() {
    let numbers: Vec<String> = [8, 12, 13, 14]
        .into_iter()
        .flat_map(|length| spread(&digits(length), 200))
        .collect();
    let question = |digits: &String| json!({"ask": "is_article_number", "digits": digits});
    let Some(theirs) = answers(&numbers.iter().map(question).collect::<Vec<_>>()) else {
        return;
    };
    for (number, theirs) in numbers.iter().zip(theirs) {
        assert_eq!(Value::Bool(Gtin::read(number).is_ok()), theirs, "{number}");
    }
}

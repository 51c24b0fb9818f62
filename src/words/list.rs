//! `a, b and c`.

/// Joins with commas and a last `and`; empty for no items.
pub fn and_list<S: AsRef<str>>(items: &[S]) -> String {
    join(items, "and")
}

/// Joins with commas and a last `or`; empty for no items.
pub fn or_list<S: AsRef<str>>(items: &[S]) -> String {
    join(items, "or")
}

fn join<S: AsRef<str>>(items: &[S], last: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [head @ .., tail] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", head.join(", "), tail.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_a_sentence_does() {
        assert_eq!(and_list::<&str>(&[]), "");
        assert_eq!(and_list(&["a"]), "a");
        assert_eq!(and_list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(or_list(&["a", "b"]), "a or b");
    }
}

//! One value a size, as patterns print them.

/// `4 (5, 6)`.
pub fn sizes_as_patterns_write_them(counts: &[String]) -> String {
    match counts {
        [] => String::new(),
        [one] => one.clone(),
        [first, rest @ ..] => format!("{first} ({})", rest.join(", ")),
    }
}

/// `4 (5, 6) skeins`, `1 skein`.
pub(super) fn skeins_of_sizes(counts: &[String]) -> String {
    let one = matches!(counts, [only] if only == "1");
    let word = if one { "skein" } else { "skeins" };
    format!("{} {word}", sizes_as_patterns_write_them(counts))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_skein_of_one_size_is_no_skeins() {
        let told = |counts: &[&str]| {
            let counts: Vec<String> = counts.iter().map(ToString::to_string).collect();
            skeins_of_sizes(&counts)
        };
        assert_eq!(told(&["1"]), "1 skein");
        assert_eq!(told(&["1", "1"]), "1 (1) skeins");
        assert_eq!(told(&["4", "5", "6"]), "4 (5, 6) skeins");
    }
}

//! One number as written, with every value it may mean.

/// A number as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Number {
    /// One meaning.
    One(f64),
    /// One mark before exactly three digits: decimals or thousands.
    Either {
        /// The value when the mark parts decimals.
        decimal: f64,
        /// The value when the mark parts thousands.
        thousands: f64,
        /// The mark, `.` or `,`.
        mark: char,
    },
    /// No number that can be trusted, and why.
    Refused(String),
}

impl Number {
    /// Digits with marks between, such as `1.100,5`; `None` where the marks make
    /// no one number, as in `6,7,8`.
    ///
    /// Two kinds of mark: the last parts decimals. One kind, several times:
    /// thousands. One mark: decimals, unless exactly three digits follow; then
    /// either, except after a lone zero.
    pub fn from_digits(text: &str) -> Option<Self> {
        let marks: Vec<char> = text.chars().filter(|c| !c.is_ascii_digit()).collect();
        match marks.as_slice() {
            [] => value(text).map(Self::One),
            [mark] => one_mark(text, *mark),
            [first, .., last] => many_marks(text, *first, *last),
        }
    }

    /// Every value it may mean, decimals first.
    pub fn values(&self) -> Vec<f64> {
        match *self {
            Self::One(value) => vec![value],
            Self::Either {
                decimal, thousands, ..
            } => vec![decimal, thousands],
            Self::Refused(_) => Vec::new(),
        }
    }

    /// The one value it means.
    pub fn one(&self) -> Option<f64> {
        match *self {
            Self::One(value) => Some(value),
            _ => None,
        }
    }
}

fn value(digits: &str) -> Option<f64> {
    digits.parse().ok()
}

fn one_mark(text: &str, mark: char) -> Option<Number> {
    let (whole, part) = text.split_once(mark)?;
    if mark == '\'' {
        return (part.len() == 3).then_some(Number::One(value(&format!("{whole}{part}"))?));
    }
    let decimal = value(&format!("{whole}.{part}"))?;
    let thousands_shape =
        part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
    if !thousands_shape {
        return Some(Number::One(decimal));
    }
    let thousands = value(&format!("{whole}{part}"))?;
    Some(Number::Either {
        decimal,
        thousands,
        mark,
    })
}

fn many_marks(text: &str, first: char, last: char) -> Option<Number> {
    let (groups, decimals) = if first == last {
        (text, None)
    } else {
        text.rsplit_once(last).map(|(g, d)| (g, Some(d)))?
    };
    let parts: Vec<&str> = groups.split(first).collect();
    let (head, tail) = parts.split_first()?;
    let grouped = (1..=3).contains(&head.len())
        && tail
            .iter()
            .all(|part| part.len() == 3 && part.chars().all(|c| c.is_ascii_digit()));
    let whole = parts.concat();
    grouped
        .then(|| match decimals {
            Some(decimals) => value(&format!("{whole}.{decimals}")),
            None => value(&whole),
        })
        .flatten()
        .map(Number::One)
}

/// The value of a one-character fraction such as `½`.
pub fn vulgar(c: char) -> Option<f64> {
    let (top, bottom) = match c {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅕' => (1.0, 5.0),
        '⅖' => (2.0, 5.0),
        '⅗' => (3.0, 5.0),
        '⅘' => (4.0, 5.0),
        '⅙' => (1.0, 6.0),
        '⅚' => (5.0, 6.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        '⅒' => (1.0, 10.0),
        _ => return None,
    };
    Some(top / bottom)
}

/// The value of `top`/`bottom` where people write such fractions.
pub fn common_fraction(top: f64, bottom: f64) -> Option<f64> {
    const BOTTOMS: [f64; 8] = [2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 16.0];
    (BOTTOMS.contains(&bottom) && top >= 1.0 && top < bottom && top.fract() == 0.0)
        .then(|| top / bottom)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_that_can_only_mean_one_thing_mean_it() {
        for (text, value) in [
            ("135", 135.0),
            ("4,5", 4.5),
            ("453,6", 453.6),
            ("0,125", 0.125),
            ("1.100,5", 1100.5),
            ("1,638.25", 1638.25),
            ("1,234,567", 1_234_567.0),
            ("1'250", 1250.0),
            ("3.75", 3.75),
            ("1.1000", 1.1),
            ("1234.567", 1234.567),
        ] {
            assert_eq!(
                Number::from_digits(text),
                Some(Number::One(value)),
                "{text}"
            );
        }
    }

    #[test]
    fn every_fraction_of_one_character_has_its_value() {
        let twelfths = [
            ('½', 6.0),
            ('⅓', 4.0),
            ('⅔', 8.0),
            ('¼', 3.0),
            ('¾', 9.0),
            ('⅙', 2.0),
            ('⅚', 10.0),
        ];
        let fortieths = [
            ('⅕', 8.0),
            ('⅖', 16.0),
            ('⅗', 24.0),
            ('⅘', 32.0),
            ('⅛', 5.0),
            ('⅜', 15.0),
            ('⅝', 25.0),
            ('⅞', 35.0),
            ('⅒', 4.0),
        ];
        let parts = twelfths.map(|(c, n)| (c, n / 12.0)).into_iter();
        for (c, value) in parts.chain(fortieths.map(|(c, n)| (c, n / 40.0))) {
            assert!((vulgar(c).unwrap() - value).abs() < 1e-12, "{c}");
        }
        assert_eq!(vulgar('a'), None);
    }

    #[test]
    fn only_what_people_write_as_a_fraction_is_one() {
        assert_eq!(common_fraction(3.0, 4.0), Some(0.75));
        for (top, bottom) in [(4.0, 4.0), (5.0, 4.0), (0.0, 4.0), (1.5, 4.0), (3.0, 7.0)] {
            assert_eq!(common_fraction(top, bottom), None, "{top}/{bottom}");
        }
    }

    #[test]
    fn one_mark_before_three_digits_may_mean_two_things() {
        let number = Number::from_digits("1.100").unwrap();
        assert_eq!(number.values(), [1.1, 1100.0]);
        assert_eq!(number.one(), None);
    }

    #[test]
    fn a_list_is_no_number() {
        assert_eq!(Number::from_digits("6,7,8"), None);
        assert_eq!(Number::from_digits("1.2.3"), None);
    }
}

//! Which character parts the cells.

use super::{columns::Column, header::named};

/// The characters that may part cells, the standard one first.
pub(super) const DELIMITERS: [u8; 3] = [b',', b';', b'\t'];

/// The one under which the header line holds the most known columns; of equals
/// the one that parts the line most often, then the first of the list.
pub(super) fn delimiter_of(header_line: &str, columns: &[Column]) -> u8 {
    let mut best = (0, 0, b',');
    for delimiter in DELIMITERS {
        let cells = header_line.split(char::from(delimiter));
        let known = cells
            .clone()
            .filter(|cell| named(cell.trim().trim_matches('"'), columns).is_some());
        let merit = (known.count(), cells.count());
        if merit > (best.0, best.1) {
            best = (merit.0, merit.1, delimiter);
        }
    }
    best.2
}

/// Its name, for people.
pub(super) fn delimiter_name(delimiter: u8) -> &'static str {
    match delimiter {
        b';' => "`;`",
        b'\t' => "a tab",
        _ => "`,`",
    }
}

#[cfg(test)]
mod tests {
    use super::{super::YARN_COLUMNS, *};

    #[test]
    fn the_header_line_shows_what_parts_the_cells() {
        for (line, delimiter) in [
            ("maker,name,length,mass", b','),
            ("maker;name;length (m);mass", b';'),
            ("maker\tname\tlength\tmass", b'\t'),
            ("\"maker\";\"name\";\"length, in m\"", b';'),
            ("maker", b','),
        ] {
            assert_eq!(delimiter_of(line, YARN_COLUMNS), delimiter, "{line}");
        }
    }
}

//! The columns of the tables; reader, writer, help and README read these.

use crate::label::cells;

/// Whether a column must be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Required {
    /// In every file and every row.
    Always,
    /// Unless a yarn count says how long the yarn is.
    UnlessCount,
    /// May be left out, and its cells left empty.
    No,
}

/// One column of a table.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name in the header line.
    pub name: &'static str,
    /// Whether it must be there.
    pub required: Required,
    /// What it holds.
    pub holds: &'static str,
    /// A cell of it.
    pub example: &'static str,
    /// Whether a text is a value of it, where its unit may stand in the header.
    pub(super) reads: Option<fn(&str) -> bool>,
}

const fn column(
    name: &'static str,
    required: Required,
    holds: &'static str,
    example: &'static str,
) -> Column {
    Column {
        name,
        required,
        holds,
        example,
        reads: None,
    }
}

impl Column {
    const fn with_unit(self, reads: fn(&str) -> bool) -> Self {
        Self {
            reads: Some(reads),
            ..self
        }
    }
}

use Required::{Always, No, UnlessCount};

/// The columns of `yarns.csv`, in the order in which they are written.
pub const YARN_COLUMNS: &[Column] = &[
    column("maker", Always, "who makes it", "Zellandine"),
    column("name", Always, "what it is called", "Orrin DK"),
    column(
        "length",
        UnlessCount,
        "length of one skein, or `unknown`",
        "125 m",
    )
    .with_unit(|text| cells::length(text).is_ok()),
    column(
        "mass",
        UnlessCount,
        "mass of one skein, or `unknown`",
        "50 g",
    )
    .with_unit(|text| cells::mass(text).is_ok()),
    column("class", No, "weight class, by number or name", "3"),
    column("fibre", No, "fibres and their shares", "75% wool 25% nylon"),
    column("construction", No, "how it is built", "plied"),
    column(
        "gauge",
        No,
        "gauge on the label",
        "22 sts x 30 rows / 10 cm",
    )
    .with_unit(|text| cells::gauge(text).is_ok()),
    column("needle", No, "needles on the label", "4 mm")
        .with_unit(|text| cells::needles(text).is_ok()),
    column("care", No, "washing", "machine wash"),
    column(
        "price",
        No,
        "price of one skein, or of what it says",
        "6.50 GBP",
    )
    .with_unit(|text| cells::price(text).is_ok()),
    column("gtin", No, "number under the barcode", "5012345678900"),
    column("notes", No, "anything else", "soft, splits"),
    column("count", No, "yarn count, as on cones", "2/14 Nm"),
    column("plies", No, "singles or strands it is made of", "2"),
    column("shades", No, "shades it comes in, parted by |", "moss|rust"),
    column("discontinued", No, "whether it is no longer made", "no"),
];

/// The columns of `stock.csv`, in the order in which they are written.
pub const STOCK_COLUMNS: &[Column] = &[
    column("maker", Always, "maker of the yarn", "Zellandine"),
    column("name", Always, "name of the yarn", "Orrin DK"),
    column("shade", No, "shade, as printed", "moss"),
    column(
        "lot",
        No,
        "dye lot, as printed; empty or `unknown` where the band gives none",
        "A417",
    ),
    column("amount", Always, "skeins, grams or both", "2 + 60 g")
        .with_unit(|text| cells::stock_amount(text).is_ok()),
    column(
        "weighed",
        No,
        "what one full skein of this lot really holds",
        "48.5 g = 121 m",
    )
    .with_unit(|text| cells::weighed(text).is_ok()),
    column("place", No, "where it is kept", "blue trunk"),
    column("price", No, "what was paid", "6.50 GBP").with_unit(|text| cells::price(text).is_ok()),
    column("notes", No, "anything else", "gift, no band"),
];

/// The columns of `swatches.csv`, in the order in which they are written.
pub const SWATCH_COLUMNS: &[Column] = &[
    column("maker", Always, "maker of the yarn", "Zellandine"),
    column("name", Always, "name of the yarn", "Orrin DK"),
    column("needle", Always, "needle it was knitted on", "4 mm")
        .with_unit(|text| cells::needle(text).is_ok()),
    column(
        "before",
        No,
        "gauge before washing, with stitch, flat or round, strands; this, `after` or both",
        "21 sts x 28 rows / 10 cm, garter, flat",
    ),
    column(
        "after",
        No,
        "gauge after washing",
        "20 sts x 28 rows / 10 cm",
    ),
    column("day", No, "day on which it was counted", "2026-03-01"),
    column("notes", No, "anything else", "blocked hard"),
];

#[cfg(test)]
mod tests {
    use super::super::{StockRow, SwatchRow, TableRecord, read_record};
    use crate::record::Yarn;

    fn is_read<T: TableRecord>() -> bool {
        let example = |name| T::COLUMNS.iter().find(|column| column.name == name);
        read_record::<T>(|name| example(name).unwrap().example).is_ok()
    }

    #[test]
    fn the_example_of_every_column_is_read() {
        assert!(is_read::<Yarn>());
        assert!(is_read::<StockRow>());
        assert!(is_read::<SwatchRow>());
    }
}

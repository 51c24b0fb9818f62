//! The columns of the tables; reader, writer, help and README read these.

use crate::label::cells;

/// Whether a column must be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Presence {
    /// In every file and every row.
    Required,
    /// Unless a yarn count says how long the yarn is.
    UnlessCount,
    /// May be left out, and its cells left empty.
    Optional,
}

/// One column of a table.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name in the header line.
    pub name: &'static str,
    /// Whether it must be there.
    pub presence: Presence,
    /// What it holds.
    pub holds: &'static str,
    /// A cell of it.
    pub example: &'static str,
    /// Whether a text is a value of it, where its unit may stand in the header.
    pub(super) reads: Option<fn(&str) -> bool>,
}

const fn column(
    name: &'static str,
    presence: Presence,
    holds: &'static str,
    example: &'static str,
) -> Column {
    Column {
        name,
        presence,
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

use Presence::{Optional, Required, UnlessCount};

/// The columns of `yarns.csv`, in the order in which they are written.
pub const YARN_COLUMNS: &[Column] = &[
    column("maker", Required, "who makes it", "Zellandine"),
    column("name", Required, "what it is called", "Orrin DK"),
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
    column("class", Optional, "weight class, by number or name", "3"),
    column(
        "fibre",
        Optional,
        "fibres and their shares",
        "75% wool 25% nylon",
    ),
    column("construction", Optional, "how it is built", "plied"),
    column(
        "gauge",
        Optional,
        "gauge on the label",
        "22 sts x 30 rows / 10 cm",
    )
    .with_unit(|text| cells::gauge(text).is_ok()),
    column("needle", Optional, "needles on the label", "4 mm")
        .with_unit(|text| cells::needles(text).is_ok()),
    column("care", Optional, "washing", "machine wash"),
    column(
        "price",
        Optional,
        "price of one skein, or of what it says",
        "6.50 GBP",
    )
    .with_unit(|text| cells::price(text).is_ok()),
    column(
        "gtin",
        Optional,
        "number under the barcode",
        "5012345678900",
    ),
    column("notes", Optional, "anything else", "soft, splits"),
    column("count", Optional, "yarn count, as on cones", "2/14 Nm"),
    column("plies", Optional, "singles or strands it is made of", "2"),
    column(
        "shades",
        Optional,
        "shades it comes in, parted by |",
        "moss|rust",
    ),
    column(
        "discontinued",
        Optional,
        "whether it is no longer made",
        "no",
    ),
];

/// The columns of `stock.csv`, in the order in which they are written.
pub const STOCK_COLUMNS: &[Column] = &[
    column("maker", Required, "maker of the yarn", "Zellandine"),
    column("name", Required, "name of the yarn", "Orrin DK"),
    column("shade", Optional, "shade, as printed", "moss"),
    column(
        "lot",
        Optional,
        "dye lot, as printed; empty or `unknown` where the band gives none",
        "A417",
    ),
    column("amount", Required, "skeins, grams or both", "2 + 60 g")
        .with_unit(|text| cells::stock_amount(text).is_ok()),
    column(
        "weighed",
        Optional,
        "what one full skein of this lot really holds",
        "48.5 g = 121 m",
    )
    .with_unit(|text| cells::weighed(text).is_ok()),
    column("place", Optional, "where it is kept", "blue trunk"),
    column("price", Optional, "what was paid", "6.50 GBP")
        .with_unit(|text| cells::price(text).is_ok()),
    column("notes", Optional, "anything else", "gift, no band"),
];

/// The columns of `swatches.csv`, in the order in which they are written.
pub const SWATCH_COLUMNS: &[Column] = &[
    column("maker", Required, "maker of the yarn", "Zellandine"),
    column("name", Required, "name of the yarn", "Orrin DK"),
    column("needle", Required, "needle it was knitted on", "4 mm")
        .with_unit(|text| cells::needle(text).is_ok()),
    column(
        "before",
        Optional,
        "gauge before washing, with stitch, flat or round, strands; this, `after` or both",
        "21 sts x 28 rows / 10 cm, garter, flat",
    ),
    column(
        "after",
        Optional,
        "gauge after washing",
        "20 sts x 28 rows / 10 cm",
    ),
    column("day", Optional, "day on which it was counted", "2026-03-01"),
    column("notes", Optional, "anything else", "blocked hard"),
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

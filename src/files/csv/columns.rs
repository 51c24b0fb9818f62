//! The columns of the tables; reader, writer, forms, help and README read these.

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

/// One column of a table, which is a field of a form as well.
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
    /// Whether a band says it of the yarn itself, so that it is corrected there.
    pub is_fact: bool,
    /// Whether a text is a value of it, where its unit may stand in the header.
    pub(super) reads: Option<fn(&str) -> bool>,
}

impl Column {
    /// Whether a field of it may not be left empty.
    pub fn is_needed(&self) -> bool {
        self.presence != Presence::Optional
    }
}

/// Columns: name, presence, what it holds, a cell of it; in brackets what reads it,
/// where its unit may stand in the header.
macro_rules! columns {
    (@reads) => { None };
    (@reads $reads:ident) => { Some(|text| cells::$reads(text).is_ok()) };
    (@is_fact) => { false };
    (@is_fact fact) => { true };
    ($($name:literal $presence:ident $holds:literal, $example:literal $(($reads:ident))? $($fact:ident)?;)*) => {
        &[$(Column {
            name: $name,
            presence: Presence::$presence,
            holds: $holds,
            example: $example,
            is_fact: columns!(@is_fact $($fact)?),
            reads: columns!(@reads $($reads)?),
        }),*]
    };
}

/// The columns of `yarns.csv`, in the order in which they are written.
pub const YARN_COLUMNS: &[Column] = columns! {
    "maker" Required "who makes it", "Zellandine";
    "name" Required "what it is called", "Orrin DK";
    "length" UnlessCount "length of one skein, or `unknown`", "125 m" (length) fact;
    "mass" UnlessCount "weight of one skein, or `unknown`", "50 g" (mass) fact;
    "class" Optional "weight class, by number or name", "3" fact;
    "fibre" Optional "fibres and their shares", "75% wool 25% nylon" fact;
    "construction" Optional "how it is built", "plied" fact;
    "gauge" Optional "gauge on the label", "22 sts x 30 rows / 10 cm" (gauge) fact;
    "needle" Optional "needles on the label", "4 mm" (needles) fact;
    "care" Optional "washing", "machine wash" fact;
    "price" Optional "price of one skein, or of what it says", "6.50 GBP" (price) fact;
    "gtin" Optional "number under the barcode; several separated by |", "5012345678900";
    "notes" Optional "anything else", "soft, splits";
    "count" Optional "yarn count, as on cones; for a yarn that you measured, its metres per 100 g from and to: `377 m/100 g (369 to 386)`", "2/14 Nm" fact;
    "plies" Optional "singles or strands it is made of", "2" fact;
    "shades" Optional "shades it comes in, separated by |", "moss|rust";
    "discontinued" Optional "whether it is discontinued", "no";
    "low" Optional "a shade with fewer skeins than this runs low, see `stock low`", "6";
};

/// The columns in which stands what a band says of the yarn itself.
pub fn fact_columns() -> impl Iterator<Item = &'static Column> {
    YARN_COLUMNS.iter().filter(|column| column.is_fact)
}

/// The columns of `stock.csv`, in the order in which they are written.
pub const STOCK_COLUMNS: &[Column] = columns! {
    "maker" Required "maker of the yarn", "Zellandine";
    "name" Required "name of the yarn", "Orrin DK";
    "shade" Optional "shade, as printed", "moss";
    "lot" Optional "dye lot, as printed; empty or `unknown` if the label has none", "A417";
    "amount" Required "skeins, grams or both", "2 + 60 g" (stock_amount);
    "weighed" Optional "one full skein of this lot, weighed by you", "48.5 g = 121 m" (weighed);
    "place" Optional "where you keep it", "blue trunk";
    "price" Optional "what you paid for one", "6.50 GBP" (price);
    "notes" Optional "anything else", "gift, no label";
    "colour" Optional "colour of the shade, by name or as six digits; empty leaves the one you have", "#2f6f8f";
};

/// The columns of `swatches.csv`, in the order in which they are written.
pub const SWATCH_COLUMNS: &[Column] = columns! {
    "maker" Required "maker of the yarn", "Zellandine";
    "name" Required "name of the yarn", "Orrin DK";
    "needle" Required "needle it was knitted on", "4 mm" (needle);
    "before" Optional "gauge before washing, with stitch, flat or round, strands; this, `after` or both", "21 sts x 28 rows / 10 cm, garter, flat";
    "after" Optional "gauge after washing", "20 sts x 28 rows / 10 cm";
    "day" Optional "day on which it was counted", "2026-03-01";
    "notes" Optional "anything else", "blocked hard";
    "held with" Optional "yarns that it was held together with, as maker and name; several separated by |, one once for each of its strands", "Vorrelith, Hathrel DK";
};

/// The columns of `projects.csv`, in the order in which they are written.
pub const PROJECT_COLUMNS: &[Column] = columns! {
    "name" Required "name of the project", "Hat for Mum";
    "pattern" Required "name of its pattern", "Skerrablet";
    "size" Optional "size of the pattern; may be empty if it has one", "M";
    "without" Optional "fibres to avoid", "mohair";
    "only" Optional "only these fibres", "cotton, linen";
    "care" Optional "how it will be washed, if not as the pattern says", "machine wash";
    "max cost" Optional "the most to spend on it", "40 EUR";
    "enough" Optional "only from your stash", "no";
    "one lot" Optional "only one dye lot for each of its yarns", "no";
    "shade" Optional "only shades of these words", "dark green";
    "place" Optional "only what you keep in this place", "loft";
    "yarns" Optional "yarns that you chose yourself, by the key of the pattern's yarn, with a shade if only that is meant; several separated by |", "MC=Zellandine, Orrin DK:moss";
};

/// The columns of `reservations.csv`, in the order in which they are written.
pub const RESERVATION_COLUMNS: &[Column] = columns! {
    "maker" Required "maker of the yarn", "Zellandine";
    "name" Required "name of the yarn", "Orrin DK";
    "shade" Optional "shade of the lot", "moss";
    "lot" Optional "dye lot; empty or `unknown` if it has none", "A417";
    "place" Optional "where you keep it", "blue trunk";
    "amount" Required "how much of it is reserved", "2 skeins" (stock_amount);
    "for" Optional "what for: the name of a project or a customer, or anything else", "Hat for Mum";
};

#[cfg(test)]
mod tests {
    use super::super::{ProjectRow, ReservationRow, StockRow, SwatchRow, TableRecord, read_record};
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
        assert!(is_read::<ProjectRow>());
        assert!(is_read::<ReservationRow>());
    }
}

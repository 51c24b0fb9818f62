//! Yarns and stock written, and what writing any table shares.

use super::{
    STOCK_COLUMNS, StockRow, YARN_COLUMNS, columns::Column, guard::guard, row::UNKNOWN,
    shades::write_shades,
};
use crate::{
    files::ExchangeError,
    label::{
        cells::{self, Cell, written},
        plain,
    },
    record::{Printed, Yarn},
};
use std::{
    borrow::Borrow,
    io::{self, Write},
};

/// Writes a table of yarns and gives how many it wrote. `file` is what messages
/// call it.
pub fn write_yarns<Y: Borrow<Yarn>>(
    file: &str,
    target: impl Write,
    yarns: impl IntoIterator<Item = Y>,
) -> Result<u64, ExchangeError> {
    let mut table = YarnsOut::begin(file, target)?;
    for yarn in yarns {
        table.add(yarn.borrow())?;
    }
    table.end()
}

/// A table of yarns that is written one yarn at a time.
pub struct YarnsOut<W: Write>(TableOut<W>);

impl<W: Write> YarnsOut<W> {
    /// Begins the table. `file` is what messages call it.
    pub fn begin(file: &str, target: W) -> Result<Self, ExchangeError> {
        TableOut::begin(file, target, YARN_COLUMNS).map(Self)
    }

    /// Writes a yarn.
    pub fn add(&mut self, yarn: &Yarn) -> Result<(), ExchangeError> {
        self.0.add(&yarn_cells(yarn))
    }

    /// Ends the table and gives how many yarns it holds.
    pub fn end(self) -> Result<u64, ExchangeError> {
        self.0.end()
    }
}

/// Writes a table of stock and gives how many rows it wrote. `file` is what
/// messages call it.
pub fn write_stock<S: Borrow<StockRow>>(
    file: &str,
    target: impl Write,
    stock: impl IntoIterator<Item = S>,
) -> Result<u64, ExchangeError> {
    let rows = stock.into_iter().map(|row| stock_cells(row.borrow()));
    write_rows(file, target, STOCK_COLUMNS, rows)
}

/// Writes the header line and the rows.
pub(super) fn write_rows<const N: usize>(
    file: &str,
    target: impl Write,
    columns: &[Column],
    rows: impl Iterator<Item = [String; N]>,
) -> Result<u64, ExchangeError> {
    let mut table = TableOut::begin(file, target, columns)?;
    for row in rows {
        table.add(&row)?;
    }
    table.end()
}

/// A table on its way out, row by row; no cell starts a formula.
struct TableOut<W: Write> {
    file: String,
    writer: csv::Writer<W>,
    written: u64,
}

impl<W: Write> TableOut<W> {
    fn begin(file: &str, target: W, columns: &[Column]) -> Result<Self, ExchangeError> {
        let mut writer = csv::Writer::from_writer(target);
        let header = writer.write_record(columns.iter().map(|column| column.name));
        let table = Self {
            file: file.to_owned(),
            writer,
            written: 0,
        };
        header.map_err(|error| table.failed(error))?;
        Ok(table)
    }

    fn add(&mut self, row: &[String]) -> Result<(), ExchangeError> {
        let cells = row.iter().map(|cell| guard(cell).into_owned());
        let added = self.writer.write_record(cells);
        added.map_err(|error| self.failed(error))?;
        self.written += 1;
        Ok(())
    }

    fn end(mut self) -> Result<u64, ExchangeError> {
        let flushed = self.writer.flush();
        flushed.map_err(|error| self.failed(error))?;
        Ok(self.written)
    }

    fn failed(&self, error: impl Into<io::Error>) -> ExchangeError {
        ExchangeError::Write {
            file: self.file.clone(),
            source: error.into(),
        }
    }
}

/// The cells of a yarn, in the order of [`YARN_COLUMNS`].
pub(super) fn yarn_cells(yarn: &Yarn) -> [String; 17] {
    let facts = &yarn.facts;
    let needed = |text: String| match text.is_empty() && facts.count.is_none() {
        true => UNKNOWN.to_owned(),
        false => text,
    };
    [
        yarn.maker.to_string(),
        yarn.name.to_string(),
        needed(cell(facts.length.as_ref(), cells::length, |v| {
            written::length(*v)
        })),
        needed(cell(facts.mass.as_ref(), cells::mass, |v| {
            written::mass(*v)
        })),
        cell(facts.class.as_ref(), cells::class, plain::class),
        cell(facts.blend.as_ref(), cells::blend, written::blend),
        plain::construction_text(facts).unwrap_or_default(),
        cell(facts.gauge.as_ref(), cells::gauge, written::gauge),
        cell(facts.needles.as_ref(), cells::needles, |v| {
            written::needles(*v)
        }),
        cell(facts.care.as_ref(), cells::care, |care| {
            care.name().to_owned()
        }),
        cell(facts.price.as_ref(), cells::price, written::price),
        shown(yarn.gtin.as_ref()),
        yarn.notes.clone(),
        cell(facts.count.as_ref(), cells::count, |v| written::count(*v)),
        shown(facts.plies.as_ref()),
        write_shades(&yarn.shades),
        if yarn.discontinued { "yes" } else { "no" }.to_owned(),
    ]
}

/// The cells of a row of stock, in the order of [`STOCK_COLUMNS`].
pub(super) fn stock_cells(row: &StockRow) -> [String; 9] {
    let lot = &row.lot;
    [
        row.maker.to_string(),
        row.name.to_string(),
        lot.shade.clone(),
        lot.lot.clone().unwrap_or_default(),
        cell(Some(&row.amount), cells::stock_amount, ToString::to_string),
        cell(lot.weighed.as_ref(), cells::weighed, plain::weighed),
        lot.place.clone(),
        cell(lot.price.as_ref(), cells::price, written::price),
        lot.notes.clone(),
    ]
}

fn cell<T: PartialEq>(
    value: Option<&Printed<T>>,
    read: impl Fn(&str) -> Cell<T>,
    plain: impl Fn(&T) -> String,
) -> String {
    value.map_or_else(String::new, |value| plain::text_of(value, read, plain))
}

fn shown(value: Option<&impl ToString>) -> String {
    value.map_or_else(String::new, ToString::to_string)
}

#[cfg(test)]
mod tests {
    use super::{
        super::{read_stock, read_yarns},
        *,
    };
    use crate::{
        record::{Lot, Name, YarnFacts},
        trade::Gtin,
    };
    use proptest::{option, prelude::*, sample::select};

    fn yarns_of(bytes: &[u8]) -> Vec<Yarn> {
        let rows = read_yarns("y.csv", bytes, |_| {}).unwrap();
        rows.map(|row| row.unwrap().record.unwrap()).collect()
    }

    fn stock_of(bytes: &[u8]) -> Vec<StockRow> {
        let rows = read_stock("s.csv", bytes, |_| {}).unwrap();
        rows.map(|row| row.unwrap().record.unwrap()).collect()
    }

    fn yarns_written(yarns: &[Yarn]) -> Vec<u8> {
        let mut bytes = Vec::new();
        let written = write_yarns("y.csv", &mut bytes, yarns).unwrap();
        assert_eq!(written, u64::try_from(yarns.len()).unwrap());
        bytes
    }

    fn stock_written(stock: &[StockRow]) -> Vec<u8> {
        let mut bytes = Vec::new();
        write_stock("s.csv", &mut bytes, stock).unwrap();
        bytes
    }

    /// Texts that the cell reader takes, as printed values.
    fn cell<T: Clone + std::fmt::Debug + 'static>(
        texts: &'static [&'static str],
        read: fn(&str) -> Cell<T>,
    ) -> impl Strategy<Value = Option<Printed<T>>> {
        let printed = move |text: &str| Printed::new(text, read(text).unwrap().value);
        option::of(select(texts).prop_map(printed))
    }

    fn name() -> impl Strategy<Value = Name> {
        "[-='+@\"A-Za-zéß½|;,\t]{1,12}"
            .prop_filter_map("a name", |text| Name::new("a name", &text).ok())
    }

    fn facts() -> impl Strategy<Value = YarnFacts> {
        let put_up = (
            cell(&["125 m", "137 yd", "1 1/2 yd", "0.5 km"], cells::length),
            cell(&["50 g", "1 3/4 oz", "4,5 kg"], cells::mass),
            cell(&["2/14 Nm", "20/2 Ne"], cells::count),
            option::of(1u8..20),
        );
        let kind = (
            cell(&["DK", "3", "lace"], cells::class),
            cell(&["75% wool 25% nylon", "100% cotton"], cells::blend),
            cell(&["plied", "boucle"], |text| {
                cells::construction(text).map(|read| crate::label::reading::Reading {
                    value: read.value.0,
                    notes: read.notes,
                })
            }),
        );
        let label = (
            cell(
                &["22 sts x 30 rows / 10 cm", "20-22 sts / 4 in"],
                cells::gauge,
            ),
            cell(&["4 mm", "3.25-3.75 mm"], cells::needles),
            cell(&["hand wash", "machine wash"], cells::care),
            cell(&["6.50 GBP", "12,95 EUR"], cells::price),
        );
        (put_up, kind, label).prop_map(|(put_up, kind, label)| YarnFacts {
            length: put_up.0,
            mass: put_up.1,
            count: put_up.2,
            plies: put_up.3,
            class: kind.0,
            blend: kind.1,
            construction: kind.2,
            gauge: label.0,
            needles: label.1,
            care: label.2,
            price: label.3,
        })
    }

    prop_compose! {
        fn yarn()(
            maker in name(),
            name in name(),
            facts in facts(),
            barcode in any::<bool>(),
            shades in proptest::collection::vec(r"[=a-z|\\][a-z |\\]{0,5}[a-z|\\]", 0..4),
            discontinued in any::<bool>(),
            notes in any::<String>().prop_filter("no NUL", |text| !text.contains('\0')),
        ) -> Yarn {
            let gtin = barcode.then(|| Gtin::read("2900090039035").unwrap());
            Yarn { maker, name, facts, gtin, shades, discontinued, notes }
        }
    }

    prop_compose! {
        fn stock()(
            maker in name(),
            name in name(),
            shade in "[-=' a-z]{0,8}",
            lot in option::of("[-='0-9A-Z]{1,8}"),
            amount in cell(&["3.5 skeins", "2 + 60 g", "340 g"], cells::stock_amount)
                .prop_filter_map("an amount", |amount| amount),
            weighed in cell(&["48.5 g", "48 g = 121 m"], cells::weighed),
            place in "[-='a-z ,;\"\r\n]{0,8}",
            price in cell(&["6.50 GBP"], cells::price),
            notes in "[-=' a-z\t\r\n\"]{0,8}",
        ) -> StockRow {
            StockRow { maker, name, amount, lot: Lot { shade, lot, place, weighed, price, notes } }
        }
    }

    proptest! {
        #[test]
        fn prop_yarns_written_read_back_the_same(yarns in proptest::collection::vec(yarn(), 0..4)) {
            prop_assert_eq!(yarns_of(&yarns_written(&yarns)), yarns);
        }

        #[test]
        fn prop_yarns_read_are_written_as_the_same_bytes(yarns in proptest::collection::vec(yarn(), 0..4)) {
            let bytes = yarns_written(&yarns);
            prop_assert_eq!(yarns_written(&yarns_of(&bytes)), bytes);
        }

        #[test]
        fn prop_stock_written_reads_back_the_same(stock in proptest::collection::vec(stock(), 0..4)) {
            prop_assert_eq!(stock_of(&stock_written(&stock)), stock);
        }
    }

    #[test]
    fn what_was_read_from_a_band_keeps_its_values_in_a_table() {
        for band in [
            "50g = 135m, 75% wool 25% nylon, 22 sts & 30 rows = 10 cm, 4mm (old 8), DK",
            "1 3/4 oz. (50g) 148 yd. 100% SW merino, 20-22 sts, 3.25-3.75 mm, machine wash",
            "2/14 Nm, 150g cone, 55% WO, 45% CO",
            "ca. 420 m/100 g, laine 60 acrylique 40, £6.50/50g",
            "dk/8ply, 125 metros \u{2248} 50 gr, 5.5 sts/in, 4,5 mm, 12,95 €",
            "16 oz/453,6 g; 830 yds/759 m, bulky, 24 sts and 24 rnds, stranded, in the round",
            "tex 120/2, 4 ply, 3 plied, hand wash only",
            "135 m per 50 g, 11 sts with two strands",
        ] {
            let facts = crate::label::band::read_band(band).facts;
            assert_ne!(facts, YarnFacts::default(), "{band}");
            let yarn = Yarn {
                maker: Name::new("a maker", "V").unwrap(),
                name: Name::new("a name", "O").unwrap(),
                facts,
                gtin: None,
                shades: Vec::new(),
                discontinued: false,
                notes: String::new(),
            };
            let again = yarns_of(&yarns_written(std::slice::from_ref(&yarn))).remove(0);
            assert_eq!(values(&again.facts), values(&yarn.facts), "{band}");
        }
    }

    /// The values without the texts beside them.
    fn values(facts: &YarnFacts) -> impl PartialEq + std::fmt::Debug + use<> {
        fn of<T: Clone>(printed: &Option<Printed<T>>) -> Option<T> {
            printed.as_ref().map(|printed| printed.value.clone())
        }
        (
            (of(&facts.length), of(&facts.mass), of(&facts.count)),
            (of(&facts.class), of(&facts.blend), of(&facts.construction)),
            (of(&facts.gauge), of(&facts.needles), of(&facts.care)),
            (of(&facts.price), facts.plies),
        )
    }

    #[test]
    fn no_cell_of_a_written_table_starts_a_formula() {
        let text = "maker,name,count,notes\n=A1,+B,2/14 Nm,@x\n";
        let bytes = yarns_written(&yarns_of(text.as_bytes()));
        let written = String::from_utf8(bytes).unwrap();
        assert!(
            written.lines().nth(1).unwrap().starts_with("'=A1,'+B,"),
            "{written}"
        );
        assert!(written.contains(",'@x,"), "{written}");
    }

    #[test]
    fn a_full_disk_is_an_error_and_not_a_short_file() {
        let yarns = yarns_of(b"maker,name,count\nV,O,2/14 Nm\n");
        let mut small = [0_u8; 20];
        let error = write_yarns("y.csv", small.as_mut_slice(), &yarns).unwrap_err();
        assert!(matches!(error, ExchangeError::Write { .. }));
    }
}

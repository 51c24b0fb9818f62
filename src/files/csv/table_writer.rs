//! Tables written, row by row; no cell starts a formula.

use super::{cell_text::guard, table_reader::TableRecord};
use crate::{
    files::{
        FileError,
        value::{Value, text_of},
        workbook::{WorkbookWriter, is_workbook},
    },
    record::Printed,
};
use std::{
    io::{self, Write},
    marker::PhantomData,
};

/// A table of records that is written one record at a time: as a workbook where its file
/// is called so, else as CSV.
pub struct TableWriter<W: Write, T> {
    file: String,
    rows: Rows<W>,
    written: u64,
    of: PhantomData<fn(&T)>,
}

/// What rows are written to.
enum Rows<W: Write> {
    Csv(Box<csv::Writer<W>>),
    Workbook(Box<WorkbookWriter<W>>),
}

impl<W: Write> Rows<W> {
    fn add(&mut self, file: &str, cells: &[String]) -> Result<(), FileError> {
        match self {
            Self::Csv(writer) => write_row(writer, cells).map_err(|error| failed(file, error)),
            Self::Workbook(book) => book.row(file, cells),
        }
    }
}

impl<W: Write, T: TableRecord> TableWriter<W, T> {
    /// Begins the table. `file` is what messages call it.
    pub fn new(file: &str, target: W) -> Result<Self, FileError> {
        let mut rows = match is_workbook(file) {
            true => Rows::Workbook(Box::new(
                WorkbookWriter::new(target).map_err(|e| failed(file, e))?,
            )),
            false => Rows::Csv(Box::new(csv::Writer::from_writer(target))),
        };
        let header = T::COLUMNS.iter().map(|column| column.name.to_owned());
        rows.add(file, &header.collect::<Vec<_>>())?;
        Ok(Self {
            file: file.to_owned(),
            rows,
            written: 0,
            of: PhantomData,
        })
    }

    /// Writes a record.
    pub fn add(&mut self, record: &T) -> Result<(), FileError> {
        self.rows.add(&self.file, &record.texts())?;
        self.written += 1;
        Ok(())
    }

    /// Ends the table and gives how many records it holds.
    pub fn finish(self) -> Result<u64, FileError> {
        let ended = match self.rows {
            Rows::Csv(mut writer) => writer.flush(),
            Rows::Workbook(book) => book.finish(),
        };
        ended.map_err(|error| failed(&self.file, error))?;
        Ok(self.written)
    }
}

/// Writes a table of records and gives how many it wrote. `file` is what messages
/// call it.
pub fn write_records<'r, T: TableRecord + 'r>(
    file: &str,
    target: impl Write,
    records: impl IntoIterator<Item = &'r T>,
) -> Result<u64, FileError> {
    let mut table = TableWriter::new(file, target)?;
    for record in records {
        table.add(record)?;
    }
    table.finish()
}

/// Writes any head and rows. `file` is what messages call it.
pub fn write_table(
    file: &str,
    target: impl Write,
    columns: &[String],
    rows: &[Vec<String>],
) -> Result<(), FileError> {
    let write = || -> csv::Result<()> {
        let mut writer = csv::Writer::from_writer(target);
        write_row(&mut writer, columns)?;
        for row in rows {
            write_row(&mut writer, row)?;
        }
        Ok(writer.flush()?)
    };
    write().map_err(|error| failed(file, error))
}

fn write_row(writer: &mut csv::Writer<impl Write>, cells: &[String]) -> csv::Result<()> {
    writer.write_record(cells.iter().map(|cell| guard(cell).into_owned()))
}

fn failed(file: &str, error: impl Into<io::Error>) -> FileError {
    FileError::Write {
        file: file.to_owned(),
        source: error.into(),
    }
}

/// The text of a value; empty for none.
pub(super) fn cell<T: Value>(value: Option<&Printed<T>>) -> String {
    value.map_or_else(String::new, text_of)
}

#[cfg(test)]
mod tests {
    use super::{
        super::{StockRow, read_table},
        *,
    };
    use crate::{
        label::cells,
        record::{Lot, Name, Yarn, YarnFacts},
        trade::Gtin,
    };
    use proptest::{option, prelude::*, sample::select};

    fn yarns_of(bytes: &[u8]) -> Vec<Yarn> {
        let rows = read_table("y.csv", bytes, |_| {}).unwrap();
        rows.map(|row| row.unwrap().record.unwrap()).collect()
    }

    fn stock_of(bytes: &[u8]) -> Vec<StockRow> {
        let rows = read_table("s.csv", bytes, |_| {}).unwrap();
        rows.map(|row| row.unwrap().record.unwrap()).collect()
    }

    fn yarns_written(yarns: &[Yarn]) -> Vec<u8> {
        let mut bytes = Vec::new();
        let written = write_records("y.csv", &mut bytes, yarns).unwrap();
        assert_eq!(written, u64::try_from(yarns.len()).unwrap());
        bytes
    }

    fn stock_written(stock: &[StockRow]) -> Vec<u8> {
        let mut bytes = Vec::new();
        write_records("s.csv", &mut bytes, stock).unwrap();
        bytes
    }

    /// Texts that the cell reader takes, as printed values.
    fn cell<T: Clone + std::fmt::Debug + 'static>(
        texts: &'static [&'static str],
        read: fn(&str) -> cells::Cell<T>,
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
            cell(
                &["377.4 m/100 g (368.9 to 386.1)", "2/14 Nm", "20/2 Ne"],
                cells::count,
            ),
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
            together: None,
        })
    }

    prop_compose! {
        fn yarn()(
            maker in name(),
            name in name(),
            facts in facts(),
            barcodes in 0_usize..4,
            low in option::of(1_u32..=1000),
            shades in proptest::collection::vec(r"[=a-z|\\][a-z |\\]{0,5}[a-z|\\]", 0..4),
            discontinued in any::<bool>(),
            notes in any::<String>().prop_filter("no NUL", |text| !text.contains('\0')),
        ) -> Yarn {
            let all = ["2900090039035", "96385074", "036000291452"];
            let mut gtins = all.into_iter().take(barcodes).map(|digits| Gtin::read(digits).unwrap());
            let (gtin, more_gtins) = (gtins.next(), gtins.collect());
            Yarn { maker, name, facts, gtin, more_gtins, low, shades, discontinued, notes }
        }
    }

    prop_compose! {
        fn stock()(
            maker in name(),
            name in name(),
            shade in "[-=' a-z]{0,8}",
            colour in cell(&["navy", "Dark Sea-Green", "2F6F8F", "#fc0", "grey"], cells::colour),
            lot in option::of("[-='0-9A-Z]{1,8}"),
            amount in cell(&["3.5 skeins", "2 + 60 g", "340 g"], cells::stock_amount)
                .prop_filter_map("an amount", |amount| amount),
            weighed in cell(&["48.5 g", "48 g = 121 m"], cells::weighed),
            place in "[-='a-z ,;\"\r\n]{0,8}",
            price in cell(&["6.50 GBP"], cells::price),
            notes in "[-=' a-z\t\r\n\"]{0,8}",
        ) -> StockRow {
            StockRow { maker, name, amount, lot: Lot { shade, colour, lot, place, weighed, price, notes } }
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
                more_gtins: Vec::new(),
                low: None,
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
        let error = write_records("y.csv", small.as_mut_slice(), &yarns).unwrap_err();
        assert!(matches!(error, FileError::Write { .. }));
    }

    #[test]
    fn cells_are_quoted_where_they_must_be_and_formulas_are_guarded() {
        let mut text = Vec::new();
        let columns = ["yarn", "skeins S"].map(str::to_owned);
        let rows = vec![["=1+1, a", "4"].map(str::to_owned).to_vec()];
        write_table("x.csv", &mut text, &columns, &rows).unwrap();
        assert_eq!(
            String::from_utf8(text).unwrap(),
            "yarn,skeins S\n\"'=1+1, a\",4\n"
        );
    }
}

//! `stock.csv` and `swatches.csv`, and the fields of a lot and of a swatch.

use super::{
    STOCK_COLUMNS, SWATCH_COLUMNS,
    cell_text::{read_list, write_list},
    columns::Column,
    field_reader::FieldReader,
    table_reader::TableRecord,
    table_writer::cell,
};
use crate::{
    label::cells::{self, written},
    measure::{Interval, NeedleSize},
    record::{Lot, Name, Printed, RecordError, StatedGauge, StockAmount, Swatch},
};

/// What is there of one lot of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct StockRow {
    /// Who makes the yarn.
    pub maker: Name,
    /// What the yarn is called.
    pub name: Name,
    /// The lot.
    pub lot: Lot,
    /// What is there of it.
    pub amount: Printed<StockAmount>,
}

impl TableRecord for StockRow {
    const COLUMNS: &'static [Column] = STOCK_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (maker, name) = (fields.name("maker"), fields.name("name"));
        let amount = read_amount(fields);
        let lot = read_lot(fields);
        Some(Self {
            maker: maker?,
            name: name?,
            lot,
            amount: amount?,
        })
    }

    fn texts(&self) -> Vec<String> {
        let lot = &self.lot;
        vec![
            self.maker.to_string(),
            self.name.to_string(),
            lot.shade.clone(),
            lot.lot.as_deref().unwrap_or("").to_owned(),
            cell(Some(&self.amount)),
            cell(lot.weighed.as_ref()),
            lot.place.clone(),
            cell(lot.price.as_ref()),
            lot.notes.clone(),
            cell(lot.colour.as_ref()),
        ]
    }
}

fn read_amount(fields: &mut FieldReader<'_>) -> Option<Printed<StockAmount>> {
    if !fields.is_given("amount") {
        let allowed = "write what you have, such as `3.5 skeins`, `2 + 60 g` or `340 g`; weigh it if you do not know";
        fields.refuse("amount", "it is empty", allowed);
    }
    fields.printed("amount")
}

fn read_lot(fields: &mut FieldReader<'_>) -> Lot {
    let text = |column| fields.text(column).to_owned();
    let (shade, lot) = (text("shade"), text("lot"));
    let (place, notes) = (text("place"), text("notes"));
    Lot {
        shade,
        colour: fields.printed("colour"),
        lot: fields.is_given("lot").then_some(lot),
        place,
        weighed: fields.printed("weighed"),
        price: fields.printed("price"),
        notes,
    }
}

/// A swatch and the yarn it is of.
#[derive(Debug, Clone, PartialEq)]
pub struct SwatchRow {
    /// Who makes the yarn.
    pub maker: Name,
    /// What the yarn is called.
    pub name: Name,
    /// The swatch, without the yarns that were held together with its own.
    pub swatch: Swatch,
    /// These, as `maker, name`.
    pub held_with: Vec<String>,
}

impl TableRecord for SwatchRow {
    const COLUMNS: &'static [Column] = SWATCH_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (maker, name) = (fields.name("maker"), fields.name("name"));
        let swatch = read_swatch(fields);
        let held_with = read_list(fields.text("held with"));
        let swatch = swatch.filter(|swatch| can_be_held(fields, swatch, &held_with));
        Some(Self {
            maker: maker?,
            name: name?,
            swatch: swatch?,
            held_with,
        })
    }

    fn texts(&self) -> Vec<String> {
        let names = [self.maker.to_string(), self.name.to_string()];
        names
            .into_iter()
            .chain(swatch_texts(&self.swatch))
            .chain([write_list(&self.held_with)])
            .collect()
    }
}

/// Whether a swatch may be of its yarn and so many others.
fn can_be_held(fields: &mut FieldReader<'_>, swatch: &Swatch, held_with: &[String]) -> bool {
    let checked = swatch.check_strands(held_with.len());
    if let Err(error) = &checked {
        let allowed = "write one or two yarns, with | between, as in `Vorrelith, Hathrel DK`";
        fields.refuse("held with", error.to_string(), allowed);
    }
    checked.is_ok()
}

fn read_swatch(fields: &mut FieldReader<'_>) -> Option<Swatch> {
    let needle = read_needle(fields);
    let gauges = [gauge(fields, "before"), gauge(fields, "after")];
    let day = fields.value("day", cells::day);
    let [before, after] = gauges;
    let swatch = Swatch {
        measured_on: day.map_or_else(String::new, |day| day.value),
        notes: fields.text("notes").to_owned(),
        ..measured(fields, needle?, before?, after?)?
    };
    Some(swatch)
}

fn read_needle(fields: &mut FieldReader<'_>) -> Option<NeedleSize> {
    if !fields.is_given("needle") {
        let allowed = "write its size, as in `4 mm` or `US 6`";
        fields.refuse("needle", "it is empty", allowed);
    }
    Some(fields.printed("needle")?.value)
}

/// A gauge that may be missing; `None` where its cell is bad.
fn gauge(fields: &mut FieldReader<'_>, column: &'static str) -> Option<Option<StatedGauge>> {
    let read = fields.printed(column).map(|cell| cell.value);
    (read.is_some() || !fields.is_given(column)).then_some(read)
}

fn measured(
    fields: &mut FieldReader<'_>,
    needle: NeedleSize,
    before: Option<StatedGauge>,
    after: Option<StatedGauge>,
) -> Option<Swatch> {
    let error = match Swatch::measured(needle, before, after) {
        Ok(swatch) => return Some(swatch),
        Err(error) => error,
    };
    let column = match &error {
        RecordError::OverNoLength { when } | RecordError::WashedOtherwise { when, .. } => when,
        RecordError::StatedAfterOnly => "after",
        _ => "before",
    };
    let allowed = "as in `21 sts x 28 rows / 10 cm, garter, flat`";
    fields.refuse(column, error.to_string(), allowed);
    None
}

/// The cells of a swatch, from its needle to its notes, in the order of [`SWATCH_COLUMNS`].
pub fn swatch_texts(swatch: &Swatch) -> [String; 5] {
    let before = swatch.before.as_ref().map(|before| StatedGauge {
        washed: None,
        ..before.clone()
    });
    [
        written::needles(Interval::one(swatch.needle)),
        before.as_ref().map_or_else(String::new, written::gauge),
        swatch
            .after
            .as_ref()
            .map_or_else(String::new, written::counts),
        swatch.measured_on.clone(),
        swatch.notes.clone(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::csv::{Row, read_table};

    fn row(cells: &str) -> Row<StockRow> {
        let text = format!("maker,name,shade,lot,amount,weighed,place,price,notes\n{cells}\n");
        let mut rows = read_table("stock.csv", text.as_bytes(), |_| {}).unwrap();
        rows.next().unwrap().unwrap()
    }

    fn stock(cells: &str) -> StockRow {
        row(cells).record.unwrap()
    }

    #[test]
    fn a_lot_is_read_with_all_that_is_said_of_it() {
        let row = stock("V,O,moss,A417,2 + 60 g,48.5 g = 121 m,blue trunk,6.50 GBP,gift");
        let lot = row.lot;
        assert_eq!(
            (lot.shade.as_str(), lot.lot.as_deref()),
            ("moss", Some("A417"))
        );
        let weighed = lot.weighed.unwrap().value;
        assert_eq!(weighed.0.as_grams(), 48.5);
        assert_eq!(weighed.1.unwrap().as_metres(), 121.0);
        assert_eq!(
            (row.amount.value.skeins(), row.amount.value.grams()),
            (2.0, 60.0)
        );
        assert_eq!(
            (lot.place.as_str(), lot.notes.as_str()),
            ("blue trunk", "gift")
        );
    }

    #[test]
    fn a_band_without_a_lot_has_none() {
        for cells in ["V,O,,,340 g,,,,", "V,O,,unknown,340 g,,,,"] {
            assert_eq!(stock(cells).lot.lot, None);
        }
    }

    #[test]
    fn an_amount_must_be_given() {
        for cells in ["V,O,,,,,,,", "V,O,,,unknown,,,,"] {
            let faults = row(cells).record.unwrap_err();
            assert_eq!(faults.len(), 1);
            assert_eq!(faults[0].field, "amount");
            assert!(faults[0].allowed.contains("3.5 skeins"));
        }
    }
}

#[cfg(test)]
mod swatches_tests {
    use super::{
        super::{Row, read_table, write_records},
        *,
    };
    use proptest::{option, prelude::*, sample::select};

    const HEADER: &str = "maker,name,needle,before,after,day,notes";

    fn rows(text: &str) -> Vec<Row<SwatchRow>> {
        let rows = read_table("w.csv", text.as_bytes(), |_| {}).unwrap();
        rows.map(Result::unwrap).collect()
    }

    fn row(cells: &str) -> Row<SwatchRow> {
        rows(&format!("{HEADER}\n{cells}\n")).remove(0)
    }

    fn faults(cells: &str) -> Vec<(String, String)> {
        let faults = row(cells).record.unwrap_err().into_iter();
        faults.map(|fault| (fault.field, fault.why)).collect()
    }

    fn written(swatches: &[SwatchRow]) -> String {
        let mut bytes = Vec::new();
        write_records("w.csv", &mut bytes, swatches).unwrap();
        String::from_utf8(bytes).unwrap()
    }

    #[test]
    fn a_swatch_is_read_with_all_that_is_said_of_it() {
        let row = row(
            "V,O,US 6,\"21 sts x 28 rows / 10 cm, garter, flat\",20 sts / 4 in,2026-03-01,grew",
        );
        let swatch = row.record.unwrap().swatch;
        assert_eq!(swatch.needle.as_millimetres(), 4.0);
        let before = swatch.before.unwrap();
        assert_eq!(
            (before.washed, before.stitch.unwrap().name()),
            (Some(false), "garter")
        );
        assert_eq!(swatch.after.unwrap().stitches().low(), 20.0);
        assert_eq!(
            (swatch.measured_on.as_str(), swatch.notes.as_str()),
            ("2026-03-01", "grew")
        );
    }

    #[test]
    fn the_yarns_that_were_held_with_it_are_read() {
        let held = |before: &str, held_with: &str| {
            let head = "maker,name,needle,before,held with";
            let text = format!("{head}\nV,O,4 mm,\"{before}\",\"{held_with}\"\n");
            rows(&text).remove(0).record
        };
        let read = held("20 sts / 10 cm", r"Q, Dune | Q, a\|b").unwrap();
        assert_eq!(read.held_with, ["Q, Dune", "Q, a|b"]);
        for (before, held_with, why) in [
            ("20 sts / 10 cm", "a|b|c", "at most 3"),
            (
                "20 sts / 10 cm, 2 strands",
                "a|b",
                "says 2 strands, and 3 yarns",
            ),
        ] {
            let fault = held(before, held_with).unwrap_err().remove(0);
            assert_eq!(fault.field, "held with");
            assert!(fault.why.contains(why), "{}", fault.why);
        }
    }

    #[test]
    fn what_is_missing_or_wrong_is_told_at_its_cell() {
        for (cells, field, why) in [
            ("V,O,,20 sts / 10 cm,,,", "needle", "it is empty"),
            ("V,O,unknown,20 sts / 10 cm,,,", "needle", "it is empty"),
            ("V,O,4 mm,,,,", "before", "needs the gauge"),
            (
                "V,O,4 mm,20 sts,,,",
                "before",
                "does not say over what length",
            ),
            (
                "V,O,4 mm,,20 sts,,",
                "after",
                "does not say over what length",
            ),
            ("V,O,4 mm,tight,,,", "before", "gauge"),
            (
                "V,O,4 mm,,\"20 sts / 10 cm, garter\",,",
                "after",
                "count for both gauges",
            ),
            ("V,O,4 mm,20 sts / 10 cm,,last week,", "day", "day"),
            ("V,O,4 mm,20 sts / 10 cm,,2026-02-30,", "day", "day"),
        ] {
            let told = faults(cells);
            assert_eq!(told.len(), 1, "{cells}: {told:?}");
            assert_eq!(told[0].0, field, "{cells}: {told:?}");
            assert!(told[0].1.contains(why), "{cells}: {told:?}");
        }
        assert_eq!(faults(",,x,y,z,w,").len(), 6);
    }

    fn gauge() -> impl Strategy<Value = Option<StatedGauge>> {
        let texts = [
            "21 sts x 28 rows / 10 cm",
            "20-22 sts / 4 in",
            "5.5 sts / 1 in, garter, flat",
            "22 sts x 30.5 rows / 10 cm, moss stitch, in the round, 2 strands",
        ];
        option::of(select(texts.to_vec()).prop_map(|text| cells::gauge(text).unwrap().value))
    }

    fn name() -> impl Strategy<Value = Name> {
        "[-='+@\"A-Za-zéß|;,\t]{1,12}"
            .prop_filter_map("a name", |text| Name::new("a name", &text).ok())
    }

    prop_compose! {
        fn swatch()(
            maker in name(),
            name in name(),
            needle in 0.5..60.0_f64,
            before in gauge(),
            after in gauge(),
            day in select(vec!["", "2026-03-01", "1999-12-31"]),
            notes in any::<String>().prop_filter("no NUL", |text| !text.contains('\0')),
            held_with in proptest::collection::vec(name(), 0..3),
        ) -> Option<SwatchRow> {
            let needle = NeedleSize::millimetres(needle).unwrap();
            let after = after.map(|after| StatedGauge::bare(after.gauge));
            let swatch = Swatch::measured(needle, before, after).ok()?;
            let swatch = Swatch { measured_on: day.to_owned(), notes, ..swatch };
            swatch.check_strands(held_with.len()).ok()?;
            let held_with = held_with.iter().map(Name::to_string).collect();
            Some(SwatchRow { maker, name, swatch, held_with })
        }
    }

    proptest! {
        #[test]
        fn prop_swatches_written_read_back_the_same(swatches in proptest::collection::vec(swatch(), 0..4)) {
            let swatches: Vec<SwatchRow> = swatches.into_iter().flatten().collect();
            let text = written(&swatches);
            let again: Vec<SwatchRow> = rows(&text).into_iter().map(|row| row.record.unwrap()).collect();
            prop_assert_eq!(&again, &swatches);
            prop_assert_eq!(written(&again), text);
        }
    }

    #[test]
    fn no_cell_of_a_written_table_starts_a_formula() {
        let row = row("=A1,+B,4 mm,20 sts / 10 cm,,,@x").record.unwrap();
        let text = written(&[row]);
        assert!(
            text.lines().nth(1).unwrap().starts_with("'=A1,'+B,"),
            "{text}"
        );
        assert!(text.contains(",'@x"), "{text}");
    }
}

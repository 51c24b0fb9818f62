//! `projects.csv` and `reservations.csv`: what someone means to make, and what of the
//! stash is promised to whom. A project names its pattern and the yarns that were chosen
//! for it; its place among the others is that of its row.

use super::{
    PROJECT_COLUMNS, RESERVATION_COLUMNS,
    cell_text::{escape_parts, split_parts},
    columns::Column,
    field_reader::FieldReader,
    table_reader::TableRecord,
    table_writer::cell,
};
use crate::{
    label::cells::{self, Cell},
    record::{Name, Printed, StockAmount},
    words::fold,
};

/// A project, with its pattern and yarns by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProjectRow {
    /// What people call it.
    pub name: Name,
    /// The pattern.
    pub pattern: Name,
    /// The size, by its name in the pattern.
    pub size: String,
    /// Fibres to avoid, as typed.
    pub without: String,
    /// The only fibres, as typed.
    pub only: String,
    /// How it will be washed, as typed.
    pub care: String,
    /// The most to spend on it, as typed.
    pub max_cost: String,
    /// Whether nothing is to be bought for it.
    pub enough: bool,
    /// Whether each of its yarns must be of one dye lot.
    pub one_lot: bool,
    /// Words of a shade, as typed.
    pub shade: String,
    /// Words of a place, as typed.
    pub place: String,
    /// Yarns that were chosen by hand.
    pub yarns: Vec<ChosenYarn>,
}

/// A yarn that was chosen by hand for a role.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChosenYarn {
    /// Key of the role.
    pub role: Name,
    /// The yarn, as `maker, name`.
    pub yarn: String,
    /// Only this shade.
    pub shade: Option<String>,
}

impl ChosenYarn {
    fn parts(&self) -> Vec<&str> {
        let mut parts = vec![self.role.as_str(), &self.yarn];
        parts.extend(self.shade.as_deref());
        parts
    }
}

impl TableRecord for ProjectRow {
    const COLUMNS: &'static [Column] = PROJECT_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (name, pattern) = (fields.name("name"), fields.name("pattern"));
        let without = typed(fields, "without", cells::fibre_groups);
        let only = typed(fields, "only", cells::fibre_groups);
        let care = typed(fields, "care", cells::care);
        let max_cost = typed(fields, "max cost", cells::money);
        let enough = fields.value("enough", cells::yes_no);
        let one_lot = fields.value("one lot", cells::yes_no);
        let yarns = read_yarns(fields);
        Some(Self {
            name: name?,
            pattern: pattern?,
            size: fields.text("size").to_owned(),
            without,
            only,
            care,
            max_cost,
            enough: enough.is_some_and(|cell| cell.value),
            one_lot: one_lot.is_some_and(|cell| cell.value),
            shade: fields.text("shade").to_owned(),
            place: fields.text("place").to_owned(),
            yarns: yarns?,
        })
    }

    fn texts(&self) -> Vec<String> {
        let yes_no = |yes| if yes { "yes" } else { "no" }.to_owned();
        vec![
            self.name.to_string(),
            self.pattern.to_string(),
            self.size.clone(),
            self.without.clone(),
            self.only.clone(),
            self.care.clone(),
            self.max_cost.clone(),
            yes_no(self.enough),
            yes_no(self.one_lot),
            self.shade.clone(),
            self.place.clone(),
            write_yarns(&self.yarns),
        ]
    }
}

/// A text that can be read, as it was typed: that is how a project holds it.
fn typed<T: Clone + 'static>(
    fields: &mut FieldReader<'_>,
    column: &'static str,
    read: fn(&str) -> Cell<T>,
) -> String {
    if !fields.is_given(column) {
        return String::new();
    }
    fields.value(column, read);
    fields.text(column).to_owned()
}

/// `MC=Zellandine, Orrin DK:moss|CC=Zellandine, Orrin DK`.
fn read_yarns(fields: &mut FieldReader<'_>) -> Option<Vec<ChosenYarn>> {
    let mut found: Vec<ChosenYarn> = Vec::new();
    for text in split_parts(fields.text("yarns")) {
        let chosen = match text.as_slice() {
            [role, yarn] => chosen(role, yarn, None),
            [role, yarn, shade] => chosen(role, yarn, Some(shade)),
            _ => None,
        };
        let Some(chosen) = chosen else {
            let allowed = "write the key of the pattern's yarn and a yarn, as in `MC=Zellandine, Orrin DK`, or with a shade `MC=Zellandine, Orrin DK:moss`; several with | between";
            fields.refuse("yarns", "a part names no yarn for a key", allowed);
            return None;
        };
        let is_same = |known: &ChosenYarn| fold(known.role.as_str()) == fold(chosen.role.as_str());
        if found.iter().any(is_same) {
            let why = format!("{} has two yarns", chosen.role);
            fields.refuse("yarns", why, "leave one of them out");
            return None;
        }
        found.push(chosen);
    }
    Some(found)
}

fn chosen(role: &str, yarn: &str, shade: Option<&String>) -> Option<ChosenYarn> {
    Some(ChosenYarn {
        role: Name::new("yarns", role).ok()?,
        yarn: Some(yarn.to_owned()).filter(|yarn| !yarn.is_empty())?,
        shade: shade.cloned(),
    })
}

fn write_yarns(yarns: &[ChosenYarn]) -> String {
    escape_parts(yarns.iter().map(ChosenYarn::parts))
}

/// What of a lot is reserved for one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct ReservationRow {
    /// Who makes the yarn.
    pub maker: Name,
    /// What the yarn is called.
    pub name: Name,
    /// The shade of the lot.
    pub shade: String,
    /// Its dye lot.
    pub lot: Option<String>,
    /// Where it lies.
    pub place: String,
    /// How much of it is reserved.
    pub amount: Printed<StockAmount>,
    /// What for.
    pub what_for: String,
}

impl TableRecord for ReservationRow {
    const COLUMNS: &'static [Column] = RESERVATION_COLUMNS;

    fn read(fields: &mut FieldReader<'_>) -> Option<Self> {
        let (maker, name) = (fields.name("maker"), fields.name("name"));
        let amount = reserved(fields);
        let text = |column| fields.text(column).to_owned();
        let (shade, lot, place) = (text("shade"), text("lot"), text("place"));
        Some(Self {
            maker: maker?,
            name: name?,
            shade,
            lot: fields.is_given("lot").then_some(lot),
            place,
            amount: amount?,
            what_for: text("for"),
        })
    }

    fn texts(&self) -> Vec<String> {
        vec![
            self.maker.to_string(),
            self.name.to_string(),
            self.shade.clone(),
            self.lot.as_deref().unwrap_or("").to_owned(),
            self.place.clone(),
            cell(Some(&self.amount)),
            self.what_for.clone(),
        ]
    }
}

fn reserved(fields: &mut FieldReader<'_>) -> Option<Printed<StockAmount>> {
    const ALLOWED: &str = "write how much is reserved, such as `2 skeins` or `60 g`";
    if !fields.is_given("amount") {
        fields.refuse("amount", "it is empty", ALLOWED);
        return None;
    }
    let amount = fields.printed::<StockAmount>("amount")?;
    if amount.value.is_nothing() {
        fields.refuse("amount", "it reserves nothing", ALLOWED);
        return None;
    }
    Some(amount)
}

#[cfg(test)]
mod tests {
    use super::{
        super::{Row, read_table, write_records},
        *,
    };
    use proptest::{option, prelude::*, sample::select};

    fn rows<T: TableRecord>(text: &str) -> Vec<Row<T>> {
        let rows = read_table("p.csv", text.as_bytes(), |_| {}).unwrap();
        rows.map(Result::unwrap).collect()
    }

    fn yarns(cell: &str) -> Result<Vec<ChosenYarn>, String> {
        let text = format!("name,pattern,yarns\nHat,Bollard,\"{cell}\"\n");
        let row = rows::<ProjectRow>(&text).remove(0);
        row.record
            .map(|row| row.yarns)
            .map_err(|faults| faults[0].why.clone())
    }

    fn chose(role: &str, yarn: &str, shade: Option<&str>) -> ChosenYarn {
        ChosenYarn {
            role: Name::new("yarns", role).unwrap(),
            yarn: yarn.to_owned(),
            shade: shade.map(str::to_owned),
        }
    }

    #[test]
    fn yarns_are_chosen_by_the_key_of_the_pattern_and_may_name_a_shade() {
        assert_eq!(yarns(""), Ok(Vec::new()));
        let both = [
            chose("MC", "Quay, Dune", Some("moss")),
            chose("CC", "Quay, Fen: x", None),
        ];
        let cell = r"MC = Quay, Dune : moss | CC=Quay, Fen\: x";
        assert_eq!(yarns(cell), Ok(both.to_vec()));
        for (cell, why) in [
            ("Quay, Dune", "names no yarn for a key"),
            ("MC=", "names no yarn for a key"),
            ("=Quay, Dune", "names no yarn for a key"),
            ("MC=a|mc=b", "mc has two yarns"),
            ("MC=a:b:c", "names no yarn for a key"),
        ] {
            assert!(yarns(cell).unwrap_err().contains(why), "{cell}");
        }
    }

    #[test]
    fn what_a_plan_could_not_read_is_refused_at_its_cell() {
        let head = "name,pattern,without,only,care,max_cost,enough,one_lot";
        let text = format!("{head}\nHat,Bollard,quux,quux,quux,quux,quux,quux\n");
        let faults = rows::<ProjectRow>(&text).remove(0).record.unwrap_err();
        let fields: Vec<&str> = faults.iter().map(|fault| fault.field.as_str()).collect();
        assert_eq!(
            fields,
            ["without", "only", "care", "max cost", "enough", "one lot"]
        );
    }

    #[test]
    fn nothing_is_never_reserved() {
        for amount in ["", "unknown", "0 skeins"] {
            let text = format!("maker,name,amount,for\nV,O,{amount},a hat\n");
            let faults = rows::<ReservationRow>(&text).remove(0).record.unwrap_err();
            assert_eq!((faults.len(), faults[0].field.as_str()), (1, "amount"));
        }
    }

    fn text() -> impl Strategy<Value = String> {
        any::<String>().prop_filter("no NUL", |text| !text.contains('\0'))
    }

    fn name() -> impl Strategy<Value = Name> {
        "[-='+@:|\\\\\"A-Za-zéß;,\t ]{1,12}"
            .prop_filter_map("a name", |text| Name::new("a name", &text).ok())
    }

    prop_compose! {
        fn project()(
            (name, pattern) in (name(), name()),
            (size, shade, place) in (text(), text(), text()),
            without in select(vec!["", "wool, mohair", "latex"]),
            max_cost in select(vec!["", "40 EUR", "12,50 GBP"]),
            (enough, one_lot) in any::<(bool, bool)>(),
            yarns in proptest::collection::vec((name(), name(), option::of(text())), 0..4),
        ) -> ProjectRow {
            let mut chosen: Vec<ChosenYarn> = Vec::new();
            for (role, yarn, shade) in yarns {
                let is_same = |known: &ChosenYarn| fold(known.role.as_str()) == fold(role.as_str());
                if !chosen.iter().any(is_same) {
                    chosen.push(ChosenYarn { role, yarn: yarn.to_string(), shade });
                }
            }
            ProjectRow {
                name, pattern, size, shade, place, enough, one_lot,
                without: without.to_owned(),
                only: String::new(),
                care: String::new(),
                max_cost: max_cost.to_owned(),
                yarns: chosen,
            }
        }
    }

    proptest! {
        #[test]
        fn prop_projects_written_read_back_the_same(projects in proptest::collection::vec(project(), 0..4)) {
            let mut bytes = Vec::new();
            write_records("p.csv", &mut bytes, &projects).unwrap();
            let written = String::from_utf8(bytes).unwrap();
            let again = rows::<ProjectRow>(&written).into_iter().map(|row| row.record.unwrap());
            prop_assert_eq!(again.collect::<Vec<_>>(), projects);
        }
    }
}

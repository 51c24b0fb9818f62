//! Sizes, yarn roles and needs of patterns.

use super::{
    Reader, StoreError, Writer,
    cells::{Cells, Flaw, Kept, Taken},
    facts,
    table::Table,
};
use crate::record::{Name, Need, Pattern, PatternYarn, Printed, Size};
use std::sync::LazyLock;

const SIZE: Table = Table {
    name: "pattern_size",
    columns: &[
        "name",
        "width_text",
        "width_m",
        "height_text",
        "height_m",
        "cast_on",
        "row_count",
        "pattern",
        "place",
    ],
};

const ROLE: Table = Table {
    name: "pattern_yarn",
    columns: &["key", "called", "strands", "id", "pattern", "place"],
};

const NEED: Table = Table {
    name: "pattern_need",
    columns: &[
        "text",
        "kind",
        "low",
        "high",
        "skein_m",
        "pattern_yarn",
        "place",
    ],
};

static ADD_SIZE: LazyLock<String> = LazyLock::new(|| SIZE.insert());
static ADD_ROLE: LazyLock<String> = LazyLock::new(|| ROLE.insert());
static ADD_NEED: LazyLock<String> = LazyLock::new(|| NEED.insert());
static SIZES: LazyLock<String> = LazyLock::new(|| {
    let columns = SIZE.columns();
    format!("SELECT pattern, {columns} FROM pattern_size WHERE pattern = ? ORDER BY place")
});
static ROLES: LazyLock<String> = LazyLock::new(|| {
    let columns = facts::columns();
    format!(
        "SELECT pattern_yarn.id, key, called, strands, {columns} \
         FROM pattern_yarn JOIN facts ON facts.id = pattern_yarn.id \
         WHERE pattern = ? ORDER BY place"
    )
});
static NEEDS: LazyLock<String> = LazyLock::new(|| {
    let columns = NEED.columns();
    format!(
        "SELECT pattern_yarn, {columns} FROM pattern_need WHERE pattern_yarn = ? ORDER BY place"
    )
});

/// The role of a row of [`ROLES`] with its number, its needs still to come.
fn take_role(row: &mut Taken<'_, '_>) -> Result<(i64, PatternYarn), Flaw> {
    let id = row.cell()?;
    let (key, called, strands): (Name, Option<String>, u8) =
        (row.part()?, row.cell()?, row.cell()?);
    let role = PatternYarn {
        key,
        called,
        strands,
        reference: row.part()?,
        needs: Vec::new(),
    };
    Ok((id, role))
}

/// A part behind the number of what it belongs to.
fn take_part<T: Kept>(row: &mut Taken<'_, '_>) -> Result<T, Flaw> {
    row.cell::<i64>()?;
    row.part()
}

impl Reader<'_> {
    /// The sizes of a pattern, in its order.
    pub(super) fn sizes(&self, pattern: i64) -> Result<Vec<Size>, StoreError> {
        self.db.all("pattern_size", &SIZES, [pattern], take_part)
    }

    /// The yarn roles of a pattern, in its order.
    pub(super) fn roles(&self, pattern: i64) -> Result<Vec<PatternYarn>, StoreError> {
        let roles = self.db.all("pattern_yarn", &ROLES, [pattern], take_role)?;
        let with_needs = roles.into_iter().map(|(id, mut role)| {
            role.needs = self.needs(id)?;
            Ok(role)
        });
        with_needs.collect()
    }

    fn needs(&self, role: i64) -> Result<Vec<Printed<Need>>, StoreError> {
        self.db.all("pattern_need", &NEEDS, [role], take_part)
    }
}

impl Writer<'_> {
    /// Keeps the sizes and yarn roles of a pattern.
    pub(super) fn add_parts(&self, pattern: i64, record: &Pattern) -> Result<(), StoreError> {
        for (place, size) in (0_i64..).zip(&record.sizes) {
            let cells = Cells::of(size).and(&pattern).and(&place);
            self.db.run(&ADD_SIZE, cells.params())?;
        }
        for (place, role) in (0_i64..).zip(&record.yarns) {
            self.add_role(pattern, place, role)?;
        }
        Ok(())
    }

    fn add_role(&self, pattern: i64, place: i64, role: &PatternYarn) -> Result<(), StoreError> {
        let id = self.add_facts(&role.reference)?;
        let cells = Cells::of(&role.key)
            .and(&role.called)
            .and(&role.strands)
            .and(&id)
            .and(&pattern)
            .and(&place);
        self.db.run(&ADD_ROLE, cells.params())?;
        for (place, need) in (0_i64..).zip(&role.needs) {
            let cells = Cells::of(need).and(&id).and(&place);
            self.db.run(&ADD_NEED, cells.params())?;
        }
        Ok(())
    }

    /// Forgets them: yarn roles go with their facts, and needs with the roles.
    pub(super) fn remove_parts(&self, pattern: i64) -> Result<(), StoreError> {
        let roles = "DELETE FROM facts WHERE id IN (SELECT id FROM pattern_yarn WHERE pattern = ?)";
        self.db.run(roles, [pattern])?;
        let sizes = "DELETE FROM pattern_size WHERE pattern = ?";
        self.db.run(sizes, [pattern]).map(|_| ())
    }
}

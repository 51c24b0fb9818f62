//! Projects with what was chosen for them by hand. Patterns and yarns are named by their
//! number without being held: one that is removed leaves its projects.

use super::{
    Reader, StoreError, Writer,
    changes::{Action, RecordKind, Step},
    name_search::name_key,
    rows::{Cells, field_columns},
    sql::Table,
};
use crate::record::{Id, Name, Pattern, Pin, Project, Stored, Yarn};
use rusqlite::Params;
use std::sync::LazyLock;

const PROJECT: Table = Table {
    name: "project",
    what: "project",
    columns: "name, pattern, pattern_name, size, rank, without_fibres, only_fibres, care, \
              max_cost, enough, one_lot, shade_words, place_words, name_key",
};

const PIN: Table = Table {
    name: "project_pin",
    what: "pin",
    columns: "role, yarn, yarn_name, shade, project",
};

field_columns!(Project {
    name: Name,
    pattern: Id<Pattern>,
    pattern_name: Name,
    size: String,
    rank: f64,
    without: String,
    only: String,
    care: String,
    max_cost: String,
    enough: bool,
    one_lot: bool,
    shade: String,
    place: String,
} else { pins });

field_columns!(Pin {
    role: Name,
    yarn: Id<Yarn>,
    yarn_name: String,
    shade: Option<String>,
});

static SELECT: LazyLock<String> =
    LazyLock::new(|| format!("SELECT id, version, {} FROM project ", PROJECT.columns()));
static PINS: LazyLock<String> = LazyLock::new(|| {
    format!(
        "SELECT project, {} FROM project_pin WHERE project = ? ORDER BY role",
        PIN.columns()
    )
});

fn cells(project: &Project) -> Cells {
    Cells::of(project).and(&name_key(project.name.as_str()))
}

impl Reader<'_> {
    /// Every project, the one that matters most first.
    pub fn projects(&self) -> Result<Vec<Stored<Project>>, StoreError> {
        self.projects_where("ORDER BY rank, id", [])
    }

    /// The project with this number.
    pub fn project(&self, id: Id<Project>) -> Result<Stored<Project>, StoreError> {
        let found = self.projects_where("WHERE id = ?", [id.number()])?;
        found.into_iter().next().ok_or(PROJECT.gone(id.number()))
    }

    /// The project of this name; neither case nor spaces count.
    pub fn project_named(&self, name: &str) -> Result<Option<Stored<Project>>, StoreError> {
        let found = self.projects_where("WHERE name_key = ?", [name_key(name)])?;
        Ok(found.into_iter().next())
    }

    fn projects_where(
        &self,
        rest: &str,
        params: impl Params,
    ) -> Result<Vec<Stored<Project>>, StoreError> {
        let sql = format!("{}{rest}", *SELECT);
        let found: Vec<Stored<Project>> = self.db.all("project", &sql, params)?;
        let with_pins = found.into_iter().map(|mut found| {
            let rows: Vec<(i64, Pin)> = self.db.all("project_pin", &PINS, [found.id.number()])?;
            found.record.pins = rows.into_iter().map(|(_, pin)| pin).collect();
            Ok(found)
        });
        with_pins.collect()
    }
}

impl Writer<'_> {
    /// Keeps a new project; refused where one of this name is kept.
    pub fn add_project(&self, project: &Project) -> Result<Id<Project>, StoreError> {
        self.db.whole(|| {
            let added = self.db.insert(&PROJECT, &cells(project));
            let id = added.map_err(|e| e.or_duplicate("project", || project.name.to_string()))?;
            self.add_pins(id, project)?;
            self.write_down(Step::new(RecordKind::Project, Action::Added, id))?;
            Ok(Id::new(id))
        })
    }

    /// Changes a project that was read at `version`; its new version.
    pub fn update_project(
        &self,
        id: Id<Project>,
        version: i64,
        project: &Project,
    ) -> Result<i64, StoreError> {
        let number = id.number();
        self.db.whole(|| {
            let before = self.rows_of(RecordKind::Project, number)?;
            let changed = self.db.update(&PROJECT, (number, version), cells(project));
            let next =
                changed.map_err(|e| e.or_duplicate("project", || project.name.to_string()))?;
            self.remove_pins(number)?;
            self.add_pins(number, project)?;
            let step = Step::new(RecordKind::Project, Action::Changed, number);
            self.write_down(step.with_before(before))?;
            Ok(next)
        })
    }

    /// Forgets a project; what is reserved for it stays so.
    pub fn remove_project(&self, id: Id<Project>) -> Result<(), StoreError> {
        let number = id.number();
        self.db.whole(|| {
            let before = self.rows_of(RecordKind::Project, number)?;
            self.db.remove(&PROJECT, number)?;
            let step = Step::new(RecordKind::Project, Action::Removed, number);
            self.write_down(step.with_before(before))
        })
    }

    fn add_pins(&self, project: i64, record: &Project) -> Result<(), StoreError> {
        record.pins.iter().try_for_each(|pin| {
            let cells = Cells::of(pin).and(&project);
            self.db.run(&PIN.insert(), cells.params()).map(|_| ())
        })
    }

    pub(super) fn remove_pins(&self, project: i64) -> Result<(), StoreError> {
        let sql = "DELETE FROM project_pin WHERE project = ?";
        self.db.run(sql, [project]).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;

    fn named(name: &str, rank: f64) -> Project {
        let text = |text| Name::new("a name", text).unwrap();
        Project {
            name: text(name),
            pattern: Id::new(7),
            pattern_name: text("Bollard"),
            size: "M".to_owned(),
            rank,
            without: "wool".to_owned(),
            only: String::new(),
            care: "hand wash".to_owned(),
            max_cost: "40 EUR".to_owned(),
            enough: false,
            one_lot: true,
            shade: "dark green".to_owned(),
            place: "loft".to_owned(),
            pins: vec![Pin {
                role: text("MC"),
                yarn: Id::new(1),
                yarn_name: "Quay, Dune".to_owned(),
                shade: Some("moss".to_owned()),
            }],
        }
    }

    fn names(store: &Store) -> Vec<String> {
        let projects = store.reader().unwrap().projects().unwrap().into_iter();
        projects.map(|kept| kept.record.name.to_string()).collect()
    }

    fn undo_last(store: &mut Store) {
        let last = store.take_last_change().unwrap();
        store.write(|w| w.undo(last, "2026-04-01")).unwrap();
    }

    #[test]
    fn projects_come_back_whole_by_rank_and_by_name() {
        let (mut store, _) = shelf();
        let (hat, scarf) = (named("Hat", 2.0), named("Scarf", 1.0));
        let id = store.write(|w| w.add_project(&hat)).unwrap();
        store.write(|w| w.add_project(&scarf)).unwrap();
        assert_eq!(names(&store), ["Scarf", "Hat"]);
        let reader = store.reader().unwrap();
        assert_eq!(reader.project(id).unwrap().record, hat);
        assert_eq!(reader.project_named(" HAT ").unwrap().unwrap().id, id);
        assert_eq!(reader.project_named("Mitten").unwrap(), None);
        drop(reader);
        let again = store.write(|w| w.add_project(&named("hat", 3.0)));
        assert!(
            matches!(again, Err(StoreError::Duplicate { .. })),
            "{again:?}"
        );
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn whatever_is_done_with_a_project_is_undone() {
        let (mut store, _) = shelf();
        let hat = named("Hat", 1.0);
        let id = store.write(|w| w.add_project(&hat)).unwrap();
        let moved = Project {
            rank: 9.0,
            pins: Vec::new(),
            ..hat.clone()
        };
        store.write(|w| w.update_project(id, 1, &moved)).unwrap();
        let late = store.write(|w| w.update_project(id, 1, &hat));
        assert!(matches!(late, Err(StoreError::ChangedMeanwhile { .. })));
        undo_last(&mut store);
        assert_eq!(store.reader().unwrap().project(id).unwrap().record, hat);
        store.write(|w| w.remove_project(id)).unwrap();
        assert!(names(&store).is_empty());
        undo_last(&mut store);
        assert_eq!(store.reader().unwrap().project(id).unwrap().record, hat);
        assert_eq!(store.check().unwrap(), []);
    }

    #[test]
    fn what_was_added_goes_with_its_pins() {
        let (mut store, _) = shelf();
        store.write(|w| w.add_project(&named("Hat", 1.0))).unwrap();
        undo_last(&mut store);
        assert!(names(&store).is_empty());
        let pins = "SELECT count(*) FROM project_pin";
        let left = store.write(|w| w.db.number(pins, []));
        assert_eq!(left.unwrap(), 0);
    }
}

//! The formats of the file: frozen, numbered migrations, and the copy that is made
//! before the first of them runs.
//!
//! A migration that was ever released is never edited; what changes is a new
//! folder of `migrations/` and one more line here.

use super::{
    Store, StoreError, copy::keep_copy, kept_text::write_keys, seals::seal_lines, sql::at,
};
use rusqlite::{Connection, Transaction, TransactionBehavior};
use rusqlite_migration::{M, Migrations};
use std::path::Path;

/// Marks a file as one of this program's: `unds` in the file's header.
pub(super) const APPLICATION_ID: i32 = i32::from_be_bytes(*b"unds");

/// Every migration in order; as many as there are is the newest format.
pub(super) const MIGRATIONS: &[&str] = &[
    include_str!("../../migrations/0001-records/up.sql"),
    include_str!("../../migrations/0002-names-apart/up.sql"),
    include_str!("../../migrations/0003-names-marked/up.sql"),
    include_str!("../../migrations/0004-search-indexes/up.sql"),
    include_str!("../../migrations/0005-more-constructions-and-purposes/up.sql"),
    include_str!("../../migrations/0006-changes-once/up.sql"),
    include_str!("../../migrations/0007-names-in-full/up.sql"),
    include_str!("../../migrations/0008-ledger-sealed/up.sql"),
    include_str!("../../migrations/0009-gauge-index-by-grist/up.sql"),
    include_str!("../../migrations/0010-changes-undone/up.sql"),
    include_str!("../../migrations/0011-colours-of-shades/up.sql"),
    include_str!("../../migrations/0012-ledger-ends/up.sql"),
    include_str!("../../migrations/0013-projects/up.sql"),
    include_str!("../../migrations/0014-layouts-of-tables/up.sql"),
    include_str!("../../migrations/0015-counts-and-barcodes/up.sql"),
    include_str!("../../migrations/0016-search-indexes-by-number/up.sql"),
    include_str!("../../migrations/0017-wishes-of-projects/up.sql"),
    include_str!("../../migrations/0018-yarns-held-together/up.sql"),
    include_str!("../../migrations/0019-swatches-of-pairs/up.sql"),
];

/// What the program writes itself after the SQL of a step, by the step's number.
type Work = fn(&Connection) -> rusqlite::Result<()>;
const AFTER: [(usize, Work); 2] = [(7, write_keys), (8, seal_lines)];

fn step(number: usize, sql: &str) -> M<'_> {
    let work = AFTER.iter().find(|(after, _)| *after == number);
    let step = match work {
        Some((_, work)) => M::up_with_hook(sql, |conn: &Transaction<'_>| Ok(work(conn)?)),
        None => M::up(sql),
    };
    step.foreign_key_check()
}

/// The newest format of `steps`.
pub(super) fn newest(steps: &[&str]) -> u32 {
    u32::try_from(steps.len()).unwrap_or(u32::MAX)
}

impl Store {
    /// Migrates where the format is older, after keeping a copy.
    pub(super) fn bring_to_newest(&mut self, steps: &[&str]) -> Result<(), StoreError> {
        let format: u32 = self
            .conn
            .pragma_query_value(None, "user_version", |row| row.get(0))
            .map_err(|error| at(&self.path, error))?;
        let newest = newest(steps);
        if format > newest {
            return Err(StoreError::Newer {
                path: self.path.clone(),
                file: format,
                program: newest,
            });
        }
        if (1..newest).contains(&format) && self.is_file() {
            let what = newest.to_string();
            let copy = keep_copy(&self.conn, &self.path, &what, self.busy_timeout)?;
            self.kept_copy = Some(copy);
        }
        migrate(&mut self.conn, &self.path, steps)
    }
}

/// Brings the file to the newest format of `steps`, all of them or none. Where
/// another program did the same at the same moment, its work stands. A step may
/// put a table in the place of one that others refer to: foreign keys are off
/// meanwhile, and each step ends with a look at all of them.
pub(super) fn migrate(
    conn: &mut Connection,
    path: &Path,
    steps: &[&str],
) -> Result<(), StoreError> {
    let steps = (1..).zip(steps).map(|(number, sql)| step(number, sql));
    let migrations = Migrations::new(steps.collect());
    conn.set_transaction_behavior(TransactionBehavior::Immediate);
    if migrations.pending_migrations(conn) == Ok(0) {
        return Ok(());
    }
    let keys = |conn: &Connection, on| {
        let set = conn.pragma_update(None, "foreign_keys", on);
        set.map_err(|error| at(path, error))
    };
    keys(conn, false)?;
    let done = migrations.to_latest(conn);
    keys(conn, true)?;
    let pending = migrations.pending_migrations(conn);
    match (done, pending) {
        (Ok(()), _) | (Err(_), Ok(0)) => Ok(()),
        (Err(why), _) => Err(failed(path, why)),
    }
}

/// A locked or full disk is reported as such; the rest is a fault of the step.
fn failed(path: &Path, why: rusqlite_migration::Error) -> StoreError {
    let plain = |why: String| StoreError::Migration {
        path: path.to_owned(),
        why,
    };
    match why {
        rusqlite_migration::Error::RusqliteError { err, .. } => match at(path, err) {
            StoreError::Sqlite { source, .. } => plain(source.to_string()),
            told => told,
        },
        other => plain(other.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Store, samples::*};
    use super::*;
    use crate::{record::Purpose, trade::Construction};
    use std::{fs, path::PathBuf, time::Duration};

    /// Folder and fingerprint of each released migration. A line is added with
    /// a migration and never changed.
    const FROZEN: &[(&str, u64)] = &[
        ("0001-records", 3_233_438_133_042_572_037),
        ("0002-names-apart", 16_496_242_052_449_075_548),
        ("0003-names-marked", 10_875_805_918_865_487_517),
        ("0004-search-indexes", 10_230_985_934_725_268_734),
        (
            "0005-more-constructions-and-purposes",
            13_111_247_000_373_172_168,
        ),
        ("0006-changes-once", 3_423_180_700_316_546_881),
        ("0007-names-in-full", 567_052_668_601_603_910),
        ("0008-ledger-sealed", 2_847_910_250_664_214_352),
        ("0009-gauge-index-by-grist", 7_998_384_176_439_055_512),
        ("0010-changes-undone", 3_137_118_061_559_196_185),
        ("0011-colours-of-shades", 7_693_372_147_681_249_857),
        ("0012-ledger-ends", 10_621_899_869_041_728_757),
        ("0013-projects", 11_517_312_629_595_420_745),
        ("0014-layouts-of-tables", 5_547_626_702_153_375_207),
        ("0015-counts-and-barcodes", 8_447_865_058_469_480_690),
        ("0016-search-indexes-by-number", 11_984_109_669_599_701_436),
        ("0017-wishes-of-projects", 12_104_896_571_645_499_489),
        ("0018-yarns-held-together", 2_348_628_198_790_701_263),
        ("0019-swatches-of-pairs", 4_608_763_490_676_964_857),
    ];

    /// Rows as each format holds them, written when the format was new: what a
    /// file of that format has, a newer program must still read.
    const ROWS: &[&str] = &[
        "
        INSERT INTO blend (parts) VALUES ('[[\"100\",\"wool\",null]]');
        INSERT INTO facts (length_text, length_m, mass_text, mass_g, blend_text, blend, grist)
            VALUES ('125 m', 125, '50 g', 50, 'wool', 1, 2.5);
        INSERT INTO yarn (id, maker, name, discontinued, notes, maker_key, name_key)
            VALUES (1, 'Quay', 'Dune', 0, '', 'quay', 'dune');
        INSERT INTO shade VALUES (1, 0, 'red');
        INSERT INTO stock_lot (yarn, shade, place, notes, shade_key, lot_key, place_key)
            VALUES (1, 'red', '', '', 'red', '', '');
        INSERT INTO stock_entry (lot, kind, amount_text, milliskeins, milligrams, on_day, notes)
            VALUES (1, 'bought', '3', 3000, 0, '2026-03-01', '');
        INSERT INTO swatch (yarn, needle_mm, measured_on, notes) VALUES (1, 4, '2026-03-01', '');
        INSERT INTO pattern (name, purpose, fit, notes, name_key)
            VALUES ('Bollard', 'garment', 'relaxed', '', 'bollard');
        INSERT INTO pattern_size (pattern, place, name) VALUES (1, 0, 'S');
        INSERT INTO facts (grist) VALUES (NULL);
        INSERT INTO pattern_yarn (id, pattern, place, key, strands) VALUES (2, 1, 0, 'A', 1);
        INSERT INTO pattern_need (pattern_yarn, place, text, kind, low, high)
            VALUES (2, 0, '400 m', 'length', 400, 400);
    ",
        "
        INSERT INTO shade VALUES (1, 1, 'blue');
    ",
        "
        UPDATE yarn SET name = 'Dunes', name_key = 'dunes' WHERE id = 1;
    ",
        "
        UPDATE facts SET gauge_text = '20-22 sts / 10 cm', gauge_stitches_low = 20,
            gauge_stitches_high = 22, gauge_over_m = 0.1 WHERE id = 1;
        UPDATE facts SET construction_text = 'silk ribbon', construction = 'tape' WHERE id = 1;
    ",
        "
        UPDATE facts SET construction_text = 'chenille', construction = 'chenille' WHERE id = 2;
        UPDATE pattern SET purpose = 'socks';
    ",
        "
        INSERT INTO once (text, part, what, result) VALUES ('till 7', 0, 'used', '1');
        UPDATE yarn SET name = 'D\u{fc}nes+', name_key = 'dunes' WHERE id = 1;
        UPDATE stock_lot SET shade = 'red/', shade_key = 'red', lot = '12-3', lot_key = '12 3';
        UPDATE pattern SET name = 'Bollard!', name_key = 'bollard';
    ",
        "
        INSERT INTO stock_entry (lot, kind, amount_text, milliskeins, milligrams, on_day, notes)
            VALUES (1, 'used', '1', 1000, 0, '2026-03-02', '');
    ",
        "
        UPDATE tally SET renamed = 7;
    ",
        "
        UPDATE facts SET gauge_stitches_low = 16 WHERE id = 1;
    ",
        "
        INSERT INTO change (id, at) VALUES (1, '2026-03-03 10:00:00');
        INSERT INTO change_step (change, place, kind, action, record, last, yarn, line)
            VALUES (1, 0, 'lot', 'entered', 1, 1, 1, 2);
    ",
        "
        INSERT INTO shade_colour (yarn, shade, shade_key, colour_text, colour)
            SELECT yarn, shade, shade_key, 'Navy', 128 FROM stock_lot;
    ",
        "
        INSERT INTO stock_entry (lot, kind, amount_text, milliskeins, milligrams, on_day, notes, seal)
            VALUES (1, 'used', '0.5', 500, 0, '2026-03-04', '', 557612439741994543);
        UPDATE ledger_end SET (line, seal) = (SELECT max(id), 557612439741994543 FROM stock_entry);
    ",
        "
        INSERT INTO project (id, name, pattern, pattern_name, size, rank, without_fibres, only_fibres, care, name_key)
            VALUES (1, 'Hat', 1, 'Bollard', 'M', 1, 'wool', '', '', 'hat');
        INSERT INTO project_pin (project, role, yarn, yarn_name, shade)
            VALUES (1, 'MC', 1, 'Quay, Dune', 'red');
        INSERT INTO change_step (change, place, kind, action, record, last)
            SELECT max(id), 7, 'project', 'added', 1, 1 FROM change;
        ",
        "
        INSERT INTO table_layout (name, place, answer, text) VALUES ('supplier', 0, 'currency', 'EUR');
    ",
        "
        UPDATE yarn SET more_gtins = '96385074|4006381333931', low = 6 WHERE id = 1;
        INSERT INTO stock_count (id, begun_on, place) VALUES (1, '2026-03-05', 'shelf');
        INSERT INTO stock_count_line (stock_count, lot, milliskeins, milligrams) VALUES (1, 1, 2000, 500);
    ",
        "",
        "
        UPDATE project SET max_cost = '40 EUR', one_lot = 1, place_words = 'loft';
    ",
        "
        INSERT INTO facts (grist) VALUES (NULL);
        INSERT INTO pattern_yarn (id, pattern, place, key, strands, held_with)
            SELECT last_insert_rowid(), id, 1, 'B', 1, 'A' FROM pattern;
        INSERT INTO pattern_need (pattern_yarn, place, text, kind, low, high)
            SELECT max(id), 0, '400 m', 'length', 400, 400 FROM pattern_yarn;
    ",
        "
        INSERT INTO swatch_held_with (swatch, place, yarn) VALUES (1, 0, 1);
        INSERT INTO change_step_yarn (change, place, yarn) SELECT max(id), 7, 1 FROM change;
    ",
    ];

    /// FNV-1a of the text, 64 bits: an edit shows, and line ends do not.
    fn fingerprint(text: &str) -> u64 {
        let bytes = text.bytes().filter(|byte| *byte != b'\r');
        bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        })
    }

    fn folders() -> Vec<PathBuf> {
        let all = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
        let mut folders: Vec<PathBuf> = fs::read_dir(all)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        folders.sort();
        folders
    }

    #[test]
    fn the_list_is_the_folder_in_its_order() {
        let texts: Vec<String> = folders()
            .iter()
            .map(|folder| fs::read_to_string(folder.join("up.sql")).unwrap())
            .collect();
        assert_eq!(texts, MIGRATIONS);
        for (number, folder) in (1..).zip(folders()) {
            let name = folder.file_name().unwrap().to_str().unwrap();
            assert!(name.starts_with(&format!("{number:04}-")), "{name}");
        }
    }

    #[test]
    fn a_released_migration_is_never_edited() {
        let names = folders();
        let names = names
            .iter()
            .map(|f| f.file_name().unwrap().to_str().unwrap());
        let now: Vec<(&str, u64)> = names
            .zip(MIGRATIONS.iter().map(|sql| fingerprint(sql)))
            .collect();
        assert_eq!(now, FROZEN);
        assert_ne!(fingerprint("a"), fingerprint("b"));
    }

    #[test]
    fn every_format_comes_to_the_newest_with_its_rows() {
        assert_eq!(ROWS.len(), MIGRATIONS.len(), "add rows for the new format");
        for format in 0..=MIGRATIONS.len() {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("old.db");
            for (format, rows) in (1..=format).zip(ROWS) {
                let wait = Duration::from_millis(60);
                drop(Store::open_with(&path, wait, &MIGRATIONS[..format]).unwrap());
                let old = Connection::open(&path).unwrap();
                old.execute_batch(rows).unwrap();
            }
            let mut store = Store::open(&path).unwrap();
            assert_eq!(store.check().unwrap(), []);
            let yarns = u64::from(format > 0);
            assert_eq!(store.reader().unwrap().count_yarns().unwrap(), yarns);
            assert_eq!(
                store.reader().unwrap().lots().unwrap().len(),
                usize::from(format > 0)
            );
            assert_eq!(
                store.reader().unwrap().patterns().unwrap().len(),
                usize::from(format > 0)
            );
            store.write(|w| w.add_yarn(&full())).unwrap();
        }
    }

    /// A thousand yarns; a million where `UNDERSTUDY_LONG` is set.
    #[test]
    fn many_yarns_of_the_first_format_come_to_the_newest() {
        let many = match std::env::var_os("UNDERSTUDY_LONG") {
            Some(_) => 1_000_000_u32,
            None => 1000,
        };
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("old.db");
        let wait = Duration::from_millis(60);
        drop(Store::open_with(&path, wait, &MIGRATIONS[..1]).unwrap());
        let rows = format!(
            "CREATE TEMP TABLE number AS
                 WITH RECURSIVE number (n) AS (VALUES (1) UNION ALL SELECT n + 1 FROM number LIMIT {many})
                 SELECT n FROM number;
             INSERT INTO facts (length_text, length_m, mass_text, mass_g, grist)
                 SELECT '125 m', 125, '50 g', 50, 2.5 FROM number;
             INSERT INTO yarn (id, maker, name, gtin, discontinued, notes, maker_key, name_key)
                 SELECT n, 'Quay', n, CASE n WHEN 7 THEN '96385074' END, n % 2, '', 'quay', n FROM number;
             INSERT INTO stock_lot (yarn, shade, place, notes, shade_key, lot_key, place_key)
                 SELECT n, 'red', '', '', 'red', '', '' FROM number WHERE n % 100 = 0;
             INSERT INTO stock_entry (lot, kind, amount_text, milliskeins, milligrams, on_day, notes)
                 SELECT id, 'bought', '3', 3000, 0, '2026-03-01', '' FROM stock_lot;
             UPDATE yarn SET version = 3 WHERE id = 7;"
        );
        let old = Connection::open(&path).unwrap();
        old.execute_batch(&rows).unwrap();
        drop(old);
        let mut store = Store::open(&path).unwrap();
        assert!(store.kept_copy().is_some());
        assert_eq!(store.check().unwrap(), []);
        let reader = store.reader().unwrap();
        assert_eq!(reader.count_yarns().unwrap(), u64::from(many));
        assert_eq!(reader.lots().unwrap().len(), many as usize / 100);
        let seventh = reader.yarn_named("quay", "7").unwrap().unwrap();
        assert_eq!((seventh.id.number(), seventh.version), (7, 3));
        assert_eq!(
            reader
                .yarns_by_gtin(&seventh.record.gtin.unwrap())
                .unwrap()
                .len(),
            1
        );
        drop(reader);
        let again = store.write(|w| w.add_yarn(&bare("Quay", "7")));
        assert!(matches!(again, Err(StoreError::Duplicate { .. })));
        assert!(
            store
                .write(|w| w.remove_yarn(crate::record::Id::new(100)))
                .is_err()
        );
    }

    /// Ids of removed rows are not used again, a ribbon is no tape, and a purpose of
    /// today can be kept.
    #[test]
    fn more_constructions_and_purposes_leave_the_rest_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("old.db");
        let wait = Duration::from_millis(60);
        drop(Store::open_with(&path, wait, &MIGRATIONS[..4]).unwrap());
        let old = Connection::open(&path).unwrap();
        old.execute_batch(ROWS[0]).unwrap();
        old.execute_batch(
            "UPDATE facts SET construction_text = 'silk Ribbon', construction = 'tape' WHERE id = 1;
             INSERT INTO facts (id, grist) VALUES (9, NULL);
             DELETE FROM facts WHERE id = 9;",
        )
        .unwrap();
        drop(old);
        let mut store = Store::open(&path).unwrap();
        let read = |store: &Store| store.reader().unwrap().yarn_named("quay", "dune").unwrap();
        let facts = read(&store).unwrap().record.facts;
        assert_eq!(facts.construction.unwrap().value, Construction::Ribbon);
        let new = store.write(|w| w.add_yarn(&bare("Quay", "Reed"))).unwrap();
        assert_eq!(new.number(), 10);
        let mut pattern = store.reader().unwrap().patterns().unwrap().remove(0);
        pattern.record.purpose = Purpose::Felted;
        let (id, version) = (pattern.id, pattern.version);
        let changed = store.write(|w| w.update_pattern(id, version, &pattern.record));
        assert!(changed.is_ok());
    }

    /// Two lots and two yarns that were different stay so, and what was one name finds
    /// both that it may be.
    #[test]
    fn keys_of_old_names_are_those_of_new_ones() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("old.db");
        let wait = Duration::from_millis(60);
        drop(Store::open_with(&path, wait, &MIGRATIONS[..6]).unwrap());
        let old = Connection::open(&path).unwrap();
        old.execute_batch(ROWS[0]).unwrap();
        old.execute_batch("UPDATE yarn SET name = 'C+', name_key = 'c' WHERE id = 1")
            .unwrap();
        drop(old);
        let mut store = Store::open(&path).unwrap();
        assert_eq!(store.check().unwrap(), []);
        store.write(|w| w.add_yarn(&bare("Quay", "C"))).unwrap();
        let again = store.write(|w| w.add_yarn(&bare("QUAY", " c+")));
        assert!(matches!(again, Err(StoreError::Duplicate { .. })));
        let reader = store.reader().unwrap();
        assert_eq!(reader.search_yarns("c", 9).unwrap().len(), 2);
        assert_eq!(
            reader
                .yarn_named("Quay", "C+")
                .unwrap()
                .unwrap()
                .id
                .number(),
            1
        );
    }

    #[test]
    fn every_table_is_strict() {
        let store = Store::in_memory().unwrap();
        let reader = store.reader().unwrap();
        let sql = "SELECT count(*) FROM pragma_table_list WHERE schema = 'main' \
                   AND name NOT LIKE 'sqlite%' AND strict = 0";
        assert_eq!(reader.db.number(sql, []).unwrap(), 0);
    }
}

//! What was said about tables of others, by the name of their layout.

use super::{Reader, StoreError, Writer};

impl Reader<'_> {
    /// What was said under a name, in the order in which it was said: which answer, and
    /// its text. Empty where nothing was.
    pub fn layout(&self, name: &str) -> Result<Vec<(String, String)>, StoreError> {
        let sql = "SELECT answer, text FROM table_layout WHERE name = ? ORDER BY place";
        self.db.all("table_layout", sql, [name])
    }

    /// The names under which something was said.
    pub fn layout_names(&self) -> Result<Vec<String>, StoreError> {
        let sql = "SELECT DISTINCT name FROM table_layout ORDER BY name";
        self.db.all("table_layout", sql, [])
    }
}

impl Writer<'_> {
    /// Forgets what was said under a name; whether anything was.
    pub fn forget_layout(&self, name: &str) -> Result<bool, StoreError> {
        let sql = "DELETE FROM table_layout WHERE name = ?";
        Ok(self.db.run(sql, [name])? > 0)
    }

    /// Keeps what was said under a name, in place of what was said before.
    pub fn remember_layout(&self, name: &str, said: &[(&str, String)]) -> Result<(), StoreError> {
        self.db
            .run("DELETE FROM table_layout WHERE name = ?", [name])?;
        for (place, (answer, text)) in (0_i64..).zip(said) {
            let sql = "INSERT INTO table_layout (name, place, answer, text) VALUES (?, ?, ?, ?)";
            self.db.run(sql, (name, place, answer, text))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use crate::store::Store;

    #[test]
    fn what_was_said_last_is_remembered_under_its_name() {
        let mut store = Store::in_memory().unwrap();
        let said = [
            ("column", "LL=length".to_owned()),
            ("currency", "EUR".to_owned()),
        ];
        store
            .write(|writer| writer.remember_layout("supplier", &[("maker", "Q".to_owned())]))
            .unwrap();
        store
            .write(|writer| writer.remember_layout("supplier", &said))
            .unwrap();
        let reader = store.reader().unwrap();
        let kept = reader.layout("supplier").unwrap();
        let expected = said.map(|(answer, text)| (answer.to_owned(), text));
        assert_eq!(kept, expected);
        assert_eq!(reader.layout("other").unwrap(), []);
        assert_eq!(reader.layout_names().unwrap(), ["supplier"]);
        drop(reader);
        for is_there in [true, false] {
            let forgotten = store.write(|writer| writer.forget_layout("supplier"));
            assert_eq!(forgotten.unwrap(), is_there);
        }
    }
}

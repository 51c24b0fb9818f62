//! Changes that were made under a text of their own, which names them for good.

use super::{StoreError, Writer};

/// The change that a text stands for.
#[derive(Debug, Clone, Copy)]
pub struct OnceKey<'t> {
    /// The text.
    pub text: &'t str,
    /// Which file of an import, from 0; 0 where there is one change only.
    pub part: i64,
    /// Which change it is: another one under this text is refused.
    pub what: &'t str,
}

impl Writer<'_> {
    /// What this change came to when it was made; nothing where it was not made yet.
    /// Refused where another change was made under its text.
    pub fn made_once(&self, key: OnceKey<'_>) -> Result<Option<String>, StoreError> {
        let sql = "SELECT what, result FROM once WHERE text = ? AND part = ?";
        let made: Option<(String, String)> = self.db.first("once", sql, (key.text, key.part))?;
        match made {
            Some((what, _)) if what != key.what => Err(StoreError::OnceTaken {
                text: key.text.to_owned(),
                what,
            }),
            made => Ok(made.map(|(_, result)| result)),
        }
    }

    /// Keeps that this change is made, and what it came to.
    pub fn keep_once(&self, key: OnceKey<'_>, result: &str) -> Result<(), StoreError> {
        let sql = "INSERT INTO once (text, part, what, result) VALUES (?, ?, ?, ?)";
        let cells = (key.text, key.part, key.what, result);
        self.db.run(sql, cells).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Store;

    #[test]
    fn a_text_stands_for_one_change() {
        let key = |what| OnceKey {
            text: "till 7",
            part: 0,
            what,
        };
        let mut store = Store::in_memory().unwrap();
        let made = |store: &mut Store, what| store.write(|writer| writer.made_once(key(what)));
        assert_eq!(made(&mut store, "used").unwrap(), None);
        store
            .write(|writer| writer.keep_once(key("used"), "1"))
            .unwrap();
        assert_eq!(made(&mut store, "used").unwrap().as_deref(), Some("1"));
        let taken = made(&mut store, "bought").unwrap_err();
        assert!(matches!(taken, StoreError::OnceTaken { .. }));
    }
}

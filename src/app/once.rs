//! Changes that are made once under a text of whoever asks: asked for again, as by a
//! script that does not know whether the first went through, they are not made twice.

use super::{AppError, RecordChange, Records};
use crate::{
    store::{OnceKey, Writer},
    words::joined,
};

/// The text that is given for one command, and how many changes it was used for.
#[derive(Debug, Default)]
pub(super) struct OnceText {
    text: Option<String>,
    used: i64,
}

impl OnceText {
    pub(super) fn new(text: Option<String>) -> Self {
        Self { text, used: 0 }
    }
}

impl Records {
    /// Makes the next change under the text of this command; `what` tells it from
    /// others. `make` is given what the change came to where it was made before, and
    /// makes it where it was not; it says what the change comes to, and the answer.
    pub(super) fn once_under_text<'w, T>(
        &mut self,
        what: impl IntoIterator<Item = &'w str>,
        make: impl FnOnce(&Writer<'_>, Option<&str>) -> Result<(String, T), AppError>,
    ) -> Result<T, AppError> {
        let part = self.once.used;
        self.once.used += 1;
        let what = what.into_iter().filter(|word| !word.is_empty());
        let what = joined(what.map(str::to_owned), ", ");
        let text = self.once.text.clone();
        let key = text.as_deref().map(|text| OnceKey {
            text,
            part,
            what: &what,
        });
        self.store_mut()?.write(|writer| {
            let made = key.map(|key| writer.made_once(key)).transpose()?.flatten();
            let (result, answer) = make(writer, made.as_deref())?;
            if let (Some(key), None) = (key, made) {
                writer.keep_once(key, &result)?;
            }
            Ok(answer)
        })
    }

    /// The same for one record; the answer says where it was made before.
    pub(super) fn change_once<'w>(
        &mut self,
        what: impl IntoIterator<Item = &'w str>,
        make: impl FnOnce(&Writer<'_>, Option<&str>) -> Result<(String, RecordChange), AppError>,
    ) -> Result<RecordChange, AppError> {
        self.once_under_text(what, |writer, made| {
            let (result, change) = make(writer, made)?;
            Ok(match made {
                Some(_) => (result, RecordChange::MadeBefore(Box::new(change))),
                None => (result, change),
            })
        })
    }
}

/// The number that a change came to when it was made; nothing where it was not.
pub(super) fn number_made(made: Option<&str>) -> Option<i64> {
    made.and_then(|number| number.parse().ok())
}

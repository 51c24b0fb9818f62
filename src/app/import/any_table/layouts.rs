//! What was said about tables of others and is remembered: listed, and forgotten.

use crate::app::{AppError, RecordChange, Records};

/// Answer to [`list_layouts`].
#[derive(Debug, Clone)]
pub struct LayoutList(pub Vec<KeptLayout>);

/// What is remembered under one name.
#[derive(Debug, Clone)]
pub struct KeptLayout {
    /// The name.
    pub name: String,
    /// Which answer, and its text.
    pub said: Vec<(String, String)>,
}

/// All layouts that are remembered.
pub fn list_layouts(records: &Records) -> Result<LayoutList, AppError> {
    let Some(store) = records.maybe() else {
        return Ok(LayoutList(Vec::new()));
    };
    let reader = store.reader()?;
    let names = reader.layout_names()?.into_iter();
    let layouts = names.map(|name| {
        let said = reader.layout(&name)?;
        Ok(KeptLayout { name, said })
    });
    Ok(LayoutList(layouts.collect::<Result<_, AppError>>()?))
}

/// Forgets what is remembered under a name.
pub fn forget_layout(records: &mut Records, name: &str) -> Result<RecordChange, AppError> {
    let name = name.trim();
    records.change_once(["forget", "layout", name], |writer, made| {
        if made.is_none() && !writer.forget_layout(name)? {
            return Err(AppError::Unknown {
                what: "layout",
                name: name.to_owned(),
                near: Vec::new(),
                all: writer.layout_names()?,
            });
        }
        let name = name.to_owned();
        Ok((String::new(), RecordChange::LayoutForgotten { name }))
    })
}

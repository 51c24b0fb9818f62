//! What a browser makes of a page: the text between its tags, and the fields of its forms
//! as they would be sent.

/// What stands between two texts, each time the first one does.
pub fn between<'t>(text: &'t str, begin: &str, end: &str) -> Vec<&'t str> {
    let parts = text.split(begin).skip(1);
    parts.map(|part| part.split(end).next().unwrap()).collect()
}

/// The same, the first time.
pub fn first_between<'t>(text: &'t str, begin: &str, end: &str) -> &'t str {
    let found = between(text, begin, end);
    found.first().unwrap_or_else(|| panic!("{begin}: {text}"))
}

/// The text of a piece of a page.
pub fn without_tags(html: &str) -> String {
    let pieces = html.split('<');
    pieces
        .map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text))
        .collect()
}

fn attribute<'t>(tag: &'t str, name: &str) -> Option<&'t str> {
    tag.split(&format!(" {name}=\"")).nth(1)?.split('"').next()
}

fn plain(text: &str) -> String {
    let marks = [
        ("&quot;", "\""),
        ("&#34;", "\""),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&amp;", "&"),
    ];
    marks.iter().fold(text.to_owned(), |text, (mark, sign)| {
        text.replace(mark, sign)
    })
}

/// Fields of a form, by name.
pub type Fields = Vec<(String, String)>;

/// The fields of the form with this id, as they are filled.
pub fn fields(page: &str, id: &str) -> Fields {
    let form = form(page, id);
    let inputs = inputs(form).filter_map(|tag| {
        let is_choice = tag.contains("type=\"radio\"") || tag.contains("type=\"checkbox\"");
        (!is_choice || tag.contains(" checked")).then(|| named(tag))?
    });
    let areas = form.split("<textarea").skip(1).filter_map(|area| {
        let text = area.split_once('>')?.1.split("</textarea>").next()?;
        Some((
            attribute(area, "name")?.to_owned(),
            plain(text.trim_start_matches('\n')),
        ))
    });
    inputs.chain(areas).collect()
}

/// The hidden fields of the form with this id.
pub fn hidden(page: &str, id: &str) -> Fields {
    let tags = inputs(form(page, id));
    let tags = tags.filter(|tag| tag.contains("type=\"hidden\""));
    tags.filter_map(named).collect()
}

fn form<'t>(page: &'t str, id: &str) -> &'t str {
    first_between(page, &format!("<form id=\"{id}\""), "</form>")
}

fn inputs(form: &str) -> impl Iterator<Item = &str> {
    let tags = form.split("<input").skip(1);
    tags.filter_map(|input| input.split('>').next())
}

fn named(tag: &str) -> Option<(String, String)> {
    let value = attribute(tag, "value").unwrap_or("");
    Some((attribute(tag, "name")?.to_owned(), plain(value)))
}

/// The same fields, but for these.
pub fn with(fields: &[(String, String)], changes: &[(&str, &str)]) -> Fields {
    let is_changed = |name: &str| changes.iter().any(|(changed, _)| *changed == name);
    let kept = fields.iter().filter(|(name, _)| !is_changed(name)).cloned();
    let changed = changes
        .iter()
        .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()));
    kept.chain(changed).collect()
}

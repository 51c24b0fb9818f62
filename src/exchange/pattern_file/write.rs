//! A pattern file written, to be read and edited by hand.

use super::stated::beyond_the_text;
use crate::record::{Need, Pattern, PatternYarn, Printed, Size, YarnFacts};
use toml::Value;

/// The longest list that is written in one line, in characters.
const ONE_LINE: usize = 80;

/// The text of a file that reads back to `pattern`.
pub fn write_pattern(pattern: &Pattern) -> String {
    let mut lines = head(pattern);
    for size in &pattern.sizes {
        lines.start("size");
        size_lines(size, &mut lines);
    }
    for yarn in &pattern.yarns {
        lines.start("yarn");
        yarn_lines(yarn, pattern, &mut lines);
    }
    lines.text
}

/// Lines of a file.
#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    fn start(&mut self, table: &str) {
        self.text.push_str(&format!("\n[[{table}]]\n"));
    }

    fn put(&mut self, key: &str, value: impl Into<Value>) {
        self.text.push_str(&format!("{key} = {}\n", value.into()));
    }

    fn maybe(&mut self, key: &str, value: Option<impl Into<Value>>) {
        if let Some(value) = value {
            self.put(key, value);
        }
    }

    fn printed<T>(&mut self, key: &str, value: Option<&Printed<T>>) {
        self.maybe(key, value.map(|value| value.text.as_str()));
    }
}

fn head(pattern: &Pattern) -> Lines {
    let mut lines = Lines::default();
    lines.put("pattern", pattern.name.as_str());
    lines.put("purpose", pattern.purpose.name());
    lines.put("fit", pattern.fit.name());
    lines.printed("gauge", pattern.gauge.as_ref());
    let beyond = pattern.gauge.as_ref().and_then(beyond_the_text);
    for (key, value) in beyond.unwrap_or_default() {
        lines.put(key, value);
    }
    lines.printed("multiple", pattern.multiple.as_ref());
    lines.printed("care", pattern.care.as_ref());
    lines.printed("tolerance", pattern.tolerance.as_ref());
    lines.maybe("margin_included", pattern.margin_included);
    if !pattern.notes.is_empty() {
        lines.put("notes", pattern.notes.as_str());
    }
    lines
}

fn size_lines(size: &Size, lines: &mut Lines) {
    lines.put("name", size.name.as_str());
    lines.printed("width", size.width.as_ref());
    lines.printed("height", size.height.as_ref());
    lines.maybe("cast_on", size.cast_on.map(i64::from));
    lines.maybe("rows", size.rows.map(i64::from));
}

fn yarn_lines(yarn: &PatternYarn, pattern: &Pattern, lines: &mut Lines) {
    lines.put("key", yarn.key.as_str());
    lines.maybe("called", yarn.called.as_deref());
    reference_lines(&yarn.reference, lines);
    if yarn.strands != 1 {
        lines.put("strands", i64::from(yarn.strands));
    }
    lines.text.push_str(&needs_line(&yarn.needs, pattern));
}

fn reference_lines(facts: &YarnFacts, lines: &mut Lines) {
    lines.printed("length", facts.length.as_ref());
    lines.printed("mass", facts.mass.as_ref());
    lines.printed("count", facts.count.as_ref());
    lines.printed("class", facts.class.as_ref());
    lines.printed("fibre", facts.blend.as_ref());
    lines.printed("construction", facts.construction.as_ref());
    lines.maybe("plies", facts.plies.map(i64::from));
    lines.printed("gauge", facts.gauge.as_ref());
    lines.printed("needle", facts.needles.as_ref());
    lines.printed("care", facts.care.as_ref());
    lines.printed("price", facts.price.as_ref());
}

/// One text a size; where the line would be long, one a line with its size.
fn needs_line(needs: &[Printed<Need>], pattern: &Pattern) -> String {
    let texts: Vec<String> = needs
        .iter()
        .map(|need| Value::from(need.text.as_str()).to_string())
        .collect();
    let one_line = format!("needs = [{}]\n", texts.join(", "));
    if one_line.chars().count() <= ONE_LINE {
        return one_line;
    }
    let rows: String = texts
        .iter()
        .zip(&pattern.sizes)
        .map(|(text, size)| format!("  {text}, # {}\n", crate::words::safe(size.name.as_str())))
        .collect();
    format!("needs = [\n{rows}]\n")
}

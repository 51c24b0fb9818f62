//! A file started from a few answers: one kind of piece, weighed in one size. More
//! pieces, edges and samples are added in its text.

use toml::Value;

/// The answers, as typed; what differs by size has one text for each, or one
/// for all.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NeedsTemplate {
    /// Name of the pattern.
    pub pattern: String,
    /// Names of the sizes, in order.
    pub sizes: Vec<String>,
    /// The gauge.
    pub gauge: String,
    /// Length and mass of one skein.
    pub put_up: String,
    /// What shape the piece has.
    pub shape: String,
    /// Its width; of a tube the way around.
    pub width: Vec<String>,
    /// Its width at the top.
    pub top: Vec<String>,
    /// Its height.
    pub height: Vec<String>,
    /// How many of it there are.
    pub times: String,
    /// The size that was knitted.
    pub size: String,
    /// What the yarn weighed before.
    pub before: String,
    /// What was left of it.
    pub after: String,
    /// What the finished pieces weigh.
    pub mass: String,
}

/// The text of the file; what is empty is left out.
pub fn write_template(template: &NeedsTemplate) -> String {
    let around = match crate::words::fold(&template.shape).as_str() {
        "tube" => "around",
        _ => "width",
    };
    let mut out = String::new();
    put(&mut out, "pattern", &template.pattern);
    if !template.sizes.is_empty() {
        line(&mut out, "sizes", &listed(&template.sizes));
    }
    put(&mut out, "gauge", &template.gauge);
    out.push_str("\n[[yarn]]\n");
    put(&mut out, "key", "A");
    put(&mut out, "put_up", &template.put_up);
    out.push_str("\n[[piece]]\n");
    put(&mut out, "name", "piece");
    put(&mut out, "shape", &template.shape);
    by_size(&mut out, around, &template.width);
    by_size(&mut out, "top", &template.top);
    by_size(&mut out, "height", &template.height);
    put(&mut out, "times", &template.times);
    out.push_str("\n[[sample]]\n");
    put(&mut out, "size", &template.size);
    put(&mut out, "before", &template.before);
    put(&mut out, "after", &template.after);
    put(&mut out, "mass", &template.mass);
    out
}

fn listed(texts: &[String]) -> Value {
    Value::from(texts.to_vec())
}

fn line(out: &mut String, key: &str, value: &Value) {
    out.push_str(&format!("{key} = {value}\n"));
}

fn put(out: &mut String, key: &str, text: &str) {
    if !text.is_empty() {
        line(out, key, &Value::from(text));
    }
}

fn by_size(out: &mut String, key: &str, texts: &[String]) {
    match texts {
        [] => {}
        [one] => put(out, key, one),
        several => line(out, key, &listed(several)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::needs_file::read_needs_file;
    use proptest::prelude::*;

    fn texts(texts: &[&str]) -> Vec<String> {
        texts.iter().map(|text| (*text).to_owned()).collect()
    }

    fn scarf() -> NeedsTemplate {
        NeedsTemplate {
            pattern: "A \"scarf\" \\ x".to_owned(),
            sizes: texts(&["short", "long"]),
            put_up: "120 m / 50 g".to_owned(),
            shape: "rectangle".to_owned(),
            width: texts(&["30 cm"]),
            height: texts(&["120 cm", "180 cm"]),
            size: "short".to_owned(),
            mass: "150 g".to_owned(),
            ..NeedsTemplate::default()
        }
    }

    #[test]
    fn what_is_written_reads_back() {
        let text = write_template(&scarf());
        let read = read_needs_file("n", text.as_bytes()).unwrap().needs;
        assert_eq!(read.pattern.as_str(), scarf().pattern);
        let areas: Vec<Option<f64>> = read.pieces[0].extents.iter().map(|e| e.area()).collect();
        assert!((areas[0].unwrap() - 0.36).abs() < 1e-12);
        assert!((areas[1].unwrap() - 0.54).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn prop_no_text_breaks_out_of_its_place(text in ".{0,40}", many in proptest::collection::vec(".{0,20}", 0..4)) {
            let template = NeedsTemplate {
                pattern: text.clone(),
                gauge: text.clone(),
                shape: text.clone(),
                sizes: many.clone(),
                width: many,
                mass: text,
                ..scarf()
            };
            let tree: toml::Table = write_template(&template).parse().unwrap();
            let known = ["pattern", "sizes", "gauge", "yarn", "piece", "sample"];
            prop_assert!(tree.keys().all(|key| known.contains(&key.as_str())));
        }
    }
}

//! A pattern file written, to be read and edited by hand.

use super::{gauge::gauge_and_beyond, needs::one_need};
use crate::{
    files::value::{self, text_of},
    label::cells::written,
    record::{Name, Pattern, PatternYarn, Printed, Size, YarnFacts},
};
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

    fn printed<T: value::Value>(&mut self, key: &str, value: Option<&Printed<T>>) {
        self.maybe(key, value.map(text_of));
    }
}

fn head(pattern: &Pattern) -> Lines {
    let mut lines = Lines::default();
    lines.put("pattern", pattern.name.as_str());
    lines.put("purpose", pattern.purpose.name());
    lines.put("fit", pattern.fit.name());
    if let Some(gauge) = &pattern.gauge {
        let (text, beyond) = gauge_and_beyond(gauge);
        lines.put("gauge", text);
        for (key, value) in beyond {
            lines.put(key, value);
        }
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
    lines.maybe("held_with", yarn.held_with.as_ref().map(Name::as_str));
    lines.text.push_str(&needs_line(yarn, pattern));
}

fn reference_lines(facts: &YarnFacts, lines: &mut Lines) {
    lines.printed("length", facts.length.as_ref());
    lines.printed("mass", facts.mass.as_ref());
    lines.printed("count", facts.count.as_ref());
    lines.printed("class", facts.class.as_ref());
    lines.printed("fibre", facts.blend.as_ref());
    lines.maybe("construction", written::construction_text(facts));
    lines.maybe("plies", facts.plies.map(i64::from));
    lines.printed("gauge", facts.gauge.as_ref());
    lines.printed("needle", facts.needles.as_ref());
    lines.printed("care", facts.care.as_ref());
    lines.printed("price", facts.price.as_ref());
}

/// One text a size; where the line would be long, one a line with its size.
fn needs_line(yarn: &PatternYarn, pattern: &Pattern) -> String {
    let read = |text: &str| one_need(text, &yarn.reference);
    let texts: Vec<String> = yarn
        .needs
        .iter()
        .map(|need| Value::from(written::text_of(need, read, written::need)).to_string())
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        files::pattern_file::read_pattern,
        label::cells::{self, Cell},
        record::{Fit, FlatOrRound, Need, Purpose, StatedGauge, Stitch},
    };
    use proptest::{collection::vec, option, prelude::*, sample::select};

    fn again(pattern: &Pattern) -> Pattern {
        let text = write_pattern(pattern);
        match read_pattern("p.toml", text.as_bytes()) {
            Ok(reading) => reading.pattern,
            Err(error) => panic!("{error}\n{text}"),
        }
    }

    fn cell<T: Clone + std::fmt::Debug + 'static>(
        texts: &'static [&'static str],
        read: impl Fn(&str) -> Cell<T> + 'static,
    ) -> impl Strategy<Value = Option<Printed<T>>> {
        let printed = move |text: &str| Printed::new(text, read(text).unwrap().value);
        option::of(select(texts).prop_map(printed))
    }

    prop_compose! {
        fn gauge()(
            gauge in cell(&["22 sts x 30 rows / 10 cm", "20-22 sts / 4 in"], cells::gauge),
            stitch in option::of(select(&["stockinette", "moss \"stitch\"", "2x2 rib"][..])),
            worked in option::of(select(&[FlatOrRound::Flat, FlatOrRound::InTheRound][..])),
            washed in option::of(any::<bool>()),
            strands in option::of(1u8..5),
        ) -> Option<Printed<StatedGauge>> {
            let mut gauge = gauge?;
            gauge.value = StatedGauge {
                stitch: stitch.map(Stitch::named),
                worked,
                washed,
                strands,
                ..StatedGauge::bare(gauge.value.gauge)
            };
            Some(gauge)
        }
    }

    fn facts() -> impl Strategy<Value = YarnFacts> {
        (
            cell(&["125 m", "137 yd"], cells::length),
            cell(&["50 g", "1 3/4 oz"], cells::mass),
            cell(&["2/14 Nm"], cells::count),
            cell(&["DK", "lace"], cells::class),
            cell(&["75% wool 25% nylon"], cells::blend),
            cell(&["4 mm"], cells::needles),
            cell(&["hand wash"], cells::care),
            cell(&["6.50 GBP"], cells::price),
            option::of(1u8..9),
        )
            .prop_map(|facts| YarnFacts {
                length: facts.0,
                mass: facts.1,
                count: facts.2,
                class: facts.3,
                blend: facts.4,
                needles: facts.5,
                care: facts.6,
                price: facts.7,
                plies: facts.8,
                ..YarnFacts::default()
            })
    }

    fn size(name: &str) -> impl Strategy<Value = Size> + use<> {
        let name = Name::new("a size", name).unwrap();
        (
            cell(&["104 cm", "40 in"], cells::length),
            cell(&["60 cm"], cells::length),
            option::of(1u32..400),
            option::of(1u32..400),
        )
            .prop_map(move |(width, height, cast_on, rows)| Size {
                name: name.clone(),
                width,
                height,
                cast_on,
                rows,
            })
    }

    fn needs(sizes: usize) -> impl Strategy<Value = Vec<Printed<Need>>> {
        let texts: &[&str] = &["650 g", "900-1100 m", "812 yd", "9 x 200 yd"];
        let printed = |text: &str| {
            let read = cells::needs(text, &YarnFacts::default()).unwrap().value;
            Printed::new(text, read[0].1)
        };
        vec(select(texts).prop_map(printed), sizes)
    }

    prop_compose! {
        fn yarn(sizes: usize)(
            key in select(&["A", "MC", "yarn #1 \"x\""][..]),
            called in option::of("[a-z,\"' \n]{1,9}"),
            reference in facts(),
            strands in 1u8..4,
            needs in needs(sizes),
        ) -> PatternYarn {
            let key = Name::new("a key", key).unwrap();
            PatternYarn { key, called, reference, strands, held_with: None, needs }
        }
    }

    prop_compose! {
        fn pattern()(sizes in select(&[1_usize, 2, 7][..]))(
            name in "[a-zé\"']{1,9}",
            purpose in select(&Purpose::ALL[..]),
            fit in select(&Fit::ALL[..]),
            gauge in gauge(),
            multiple in cell(&["4 + 2", "6"], cells::multiple),
            care in cell(&["hand wash"], cells::care),
            tolerance in cell(&["8 %", "15 m/100 g"], cells::tolerance),
            margin_included in option::of(any::<bool>()),
            sizes in ["XS", "S", "M", "L", "XL", "2XL", "3XL"]
                .into_iter().take(sizes).map(size).collect::<Vec<_>>(),
            yarns in vec(yarn(sizes), 1),
            notes in any::<String>(),
        ) -> Pattern {
            Pattern {
                name: Name::new("a name", &name).unwrap(),
                purpose, fit, gauge, multiple, care, tolerance, margin_included,
                sizes, yarns, notes,
            }
        }
    }

    proptest! {
        #[test]
        fn prop_a_pattern_written_reads_back_the_same(pattern in pattern()) {
            prop_assert_eq!(again(&pattern), pattern);
        }

        #[test]
        fn prop_a_pattern_read_is_written_as_the_same_text(pattern in pattern()) {
            prop_assert_eq!(write_pattern(&again(&pattern)), write_pattern(&pattern));
        }
    }
}

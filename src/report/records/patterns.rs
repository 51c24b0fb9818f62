//! Patterns, listed and shown.

use crate::{
    app::{PatternAnswer, PatternList, YarnMap},
    record::Pattern,
    report::{
        Bars, Map, Notice, Page, Picture, Render, Style, Table,
        facts_words::facts_in_style,
        gauge_words,
        json::fields_of,
        listing::{ListFields, ShortAnswer, list_fields, list_page},
        measures_of_sizes, sizes_as_patterns_write_them,
    },
    words::count_of_items,
};

fn sizes(pattern: &Pattern) -> Vec<String> {
    let sizes = pattern.sizes.iter().map(|size| size.name.to_string());
    sizes.collect()
}

/// Keys of its yarns.
fn keys(pattern: &Pattern) -> Vec<String> {
    let yarns = pattern.yarns.iter();
    yarns.map(|yarn| yarn.key.to_string()).collect()
}

fields_of! {
    /// A pattern of your records.
    PatternRow(pattern: &Pattern) {
        /// Its name.
        name: String = pattern.name.to_string(),
        /// What it makes.
        purpose: &'static str = pattern.purpose.name(),
        /// Its sizes.
        sizes: Vec<String> = sizes(pattern),
        /// Keys of its yarns.
        yarns: Vec<String> = keys(pattern),
    }
}

impl Render for PatternList {
    type Fields = ListFields<PatternRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.0, PatternRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.0)
            .left("pattern", |pattern| pattern.name.to_string())
            .left("for", |pattern| pattern.purpose.name())
            .left("sizes", |pattern| {
                sizes_as_patterns_write_them(sizes(pattern))
            })
            .left("yarns", |pattern| keys(pattern).join(", "));
        let empty = "You have no patterns yet: add one with `pattern add`, or import one with `import pattern FILE`.";
        let title = match self.0.len() {
            0 => "Your patterns".to_owned(),
            count => format!("Your {}", count_of_items(count, "pattern")),
        };
        list_page(title, table, empty)
    }
}

impl ShortAnswer for PatternAnswer {
    /// What is kept of one pattern.
    fn notice(&self, style: &Style) -> Notice {
        pattern_notice(self.0.name.to_string(), &self.0, style)
    }
}

/// What is kept of a pattern, with pictures: what its sizes take, and where yarns lie
/// around what its yarns want.
pub fn pattern_page(
    pattern: &PatternAnswer,
    maps: &[(Vec<String>, YarnMap)],
    style: &Style,
) -> Page {
    let mut page = pattern.page(style);
    page.picture(amounts(pattern, style).map(Picture::Bars));
    for (keys, map) in maps {
        let keys: &[String] = if maps.len() > 1 { keys } else { &[] };
        page.picture(Some(Picture::Map(Map::new(map, keys, style))));
    }
    page
}

fn amounts(pattern: &PatternAnswer, style: &Style) -> Option<Bars> {
    let known = pattern.amounts()?;
    let (unit, per_unit) = match known.in_metres {
        true => {
            let [unit, _] = style.ordered("m", "yd");
            (unit, style.per_metre())
        }
        false => ("g", 1.0),
    };
    let parts = keys(&pattern.0);
    let (what, parts) = match parts.as_slice() {
        [_] => ("", vec![format!("yarn needed, {unit}")]),
        _ => (" by yarn", parts),
    };
    let amounts = known.sizes.into_iter().map(|(size, amounts)| {
        let amounts = amounts.into_iter().map(|amount| amount * per_unit);
        (String::new(), size, amounts.collect())
    });
    let title = format!("Yarn for each size{what}, {unit}");
    Bars::of_amounts(&title, "", (parts, unit), amounts.collect())
}

/// A pattern that was saved from its fields: what was read, and what was assumed.
pub(in crate::report) fn pattern_entered(
    pattern: &Pattern,
    fit_assumed: bool,
    style: &Style,
) -> Notice {
    let done = format!("Pattern {} saved", pattern.name);
    let assumed = fit_assumed.then(|| {
        let (fit, purpose) = (pattern.fit.name(), pattern.purpose.name());
        format!("Assumed: {fit} fit, as is usual for {purpose} (you did not say).")
    });
    pattern_notice(done, pattern, style).knowing(assumed)
}

/// A sentence, and what the pattern says.
fn pattern_notice(done: String, pattern: &Pattern, style: &Style) -> Notice {
    let gauge = pattern.gauge.as_ref();
    let gauge = gauge.map(|gauge| gauge_words(&gauge.value.gauge));
    let margin = match pattern.margin_included {
        Some(true) => "included",
        Some(false) => "not included",
        None => "not stated",
    };
    let worn = format!("{}, {}", pattern.purpose.name(), pattern.fit.name());
    let notice = Notice::of(done)
        .detail("for", worn)
        .detail("gauge", gauge.unwrap_or_else(|| "not stated".to_owned()))
        .detail("sizes", sizes_as_patterns_write_them(sizes(pattern)))
        .detail("spare yarn in the amounts", margin);
    pattern.yarns.iter().fold(notice, |notice, yarn| {
        let needs: Vec<String> = yarn.needs.iter().map(|need| need.text.clone()).collect();
        let called = yarn.called.as_ref().map(|called| format!("{called}: "));
        let known = facts_in_style(&yarn.reference, None, style);
        let with = yarn.held_with.as_ref();
        let with = with.map_or_else(String::new, |with| format!("; held together with {with}"));
        let known = called.unwrap_or_default() + &known + &with;
        notice.detail(format!("yarn {}", yarn.key), known).detail(
            format!("yarn {} needed", yarn.key),
            measures_of_sizes(&needs),
        )
    })
}

//! The sentences of an answer to `gauge`, and of what is wrong with a gauge.

use crate::{
    app::{GaugeAnswer, GaugeChange, GaugeFault, GaugeSource, Growth, Keep, SwatchDifference},
    measure::NeedleSize,
    quantity::SPREAD,
    record::Stitch,
    report::{Style, gauge_change::gauge_change_sentence, gauge_words, working_sentences},
    words::{count_of, number, safe},
};

fn needle_words(needle: NeedleSize) -> String {
    format!("{} mm", number(needle.as_millimetres(), 2))
}

/// Where the own gauge comes from.
pub(super) fn source(source: &GaugeSource) -> String {
    match source {
        GaugeSource::Given { .. } => "the gauge you gave".to_owned(),
        GaugeSource::Swatch {
            yarn,
            needle,
            measured_on,
            washed,
            ..
        } => format!(
            "your swatch of {yarn} on {}, {measured_on}, {} washing",
            needle_words(*needle),
            if *washed { "after" } else { "before" }
        ),
        GaugeSource::Label { yarn, factor } => format!(
            "expected: the label gauge of {yarn} x {} (your tendency)",
            number(*factor, 4)
        ),
    }
}

/// From which swatches the growth is known.
pub(super) fn growth_source(growth: &Growth) -> String {
    let swatches = u32::try_from(growth.swatches).map_or(f64::INFINITY, f64::from);
    format!("{} measured before and after", count_of(swatches, "swatch"))
}

pub(super) fn growth(growth: &Growth) -> String {
    let along = growth.growth.along.map_or_else(
        || "; along the rows it is not known".to_owned(),
        |along| format!(", {} along the rows", grown(along)),
    );
    let applied = growth.applied_to.as_ref().map_or_else(
        || "Your gauge was counted after washing, so that is in it already.".to_owned(),
        |before| {
            format!(
                "That is counted in: before washing your gauge was {}.",
                gauge_words(before)
            )
        },
    );
    format!(
        "In the wash this fabric came out {} across the stitches{along} (from {}). {applied}",
        grown(growth.growth.across),
        growth_source(growth),
    )
}

/// `4.8 % longer`.
fn grown(factor: f64) -> String {
    let percent = number((factor - 1.0).abs() * 100.0, 1);
    match factor {
        factor if factor > 1.0 => format!("{percent} % longer"),
        factor if factor < 1.0 => format!("{percent} % shorter"),
        _ => "as long as before".to_owned(),
    }
}

/// The own tendency against labels, whether it was used or not.
pub(super) fn tendency(answer: &GaugeAnswer, style: &Style) -> String {
    let tendency = &answer.tendency;
    let Some(ratio) = tendency.mean_ratio() else {
        return "You have no washed swatch in stockinette of a yarn with a label gauge (n = 0): no tendency is known.".to_owned();
    };
    let way = match ratio {
        ratio if ratio > 1.0 => "tighter than",
        ratio if ratio < 1.0 => "looser than",
        _ => "as",
    };
    let used = if answer.own.source.is_expected() {
        "Used here, as you asked".to_owned()
    } else {
        let field = style.field("own-tendency");
        format!("Not used here; {field} lets it stand in for a swatch")
    };
    format!(
        "n = {}, mean of own gauge / label gauge {} (geometric): you work {way} labels say. Shrunk by n / (n + {}) while swatches are few, that is a factor of {}. {used}.",
        count_of(f64::from(tendency.swatches), "swatch"),
        number(ratio, 4),
        number(SPREAD, 0),
        number(tendency.factor(), 4),
    )
}

/// How the answer was computed, a sentence each.
pub(super) fn working(answer: &GaugeAnswer, style: &Style) -> Vec<String> {
    let k = |keep: Keep| number(keep.need_factor(answer.ratio), 4);
    let sums = [
        gauge_change_sentence(
            &GaugeChange {
                ratio: answer.ratio,
                reading: answer.reading,
            },
            style,
        ),
        format!(
            "Yarn per area goes with sqrt(stitches x rows) per area (plain-knit geometry): stitch counts as written and lengths measured use {} times the yarn, all counts as written {} times, counts reworked for the same size {} times.",
            k(Keep::Stitches),
            k(Keep::Counts),
            k(Keep::Size)
        ),
    ];
    let source = source_working(&answer.own.source, style);
    let basis = working_sentences(&answer.margin_basis, style);
    source.into_iter().chain(sums).chain(basis).collect()
}

fn source_working(source: &GaugeSource, style: &Style) -> Option<String> {
    match source {
        GaugeSource::Given { washed: None } => Some("Assumed: the gauge you gave was counted after washing; write `before washing` where it was not.".to_owned()),
        GaugeSource::Swatch { of, .. } if *of > 1 => Some(format!(
            "You have {of} swatches of it: one in the pattern's stitch goes before others, a washed one before unwashed ones, then the one saved last. Choose the needle with {}.",
            style.field("needle")
        )),
        GaugeSource::Label { .. } => {
            Some("The tendency is one of stitches; rows are assumed to follow it.".to_owned())
        }
        GaugeSource::Given { .. } | GaugeSource::Swatch { .. } => None,
    }
}

/// The notes.
pub(super) fn warnings(answer: &GaugeAnswer, style: &Style) -> Vec<String> {
    let own = &answer.own;
    let told = |applies: bool, sentence: &str| applies.then(|| sentence.to_owned());
    let pattern = told(
        !answer.pattern_says_over,
        "The pattern's gauge does not say over what length: assumed 10 cm; over 4 in the sizes would be 1.6 % larger.",
    );
    let of_own = [
        told(
            own.is_unwashed(),
            "This gauge was counted before washing, and you have no swatch of the yarn from before and after: wash it, dry it and count again.",
        ),
        told(
            own.source.is_expected(),
            "This gauge is expected from a label, not measured: swatch before you rely on it.",
        ),
    ];
    let open = [
        told(
            answer.ratio.rows.is_none(),
            "Row counts are not known: one of the gauges states no rows. Work to the pattern's lengths by tape.",
        ),
        told(
            answer.has_open_size,
            "A size without width and cast-on in the pattern is left open.",
        ),
    ];
    let differences = own.differences.iter().map(difference);
    let uncounted = answer.uncounted.iter().map(|yarn| {
        format!("Not known how many to buy of {yarn}: the length of one is not known.")
    });
    pattern
        .into_iter()
        .chain(style.notes(&answer.notes))
        .chain(of_own.into_iter().flatten())
        .chain(differences)
        .chain(uncounted)
        .chain(open.into_iter().flatten())
        .collect()
}

fn difference(difference: &SwatchDifference) -> String {
    let name = |stitch: &Option<Stitch>| {
        let stitch = stitch.as_ref();
        let name = stitch.map_or("stockinette (none is stated)", Stitch::name);
        name.to_owned()
    };
    match difference {
        SwatchDifference::Stitch { swatch, pattern } => format!(
            "The swatch is in {}, the pattern's gauge in {}: swatch in the pattern's stitch.",
            name(swatch),
            name(pattern)
        ),
        SwatchDifference::FlatOrRound { swatch, pattern } => format!(
            "The swatch was worked {}, the pattern is worked {}: gauge can differ between the two.",
            swatch.name(),
            pattern.name()
        ),
        SwatchDifference::Strands { swatch, pattern } => format!(
            "The swatch holds {}, the pattern {pattern}: swatch with as many.",
            count_of(f64::from(*swatch), "strand")
        ),
    }
}

/// What is wrong with a gauge.
pub(in crate::report) fn gauge_fault_words(fault: &GaugeFault, style: &Style) -> String {
    match fault {
        GaugeFault::OverNoLength(given) => format!(
            "`{}` does not say over what length: add `/ 10 cm` or `/ 4 in`",
            safe(given)
        ),
        GaugeFault::WithoutRows(given) => format!(
            "`{}` has no rows: add them, as in `22 sts x 30 rows / 10 cm`",
            safe(given)
        ),
        GaugeFault::Unknown { swatch_of } => format!(
            "your gauge is not known: write it, or give {}, a yarn that you have a swatch of",
            style.field(swatch_of)
        ),
        GaugeFault::NoSwatch {
            yarn,
            is_strand,
            needle,
        } => no_swatch((yarn, *is_strand), *needle, style),
        GaugeFault::NotInPattern(pattern) => format!(
            "pattern {} has no gauge: add `gauge = \"22 sts x 30 rows / 10 cm\"` {}",
            safe(pattern),
            style.either(
                "to its file and import it with --update",
                "to its text under Patterns"
            )
        ),
    }
}

fn no_swatch((yarn, is_strand): (&str, bool), needle: Option<NeedleSize>, style: &Style) -> String {
    let needle = needle.map(|needle| format!(" on {} mm", number(needle.as_millimetres(), 2)));
    let (yarn, needle) = (safe(yarn), needle.unwrap_or_default());
    let own = style.field("own-gauge");
    if is_strand {
        let save = style.either(
            "with `swatch add` and `--held-with`",
            "on the page of either yarn",
        );
        return format!("you have no swatch of {yarn}{needle}: save one {save}, or write {own}");
    }
    format!(
        "you have no swatch of {yarn}{needle}: save one {}, write {own}, or use its label with {}",
        style.either("with `swatch add`", "on the page of that yarn"),
        style.field("own-tendency")
    )
}

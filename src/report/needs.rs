//! Needs of every size from what was knitted and weighed.

use super::{
    Bars, Page, Picture, Render, Role, Style, Table,
    json::{fields_of, list},
    judgement::each_once,
    needs_progress::progress_page,
    per_size::counts_of_sizes,
    sizes_as_patterns_write_them,
};
use crate::{
    app::{NeedsAnswer, NeedsProgress, PieceYarn, SampleCheck, StatedNeeds, StitchRate, YarnNeed},
    files::needs_file::NeedsYarn,
    label::cells::Step,
    measure::units::YARD_M,
    quantity::{Basis, GEOMETRY_TOLERANCE},
    words::{number, signed},
};

fields_of! {
    /// What every size needs, from what was knitted and weighed.
    NeedsFields(answer: &NeedsAnswer, style: &Style) {
        /// The pattern.
        pattern: String = answer.pattern.to_string(),
        /// `area` (fabric in m2) or `stitches`.
        basis: &'static str = match answer.basis {
            Basis::Area => "area",
            Basis::Stitches => "stitches",
        },
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.stated.margin.as_percent(),
        /// The yarns.
        yarns: Vec<NeedsYarnFields> =
            list(&answer.yarns, |yarn| NeedsYarnFields::of(yarn, style)),
        /// What each stitch takes.
        rates: Vec<StitchRate> = answer.rates.clone(),
        /// How well the samples predict each other.
        left_out: Vec<SampleCheck> = answer.samples.clone(),
        /// What each size needs of each yarn.
        needs: Vec<YarnNeed> = answer.needs.clone(),
        /// What each piece needs.
        pieces: Vec<PieceYarn> = answer.pieces.clone(),
        /// How far a size is knitted, where that was asked.
        progress: Option<NeedsProgress> = answer.progress.clone(),
        /// How it was worked out.
        working: Vec<String> = answer.working(style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = answer.warnings(style),
    }
}

fields_of! {
    /// A yarn of what was weighed.
    NeedsYarnFields(yarn: &NeedsYarn, style: &Style) {
        /// Its key.
        yarn: String = yarn.key.to_string(),
        /// Its name.
        called: Option<String> = yarn.called.as_ref().map(ToString::to_string),
        /// One skein: its length and weight.
        put_up: String = put_up(yarn, style),
    }
}

impl Render for NeedsAnswer {
    type Fields = NeedsFields;

    fn fields(&self) -> Self::Fields {
        NeedsFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        match &self.progress {
            Some(progress) => progress_page(self, progress, style),
            None => self.all_sizes(style),
        }
    }
}

impl NeedsAnswer {
    fn all_sizes(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("{}: yarn for every size", self.pattern));
        for yarn in &self.yarns {
            page.text(Role::Plain, self.materials_line(yarn, style));
        }
        page.section(match number(self.stated.margin.as_percent(), 2).as_str() {
            "0" => "Yarn needed, no spare added".to_owned(),
            spare => format!("Yarn needed, {spare} % spare counted in"),
        });
        page.table(self.needs_table(style));
        page.picture(self.bars(style).map(Picture::Bars));
        page.section("Yarn for each stitch");
        page.table(self.rates_table());
        let samples: Vec<String> = self.samples.iter().map(sample_words).collect();
        page.part("Each sample predicted from the rest", Role::Plain, &samples);
        let mut each_piece = Page::default();
        each_piece.table(self.each_piece_table());
        page.details("What each piece takes, g, without spare", each_piece);
        let mut pieces = Page::default();
        pieces.table(self.pieces_table());
        page.details("What the pieces use, without spare", pieces);
        page.working(&self.working(style), &self.warnings(style));
        page
    }
}

/// What a piece is called.
fn called(piece: &PieceYarn) -> String {
    let piece = piece.piece.as_deref();
    piece.unwrap_or("edges and tails").to_owned()
}

fn put_up(yarn: &NeedsYarn, style: &Style) -> String {
    style.skein(yarn.facts.skein_length(), yarn.facts.skein_mass())
}

/// What a pattern file that was made of the needs says of them.
pub fn needs_note(answer: &NeedsAnswer) -> String {
    format!(
        "Worked out from what you knitted and weighed, with {} % spare.",
        number(answer.stated.margin.as_percent(), 2)
    )
}

impl NeedsAnswer {
    /// `A: 11 (11) skeins of ...; that is 1240 (1320) m, 1357 (1444) yd or 517 (550) g`.
    fn materials_line(&self, yarn: &NeedsYarn, style: &Style) -> String {
        let of_yarn = |need: &&YarnNeed| need.yarn == yarn.key.as_str();
        let needs: Vec<&YarnNeed> = self.needs.iter().filter(of_yarn).collect();
        let each = |value: fn(&YarnNeed) -> String| {
            sizes_as_patterns_write_them(needs.iter().map(|need| value(need)))
        };
        let [first, second] = style.ordered(
            format!("{} m", each(|need| number(need.stated_m, 0))),
            format!("{} yd", each(|need| number(need.stated_m / YARD_M, 0))),
        );
        let skeins = |need: &&YarnNeed| need.skeins.map_or("?".to_owned(), |n| n.to_string());
        let called = yarn.called.iter().map(|called| format!(", {called}"));
        format!(
            "{}{}: {} of {}; that is {first}, {second} or {} g",
            yarn.key,
            called.collect::<String>(),
            counts_of_sizes(needs.iter().map(skeins), yarn.facts.counter()),
            put_up(yarn, style),
            each(|need| number(need.stated_g, 0)),
        )
    }

    fn needs_table(&self, style: &Style) -> Table {
        let words = each_once(
            self.yarns
                .iter()
                .map(|yarn| yarn.facts.counter().to_owned()),
        );
        let word = match words.as_slice() {
            [one] => one,
            _ => "skein",
        };
        let columns = Table::of(&self.needs)
            .left("size", |need| need.size.as_str())
            .left("yarn", |need| self.yarn_of(need))
            .pair(style, "", ["m", "yd"], |need| {
                [need.stated_m, need.stated_m / YARD_M].map(|length| number(length, 0))
            })
            .right("g", |need| number(need.stated_g, 0))
            .right(&format!("{word}s"), |need| need.skeins);
        columns.into()
    }

    /// The yarn of a row, where there are several.
    fn yarn_of<'a>(&self, need: &'a YarnNeed) -> Option<&'a str> {
        (self.yarns.len() > 1).then_some(need.yarn.as_str())
    }

    fn pieces_table(&self) -> Table {
        let (fabric, per_unit) = match self.basis {
            Basis::Area => ("fabric cm2", 1e4),
            Basis::Stitches => ("stitches", 1.0),
        };
        let percent = |percent: f64| format!("{} %", signed(percent, 1));
        let columns = Table::of(&self.needs)
            .left("size", |need| need.size.as_str())
            .left("yarn", |need| self.yarn_of(need))
            .right(fabric, |need| number(need.fabric * per_unit, 0))
            .right("they use m", |need| number(need.need_m, 1))
            .right("g", |need| number(need.need_g, 1))
            .right("of that edges m", |need| number(need.edges_m, 1))
            .right("times the first", |need| number(need.growth, 3))
            .right("against plain knitting", |need| {
                need.geometry_percent.map(percent)
            });
        columns.into()
    }

    /// Grams of each piece, a column for each size.
    fn each_piece_table(&self) -> Table {
        let sizes = each_once(self.needs.iter().map(|need| need.size.clone()));
        let first = sizes.first().map_or("", String::as_str);
        let rows = self.pieces.iter().filter(|piece| piece.size == first);
        let yarn_of = |row: &PieceYarn| (self.yarns.len() > 1).then(|| row.yarn.clone());
        let columns = Table::of(rows).left("piece", called).left("yarn", yarn_of);
        let with_sizes = sizes.iter().fold(columns, |columns, size| {
            columns.right(size, |row| {
                let is_it = |piece: &&PieceYarn| {
                    piece.size == *size && piece.yarn == row.yarn && piece.piece == row.piece
                };
                let grams = self.pieces.iter().find(is_it).map(|piece| piece.grams);
                grams.map(|grams| number(grams, 0))
            })
        });
        with_sizes.into()
    }

    /// What the pieces of each size take, as bars; yarn by yarn.
    fn bars(&self, style: &Style) -> Option<Bars> {
        let parts = each_once(self.pieces.iter().map(called));
        let amounts = self.needs.iter().map(|need| {
            let of_bar = |piece: &&PieceYarn| piece.yarn == need.yarn && piece.size == need.size;
            let taken: Vec<&PieceYarn> = self.pieces.iter().filter(of_bar).collect();
            let part = |part: &String| {
                let alike = taken.iter().filter(|piece| called(piece) == *part);
                alike.map(|piece| piece.metres).sum::<f64>() * style.per_metre()
            };
            let group = match self.yarns.len() {
                1 => String::new(),
                _ => need.yarn.clone(),
            };
            (group, need.size.clone(), parts.iter().map(part).collect())
        });
        let [unit, _] = style.ordered("m", "yd");
        let title = format!("Yarn for each size by piece, {unit}, without spare");
        let amounts = amounts.collect();
        Bars::of_amounts(&title, "yarn", (parts.clone(), unit), amounts)
    }

    fn rates_table(&self) -> Table {
        let show = |value: Option<f64>, places| value.map(|value| number(value, places));
        let columns = Table::of(&self.rates)
            .left("stitch", |rate| rate.stitch.as_str())
            .right("m per m2", |rate| show(rate.m_per_m2, 1))
            .right("g per m2", |rate| show(rate.g_per_m2, 1))
            .right("cm per stitch", |rate| {
                show(rate.m_per_stitch.map(|metres| metres * 100.0), 2)
            })
            .right("stitches per g", |rate| {
                show(rate.g_per_stitch.map(|grams| 1.0 / grams), 1)
            })
            .right("times plain knitting", |rate| {
                show(rate.plain_knit_factor, 3)
            })
            .left("", |rate| {
                if rate.learned {
                    "weighed"
                } else {
                    "your figure"
                }
            });
        columns.into()
    }

    /// How the answer was derived, a sentence each.
    fn working(&self, style: &Style) -> Vec<String> {
        let margin = self.stated.margin_is_usual.then(|| {
            format!(
                "Assumed: {} % spare (common practice); set your own with `margin` or {}.",
                number(self.stated.margin.as_percent(), 2),
                style.field("margin")
            )
        });
        let by_geometry = |need: &YarnNeed| need.geometry_percent.is_some();
        let compared = self.needs.iter().any(by_geometry);
        let not_compared = (!compared).then(|| {
            "Not compared with plain knitting: that needs a gauge with rows, or counts and measurements.".to_owned()
        });
        let derived = [
            stated_words(&self.stated, style),
            basis_words(self.basis).to_owned(),
        ];
        margin
            .into_iter()
            .chain(derived)
            .chain(not_compared)
            .collect()
    }

    fn warnings(&self, style: &Style) -> Vec<String> {
        let file = self.file_notes.iter().map(|note| style.cell_note(note));
        let outside = self.needs.iter().filter_map(outside_geometry);
        let pieces = self.one_measure_grows.iter().map(|piece| {
            format!(
                "{piece}: only one of its measurements changes from size to size; most pieces grow in two, so check it."
            )
        });
        file.chain(style.notes(&self.notes))
            .chain(outside)
            .chain(pieces)
            .collect()
    }
}

fn stated_words(stated: &StatedNeeds, style: &Style) -> String {
    let step = match stated.step {
        Step::Length(length) => style.length(length),
        Step::Mass(mass) => format!("{} g", number(mass.as_grams(), 2)),
    };
    format!(
        "Yarn needed = what the pieces use x {}, rounded up to whole steps of {step}; skeins are rounded up with the spare yarn.",
        number(1.0 + stated.margin.as_fraction(), 4)
    )
}

fn basis_words(basis: Basis) -> &'static str {
    match basis {
        Basis::Area => {
            "What the pieces use = metres per area of each stitch, times the area of each piece, so it grows with width and height; and the yarn of edges and tails. The yarn for a stitch comes from what you weighed, without edges, or is your own figure."
        }
        Basis::Stitches => {
            "What the pieces use = metres per stitch, times the stitches of each piece, and the yarn of edges and tails. The yarn for a stitch comes from what you weighed, without edges, or is your own figure."
        }
    }
}

/// A size whose gauge and counts say another need.
fn outside_geometry(need: &YarnNeed) -> Option<String> {
    Some(format!(
        "Size {}, yarn {}: plain knitting at its gauge or counts would use {} % compared with what you weighed ({} % either way is fine): check the measurements, rows and gauge of this size.",
        need.size,
        need.yarn,
        signed(need.outside_geometry()?, 1),
        number(GEOMETRY_TOLERANCE * 100.0, 0)
    ))
}

fn sample_words(check: &SampleCheck) -> String {
    let others = match check.error_percent {
        Some(percent) => match number(percent.abs(), 1).as_str() {
            "0" => "the rest predict the same".to_owned(),
            off if percent > 0.0 => format!("the rest predict {off} % more"),
            off => format!("the rest predict {off} % less"),
        },
        None => "the rest cannot predict it".to_owned(),
    };
    let weighed = number(check.weighed_g, 2);
    format!("{}, {weighed} g weighed: {others}", check.sample)
}

#[cfg(test)]
mod tests {
    use crate::{
        app::{AppError, FormData, NeedsTemplateRequest, from_form, needs_template},
        report::{Style, fault_words},
    };

    const SCARF: [(&str, &str); 8] = [
        ("pattern", "Scarf"),
        ("sizes", "short\nlong"),
        ("put-up", "120 m / 50 g"),
        ("shape", "rectangle"),
        ("width", "30 cm"),
        ("height", "120 cm\n180 cm"),
        ("size", "short"),
        ("mass", "150 g"),
    ];

    fn with(field: &str, text: &str) -> Result<String, AppError> {
        let mut typed: FormData = SCARF.into_iter().collect();
        typed.set(field, text);
        needs_template(&from_form::<NeedsTemplateRequest>(&typed)?)
    }

    #[test]
    fn a_fault_is_told_of_the_field_that_it_came_from() {
        assert!(with("gauge", "22 sts x 30 rows / 10 cm").is_ok());
        for (field, text) in [
            ("pattern", ""),
            ("sizes", "S\nS"),
            ("put-up", ""),
            ("put-up", "120 m"),
            ("gauge", "tight"),
            ("shape", "star"),
            ("width", "wide"),
            ("width", ""),
            ("height", "1 m\n2 m\n3 m"),
            ("top", "20 cm"),
            ("times", "some"),
            ("size", "XL"),
            ("size", ""),
            ("mass", ""),
            ("mass", "heavy"),
            ("before", "200 g"),
            ("after", "20 g"),
            ("margin", "lots"),
        ] {
            match with(field, text) {
                Err(AppError::Faults(faults)) => {
                    let fields: Vec<&str> = faults.iter().map(|f| f.field.as_str()).collect();
                    assert!(fields.contains(&field), "{field} `{text}`: {faults:?}");
                    for fault in &faults {
                        let said = fault_words(fault, &Style::default());
                        // `50 g = 135 m` is a label, `width = "30 cm"` a file.
                        let is_of_file = said.contains(" = \"") || said.contains(" = [");
                        assert!(!is_of_file && !said.contains("list"), "{said}");
                    }
                }
                other => panic!("{field} `{text}`: {other:?}"),
            }
        }
    }
}

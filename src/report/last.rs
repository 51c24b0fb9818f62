//! Whether what is left of a yarn lasts.

use super::{Answer, Bars, Block, Page, Picture, Render, Role, Style, Table, json::fields_of};
use crate::{
    app::{LastAnswer, LastFault, RowShape, RowUseSource, Weighing, YarnLasts},
    measure::{Grist, units::YARD_M},
    quantity::Estimate,
    words::{count_of, number},
};

fields_of! {
    /// Whether what is left of a yarn lasts.
    LastFields(answer: &LastAnswer)
    where ahead = answer.ahead.as_ref(), per_gram = answer.grist.map(Grist::as_metres_per_gram); {
        /// Grams left to knit with, without core and what you save.
        left_g: f64 = answer.left_g,
        /// The same in metres, where metres per gram are known.
        left_m: Option<f64> = answer.metres(answer.left_g),
        /// Grams that you save.
        keep_g: f64 = answer.keep_g,
        /// Grams that the next row needs.
        row_now_g: f64 = answer.row_now_g,
        /// The same in metres.
        row_now_m: Option<f64> = answer.metres(answer.row_now_g),
        /// How many rows it lasts.
        rows_remain: RangeFields = RangeFields::of(answer.rows_remain),
        /// Whole rows that are almost sure.
        stop_after_rows: f64 = stop_after(answer),
        /// Rows after which a narrowing piece has no stitches left.
        ends_after_rows: Option<f64> = answer.ends_after_rows,
        /// Rows that are still to knit.
        rows_left: Option<f64> = ahead.map(|ahead| ahead.rows),
        /// Grams that they need.
        takes_g: Option<f64> = ahead.map(|ahead| ahead.takes_g),
        /// The same in metres.
        takes_m: Option<f64> = ahead.and_then(|ahead| answer.metres(ahead.takes_g)),
        /// Grams to spare; below zero where it does not last.
        spare_g: Option<RangeFields> = ahead.map(|ahead| RangeFields::of(ahead.spare_g)),
        /// The same in metres.
        spare_m: Option<RangeFields> = ahead
            .zip(per_gram)
            .map(|(ahead, per_gram)| RangeFields::of(ahead.spare_g.times(per_gram))),
        /// The same in rows.
        spare_rows: Option<RangeFields> = ahead.map(|ahead| RangeFields::of(ahead.spare_rows)),
        /// `yes`, `no` or `too close to say`.
        lasts: Option<&'static str> = ahead.map(|ahead| match ahead.lasts {
            YarnLasts::Yes => "yes",
            YarnLasts::No => "no",
            YarnLasts::TooClose => "too close to say",
        }),
        /// Of a triangle the part of its rows that is done, in percent.
        rows_done_percent: Option<f64> = answer.triangle_done.map(|(rows, _)| rows * 100.0),
        /// Of a triangle the part of its yarn that is used, in percent.
        yarn_done_percent: Option<f64> = answer.triangle_done.map(|(_, yarn)| yarn * 100.0),
        /// How it was worked out.
        working: Vec<String> = working(answer),
        /// What was noticed in what was typed.
        warnings: Vec<String> = Style::default().notes(&answer.notes),
    }
}

impl Render for LastAnswer {
    type Fields = LastFields;

    fn fields(&self) -> LastFields {
        LastFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled("How far will it go?");
        let (role, verdict) = verdict(self);
        let card = Answer {
            role,
            ..Answer::alone(verdict)
        };
        page.blocks.push(Block::Answer(card));
        if !self.reaches_the_end() {
            let after = match self.ahead {
                Some(_) => count_of(stop_after(self), "more row"),
                None => "them".to_owned(),
            };
            let stop = format!(
                "Bind off or join new yarn after {after}: the yarn is almost sure to last that far."
            );
            page.text(Role::Plain, stop);
        }
        page.picture(self.bars().map(Picture::Bars));
        page.table(self.table(style));
        if let Some((rows, yarn)) = self.triangle_done {
            page.text(
                Role::Plain,
                format!(
                    "{} % of the rows of this triangle are done, and {} % of its yarn is used.",
                    number(rows * 100.0, 0),
                    number(yarn * 100.0, 0)
                ),
            );
        }
        page.working(&working(self), &style.notes(&self.notes));
        page
    }
}

impl LastAnswer {
    /// Whether a piece that narrows closes before the yarn does.
    fn reaches_the_end(&self) -> bool {
        let low = self.rows_remain.low;
        self.ends_after_rows.is_some_and(|end| low >= end - 1e-6)
    }

    /// What was used, what is left and what is still needed, where rows are still to
    /// knit.
    fn bars(&self) -> Option<Bars> {
        let ahead = self.ahead.as_ref()?;
        let amounts = [
            ("used", self.used_g),
            ("left to knit with", Some(self.left_g)),
            ("still to knit", Some(ahead.takes_g)),
        ];
        let amounts = amounts.into_iter().filter_map(|(what, grams)| {
            let grams = vec![grams?];
            Some((String::new(), what.to_owned(), grams))
        });
        let parts = (vec!["yarn, g".to_owned()], "g");
        let bars = Bars::of_amounts("Yarn left and yarn needed, g", "", parts, amounts.collect());
        let named = |bars| Bars {
            heads: [String::new(), "what".to_owned()],
            ..bars
        };
        bars.map(named)
    }

    fn metres(&self, grams: f64) -> Option<f64> {
        Some(grams * self.grist?.as_metres_per_gram())
    }

    /// A row for each measure: a range has more room across than below another.
    fn table(&self, style: &Style) -> Table {
        let per_gram = self.grist.map(|grist| grist.as_metres_per_gram());
        let in_unit = |unit_m: f64| per_gram.map(|per_gram| per_gram / unit_m);
        let [first, second] = style.ordered(("m", in_unit(1.0)), ("yd", in_unit(YARD_M)));
        let measured = [("g", Some(1.0)), first, second].into_iter();
        let measured = measured.filter_map(|(unit, factor)| Some((unit, factor?)));
        let ahead = self.ahead.as_ref();
        let rows = Measure {
            unit: "rows",
            one_row: "1".to_owned(),
            left: range_words(self.rows_remain, 1),
            still: ahead.map(|ahead| number(ahead.rows, 1)),
            spare: ahead.map(|ahead| ahead.spare_rows),
        };
        let others = measured.map(|(unit, factor)| Measure {
            unit,
            one_row: number(self.row_now_g * factor, if unit == "g" { 3 } else { 2 }),
            left: number(self.left_g * factor, 1),
            still: ahead.map(|ahead| number(ahead.takes_g * factor, 1)),
            spare: ahead.map(|ahead| ahead.spare_g.times(factor)),
        });
        let all: Vec<Measure> = std::iter::once(rows).chain(others).collect();
        let is_short = ahead.is_some_and(|ahead| ahead.spare_g.value < 0.0);
        let (left_over, sign) = if is_short {
            ("short by", -1.0)
        } else {
            ("left over", 1.0)
        };
        let columns = Table::of(&all)
            .left("", |measure| measure.unit)
            .right("one row now", |measure| measure.one_row.as_str())
            .right("left to knit with", |measure| measure.left.as_str())
            .right("still to knit", |measure| measure.still.clone())
            .right(left_over, |measure| {
                measure
                    .spare
                    .map(|spare| range_words(turned(spare, sign), 1))
            });
        columns.into()
    }
}

/// What the yarn comes to in one unit.
struct Measure {
    unit: &'static str,
    one_row: String,
    left: String,
    still: Option<String>,
    spare: Option<Estimate>,
}

/// The range itself, or what is missing where the sign is below zero.
fn turned(spare: Estimate, sign: f64) -> Estimate {
    match sign < 0.0 {
        true => Estimate {
            value: -spare.value,
            low: -spare.high,
            high: -spare.low,
        },
        false => spare,
    }
}

fields_of! {
    /// A figure with the range that holds the true value 95 times in 100.
    RangeFields(estimate: Estimate) {
        /// The figure.
        value: f64 = estimate.value,
        /// The low end of the range.
        low: f64 = estimate.low,
        /// The high end of the range.
        high: f64 = estimate.high,
    }
}

/// `12.4 (11 to 13.8)`.
pub(super) fn range_words(estimate: Estimate, places: usize) -> String {
    let Estimate { value, low, high } = estimate;
    let [value, low, high] = [value, low, high].map(|figure| number(figure, places));
    format!("{value} ({low} to {high})")
}

/// Whole rows that are safe.
fn stop_after(answer: &LastAnswer) -> f64 {
    answer.rows_remain.low.floor().max(0.0)
}

fn verdict(answer: &LastAnswer) -> (Role, String) {
    let closes = answer.reaches_the_end();
    let Some(ahead) = &answer.ahead else {
        return if closes {
            let said = "The yarn lasts to the end of the piece.";
            (Role::Good, said.to_owned())
        } else {
            let rows = count_of(stop_after(answer), "more row");
            (Role::Plain, format!("It lasts for {rows}."))
        };
    };
    let rows = count_of(ahead.rows, "row");
    let spare = count_of(ahead.spare_rows.value.abs().round(), "row");
    let spare = format!("about {spare}");
    match ahead.lasts {
        YarnLasts::Yes => (
            Role::Good,
            format!("Yes: it lasts for the {rows} to knit, with {spare} to spare."),
        ),
        YarnLasts::No => (
            Role::Bad,
            format!("No: it does not last for the {rows} to knit; it is short by {spare}."),
        ),
        YarnLasts::TooClose => (
            Role::Doubtful,
            format!("Too close to say whether it lasts for the {rows} to knit."),
        ),
    }
}

/// What is wrong with a request.
pub(super) fn last_fault_words(fault: &LastFault, style: &Style) -> String {
    match fault {
        LastFault::LengthWithoutPutUp => format!(
            "this is a length: add {}, as in `230 m/100 g`",
            style.field("put-up")
        ),
        LastFault::NothingToKnit { left_g, kept_g } => format!(
            "{} g, less {} g for the cone or tube and what you save, leaves nothing to knit with",
            number(*left_g, 2),
            number(*kept_g, 2)
        ),
        LastFault::NothingUsed { before_g, left_g } => format!(
            "nothing was used: {} g before and {} g now",
            number(*before_g, 2),
            number(*left_g, 2)
        ),
        LastFault::NoLabelTolerance(mass) => format!(
            "no tolerance is published for a label of {} g: weigh the ball and give {}",
            number(mass.as_grams(), 2),
            style.field("before")
        ),
        LastFault::FewerThanNoStitches { rows, stitches } => format!(
            "{} ago this piece would have had {} stitches: check these rows, {}, {} and {}",
            count_of(*rows, "row"),
            number(*stitches, 1),
            style.field("rows-done"),
            style.field("stitches"),
            style.field("each")
        ),
    }
}

/// What was counted, a sentence each.
fn working(answer: &LastAnswer) -> Vec<String> {
    let [scale, damp] = weighing_words(&answer.weighing);
    let mut working = vec![scale, damp];
    working.extend(source_words(answer.source));
    working.extend(shape_words(answer.shape).map(str::to_owned));
    working.push(
        "The true value is within the range 95 times in 100, if nothing else is wrong.".to_owned(),
    );
    working
}

fn weighing_words(weighing: &Weighing) -> [String; 2] {
    let scale_g = weighing.scale.as_grams();
    [
        format!(
            "Scale: rounds to {} g, so each weighing is good to {} g either way.",
            number(scale_g, 4),
            number(scale_g / 2.0, 4)
        ),
        format!(
            "Damp: yarn may weigh {} % more or less from one weighing to the next (common practice, no source; 0 % where both were weighed in the same air).",
            number(weighing.damp.as_percent(), 2)
        ),
    ]
}

fn source_words(source: RowUseSource) -> Option<String> {
    match source {
        RowUseSource::Weighed => None,
        RowUseSource::Label { stated, shortfall } => Some(format!(
            "Label: a ball of {} g may fall {} g short (Directive 76/211/EEC, Annex I), at most 1 in 40 by more (UK packers' rules); assumed: 95 of 100 are within that either way.",
            number(stated.as_grams(), 2),
            number(shortfall.as_grams(), 2)
        )),
        RowUseSource::OwnFigure => {
            Some("The yarn for one row is your own figure, assumed exact.".to_owned())
        }
    }
}

/// What a shape means for the yarn.
fn shape_words(shape: RowShape) -> Option<&'static str> {
    match shape {
        RowShape::Straight => None,
        RowShape::Triangle => Some(
            "A triangle uses yarn by its stitches, not by its rows: after a share x of the rows, x squared of the yarn is used.",
        ),
        RowShape::Crescent => {
            Some("Each row needs more yarn than the one before, for the stitches it gains.")
        }
        RowShape::Yoke => {
            Some("Each row needs less yarn than the one before, for the stitches it loses.")
        }
    }
}

//! How many skeins a need takes.

use super::{
    Answer, Block, Page, Render, Role, Style,
    gauge_change::GaugeChangeFields,
    json::fields_of,
    purchase::{
        ChanceFields, ESTIMATED, EstimateFields, SkeinsFields, add_chances, add_skeins, counted,
        estimate_sentences, one_fewer,
    },
    sizes_as_patterns_write_them,
    working::{WORKED_OUT, working_sentences},
};
use crate::{
    app::{SizePurchase, SkeinsAnswer, Working},
    measure::Length,
    words::{capitalized, joined, number},
};

/// What the only yarn is called.
const KEY: &str = "A";

fields_of! {
    /// How many skeins; the fields of the first size that can be counted come first.
    SkeinsAnswerFields(answer: &SkeinsAnswer, style: &Style) {
        #[serde(flatten)]
        first: Option<SkeinsFields> =
            answer.sizes.first().map(|bought| SkeinsFields::of(KEY, bought)),
        /// Each size in order.
        sizes: Vec<SkeinsFields> = lines(&answer.sizes, SkeinsFields::of),
        /// What a need that is a weight may be.
        estimates: Vec<EstimateFields> = lines(&answer.estimates, EstimateFields::of),
        /// One skein: its length and weight.
        put_up: String = put_up_words(answer, style),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.margin.as_percent(),
        /// What another gauge does to the need.
        #[serde(skip_serializing_if = "Option::is_none")]
        gauge_change: Option<GaugeChangeFields> =
            answer.gauge_change.as_ref().map(GaugeChangeFields::of),
        /// The chance of running out, where it was asked for.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        sure: Vec<ChanceFields> = lines(&answer.sure, ChanceFields::of),
        /// How it was worked out.
        working: Vec<String> = working(answer, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
    }
}

impl Render for SkeinsAnswer {
    type Fields = SkeinsAnswerFields;

    fn fields(&self) -> SkeinsAnswerFields {
        SkeinsAnswerFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!(
            "{} of {}",
            capitalized(&format!("{}s", word(self))),
            put_up_words(self, style)
        ));
        if let Some(verdict) = how_many(self, style) {
            page.blocks.push(Block::Answer(Answer::alone(verdict)));
        }
        if let [one] = self.sizes.as_slice() {
            page.text(Role::Plain, of_one(self, one, style));
        } else {
            add_skeins(&mut page, &self.sizes, word(self), style);
        }
        add_chances(&mut page, &self.sure, word(self));
        page.part(
            ESTIMATED,
            Role::Doubtful,
            &estimate_sentences(&self.estimates, word(self), style),
        );
        page.part("Notes", Role::Caution, &style.notes(&self.notes));
        let mut folded = Page::default();
        if self.sizes.len() == 1 {
            add_skeins(&mut folded, &self.sizes, word(self), style);
        }
        folded.items(Role::Aside, &working(self, style));
        page.details(WORKED_OUT, folded);
        page
    }
}

fn word(answer: &SkeinsAnswer) -> &'static str {
    answer.counted_in
}

/// `You need 14 balls.`; nothing where only estimates are known.
fn how_many(answer: &SkeinsAnswer, style: &Style) -> Option<String> {
    let word = word(answer);
    match answer.sizes.as_slice() {
        [] => estimated(answer),
        [one] => {
            let length = style.length_alone(one.purchase.bought);
            let cost = one.cost.iter().map(ToString::to_string);
            let inside = joined(std::iter::once(length).chain(cost), ", ");
            let count = counted(one.purchase.skeins, word);
            Some(format!("You need {count} ({inside})."))
        }
        all => {
            let counts = all.iter().map(|bought| bought.purchase.skeins);
            let counts = sizes_as_patterns_write_them(counts);
            Some(format!("You need {counts} {word}s."))
        }
    }
}

/// `You need about 5 to 10 skeins.`, over all that the yarn of a weight may have been.
fn estimated(answer: &SkeinsAnswer) -> Option<String> {
    let first = &answer.estimates.first()?.size;
    let of_first = answer.estimates.iter().filter(|it| it.size == *first);
    let of_first: Vec<_> = of_first.collect();
    if of_first.len() < answer.estimates.len() {
        return None;
    }
    let fewest = of_first.iter().filter_map(|it| it.fewest).min()?;
    let most: Option<Vec<u32>> = of_first.iter().map(|it| it.most).collect();
    let most = most?.into_iter().max()?;
    let word = word(answer);
    Some(format!("You need about {fewest} to {most} {word}s."))
}

/// What one size needs, what is left over, and what is short with one fewer.
fn of_one(answer: &SkeinsAnswer, one: &SizePurchase, style: &Style) -> String {
    let purchase = &one.purchase;
    let spare = number(answer.margin.as_percent(), 1);
    let left = Length::metres(purchase.left_over_m().max(0.0));
    let left = left
        .map(|left| style.length_alone(left))
        .unwrap_or_default();
    let needs = match spare.as_str() {
        "0" => format!("{} needed", style.length(purchase.need.buy_for)),
        spare => format!(
            "{} needed, bought with {spare} % spare",
            style.length(purchase.need.buy_for)
        ),
    } + &format!(": {left} left over.");
    let minimum = one
        .minimum()
        .map(|n| format!("{n} may do: the need is a range."));
    joined(
        std::iter::once(needs)
            .chain(minimum)
            .chain(one_fewer(one, style)),
        " ",
    )
}

fn lines<T, F>(things: &[T], line: fn(&str, &T) -> F) -> Vec<F> {
    things.iter().map(|thing| line(KEY, thing)).collect()
}

fn put_up_words(answer: &SkeinsAnswer, style: &Style) -> String {
    let put_up = &answer.put_up;
    style.skein(put_up.skein_length(), put_up.skein_mass())
}

/// How the need was changed and rounded, and what the chance rests on.
fn working(answer: &SkeinsAnswer, style: &Style) -> Vec<String> {
    let change = answer.gauge_change.map(Working::AtAnotherGauge);
    let strands = match answer.strands {
        1 => String::new(),
        strands => format!(" x {strands} strands"),
    };
    let rounding = format!(
        "Skeins = need{strands} x {} / length of one skein, rounded up to whole skeins.",
        number(1.0 + answer.margin.as_fraction(), 4)
    );
    let change = working_sentences(change.as_slice(), style);
    let sentences = change.into_iter().chain([rounding]);
    let basis = answer.chance_basis.map(Working::Chance);
    sentences
        .chain(working_sentences(basis.as_slice(), style))
        .collect()
}

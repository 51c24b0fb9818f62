//! How many skeins a need takes.

use super::{
    Answer, Block, Page, Render, Role, Style,
    gauge_change::gauge_change_fields,
    json::without_empty,
    purchase::{
        ESTIMATED, add_chances, add_skeins, chance_fields, counted, estimate_fields,
        estimate_sentences, one_fewer, skeins_fields,
    },
    sizes_as_patterns_write_them,
    working::{WORKED_OUT, working_sentences},
};
use crate::{
    app::{SizePurchase, SkeinsAnswer, Working},
    measure::Length,
    words::{capitalized, joined, number},
};
use serde::Serialize;
use serde_json::{Value, json};

/// What the only yarn is called.
const KEY: &str = "A";

impl Render for SkeinsAnswer {
    /// Fields of the first (or only) size, where it can be counted, stand at the
    /// top; `sizes` are all, in order.
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let sizes: Vec<Value> = lines(&self.sizes, skeins_fields);
        let mut fields = sizes.first().cloned().unwrap_or_else(|| json!({}));
        let rest = without_empty(
            json!({
                "sizes": sizes,
                "estimates": lines(&self.estimates, estimate_fields),
                "put_up": put_up_words(self, style),
                "margin_percent": self.margin.as_percent(),
                "gauge_change": self.gauge_change.as_ref().map(gauge_change_fields),
                "sure": lines(&self.sure, chance_fields),
                "working": working(self, style),
                "warnings": style.notes(&self.notes),
            }),
            &["gauge_change", "sure"],
        );
        if let (Value::Object(fields), Value::Object(rest)) = (&mut fields, rest) {
            fields.extend(rest);
        }
        fields
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

fn lines<T>(things: &[T], line: fn(&str, &T) -> Value) -> Vec<Value> {
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

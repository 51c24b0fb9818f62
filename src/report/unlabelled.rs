//! A ball without a label.

use super::{
    Answer, Block, Page, Render, Role, Style, Table,
    json::{fields_of, list},
    last::{RangeFields, range_words},
};
use crate::{
    app::{BallTrait, CouldBe, Method, MethodResult, PossibleYarn, UnlabelledAnswer},
    measure::{
        Grist,
        units::{POUND_G, YARD_M},
    },
    quantity::Estimate,
    trade::{BURN_CAUTIONS, BURN_SIGNS, BurnSign, WeightClass},
    words::{and_list, count_of_items, joined, number, or_list},
};

fields_of! {
    /// A ball without a label.
    UnlabelledFields(answer: &UnlabelledAnswer) {
        /// Grams of yarn on the scale, core taken off.
        net_g: Option<f64> = answer.net_grams,
        /// What each way of finding out gives.
        methods: Vec<MethodFields> = list(&answer.results, MethodFields::of),
        /// Weight classes that it may have, by what was measured where something was.
        weight_classes: Vec<u8> = numbers(&answer.classes),
        /// Always `null`: measuring cannot show it.
        fibre: () = (),
        /// Your yarns that it could be.
        could_be: Option<CouldBeFields> = answer.could_be.as_ref().map(CouldBeFields::of),
        /// How to tell groups of fibres by a flame, with `--burn`.
        burn: Option<BurnFields> = answer.burn.then(BurnFields::of),
        /// How it was worked out.
        working: Vec<String> = working(answer),
        /// What was noticed in what was typed.
        warnings: Vec<String> = warnings(answer, &Style::default()),
    }
}

fields_of! {
    /// What one way of finding out gives.
    MethodFields(result: &MethodResult) {
        /// The way.
        method: &'static str = method_name(result.method),
        /// Whether it measures; otherwise it only guesses.
        measured: bool = result.method.measures(),
        /// Metres per 100 g.
        grist_m_per_100g: Option<RangeFields> =
            result.metres_per_gram.map(|grist| RangeFields::of(grist.times(100.0))),
        /// Metres on the ball.
        length_m: Option<RangeFields> = result.metres.map(RangeFields::of),
        /// Weight classes that it may have.
        classes: Vec<u8> = numbers(&result.classes),
    }
}

fields_of! {
    /// Your yarns that a ball could be.
    CouldBeFields(could_be: &CouldBe) {
        /// The yarns, the likeliest first.
        rows: Vec<LikeYarn> = list(&could_be.yarns, LikeYarn::of),
        /// How many more there are.
        more: usize = could_be.more,
    }
}

fields_of! {
    /// A yarn that a ball could be.
    LikeYarn(it: &PossibleYarn)
    where names = |traits: &[BallTrait]| traits.iter().map(|it| trait_name(*it)).collect(); {
        /// The yarn.
        yarn: String = it.yarn.record.title(),
        /// Metres per 100 g of it.
        m_per_100g: Option<f64> = it.yarn.record.facts.grist().map(Grist::as_metres_per_100_g),
        /// Whether your stash has some.
        in_stash: bool = it.has_lots,
        /// In what the ball is like it.
        agrees: Vec<&'static str> = names(&it.agrees),
        /// In what it is not.
        differs: Vec<&'static str> = names(&it.differs),
    }
}

fields_of! {
    /// How to tell groups of fibres by a flame.
    BurnFields() {
        /// What to heed first.
        cautions: Vec<&'static str> = BURN_CAUTIONS.to_vec(),
        /// The signs of each group.
        signs: Vec<SignFields> = list(&BURN_SIGNS, SignFields::of),
    }
}

fields_of! {
    /// What one group of fibres does.
    SignFields(sign: &BurnSign) {
        /// The group.
        fibres: &'static str = sign.fibres,
        /// In the flame.
        in_flame: &'static str = sign.in_flame,
        /// How it smells.
        smell: &'static str = sign.smell,
        /// What it leaves.
        residue: &'static str = sign.residue,
    }
}

impl Render for UnlabelledAnswer {
    type Fields = UnlabelledFields;

    fn fields(&self) -> Self::Fields {
        UnlabelledFields::of(self)
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(match self.net_grams {
            Some(grams) => format!("A ball without a label, {} g of yarn", number(grams, 2)),
            None => "A ball without a label".to_owned(),
        });
        if let Some(said) = in_short(&self.results, style) {
            page.blocks.push(Block::Answer(Answer::alone(said)));
        }
        page.text(Role::Plain, class_sentence(&self.classes));
        page.table(table(&self.results, style));
        if let Some(could_be) = &self.could_be {
            add_could_be(&mut page, could_be);
        }
        page.section("Fibre");
        page.text(Role::Plain, "Not known: measuring cannot show it. Record it as `unknown`, and wash a swatch before you trust it with heat or a machine.");
        if self.burn {
            let cautions = BURN_CAUTIONS.map(str::to_owned);
            page.part("Before a burn test", Role::Caution, &cautions);
            let signs = BURN_SIGNS.each_ref().map(sign_words);
            page.part("Signs near a flame, of groups only", Role::Plain, &signs);
        }
        page.working(&working(self), &warnings(self, style));
        page
    }
}

fn trait_name(what: BallTrait) -> &'static str {
    match what {
        BallTrait::Grist(method) => method_name(method),
        BallTrait::Measured => "metres per 100 g",
        BallTrait::Class => "weight",
        BallTrait::Fibre => "fibre",
        BallTrait::Construction => "build",
    }
}

/// Your yarns that it could be.
pub(super) fn add_could_be(page: &mut Page, could_be: &CouldBe) {
    page.section("Could be one of your yarns");
    if could_be.yarns.is_empty() {
        page.text(
            Role::Plain,
            "None of your yarns has as many metres per 100 g.",
        );
        return;
    }
    let said = |traits: &[BallTrait]| and_list(traits.iter().map(|it| trait_name(*it)));
    let table = Table::of(&could_be.yarns)
        .left("yarn", |it| it.yarn.record.title())
        .right("m/100 g", |it| {
            let grist = it.yarn.record.facts.grist()?;
            Some(number(grist.as_metres_per_100_g(), 0))
        })
        .left("agrees", |it| said(&it.agrees))
        .left("differs", |it| said(&it.differs))
        .left("stash", |it| if it.has_lots { "yes" } else { "" });
    page.table(table);
    if could_be.more > 0 {
        let more = count_of_items(could_be.more, "more yarn");
        page.text(
            Role::Plain,
            format!("And {more} of as many metres per 100 g."),
        );
    }
    page.text(
        Role::Plain,
        "Metres per 100 g alone prove nothing: compare colour, twist and a swatch.",
    );
}

fn numbers(classes: &[WeightClass]) -> Vec<u8> {
    classes.iter().map(|class| class.number()).collect()
}

fn method_name(method: Method) -> &'static str {
    match method {
        Method::MeasuredOff => "measured off and weighed",
        Method::Balance => "strand on a balance",
        Method::Turns => "turns of a reel",
        Method::Wraps => "wraps",
    }
}

fn class_sentence(classes: &[WeightClass]) -> String {
    if classes.is_empty() {
        return "Not known: nothing you measured gives metres per 100 g.".to_owned();
    }
    format!(
        "Weight class {} is possible (rough published guideline); a swatch shows how it works up.",
        or_list(classes)
    )
}

/// `About 1083 m (1184 yd): 377 m/100 g (1872 yd/lb).`, by what was measured; of a guess
/// from what to what.
fn in_short(results: &[MethodResult], style: &Style) -> Option<String> {
    let measured = results.iter().find(|result| result.method.measures());
    let result = measured.or_else(|| results.first())?;
    let shown = |estimate: Estimate, units: [(&str, f64); 2]| {
        let each = units.map(|(unit, factor)| {
            let known = estimate.times(factor);
            match result.method.measures() {
                true => format!("{} {unit}", number(known.value, 0)),
                false => format!(
                    "{} to {} {unit}",
                    number(known.low, 0),
                    number(known.high, 0)
                ),
            }
        });
        let [metric, other] = each;
        style.pair(metric, other)
    };
    let length = result
        .metres
        .map(|metres| shown(metres, [("m", 1.0), ("yd", 1.0 / YARD_M)]));
    let grist = result
        .metres_per_gram
        .map(|grist| shown(grist, [("m/100 g", 100.0), ("yd/lb", POUND_G / YARD_M)]));
    let said = joined(length.into_iter().chain(grist), ": ");
    (!said.is_empty()).then(|| format!("About {said}."))
}

/// A row for each measure, since ranges are wide; a measured figure has its interval, a
/// guess only the interval.
fn table(results: &[MethodResult], style: &Style) -> Table {
    let show = |result: &MethodResult, estimate: Option<Estimate>, factor: f64| {
        let known = estimate?.times(factor);
        Some(match result.method.measures() {
            true => range_words(known, 0),
            false => format!("{} to {}", number(known.low, 0), number(known.high, 0)),
        })
    };
    let of_grist = |unit, factor| Measure {
        unit,
        shown: results
            .iter()
            .map(|it| show(it, it.metres_per_gram, factor))
            .collect(),
    };
    let of_length = |unit, factor| Measure {
        unit,
        shown: results
            .iter()
            .map(|it| show(it, it.metres, factor))
            .collect(),
    };
    let grist = style.ordered(
        of_grist("m/100 g", 100.0),
        of_grist("yd/lb", POUND_G / YARD_M),
    );
    let length = style.ordered(
        of_length("length m", 1.0),
        of_length("length yd", 1.0 / YARD_M),
    );
    let classes = Measure {
        unit: "weight class",
        shown: results.iter().map(|it| classes_in(&it.classes)).collect(),
    };
    let rows: Vec<Measure> = grist.into_iter().chain(length).chain([classes]).collect();
    let says = |row: &&Measure| row.shown.iter().any(Option::is_some);
    let columns = Table::of(rows.iter().filter(says)).left("by", |row| row.unit);
    let each = (0..).zip(results);
    let columns = each.fold(columns, |columns, (at, result)| {
        let shown = |row: &Measure| row.shown.get(at).cloned().flatten();
        columns.left(method_name(result.method), shown)
    });
    columns.into()
}

/// One measure as each way of finding out gives it.
struct Measure {
    unit: &'static str,
    shown: Vec<Option<String>>,
}

fn classes_in(classes: &[WeightClass]) -> Option<String> {
    (!classes.is_empty()).then(|| or_list(classes))
}

fn sign_words(sign: &BurnSign) -> String {
    format!(
        "{}: {}; smells of {}; leaves {}",
        sign.fibres, sign.in_flame, sign.smell, sign.residue
    )
}

/// What was counted.
fn working(answer: &UnlabelledAnswer) -> Vec<String> {
    let mut said = vec![
        format!(
            "Scale: rounds to {} g for the ball and to {} g for what was measured off.",
            number(answer.scale.as_grams(), 4),
            number(answer.fine_scale.as_grams(), 4)
        ),
        format!(
            "Ruler: a measured length is assumed right to within {} % either way (common practice, no source; yarn stretches under the hand).",
            number(answer.ruler.as_percent(), 2)
        ),
    ];
    let methods = answer.results.iter().map(|result| result.method);
    said.extend(methods.filter_map(method_working).map(str::to_owned));
    said.push("The true value is within the range 95 times in 100, if nothing else is wrong. Damp yarn weighs more.".to_owned());
    said
}

fn method_working(method: Method) -> Option<&'static str> {
    match method {
        Method::MeasuredOff => None,
        Method::Balance => Some(
            "Balance: inches of the strand x 100 are yards per pound (common practice, no source).",
        ),
        Method::Turns => Some("Turns: counted to half a turn."),
        Method::Wraps => Some(
            "Wraps: hand wraps are 0.31 to 0.41 times the square root of yards per pound (computed from published tables), counted to half a wrap; the middle means nothing, and wraps alone never prove a class.",
        ),
    }
}

fn warnings(answer: &UnlabelledAnswer, style: &Style) -> Vec<String> {
    let apart = answer.apart.map(|(one, other)| {
        format!(
            "`{}` and `{}` do not agree: measure again, with the yarn neither stretched nor slack.",
            method_name(one),
            method_name(other)
        )
    });
    style
        .notes(&answer.notes)
        .into_iter()
        .chain(apart)
        .collect()
}

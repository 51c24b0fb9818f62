//! Several leftovers in one piece: whether they are enough together, and each of them.

use super::{
    Page, Render, Role, SWATCH_LINE, Style, Table,
    candidate::{cautions as cautions_of, strands_of},
    in_hand::{InHandFields, SizeInHandFields, enough_sentence, sizes_table},
    json::{fields_of, list},
    judgement::{
        VERDICTS, caution_in_short, cautions_of_list, conditions_of, each_once, said_of,
        verdict_in_short, verdict_words,
    },
    suits::could_work,
    working::{add_working, assumptions, working_sentences},
};
use crate::{
    app::{CandidateAnswer, EnoughInHand, Leftover, StripesAnswer},
    matching::Verdict,
    words::{and_list, count_of_items, number},
};

fields_of! {
    /// Several leftovers in one piece.
    StripesFields(answer: &StripesAnswer, style: &Style)
    where together = InHandFields::of(&answer.together); {
        /// The pattern.
        pattern: String = answer.pattern.clone(),
        /// Key of the pattern's yarn.
        yarn: String = answer.role.clone(),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.together.margin.as_percent(),
        /// Each leftover.
        leftovers: Vec<LeftoverFields> =
            list(&answer.leftovers, |found| LeftoverFields::of(found, style)),
        /// Metres of those that should or could work.
        available_m: f64 = together.length_m,
        /// What they are enough for together, each size.
        sizes: Vec<SizeInHandFields> = together.sizes,
        /// How many yarns will not work.
        will_not_work: usize = answer.not_usable,
        /// How many are not as wished.
        not_as_wished: usize = answer.not_wished,
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// One leftover.
    LeftoverFields(found: &Leftover, style: &Style)
    where offered = &found.offered; {
        /// The yarn.
        candidate: String = offered.candidate.title.clone(),
        /// Its shade.
        shade: Option<String> = found.shade.clone(),
        /// Colour of the shade, as typed.
        colour: Option<String> = found.colour.as_ref().map(|colour| colour.text.clone()),
        /// In how many lots.
        lots: usize = offered.candidate.lots.len(),
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(offered.judgement.verdict),
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(offered, style),
        /// Cautions about it.
        cautions: Vec<String> = cautions_of(offered),
        /// Strands held together.
        strands: u8 = offered.plan.strands,
        /// Metres of it.
        length_m: Option<f64> = found.length.map(|length| length.as_metres()),
        /// Metres of the need that it meets: held double half of its length.
        meets_m: f64 = found.meets_m,
        /// Sizes that it is enough for by itself.
        enough_alone_for: Vec<String> = found.alone.clone(),
    }
}

impl Render for StripesAnswer {
    type Fields = StripesFields;

    fn fields(&self) -> Self::Fields {
        StripesFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Leftovers for {}", self.pattern));
        let (role, said) = stripes_headline(self, style);
        page.text(role, said);
        page.table(leftovers(self, style));
        let works = self.leftovers.iter().any(|it| it.offered.is_usable());
        if works && !self.together.sizes.is_empty() {
            page.section("All that work, together");
            page.table(sizes_table(&self.together, 1, style));
        }
        page.items(Role::Plain, &beside(self));
        page.items(Role::Caution, &cautions(self));
        page.items(Role::Caution, &style.notes(&self.notes));
        page.text(Role::Aside, assumptions(&self.working, style));
        let mut each = Page::default();
        each.items(Role::Plain, &each_condition(self, style));
        page.details("What to do for each yarn", each);
        add_working(&mut page, &working_sentences(&self.working, style));
        page
    }
}

/// `Together 812 m: enough for S with 10 % spare; not enough for M.`
fn stripes_headline(answer: &StripesAnswer, style: &Style) -> (Role, String) {
    let usable = answer.leftovers.iter().filter(|it| it.offered.is_usable());
    let count = usable.filter(|it| it.meets_m > 0.0).count();
    if count == 0 {
        let said = "None of these yarns should or could work.";
        return (Role::Bad, said.to_owned());
    }
    let length = style.length_alone(answer.together.length);
    let held = match count {
        1 => format!("The one that works holds {length}"),
        _ => format!("The {count} that work hold {length} together"),
    };
    if answer.together.sizes.is_empty() {
        let said = format!("{held}. How much the pattern needs is not known.");
        return (Role::Caution, said);
    }
    let is_enough = |it: &EnoughInHand| *it != EnoughInHand::TooLittle;
    let mut enough = answer.together.sizes.iter().map(|size| size.enough);
    let role = match enough.any(|it| is_enough(&it)) {
        true => Role::Good,
        false => Role::Bad,
    };
    (
        role,
        format!(
            "{held}: {}.",
            enough_sentence(&answer.together, &answer.role)
        ),
    )
}

/// One line a shade.
fn leftovers(answer: &StripesAnswer, style: &Style) -> Table {
    let [unit, _] = style.ordered("metres", "yards");
    let length = |found: &Leftover| {
        let length = found.length?;
        let [metres, yards] = [length.as_metres(), length.as_yards()].map(|it| number(it, 0));
        let [first, _] = style.ordered(metres, yards);
        Some(first)
    };
    let table = Table::of(&answer.leftovers)
        .left("yarn", |found| {
            let offered = &found.offered;
            strands_of(&offered.candidate.title, offered.plan.strands)
        })
        .left("shade", |found| found.shade.clone())
        .left("verdict", |found| {
            verdict_in_short(found.offered.judgement.verdict)
        })
        .right(unit, length)
        .left("alone for", |found| {
            alone(found, answer.together.sizes.len())
        });
    Table::from(table).without_empty_columns()
}

/// The sizes that one leftover makes alone.
fn alone(found: &Leftover, sizes: usize) -> Option<String> {
    let made = found.alone.len();
    let said = match made {
        _ if made > 1 && made == sizes => "every size".to_owned(),
        1 if sizes == 1 => "enough".to_owned(),
        0..=2 => and_list(found.alone.iter()),
        _ => format!("{made} of {sizes} sizes"),
    };
    found.offered.is_usable().then_some(said)
}

/// What to take care of, and with which yarns unless with all.
fn cautions(answer: &StripesAnswer) -> Vec<String> {
    let leftovers = answer.leftovers.iter().map(|found| &found.offered);
    let leftovers: Vec<&CandidateAnswer> = leftovers.collect();
    said_of(cautions_of_list(&leftovers, "", caution_in_short))
}

/// What is not counted, and why.
fn beside(answer: &StripesAnswer) -> Vec<String> {
    let unknown = |found: &&Leftover| found.shade.is_some() && found.length.is_none();
    let unknown = answer.leftovers.iter().filter(unknown);
    let unknown = unknown.map(|found| {
        format!(
            "{}: how long it is, is not known. Add metres per ball to the yarn, or weigh the lot with its length.",
            found.offered.candidate.title
        )
    });
    let missing = answer
        .leftovers
        .iter()
        .filter(|found| found.shade.is_none());
    let missing =
        missing.map(|found| format!("{}: none in your stash.", found.offered.candidate.title));
    let yarn = match answer.leftovers.is_empty() {
        true => "yarn",
        false => "other yarn",
    };
    let others = |count: usize, [one, several]: [&str; 2]| {
        let verb = if count == 1 { one } else { several };
        (count > 0).then(|| format!("{} in your stash {verb}.", count_of_items(count, yarn)))
    };
    let others = [
        others(
            answer.not_usable,
            [
                "will not work, or not enough is known of it",
                "will not work, or not enough is known of them",
            ],
        ),
        others(
            answer.not_wished,
            ["is not as you wish", "are not as you wish"],
        ),
    ];
    unknown
        .chain(missing)
        .chain(others.into_iter().flatten())
        .collect()
}

/// `Hathrel DK could work if ...`, each yarn once.
fn each_condition(answer: &StripesAnswer, style: &Style) -> Vec<String> {
    let leftovers = answer.leftovers.iter().map(|found| &found.offered);
    each_once(leftovers.map(|offered| {
        let said = match offered.judgement.verdict {
            Verdict::CouldWork => could_work(offered, style),
            verdict => verdict_in_short(verdict).to_owned(),
        };
        format!("{} {said}.", offered.candidate.title)
    }))
}

//! What could replace a yarn in the patterns that call for it.

use super::{
    Page, Render, Role, SWATCH_LINE, Style,
    candidate::cautions,
    card::candidates,
    json::{fields_of, list},
    judgement::{
        VERDICTS, caution_in_short, cautions_of_list, conditions_of, each_once, news, said_of,
        verdict_in_short, verdict_words,
    },
    looked_through::LeftOutFields,
    suits::{SuitedSize, could_work, each_size, listed, titled},
    working::{add_working, assumptions, left_out_sentence, working_sentences},
};
use crate::{
    app::{CandidateAnswer, ReplaceAnswer, Replacement},
    matching::Verdict,
    words::joined,
};

fields_of! {
    /// What could replace a yarn in the patterns that call for it.
    ReplaceFields(answer: &ReplaceAnswer, style: &Style) {
        /// The yarn.
        replaced: String = answer.yarn.clone(),
        /// Each yarn of a pattern that is this one.
        patterns: Vec<ReplacedFields> =
            list(&answer.replaced, |place| ReplacedFields::of(place, style)),
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

fields_of! {
    /// One yarn of a pattern.
    ReplacedFields(place: &Replacement, style: &Style)
    where of_stash = place.from_stash.iter().map(|found| ("stash", found)),
          others = place.others.iter().map(|found| ("catalogue", found)); {
        /// The pattern.
        pattern: String = place.pattern.clone(),
        /// Key of the pattern's yarn.
        yarn: String = place.key.clone(),
        /// Yarns that could replace it, those of your stash first.
        candidates: Vec<ReplacementFields> = of_stash
            .chain(others)
            .map(|(from, found)| ReplacementFields::of(from, found, style))
            .collect(),
        /// Yarns that were left out, by reason.
        left_out: Vec<LeftOutFields> = list(&place.left_out, LeftOutFields::of),
    }
}

fields_of! {
    /// A yarn that could replace it.
    ReplacementFields(from: &'static str, found: &CandidateAnswer, style: &Style) {
        /// The yarn.
        candidate: String = found.candidate.title.clone(),
        /// `stash` or `catalogue`.
        from: &'static str = from,
        /// `should work`, `could work, if ...`, `cannot say` or `will not work`.
        #[schemars(extend("enum" = VERDICTS))]
        verdict: &'static str = verdict_words(found.judgement.verdict),
        /// Difference over all criteria, where 1 is the limit.
        overall: Option<f64> = found.judgement.overall,
        /// What has to be met, in sentences.
        conditions: Vec<String> = conditions_of(found, style),
        /// What can go wrong.
        cautions: Vec<String> = cautions(found),
        /// Whether it is discontinued.
        discontinued: bool = found.candidate.discontinued,
        /// What to buy for each size.
        sizes: Vec<SuitedSize> = SuitedSize::each(found),
    }
}

impl Render for ReplaceAnswer {
    type Fields = ReplaceFields;

    fn fields(&self) -> Self::Fields {
        ReplaceFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled(format!("Instead of {}", self.yarn));
        let (role, said) = replace_headline(self, style);
        page.text(role, said);
        if self.replaced.is_empty() {
            return page;
        }
        for place in &self.replaced {
            page.section(place_name(place));
            add_replacements(&mut page, place, style);
        }
        page.items(Role::Caution, &cautions_of(&self.replaced));
        page.items(Role::Caution, &style.notes(&self.notes));
        if self.replaced.iter().any(|place| !place.is_only) {
            let alone = "Each colour is counted by itself: two of them may want the same yarn.";
            page.text(Role::Aside, alone);
        }
        page.text(Role::Aside, assumptions(&self.working, style));
        for place in &self.replaced {
            let mut each = Page::default();
            let title = |found: &CandidateAnswer| found.candidate.title.clone();
            each.table(each_size("yarn", place.all().map(|it| (title(it), it))));
            page.details(format!("Each size of {}", place_name(place)), each);
        }
        add_working(&mut page, &working_sentences(&self.working, style));
        page
    }
}

fn place_name(place: &Replacement) -> String {
    titled(&place.pattern, &place.key, place.is_only)
}

/// `2 of your patterns call for it. ...`
fn replace_headline(answer: &ReplaceAnswer, style: &Style) -> (Role, String) {
    let patterns = answer.replaced.iter().map(|place| place.pattern.clone());
    let call = match each_once(patterns).len() {
        0 => {
            let next = style.either(
                "To see what is like it, give what its label says: `understudy find --wants LABEL`.",
                "To see what is like it, write what its label says under `Will it work?`.",
            );
            let said = format!("None of your patterns calls for it by this name. {next}");
            return (Role::Plain, said);
        }
        1 if answer.replaced.len() == 1 => String::new(),
        1 => "One of your patterns calls for it.".to_owned(),
        n => format!("{n} of your patterns call for it."),
    };
    let best = |place: &Replacement| {
        let verdicts = place.all().map(|found| found.judgement.verdict);
        verdicts.min().unwrap_or(Verdict::WillNotWork)
    };
    if let [place] = answer.replaced.as_slice()
        && let Some(found) = place.all().find(|it| it.judgement.verdict == best(place))
    {
        let (yarn, verdict) = (&found.candidate.title, found.judgement.verdict);
        let works = verdict_in_short(verdict);
        let said = format!("{yarn} {works} best for {}.", place_name(place));
        return (news(verdict), said);
    }
    let said = [
        (Verdict::ShouldWork, "One of your yarns should work for"),
        (Verdict::CouldWork, "One could work for"),
        (
            Verdict::WillNotWork,
            "None of your yarns should or could work for",
        ),
    ]
    .into_iter()
    .filter_map(|(verdict, words)| {
        let places = answer.replaced.iter().filter(|it| best(it) == verdict);
        let names: Vec<String> = places.map(place_name).collect();
        let listed = listed(&names, "yarn");
        (!names.is_empty()).then(|| format!("{words} {listed}."))
    });
    let all = answer.replaced.iter().map(best);
    let worst = all.max().unwrap_or(Verdict::WillNotWork);
    let said = std::iter::once(call)
        .filter(|call| !call.is_empty())
        .chain(said);
    (news(worst), joined(said, " "))
}

fn add_replacements(page: &mut Page, place: &Replacement, style: &Style) {
    let lists = [
        ("From your stash:", &place.from_stash),
        ("Your other yarns:", &place.others),
    ];
    for (head, found) in lists {
        if found.is_empty() {
            continue;
        }
        page.text(Role::Plain, head);
        page.table(candidates(&found.iter().collect::<Vec<_>>(), style));
    }
    if place.all().next().is_none() {
        page.text(Role::Bad, "None of your yarns should or could work.");
    }
    let could = place.all();
    let could = could.filter(|found| found.judgement.verdict == Verdict::CouldWork);
    let title = |found: &CandidateAnswer| found.candidate.title.clone();
    let said = could.map(|found| (title(found), could_work(found, style)));
    page.items(Role::Plain, &said_of(said));
    if !place.left_out.is_empty() {
        page.text(Role::Aside, left_out_sentence(&place.left_out));
    }
}

/// What can go wrong, for all patterns once: of a pattern where it holds for all that is
/// offered for it, else of the yarns.
fn cautions_of(replaced: &[Replacement]) -> Vec<String> {
    said_of(replaced.iter().flat_map(|place| {
        let found: Vec<&CandidateAnswer> = place.all().collect();
        cautions_of_list(&found, &place_name(place), caution_in_short)
    }))
}

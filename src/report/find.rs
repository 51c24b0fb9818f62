//! The yarns that work best, the best first.

use super::{
    Map, Page, Picture, Render, Role, SWATCH_LINE, Style, Table, VERDICT,
    candidate::{
        CandidateFields, cautions, costs, covered, reasons_and_conditions, strands_of, together,
    },
    card::{Part, card, metres, stash_head, stash_of_sizes},
    cover::ONE_SIZE,
    facts_words::facts_in_style,
    json::{fields_of, list},
    judgement::{
        all_against, caution_in_short, criterion_in_full, each_once, news, said_of,
        verdict_in_short, verdict_sentence,
    },
    looked_through::{
        LeftOutFields, beside_the_strand, filters, is_nothing_compared, is_unsaid_by_pattern,
        left_out, may_work, nothing_found,
    },
    measured_yarn::skeins_in_short,
    purchase::{chance_sentence, counter},
    suits::could_work,
    working::{add_working, assumptions, working_sentences},
};
use crate::{
    app::{CandidateAnswer, FindAnswer, Source, Wishes, Working},
    label::measured::measured_range,
    matching::{Criterion, FibreLimits, Missing, Verdict},
    trade::FibreGroup,
    words::{and_list, number, uncapitalized},
};

fields_of! {
    /// Yarns for one yarn of a pattern, the best first.
    FindFields(answer: &FindAnswer, style: &Style) where wishes = wishes(answer); {
        /// The pattern.
        pattern: String = answer.pattern.clone(),
        /// Key of the pattern's yarn.
        yarn: String = answer.role.clone(),
        /// What the pattern says of it.
        wanted: String = wanted(answer, style),
        /// `stash` or `catalogue`.
        from: &'static str = source(answer.source),
        /// How many yarns are held together as one strand.
        together: usize = answer.together,
        /// How far metres per 100 g may differ.
        tolerance: String = style.tolerance(answer.tolerance),
        /// The size; `null` where amounts are of each size in order.
        size: Option<String> = answer.size.clone(),
        /// Spare yarn that is counted in, in percent.
        margin_percent: f64 = answer.margin.as_percent(),
        /// Fibres that are left out.
        without: Vec<&'static str> = limits(answer, |limits| &limits.without),
        /// Fibres that alone are wanted.
        only: Vec<&'static str> = limits(answer, |limits| &limits.only),
        /// The most that all of it may cost.
        max_cost: Option<String> = wishes.and_then(|it| it.max_cost).map(|most| most.to_string()),
        /// Whether only yarn is listed of which your stash has enough.
        enough: bool = wishes.is_some_and(|it| it.is_enough),
        /// Whether one lot has to be enough.
        one_lot: bool = wishes.is_some_and(|it| it.is_one_lot),
        /// Words that the shade has to have.
        shade: Option<String> = wishes.and_then(|it| it.shade.clone()),
        /// Where it has to be.
        place: Option<String> = wishes.and_then(|it| it.place.clone()),
        /// Yarns that were left out, by reason.
        left_out: Vec<LeftOutFields> = left_out(answer),
        /// How many yarns were compared.
        judged: u64 = answer.judged,
        /// How many are too different to list.
        passed_over: u64 = answer.passed_over,
        /// The yarns.
        candidates: Vec<CandidateFields> =
            list(&answer.candidates, |found| CandidateFields::of(answer, found, style)),
        /// Yarns of unknown metres per 100 g, compared by gauge alone.
        without_grist: Vec<CandidateFields> =
            list(&answer.without_grist, |found| CandidateFields::of(answer, found, style)),
        /// Nothing: cautions are said of each yarn.
        cautions: [String; 0] = [],
        /// How it was worked out.
        working: Vec<String> = working_sentences(&answer.working, style),
        /// What was noticed in what was typed.
        warnings: Vec<String> = style.notes(&answer.notes),
        /// That only a washed swatch proves it.
        swatch: &'static str = SWATCH_LINE,
    }
}

impl Render for FindAnswer {
    type Fields = FindFields;

    fn fields(&self) -> FindFields {
        FindFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        find_page(std::slice::from_ref(self), style)
    }
}

/// The lists for all colours of a pattern on one page: a table a colour, and once what
/// holds for all.
pub fn find_page(answers: &[FindAnswer], style: &Style) -> Page {
    let Some(first) = answers.first() else {
        return Page::default();
    };
    let mut page = Page::titled(title(first));
    for answer in answers {
        if answers.len() > 1 {
            page.section(format!("Yarn {}", answer.role));
        }
        add_lists(&mut page, answer, style);
        if let Some(said) = beside_the_strand(answer) {
            page.text(Role::Aside, said);
        }
        page.items(Role::Plain, &against_first(answer, style));
        let key = match answers {
            [_] => Vec::new(),
            _ => vec![answer.role.clone()],
        };
        let map = answer.map.as_ref();
        page.picture(map.map(|map| Picture::Map(Map::new(map, &key, style))));
    }
    let all = |texts: fn(&FindAnswer, &Style) -> Vec<String>| {
        each_once(answers.iter().flat_map(|answer| texts(answer, style)))
    };
    let filters = all(filters);
    if !filters.is_empty() {
        page.text(Role::Aside, filters.join(" "));
    }
    page.items(
        Role::Caution,
        &all(|answer, style| style.notes(&answer.notes)),
    );
    if answers.iter().all(is_nothing_compared) {
        return page;
    }
    let working = answers.iter().flat_map(|answer| &answer.working);
    page.text(Role::Aside, assumptions(working, style));
    for answer in answers {
        let of = match answers {
            [_] => String::new(),
            _ => format!(", yarn {}", answer.role),
        };
        page.details(format!("Each yarn in full{of}"), in_full(answer, style));
    }
    let working = all(|it, style| working_sentences(&it.working, style));
    add_working(&mut page, &working);
    page
}

/// The best of a list, the list, and those that are judged by stitches alone.
fn add_lists(page: &mut Page, answer: &FindAnswer, style: &Style) {
    let (role, said) = headline(answer, style);
    page.text(role, said);
    page.table(listed(&answer.candidates, style));
    let by_stitches = answer.without_grist.iter();
    let by_stitches: Vec<_> = by_stitches
        .filter(|found| may_work(found))
        .cloned()
        .collect();
    if !by_stitches.is_empty() {
        page.text(
            Role::Plain,
            "No metres per ball known, judged by stitches alone:",
        );
        page.table(listed(&by_stitches, style));
    }
}

/// `From your stash for Skerrablet, size M`.
fn title(answer: &FindAnswer) -> String {
    let from = match answer.source {
        Source::Stash => "From your stash",
        Source::Catalogue => "From your yarns",
    };
    let size = answer.size.as_deref().filter(|size| *size != ONE_SIZE);
    let size = size.map_or(String::new(), |size| format!(", size {size}"));
    format!("{from} for {}{size}", answer.pattern)
}

/// What is named first.
fn best(answer: &FindAnswer) -> Option<&CandidateAnswer> {
    let listed = answer.candidates.iter().chain(&answer.without_grist);
    listed.min_by_key(|found| found.judgement.verdict)
}

/// The best of a list in one sentence.
fn headline(answer: &FindAnswer, style: &Style) -> (Role, String) {
    let from = match answer.source {
        Source::Stash => "your stash",
        Source::Catalogue => "your yarns",
    };
    let Some(best) = best(answer) else {
        return (Role::Bad, nothing_found(answer, style));
    };
    let (verdict, title) = (best.judgement.verdict, in_strand(best));
    let parts = Part::each(&answer.role, best);
    let amounts = card(&parts, style).amounts();
    let said = match verdict {
        Verdict::ShouldWork => format!("{title} should work best. {amounts}"),
        Verdict::CouldWork => {
            format!("{title} {}. {amounts}", could_work(best, style))
        }
        Verdict::CannotSay | Verdict::WillNotWork => {
            format!("Nothing in {from} should work. The nearest is {title}.")
        }
    };
    (news(verdict), said.trim_end().to_owned())
}

/// A line of the list: a yarn, or one of several that are held together.
#[derive(Clone, Copy)]
struct ListLine<'a> {
    /// The number of the candidate in the list, on its first line.
    place: Option<u32>,
    candidate: &'a CandidateAnswer,
    yarn: &'a CandidateAnswer,
}

impl<'a> ListLine<'a> {
    fn of((place, candidate): (u32, &'a CandidateAnswer)) -> impl Iterator<Item = Self> {
        let yarns = candidate.each_yarn().iter().enumerate();
        yarns.map(move |(at, yarn)| Self {
            place: (at == 0).then_some(place),
            candidate,
            yarn,
        })
    }

    /// What holds for all of the candidate, once.
    fn once<T>(self, said: impl FnOnce(&CandidateAnswer) -> T) -> Option<T> {
        self.place.map(|_| said(self.candidate))
    }

    fn title(self) -> String {
        let strands = match self.candidate.ends.is_empty() {
            true => self.candidate.plan.strands,
            false => self.yarn.candidate.strands_held(),
        };
        let title = strands_of(&self.yarn.candidate.title, strands);
        match self.place {
            Some(_) => title,
            None => format!("+ {title}"),
        }
    }
}

/// One line a yarn, of several that are held together too.
fn listed(found: &[CandidateAnswer], style: &Style) -> Table {
    let [unit, _] = style.ordered("m/100 g", "yd/100 g");
    let each = || found.iter().flat_map(CandidateAnswer::each_yarn);
    let words = each_once(each().map(|found| counter(&found.candidate.facts).to_owned()));
    let word = match words.as_slice() {
        [one] => one,
        _ => "skein",
    };
    let is_counted = each().any(|found| !found.skeins.is_empty());
    let table = Table::of((1..).zip(found).flat_map(ListLine::of))
        .right("", |line| line.place)
        .left("yarn", |line| line.title())
        .left(VERDICT, |line| {
            line.once(|found| verdict_in_short(found.judgement.verdict))
        })
        .right(unit, |line| {
            line.once(|found| metres(found, style)).flatten()
        })
        .right(&format!("{word}s"), |line| {
            let counts = skeins_in_short(line.yarn, style);
            counts.or_else(|| is_counted.then(|| "?".to_owned()))
        })
        .right("cost", |line| match costs(line.yarn).as_slice() {
            [cost] => Some(cost.clone()),
            _ => None,
        })
        .left(stash_head(each()), |line| stash_of_sizes(line.yarn))
        .in_full(|line| in_full_name(line.candidate));
    table.into()
}

/// The name of the answer about one line of a list alone.
pub fn in_full_name(found: &CandidateAnswer) -> String {
    let strands = strands_of(&in_strand(found), found.plan.strands);
    format!("{strands}: in full")
}

/// What is against each of the first three, each thing once; not what the headline says
/// of the best.
fn against_first(answer: &FindAnswer, style: &Style) -> Vec<String> {
    let best = best(answer).map(std::ptr::from_ref);
    let listed = answer.candidates.iter().take(3);
    let said = (1..).zip(listed).flat_map(|(place, found): (u32, _)| {
        let title = format!("{place} {}", in_strand(found));
        let is_said = best == Some(std::ptr::from_ref(found));
        let against = against(found, is_said, style).into_iter();
        against.map(move |said| (title.clone(), said))
    });
    said_of(said)
}

/// What has to be met, unless that is said already, else what is against it; what is not
/// known, and cautions.
fn against(found: &CandidateAnswer, is_said: bool, style: &Style) -> Vec<String> {
    let judgement = &found.judgement;
    let mut said = match judgement.verdict {
        Verdict::CouldWork if is_said => Vec::new(),
        Verdict::CouldWork => vec![could_work(found, style)],
        _ => all_against(judgement, style),
    };
    let missing = judgement.not_judged.iter();
    let is_said = |missing: &&Missing| matches!(missing, Missing::ComparableGrist { .. });
    let missing = missing.filter(|it| !is_unsaid_by_pattern(it) && !is_said(it));
    let not_known = and_list(missing.map(|it| criterion_in_full(it.criterion(), style)));
    said.extend((!not_known.is_empty()).then(|| format!("not known: {not_known}")));
    let word = counter(&found.candidate.facts);
    said.extend(chance_sentence(&found.chances, word).map(|text| uncapitalized(&text)));
    let cautions = judgement.cautions.iter().map(caution_in_short);
    said.extend(cautions.map(|text| uncapitalized(&text)));
    let measured = measured_range(&found.candidate.facts);
    said.extend(measured.map(|range| format!("measured, {}", style.grist_range(range))));
    let gone = found.candidate.discontinued;
    said.extend(gone.then(|| "discontinued".to_owned()));
    each_once(said)
}

/// What is wanted, and all that is known of each yarn.
fn in_full(answer: &FindAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    let (wanted, limit) = (wanted(answer, style), style.tolerance(answer.tolerance));
    let unit = criterion_in_full(Criterion::Grist, style);
    page.text(
        Role::Plain,
        format!("Wanted: {wanted}. Limit on {unit}: {limit} either way."),
    );
    for found in answer.candidates.iter().chain(&answer.without_grist) {
        let overall = found.judgement.overall.map_or(String::new(), |overall| {
            format!(" Overall difference: {} of the limit.", number(overall, 2))
        });
        let verdict = verdict_sentence(found, style);
        page.text(
            news(found.judgement.verdict),
            format!("{}: {}{overall}", in_strand(found), uncapitalized(&verdict)),
        );
        let told = reasons_and_conditions(found, style).into_iter();
        let told = told.chain(chance_sentence(
            &found.chances,
            counter(&found.candidate.facts),
        ));
        let told = told.chain(covered(answer, found, style));
        page.items(
            Role::Plain,
            &told.chain(cautions(found)).collect::<Vec<_>>(),
        );
    }
    page
}

/// The fibres that the question keeps away from, or alone allows.
fn limits(answer: &FindAnswer, of: fn(&FibreLimits) -> &Vec<FibreGroup>) -> Vec<&'static str> {
    let groups = answer.working.iter().filter_map(|working| match working {
        Working::FibreLimits(limits) => Some(of(limits)),
        _ => None,
    });
    groups.flatten().map(|group| group.name()).collect()
}

fn wishes(answer: &FindAnswer) -> Option<&Wishes> {
    answer.working.iter().find_map(|working| match working {
        Working::Wishes(wishes) => Some(wishes),
        _ => None,
    })
}

fn source(source: Source) -> &'static str {
    match source {
        Source::Catalogue => "catalogue",
        Source::Stash => "stash",
    }
}

fn wanted(answer: &FindAnswer, style: &Style) -> String {
    facts_in_style(&answer.wanted.facts, answer.wanted.gauge.as_ref(), style)
}

/// The yarns that are held together as one strand, a yarn once with how often it is held.
fn in_strand(found: &CandidateAnswer) -> String {
    match found.candidate.ends.as_slice() {
        [] => found.candidate.title.clone(),
        ends => together(ends),
    }
}

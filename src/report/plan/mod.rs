//! Several projects from one stash: what can be made of what, and what to buy.

mod fields;
mod left_out;
mod page;

use super::{
    Page, Render, Role, Style, Table,
    candidate::strands_of,
    cover::{ONE_SIZE, lot_and_place, shade_of},
    judgement::{cautions_for, said_of},
    suits::could_work,
    working::{add_working, assumptions, working_sentences},
};
use crate::{
    app::{CandidateAnswer, KeptProject, LeftOutProject, PlanAnswer, PlannedProject, PlannedYarn},
    matching::Verdict,
    words::{and_list, joined, uncapitalized},
};
use fields::PlanFields;
pub(super) use fields::ReservedFields;
use left_out::{how_bought, project_words};
pub use page::{ProjectPage, plan_news, plan_uses, project_pages, yarn_option_words};

impl Render for PlanAnswer {
    type Fields = PlanFields;

    fn fields(&self) -> Self::Fields {
        PlanFields::of(self, &Style::default())
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled("What you can make from your stash");
        let (role, said) = news(self);
        page.text(role, said);
        page.table(made_table(&self.made, style));
        page.items(Role::Plain, &conditions(self.yarns_made(), style));
        let made = self.made.iter();
        let made = made.flat_map(|it| it.yarns.iter().map(|yarn| (it.title(), yarn)));
        page.items(Role::Plain, &mixed_lots(made));
        page.items(Role::Plain, &reserved(self));
        let cautions = cautions_of(self.yarns_made().chain(self.yarns_bought()));
        if self.left_out.is_empty() {
            page.items(Role::Caution, &cautions);
        } else {
            page.section("Not from the stash alone");
            let left_out = self.left_out.iter();
            page.items(
                Role::Plain,
                &left_out
                    .map(|left| project_words(left, style))
                    .collect::<Vec<_>>(),
            );
            page.items(Role::Plain, &conditions(self.yarns_bought(), style));
            page.part("Cautions", Role::Caution, &cautions);
        }
        page.items(Role::Caution, &style.notes(&self.notes));
        page.text(Role::Aside, assumed(self, style));
        add_working(&mut page, &plan_working(self, style));
        page
    }
}

/// The name of a kept project, else of its pattern.
fn named<'n>(kept: Option<&'n KeptProject>, pattern: &'n str) -> &'n str {
    kept.map_or(pattern, |kept| kept.name.as_str())
}

/// What was assumed, and that only a washed swatch proves it.
fn assumed(answer: &PlanAnswer, style: &Style) -> String {
    let working = answer.working.iter().map(|it| &it.working);
    assumptions(working, style)
}

/// How it was worked out: what does not hold for all projects with their names.
fn plan_working(answer: &PlanAnswer, style: &Style) -> Vec<String> {
    let settled = answer.working.iter().flat_map(|it| {
        let names = it.of.iter();
        let names = and_list(names.map(|of| title(of.kept.as_deref(), &of.pattern, &of.size)));
        let said = working_sentences([&it.working], style).into_iter();
        said.map(move |said| match names.as_str() {
            "" => said,
            names => format!("{names}: {}", uncapitalized(&said)),
        })
    });
    settled.chain(how_bought(answer)).collect()
}

/// `Skerrablet, size M`; of a kept project its name, with its pattern where that says
/// another.
fn title(kept: Option<&str>, pattern: &str, size: &str) -> String {
    let pattern_in_size = match size {
        "" | ONE_SIZE => pattern.to_owned(),
        size => format!("{pattern}, size {size}"),
    };
    match kept {
        None => pattern_in_size,
        Some(name) if name.starts_with(pattern) => name.to_owned(),
        Some(name) => format!("{name} ({pattern_in_size})"),
    }
}

impl KeptProject {
    fn title(&self, pattern: &str, size: &str) -> String {
        title(Some(&self.name), pattern, size)
    }
}

impl PlannedProject {
    fn title(&self) -> String {
        let kept = self.kept.as_ref().map(|kept| kept.name.as_str());
        title(kept, &self.pattern, &self.size)
    }
}

impl LeftOutProject {
    fn title(&self) -> String {
        let kept = self.kept.as_ref().map(|kept| kept.name.as_str());
        title(kept, &self.pattern, &self.size)
    }

    /// Each yarn that is bought for it, and what it comes to.
    fn bought(&self) -> impl Iterator<Item = &CandidateAnswer> + Clone {
        let bought = self.buy.iter().flat_map(|list| &list.yarns);
        bought.map(|yarn| &yarn.offered)
    }
}

fn news(answer: &PlanAnswer) -> (Role, String) {
    let (made, all) = (answer.made.len(), answer.made.len() + answer.left_out.len());
    let names = and_list(answer.made.iter().map(PlannedProject::title));
    let said = match (made, all) {
        (0, 1) => "Your stash is not enough for it.".to_owned(),
        (0, _) => "Your stash is enough for none of them.".to_owned(),
        (2, 2) => format!("You can make both: {names}."),
        (made, all) if made == all && all > 1 => format!("You can make all {all}: {names}."),
        (_, 1) => format!("You can make {names}."),
        _ => format!("You can make {made} of {all}: {names}."),
    };
    let more = answer.at_most.saturating_sub(made);
    let unproved = match (answer.is_optimal, more) {
        (true, _) => String::new(),
        (false, 0) => {
            " There may be a better choice of yarns: the search stopped early.".to_owned()
        }
        (false, more) => {
            format!(" At most {more} more could be made: the search stopped after 2 seconds.")
        }
    };
    let role = match made {
        0 => Role::Bad,
        made if made == all => Role::Good,
        _ => Role::Doubtful,
    };
    (role, said + &unproved)
}

/// What is reserved for projects of the plan, or how to reserve it.
fn reserved(answer: &PlanAnswer) -> Vec<String> {
    let made = answer.made.iter().filter_map(|made| made.kept.as_ref());
    let left = answer.left_out.iter().filter_map(|left| left.kept.as_ref());
    let all = made.chain(left).filter(|kept| !kept.reserved.is_empty());
    let names: Vec<&str> = all.map(|kept| kept.name.as_str()).collect();
    if !names.is_empty() {
        let names = and_list(names);
        return vec![format!(
            "Yarn is reserved for {names}: see `understudy project list`."
        )];
    }
    let is_to_reserve = answer.is_of_kept && !answer.is_reserved && !answer.made.is_empty();
    let how = "To reserve this yarn for them: `understudy plan --reserve`.";
    Vec::from_iter(is_to_reserve.then(|| how.to_owned()))
}

fn made_table(made: &[PlannedProject], style: &Style) -> Table {
    let yarns = made.iter().flat_map(|project| {
        let yarns = project.yarns.iter().enumerate();
        yarns.map(move |(place, yarn)| (project, place, yarn))
    });
    let table = Table::of(yarns)
        .left("project", |(project, place, _)| {
            (place == 0).then(|| project.title())
        })
        .left("for", |(project, _, yarn)| {
            (project.yarns.len() > 1).then_some(yarn.role.as_str())
        })
        .left("yarn", |(_, _, yarn)| yarn_title(yarn))
        .left("shade", |(_, _, yarn)| {
            shade_of(&yarn.shade, &yarn.lots, style)
        })
        .right("needs", |(_, _, yarn)| style.length_alone(yarn.takes))
        .left("from", |(_, _, yarn)| from_lots(yarn, style));
    table.into()
}

fn yarn_title(yarn: &PlannedYarn) -> String {
    let offered = &yarn.offered;
    strands_of(&offered.candidate.title, offered.plan.strands)
}

/// `lot A417, blue trunk`; of several lots, what each gives.
fn from_lots(yarn: &PlannedYarn, style: &Style) -> String {
    let lots = yarn.lots.iter().map(|(held, takes)| {
        let lot = lot_and_place(held);
        match yarn.lots.as_slice() {
            [_] => lot,
            _ => format!("{} of {lot}", style.length_alone(*takes)),
        }
    });
    joined(lots, "; ")
}

/// The title of a project, and what one of its yarns comes to.
type YarnOf<'a> = (String, &'a CandidateAnswer);

impl PlanAnswer {
    /// Each yarn of each project that can be made.
    fn yarns_made(&self) -> impl Iterator<Item = YarnOf<'_>> {
        self.made.iter().flat_map(|made| {
            let yarns = made.yarns.iter();
            yarns.map(|yarn| (made.title(), &yarn.offered))
        })
    }

    /// Each yarn that is bought for the others.
    fn yarns_bought(&self) -> impl Iterator<Item = YarnOf<'_>> {
        let left_out = self.left_out.iter();
        left_out.flat_map(|left| left.bought().map(|offered| (left.title(), offered)))
    }
}

/// What can go wrong, each thing once.
fn cautions_of<'a>(yarns: impl Iterator<Item = YarnOf<'a>>) -> Vec<String> {
    cautions_for(yarns.map(|(name, offered)| (name, &offered.judgement)))
}

/// What has to be met for yarns that only could work.
fn conditions<'a>(yarns: impl Iterator<Item = YarnOf<'a>>, style: &Style) -> Vec<String> {
    let could = yarns.filter(|(_, offered)| offered.judgement.verdict == Verdict::CouldWork);
    said_of(could.map(|(name, offered)| {
        let (yarn, said) = (&offered.candidate.title, could_work(offered, style));
        (name, format!("{yarn} {said}."))
    }))
}

/// What to do about yarns of several lots.
fn mixed_lots<'a>(yarns: impl Iterator<Item = (String, &'a PlannedYarn)>) -> Vec<String> {
    let mixed = yarns.filter(|(_, yarn)| yarn.lots.len() > 1);
    said_of(mixed.map(|(name, yarn)| {
        let yarn = &yarn.offered.candidate.title;
        let said = format!("alternate skeins of the lots of {yarn} every few rows.");
        (name, said)
    }))
}

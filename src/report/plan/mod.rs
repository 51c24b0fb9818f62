//! Several projects from one stash: what can be made of what, and what to buy.

mod fields;
mod left_out;
mod page;

use super::{
    Page, Render, Role, SWATCH_IN_SHORT, SWATCH_LINE, Style, Table,
    cover::{ONE_SIZE, lot_and_place, shade_of},
    judgement::{cautions_for, conditions_in_short, each_once},
    working::{WORKED_OUT, assumptions, working_sentences},
};
use crate::{
    app::{KeptProject, LeftOutProject, PlanAnswer, PlannedProject, PlannedYarn},
    matching::Verdict,
    words::{and_list, joined},
};
use fields::PlanFields;
pub(super) use fields::ReservedFields;
use left_out::project_words;
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
        page.items(Role::Plain, &conditions(&self.made, style));
        page.items(Role::Caution, &cautions_of(&self.made));
        if !self.left_out.is_empty() {
            page.section("Not from the stash alone");
            let left_out = self.left_out.iter();
            page.items(
                Role::Plain,
                &left_out
                    .map(|left| project_words(left, style))
                    .collect::<Vec<_>>(),
            );
        }
        page.items(Role::Plain, &reserved(self));
        page.items(Role::Caution, &style.notes(&self.notes));
        let assumed = assumptions(&self.working, style);
        page.text(Role::Aside, format!("{assumed}{SWATCH_IN_SHORT}"));
        let mut working = Page::default();
        working.items(Role::Aside, &working_sentences(&self.working, style));
        working.text(Role::Plain, SWATCH_LINE);
        page.details(WORKED_OUT, working);
        page
    }
}

/// The name of a kept project, else of its pattern.
fn named<'n>(kept: Option<&'n KeptProject>, pattern: &'n str) -> &'n str {
    kept.map_or(pattern, |kept| kept.name.as_str())
}

/// `Skerrablet, size M`; of a kept project its name, with its pattern where that says
/// another.
fn title(kept: Option<&KeptProject>, pattern: &str, size: &str) -> String {
    let pattern_in_size = match size {
        "" | ONE_SIZE => pattern.to_owned(),
        size => format!("{pattern}, size {size}"),
    };
    match kept {
        None => pattern_in_size,
        Some(kept) if kept.name.starts_with(pattern) => kept.name.clone(),
        Some(kept) => format!("{} ({pattern_in_size})", kept.name),
    }
}

impl PlannedProject {
    fn title(&self) -> String {
        title(self.kept.as_ref(), &self.pattern, &self.size)
    }
}

impl LeftOutProject {
    fn title(&self) -> String {
        title(self.kept.as_ref(), &self.pattern, &self.size)
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
    let is_to_reserve = answer.is_of_kept && !answer.made.is_empty();
    let how = "To reserve this yarn for them: `understudy plan --reserve`.";
    Vec::from_iter(is_to_reserve.then(|| how.to_owned()))
}

fn made_table(made: &[PlannedProject], style: &Style) -> Table {
    let yarns = made.iter().flat_map(|project| {
        let yarns = project.yarns.iter().enumerate();
        yarns.map(move |(place, yarn)| (project, place, yarn))
    });
    let table = Table::of(yarns)
        .left("pattern", |(project, place, _)| {
            (place == 0).then(|| project.title())
        })
        .left("for", |(project, _, yarn)| {
            (project.yarns.len() > 1).then_some(yarn.role.as_str())
        })
        .left("yarn", |(_, _, yarn)| yarn_title(yarn))
        .left("shade", |(_, _, yarn)| {
            shade_of(&yarn.shade, &yarn.lots, style)
        })
        .right("takes", |(_, _, yarn)| style.length_alone(yarn.takes))
        .left("from", |(_, _, yarn)| from_lots(yarn, style));
    table.into()
}

fn yarn_title(yarn: &PlannedYarn) -> String {
    let title = &yarn.offered.candidate.title;
    match yarn.offered.plan.strands {
        1 => title.clone(),
        strands => format!("{title}, {strands} strands"),
    }
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

/// What can go wrong with the yarn of each project, each once.
fn cautions_of(made: &[PlannedProject]) -> Vec<String> {
    let yarns = made.iter().flat_map(|project| {
        let name = project.title();
        let judged = project.yarns.iter().map(|yarn| &yarn.offered.judgement);
        judged.flat_map(move |judged| cautions_for(&name, judged))
    });
    each_once(yarns)
}

/// What has to be met for yarns that only could work, each once, and what to do about
/// several lots.
fn conditions(made: &[PlannedProject], style: &Style) -> Vec<String> {
    let yarns = made.iter().flat_map(|project| {
        let name = project.title();
        project.yarns.iter().map(move |yarn| (name.clone(), yarn))
    });
    let said = yarns.flat_map(|(name, yarn)| {
        let offered = &yarn.offered;
        let is_doubtful = offered.judgement.verdict == Verdict::CouldWork;
        let could = is_doubtful.then(|| {
            let conditions = conditions_in_short(offered, style);
            format!(
                "{name}: {} could work if {conditions}.",
                offered.candidate.title
            )
        });
        let mixed = (yarn.lots.len() > 1).then(|| {
            format!(
                "{name}: alternate skeins of the lots of {} every few rows.",
                offered.candidate.title
            )
        });
        could.into_iter().chain(mixed)
    });
    each_once(said)
}

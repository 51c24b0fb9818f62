//! Several projects from one stash: what can be made of what, and what to buy.

use super::{
    Page, Render, Role, SWATCH_IN_SHORT, SWATCH_LINE, Style, Table,
    cover::{ONE_SIZE, lot_and_place, shade_of},
    judgement::{conditions_in_short, conditions_of, each_once, verdict_words},
    purchase::{counted, counter},
    working::{WORKED_OUT, assumptions, working_sentences},
};
use crate::{
    app::{
        LeftOutProject, PlanAnswer, PlannedProject, PlannedPurchase, PlannedYarn, ShoppingList,
        WhyLeftOut,
    },
    matching::Verdict,
    words::{and_list, joined},
};
use serde::Serialize;
use serde_json::{Value, json};

impl Render for PlanAnswer {
    /// `made` and `left_out` in the order that was asked; `optimal` says that no plan is
    /// better, else no more than `at_most` projects can be made. `take_m` and `need_m` hold
    /// the margin.
    fn fields(&self) -> impl Serialize {
        let style = &Style::default();
        let made = self.made.iter().map(|made| made_fields(made, style));
        let left_out = self
            .left_out
            .iter()
            .map(|left| left_out_fields(left, style));
        json!({
            "made": made.collect::<Vec<_>>(),
            "left_out": left_out.collect::<Vec<_>>(),
            "optimal": self.is_optimal,
            "at_most": self.at_most,
            "working": working_sentences(&self.working, style),
            "warnings": style.notes(&self.notes),
            "swatch": SWATCH_LINE,
        })
    }

    fn page(&self, style: &Style) -> Page {
        let mut page = Page::titled("What you can make from your stash");
        let (role, said) = news(self);
        page.text(role, said);
        page.table(made_table(&self.made, style));
        page.items(Role::Plain, &conditions(&self.made, style));
        if !self.left_out.is_empty() {
            page.section("Not from the stash alone");
            let left_out = self.left_out.iter();
            page.items(
                Role::Plain,
                &left_out
                    .map(|left| left_out_words(left, style))
                    .collect::<Vec<_>>(),
            );
        }
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

fn made_fields(made: &PlannedProject, style: &Style) -> Value {
    let yarn = |yarn: &PlannedYarn| {
        let lots = yarn.lots.iter().map(|(held, takes)| {
            json!({
                "lot": held.lot.lot,
                "place": held.lot.place,
                "take_m": takes.as_metres(),
            })
        });
        json!({
            "role": yarn.role,
            "yarn": yarn.offered.candidate.title,
            "shade": yarn.shade,
            "verdict": verdict_words(yarn.offered.judgement.verdict),
            "conditions": conditions_of(&yarn.offered, style),
            "strands": yarn.offered.plan.strands,
            "need_m": yarn.takes.as_metres(),
            "lots": lots.collect::<Vec<_>>(),
        })
    };
    json!({
        "project": made.pattern,
        "size": made.size,
        "yarns": made.yarns.iter().map(yarn).collect::<Vec<_>>(),
    })
}

fn left_out_fields(left: &LeftOutProject, style: &Style) -> Value {
    let lists = left.buy.iter();
    let bought = lists.flat_map(|list| &list.yarns);
    let buy = bought.map(|yarn| {
        json!({
            "role": yarn.role,
            "yarn": yarn.candidate.title,
            "shade": yarn.shade,
            "skeins": yarn.skeins,
            "cost": yarn.cost.map(|cost| cost.to_string()),
            "need_m": yarn.takes.as_metres(),
            "from_stash_m": yarn.from_stash.as_metres(),
        })
    });
    json!({
        "project": left.pattern,
        "size": left.size,
        "why": why(&left.why, style),
        "buy": buy.collect::<Vec<_>>(),
        "cost": left.buy.as_ref().and_then(|list| list.cost).map(|cost| cost.to_string()),
    })
}

/// `Skerrablet, size M`.
fn title(pattern: &str, size: &str) -> String {
    match size {
        "" | ONE_SIZE => pattern.to_owned(),
        size => format!("{pattern}, size {size}"),
    }
}

fn news(answer: &PlanAnswer) -> (Role, String) {
    let (made, all) = (answer.made.len(), answer.made.len() + answer.left_out.len());
    let names = and_list(answer.made.iter().map(|it| title(&it.pattern, &it.size)));
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
            " There may be a better choice of yarns: the search stopped after 2 seconds.".to_owned()
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

fn made_table(made: &[PlannedProject], style: &Style) -> Table {
    let yarns = made.iter().flat_map(|project| {
        let yarns = project.yarns.iter().enumerate();
        yarns.map(move |(place, yarn)| (project, place, yarn))
    });
    let table = Table::of(yarns)
        .left("pattern", |(project, place, _)| {
            (place == 0).then(|| title(&project.pattern, &project.size))
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

/// What has to be met for yarns that only could work, each once, and what to do about
/// several lots.
fn conditions(made: &[PlannedProject], style: &Style) -> Vec<String> {
    let yarns = made.iter().flat_map(|project| {
        let name = title(&project.pattern, &project.size);
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

fn left_out_words(left: &LeftOutProject, style: &Style) -> String {
    let why = why(&left.why, style);
    let buy = match &left.buy {
        Some(list) => shopping_words(list, style),
        None => "Nothing in your records could be bought for it.".to_owned(),
    };
    format!("{}: {why}. {buy}", title(&left.pattern, &left.size))
}

fn why(why: &WhyLeftOut, style: &Style) -> String {
    match why {
        WhyLeftOut::StashNotCounted => "your stash does not count here".to_owned(),
        WhyLeftOut::NeedNotKnown(role) => {
            format!("the pattern does not say how much yarn {role} takes")
        }
        WhyLeftOut::NothingFor(role) => {
            format!("nothing in your stash should or could work for yarn {role}")
        }
        WhyLeftOut::NotEnough {
            role,
            yarn,
            shade,
            holds,
            takes,
        } => {
            let shade = match shade.as_str() {
                "" => String::new(),
                shade => format!(" in {shade}"),
            };
            format!(
                "not enough in one shade for yarn {role}: {yarn}{shade} is nearest with {}, and it takes {}",
                style.length_alone(*holds),
                style.length_alone(*takes)
            )
        }
        WhyLeftOut::OthersFirst => "its yarn goes to the others".to_owned(),
    }
}

/// `Buy 3 skeins of Vorrelith, Orrin DK (27.00 EUR).`
fn shopping_words(list: &ShoppingList, style: &Style) -> String {
    let bought = list.yarns.iter().filter(|yarn| yarn.skeins > 0);
    let bought: Vec<String> = bought
        .map(|yarn| purchase_words(yarn, list, style))
        .collect();
    if bought.is_empty() {
        return "Nothing is to be bought.".to_owned();
    }
    let cost = list.cost.filter(|_| bought.len() > 1);
    let cost = cost.map_or(String::new(), |cost| format!(", {cost} in all"));
    format!("Buy {}{cost}.", and_list(bought))
}

fn purchase_words(yarn: &PlannedPurchase, list: &ShoppingList, style: &Style) -> String {
    let word = counter(&yarn.candidate.facts);
    let more = if yarn.shade.is_some() { "more " } else { "" };
    let shade = yarn.shade.as_deref().filter(|shade| !shade.is_empty());
    let shade = shade.map_or(String::new(), |shade| format!(" in {shade}"));
    let role = match list.yarns.as_slice() {
        [_] => String::new(),
        _ => format!(" for {}", yarn.role),
    };
    let there = yarn
        .shade
        .as_ref()
        .map(|_| format!("you have {}", style.length_alone(yarn.from_stash)));
    let cost = yarn.cost.map(|cost| cost.to_string());
    let aside = joined(cost.iter().chain(&there), "; ");
    let aside = match aside.as_str() {
        "" => String::new(),
        aside => format!(" ({aside})"),
    };
    let skeins = counted(yarn.skeins, &format!("{more}{word}"));
    format!("{skeins} of {}{shade}{role}{aside}", yarn.candidate.title)
}

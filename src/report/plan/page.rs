//! The projects of a plan one by one, as a page shows them with their forms.

use super::{
    assumed, cautions_of, conditions, from_lots,
    left_out::{chosen, left_out_sentences},
    mixed_lots, news, yarn_title,
};
use crate::{
    app::{
        CandidateAnswer, KeptProject, LotUse, PlanAnswer, PlannedProject, PlannedYarn, YarnOption,
    },
    record::Lot,
    report::{
        Bar, Bars, Page, Picture, Role, Style, Table,
        cover::shade_of,
        records::{project_wishes, reservation_words},
    },
    words::{and_list, joined, number},
};

/// One project of a plan, for a page.
#[derive(Debug, Clone)]
pub struct ProjectPage<'a> {
    /// The project.
    pub kept: &'a KeptProject,
    /// The pattern, in its size.
    pub pattern: &'a str,
    /// What it gets, or why not, below its place and name.
    pub page: Page,
}

/// What can be made of the kept projects, in a sentence, with what was assumed.
pub fn plan_news(answer: &PlanAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    let (role, said) = news(answer);
    page.text(role, said);
    page.text(Role::Aside, assumed(answer, style));
    page
}

/// Each kept project, in their order.
pub fn project_pages<'a>(answer: &'a PlanAnswer, style: &Style) -> Vec<ProjectPage<'a>> {
    let made = answer.made.iter().filter_map(|made| {
        let kept = made.kept.as_ref()?;
        Some(project_page(
            (kept, &made.pattern, &made.size),
            made_page(made, style),
        ))
    });
    let left_out = answer.left_out.iter().filter_map(|left| {
        let kept = left.kept.as_ref()?;
        let mut page = Page::default();
        let (why, buy) = left_out_sentences(left, style);
        page.text(Role::Bad, why);
        if !buy.is_empty() {
            page.text(Role::Plain, buy);
        }
        add_yarns(&mut page, left.bought(), style);
        Some(project_page((kept, &left.pattern, &left.size), page))
    });
    let mut all: Vec<ProjectPage<'a>> = made.chain(left_out).collect();
    all.sort_by_key(|project| project.kept.rank);
    all
}

fn project_page<'a>(
    (kept, pattern, size): (&'a KeptProject, &'a str, &str),
    content: Page,
) -> ProjectPage<'a> {
    let mut page = Page::default();
    page.section(format!("{}. {}", kept.rank, kept.title(pattern, size)));
    let wanted = project_wishes(&kept.project);
    if !wanted.is_empty() {
        page.text(Role::Aside, format!("You want: {wanted}."));
    }
    page.blocks.extend(content.blocks);
    if !kept.reserved.is_empty() {
        let what = and_list(kept.reserved.iter().map(reservation_words));
        page.text(Role::Plain, format!("Reserved for it: {what}."));
    }
    ProjectPage {
        kept,
        pattern,
        page,
    }
}

/// Each yarn of a project with its shade, how much it uses and from where.
fn made_page(made: &PlannedProject, style: &Style) -> Page {
    let mut page = Page::default();
    let several = made.yarns.len() > 1;
    let table = Table::of(&made.yarns)
        .left("for", |yarn: &PlannedYarn| {
            several.then_some(yarn.role.as_str())
        })
        .left("yarn", yarn_title)
        .left("shade", |yarn| shade_of(&yarn.shade, &yarn.lots, style))
        .right("needs", |yarn| style.length_alone(yarn.takes))
        .left("from", |yarn| from_lots(yarn, style));
    page.table(table);
    let unnamed = made.yarns.iter().map(|yarn| (String::new(), yarn));
    page.items(Role::Plain, &mixed_lots(unnamed));
    add_yarns(
        &mut page,
        made.yarns.iter().map(|yarn| &yarn.offered),
        style,
    );
    page
}

/// What has to be met for these yarns, and what can go wrong.
fn add_yarns<'a>(
    page: &mut Page,
    yarns: impl Iterator<Item = &'a CandidateAnswer> + Clone,
    style: &Style,
) {
    let unnamed = || yarns.clone().map(|offered| (String::new(), offered));
    page.items(Role::Plain, &conditions(unnamed(), style));
    page.items(Role::Caution, &cautions_of(unnamed()));
}

/// How much of each lot the plan uses, as bars.
pub fn plan_uses(answer: &PlanAnswer, style: &Style) -> Page {
    let mut page = Page::default();
    page.picture(bars(&answer.uses, style).map(Picture::Bars));
    page
}

fn bars(uses: &[LotUse], style: &Style) -> Option<Bars> {
    let [unit, _] = style.ordered("m", "yd");
    let per_metre = match unit {
        "m" => 1.0,
        _ => style.per_metre(),
    };
    let bar = |used: &LotUse| {
        let parts = [used.used_m, used.left_m].map(|metres| metres * per_metre);
        let all: f64 = parts.iter().sum();
        let [part, all] = [used.used_m * per_metre, all].map(|length| number(length, 0));
        let Lot { shade, lot, .. } = &used.lot.lot;
        let lot = lot.as_ref().map(|lot| format!("lot {lot}"));
        let lot = [shade.clone(), lot.unwrap_or_default()];
        Bar {
            group: used.yarn.clone(),
            label: joined(lot.iter().filter(|text| !text.is_empty()), ", "),
            parts: parts.to_vec(),
            shown: format!("{part} of {all} {unit}"),
        }
    };
    let most = uses
        .iter()
        .map(|used| (used.used_m + used.left_m) * per_metre);
    let most = most.fold(0.0, f64::max);
    (most > 0.0).then(|| Bars {
        title: "How much of each lot the plan uses".to_owned(),
        heads: ["yarn".to_owned(), "lot".to_owned()],
        parts: ["used", "left over"]
            .map(|part| format!("{part}, {unit}"))
            .to_vec(),
        most,
        bars: uses.iter().map(bar).collect(),
    })
}

/// A yarn that may be chosen: `Umberlin DK in moss`.
pub fn yarn_option_words(option: &YarnOption) -> String {
    chosen(option)
}

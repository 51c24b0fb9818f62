//! Lists of kept records, a page at a time, with a form that searches them, filters
//! them, and heads that put them in order.

use super::{
    form::{Field, Form, Head, Kind},
    links::query_without,
    sent_once::Done,
    visit::{PageResult, Visit},
};
use crate::{
    app::{self, AppError, FormData, ListPage, Records},
    report::{self, Page, Role, Style, Table},
    trade::WeightClass,
    words::count_of_items,
};

/// Entries on one page of a list.
const PAGE: usize = 40;
/// The most that are shown at once to those who ask for all.
const ALL: usize = 5_000;

/// Of those that a form asks for, so many from one on.
type Browse<T> = fn(&Records, &FormData, usize, usize) -> Result<ListPage<T>, AppError>;

/// What a list is of, and what is said where it is empty.
pub(super) struct List<T> {
    pub(super) heading: &'static str,
    pub(super) here: &'static str,
    /// What one of them is called.
    pub(super) one: &'static str,
    /// Ways on that stand above it, and those that stand below.
    pub(super) links: &'static [(&'static str, &'static str)],
    pub(super) below: &'static [(&'static str, &'static str)],
    /// What the field that searches it takes.
    pub(super) search: &'static str,
    /// Whether it is of yarns, which are filtered by what they are like.
    pub(super) of_yarns: bool,
    /// Heads that put it in order, and what the field `sort` says then; the first is
    /// the usual order.
    pub(super) orders: &'static [(&'static str, &'static str)],
    /// Where nothing is kept: what is said, and the steps that one may take.
    pub(super) empty: (&'static str, &'static [(&'static str, &'static str)]),
    /// Where nothing is found.
    pub(super) none: &'static str,
    pub(super) browse: Browse<T>,
    /// The number of one.
    pub(super) number: fn(&T) -> i64,
    pub(super) rows: fn(&[T], &Style) -> Table,
}

/// What paper says of a list that goes on.
const PART_ON_PAPER: &str =
    "<p class=\"paper-only\">This is a part of the list: choose Show all, then print.</p>\n";

/// Whether only so many of what was found are shown.
fn is_part<T>(found: &ListPage<T>, count: usize) -> bool {
    count == PAGE && (found.more || found.from > 0)
}

/// How many there are, and which of them these are: `1 to 40 of 213 lots`.
fn count_words<T>(found: &ListPage<T>, one: &str, is_asked: bool) -> String {
    let (first, last) = (found.from + 1, found.from + found.entries.len());
    let end = if is_asked { " found" } else { "" };
    match found.total {
        Some(all) if found.from == 0 && last == all => count_of_items(all, one) + end,
        Some(all) => format!("{first} to {last} of {}{end}", count_of_items(all, one)),
        None => format!("{first} to {last}; more follow"),
    }
}

/// What tells one page of a list from another, beside what is looked for.
const PLACES: [&str; 3] = ["from", "all", "done"];

impl<T: Send + 'static> List<T> {
    /// One page of it.
    pub(super) async fn page(&self, visit: Visit, sent: FormData) -> PageResult {
        let browse = self.browse;
        let from = sent.number("from").unwrap_or(0);
        let count = if sent.filled("all").is_some() {
            ALL
        } else {
            PAGE
        };
        let find = move |records: &Records, sent: &FormData| browse(records, sent, from, count);
        let found = visit.answer(&sent, find).await?;
        let mut body = visit.body();
        body.heading(self.heading);
        body.links(self.links);
        let form = self.form(&sent);
        let is_asked = form.fields().any(|field| !field.value.trim().is_empty());
        if found.entries.is_empty() && !is_asked {
            body.text(self.empty.0);
            body.links(self.empty.1);
            if visit.read(app::is_new).await? {
                body.form(&sample_form());
            }
            body.links(self.below);
            return Ok(visit.page((self.heading, self.here), body));
        }
        body.form(&form);
        if found.entries.is_empty() {
            body.text(self.none);
        } else {
            body.hint(&count_words(&found, self.one, is_asked));
            let rows = (self.rows)(&found.entries, &visit.style());
            let links = found.entries.iter().map(self.number);
            let links: Vec<String> = links.map(|n| format!("{}/{n}", self.here)).collect();
            body.list(&rows, self.heading, &self.heads(&sent), &links);
            if is_part(&found, count) {
                body.fixed(PART_ON_PAPER);
            }
        }
        body.links(&self.beside(&sent, &found, count));
        body.links(self.below);
        Ok(visit.page((self.heading, self.here), body))
    }

    /// The form that searches and filters.
    fn form(&self, sent: &FormData) -> Form {
        let mut fields = vec![Field::new("q", self.search, "", Kind::Line)];
        if self.of_yarns {
            let classes = WeightClass::ALL.map(|it| (it.number().to_string(), it.to_string()));
            fields.extend([
                Field::new("maker", "Maker", "", Kind::Line),
                Field::new("fibre", "Fibre", "", Kind::Line),
                Field::new("class", "Weight", "", Kind::one_of("Any", classes)),
            ]);
        }
        let form = Form::get("search", self.here, "Search");
        let form = form.with(Head::None, fields).filled(sent);
        match sent.filled("sort") {
            Some(order) => form.hidden("sort", order),
            None => form,
        }
    }

    /// The heads that put it in order.
    fn heads(&self, sent: &FormData) -> Vec<report::Head> {
        let rest = query_without(sent, &[&PLACES[..], &["sort"]].concat());
        let known = |order: &str| self.orders.iter().any(|(_, it)| *it == order);
        let asked = Some(sent.text("sort")).filter(|order| known(order));
        let now = asked.or(self.orders.first().map(|(_, order)| *order));
        let head = |(text, order): &(&'static str, &str)| report::Head {
            text,
            link: format!("{}?{rest}&sort={order}", self.here),
            is_order: Some(*order) == now,
        };
        self.orders.iter().map(head).collect()
    }

    /// Links to what was found before and after, and to all of it.
    fn beside(
        &self,
        sent: &FormData,
        found: &ListPage<T>,
        count: usize,
    ) -> Vec<(String, &'static str)> {
        let rest = query_without(sent, &PLACES);
        let at = |from: usize| format!("{}?{rest}&from={from}", self.here);
        let before = || (at(found.from.saturating_sub(count)), "Before these");
        let after = || (at(found.from + count), "After these");
        let all = || (format!("{}?{rest}&all=yes", self.here), "Show all");
        let links = [
            (found.from > 0).then(before),
            found.more.then(after),
            is_part(found, count).then(all),
        ];
        links.into_iter().flatten().collect()
    }
}

/// The button that takes the sample stash in, for those who have no records yet and
/// want to try the program.
fn sample_form() -> Form {
    Form::get("sample", "/sample", "Try the sample stash").once()
}

/// Takes the sample stash in, and goes on to the question.
pub(super) async fn take_sample(visit: Visit, sent: FormData) -> PageResult {
    let taking = |records: &mut Records, _: &FormData| {
        app::take_sample(records)?;
        // Three changes, of which a button would undo the last only.
        records.take_last_change();
        let mut told = Page::default();
        let said = "The sample stash is in: invented yarns, some of them in your stash, and four patterns.";
        told.text(Role::Plain, said);
        Ok::<_, AppError>(Done {
            next: "/".to_owned(),
            told: Some(told),
            change: None,
        })
    };
    Ok(visit.once(&sent, taking).await??)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_says_how_many_there_are_as_far_as_that_is_known() {
        let page = |from, total| ListPage {
            entries: vec![(); 2],
            from,
            total,
            more: false,
        };
        let words = |from, total, is_asked| count_words(&page(from, total), "lot", is_asked);
        assert_eq!(words(0, Some(2), false), "2 lots");
        assert_eq!(words(0, Some(2), true), "2 lots found");
        assert_eq!(words(40, Some(90), false), "41 to 42 of 90 lots");
        assert_eq!(words(0, None, true), "1 to 2; more follow");
    }
}

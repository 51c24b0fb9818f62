//! Tables with scopes, in a frame that scrolls sideways where they are wide. One of
//! many columns becomes a strip a row where the window is narrow: each cell then says
//! its column itself, and the roles keep it a table for those who listen to it.

use super::escaped;
use crate::{
    report::{Align, Table, VERDICT},
    words::with_units_held,
};

/// Columns from which on a table is no longer told side by side on a phone.
const WIDE: usize = 4;

/// Where the head of a column leads: to the same list in its order.
#[derive(Debug, Clone)]
pub struct Head {
    /// The head.
    pub text: &'static str,
    /// Where it leads.
    pub link: String,
    /// Whether the list is in its order now.
    pub is_order: bool,
}

/// A table; one whose columns have no heads becomes a list of terms.
pub(super) fn table(table: &Table, label: &str, links: &Links<'_>) -> String {
    if table.columns.iter().all(|(head, _)| head.is_empty()) {
        terms(table)
    } else {
        framed(table, label, (&[], &[]), links)
    }
}

/// Where the cells of a table lead.
pub(super) struct Links<'l> {
    /// Puts a link at each name in a text that is escaped already.
    pub(super) at_names: &'l dyn Fn(&str) -> String,
    /// The link to the answer of a row, by its name.
    pub(super) in_full: &'l dyn Fn(&str) -> Option<String>,
}

/// A list whose heads put it in order, and the first cell of whose rows leads to
/// each of `rows`.
pub fn list_table(table: &Table, label: &str, heads: &[Head], rows: &[String]) -> String {
    let table = table.clone().without_empty_columns();
    let links = Links {
        at_names: &str::to_owned,
        in_full: &|_| None,
    };
    let list = framed(&table, label, (heads, rows), &links);
    super::with_chips(&format!("<div class=\"list\">\n{list}</div>\n"))
}

fn terms(table: &Table) -> String {
    let pairs: String = table
        .rows
        .iter()
        .filter_map(|row| row.split_first())
        .map(|(what, rest)| {
            let said = escaped(&rest.join(" "));
            format!("<dt>{}</dt><dd>{said}</dd>\n", escaped(what))
        })
        .collect();
    format!("<dl>\n{pairs}</dl>\n")
}

fn framed(
    table: &Table,
    label: &str,
    (heads, firsts): (&[Head], &[String]),
    links: &Links<'_>,
) -> String {
    let is_strips = table.columns.len() >= WIDE;
    let role = |name: &str| match is_strips {
        true => format!(" role=\"{name}\""),
        false => String::new(),
    };
    let columns = table.columns.iter();
    let columns: String = columns.map(|it| column(it, heads, &role)).collect();
    let mut firsts = firsts.iter().map(String::as_str);
    let mut in_full = table.in_full.iter();
    let rows = table.rows.iter();
    let rows: String = rows
        .map(|row| {
            let answer = in_full.next().and_then(|name| (links.in_full)(name));
            let lead = Lead {
                first: firsts.next(),
                answer: answer.as_deref(),
                links,
            };
            let cells = cells(row, table, &lead, &role);
            format!("<tr{}>{cells}</tr>\n", role("row"))
        })
        .collect();
    format!(
        "<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{}\">\n\
         <table{}{}>\n<thead{group}><tr{}>{columns}</tr></thead>\n\
         <tbody{group}>\n{rows}</tbody>\n</table>\n</div>\n",
        escaped(label),
        if is_strips { " class=\"strips\"" } else { "" },
        role("table"),
        role("row"),
        group = role("rowgroup"),
    )
}

/// The role of a part of a table, as an attribute; empty where its tag says it.
type RoleOf<'r> = &'r dyn Fn(&str) -> String;

/// The head of a column; an empty one is no head of anything.
fn column((text, align): &(String, Align), heads: &[Head], role: RoleOf<'_>) -> String {
    if text.is_empty() {
        return format!("<td{}></td>", role("cell"));
    }
    let shown = escaped(&with_units_held(text));
    let (sort, shown) = match heads.iter().find(|head| head.text == text) {
        Some(head) if head.is_order => (" aria-sort=\"ascending\"", format!("{shown} ↓")),
        Some(head) => {
            let link = escaped(&head.link);
            ("", format!("<a href=\"{link}\">{shown}</a>"))
        }
        None => ("", shown),
    };
    let (side, role) = (side(*align), role("columnheader"));
    format!("<th{role}{sort} scope=\"col\"{side}>{shown}</th>")
}

/// Where the cells of one row lead.
struct Lead<'l> {
    /// The first.
    first: Option<&'l str>,
    /// The verdict.
    answer: Option<&'l str>,
    links: &'l Links<'l>,
}

fn cells(row: &[String], table: &Table, lead: &Lead<'_>, role: RoleOf<'_>) -> String {
    let columns = row.iter().zip(&table.columns);
    columns
        .enumerate()
        .map(|(at, (text, (head, align)))| {
            let shown = match (align, lead.answer) {
                (Align::Left, Some(link)) if head == VERDICT && !text.is_empty() => {
                    format!("<a href=\"{}\">{}</a>", escaped(link), escaped(text))
                }
                (Align::Left, _) if lead.first.is_none() => (lead.links.at_names)(&escaped(text)),
                (Align::Left, _) => escaped(text),
                (Align::Right, _) => escaped(&held_together(text)),
            };
            if at > 0 || text.is_empty() {
                return cell(&shown, head, *align, role);
            }
            let shown = match lead.first {
                Some(link) => format!("<a href=\"{}\"><bdi>{shown}</bdi></a>", escaped(link)),
                None => shown,
            };
            let (side, role) = (side(*align), role("rowheader"));
            format!("<th{role} scope=\"row\"{side}>{shown}</th>")
        })
        .collect()
}

/// A cell, which says its column where it stands in a strip.
fn cell(shown: &str, head: &str, align: Align, role: RoleOf<'_>) -> String {
    let role = role("cell");
    let said = match (shown, head, role.as_str()) {
        ("", ..) | (_, "", _) | (.., "") => String::new(),
        _ => format!(" data-head=\"{}\"", escaped(head)),
    };
    format!("<td{role}{said}{}>{shown}</td>", side(align))
}

/// Numbers such as `377 (342 to 413)` are broken only before the bracket.
fn held_together(numbers: &str) -> String {
    numbers.replace(' ', "\u{a0}").replace("\u{a0}(", " (")
}

fn side(align: Align) -> &'static str {
    match align {
        Align::Left => "",
        Align::Right => " class=\"right\"",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn yarns() -> Table {
        let heads = ["yarn", "class", "fibre", "place"].map(|head| (head, Align::Left));
        let mut table = Table::new(&heads);
        let row = ["Moss & Reed", "3", "", "shelf"];
        table.rows.push(row.map(str::to_owned).to_vec());
        let row = ["Dune", "4", "wool", "shelf"];
        table.rows.push(row.map(str::to_owned).to_vec());
        table
    }

    #[test]
    fn each_row_of_a_list_leads_to_its_record_and_each_cell_says_its_column() {
        let links = ["/yarns/7".to_owned(), "/yarns/8".to_owned()];
        let out = list_table(&yarns(), "Yarns", &[], &links);
        assert!(out.contains("<a href=\"/yarns/7\"><bdi>Moss &amp; Reed</bdi></a>"));
        assert!(out.contains("<td role=\"cell\" data-head=\"class\">4</td>"));
        assert!(
            out.contains("<td role=\"cell\"></td>"),
            "nothing to say: {out}"
        );
        assert!(out.contains("class=\"strips\""));
    }

    #[test]
    fn the_head_that_gives_the_order_says_so_and_the_others_lead_to_theirs() {
        let head = |text, is_order| Head {
            text,
            link: format!("/yarns?q=a&sort={text}"),
            is_order,
        };
        let out = list_table(
            &yarns(),
            "Yarns",
            &[head("yarn", true), head("class", false)],
            &[],
        );
        assert!(out.contains("aria-sort=\"ascending\" scope=\"col\">yarn"));
        assert!(out.contains("<a href=\"/yarns?q=a&amp;sort=class\">class</a>"));
    }
}

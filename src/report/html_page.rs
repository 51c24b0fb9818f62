//! A page as one HTML file that needs nothing else, to print or to send: a side
//! of A4 or letter, for an ordinary sheet.

use super::{Align, Block, Page, Role, Table, rail};
use crate::words::safe;

/// Small type, narrow margins and whole rows, so that a sheet stays on one side
/// of paper; colour is never the only carrier of meaning.
const STYLE: &str = "\
body{font:15px/1.4 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}\
h1{font-size:1.5em}h2{font-size:1.1em;margin:1.2em 0 .3em;border-bottom:1px solid #999}\
p,ul{margin:.3em 0}ul{padding-left:1.3em}\
table{border-collapse:collapse;margin:.4em 0}th,td{padding:.15em .7em .15em 0;text-align:left;vertical-align:top;border-bottom:1px solid #ddd}\
.number{text-align:right;font-variant-numeric:tabular-nums}\
.good,.doubtful,.bad{font-weight:bold}.caution{border-left:3px solid #a30;padding-left:.6em}ul.caution{padding-left:1.9em}.aside{color:#444}\
@page{margin:12mm}\
@media print{body{font-size:8.5pt;line-height:1.25;margin:0;padding:0;max-width:none}\
h1{font-size:13pt;margin:0 0 2mm}h2{font-size:9.5pt;margin:2.5mm 0 1mm}\
p,ul,table{margin:.8mm 0}tr,li{break-inside:avoid}h2{break-after:avoid}}";

/// The page as HTML. Text from records is escaped.
pub fn html_page(page: &Page) -> String {
    let title = page.blocks.iter().find_map(|block| match block {
        Block::Title(text) => Some(escaped(text)),
        _ => None,
    });
    let body: String = page.blocks.iter().map(written).collect();
    format!(
        "<!doctype html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n{body}</main>\n</body>\n</html>\n",
        title.unwrap_or_default()
    )
}

fn written(block: &Block) -> String {
    match block {
        Block::Title(text) => format!("<h1>{}</h1>\n", escaped(text)),
        Block::Section(text) => format!("<h2>{}</h2>\n", escaped(text)),
        Block::Text(role, text) => format!("<p{}>{}</p>\n", class(*role), escaped(text)),
        Block::Items(role, items) => {
            let items: String = items
                .iter()
                .map(|item| format!("<li>{}</li>\n", escaped(item)))
                .collect();
            format!("<ul{}>\n{items}</ul>\n", class(*role))
        }
        Block::Table(table) => tabulated(table),
        Block::Rail(words, numbers) => {
            format!(
                "<p>{}</p>\n<pre>{}</pre>\n",
                escaped(words),
                escaped(&rail(numbers))
            )
        }
    }
}

fn class(role: Role) -> &'static str {
    match role {
        Role::Plain => "",
        Role::Good => " class=\"good\"",
        Role::Doubtful => " class=\"doubtful\"",
        Role::Bad => " class=\"bad\"",
        Role::Caution => " class=\"caution\"",
        Role::Aside => " class=\"aside\"",
    }
}

fn tabulated(table: &Table) -> String {
    let cell = |tag: &str, scope: &str, text: &str, align: Align| {
        let class = match align {
            Align::Left => "",
            Align::Right => " class=\"number\"",
        };
        let name = tag;
        format!("<{name}{scope}{class}>{}</{name}>", escaped(text))
    };
    let head: String = table
        .columns
        .iter()
        .map(|(head, align)| cell("th", " scope=\"col\"", head, *align))
        .collect();
    let row = |cells: &Vec<String>| {
        let cells = cells.iter().zip(&table.columns);
        let cells: String = cells
            .map(|(text, (_, align))| cell("td", "", text, *align))
            .collect();
        format!("<tr>{cells}</tr>\n")
    };
    let rows: String = table.rows.iter().map(row).collect();
    format!("<table>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n")
}

/// Text that means nothing to HTML, in text and in attributes.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in safe(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_from_records_cannot_become_markup() {
        let mut page = Page::titled("<script>x</script> & \"y\"");
        page.items(Role::Caution, &["<img src=x>".to_owned()]);
        let mut table = Table::new(&[("<i>", Align::Left)]);
        table.rows.push(vec!["</td>".to_owned()]);
        page.table(table);
        let html = html_page(&page);
        assert!(html.contains("<h1>&lt;script&gt;x&lt;/script&gt; &amp; &quot;y&quot;</h1>"));
        for raw in ["<script", "<img", "<i>", "</td></td>"] {
            assert!(!html.contains(raw), "{raw}");
        }
    }

    #[test]
    fn a_page_needs_nothing_from_elsewhere() {
        let html = html_page(&Page::titled("x"));
        for outside in ["http", "src=", "url(", "@import", "<link"] {
            assert!(!html.contains(outside), "{outside}");
        }
    }
}

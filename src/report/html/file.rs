//! A page as one HTML file that needs nothing else, to print or to send: one side
//! of A4 or letter, for an ordinary sheet. What stands in it is written as on
//! every other page; only the frame and the style are its own.

use super::{escaped, html};
use crate::report::{Block, Page};

/// A page of a magazine: a serif, one rule above the title, tables of thin lines. On
/// paper 10.5 pt with whole rows, so that an ordinary sheet stays on one side; colour
/// is never the only carrier of meaning.
const STYLE: &str = "\
body{font:16px/1.45 Charter,'Bitstream Charter',Cambria,'Liberation Serif',Georgia,serif;max-width:46rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff;overflow-wrap:anywhere}\
h1{font-size:1.75em;line-height:1.15;margin:0 0 .5em;padding-top:.35em;border-top:3px solid #111}\
h2{font-size:1.08em;line-height:1.25;margin:1.1em 0 .25em}\
p,ul,dl,figure{margin:.25em 0}ul{padding-left:1.1em}li{margin:.12em 0}ul.plain{list-style:none;padding-left:0}ul.plain li{padding-left:1em;text-indent:-1em}dd{margin:0 0 .3em}\
.scroll{overflow-x:auto}table{border-collapse:collapse;margin:.3em 0;overflow-wrap:normal;width:100%;font-variant-numeric:tabular-nums lining-nums}\
thead th{text-wrap:balance;font-weight:normal;font-style:italic;line-height:1.2;vertical-align:bottom;border-bottom:1.5px solid #111}\
th,td{padding:.12em .9em .12em 0;text-align:left;vertical-align:top}tbody :is(th,td){border-bottom:1px solid #ccc}tbody tr:last-child :is(th,td){border-bottom:1.5px solid #111}tbody th{font-weight:bold}\
.right{text-align:right}th:last-child,td:last-child{padding-right:0}\
.news{font-weight:bold}ul.news{font-weight:normal}.caution{border:1px dashed #111;padding:.2em .6em}.aside{color:#444}\
.reasons{list-style:none;padding:0}.reasons li{margin:.3em 0;break-inside:avoid}.reasons .side{font-weight:bold}.reasons p{margin:0}\
.rail svg{display:block;width:100%;max-width:26rem;height:auto}.ends{display:grid;grid-template-columns:repeat(8,1fr);max-width:26rem;margin:0;padding:0 .6rem;box-sizing:border-box}.ends span{grid-column:span 2;text-align:center}.ends span:first-child{grid-column:2/span 2}.ends .way{grid-column:1/span 4;text-align:left}.ends .way:last-child{grid-column:5/span 4;text-align:right}\
.line,.limit{stroke:#777;stroke-width:1;fill:none}.band{stroke:#8a8a8a;stroke-width:12}.wanted{stroke:#111;stroke-width:2}.within{fill:#111;stroke:#fff;stroke-width:2.5}.outside{fill:none;stroke:#111;stroke-width:4}.halo{fill:none;stroke:#fff;stroke-width:9}\
@page{margin:12mm 17mm}\
@media print{body{font-size:10.5pt;line-height:1.28;margin:0;padding:0;max-width:none}\
h1{font-size:20pt}h2{margin-top:.85em}th,td{padding-block:.07em}.rail svg,.ends{max-width:8cm}.scroll{overflow:visible}tr,li,figure{break-inside:avoid}h2{break-after:avoid}}";

/// The page as a whole file. Text from records is escaped.
pub fn html_page(page: &Page) -> String {
    let title = page.blocks.iter().find_map(|block| match block {
        Block::Title(text) => Some(escaped(text)),
        _ => None,
    });
    let body = html(std::slice::from_ref(page));
    format!(
        "<!doctype html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n{body}</main>\n</body>\n</html>\n",
        title.unwrap_or_default()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Align, Role, Table};

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

    #[test]
    fn a_file_holds_what_the_same_page_shows() {
        let mut page = Page::titled("One");
        page.section("Part");
        page.text(Role::Good, "so");
        assert!(html_page(&page).contains(&html(&[page])));
    }
}

//! A page as one HTML file that needs nothing else, to print or to send: a side
//! of A4 or letter, for an ordinary sheet. What stands in it is written as on
//! every other page; only the frame and the style are its own.

use super::{escaped, html};
use crate::report::{Block, Page};

/// Small type, narrow margins and whole rows, so that a sheet stays on one side
/// of paper; colour is never the only carrier of meaning.
const STYLE: &str = "\
body{font:15px/1.4 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff;overflow-wrap:anywhere}\
h1{font-size:1.5em}h2{font-size:1.1em;margin:1.2em 0 .3em;border-bottom:1px solid #999}\
p,ul,dl,figure{margin:.3em 0}ul{padding-left:1.3em}dd{margin:0 0 .3em}\
.scroll{overflow-x:auto}table{border-collapse:collapse;margin:.4em 0;overflow-wrap:normal}\
th,td{padding:.15em .7em .15em 0;text-align:left;vertical-align:top;border-bottom:1px solid #ddd}tbody th{font-weight:normal}\
.right{text-align:right;font-variant-numeric:tabular-nums}\
.news{font-weight:bold}ul.news{font-weight:normal}.caution{border:1px dashed #111;padding:.2em .6em}.aside{color:#444}\
.rail svg{display:block;width:100%;max-width:26rem;height:auto}.ends{display:grid;grid-template-columns:repeat(8,1fr);max-width:26rem;margin:0;padding:0 .6rem;box-sizing:border-box}.ends span{grid-column:span 2;text-align:center}.ends span:first-child{grid-column:2/span 2}.ends .way{grid-column:1/span 4;text-align:left}.ends .way:last-child{grid-column:5/span 4;text-align:right}\
.line,.limit{stroke:#777;stroke-width:1;fill:none}.band{stroke:#8a8a8a;stroke-width:12}.wanted{stroke:#111;stroke-width:2}.within{fill:#111;stroke:#fff;stroke-width:2.5}.outside{fill:none;stroke:#111;stroke-width:4}.halo{fill:none;stroke:#fff;stroke-width:9}\
@page{margin:12mm}\
@media print{body{font-size:8.5pt;line-height:1.25;margin:0;padding:0;max-width:none}\
h1{font-size:13pt;margin:0 0 2mm}h2{font-size:9.5pt;margin:2.5mm 0 1mm}\
p,ul,dl,table{margin:.8mm 0}.scroll{overflow:visible}tr,li,figure{break-inside:avoid}h2{break-after:avoid}}";

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

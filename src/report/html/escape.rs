//! Text that means nothing to HTML.

use crate::words::safe;

/// `text` made safe to show, for content and for quoted attributes.
pub fn escaped(text: &str) -> String {
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

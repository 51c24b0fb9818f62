//! Text that means nothing to HTML.

use crate::words::safe;

/// `text` made safe to show, for content and for quoted attributes.
pub fn escaped(text: &str) -> String {
    entities(&safe(text))
}

/// `text` with entities for what HTML would take for markup, and all else as it is:
/// for what was typed and is given back to be edited.
pub fn entities(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
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

/// A message made safe to show: what it quotes in backticks stands as code without
/// them. Where one has no partner, all stay.
pub fn escaped_message(text: &str) -> String {
    let escaped = escaped(text);
    if escaped.matches('`').count() % 2 == 1 {
        return escaped;
    }
    let parts = escaped.split('`').enumerate();
    parts
        .map(|(at, part)| match at % 2 {
            1 => format!("<code>{part}</code>"),
            _ => part.to_owned(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_message_quotes_is_code_and_no_more_than_text() {
        let told = escaped_message("`<b>5` is no length: write `5 m` or `5 yd`");
        let code = "<code>&lt;b&gt;5</code> is no length: \
                    write <code>5 m</code> or <code>5 yd</code>";
        assert_eq!(told, code);
        assert_eq!(escaped_message("5` & more"), "5` &amp; more");
        assert_eq!(escaped_message("nothing"), "nothing");
    }
}

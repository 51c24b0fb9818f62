//! The app words its messages for a terminal where they name an argument; here
//! the same is said of the fields of the forms.

use crate::report::{Block, Page, Role};

/// What a message says of arguments, and what it says here.
const SAID: [(&str, &str); 17] = [
    (
        "set your own with --tolerance",
        "set your own under ‘How strictly’",
    ),
    (
        "Set your own with --margin",
        "Set your own under ‘How strictly’",
    ),
    (
        "Add --need, as in `--need \"9 x 125 m\"`",
        "Write how much it takes, as in `9 x 125 m`",
    ),
    (
        "either --pattern NAME or --wants TEXT",
        "choose a pattern, or write what it says of its yarn",
    ),
    (
        "or type the facts with --wants and --yarn",
        "or write what the pattern and the band say",
    ),
    (
        "import again with --update to replace it",
        "edit that one, or give this one another name",
    ),
    (
        "say where the records are with --db FILE",
        "say where the records are when starting the program",
    ),
    ("--wants: ", "What the pattern says: "),
    ("--yarn: ", "The band: "),
    ("--need: ", "How much it takes: "),
    ("--tolerance: ", "Tolerance: "),
    ("--margin: ", "Margin: "),
    ("--own-gauge: ", "Your gauge: "),
    ("--weighed: ", "Weighed: "),
    ("--price: ", "Price: "),
    ("--before: ", "Before washing: "),
    ("--after: ", "After washing: "),
];

/// A message of the app, for these pages.
pub(super) fn plain(text: &str) -> String {
    SAID.iter()
        .fold(text.to_owned(), |text, (of_arguments, here)| {
            match text.contains(of_arguments) {
                true => text.replace(of_arguments, here),
                false => text,
            }
        })
}

/// A page whose working, cautions and remarks are worded for these pages.
pub(super) fn plain_page(page: Page) -> Page {
    let blocks = page.blocks.into_iter().map(|block| match block {
        Block::Text(role @ (Role::Aside | Role::Caution), text) => Block::Text(role, plain(&text)),
        Block::Items(role @ (Role::Aside | Role::Caution), items) => {
            Block::Items(role, items.iter().map(|item| plain(item)).collect())
        }
        other => other,
    });
    Page {
        blocks: blocks.collect(),
    }
}

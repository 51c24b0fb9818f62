//! The needs of a pattern yarn: one a size, or one text for all sizes.

use crate::{
    files::toml_reader::{Keys, as_text},
    label::cells::{self, Cell, written},
    label::reading::{ReadError, Reading},
    record::{Name, Need, Printed, YarnFacts},
    words::{count_of_items, fold},
};
use toml::{Spanned, de::DeValue};

const ALLOWED: &str = "write one amount per size, in the order of the sizes, such as `needs = [\"9 skeins\", \"10 skeins\"]` or `needs = \"9 (10, 11) skeins\"`";

type Named = (Option<String>, Need);

/// The needs, in the order of `sizes`; `None` where they are bad.
pub(super) fn read_needs(
    keys: &Keys<'_>,
    reference: &YarnFacts,
    sizes: &[Name],
) -> Option<Vec<Printed<Need>>> {
    let Some(value) = keys.get("needs") else {
        keys.lacks("needs", ALLOWED);
        return None;
    };
    let needs = match value.get_ref() {
        DeValue::Array(items) => {
            let each: Vec<Option<Printed<Need>>> = items
                .iter()
                .map(|item| item_of_list(keys, item, reference))
                .collect();
            each.into_iter().collect::<Option<Vec<_>>>()?
        }
        _ => for_all_sizes(keys, reference, sizes)?,
    };
    if !sizes.is_empty() && needs.len() != sizes.len() {
        let why = uneven(needs.len(), sizes.len());
        keys.fault("needs", "", why, ALLOWED);
        return None;
    }
    Some(needs)
}

fn uneven(needs: usize, sizes: usize) -> String {
    format!(
        "it has {} for {}",
        count_of_items(needs, "amount"),
        count_of_items(sizes, "size")
    )
}

/// One item of a list of needs.
fn item_of_list(
    keys: &Keys<'_>,
    item: &Spanned<DeValue<'_>>,
    reference: &YarnFacts,
) -> Option<Printed<Need>> {
    let Some(text) = as_text(item) else {
        keys.fault_at(&item.span(), "needs", "", "this is not text", ALLOWED);
        return None;
    };
    keys.read("needs", &text, |text| one_need(text, reference))
}

/// A text that holds the need of one size.
pub fn one_need(text: &str, reference: &YarnFacts) -> Cell<Need> {
    let read = cells::needs(text, reference)?;
    match read.value.as_slice() {
        [(_, need)] => Ok(Reading {
            value: *need,
            notes: read.notes,
        }),
        _ => Err(ReadError {
            span: 0..text.len(),
            given: text.to_owned(),
            why: "one place of the list has several amounts".to_owned(),
            allowed: "one amount".to_owned(),
        }),
    }
}

/// The amounts that a text holds, each with its size where that is named, and beside
/// a text of its own; none where it is not read.
pub fn each_need(text: &str, reference: &YarnFacts) -> Vec<(Option<String>, Printed<Need>)> {
    let read = cells::needs(text, reference);
    read.map_or_else(
        |_| Vec::new(),
        |read| texts_of(text, &read.value, reference),
    )
}

/// One text for all sizes.
fn for_all_sizes(
    keys: &Keys<'_>,
    reference: &YarnFacts,
    sizes: &[Name],
) -> Option<Vec<Printed<Need>>> {
    let text = keys.text("needs")?;
    let read = keys.read("needs", &text, |t| cells::needs(t, reference))?;
    let printed = texts_of(&text.text, &read.value, reference);
    let printed: Vec<_> = printed
        .into_iter()
        .map(|(size, need)| (size, with_own_text(need, reference)))
        .collect();
    if let [(None, need)] = read.value.as_slice() {
        let same = Printed::new(read.text, *need);
        return Some(vec![same; sizes.len().max(1)]);
    }
    match in_order_of(sizes, &printed) {
        Ok(needs) => Some(needs),
        Err(why) => {
            keys.fault("needs", &text.text, why, ALLOWED);
            None
        }
    }
}

/// A need beside a text of its own, plainly written where its text holds several.
fn with_own_text(need: Printed<Need>, reference: &YarnFacts) -> Printed<Need> {
    let text = written::text_of(&need, |text| one_need(text, reference), written::need);
    Printed::new(text, need.value)
}

/// Needs that name their size, brought into the order of the sizes; others as
/// they stand.
fn in_order_of(
    sizes: &[Name],
    needs: &[(Option<String>, Printed<Need>)],
) -> Result<Vec<Printed<Need>>, String> {
    if needs.iter().all(|(size, _)| size.is_none()) {
        return Ok(needs.iter().map(|(_, need)| need.clone()).collect());
    }
    let names: Vec<String> = sizes.iter().map(|size| fold(size.as_str())).collect();
    for (size, _) in needs {
        let Some(size) = size else {
            return Err("only some amounts name their size".to_owned());
        };
        if !names.contains(&fold(size)) {
            return Err(format!("the pattern has no size `{size}`"));
        }
    }
    let named: Vec<(String, &Printed<Need>)> = needs
        .iter()
        .filter_map(|(name, need)| Some((fold(name.as_deref()?), need)))
        .collect();
    let of = |size: &Name| {
        let wanted = fold(size.as_str());
        let mut those = named.iter().filter(|(name, _)| *name == wanted);
        match (those.next(), those.next()) {
            (Some((_, need)), None) => Ok((*need).clone()),
            (None, _) => Err(format!("size `{size}` has no amount")),
            _ => Err(format!("size `{size}` has two amounts")),
        }
    };
    sizes.iter().map(of).collect()
}

/// Each need beside a text of its own that reads back to it: its number with
/// the words behind the last of the list, else the whole text.
fn texts_of(
    text: &str,
    needs: &[Named],
    reference: &YarnFacts,
) -> Vec<(Option<String>, Printed<Need>)> {
    let (numbers, rest) = first_numbers(text, needs.len());
    let unit = rest.trim_matches([' ', ')', ']']);
    let own = |index: usize, need: &Need| {
        let own = format!("{} {unit}", numbers.get(index)?);
        let read = one_need(&own, reference).ok()?;
        (read.value == *need).then_some(own)
    };
    let each = needs.iter().enumerate();
    each.map(|(index, (size, need))| {
        let own = own(index, need).unwrap_or_else(|| text.to_owned());
        (size.clone(), Printed::new(own, *need))
    })
    .collect()
}

/// The first numbers of a text, as many as are wanted, and what stands behind them.
fn first_numbers(text: &str, wanted: usize) -> (Vec<&str>, &str) {
    let belongs = |c: char| c.is_numeric() || matches!(c, '.' | ',');
    let (mut numbers, mut rest) = (Vec::new(), text);
    while numbers.len() < wanted {
        let Some(from) = rest
            .find(char::is_numeric)
            .and_then(|start| rest.get(start..))
        else {
            break;
        };
        let end = from.find(|c| !belongs(c)).unwrap_or(from.len());
        let (number, behind) = from.split_at_checked(end).unwrap_or((from, ""));
        numbers.push(number.trim_end_matches(['.', ',']));
        rest = behind;
    }
    (numbers, rest)
}

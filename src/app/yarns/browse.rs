//! Kept yarns for a list that is read on a screen: what is looked for, what they
//! must be like, and in which order.

use super::ListedYarn;
use crate::{
    app::{AppError, FormData, ListPage, Records},
    record::Yarn,
    store::Found,
    words::fold,
};

/// What yarns of a list must be like; what is empty admits all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct YarnFilter {
    maker: String,
    fibres: Vec<String>,
    class: Option<u8>,
}

impl YarnFilter {
    /// That of the fields `maker`, `fibre` and `class` of a form.
    pub fn of(typed: &FormData) -> Self {
        let fibres = fold(typed.text("fibre"));
        Self {
            maker: fold(typed.text("maker")),
            fibres: fibres.split_whitespace().map(str::to_owned).collect(),
            class: typed.text("class").parse().ok(),
        }
    }

    /// Whether it admits every yarn.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether it admits this yarn: a part of its maker's name, every word in what it
    /// is made of, and one of the classes that it may have.
    pub fn admits(&self, yarn: &Yarn) -> bool {
        let blend = yarn.facts.blend.as_ref();
        let blend = blend.map_or_else(String::new, |blend| fold(&blend.value.to_string()));
        let mut classes = yarn.facts.class.iter().flat_map(|it| it.value.as_slice());
        fold(yarn.maker.as_str()).contains(&self.maker)
            && self.fibres.iter().all(|word| blend.contains(word))
            && self
                .class
                .is_none_or(|class| classes.any(|it| it.number() == class))
    }
}

/// What a list of yarns is asked for.
#[derive(Debug, Clone)]
pub struct YarnQuery {
    /// Maker or name, perhaps only nearly right; empty for all.
    pub text: String,
    /// What they must be like.
    pub filter: YarnFilter,
    /// Their order.
    pub order: YarnOrder,
}

impl YarnQuery {
    /// All that a text may mean.
    pub fn text(text: &str) -> Self {
        Self {
            text: text.trim().to_owned(),
            filter: YarnFilter::default(),
            order: YarnOrder::Name,
        }
    }

    /// That of the fields of a form; the text is in `q`, the order in `sort`.
    pub fn of(typed: &FormData) -> Self {
        let order = match typed.text("sort") {
            "grist" => YarnOrder::Grist,
            "class" => YarnOrder::Class,
            _ => YarnOrder::Name,
        };
        Self {
            filter: YarnFilter::of(typed),
            order,
            ..Self::text(typed.text("q"))
        }
    }
}

/// The order of a list of yarns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YarnOrder {
    /// By maker and name; with a text the best first.
    Name,
    /// By length per mass, the thickest first.
    Grist,
    /// By weight class, the thinnest first.
    Class,
}

/// Hits of a text among which a filter picks.
const SEARCHED: usize = 2_000;

/// At most `count` yarns from one on; with a text those that it may mean, best first.
pub fn browse_yarns(
    records: &Records,
    query: &YarnQuery,
    from: usize,
    count: usize,
) -> Result<ListPage<ListedYarn>, AppError> {
    let reader = records.store()?.reader()?;
    let YarnQuery {
        text,
        filter,
        order,
    } = query;
    let is_plain = filter.is_empty() && *order == YarnOrder::Name;
    let mut yarns = Vec::new();
    if text.is_empty() && is_plain {
        let page = reader.yarns_from(from, count + 1)?.into_iter();
        let page = page.map(|yarn| ListedYarn::new(yarn, Found::Exact));
        let all = usize::try_from(reader.count_yarns()?).ok();
        return Ok(ListPage::new(page.collect(), from, count).of(all));
    }
    if text.is_empty() {
        reader.yarns(|yarn| {
            if filter.admits(&yarn.record) {
                yarns.push(ListedYarn::new(yarn, Found::Exact));
            }
            Ok::<(), AppError>(())
        })?;
    } else {
        let most = if is_plain { from + count + 1 } else { SEARCHED };
        let hits = reader.search_yarns(text, most)?.into_iter();
        let hits = hits.filter(|hit| filter.admits(&hit.yarn.record));
        yarns.extend(hits.map(|hit| ListedYarn::new(hit.yarn, hit.found)));
    }
    put_in_order(&mut yarns, *order);
    // A text has more hits than were asked for.
    let total = text.is_empty().then_some(yarns.len());
    let page = yarns.into_iter().skip(from).take(count + 1);
    Ok(ListPage::new(page.collect(), from, count).of(total))
}

/// Those of which the measure is not known come last; equals keep their order.
fn put_in_order(yarns: &mut [ListedYarn], order: YarnOrder) {
    let facts = |listed: &ListedYarn| listed.yarn.record.facts.clone();
    match order {
        YarnOrder::Name => {}
        YarnOrder::Grist => yarns.sort_by(|a, b| {
            let grist = |listed| {
                facts(listed)
                    .grist()
                    .map_or(f64::INFINITY, |it| it.as_metres_per_100_g())
            };
            grist(a).total_cmp(&grist(b))
        }),
        YarnOrder::Class => yarns.sort_by_key(|listed| {
            let class = facts(listed).class;
            let first =
                class.and_then(|class| class.value.as_slice().first().map(|it| it.number()));
            first.unwrap_or(u8::MAX)
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{TableKind, import_table};

    fn catalogue() -> Records {
        let mut records = Records::in_memory().unwrap();
        let yarns = "maker,name,length,mass,class,fibre\n\
                     Quenby,Moor,125 m,50 g,DK,100% wool\n\
                     Quenby,Dune,200 m,50 g,fingering,75% wool 25% nylon\n\
                     Orrin,Sandgate,100 m,50 g,worsted,100% cotton\n";
        let kind = TableKind::Yarns;
        import_table(&mut records, kind, "y", yarns.as_bytes(), false, |_| ()).unwrap();
        records
    }

    fn names(fields: &[(&str, &str)]) -> Vec<String> {
        let query = YarnQuery::of(&fields.iter().copied().collect());
        let page = browse_yarns(&catalogue(), &query, 0, 10).unwrap();
        let yarns = page.entries.into_iter();
        yarns
            .map(|listed| listed.yarn.record.name.to_string())
            .collect()
    }

    #[test]
    fn a_filter_admits_by_maker_fibre_and_class() {
        assert_eq!(names(&[]), ["Sandgate", "Dune", "Moor"]);
        assert_eq!(names(&[("maker", "quen")]), ["Dune", "Moor"]);
        assert_eq!(names(&[("fibre", "nylon wool")]), ["Dune"]);
        assert_eq!(names(&[("class", "3")]), ["Moor"]);
        assert_eq!(names(&[("maker", "quen"), ("class", "4")]), [""; 0]);
    }

    #[test]
    fn a_list_is_put_in_the_order_that_is_asked_for() {
        assert_eq!(names(&[("sort", "grist")]), ["Sandgate", "Moor", "Dune"]);
        assert_eq!(names(&[("sort", "class")]), ["Dune", "Moor", "Sandgate"]);
    }

    #[test]
    fn a_text_and_a_filter_are_both_kept() {
        assert_eq!(names(&[("q", "Moor"), ("fibre", "wool")]), ["Moor"]);
        assert_eq!(names(&[("q", "Moor"), ("fibre", "cotton")]), [""; 0]);
    }
}

//! Names as people type them, to records.

use super::{
    PatternRequest, QuestionRequest, Role,
    candidate::{Candidate, StockLot, StrandSwatch},
};
use crate::{
    app::{AppError, Fault, FaultKind, InputReader, QuestionFault, Records, input::filled},
    label::{
        band::{materials_beside, read_band},
        reading::Clash,
    },
    matching::Doubt,
    record::{Id, Pattern, StockAmount, Stored, Swatch, Yarn, YarnFacts},
    store::{Found, Hit, KeptSwatch, LotInStock, Reader},
    trade::{Gtin, GtinError},
    words::{did_you_mean, fold},
};

/// How many names are looked at to say which one was meant.
const NEAR: usize = 5;

impl Records {
    /// The kept pattern that a question names, if it names one: by its name, or with a size
    /// behind a last colon, as [`size_of`] reads it.
    pub(in crate::app) fn pattern_asked(
        &self,
        reader: &mut InputReader,
        request: &QuestionRequest,
    ) -> Result<Option<Pattern>, AppError> {
        let (pattern, wants) = (
            filled(request.of.pattern.as_deref()),
            filled(request.of.wants.as_deref()),
        );
        if pattern.is_some() == wants.is_some() {
            reader.fault("wants", QuestionFault::OneOfTwo(["pattern", "wants"]));
        }
        if filled(request.of.need.as_deref()).is_some() && wants.is_none() {
            reader.fault("need", FaultKind::OnlyWith("wants"));
        }
        let pattern = pattern.filter(|_| wants.is_none());
        let Some(name) = pattern else {
            return Ok(None);
        };
        let found = match (self.pattern_named(name), name.rsplit_once(':')) {
            (Err(unknown @ AppError::Unknown { .. }), Some((name, _)))
                if filled(request.of.size.as_deref()).is_none() =>
            {
                self.pattern_named(name.trim()).map_err(|_| unknown)?
            }
            (found, _) => found?,
        };
        Ok(Some(found.record))
    }

    /// The kept pattern of this name.
    pub(in crate::app) fn pattern_named(&self, name: &str) -> Result<Stored<Pattern>, AppError> {
        pattern_in(&self.store()?.reader()?, name)
    }

    /// The kept yarn that `text` names: by article number, by name, or by words
    /// that only one yarn holds. What is only like a name is asked about.
    pub(in crate::app) fn yarn_named(&self, text: &str) -> Result<Stored<Yarn>, AppError> {
        let reader = self.store()?.reader()?;
        Ok(yarn_in(&reader, text)?.yarn)
    }

    /// A candidate: a kept yarn with its swatches and lots, or what the text of
    /// a band says.
    pub(in crate::app) fn candidate(
        &self,
        text: &str,
        with_reserved: bool,
        input: &mut InputReader,
    ) -> Result<Candidate, AppError> {
        let kept = match self.maybe() {
            Some(store) => {
                let reader = store.reader()?;
                match yarn_in(&reader, text) {
                    Ok(hit) if hit.found == Found::Exact || !is_all_facts(text) => {
                        return candidate_of(&reader, hit.yarn, with_reserved);
                    }
                    Ok(_) => None,
                    Err(unknown @ AppError::Unknown { .. }) => Some(unknown),
                    Err(other) => return Err(other),
                }
            }
            None => None,
        };
        match (of_band(text, input), kept) {
            (Some(candidate), None) => Ok(candidate),
            (Some(candidate), Some(unknown))
                if is_a_band(&candidate.facts) || !has_near(&unknown) && is_all_read(text) =>
            {
                Ok(candidate)
            }
            (_, kept) => Err(kept.unwrap_or_else(|| nothing_read(text))),
        }
    }

    /// The same of one shade only, where that stands behind a last colon: `field` is where
    /// it was typed.
    pub(in crate::app) fn candidate_in_shade(
        &self,
        (field, text): (&str, &str),
        with_reserved: bool,
        input: &mut InputReader,
    ) -> Result<Candidate, AppError> {
        if let (Some(store), true) = (self.maybe(), text.contains(':')) {
            let reader = store.reader()?;
            if let Ok((yarn, Some(shade))) = yarn_and_shade(&reader, text) {
                let known = yarn.record.shades.clone();
                let mut candidate = candidate_of(&reader, yarn, with_reserved)?;
                let kept = candidate.keep_shade(shade, &known);
                return kept
                    .map(|()| candidate)
                    .map_err(|all| no_such_shade(field, shade, all));
            }
        }
        self.candidate(text, with_reserved, input)
    }
}

/// The size that a question names: by itself, or behind the name of its pattern.
pub(in crate::app) fn size_of<'t>(
    request: &'t PatternRequest,
    pattern: Option<&Pattern>,
) -> Option<&'t str> {
    let behind = || {
        let named = filled(request.pattern.as_deref())?;
        let is_name = fold(named) == fold(pattern?.name.as_str());
        let (_, size) = named.rsplit_once(':').filter(|_| !is_name)?;
        Some(size.trim())
    };
    filled(request.size.as_deref()).or_else(behind)
}

/// The pattern's own yarn of a role: as it is kept, else what the pattern says of it.
pub(in crate::app) fn own_yarn(
    reader: Option<&Reader<'_>>,
    role: &Role,
    with_reserved: bool,
) -> Result<Candidate, AppError> {
    if let (Some(reader), Some(called)) = (reader, &role.called)
        && let Some(yarn) = yarn_titled(reader, called)?
    {
        return candidate_of(reader, yarn, with_reserved);
    }
    let title = role.called.as_ref().unwrap_or(&role.key);
    Ok(Candidate {
        title: title.clone(),
        facts: role.wanted.facts.clone(),
        ..Candidate::default()
    })
}

/// A yarn that has other shades.
pub(in crate::app) fn no_such_shade(field: &str, shade: &str, allowed: Vec<String>) -> AppError {
    let given = shade.to_owned();
    let kind = FaultKind::NotOneOf { given, allowed };
    AppError::Faults(vec![Fault::new(field, kind)])
}

/// The kept pattern of this name.
pub(in crate::app) fn pattern_in(
    reader: &Reader<'_>,
    name: &str,
) -> Result<Stored<Pattern>, AppError> {
    if let Some(found) = reader.pattern_meant(name)? {
        return Ok(found);
    }
    let titles = reader.pattern_titles()?.into_iter();
    let all: Vec<String> = titles.map(|(_, name)| name).collect();
    let near = did_you_mean(name, all.iter().map(String::as_str)).into_iter();
    Err(AppError::Unknown {
        what: "pattern",
        name: name.to_owned(),
        near: near.map(str::to_owned).collect(),
        all,
    })
}

/// Whether all of a text is facts, so that it is no part of a name: `cotton`.
fn is_all_facts(text: &str) -> bool {
    is_all_read(text) && is_a_band(&read_band(text).facts)
}

/// Whether facts can only come from a band: more than a class, which may be part
/// of a yarn's name.
fn is_a_band(facts: &YarnFacts) -> bool {
    let class_aside = YarnFacts {
        class: None,
        construction: None,
        ..facts.clone()
    };
    class_aside != YarnFacts::default()
}

/// Whether a text holds nothing that is not understood, such as words of a name.
fn is_all_read(text: &str) -> bool {
    read_band(text).not_read.is_empty()
}

fn has_near(error: &AppError) -> bool {
    matches!(error, AppError::Unknown { near, .. } if !near.is_empty())
}

fn nothing_read(text: &str) -> AppError {
    let kind = QuestionFault::NoYarn(text.to_owned());
    AppError::Faults(vec![Fault::new("yarn", kind)])
}

/// Two lengths or masses that do not agree are a doubt of the judgement, and told there.
fn of_band(text: &str, input: &mut InputReader) -> Option<Candidate> {
    let mut band = read_band(text);
    if band.facts == YarnFacts::default() {
        return None;
    }
    band.warnings
        .retain(|note| note.clash != Some(Clash::Quantity));
    input.band("yarn", &band);
    Some(Candidate {
        title: format!("\"{}\"", text.trim()),
        doubts: band
            .materials()
            .map(str::to_owned)
            .map(Doubt::Material)
            .collect(),
        facts: band.facts,
        ..Candidate::default()
    })
}

/// The kept yarn that a text names, as [`Records::yarn_named`] tells.
pub(in crate::app) fn yarn_in(reader: &Reader<'_>, text: &str) -> Result<Hit, AppError> {
    if let Some(yarn) = yarn_titled(reader, text)? {
        let found = Found::Exact;
        return Ok(Hit { yarn, found });
    }
    if let Ok(gtin) = Gtin::read(text) {
        let found = reader.yarns_by_gtin(&gtin)?;
        return one_of(
            text,
            found
                .into_iter()
                .map(|yarn| Hit {
                    yarn,
                    found: Found::Exact,
                })
                .collect(),
        );
    }
    match (
        one_of(text, reader.search_yarns(text, NEAR)?),
        Gtin::read(text),
    ) {
        (Err(AppError::Unknown { .. }), Err(wrong @ GtinError::CheckDigit { .. })) => {
            Err(AppError::Gtin(wrong))
        }
        (found, _) => found,
    }
}

/// The yarn whose title, `maker, name`, is the text; found by its keys, without
/// a look at all the others.
pub(in crate::app) fn yarn_titled(
    reader: &Reader<'_>,
    text: &str,
) -> Result<Option<Stored<Yarn>>, AppError> {
    for (comma, _) in text.match_indices(',').take(8) {
        let (maker, rest) = text.split_at(comma);
        let name = rest.trim_start_matches(',');
        if let Some(found) = reader.yarn_named(maker.trim(), name.trim())? {
            return Ok(Some(found));
        }
    }
    Ok(None)
}

/// The one hit that is meant: the only exact one, else the only one that holds
/// all words.
fn one_of(text: &str, hits: Vec<Hit>) -> Result<Hit, AppError> {
    let near: Vec<String> = hits.iter().map(|hit| hit.yarn.record.title()).collect();
    let best = hits.iter().map(|hit| hit.found).min();
    let mut best: Vec<Hit> = hits
        .into_iter()
        .filter(|hit| Some(hit.found) == best && hit.found != Found::ByLikeness)
        .collect();
    match (best.pop(), best.is_empty()) {
        (Some(hit), true) => Ok(hit),
        (Some(_), false) => Err(AppError::Several {
            what: "yarn",
            name: text.to_owned(),
            which: near,
        }),
        (None, _) => Err(AppError::Unknown {
            what: "yarn",
            name: text.to_owned(),
            near,
            all: Vec::new(),
        }),
    }
}

/// The yarn of this name, else that of what stands before a last colon, and the shade
/// behind it: `Hathrel DK:tide`.
pub(in crate::app) fn yarn_and_shade<'t>(
    reader: &Reader<'_>,
    text: &'t str,
) -> Result<(Stored<Yarn>, Option<&'t str>), AppError> {
    match (yarn_in(reader, text), text.rsplit_once(':')) {
        (Err(AppError::Unknown { .. }), Some((name, shade))) => {
            let yarn = yarn_in(reader, name.trim())?.yarn;
            Ok((yarn, Some(shade.trim())))
        }
        (found, _) => Ok((found?.yarn, None)),
    }
}

/// What of facts that were read before is in doubt.
pub(in crate::app) fn doubts_of(facts: &YarnFacts) -> Vec<Doubt> {
    let materials = materials_beside(facts).into_iter();
    materials.map(Doubt::Material).collect()
}

/// A kept yarn as a candidate.
pub(in crate::app) fn candidate_of(
    reader: &Reader<'_>,
    yarn: Stored<Yarn>,
    with_reserved: bool,
) -> Result<Candidate, AppError> {
    candidate_with(reader, yarn, &|stock| match with_reserved {
        true => Ok(stock.balance.held),
        false => Ok(stock.balance.free(stock.skein_mass)?),
    })
}

/// The same with what of each lot is `usable`.
pub(in crate::app) fn candidate_with(
    reader: &Reader<'_>,
    yarn: Stored<Yarn>,
    usable: &dyn Fn(&LotInStock) -> Result<StockAmount, AppError>,
) -> Result<Candidate, AppError> {
    let named = reader.swatches_naming(yarn.id)?;
    let mut lots = Vec::new();
    for stock in reader.lots_of(yarn.id)? {
        let usable = usable(&stock)?;
        lots.push(StockLot {
            id: stock.lot.id,
            lot: stock.lot.record,
            usable,
        });
    }
    lots.retain(|held| !held.usable.is_nothing());
    Ok(Candidate {
        yarn: Some(yarn.id),
        title: yarn.record.title(),
        discontinued: yarn.record.discontinued,
        swatches: of_one(&named, yarn.id),
        strand_swatches: of_strands(named),
        lots,
        doubts: doubts_of(&yarn.record.facts),
        facts: yarn.record.facts,
        kept: true,
        ends: Vec::new(),
        more_strands: 0,
        stands_for: None,
        shade: None,
    })
}

/// The swatches that no other yarn was held in.
fn of_one(named: &[KeptSwatch], yarn: Id<Yarn>) -> Vec<Swatch> {
    let own = named.iter().filter(|swatch| swatch.is_of_one(yarn));
    own.map(|swatch| swatch.kept.record.clone()).collect()
}

/// The swatches of several strands, each as one.
fn of_strands(named: Vec<KeptSwatch>) -> Vec<StrandSwatch> {
    let each = named.into_iter().map(|swatch| StrandSwatch {
        strand: swatch.strand(),
        swatch: swatch.kept.record.as_one_strand(),
    });
    each.filter(|known| known.strand.len() > 1).collect()
}

//! A question about a yarn for a pattern, resolved: the roles of the pattern, the
//! needs of its sizes, how strictly to judge, and what a candidate is.

pub(in crate::app) mod amounts;
pub(in crate::app) mod answer;
pub(in crate::app) mod candidate;
pub(in crate::app) mod chance;
pub(in crate::app) mod cover;
pub(in crate::app) mod in_hand;
pub(in crate::app) mod lookup;
mod request;
mod role;
pub(in crate::app) mod role_yarn;
pub(in crate::app) mod settings;
pub(in crate::app) mod wishes;

pub(in crate::app) use request::STRICTNESS;
pub use request::{
    ChanceRequest, FibresRequest, PatternRequest, QuestionRequest, StashRequest, TermsRequest,
    WishesRequest,
};
pub(in crate::app) use role::Role;

use super::{
    AppError, GaugeChange, GaugeReading, InputReader, corrected, gauge_change::ratio_of,
    input::filled, skeins::size_name,
};
use crate::{
    label::{band::read_band, cells, contradiction},
    matching::{Judgement, Requirement, Settings, usual_fit},
    measure::Ratio,
    quantity::GaugeRatio,
    record::{
        self, Care, Contradiction, Fit, Need, Pattern, Purpose, StatedGauge, Stitch, YarnFacts,
    },
    trade::FibreGroup,
    words::{did_you_mean, fold},
};
use answer::Working;
use chance::Confidence;
use lookup::size_of;
use role::roles_of;
use settings::{fibre_limits, margin, tolerance, weights};
use wishes::Wishes;

/// A question, read.
#[derive(Debug, Clone)]
pub(in crate::app) struct ResolvedQuestion {
    pub(in crate::app) title: String,
    pub(in crate::app) roles: Vec<Role>,
    /// Names of the sizes, in order; one for every need of a role.
    pub(in crate::app) sizes: Vec<String>,
    /// The size that was chosen.
    pub(in crate::app) size: Option<usize>,
    pub(in crate::app) settings: Settings,
    pub(in crate::app) wishes: Wishes,
    pub(in crate::app) margin: Ratio,
    pub(in crate::app) own_gauge: Option<StatedGauge>,
    pub(in crate::app) reading: GaugeReading,
    pub(in crate::app) confidence: Option<Confidence>,
    pub(in crate::app) working: Vec<Working>,
}

impl ResolvedQuestion {
    /// Places of the sizes that are asked about.
    pub(in crate::app) fn places(&self) -> Vec<usize> {
        match self.size {
            Some(place) => vec![place],
            None => (0..self.sizes.len()).collect(),
        }
    }

    /// The places and names of those sizes.
    pub(in crate::app) fn chosen_sizes(&self) -> impl Iterator<Item = (usize, &str)> {
        let chosen = |place: &usize| self.size.is_none_or(|size| size == *place);
        let sizes = self.sizes.iter().map(String::as_str).enumerate();
        sizes.filter(move |(place, _)| chosen(place))
    }

    /// The same question about one size only.
    pub(in crate::app) fn of_size(&self, place: usize) -> Self {
        Self {
            size: Some(place),
            ..self.clone()
        }
    }

    /// The measured gauge against the pattern's, where one is given.
    pub(in crate::app) fn gauge_change(
        &self,
        role: &Role,
        judgement: &Judgement,
    ) -> Option<GaugeChange> {
        self.own_gauge.as_ref()?;
        Some(GaugeChange {
            ratio: self.gauge_ratio(role, judgement)?,
            reading: self.reading,
        })
    }

    /// The gauge to expect over the pattern's: of a measured one in the pattern's
    /// stitch as the two say, else as the yarn was judged.
    pub(in crate::app) fn gauge_ratio(
        &self,
        role: &Role,
        judgement: &Judgement,
    ) -> Option<GaugeRatio> {
        let measured = self.own_gauge.as_ref().zip(role.wanted.gauge.as_ref());
        let same = measured
            .filter(|(own, wanted)| Stitch::is_same(own.stitch.as_ref(), wanted.stitch.as_ref()));
        match same {
            Some((own, wanted)) => ratio_of(&own.gauge, &wanted.gauge),
            None => judgement.gauge_ratio.map(GaugeRatio::of_stitches),
        }
    }
}

/// Resolves a question about a kept pattern, or about what was typed of one;
/// nothing where a fault was found in what is wanted.
pub(in crate::app) fn resolve(
    reader: &mut InputReader,
    request: &QuestionRequest,
    pattern: Option<&Pattern>,
) -> Result<Option<ResolvedQuestion>, AppError> {
    let mut working = Vec::new();
    let mut denied = Vec::new();
    let wanted = match pattern {
        Some(pattern) => of_pattern(reader, request, pattern)?,
        None => of_text(reader, request, &mut denied),
    };
    let tolerance = tolerance(reader, request, pattern, &mut working);
    let margin = margin(
        reader,
        request.terms.margin.as_deref(),
        pattern,
        &mut working,
    );
    let weights = weights(reader, request);
    let limits = fibre_limits(reader, request, &denied, &mut working);
    let wishes = Wishes::read(reader, &request.wishes, &mut working);
    let overrides = Overrides::read(reader, request);
    let confidence = Confidence::read(reader, &request.chance);
    let Some((title, roles, sizes)) = wanted else {
        return Ok(None);
    };
    let size = chosen_size(size_of(&request.of, pattern), &sizes)?;
    working.extend(held_together(&roles));
    let each = roles.iter().flat_map(Role::each_yarn);
    working.extend(each.filter_map(in_skeins));
    let mut roles = roles;
    for role in &mut roles {
        role.settle(&overrides, size);
    }
    working.extend(roles.iter().find_map(taken_fit));
    note_contradictions(reader, &roles, pattern.is_some());
    Ok(Some(ResolvedQuestion {
        title,
        roles,
        sizes,
        size,
        settings: Settings {
            tolerance,
            weights,
            limits,
        },
        wishes,
        margin,
        own_gauge: None,
        reading: GaugeReading::new(None),
        confidence,
        working,
    }))
}

/// Says where the label of what is wanted contradicts itself; of a text, what its two
/// lengths or masses are was said when it was read.
fn note_contradictions(reader: &mut InputReader, roles: &[Role], is_pattern: bool) {
    let (field, find): (_, fn(&YarnFacts) -> Vec<Contradiction>) = if is_pattern {
        ("pattern", contradiction::contradictions)
    } else {
        ("wants", record::contradictions)
    };
    let found = roles.iter().flat_map(|role| role.contradictions(find));
    reader.note(field, found);
}

/// The fit that was taken from what it is for, where none is stated.
fn taken_fit(role: &Role) -> Option<Working> {
    let wanted = &role.wanted;
    (!role.fit_is_stated).then_some(Working::UsualFit(wanted.fit, wanted.purpose))
}

/// The yarns that the pattern holds together, each strand once.
fn held_together(roles: &[Role]) -> Vec<Working> {
    let mut strands: Vec<Vec<String>> = roles.iter().map(|role| role.strand.clone()).collect();
    strands.retain(|strand| !strand.is_empty());
    strands.dedup();
    strands.into_iter().map(Working::HeldTogether).collect()
}

/// What a skein of the need is, where the need is counted in skeins.
fn in_skeins(role: &Role) -> Option<Working> {
    role.needs.iter().find_map(|need| match need {
        Need::Skeins { skein, .. } => Some(Working::NeedInSkeins(role.key.clone(), *skein)),
        Need::Length(_) | Need::Mass(_) => None,
    })
}

/// A gauge measured of the candidate: in the pattern's stitch, unless it says
/// another.
pub(in crate::app) fn own_gauge(measured: StatedGauge, roles: &[Role]) -> StatedGauge {
    let wanted = roles.first().and_then(|role| role.wanted.gauge.as_ref());
    let stitch = measured.stitch.clone();
    let stitch = stitch.or_else(|| wanted?.stitch.clone());
    StatedGauge { stitch, ..measured }
}

/// A title, roles, and the names of the sizes.
type Wanted = (String, Vec<Role>, Vec<String>);

fn of_pattern(
    reader: &mut InputReader,
    request: &QuestionRequest,
    pattern: &Pattern,
) -> Result<Option<Wanted>, AppError> {
    let key = filled(request.of.role.as_deref());
    let Some(roles) = roles_of(reader, pattern, key)? else {
        return Ok(None);
    };
    let sizes = pattern.sizes.iter().map(|size| size.name.to_string());
    Ok(Some((pattern.name.to_string(), roles, sizes.collect())))
}

/// What the text denies is put to `denied`.
fn of_text(
    reader: &mut InputReader,
    request: &QuestionRequest,
    denied: &mut Vec<FibreGroup>,
) -> Option<Wanted> {
    let text = filled(request.of.wants.as_deref())?;
    let band = match &request.wants_fields {
        Some(typed) => corrected::wanted(typed, reader)?,
        None => read_band(text),
    };
    reader.band("wants", &band);
    denied.extend(&band.denied);
    reader.note("wants", band.unused_colours());
    let needs = match filled(request.of.need.as_deref()) {
        Some(need) => reader.read("need", cells::needs(need, &band.facts)),
        None => {
            reader.note("wants", band.lone_length.clone());
            Some(band.needs().unwrap_or_else(|unused| {
                reader.note("", [unused]);
                Vec::new()
            }))
        }
    };
    let needs = needs?;
    let names = needs.iter().enumerate();
    let sizes = names
        .map(|(place, (size, _))| size_name(size.as_deref(), place, needs.len()))
        .collect();
    let gauge = band.facts.gauge.as_ref().map(|gauge| gauge.value.clone());
    let mut facts = band.facts;
    facts.gauge = None;
    let role = Role {
        key: request.of.role.clone().unwrap_or_else(|| "A".to_owned()),
        wanted: Requirement {
            care: facts.care.as_ref().map(|care| care.value),
            facts,
            strands: band.strands_held.unwrap_or(1),
            gauge,
            fit: band.fit.unwrap_or_else(|| usual_fit(band.purpose)),
            purpose: band.purpose,
            multiple: None,
            sizes: Vec::new(),
            size: None,
        },
        needs: needs.into_iter().map(|(_, need)| need).collect(),
        fit_is_stated: band.fit.is_some(),
        called: None,
        ends: Vec::new(),
        only_end: None,
        strand: Vec::new(),
    };
    Some((format!("\"{text}\""), vec![role], sizes))
}

/// The place of the size that is named, where one is.
pub(in crate::app) fn chosen_size(
    size: Option<&str>,
    sizes: &[String],
) -> Result<Option<usize>, AppError> {
    let Some(wanted) = filled(size) else {
        return Ok(None);
    };
    let folded = fold(wanted);
    let place = sizes.iter().position(|size| fold(size) == folded);
    place.map(Some).ok_or_else(|| AppError::Unknown {
        what: "size",
        name: wanted.to_owned(),
        near: did_you_mean(wanted, sizes.iter().map(String::as_str))
            .into_iter()
            .map(str::to_owned)
            .collect(),
        all: sizes.to_vec(),
    })
}

/// What was stated on the side overrules what the pattern or the text says.
struct Overrides {
    fit: Option<Fit>,
    purpose: Option<Purpose>,
    care: Option<Care>,
}

impl Overrides {
    fn read(reader: &mut InputReader, request: &QuestionRequest) -> Self {
        Self {
            fit: reader.optional("fit", request.fit.as_deref(), cells::fit),
            purpose: reader.optional("purpose", request.purpose.as_deref(), cells::purpose),
            care: reader.optional("care", request.care.as_deref(), cells::care),
        }
    }
}

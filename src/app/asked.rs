//! A question, read: the roles of a pattern, the needs of its sizes, settings.

use super::{
    AppError, Question,
    heard::Heard,
    skeins::size_name,
    strictness::{margin, tolerance, weights},
    sure::Sure,
};
use crate::{
    label::{
        band::{BandReading, read_band},
        cells,
    },
    matching::{Requirement, Settings},
    measure::{GristTolerance, Ratio},
    quantity::{GaugeRatio, Keep},
    record::{Fit, Need, Pattern, StatedGauge},
    report::metres_and_yards,
    words::{did_you_mean, number, or_list},
};

/// A question, read.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    pub(super) title: String,
    pub(super) roles: Vec<Role>,
    /// Names of the sizes, in order; one for every need of a role.
    pub(super) sizes: Vec<String>,
    /// The size that was chosen.
    pub(super) size: Option<usize>,
    pub(super) settings: Settings,
    pub(super) margin: Ratio,
    pub(super) own_gauge: Option<StatedGauge>,
    pub(super) keep: Option<Keep>,
    pub(super) sure: Option<Sure>,
    pub(super) working: Vec<String>,
    pub(super) warnings: Vec<String>,
}

/// One yarn role.
#[derive(Debug, Clone)]
pub(super) struct Role {
    pub(super) key: String,
    pub(super) wanted: Requirement,
    /// One need a size; empty where none is stated.
    pub(super) needs: Vec<Need>,
}

impl Asked {
    /// Places of the sizes that are asked about.
    pub(super) fn places(&self) -> Vec<usize> {
        match self.size {
            Some(place) => vec![place],
            None => (0..self.sizes.len()).collect(),
        }
    }

    /// The same question about one size only.
    pub(super) fn of_size(&self, place: usize) -> Self {
        Self {
            size: Some(place),
            ..self.clone()
        }
    }

    /// What the need is multiplied by where the measured gauge is kept.
    pub(super) fn kept_factor(&self, gauge_ratio: Option<f64>) -> f64 {
        let kept = self.keep.zip(gauge_ratio);
        kept.map_or(1.0, |(keep, ratio)| {
            keep.need_factor(GaugeRatio::of_stitches(ratio))
        })
    }

    /// The tolerance on grist, in words.
    pub(super) fn tolerance_words(&self) -> String {
        match self.settings.tolerance {
            GristTolerance::Share(share) => format!("{} %", number(share.as_percent(), 2)),
            GristTolerance::Absolute(grist) => {
                format!("{} m/100 g", number(grist.as_metres_per_100_g(), 2))
            }
        }
    }
}

/// Reads a question about a kept pattern, or about what was typed of one.
pub(super) fn asked(question: &Question, pattern: Option<&Pattern>) -> Result<Asked, AppError> {
    let mut heard = Heard::default();
    let mut working = Vec::new();
    let (title, roles, sizes) = match pattern {
        Some(pattern) => of_pattern(question, pattern)?,
        None => of_text(question, &mut heard)?,
    };
    let size = chosen_size(question, &sizes)?;
    let tolerance = tolerance(question, pattern, &mut heard, &mut working)?;
    let margin = margin(question, pattern, &mut heard, &mut working)?;
    let weights = weights(question)?;
    let own_gauge = own_gauge(question, &roles, &mut heard)?;
    let sure = Sure::read(
        &mut heard,
        question.sure.as_deref(),
        question.own_use.as_deref(),
    )?;
    working.extend(roles.iter().filter_map(in_skeins));
    let roles = roles
        .into_iter()
        .map(|role| settled(role, question, size, &mut heard))
        .collect::<Result<_, AppError>>()?;
    let settings = Settings { tolerance, weights };
    let warnings = heard.warnings;
    Ok(Asked {
        title,
        roles,
        sizes,
        size,
        settings,
        margin,
        own_gauge,
        keep: question.keep,
        sure,
        working,
        warnings,
    })
}

/// A gauge measured of the candidate: in the pattern's stitch, unless it says
/// another.
fn own_gauge(
    question: &Question,
    roles: &[Role],
    heard: &mut Heard,
) -> Result<Option<StatedGauge>, AppError> {
    let measured = heard.maybe("--own-gauge", question.own_gauge.as_deref(), cells::gauge)?;
    let wanted = roles.first().and_then(|role| role.wanted.gauge.as_ref());
    Ok(measured.map(|mut measured| {
        measured.stitch = measured.stitch.or_else(|| wanted?.stitch.clone());
        measured
    }))
}

/// What a skein of the need is, where the need is counted in skeins.
fn in_skeins(role: &Role) -> Option<String> {
    let skein = role.needs.iter().find_map(|need| match need {
        Need::Skeins { skein, .. } => Some(*skein),
        Need::Length(_) | Need::Mass(_) => None,
    })?;
    Some(format!(
        "The need of {} is counted in skeins of {}.",
        role.key,
        metres_and_yards(skein)
    ))
}

type Found = (String, Vec<Role>, Vec<String>);

fn of_pattern(question: &Question, pattern: &Pattern) -> Result<Found, AppError> {
    let wanted_key = question.role.as_deref().map(crate::words::fold);
    let chosen = |key: &str| {
        wanted_key
            .as_ref()
            .is_none_or(|wanted| *wanted == crate::words::fold(key))
    };
    let roles: Vec<Role> = pattern
        .yarns
        .iter()
        .filter(|yarn| chosen(yarn.key.as_str()))
        .map(|yarn| Role {
            key: yarn.key.to_string(),
            wanted: Requirement {
                facts: yarn.reference.clone(),
                strands: yarn.strands,
                gauge: pattern.gauge.as_ref().map(|gauge| gauge.value.clone()),
                fit: pattern.fit,
                purpose: Some(pattern.purpose),
                care: pattern.care.as_ref().map(|care| care.value),
                multiple: pattern.multiple.as_ref().map(|multiple| multiple.value),
                sizes: pattern.sizes.clone(),
                size: None,
            },
            needs: yarn.needs.iter().map(|need| need.value).collect(),
        })
        .collect();
    if roles.is_empty() {
        let keys: Vec<&str> = pattern.yarns.iter().map(|yarn| yarn.key.as_str()).collect();
        return Err(AppError::Usage(format!(
            "pattern {} has no yarn `{}`: it has {}",
            pattern.name,
            question.role.as_deref().unwrap_or_default(),
            or_list(&keys)
        )));
    }
    let sizes = pattern
        .sizes
        .iter()
        .map(|size| size.name.to_string())
        .collect();
    Ok((pattern.name.to_string(), roles, sizes))
}

fn of_text(question: &Question, heard: &mut Heard) -> Result<Found, AppError> {
    let text = question.wants.as_deref().unwrap_or_default();
    let band = match &question.wants_fields {
        Some(typed) => super::corrected::wanted(typed, heard)?,
        None => read_band(text),
    };
    heard.band("--wants", &band);
    if question.need.is_none() {
        heard.note("--wants", band.lone_length.as_ref());
    }
    let needs = needs(question, &band, heard)?;
    let sizes = needs
        .iter()
        .enumerate()
        .map(|(place, (size, _))| size_name(size.as_deref(), place, needs.len()))
        .collect();
    let gauge = band.facts.gauge.as_ref().map(|gauge| gauge.value.clone());
    let mut facts = band.facts;
    facts.gauge = None;
    let wanted = Requirement {
        care: facts.care.as_ref().map(|care| care.value),
        facts,
        strands: band.strands_held.unwrap_or(1),
        gauge,
        fit: band.fit.unwrap_or(Fit::Fitted),
        purpose: band.purpose,
        multiple: None,
        sizes: Vec::new(),
        size: None,
    };
    let key = question.role.clone().unwrap_or_else(|| "A".to_owned());
    let role = Role {
        key,
        wanted,
        needs: needs.into_iter().map(|(_, need)| need).collect(),
    };
    Ok((format!("\"{}\"", text.trim()), vec![role], sizes))
}

/// The needs that `--need` or the text itself states.
fn needs(
    question: &Question,
    band: &BandReading,
    heard: &mut Heard,
) -> Result<Vec<(Option<String>, Need)>, AppError> {
    if let Some(text) = question.need.as_deref() {
        return heard.value("--need", cells::needs(text, &band.facts));
    }
    let Some(amount) = &band.amount else {
        return Ok(Vec::new());
    };
    match cells::needs(&amount.text, &band.facts) {
        Ok(reading) => Ok(reading.value),
        Err(error) => {
            heard
                .warnings
                .push(format!("the amount is not used: {error}"));
            Ok(Vec::new())
        }
    }
}

fn chosen_size(question: &Question, sizes: &[String]) -> Result<Option<usize>, AppError> {
    let Some(wanted) = question.size.as_deref() else {
        return Ok(None);
    };
    let folded = crate::words::fold(wanted);
    let place = sizes
        .iter()
        .position(|size| crate::words::fold(size) == folded);
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
fn settled(
    mut role: Role,
    question: &Question,
    size: Option<usize>,
    heard: &mut Heard,
) -> Result<Role, AppError> {
    if let Some(fit) = heard.maybe("--fit", question.fit.as_deref(), cells::fit)? {
        role.wanted.fit = fit;
    }
    if let Some(purpose) = heard.maybe("--purpose", question.purpose.as_deref(), cells::purpose)? {
        role.wanted.purpose = Some(purpose);
    }
    if let Some(care) = heard.maybe("--care", question.care.as_deref(), cells::care)? {
        role.wanted.care = Some(care);
    }
    role.wanted.size = size;
    Ok(role)
}

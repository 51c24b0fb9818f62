//! What each stitch takes, from what was weighed.

use super::{NeedsError, SampleCheck, StitchRate};
use crate::{
    app::AppError,
    files::needs_file::{NeedsFile, PieceNeed, Sample, SampleKind, StitchUse},
    quantity::{Basis, Edge, Extent, WeighedPiece, left_out_errors, stitch_factor, use_rates},
};

/// What each stitch of a file takes.
pub(super) struct Rates {
    pub(super) basis: Basis,
    /// Metres per m2 or per stitch, one for each stitch of the file.
    metres: Vec<f64>,
    /// Stitches per m2 of each stitch in what was weighed, where known.
    densities: Vec<Option<f64>>,
}

impl Rates {
    /// Metres per m2 or per stitch of a stitch.
    pub(super) fn metres(&self, stitch: usize) -> f64 {
        self.metres.get(stitch).copied().unwrap_or(0.0)
    }

    /// Factor of a stitch against plain knitting, where the gauge of what was
    /// weighed is known.
    pub(super) fn factor(&self, stitch: usize) -> Option<f64> {
        let density = self.densities.get(stitch).copied().flatten()?;
        let per_m2 = match self.basis {
            Basis::Area => self.metres(stitch),
            Basis::Stitches => self.metres(stitch) * density,
        };
        Some(stitch_factor(per_m2, density))
    }

    /// One line for each stitch.
    pub(super) fn lines(&self, file: &NeedsFile) -> Vec<StitchRate> {
        let grist = file
            .yarns
            .first()
            .map(|yarn| yarn.grist.as_metres_per_gram());
        let line = |(place, stitch): (usize, &StitchUse)| {
            let rate = self.metres(place);
            let (per_m2, per_stitch) = match self.basis {
                Basis::Area => (Some(rate), None),
                Basis::Stitches => (None, Some(rate)),
            };
            StitchRate {
                stitch: stitch.name.clone(),
                m_per_m2: per_m2,
                m_per_stitch: per_stitch,
                g_per_m2: per_m2.zip(grist).map(|(rate, grist)| rate / grist),
                g_per_stitch: per_stitch.zip(grist).map(|(rate, grist)| rate / grist),
                stitches_per_m2: self.densities.get(place).copied().flatten(),
                plain_knit_factor: self.factor(place),
                learned: stitch.of.is_none(),
            }
        };
        file.stitches.iter().enumerate().map(line).collect()
    }
}

/// The stitch that names a stitch, and how many times its yarn it takes.
fn root(file: &NeedsFile, stitch: usize) -> (usize, f64) {
    let of = file.stitches.get(stitch).and_then(|stitch| stitch.of);
    of.unwrap_or((stitch, 1.0))
}

/// Learns what each stitch takes, or says which cannot be told.
pub(super) fn learn_rates(file: &NeedsFile) -> Result<Rates, AppError> {
    let basis = basis(file)?;
    let weighed = all_weighed(file, basis)?;
    let told = use_rates(&weighed, file.stitches.len());
    let mut metres = Vec::new();
    let mut missing = Vec::new();
    for (place, stitch) in file.stitches.iter().enumerate() {
        let (root, factor) = root(file, place);
        match told.get(root).copied().flatten() {
            Some(rate) => metres.push(rate * factor),
            None => missing.push(stitch.name.clone()),
        }
    }
    if missing.is_empty() {
        Ok(Rates {
            basis,
            metres,
            densities: densities(file),
        })
    } else {
        Err(NeedsError::StitchNotWeighed(missing).into())
    }
}

/// Area where all can be measured, else stitches where all can be counted.
fn basis(file: &NeedsFile) -> Result<Basis, AppError> {
    let swatches = file.samples.iter().filter_map(|sample| match &sample.of {
        SampleKind::Swatch { extent, .. } => Some(*extent),
        SampleKind::Pieces { .. } => None,
    });
    let pieces = file
        .pieces
        .iter()
        .flat_map(|piece| piece.extents.iter().copied());
    let extents: Vec<_> = pieces.chain(swatches).collect();
    Basis::common(&extents).ok_or_else(|| NeedsError::NoCommonBasis.into())
}

fn all_weighed(file: &NeedsFile, basis: Basis) -> Result<Vec<WeighedPiece>, AppError> {
    file.samples
        .iter()
        .map(|sample| weighed(file, sample, basis))
        .collect()
}

fn weighed(file: &NeedsFile, sample: &Sample, basis: Basis) -> Result<WeighedPiece, AppError> {
    let used = sample.used.length_at(sample.grist)?.as_metres();
    let metres = used - edge_metres(file, sample);
    if metres <= 0.0 {
        let sample = sample.name.clone();
        return Err(NeedsError::EdgesTakeAll { sample }.into());
    }
    let part = |stitch: usize, amount: Option<f64>, times: u32| {
        let (root, factor) = root(file, stitch);
        Some((root, amount? * factor * f64::from(times)))
    };
    let parts: Option<Vec<(usize, f64)>> = match &sample.of {
        SampleKind::Swatch { stitch, extent } => {
            part(*stitch, basis.amount(extent), 1).map(|one| vec![one])
        }
        SampleKind::Pieces { size, pieces, .. } => pieces_of(file, pieces)
            .map(|piece| {
                let amount = basis.amount(piece.extents.get(*size)?);
                part(piece.stitch, amount, *piece.times.get(*size)?)
            })
            .collect(),
    };
    Ok(WeighedPiece {
        metres,
        parts: parts.unwrap_or_default(),
    })
}

/// The pieces in these places.
fn pieces_of<'f>(file: &'f NeedsFile, places: &'f [usize]) -> impl Iterator<Item = &'f PieceNeed> {
    places.iter().filter_map(|place| file.pieces.get(*place))
}

/// Yarn in the edges that were weighed with a sample, m.
fn edge_metres(file: &NeedsFile, sample: &Sample) -> f64 {
    match sample.of {
        SampleKind::Pieces {
            size, edges: true, ..
        } => file
            .edges
            .iter()
            .filter(|edge| edge.yarn == sample.yarn)
            .filter_map(|edge| edge.edges.get(size))
            .map(Edge::metres)
            .sum(),
        _ => 0.0,
    }
}

/// Stitches per m2 of each stitch over all that was weighed of it: sum of
/// stitches / sum of areas.
fn densities(file: &NeedsFile) -> Vec<Option<f64>> {
    (0..file.stitches.len())
        .map(|stitch| {
            let all: Vec<(f64, f64)> = file
                .samples
                .iter()
                .flat_map(|sample| dense_parts(file, sample, stitch))
                .collect();
            let area: f64 = all.iter().map(|(_, area)| area).sum();
            let stitches: f64 = all.iter().map(|(stitches, _)| stitches).sum();
            (area > 0.0).then(|| stitches / area)
        })
        .collect()
}

/// Stitches and area of the parts of a sample that are in a stitch and of known
/// gauge.
fn dense_parts(file: &NeedsFile, sample: &Sample, wanted: usize) -> Vec<(f64, f64)> {
    let of = |extent: &Extent| {
        let area = extent.area()?;
        Some((extent.density()? * area, area))
    };
    match &sample.of {
        SampleKind::Swatch { stitch, extent } => of(extent)
            .filter(|_| *stitch == wanted)
            .into_iter()
            .collect(),
        SampleKind::Pieces { size, pieces, .. } => pieces_of(file, pieces)
            .filter(|piece| piece.stitch == wanted)
            .filter_map(|piece| of(piece.extents.get(*size)?))
            .collect(),
    }
}

/// How far what the other samples predict lies from each.
pub(super) fn check_samples(file: &NeedsFile, rates: &Rates) -> Result<Vec<SampleCheck>, AppError> {
    let weighed = all_weighed(file, rates.basis)?;
    if weighed.len() < 2 {
        return Ok(Vec::new());
    }
    let errors = left_out_errors(&weighed, file.stitches.len());
    let checks = file.samples.iter().zip(weighed).zip(errors);
    let check = |((sample, weighed), error): ((&Sample, WeighedPiece), Option<f64>)| SampleCheck {
        sample: sample.name.clone(),
        weighed_g: sample.used.as_grams(),
        fabric_m: weighed.metres,
        error_percent: error.map(|error| error * 100.0),
    };
    Ok(checks.map(check).collect())
}

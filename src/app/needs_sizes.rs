//! The need of each size and yarn, and what geometry says to it.

use super::{AppError, needs_samples::Rates};
use crate::{
    files::needs_file::{NeedsFile, NeedsYarn, PieceNeed},
    label::cells::Step,
    measure::{Length, Ratio},
    quantity::{Edge, GEOMETRY_TOLERANCE, metres_by_geometry, purchase, up_to_step},
    record::NeedRange,
    report::NeedsLine,
    words::{number, signed},
};

/// How needs are stated.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stated {
    pub(super) margin: Ratio,
    pub(super) step: Step,
}

/// One line for each yarn and size, yarn by yarn.
pub(super) fn lines(
    file: &NeedsFile,
    rates: &Rates,
    stated: Stated,
) -> Result<Vec<NeedsLine>, AppError> {
    let mut lines = Vec::new();
    for (yarn, role) in file.yarns.iter().enumerate() {
        let mut first = None;
        for size in 0..file.sizes.len() {
            let sums = sums(file, rates, yarn, size);
            let metres = sums.fabric_m + sums.edges_m;
            let growth = metres / *first.get_or_insert(metres);
            lines.push(line(file, role, size, &sums, growth, stated)?);
        }
    }
    Ok(lines)
}

#[derive(Default)]
struct Sums {
    amount: f64,
    fabric_m: f64,
    edges_m: f64,
    /// Metres by geometry, and metres reckoned, of the pieces of known gauge.
    geometry: Option<(f64, f64)>,
}

fn sums(file: &NeedsFile, rates: &Rates, yarn: usize, size: usize) -> Sums {
    let mut sums = Sums::default();
    for piece in file.pieces.iter().filter(|piece| piece.yarn == yarn) {
        let Some((amount, metres)) = reckoned(piece, rates, size) else {
            continue;
        };
        sums.amount += amount;
        sums.fabric_m += metres;
        if let Some(by_geometry) = by_geometry(piece, rates, size) {
            let (geometry, beside) = sums.geometry.unwrap_or_default();
            sums.geometry = Some((geometry + by_geometry, beside + metres));
        }
    }
    let edges = file.edges.iter().filter(|edge| edge.yarn == yarn);
    sums.edges_m = edges
        .filter_map(|edge| edge.edges.get(size))
        .map(Edge::metres)
        .sum();
    sums
}

/// Fabric (m2 or stitches) and metres of all pieces of this kind in a size.
fn reckoned(piece: &PieceNeed, rates: &Rates, size: usize) -> Option<(f64, f64)> {
    let amount = rates.basis.amount(piece.extents.get(size)?)?;
    let amount = amount * f64::from(*piece.times.get(size)?);
    Some((amount, amount * rates.metres(piece.stitch)))
}

fn by_geometry(piece: &PieceNeed, rates: &Rates, size: usize) -> Option<f64> {
    let extent = piece.extents.get(size)?;
    let area = extent.area()? * f64::from(*piece.times.get(size)?);
    Some(metres_by_geometry(
        area,
        rates.factor(piece.stitch)?,
        extent.density()?,
    ))
}

fn line(
    file: &NeedsFile,
    role: &NeedsYarn,
    size: usize,
    sums: &Sums,
    growth: f64,
    stated: Stated,
) -> Result<NeedsLine, AppError> {
    let need = Length::metres(sums.fabric_m + sums.edges_m)?;
    let grist = role.grist.as_metres_per_gram();
    let with_margin = need.as_metres() * (1.0 + stated.margin.as_fraction());
    let stated_m = match stated.step {
        Step::Length(step) => up_to_step(with_margin, step.as_metres()),
        Step::Mass(step) => up_to_step(with_margin / grist, step.as_grams()) * grist,
    };
    let skeins = match role.facts.skein_length() {
        Some(skein) => {
            let exactly = NeedRange {
                at_least: need,
                buy_for: need,
            };
            Some(purchase(exactly, skein, stated.margin)?.skeins)
        }
        None => None,
    };
    Ok(NeedsLine {
        size: file
            .sizes
            .get(size)
            .map(ToString::to_string)
            .unwrap_or_default(),
        yarn: role.key.to_string(),
        fabric: sums.amount,
        need_m: need.as_metres(),
        need_g: need.as_metres() / grist,
        edges_m: sums.edges_m,
        growth,
        stated_m,
        stated_g: stated_m / grist,
        skeins,
        geometry_percent: sums
            .geometry
            .map(|(by, beside)| (by / beside - 1.0) * 100.0),
    })
}

/// A warning for each size whose gauge and counts say another need.
pub(super) fn outside_geometry(lines: &[NeedsLine]) -> Vec<String> {
    let allowed = GEOMETRY_TOLERANCE * 100.0;
    let outside = lines.iter().filter_map(|line| {
        let percent = line.geometry_percent.filter(|p| p.abs() > allowed + 1e-9)?;
        Some(format!(
            "Size {}, yarn {}: by the geometry of plain knitting its gauge or counts would take {} % against what is reckoned from the weighing (allowed {} % either way): check measures, rows and gauge of this size.",
            line.size,
            line.yarn,
            signed(percent, 1),
            number(allowed, 0)
        ))
    });
    outside.collect()
}

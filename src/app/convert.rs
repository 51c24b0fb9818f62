//! One grist in every unit.

use super::{AppError, heard::Heard};
use crate::{
    label::cells,
    measure::{Grist, Mass, units::CountSystem},
    report::ConvertReport,
    trade::{WeightClass, classes_by_grist},
    words::number,
};

/// Values to convert; several are held together.
#[derive(Debug, Clone, Default)]
pub struct ConvertRequest {
    /// Grists as typed.
    pub values: Vec<String>,
    /// Strands of each.
    pub strands: u8,
    /// A mass to give the length for, as typed.
    pub basis: Option<String>,
}

/// The grist of the values held together, in every unit.
pub fn convert(request: &ConvertRequest) -> Result<ConvertReport, AppError> {
    let mut heard = Heard::default();
    let read = |text: &String| heard.value("value", cells::grist(text));
    let grists = request
        .values
        .iter()
        .map(read)
        .collect::<Result<Vec<Grist>, _>>()?;
    let ends: Vec<Grist> = grists
        .iter()
        .flat_map(|grist| std::iter::repeat_n(*grist, usize::from(request.strands)))
        .collect();
    let together = Grist::held_together(&ends).ok_or_else(|| {
        AppError::Usage("give at least one length per mass and at least one strand".to_owned())
    })?;
    let basis = heard.maybe("--basis", request.basis.as_deref(), cells::mass)?;
    Ok(report(request, together, basis, heard))
}

fn report(
    request: &ConvertRequest,
    grist: Grist,
    basis: Option<Mass>,
    heard: Heard,
) -> ConvertReport {
    let count = |system| grist.as_count(system);
    ConvertReport {
        of: title(request),
        m_per_100g: grist.as_metres_per_100_g(),
        m_per_50g: grist.as_metres_per_100_g() / 2.0,
        yd_per_100g: grist.as_metres_per_100_g() / crate::measure::units::YARD_M,
        yd_per_oz: grist.as_yards_per_pound() / 16.0,
        yd_per_lb: grist.as_yards_per_pound(),
        tex: grist.as_tex(),
        dtex: count(CountSystem::Decitex),
        denier: count(CountSystem::Denier),
        metric_count: count(CountSystem::Metric),
        cotton_count: count(CountSystem::Cotton),
        worsted_count: count(CountSystem::Worsted),
        woollen_run: count(CountSystem::WoollenRun),
        linen_lea: count(CountSystem::Linen),
        m_per_basis: basis.map(|mass| mass.as_grams() * grist.as_metres_per_gram()),
        basis_g: basis.map(Mass::as_grams),
        weight_classes: classes_by_grist(grist)
            .into_iter()
            .map(WeightClass::number)
            .collect(),
        warnings: heard.warnings,
    }
}

fn title(request: &ConvertRequest) -> String {
    let values = crate::words::and_list(&request.values);
    match (request.values.len(), request.strands) {
        (1, 1) => values,
        (1, n) => format!(
            "{values}, {} strands held together",
            number(f64::from(n), 0)
        ),
        (_, 1) => format!("{values} held together"),
        (_, n) => format!(
            "{values}, {} strands of each held together",
            number(f64::from(n), 0)
        ),
    }
}

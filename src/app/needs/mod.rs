//! Needs of every size from what was knitted and weighed: what each stitch takes
//! is learned from the samples (`rates`), and each size is the sum of its pieces and
//! edges. The answer becomes a pattern file (`pattern_file`); a few answers become
//! the file that it begins with (`template`).

mod pattern_file;
mod progress;
mod rates;
mod request;
mod template;

pub use pattern_file::{fits, needs_pattern, purposes};
pub use progress::{DonePiece, NeedsProgress, PieceToGo, RestReach, YarnToGo};
pub use request::{NeedsPatternRequest, NeedsProgressRequest, NeedsRequest, NeedsTemplateRequest};
pub use template::needs_template;

use super::{AppError, FieldNote, InputReader};
use crate::{
    files::{
        CellNote,
        needs_file::{NeedsFile, NeedsYarn, PieceNeed, read_needs_file},
    },
    label::cells::{self, Step},
    measure::{Length, Ratio},
    quantity::{
        Basis, DEFAULT_MARGIN, Edge, GEOMETRY_TOLERANCE, metres_by_geometry, purchase, up_to_step,
    },
    record::{Name, NeedRange},
    words::and_list,
};
use rates::{Rates, check_samples, learn_rates};
use schemars::JsonSchema;
use serde::Serialize;

/// Answer to [`needs`].
#[derive(Debug, Clone)]
pub struct NeedsAnswer {
    /// The pattern.
    pub pattern: Name,
    /// What yarn was computed by.
    pub basis: Basis,
    /// How needs are stated.
    pub stated: StatedNeeds,
    /// The yarn roles.
    pub yarns: Vec<NeedsYarn>,
    /// What each stitch takes.
    pub rates: Vec<StitchRate>,
    /// How well the samples predict each other; empty for one sample.
    pub samples: Vec<SampleCheck>,
    /// The need of each yarn and size, yarn by yarn.
    pub needs: Vec<YarnNeed>,
    /// What each piece, and then the edges, take of each yarn and size, in the same order.
    pub pieces: Vec<PieceYarn>,
    /// How far one size is knitted, where that was asked.
    pub progress: Option<NeedsProgress>,
    /// Pieces of which one measure only differs from size to size.
    pub one_measure_grows: Vec<Name>,
    /// What was noticed in the file.
    pub file_notes: Vec<CellNote>,
    /// What was noticed in what was typed.
    pub notes: Vec<FieldNote>,
}

/// How needs are stated.
#[derive(Debug, Clone, Copy)]
pub struct StatedNeeds {
    /// What is added.
    pub margin: Ratio,
    /// Whether nobody stated the margin.
    pub margin_is_usual: bool,
    /// What they are rounded up to.
    pub step: Step,
}

/// What one stitch takes.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StitchRate {
    /// The stitch.
    pub stitch: String,
    /// Metres per m2, where computed by area.
    pub m_per_m2: Option<f64>,
    /// Metres per stitch, where computed by stitches.
    pub m_per_stitch: Option<f64>,
    /// Grams of the first yarn per m2.
    pub g_per_m2: Option<f64>,
    /// Grams of the first yarn per stitch.
    pub g_per_stitch: Option<f64>,
    /// Stitches per m2 of what was weighed, where its gauge is known.
    pub stitches_per_m2: Option<f64>,
    /// Yarn against fully relaxed plain knitting of the same gauge.
    pub plain_knit_factor: Option<f64>,
    /// Whether it was weighed; otherwise it is the user's own figure.
    pub learned: bool,
}

/// How far what the other samples predict lies from one.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SampleCheck {
    /// The sample.
    pub sample: String,
    /// Grams of yarn in it.
    pub weighed_g: f64,
    /// Metres in its fabric, edges taken off.
    pub fabric_m: f64,
    /// Predicted / weighed - 1, %; `None` where the others do not say.
    pub error_percent: Option<f64>,
}

/// The need of one yarn in one size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct YarnNeed {
    /// The size.
    pub size: String,
    /// Key of the yarn.
    pub yarn: String,
    /// Fabric, m2 or stitches by the basis.
    pub fabric: f64,
    /// Need, m, without the margin.
    pub need_m: f64,
    /// Need, g, without the margin.
    pub need_g: f64,
    /// What of it edges and tails take, m.
    pub edges_m: f64,
    /// Need over that of the first size.
    pub growth: f64,
    /// What to state, m: with the margin, rounded up to the step.
    pub stated_m: f64,
    /// What to state, g.
    pub stated_g: f64,
    /// Whole skeins, margin included, where the length of one is known.
    pub skeins: Option<u32>,
    /// Need by plain-knit geometry against the need computed, %.
    pub geometry_percent: Option<f64>,
}

/// What one piece takes of one yarn in one size.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PieceYarn {
    /// The size.
    pub size: String,
    /// Key of the yarn.
    pub yarn: String,
    /// The piece; `None` for all edges and tails.
    pub piece: Option<String>,
    /// What it takes, m, without the margin.
    #[serde(rename = "need_m")]
    pub metres: f64,
    /// The same, g.
    #[serde(rename = "need_g")]
    pub grams: f64,
}

impl YarnNeed {
    /// By how much gauge and counts say another need than the weighing, %; `None`
    /// within what is allowed.
    pub fn outside_geometry(&self) -> Option<f64> {
        let allowed = GEOMETRY_TOLERANCE * 100.0 + 1e-9;
        self.geometry_percent
            .filter(|percent| percent.abs() > allowed)
    }
}

/// Why a file of samples and pieces gives no needs.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NeedsError {
    /// Stitches of which no sample says what they take.
    #[error(
        "nothing you weighed shows how much yarn {} uses by itself: weigh a swatch in it (a `[[sample]]` with `shape`), or compare it with another stitch (a `[[stitch]]` with `takes` and `of`)", quoted(.0)
    )]
    StitchNotWeighed(Vec<String>),
    /// Measures beside counts, and no gauge between them.
    #[error(
        "some pieces are measured and others counted in stitches: add a `gauge` with rows to the file, as in `gauge = \"22 sts x 30 rows / 10 cm\"`"
    )]
    NoCommonBasis,
    /// A sample with more yarn in its edges than in all.
    #[error(
        "{sample}: the edges alone use more yarn than was weighed: check their length and `takes`"
    )]
    EdgesTakeAll {
        /// The sample.
        sample: String,
    },
    /// A need that no pattern can state.
    #[error("`{need}` for size {size} cannot be rounded to this step: choose another step")]
    NotStated {
        /// The need.
        need: String,
        /// The size.
        size: String,
    },
}

fn quoted(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    and_list(&quoted)
}

/// Computes every size and yarn of a file.
pub fn needs(request: &NeedsRequest) -> Result<NeedsAnswer, AppError> {
    let (_, answer) = computed(InputReader::default(), request)?;
    Ok(answer)
}

/// The same, and how far one of its sizes is knitted.
pub fn needs_in_progress(
    request: &NeedsRequest,
    progress: &NeedsProgressRequest,
) -> Result<NeedsAnswer, AppError> {
    let (file, mut answer) = computed(InputReader::default(), request)?;
    answer.progress = progress::progress(progress, &file, &answer)?;
    Ok(answer)
}

/// The file, and what follows from it.
fn computed(
    mut reader: InputReader,
    request: &NeedsRequest,
) -> Result<(NeedsFile, NeedsAnswer), AppError> {
    let (margin, step) = request.read(&mut reader);
    reader.check()?;
    let reading = read_needs_file(&request.file.name, &request.file.bytes)?;
    let file = reading.needs;
    let margin = margin.or(file.margin);
    let margin_is_usual = margin.is_none();
    let step = step.or(file.step).map_or_else(usual_step, Ok)?;
    reader.check()?;
    let stated = StatedNeeds {
        margin: margin.unwrap_or(Ratio::whole_percent(DEFAULT_MARGIN)),
        margin_is_usual,
        step,
    };
    let rates = learn_rates(&file)?;
    let one_measure = file.pieces.iter().filter(|piece| piece.one_measure_grows);
    let answer = NeedsAnswer {
        pattern: file.pattern.clone(),
        basis: rates.basis,
        stated,
        yarns: file.yarns.clone(),
        rates: rates.lines(&file),
        samples: check_samples(&file, &rates)?,
        needs: yarn_needs(&file, &rates, stated)?,
        pieces: pieces(&file, &rates),
        progress: None,
        one_measure_grows: one_measure.map(|piece| piece.name.clone()).collect(),
        file_notes: reading.warnings,
        notes: reader.notes,
    };
    Ok((file, answer))
}

impl NeedsRequest {
    /// Margin and step, where they are typed.
    fn read(&self, reader: &mut InputReader) -> (Option<Ratio>, Option<Step>) {
        let margin = reader.optional("margin", &self.margin, cells::percent);
        let step = reader.optional("step", &self.step, cells::step);
        (margin, step)
    }
}

fn usual_step() -> Result<Step, AppError> {
    Ok(Step::Length(Length::metres(1.0)?))
}

/// The need of each yarn and size, yarn by yarn.
fn yarn_needs(
    file: &NeedsFile,
    rates: &Rates,
    stated: StatedNeeds,
) -> Result<Vec<YarnNeed>, AppError> {
    let mut needs = Vec::new();
    for (yarn, role) in file.yarns.iter().enumerate() {
        let mut first = None;
        for (place, size) in file.sizes.iter().enumerate() {
            let sums = sums(file, rates, yarn, place);
            let metres = sums.fabric_m + sums.edges_m;
            let growth = metres / *first.get_or_insert(metres);
            needs.push(yarn_need((role, size), &sums, growth, stated)?);
        }
    }
    Ok(needs)
}

/// What each piece takes of each yarn and size, yarn by yarn; then its edges, where it
/// has some.
fn pieces(file: &NeedsFile, rates: &Rates) -> Vec<PieceYarn> {
    let mut found = Vec::new();
    for (yarn, role) in file.yarns.iter().enumerate() {
        for (place, size) in file.sizes.iter().enumerate() {
            let mut take = |piece: Option<&Name>, metres: f64| {
                found.push(PieceYarn {
                    size: size.to_string(),
                    yarn: role.key.to_string(),
                    piece: piece.map(ToString::to_string),
                    metres,
                    grams: metres / role.grist.as_metres_per_gram(),
                });
            };
            for piece in file.pieces.iter().filter(|piece| piece.yarn == yarn) {
                let metres = by_weighing(piece, rates, place).map_or(0.0, |(_, metres)| metres);
                take(Some(&piece.name), metres);
            }
            if file.edges.iter().any(|edge| edge.yarn == yarn) {
                take(None, edges_m(file, yarn, place));
            }
        }
    }
    found
}

/// Metres of all edges of a yarn and size.
fn edges_m(file: &NeedsFile, yarn: usize, size: usize) -> f64 {
    let edges = file.edges.iter().filter(|edge| edge.yarn == yarn);
    let edges = edges.filter_map(|edge| edge.edges.get(size));
    edges.map(Edge::metres).sum()
}

/// What the pieces and edges of one yarn and size come to.
#[derive(Default)]
struct Sums {
    amount: f64,
    fabric_m: f64,
    edges_m: f64,
    /// Metres by geometry, and metres by the weighing, of the pieces of known gauge.
    geometry: Option<(f64, f64)>,
}

fn sums(file: &NeedsFile, rates: &Rates, yarn: usize, size: usize) -> Sums {
    let mut sums = Sums::default();
    for piece in file.pieces.iter().filter(|piece| piece.yarn == yarn) {
        let Some((amount, metres)) = by_weighing(piece, rates, size) else {
            continue;
        };
        sums.amount += amount;
        sums.fabric_m += metres;
        if let Some(by_geometry) = by_geometry(piece, rates, size) {
            let (geometry, beside) = sums.geometry.unwrap_or((0.0, 0.0));
            sums.geometry = Some((geometry + by_geometry, beside + metres));
        }
    }
    sums.edges_m = edges_m(file, yarn, size);
    sums
}

/// Fabric (m2 or stitches) and metres of all pieces of this kind in a size.
fn by_weighing(piece: &PieceNeed, rates: &Rates, size: usize) -> Option<(f64, f64)> {
    let amount = rates.basis.amount(piece.extents.get(size)?)?;
    let amount = amount * f64::from(*piece.times.get(size)?);
    Some((amount, amount * rates.metres(piece.stitch)))
}

fn by_geometry(piece: &PieceNeed, rates: &Rates, size: usize) -> Option<f64> {
    let extent = piece.extents.get(size)?;
    let area = extent.area()? * f64::from(*piece.times.get(size)?);
    let factor = rates.factor(piece.stitch)?;
    Some(metres_by_geometry(area, factor, extent.density()?))
}

fn yarn_need(
    (role, size): (&NeedsYarn, &Name),
    sums: &Sums,
    growth: f64,
    stated: StatedNeeds,
) -> Result<YarnNeed, AppError> {
    let need = Length::metres(sums.fabric_m + sums.edges_m)?;
    let grist = role.grist.as_metres_per_gram();
    let with_margin = need.as_metres() * (1.0 + stated.margin.as_fraction());
    let stated_m = match stated.step {
        Step::Length(step) => up_to_step(with_margin, step.as_metres()),
        Step::Mass(step) => up_to_step(with_margin / grist, step.as_grams()) * grist,
    };
    let exactly = NeedRange {
        at_least: need,
        buy_for: need,
    };
    let bought = role.facts.skein_length();
    let bought = bought.map(|skein| purchase(exactly, skein, stated.margin));
    let geometry = sums.geometry.map(|(by, beside)| by / beside - 1.0);
    Ok(YarnNeed {
        size: size.to_string(),
        yarn: role.key.to_string(),
        fabric: sums.amount,
        need_m: need.as_metres(),
        need_g: need.as_metres() / grist,
        edges_m: sums.edges_m,
        growth,
        stated_m,
        stated_g: stated_m / grist,
        skeins: bought.transpose()?.map(|bought| bought.skeins),
        geometry_percent: geometry.map(|share| share * 100.0),
    })
}

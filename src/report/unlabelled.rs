//! A ball without a label.

use super::{Align, Page, Range, Report, Role, Table};
use crate::{
    measure::units::{POUND_G, YARD_M},
    trade::BurnSign,
    words::{number, or_list},
};
use serde::Serialize;

/// Answer to `unlabelled`.
#[derive(Debug, Clone, Serialize)]
pub struct UnlabelledReport {
    /// Yarn on the scale, core taken off, g.
    pub net_g: Option<f64>,
    /// What each way tells.
    pub methods: Vec<MethodLine>,
    /// Classes that are possible, by what was measured where something was.
    pub weight_classes: Vec<u8>,
    /// The fibre: never told by these ways.
    pub fibre: Option<String>,
    /// The burn test, where asked for.
    pub burn: Option<Burn>,
    /// What was counted.
    pub working: Vec<String>,
    /// What to know.
    pub warnings: Vec<String>,
}

/// What one way of finding out tells.
#[derive(Debug, Clone, Serialize)]
pub struct MethodLine {
    /// The way.
    pub method: String,
    /// Whether it measures length per mass; wraps only guess.
    pub measured: bool,
    /// Length per mass, m/100 g.
    pub grist_m_per_100g: Option<Range>,
    /// Length of the ball, m.
    pub length_m: Option<Range>,
    /// Classes that are possible by it.
    pub classes: Vec<u8>,
}

/// Signs near a flame, with the cautions that go before them.
#[derive(Debug, Clone, Serialize)]
pub struct Burn {
    /// What goes before.
    pub cautions: Vec<String>,
    /// Signs of groups of fibres.
    pub signs: Vec<BurnLine>,
}

/// Signs of one group.
#[derive(Debug, Clone, Serialize)]
pub struct BurnLine {
    /// The fibres.
    pub fibres: &'static str,
    /// In the flame and beside it.
    pub in_flame: &'static str,
    /// The smell.
    pub smell: &'static str,
    /// What is left.
    pub residue: &'static str,
}

impl From<&BurnSign> for BurnLine {
    fn from(sign: &BurnSign) -> Self {
        Self {
            fibres: sign.fibres,
            in_flame: sign.in_flame,
            smell: sign.smell,
            residue: sign.residue,
        }
    }
}

impl Report for UnlabelledReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(match self.net_g {
            Some(grams) => format!("A ball without a label, {} g of yarn", number(grams, 2)),
            None => "A ball without a label".to_owned(),
        });
        page.table(self.table());
        page.section("Weight class");
        let classes: Vec<String> = self.weight_classes.iter().map(u8::to_string).collect();
        let told = match classes.as_slice() {
            [] => "Not known: no way that was given tells the length per mass.".to_owned(),
            _ => format!(
                "Class {} is possible (rough published guideline); knit a swatch to know how it works up.",
                or_list(&classes)
            ),
        };
        page.text(Role::Plain, told);
        page.section("Fibre");
        page.text(Role::Plain, "Unknown: nothing that was measured tells it. Record it as `unknown`, and wash a swatch before you trust it with heat or a machine.");
        if let Some(burn) = &self.burn {
            page.part("Before a burn test", Role::Caution, &burn.cautions);
            page.part(
                "Signs near a flame, of groups only",
                Role::Plain,
                &signs(burn),
            );
        }
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

impl UnlabelledReport {
    fn table(&self) -> Table {
        let mut table = Table::new(&[
            ("by", Align::Left),
            ("m/100 g", Align::Right),
            ("yd/lb", Align::Right),
            ("length m", Align::Right),
            ("yd", Align::Right),
            ("classes", Align::Left),
        ]);
        table.rows = self.methods.iter().map(row).collect();
        table
    }
}

/// A measured figure with its interval; of a guess only the interval.
fn row(line: &MethodLine) -> Vec<String> {
    let show = |range: Option<Range>| match (range, line.measured) {
        (None, _) => String::new(),
        (Some(range), true) => range.words(0),
        (Some(range), false) => format!("{} to {}", number(range.low, 0), number(range.high, 0)),
    };
    let classes: Vec<String> = line.classes.iter().map(u8::to_string).collect();
    let pounds = line
        .grist_m_per_100g
        .map(|grist| grist.times(POUND_G / YARD_M / 100.0));
    vec![
        line.method.clone(),
        show(line.grist_m_per_100g),
        show(pounds),
        show(line.length_m),
        show(line.length_m.map(|length| length.times(1.0 / YARD_M))),
        or_list(&classes),
    ]
}

fn signs(burn: &Burn) -> Vec<String> {
    let words = |sign: &BurnLine| {
        format!(
            "{}: {}; smells of {}; leaves {}",
            sign.fibres, sign.in_flame, sign.smell, sign.residue
        )
    };
    burn.signs.iter().map(words).collect()
}

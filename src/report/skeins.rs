//! How many skeins a need takes.

use super::{
    EstimateLine, Page, Report, Role, SkeinsLine, Style, SureLine,
    check::{about_fewest, skeins_table},
    sure::sure_part,
};
use serde::Serialize;

/// Answer to `skeins`. The fields of the first size stand at the top.
#[derive(Debug, Clone, Serialize)]
pub struct SkeinsReport {
    /// Answer of the first (or only) size, where it can be counted.
    #[serde(flatten)]
    pub first: Option<SkeinsLine>,
    /// Answer of every size, in order.
    pub sizes: Vec<SkeinsLine>,
    /// What needs stated as a mass alone may come to; several readings, never one.
    pub estimates: Vec<EstimateLine>,
    /// What one skein is, in words.
    pub put_up: String,
    /// Margin bought beyond the need, %.
    pub margin_percent: f64,
    /// The chance of running out, where it was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sure: Vec<SureLine>,
    /// How the need was understood and changed, a sentence each.
    pub working: Vec<String>,
    /// What to know about what was read.
    pub warnings: Vec<String>,
}

impl Report for SkeinsReport {
    fn page(&self) -> Page {
        let mut page = Page::titled(format!(
            "Skeins of {}, margin {} %",
            self.put_up,
            crate::words::number(self.margin_percent, 1)
        ));
        page.table(skeins_table(&self.sizes, &Style::default()));
        if let Some(told) = about_fewest(&self.sizes) {
            page.text(Role::Aside, told);
        }
        if let Some((head, table)) = sure_part(&self.sure) {
            page.section(head);
            page.table(table);
        }
        let estimates: Vec<String> = self
            .estimates
            .iter()
            .map(|line| line.sentence(&Style::default()))
            .collect();
        page.part(
            "Estimated: the need is a mass and no length per mass is known",
            Role::Doubtful,
            &estimates,
        );
        page.part("Working", Role::Aside, &self.working);
        page.part("To know", Role::Caution, &self.warnings);
        page
    }
}

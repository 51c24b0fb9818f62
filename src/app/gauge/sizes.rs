//! Each size at the own gauge: counts kept, counts reworked, the size to knit
//! instead.

use super::super::AppError;
use crate::{
    measure::{Gauge, Length},
    quantity::{FinishedSize, GaugeRatio, IntendedSize, WashGrowth, nearest_width},
    record::{Multiple, Size},
    report::{Measures, ResizedLine},
};

/// The sizes of a pattern, its gauge and the own one.
pub(super) struct Resized<'a> {
    pub(super) sizes: &'a [Size],
    pub(super) pattern: &'a Gauge,
    pub(super) own: &'a Gauge,
    pub(super) ratio: GaugeRatio,
    pub(super) multiple: Multiple,
    pub(super) growth: Option<WashGrowth>,
}

impl Resized<'_> {
    /// One line for each of `places`.
    pub(super) fn lines(&self, places: &[usize]) -> Result<Vec<ResizedLine>, AppError> {
        let kept = self.kept()?;
        let sizes = places
            .iter()
            .filter_map(|place| Some((*place, self.sizes.get(*place)?)));
        sizes
            .map(|(place, size)| self.line(place, size, &kept))
            .collect()
    }

    /// Place of the size whose counts come nearest to the width of the one at
    /// `place`.
    pub(super) fn instead(&self, place: usize) -> Result<Option<usize>, AppError> {
        let Some(size) = self.sizes.get(place) else {
            return Ok(None);
        };
        let widths: Vec<Option<Length>> = self.kept()?.iter().map(|size| size.width).collect();
        let wanted = IntendedSize::new(size, self.pattern)?.size.width;
        Ok(wanted.and_then(|wanted| nearest_width(wanted, &widths)))
    }

    fn kept(&self) -> Result<Vec<FinishedSize>, AppError> {
        let kept = |size: &Size| IntendedSize::new(size, self.pattern)?.kept(self.own, self.ratio);
        Ok(self.sizes.iter().map(kept).collect::<Result<_, _>>()?)
    }

    fn line(
        &self,
        place: usize,
        size: &Size,
        kept: &[FinishedSize],
    ) -> Result<ResizedLine, AppError> {
        let wanted = IntendedSize::new(size, self.pattern)?;
        let reworked = wanted.reworked(self.own, self.ratio, self.multiple);
        let instead = self.instead(place)?;
        let name = |place: usize| self.sizes.get(place).map(|size| size.name.to_string());
        Ok(ResizedLine {
            size: size.name.to_string(),
            stitches: size.cast_on,
            rows: size.rows,
            wanted: measures(wanted.size),
            counts_kept: kept.get(place).copied().map(measures).unwrap_or_default(),
            knit_instead: instead.and_then(name),
            instead: instead
                .and_then(|place| kept.get(place))
                .copied()
                .map(measures),
            to_stitches: reworked.stitches,
            to_rows: reworked.rows,
            reworked: measures(reworked.at(self.own)?),
            before_washing: self.growth.map(|growth| unwashed(wanted.size, growth)),
        })
    }
}

fn measures(size: FinishedSize) -> Measures {
    Measures {
        width_m: size.width.map(Length::as_metres),
        height_m: size.height.map(Length::as_metres),
    }
}

/// What to measure before washing for `size` after it: size / growth.
fn unwashed(size: FinishedSize, growth: WashGrowth) -> Measures {
    let height = size.height.map(Length::as_metres).zip(growth.along);
    Measures {
        width_m: size.width.map(|width| width.as_metres() / growth.across),
        height_m: height.map(|(height, along)| height / along),
    }
}

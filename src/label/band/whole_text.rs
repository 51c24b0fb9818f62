//! What only the whole text makes clear: fibres without shares, plies, temperatures
//! of a wash, fits.

use super::{
    builder::{BandBuilder, Left},
    scan::Item,
};
use crate::{
    label::{
        care::{CARE_ALLOWED, HEAT},
        class::plies_named,
    },
    record::Printed,
    trade::{Construction, WeightClass, classes_by_grist},
};

impl BandBuilder<'_> {
    /// A fibre named without a share counts only where no shares are stated,
    /// readable or not, and no other fibre is named.
    pub(super) fn bare_fibres(&mut self) {
        let why = self.why_no_bare_fibre();
        for (blend, span) in std::mem::take(&mut self.bare) {
            match why {
                Some(why) => self.leave(&span, why),
                None => self.set_blend(blend, &span),
            }
        }
    }

    fn why_no_bare_fibre(&self) -> Option<&'static str> {
        let share_left = |left: &Left| self.printed(&left.span).contains('%');
        let mut blends = self.bare.iter().map(|(stated, _)| &stated.value.blend);
        let first = blends.next();
        if self.out.facts.blend.is_some() {
            return Some("a fibre beside a list that has shares already; leave it out");
        }
        if self.left.iter().any(share_left) {
            return Some(
                "the shares beside it are not understood; write them as in `75% wool, 25% nylon`",
            );
        }
        blends
            .any(|blend| Some(blend) != first)
            .then_some("several fibres have no shares; write the share of each")
    }

    /// A number of plies that the stated length and mass make no class of is how
    /// many singles are twisted: `2 ply, 80 m/50 g`.
    pub(super) fn plies_by_length(&mut self) {
        let facts = &mut self.out.facts;
        let Some((class, grist)) = facts.class.as_ref().zip(facts.grist()) else {
            return;
        };
        let far = |class: &WeightClass| {
            let by_grist = classes_by_grist(grist);
            by_grist
                .iter()
                .all(|other| other.number().abs_diff(class.number()) >= 2)
        };
        let Some(plies) =
            plies_named(&class.text).filter(|_| class.value.as_slice().iter().all(far))
        else {
            return;
        };
        let text = class.text.clone();
        let built = match plies {
            1 => Construction::Single,
            _ => Construction::Plied,
        };
        facts.class = None;
        facts.plies = facts.plies.or(Some(plies));
        facts
            .construction
            .get_or_insert(Printed::new(text.clone(), built));
        let at = self.text.find(&text).unwrap_or(0);
        let message = format!(
            "`{text}` is read as how the yarn is built, not as a weight class: its length and weight show another thickness"
        );
        self.warn(&(at..at + text.len()), message);
    }

    /// Temperatures and fits that only the rest of the text makes clear.
    pub(super) fn settle_doubts(&mut self) {
        if self.out.facts.care.is_none() {
            for span in std::mem::take(&mut self.heats) {
                self.leave(&span, format!("{HEAT}; write {CARE_ALLOWED}"));
            }
        }
        match self.loose_fit.take() {
            Some((fit, span)) if self.out.purpose.is_some() => {
                self.plain_fact(Item::Fit(fit), &span);
            }
            Some((_, span)) => {
                self.leave(&span, "it may be about the yarn, the gauge or the garment; write `relaxed fit` for the garment");
            }
            None => {}
        }
    }
}

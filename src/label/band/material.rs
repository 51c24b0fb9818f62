//! Fibres and classes that one text states more than once.

use super::assemble::{Assembly, TWICE, set_printed};
use crate::{
    label::grammar::fibres::Fibres,
    label::reading::Reading,
    record::{Care, Classes, Printed},
};
use std::ops::Range;

impl Assembly<'_> {
    /// Two names of one yarn: the classes that they share.
    pub(super) fn class(&mut self, classes: Classes, span: Range<usize>) {
        let text = self.printed(&span);
        let Some(known) = &mut self.out.facts.class else {
            self.out.facts.class = Some(Printed::new(text, classes));
            return;
        };
        let shared = known.value.as_slice().iter().copied();
        let shared = shared
            .filter(|class| classes.as_slice().contains(class))
            .collect();
        match Classes::new(shared) {
            Some(shared) => known.value = shared,
            None => self.leave(span, TWICE),
        }
    }

    pub(super) fn fibres(&mut self, fibres: Reading<Fibres>, span: Range<usize>) {
        if fibres.value.superwash && self.out.facts.care.is_none() {
            self.out.facts.care = Some(Printed::new(self.printed(&span), Care::MachineWash));
            self.warn(
                &span,
                "superwash is read as: takes a machine wash; the label's own care signs count"
                    .to_owned(),
            );
        }
        match fibres.value.bare {
            true => self.bare.push((fibres, span)),
            false => self.blend(fibres, span),
        }
    }

    pub(super) fn blend(&mut self, fibres: Reading<Fibres>, span: Range<usize>) {
        let text = self.printed(&span);
        match set_printed(&mut self.out.facts.blend, text, fibres.value.blend) {
            true => self.out.warnings.extend(fibres.notes),
            false => self.leave(span, TWICE),
        }
    }

    /// A fibre named without a share counts only where no shares are stated,
    /// readable or not, and no other fibre is named.
    pub(super) fn bare_fibres(&mut self) {
        let why = self.why_no_bare_fibre();
        for (fibres, span) in std::mem::take(&mut self.bare) {
            match why {
                Some(why) => self.leave(span, why),
                None => self.blend(fibres, span),
            }
        }
    }

    fn why_no_bare_fibre(&self) -> Option<&'static str> {
        let share_left = |(span, _): &(Range<usize>, String)| self.printed(span).contains('%');
        let mut blends = self.bare.iter().map(|(fibres, _)| &fibres.value.blend);
        let first = blends.next();
        if self.out.facts.blend.is_some() {
            return Some("a fibre named beside a blend that is stated with shares; leave it out");
        }
        if self.left.iter().any(share_left) {
            return Some("the shares beside it are not read; write such as `75% wool, 25% nylon`");
        }
        blends
            .any(|blend| Some(blend) != first)
            .then_some("several fibres are named without their shares; write each share")
    }
}

//! Fibres and classes that one text states more than once.

use super::assemble::{Assembly, TWICE, set_printed};
use crate::{
    exchange::grammar::fibres::Fibres,
    measure::reading::Reading,
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

    /// A fibre named without a share counts only where no shares are stated.
    pub(super) fn bare_fibres(&mut self) {
        let shares_stated = self.out.facts.blend.is_some();
        for (fibres, span) in std::mem::take(&mut self.bare) {
            match shares_stated {
                true => self.leave(
                    span,
                    "a fibre named beside a blend that is stated with shares; leave it out",
                ),
                false => self.blend(fibres, span),
            }
        }
    }
}

//! The chance of running out, where it is asked for.

use super::{
    Asked, ChanceRequest, Role,
    amounts::{Worked, bought},
    candidate::Candidate,
};
use crate::{
    app::{AppError, FaultKind, InputReader, QuestionFault, input::filled},
    label::cells,
    measure::Ratio,
    quantity::{Purchase, UncertainNeed, label_spread, use_spread},
    record::YarnFacts,
    report::{ChanceLine, SureLine},
    trade::tolerable_shortfall,
    words::number,
};

/// How sure someone wants to be, and how much their own use varies.
#[derive(Debug, Clone, Copy)]
pub(in crate::app) struct Sure {
    sure: Ratio,
    own_use: Option<Ratio>,
}

/// More skeins than this are not counted up to.
const MOST: u32 = 100_000;

impl Sure {
    /// From what was typed; `None` where it was not asked for.
    pub(in crate::app) fn read(reader: &mut InputReader, request: &ChanceRequest) -> Option<Self> {
        let sure = reader.optional("sure", request.sure.as_deref(), cells::percent);
        let own_use = reader.optional("own-use", request.own_use.as_deref(), cells::percent);
        if filled(request.sure.as_deref()).is_none() && filled(request.own_use.as_deref()).is_some()
        {
            reader.fault("own-use", FaultKind::OnlyWith("sure"));
        }
        if own_use.is_some_and(|share| share.as_fraction() > 0.5) {
            reader.fault("own-use", QuestionFault::OwnUseTooFar);
        }
        let sure = sure?;
        if !(0.5..1.0).contains(&sure.as_fraction()) {
            reader.fault("sure", QuestionFault::NotSure(sure.as_percent()));
        }
        Some(Self { sure, own_use })
    }

    /// The skeins that are sure enough for one size, and the chances about them.
    /// The margin does not count: what it is for is counted instead.
    pub(in crate::app) fn line(
        &self,
        size: &str,
        key: &str,
        bought: &Purchase,
        facts: &YarnFacts,
    ) -> Option<SureLine> {
        let uncertain = UncertainNeed {
            need: bought.need,
            skein: bought.skein,
            skein_spread: facts.skein_mass().and_then(label_spread).unwrap_or(0.0),
            use_spread: self.own_use.map_or(0.0, use_spread),
        };
        let (skeins, chance) = uncertain.skeins_for(self.sure, MOST)?;
        let about = skeins.saturating_sub(2).max(1)..=skeins.saturating_add(1);
        Some(SureLine {
            size: size.to_owned(),
            yarn: key.to_owned(),
            sure_percent: self.sure.as_percent(),
            skeins,
            chance_percent: chance * 100.0,
            chances: about
                .map(|skeins| ChanceLine {
                    skeins,
                    chance_percent: uncertain.chance(skeins) * 100.0,
                })
                .collect(),
        })
    }

    /// What was counted as uncertain, each with its basis, and what was not.
    pub(in crate::app) fn bases(&self, facts: &YarnFacts, ranges: bool) -> Vec<String> {
        let mass = facts.skein_mass();
        let label = mass.and_then(|mass| Some((mass, tolerable_shortfall(mass)?)));
        let label = match label {
            Some((mass, short)) => format!(
                "Chance, label: a skein of {} g may fall {} g short (Directive 76/211/EEC, Annex I) and at most 1 in 40 by more (UK packers' rules), so its mass is taken as normal about the label with {} / 1.96 g, and its length with it.",
                number(mass.as_grams(), 2),
                number(short.as_grams(), 2),
                number(short.as_grams(), 2)
            ),
            None => "Chance, label: not counted, since the mass of a skein is not known or no tolerance is published for it.".to_owned(),
        };
        self.bases_with(label, ranges)
    }

    /// The same for several yarns at once, whose skeins differ.
    pub(in crate::app) fn bases_of_all(&self, ranges: bool) -> Vec<String> {
        let label = "Chance, label: the mass of a skein is taken as normal about its label, with what that may fall short (Directive 76/211/EEC, Annex I; at most 1 in 40 by more, UK packers' rules) / 1.96, and its length with it; not counted where the mass is not known or no tolerance is published for it.";
        self.bases_with(label.to_owned(), ranges)
    }

    fn bases_with(&self, label: String, ranges: bool) -> Vec<String> {
        let own = match self.own_use {
            Some(share) => format!(
                "Chance, own use: within {} % of the need 95 times in 100, as you say; taken as normal.",
                number(share.as_percent(), 2)
            ),
            None => "Chance, own use: not counted, since it is not said how far yours lies from stated needs.".to_owned(),
        };
        let need = match ranges {
            true => {
                "Chance, need: a need in whole skeins or from and to may be anything in its range, all equally likely."
            }
            false => "Chance, need: taken as exact, as stated.",
        };
        vec![
            label,
            own,
            need.to_owned(),
            "Chance: the margin is not counted, and nothing else that can go wrong is.".to_owned(),
        ]
    }
}

/// One line for each size; none where the chance was not asked for or a need is
/// not known. Also whether a need is known as a range only.
pub(in crate::app) fn sure_lines(
    asked: &Asked,
    role: &Role,
    candidate: &Candidate,
    how: Worked,
) -> Result<(Vec<SureLine>, bool), AppError> {
    let (mut lines, mut ranges) = (Vec::new(), false);
    let Some(sure) = asked.sure else {
        return Ok((lines, ranges));
    };
    for place in asked.places() {
        let size = asked.sizes.get(place).map_or("", String::as_str);
        if let Some(bought) = bought(asked, role, candidate, place, how)? {
            ranges |= bought.need.at_least < bought.need.buy_for;
            lines.extend(sure.line(size, &role.key, &bought, &candidate.facts));
        }
    }
    Ok((lines, ranges))
}

//! Where yarns lie around what is wanted, by length per mass and by stitches.

use super::Search;
use crate::{
    app::AppError,
    matching::{Criterion, Departure, Judgement, Measured, Tolerance, Verdict},
    record::{Id, Yarn},
};

/// So many yarns lie on a map.
pub(super) const MAPPED: usize = 40;

/// Yarns around what a role wants.
#[derive(Debug, Clone, PartialEq)]
pub struct YarnMap {
    /// What is wanted.
    pub wanted: MapPlace,
    /// How far a yarn may lie from it, either way.
    pub tolerance: MapPlace,
    /// The yarns, best first.
    pub yarns: Vec<MapYarn>,
    /// Yarns of which one of both is not known.
    pub without_place: usize,
}

/// A place on a map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MapPlace {
    /// Across: length per mass, m/100 g; of another fibre that of the pattern's which
    /// would be as thick.
    pub metres_per_100_g: f64,
    /// Up: stitches over 10 cm.
    pub stitches: f64,
}

/// A yarn on a map.
#[derive(Debug, Clone, PartialEq)]
pub struct MapYarn {
    /// As people call it.
    pub title: String,
    /// Where it lies.
    pub place: MapPlace,
    /// Whether its stitches follow from its thickness only.
    pub is_estimated: bool,
    /// Whether both lie within their limits.
    pub is_within: bool,
    /// Whether some of it is free in the stash.
    pub in_stash: bool,
    /// The verdict on it.
    pub verdict: Verdict,
}

impl Search<'_> {
    /// The map of yarns that were judged for a role; nothing where none of them has a
    /// place.
    pub(super) fn map(
        &self,
        judged: &[(Id<Yarn>, Judgement)],
    ) -> Result<Option<YarnMap>, AppError> {
        let mut map: Option<YarnMap> = None;
        for (id, judgement) in judged {
            let both = [Criterion::Grist, Criterion::Gauge].map(|it| judgement.departure(it));
            let [Some(grist), Some(gauge)] = both else {
                continue;
            };
            let Some((place, [wanted, tolerance])) = place_of(grist, gauge) else {
                continue;
            };
            let map = map.get_or_insert(YarnMap {
                wanted,
                tolerance,
                yarns: Vec::new(),
                without_place: 0,
            });
            let candidate = self.among.candidate(self.asked, *id)?;
            map.yarns.push(MapYarn {
                title: candidate.title,
                place: MapPlace {
                    // Of a range the nearer end is compared, which is not always the same.
                    stitches: place.stitches / wanted.stitches * map.wanted.stitches,
                    ..place
                },
                is_estimated: is_estimated(gauge),
                is_within: [grist, gauge].iter().all(|it| it.departure <= 1.0 + 1e-9),
                in_stash: !candidate.lots.is_empty(),
                verdict: judgement.verdict,
            });
        }
        Ok(map.map(|map| YarnMap {
            without_place: judged.len() - map.yarns.len(),
            ..map
        }))
    }
}

fn is_estimated(gauge: &Departure) -> bool {
    match gauge.offered {
        Measured::Gauge { is_predicted, .. } => is_predicted,
        _ => false,
    }
}

/// Where a yarn lies; what is wanted, and how far it may lie from that.
fn place_of(grist: &Departure, gauge: &Departure) -> Option<(MapPlace, [MapPlace; 2])> {
    let (Measured::Grist(wanted), Measured::Grist(offered)) = (&grist.wanted, &grist.offered)
    else {
        return None;
    };
    let stitches = |measured: &Measured| match measured {
        Measured::Gauge { compared, .. } => Some(*compared),
        _ => None,
    };
    let (
        Tolerance::Grist {
            metres_per_gram, ..
        },
        Tolerance::Gauge { share, .. },
    ) = (grist.tolerance, gauge.tolerance)
    else {
        return None;
    };
    let at = |metres_per_100_g: f64, stitches: f64| MapPlace {
        metres_per_100_g,
        stitches,
    };
    let stitches_wanted = stitches(&gauge.wanted)?;
    Some((
        at(
            offered.nearer_to(wanted).as_metres_per_100_g(),
            stitches(&gauge.offered)?,
        ),
        [
            at(wanted.together.as_metres_per_100_g(), stitches_wanted),
            at(metres_per_gram * 100.0, share * stitches_wanted),
        ],
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::{
        BestRequest, FindRequest, QuestionRequest, Records, find_with_map, pattern_maps,
        take_sample,
    };

    fn sample() -> Records {
        let mut records = Records::in_memory().unwrap();
        take_sample(&mut records).unwrap();
        records
    }

    fn asked(from: &str, wants: &str) -> Vec<Option<YarnMap>> {
        let mut question = QuestionRequest::default();
        question.of.wants = Some(wants.to_owned());
        let request = FindRequest {
            question,
            best: BestRequest {
                from: Some(from.to_owned()),
                top: Some("2".to_owned()),
            },
            ..FindRequest::default()
        };
        let found = find_with_map(&sample(), &request).unwrap();
        assert!(found.iter().all(|answer| answer.candidates.len() <= 2));
        found.into_iter().map(|answer| answer.map).collect()
    }

    #[test]
    fn the_map_holds_what_is_wanted_its_limits_and_more_yarns_than_are_listed() {
        let wants = "240 m / 100 g, 100% wool, 22 sts / 10 cm, garment";
        let maps = asked("catalogue", wants);
        let [Some(map)] = maps.as_slice() else {
            panic!("{maps:?}")
        };
        let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
        assert!(near(map.wanted.metres_per_100_g, 240.0) && near(map.wanted.stitches, 22.0));
        // 8 % of 240, and the 4 % of a relaxed fit of 22.
        assert!(near(map.tolerance.metres_per_100_g, 19.2) && near(map.tolerance.stitches, 0.88));
        assert!(map.yarns.len() > 2 && map.yarns.len() <= MAPPED);
        assert!(map.yarns.iter().any(|yarn| yarn.in_stash));
        assert!(map.yarns.iter().any(|yarn| !yarn.in_stash));
        let [stash] = asked("stash", wants).try_into().unwrap();
        assert!(stash.unwrap().yarns.iter().all(|yarn| yarn.in_stash));
    }

    #[test]
    fn without_stitches_or_metres_nothing_is_placed() {
        assert_eq!(asked("catalogue", "240 m / 100 g, 100% wool"), [None]);
        assert_eq!(asked("catalogue", "22 sts / 10 cm, 100% wool"), [None]);
    }

    #[test]
    fn roles_that_want_the_same_share_a_map() {
        let records = sample();
        let maps = pattern_maps(&records, 1).unwrap();
        assert!(!maps.is_empty());
        for (at, (_, map)) in maps.iter().enumerate() {
            assert!(maps.iter().skip(at + 1).all(|(_, other)| other != map));
        }
    }
}

//! Where the figures of one pattern contradict each other.

use crate::{
    measure::{Gauge, Length},
    record::{Multiple, Need, Pattern, PatternYarn, Size, StatedGauge},
};

/// How far a count and its measure may lie apart, beyond what rounding to whole
/// repeats explains: what a pair of units may differ by as well (common practice,
/// no source).
const APART: f64 = 0.015;

/// One contradiction, and what would be right.
#[derive(Debug, Clone, PartialEq)]
pub enum Misfit {
    /// The cast-on does not measure the stated width at the stated gauge.
    CastOn {
        /// Place of the size.
        size: usize,
        /// Its stitches.
        counts: CountMisfit,
    },
    /// The rows do not measure the stated height at the stated gauge.
    Rows {
        /// Place of the size.
        size: usize,
        /// Its rows.
        counts: CountMisfit,
    },
    /// The cast-on is no k x n + r.
    Multiple {
        /// Place of the size.
        size: usize,
        /// Stitches that are stated.
        stated: u32,
        /// The nearest count that fits.
        expected: u32,
    },
    /// A larger size that takes no more than the one before it.
    NotGrowing {
        /// Place of the yarn role.
        yarn: usize,
        /// Place of the larger size.
        size: usize,
        /// Place of the smaller size.
        before: usize,
    },
    /// Skeins that hold less than the need says they do.
    NotCovered {
        /// Place of the yarn role.
        yarn: usize,
        /// Place of the size.
        size: usize,
        /// Skeins that are stated.
        count: f64,
        /// What the need says that they hold.
        needed: Length,
        /// What they hold by the put-up of the yarn.
        held: Length,
    },
}

/// A count that does not measure what is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountMisfit {
    /// The count that is stated.
    pub stated: u32,
    /// The one that measures what is stated; of stitches one that fits the multiple.
    pub expected: u32,
    /// What the stated one measures.
    pub measures: Length,
}

/// Every contradiction: sizes in order, then yarns.
pub fn misfits(pattern: &Pattern) -> Vec<Misfit> {
    let gauge = pattern.gauge.as_ref().map(|gauge| &gauge.value);
    let multiple = pattern.multiple.as_ref().map(|multiple| multiple.value);
    let sizes = pattern.sizes.iter().enumerate();
    let of_sizes = sizes.flat_map(|(place, size)| of_size(place, size, gauge, multiple));
    let yarns = pattern.yarns.iter().enumerate();
    let of_yarns = yarns.flat_map(|(place, yarn)| of_yarn(place, yarn, &pattern.sizes));
    of_sizes.chain(of_yarns).collect()
}

fn of_size(
    place: usize,
    size: &Size,
    gauge: Option<&StatedGauge>,
    multiple: Option<Multiple>,
) -> Vec<Misfit> {
    let gauge = gauge.map(|stated| &stated.gauge);
    let found = [
        gauge.and_then(|gauge| cast_on(place, size, gauge, multiple.unwrap_or(Multiple::ANY))),
        gauge.and_then(|gauge| rows(place, size, gauge)),
        multiple.and_then(|multiple| no_multiple(place, size, multiple)),
    ];
    found.into_iter().flatten().collect()
}

fn cast_on(place: usize, size: &Size, gauge: &Gauge, multiple: Multiple) -> Option<Misfit> {
    let stated = size.cast_on?;
    let measures = gauge.width_of(f64::from(stated))?.ok()?;
    // A repeat either way is how far a count may have been moved to fit.
    let rounding = f64::from(multiple.stitches.max(1));
    let width = size.width.as_ref()?.value;
    let counts = count_misfit((stated, measures), width, multiple, rounding)?;
    Some(Misfit::CastOn {
        size: place,
        counts,
    })
}

fn rows(place: usize, size: &Size, gauge: &Gauge) -> Option<Misfit> {
    let stated = size.rows?;
    let measures = gauge.height_of(f64::from(stated))?.ok()?;
    let height = size.height.as_ref()?.value;
    let counts = count_misfit((stated, measures), height, Multiple::ANY, 2.0)?;
    Some(Misfit::Rows {
        size: place,
        counts,
    })
}
/// A stated count against the exact one for a measure, where they lie further
/// apart than 1.5 % of the exact one and than `rounding`.
fn count_misfit(
    (stated, measures): (u32, Length),
    wanted: Length,
    multiple: Multiple,
    rounding: f64,
) -> Option<CountMisfit> {
    let exact = f64::from(stated) * wanted.as_metres() / measures.as_metres();
    let allowed = (exact * APART).max(rounding) * (1.0 + 1e-9);
    let is_apart = (f64::from(stated) - exact).abs() > allowed;
    is_apart.then_some(CountMisfit {
        stated,
        expected: multiple.nearest(exact)?,
        measures,
    })
}

fn no_multiple(place: usize, size: &Size, multiple: Multiple) -> Option<Misfit> {
    let stated = size.cast_on?;
    (!multiple.fits(stated)).then_some(Misfit::Multiple {
        size: place,
        stated,
        expected: multiple.nearest(f64::from(stated))?,
    })
}

fn of_yarn(place: usize, yarn: &PatternYarn, sizes: &[Size]) -> Vec<Misfit> {
    let pairs = (0..sizes.len()).zip(1..sizes.len());
    let growing = pairs.filter_map(|(before, size)| {
        let larger = is_larger(sizes.get(size)?, sizes.get(before)?);
        let needs = (&yarn.needs.get(before)?.value, &yarn.needs.get(size)?.value);
        (larger && !grows(needs.0, needs.1)).then_some(Misfit::NotGrowing {
            yarn: place,
            size,
            before,
        })
    });
    let needs = yarn.needs.iter().enumerate();
    let covered = needs.filter_map(|(size, need)| not_covered(place, size, &need.value, yarn));
    growing.chain(covered).collect()
}

/// Whether a size is larger than the one before it: by its measures, where both
/// state some, else because patterns list sizes from small to large.
fn is_larger(size: &Size, before: &Size) -> bool {
    let ratio = |a: &Option<crate::record::Printed<Length>>,
                 b: &Option<crate::record::Printed<Length>>| {
        let (a, b) = a.as_ref().zip(b.as_ref())?;
        Some(a.value.as_metres() / b.value.as_metres())
    };
    let ratios = [
        ratio(&size.width, &before.width),
        ratio(&size.height, &before.height),
    ];
    let known: Vec<f64> = ratios.into_iter().flatten().collect();
    known.is_empty() || known.iter().product::<f64>() > 1.0 + 1e-9
}

/// Whether a need is more than the one before; whole skeins may stay the same,
/// since rounding hides the growth. Needs in different forms are not compared.
fn grows(before: &Need, now: &Need) -> bool {
    match (before, now) {
        (Need::Length(a), Need::Length(b)) => b.high() > a.high(),
        (Need::Mass(a), Need::Mass(b)) => b.high() > a.high(),
        (
            Need::Skeins { count: a, skein },
            Need::Skeins {
                count: b,
                skein: other,
            },
        ) => skein != other || b >= a,
        _ => true,
    }
}

/// count x length of the put-up against count x what the need says of a skein;
/// up to 1.5 % short is label rounding.
fn not_covered(yarn: usize, size: usize, need: &Need, role: &PatternYarn) -> Option<Misfit> {
    let Need::Skeins { count, skein } = *need else {
        return None;
    };
    let held = Length::metres(count * role.reference.skein_length()?.as_metres()).ok()?;
    let needed = Length::metres(count * skein.as_metres()).ok()?;
    let short = held.as_metres() < needed.as_metres() * (1.0 - APART);
    short.then_some(Misfit::NotCovered {
        yarn,
        size,
        count,
        needed,
        held,
    })
}

/// Whether what is held is less than what is needed by more than half a metre,
/// to which printed lengths are rounded.
pub fn falls_short(held: Length, needed: Length) -> bool {
    held.as_metres() + 0.5 < needed.as_metres()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        measure::{Interval, Over},
        record::{Fit, Name, Printed, Purpose, YarnFacts},
    };

    fn name(text: &str) -> Name {
        Name::new("a name", text).unwrap()
    }

    fn metres(m: f64) -> Length {
        Length::metres(m).unwrap()
    }

    fn size(name_: &str, width: f64, cast_on: u32) -> Size {
        Size {
            name: name(name_),
            width: Some(Printed::new("w", metres(width))),
            height: None,
            cast_on: Some(cast_on),
            rows: None,
        }
    }

    fn pattern(sizes: Vec<Size>, needs: Vec<Need>, multiple: u32) -> Pattern {
        let over = Over::centimetres(10.0).ok();
        let gauge = Gauge::new(Interval::one(20.0), Some(Interval::one(28.0)), over).unwrap();
        Pattern {
            name: name("Test"),
            purpose: Purpose::ALL[0],
            fit: Fit::Relaxed,
            gauge: Some(Printed::new("g", StatedGauge::bare(gauge))),
            multiple: Some(Printed::new(
                "m",
                Multiple {
                    stitches: multiple,
                    plus: 0,
                },
            )),
            care: None,
            tolerance: None,
            margin_included: None,
            sizes,
            yarns: vec![PatternYarn {
                key: name("A"),
                called: None,
                reference: YarnFacts {
                    length: Some(Printed::new("100 m", metres(100.0))),
                    ..YarnFacts::default()
                },
                strands: 1,
                held_with: None,
                needs: needs
                    .into_iter()
                    .map(|need| Printed::new("n", need))
                    .collect(),
            }],
            notes: String::new(),
        }
    }

    fn of_length(m: f64) -> Need {
        Need::Length(Interval::one(metres(m)))
    }

    #[test]
    fn a_pattern_that_agrees_with_itself_has_no_misfit() {
        let sizes = vec![size("S", 0.9, 180), size("M", 1.0, 200)];
        let sound = pattern(sizes, vec![of_length(900.0), of_length(1000.0)], 4);
        assert_eq!(misfits(&sound), []);
    }

    /// Recomputed: 1 m at 20 over 10 cm are 200 stitches; 180 measure 90 cm.
    #[test]
    fn a_cast_on_that_measures_another_width_is_told_with_the_right_one() {
        let found = misfits(&pattern(vec![size("M", 1.0, 180)], vec![of_length(9.0)], 4));
        assert_eq!(
            found,
            [Misfit::CastOn {
                size: 0,
                counts: CountMisfit {
                    stated: 180,
                    expected: 200,
                    measures: metres(0.9)
                }
            }]
        );
    }

    /// Recomputed: 50 cm at 28 rows over 10 cm are 140 rows, of which 2.1 are 1.5 %;
    /// 126 rows measure 45 cm.
    #[test]
    fn rows_that_measure_another_height_are_told_with_the_right_ones() {
        let of_rows = |stated: u32| {
            let size = Size {
                height: Some(Printed::new("h", metres(0.5))),
                rows: Some(stated),
                ..size("M", 1.0, 200)
            };
            misfits(&pattern(vec![size], vec![of_length(9.0)], 4))
        };
        for agreeing in [138, 140, 142] {
            assert_eq!(of_rows(agreeing), [], "{agreeing}");
        }
        for (stated, measured) in [(126, 0.45), (137, 0.489_285_714), (143, 0.510_714_286)] {
            let found = of_rows(stated);
            let [Misfit::Rows { counts, .. }] = found.as_slice() else {
                panic!("{stated} rows are not told")
            };
            assert_eq!((counts.stated, counts.expected), (stated, 140));
            assert!((counts.measures.as_metres() - measured).abs() < 1e-6);
        }
    }

    #[test]
    fn a_cast_on_moved_by_one_repeat_is_no_misfit_of_width() {
        let found = misfits(&pattern(
            vec![size("M", 0.48, 104)],
            vec![of_length(9.0)],
            8,
        ));
        assert_eq!(found, []);
    }

    #[test]
    fn a_count_that_is_no_multiple_is_told_with_the_nearest() {
        let found = misfits(&pattern(vec![size("M", 1.0, 201)], vec![of_length(9.0)], 4));
        assert_eq!(
            found,
            [Misfit::Multiple {
                size: 0,
                stated: 201,
                expected: 200
            }]
        );
    }

    #[test]
    fn a_larger_size_that_takes_no_more_is_told() {
        let sizes = || vec![size("S", 0.9, 180), size("M", 1.0, 200)];
        let found = misfits(&pattern(sizes(), vec![of_length(900.0); 2], 4));
        assert_eq!(
            found,
            [Misfit::NotGrowing {
                yarn: 0,
                size: 1,
                before: 0
            }]
        );
        let skeins = Need::Skeins {
            count: 9.0,
            skein: metres(100.0),
        };
        assert_eq!(misfits(&pattern(sizes(), vec![skeins; 2], 4)), []);
    }

    #[test]
    fn needs_in_any_one_form_must_grow_and_skeins_may_stay() {
        let mass = |g: f64| Need::Mass(Interval::one(crate::measure::Mass::grams(g).unwrap()));
        let skeins = |count: f64, m: f64| Need::Skeins {
            count,
            skein: metres(m),
        };
        let told = |before: Need, now: Need| !grows(&before, &now);
        assert!(told(mass(300.0), mass(300.0)) && told(mass(300.0), mass(250.0)));
        assert!(!told(mass(300.0), mass(310.0)));
        assert!(told(skeins(9.0, 100.0), skeins(8.0, 100.0)));
        assert!(!told(skeins(9.0, 100.0), skeins(9.0, 100.0)));
        assert!(!told(skeins(9.0, 100.0), skeins(8.0, 125.0)));
        assert!(!told(of_length(900.0), mass(300.0)));
    }

    #[test]
    fn half_a_metre_is_no_lack() {
        assert!(!falls_short(metres(99.5), metres(100.0)));
        assert!(falls_short(metres(99.4), metres(100.0)));
        assert!(!falls_short(metres(120.0), metres(100.0)));
    }

    /// A size that is no larger by its own measures need not take more, whatever
    /// its place in the list.
    #[test]
    fn a_size_that_is_no_larger_may_take_as_much() {
        let sizes = vec![size("wide", 1.0, 200), size("narrow", 0.9, 180)];
        let found = misfits(&pattern(sizes, vec![of_length(900.0); 2], 4));
        assert_eq!(found, []);
        let bare = |label: &str| Size {
            width: None,
            cast_on: None,
            ..size(label, 1.0, 200)
        };
        let sizes = vec![bare("S"), bare("M")];
        let found = misfits(&pattern(sizes, vec![of_length(900.0); 2], 4));
        assert_eq!(found.len(), 1);
    }

    #[test]
    fn skeins_of_a_shorter_put_up_do_not_cover() {
        let need = Need::Skeins {
            count: 9.0,
            skein: metres(125.0),
        };
        let found = misfits(&pattern(vec![size("M", 1.0, 200)], vec![need], 4));
        assert!(matches!(
            found.as_slice(),
            [Misfit::NotCovered { count: 9.0, .. }]
        ));
    }
}

//! What a range holds beside some bands.

/// The parts of a range that lie outside every band; the bands are in order.
pub(super) fn gaps((from, to): (f64, f64), bands: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut gaps = Vec::new();
    let mut at = from;
    for (low, high) in bands {
        if *low > at {
            gaps.push((at, low.min(to)));
        }
        at = at.max(*high);
    }
    gaps.push((at, to));
    gaps.retain(|(from, to)| from < to);
    gaps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gaps_between_bands_are_what_the_bands_leave() {
        assert_eq!(
            gaps((2.0, 9.0), &[(1.0, 2.0), (3.0, 4.0), (8.0, 12.0)]),
            [(2.0, 3.0), (4.0, 8.0)]
        );
        assert_eq!(gaps((5.0, 6.0), &[(1.0, 2.0)]), [(5.0, 6.0)]);
    }
}

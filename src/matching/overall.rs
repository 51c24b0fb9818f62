//! One number to order candidates by; it is never shown as a mark.

use super::{Departure, Weights};

/// D = sqrt(sum(w a^2) / sum(w)) over the criteria that were judged, a departure
/// in tolerances, w weight; `None` where none was, or all weights are 0.
pub(super) fn overall(departures: &[Departure], weights: &Weights) -> Option<f64> {
    let sums = departures
        .iter()
        .fold((0.0, 0.0), |(squares, sum), departure| {
            let weight = weights.of(departure.criterion);
            (squares + weight * departure.departure.powi(2), sum + weight)
        });
    let (squares, sum) = sums;
    (sum > 0.0).then(|| (squares / sum).sqrt())
}

#[cfg(test)]
mod tests {
    use super::super::Criterion;
    use super::*;

    fn departure(criterion: Criterion, departure: f64) -> Departure {
        Departure {
            criterion,
            departure,
            wanted: String::new(),
            offered: String::new(),
            tolerance: String::new(),
            scale: None,
            notes: Vec::new(),
        }
    }

    #[test]
    fn weights_are_grist_four_gauge_three_fibre_two_and_one_each() {
        let departures = [
            departure(Criterion::Grist, 0.5),
            departure(Criterion::Gauge, 1.0),
            departure(Criterion::Fibre, 2.0),
        ];
        let found = overall(&departures, &Weights::default()).unwrap();
        let expected = ((4.0 * 0.25 + 3.0 * 1.0 + 2.0 * 4.0) / 9.0_f64).sqrt();
        assert!((found - expected).abs() < 1e-12);
        assert_eq!(overall(&[], &Weights::default()), None);
    }

    #[test]
    fn a_criterion_of_no_weight_does_not_count() {
        let weights = Weights::default().with(Criterion::Fibre, 0.0).unwrap();
        let departures = [
            departure(Criterion::Grist, 0.5),
            departure(Criterion::Fibre, 9.0),
        ];
        assert_eq!(overall(&departures, &weights), Some(0.5));
        assert_eq!(overall(&departures[1..], &weights), None);
    }
}

//! Needs rounded up to what a designer states them in.

/// The least whole number of `step` that is not below `amount`: step x
/// ceil(amount / step - 1e-9).
pub fn up_to_step(amount: f64, step: f64) -> f64 {
    (amount / step - 1e-9).ceil().max(0.0) * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_step_stays_and_a_hair_more_is_the_next() {
        assert_eq!(up_to_step(1200.0, 50.0), 1200.0);
        assert_eq!(up_to_step(1200.1, 50.0), 1250.0);
        assert_eq!(up_to_step(0.0, 50.0), 0.0);
    }
}

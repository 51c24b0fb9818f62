//! How close a thing sits, where nobody says: it follows from what it is for.

use crate::record::{Fit, Purpose};

/// Clothes and socks have ease; shawls, things for the home and for babies are not
/// fitted; what is for nothing in particular counts as clothes. Common practice, no
/// source.
pub fn usual_fit(purpose: Option<Purpose>) -> Fit {
    match purpose {
        None
        | Some(Purpose::Garment | Purpose::Child | Purpose::ChildNightwear | Purpose::Socks) => {
            Fit::Relaxed
        }
        Some(
            Purpose::Accessory
            | Purpose::Home
            | Purpose::Dishcloth
            | Purpose::HotPad
            | Purpose::Felted
            | Purpose::Toy
            | Purpose::Baby,
        ) => Fit::Unfitted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clothes_and_socks_have_ease_and_all_else_is_not_fitted() {
        let relaxed = Purpose::ALL
            .into_iter()
            .filter(|purpose| usual_fit(Some(*purpose)) == Fit::Relaxed);
        assert_eq!(
            relaxed.collect::<Vec<_>>(),
            [
                Purpose::Garment,
                Purpose::Socks,
                Purpose::Child,
                Purpose::ChildNightwear
            ]
        );
        assert_eq!(usual_fit(None), Fit::Relaxed);
    }
}

//! What is asked when a pattern is added from its materials.

use clap::Args;

/// Add a pattern from what it says about its yarn
#[derive(Debug, Clone, Default, Args)]
pub struct AddPatternRequest {
    /// What the pattern is called
    #[arg(value_name = "NAME")]
    pub name: String,
    /// Its materials, as the pattern prints them
    ///
    /// As in: Umberlin DK (100% wool; 120 m / 50 g), 10 (11, 12) balls; 22 sts to 10 cm; sizes S (M, L)
    #[arg(long, value_name = "TEXT", required = true)]
    pub wants: Option<String>,
    /// Its sizes in order, where the text does not list them
    ///
    /// As in: S, M, L
    #[arg(long, value_name = "NAMES")]
    pub sizes: Option<String>,
    /// How much each size takes, where the text does not say
    ///
    /// As in: 10, 11, 12 balls. With several yarns once for each, with its key, as in: MC: 5, 6, 7 balls
    #[arg(long, value_name = "AMOUNTS")]
    pub needs: Vec<String>,
    /// What it is for
    ///
    /// As in: garment, accessory, socks, home
    #[arg(long, value_name = "PURPOSE")]
    pub purpose: Option<String>,
    /// How close it sits
    ///
    /// fitted, relaxed or unfitted; without it, what is usual for what it is for
    #[arg(long, value_name = "FIT")]
    pub fit: Option<String>,
    /// Whether the amounts hold some spare yarn already: yes or no
    #[arg(long, value_name = "YES/NO")]
    pub margin_included: Option<String>,
}

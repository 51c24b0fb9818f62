//! Several projects from one stash: which role takes which shade, which lots of it, and
//! what is the least to buy for the projects that are left out.
//!
//! Pure: knows lengths, departures and prices; what may stand for what is the business
//! of `matching`, how far a skein goes that of `quantity`.

mod buying;
mod lots;
mod programme;
mod shares;
mod supply;

pub use buying::{Bought, Purchases, SkeinOnSale, Source, least_to_buy};
pub use lots::{LotShare, Taker, share_lots};
pub use programme::{Choice, Made, PlanError, Roles, SCRAP_M};
pub use shares::{Shares, share_out};
pub use supply::Supply;

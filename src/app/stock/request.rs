//! What is asked of the ledger of a lot.

use clap::Args;

/// Add yarn you bought: a new lot, or more of one you have
#[derive(Debug, Clone, Default, Args)]
pub struct BuyRequest {
    /// Yarn
    ///
    /// Its name, or the digits under its barcode
    #[arg(value_name = "YARN", required = true)]
    pub yarn: Option<String>,
    /// How much
    ///
    /// As in: 3 skeins, or 2 skeins + 60 g
    #[arg(value_name = "AMOUNT", required = true)]
    pub amount: Option<String>,
    /// What is known of the lot.
    #[command(flatten)]
    pub lot: LotRequest,
}

/// How much of a lot you used, weighed, reserved or released
#[derive(Debug, Clone, Default, Args)]
pub struct EntryRequest {
    /// How much
    ///
    /// As in: 73.5 g, 3 skeins, or 2 skeins + 60 g
    #[arg(value_name = "AMOUNT", required = true)]
    pub amount: Option<String>,
    /// What for
    #[arg(id = "for", long = "for", value_name = "WHAT")]
    pub what_for: Option<String>,
}

/// A lot: by its number, or by its yarn
#[derive(Debug, Clone, Default, Args)]
pub struct LotChoice {
    /// The lot: its number from `stock list`, or the barcode or name of its yarn
    #[arg(id = "which", value_name = "LOT")]
    pub which: String,
    /// Its shade, if there are several lots of the yarn
    #[arg(long, value_name = "SHADE")]
    pub shade: Option<String>,
    /// Its dye lot, if there are several
    #[arg(long, value_name = "LOT")]
    pub lot: Option<String>,
    /// Its place, if there are several
    #[arg(long, value_name = "PLACE")]
    pub place: Option<String>,
}

/// What you know of a lot beside how much is left
#[derive(Debug, Clone, Default, Args)]
pub struct LotRequest {
    /// Shade
    ///
    /// As printed
    #[arg(long, value_name = "SHADE")]
    pub shade: Option<String>,
    /// Dye lot
    ///
    /// As printed
    #[arg(long, value_name = "LOT")]
    pub lot: Option<String>,
    /// Colour of the shade
    ///
    /// By name or as six digits, as in: navy, or #2f6f8f
    #[arg(long, value_name = "COLOUR")]
    pub colour: Option<String>,
    /// Where you keep it
    ///
    /// As in: blue trunk
    #[arg(long, value_name = "PLACE")]
    pub place: Option<String>,
    /// One full skein, weighed by you
    ///
    /// As in: 48.5 g, or 48 g = 121 m
    #[arg(long, value_name = "PUTUP")]
    pub weighed: Option<String>,
    /// What you paid for one
    ///
    /// As in: 6.50 GBP
    #[arg(long, value_name = "PRICE")]
    pub price: Option<String>,
    /// Notes
    #[arg(long, value_name = "TEXT")]
    pub notes: Option<String>,
}

impl LotRequest {
    /// The names of all fields.
    pub(super) const FIELDS: [&'static str; 7] = [
        "shade", "lot", "colour", "place", "weighed", "price", "notes",
    ];

    /// Each field and what was typed in it.
    pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let texts = [
            &self.shade,
            &self.lot,
            &self.colour,
            &self.place,
            &self.weighed,
            &self.price,
            &self.notes,
        ];
        let given = Self::FIELDS.into_iter().zip(texts);
        given.filter_map(|(field, text)| Some((field, text.as_deref()?)))
    }
}

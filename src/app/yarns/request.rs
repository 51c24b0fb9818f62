//! What is asked when a yarn is added by its band, and when it is edited.

use clap::Args;

/// Add one yarn, from what its label says
#[derive(Debug, Clone, Default, Args)]
pub struct AddYarnRequest {
    /// Who makes it, where the label does not begin with it
    #[arg(long, value_name = "MAKER", default_value = "")]
    pub maker: String,
    /// What it is called, where the label does not begin with it
    #[arg(long, value_name = "NAME", default_value = "")]
    pub name: String,
    /// What its label says, as in "50 g = 125 m, 75% wool 25% nylon, 4 mm"
    #[arg(value_name = "LABEL")]
    pub band: String,
    /// Anything else
    #[arg(long, value_name = "NOTES", default_value = "")]
    pub notes: String,
}

/// Declares the fields of a yarn that can be changed, each an option of its own.
macro_rules! yarn_fields {
    ($($field:ident $value:literal $label:literal;)*) => {
        /// What you know of a yarn; what is not given stays as it is
        #[derive(Debug, Clone, Default, Args)]
        pub struct EditYarnRequest {
            $(
                #[doc = $label]
                #[arg(long, value_name = $value)]
                pub $field: Option<String>,
            )*
        }

        impl EditYarnRequest {
            /// The names of all fields.
            pub(super) const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];

            /// Each field that was given, and what was typed in it.
            pub(super) fn given(&self) -> impl Iterator<Item = (&'static str, &str)> {
                let texts = [$((stringify!($field), &self.$field)),*];
                texts.into_iter().filter_map(|(field, text)| Some((field, text.as_deref()?)))
            }
        }
    };
}

yarn_fields! {
    maker "MAKER" "Who makes it";
    name "NAME" "What it is called";
    length "LENGTH" "Length of one skein, as in: 125 m, or unknown";
    mass "MASS" "Weight of one skein, as in: 50 g, or unknown";
    class "CLASS" "Weight class, by number or name";
    fibre "FIBRE" "Fibres and their shares, as in: 75% wool 25% nylon";
    construction "BUILD" "How it is built, as in: plied";
    gauge "GAUGE" "Gauge on the label, as in: 22 sts x 30 rows / 10 cm";
    needle "NEEDLE" "Needles on the label, as in: 4 mm";
    care "CARE" "Washing, as in: machine wash";
    price "PRICE" "Price of one skein, as in: 6.50 GBP";
    gtin "DIGITS" "Number under the barcode; several separated by |";
    count "COUNT" "Yarn count, as on cones, as in: 2/14 Nm";
    plies "N" "Singles or strands it is made of";
    shades "SHADES" "Shades it comes in, separated by |";
    discontinued "YES" "Whether it is discontinued: yes or no";
    low "N" "A shade with fewer skeins than this runs low, see `stock low`";
    notes "TEXT" "Anything else";
}

//! What a pattern is for, as far as the cautions ask.

/// What the knitted thing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Purpose {
    /// Clothes for grown people.
    Garment,
    /// Hats, scarves, socks, bags.
    Accessory,
    /// Blankets, cushions.
    Home,
    /// Hot pads, pot holders, oven gloves: handled hot.
    HotPad,
    /// Clothes of children, other than nightwear.
    Child,
    /// Nightwear of children.
    ChildNightwear,
    /// Anything for a baby.
    Baby,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Garment,
        Self::Accessory,
        Self::Home,
        Self::HotPad,
        Self::Child,
        Self::ChildNightwear,
        Self::Baby,
    ];

    /// The words used here.
    pub fn name(self) -> &'static str {
        match self {
            Self::Garment => "garment",
            Self::Accessory => "accessory",
            Self::Home => "home",
            Self::HotPad => "hot pad",
            Self::Child => "child's garment",
            Self::ChildNightwear => "child's nightwear",
            Self::Baby => "baby",
        }
    }
}

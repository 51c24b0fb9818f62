//! Fibre words of Polish, Czech, Russian, Turkish and Japanese labels, folded as
//! [`FIBRE_WORDS`](super::FIBRE_WORDS) are. All from memory and common practice, no
//! source.

/// Name in the fibre table, and the words that mean it.
pub(super) const EASTERN_WORDS: &[(&str, &str)] = &[
    (
        "wool",
        "wełna wełny wełniana vlna vlny шерсть шерсти шерстяная меринос мериноса мериносовая yun yunu 毛 ウール 羊毛 メリノ メリノウール",
    ),
    (
        "cotton",
        "bawełna bawełny bavlna bavlny хлопок хлопка pamuk 綿 コットン 木綿",
    ),
    ("acrylic", "akrylu акрил акрила akrilik アクリル"),
    (
        "nylon",
        "poliamidu polyamidu полиамид полиамида неилон naylon ナイロン",
    ),
    ("silk", "jedwab jedwabiu hedvabi шелк шелка ipek 絹 シルク"),
    ("linen", "lnu лен льна keten 麻 リネン 亜麻"),
    (
        "viscose",
        "wiskoza wiskozy viskoza вискоза вискозы viskon viskoz レーヨン ヒスコース",
    ),
    ("mohair", "moheru мохер мохера tiftik モヘヤ モヘア"),
    (
        "cashmere",
        "kaszmir kaszmiru kasmir кашемир кашемира カシミヤ カシミア",
    ),
    ("alpaca", "alpaki альпака альпаки アルハカ"),
    ("polyester", "poliestru полиэстер полиэстера ホリエステル"),
    ("angora", "ангора ангоры アンコラ"),
    ("hemp", "konopie konopi конопля kenevir ヘンフ"),
    ("ramie", "ラミー"),
    ("elastane", "эластан ホリウレタン"),
    ("lyocell", "リヨセル"),
];

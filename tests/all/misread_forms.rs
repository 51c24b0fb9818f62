//! Forms that were once read wrong, and what a person reads in them. Told as in
//! `label_forms`. Values are invented.

use crate::label_forms::check;
use understudy::{
    label::band::read_band,
    trade::{Family, FibreGroup},
};

/// Prices, care, lots, plies, amounts, gauges and needles.
const MISREAD: &[(&str, &str)] = &[
    ("fits all 24 sts", "24 sts; !1; ?fits all"),
    ("try size 5 mm", "5 mm; ?try"),
    ("try 4 mm", "4 mm; ?try"),
    ("top merino 50 g", "50 g; 100% wool; garment; !1"),
    ("2 kgs", "amount 2000 g; !1"),
    ("ALL 24 sts", "24 sts; !1; ?ALL"),
    ("TRY 4 MM NEEDLES", "4 mm; ?TRY"),
    ("MERINO TOP 50 G", "50 g; 100% wool; garment; !1"),
    ("p. 4 mm", "4 mm"),
    ("18 p. x 24 h.", "18 sts x 24 rows; !1"),
    ("30° Ⓟ", "?30°; ?Ⓟ"),
    ("95p", "0.95 GBP"),
    ("price 6.50", "?price 6.50"),
    ("Preis: 4,95", "?Preis: 4,95"),
    ("6.50 per ball", "?6.50 per ball"),
    ("6,50/50g", "?6,50/50g"),
    ("6.50 each", "?6.50 each"),
    ("EUR 12.95 Merino", "100% wool; 12.95 EUR; !1"),
    ("12.95 EUR", "12.95 EUR"),
    ("eur 12.95", "?eur 12.95"),
    ("Handwäsche 30°", "hand wash"),
    ("Hand wash 30°", "hand wash"),
    ("à la main 30°", "hand wash"),
    ("lavable a mano 30°", "hand wash"),
    ("a mano 30°C", "hand wash"),
    ("ręcznie 30°", "hand wash"),
    ("Pranie ręczne w 30°C", "hand wash"),
    ("30°", "?30°"),
    ("40°C", "?40°C"),
    ("wash at 30", "?wash at 30"),
    ("No Dye Lot 75% acrylic 25% wool", "75% acrylic, 25% wool"),
    ("Dye lot 12 100% wool", "100% wool; lot 12"),
    ("Lot 100% wool", "100% wool; ?Lot"),
    ("Sans bain 100% coton", "100% cotton"),
    ("100 g e 3.53 oz", "100 g"),
    ("100g ℮", "100 g"),
    ("℮ 100 g / 3.5 oz, 200 m", "200 m; 100 g"),
    ("2 ply 80 m/50 g", "80 m; 50 g; plied; plies 2; !1"),
    ("1 ply 80 m/50 g", "80 m; 50 g; single; plies 1; !1"),
    ("single ply 80 m/50 g", "80 m; 50 g; single; plies 1"),
    ("1 ply", "class 0"),
    ("2 ply 700 m/100 g", "700 m; 100 g; class 0"),
    ("9 ozs. 3-ply", "class 0/1; amount 255.15 g; !2"),
    ("12 oz DK", "class 3; amount 340.19 g; !1"),
    ("12 oz", "amount 340.19 g; !1"),
    ("250 g 3 ply", "class 0/1; amount 250 g; !2"),
    ("8 oz cone, 1,800 yds", "1645.92 m; 226.8 g"),
    (
        "700 yards in MC and 180 yards in CC",
        "amount 640.08 m for MC; amount 164.59 m for CC",
    ),
    (
        "MC 400 m, CC 150 m",
        "amount 400 m for MC; amount 150 m for CC",
    ),
    ("10 (11:12:13) 50g balls", "50 g; amount 10|11|12|13"),
    ("10 (11, 12, 13) 50 g balls", "50 g; amount 10|11|12|13"),
    ("8 [9, 10] 2 oz. balls", "56.7 g; amount 8|9|10"),
    ("5.25 sts per inch", "5.25 sts / 2.54 cm"),
    ("5.375 sts per inch", "5.38 sts / 2.54 cm"),
    (
        "5.375 sts x 7.125 rows / inch",
        "5.38 sts x 7.12 rows / 2.54 cm",
    ),
    (
        "10 cm = 20 sts, 10 cm = 26 rows",
        "20 sts x 26 rows / 10 cm",
    ),
    (
        "20 sts = 10 cm, 26 rows = 10 cm",
        "20 sts x 26 rows / 10 cm",
    ),
    (
        "20 sts to 4 in and 26 rows to 4 in",
        "20 sts x 26 rows / 10.16 cm",
    ),
    ("20 x 26 5mm", "20 sts x 26 rows; 5 mm; !2"),
    ("20 x 26 5mm needles", "20 sts x 26 rows; 5 mm; !2"),
    (
        "50g: 3 mm - 3.5 mm; 26 m; 36 r",
        "50 g; 3-3.5 mm; ?26 m; ?36 r",
    ),
    ("26 m, 36 r", "26 sts x 36 rows; !1"),
    ("1.200 m/kg", "?1.200 m"),
    ("85m/25g relaxed", "85 m; 25 g; ?relaxed"),
    ("relaxed fit jumper", "garment; relaxed"),
    ("oversized jumper", "garment; relaxed"),
    (
        "15 sts / 10 cm, cabled",
        "cabled; 15 sts / 10 cm cabled; !1",
    ),
    (
        "15 sts / 10 cm in cabled pattern",
        "15 sts / 10 cm cabled pattern",
    ),
    ("1½ mm to 2 mm needles", "1.5-2 mm"),
    ("1½ mm to 2 mm", "1.5-2 mm"),
    ("22目30段", "22 sts x 30 rows; !1"),
    ("毛100%", "100% wool"),
    ("毛70% ナイロン30%", "70% wool, 30% nylon"),
    ("棒針5号", "3.6 mm"),
    ("棒針5〜6号", "3.6-3.9 mm"),
    ("5~6号", "3.6-3.9 mm"),
    ("child's dressing gown", "child's nightwear"),
    ("baby sleepsuit", "child's nightwear"),
    (
        "50 g = 142 m, 10 cm = 28 sts x 30 rows",
        "142 m; 50 g; 28 sts x 30 rows / 10 cm",
    ),
    (
        "50 g / 142 m / 10 cm / 28 sts / 30 rows",
        "142 m; 50 g; 28 sts x 30 rows / 10 cm",
    ),
    (
        "50 g / 142 m, 10 cm / 28 sts x 30 rows",
        "142 m; 50 g; 28 sts x 30 rows / 10 cm",
    ),
    ("10 balls of 50 g, 1250 m", "125 m; 50 g; amount 10; !1"),
    ("10 x 50 g, 1250 m", "125 m; 50 g; amount 10; !1"),
    ("5 balls 50g 1050 yd", "192.02 m; 50 g; amount 5; !1"),
    ("10 balls of 50 g = 125 m", "125 m; 50 g; amount 10"),
    ("10 balls of 50 g, 500 m", "50 g; amount 10; ?500 m"),
    ("10 balls of 50 g (125 m)", "125 m; 50 g; amount 10"),
    ("10 balls, 50 g, 125 m", "125 m; 50 g; amount 10"),
    ("US 6 - 50 g - 125 m", "125 m; 50 g; 4 mm"),
    ("US 0000", "?US 0000"),
    ("US 4 - 22 sts", "22 sts; 3.5 mm; !1"),
    (
        "DK - 50 g - 125 m - 22 sts",
        "125 m; 50 g; class 3; 22 sts; !1",
    ),
    ("100% Lyocell™", "100% lyocell"),
    ("100% Bavarian lyocell", "100% lyocell; !1"),
    ("100% soy silk", "100% protein; ?silk"),
    (
        "55% Lyocell (Anymark®), 45% cotton",
        "55% lyocell, 45% cotton; !1",
    ),
    ("child's nightdress", "child's nightwear"),
    ("baby's sleeping bag", "child's nightwear"),
    ("12.95 eur", "?12.95 eur"),
    ("no wool", "?no wool"),
    ("wool-free", "?wool-free"),
    (
        "without mohair, angora or wool",
        "?without mohair, angora or wool",
    ),
    ("no wool/nylon", "?no wool/nylon"),
    ("no synthetics", "?no synthetics"),
    ("free from animal fibres", "?free from animal fibres"),
    ("dry clean Ⓟ", "dry clean; ?Ⓟ"),
];

#[test]
fn forms_once_read_wrong_are_read_as_a_person_reads_them() {
    check(MISREAD);
}

#[test]
fn what_no_grammar_knows_is_told_in_one_line() {
    let notes = read_band("qwert x 26 h. 50 g").notes();
    let messages: Vec<&str> = notes.iter().map(|note| note.message.as_str()).collect();
    assert_eq!(
        messages,
        [r#"Not understood, left out: `qwert`, `x`, `26`, `h.`."#]
    );
    let many = "qwert ; 26 ; ".repeat(100);
    let notes = read_band(&many).notes();
    assert_eq!(notes.len(), 1);
    assert!(
        notes[0].message.ends_with("and 180 more."),
        "{}",
        notes[0].message
    );
}

#[test]
fn of_many_notes_the_first_and_a_count_are_told() {
    let notes = read_band(&"H-8 hook qwert ".repeat(50)).notes();
    assert_eq!(notes.len(), 22);
    assert_eq!(notes[20].message, "30 more notes of this kind");
}

#[test]
fn what_is_denied_is_kept_as_a_fact() {
    let denied = |text: &str| -> Vec<String> {
        let name = |denied: &FibreGroup| match denied {
            FibreGroup::Fibre(fibre) => fibre.name.to_owned(),
            FibreGroup::Family(family) => format!("{family:?}"),
        };
        read_band(text).denied.iter().map(name).collect()
    };
    assert_eq!(denied("DK, no wool"), ["wool"]);
    assert_eq!(denied("DK, wool-free"), ["wool"]);
    assert_eq!(
        denied("no mohair, angora or wool"),
        ["mohair", "angora", "wool"]
    );
    assert_eq!(denied("no wool/nylon"), ["wool", "nylon"]);
    assert_eq!(
        denied("no synthetics"),
        [format!("{:?}", Family::Synthetic)]
    );
    assert_eq!(denied("free from animal fibres"), ["Animal"]);
    assert!(denied("100% wool, no dye lot").is_empty());
}

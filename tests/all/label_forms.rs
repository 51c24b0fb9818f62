//! What labels, patterns and notebooks say, and what is read of it: every form
//! of the collected list, their kin with other values, units, languages and
//! orders, and traps. Values are invented.
//!
//! A reading is told in one line: facts in a fixed order, then `!` and the
//! number of warnings, then `?` and each part that was not read.

use understudy::{
    label::band::{AmountPart, BandReading, Quantity, read_band},
    measure::{Interval, NeedleSize},
    record::{PriceBasis, StatedGauge},
    words::number,
};

pub(crate) fn told(band: &BandReading) -> String {
    let mut out = facts(band);
    let amounts = band.amount.iter().chain(&band.other_colours);
    out.extend(amounts.map(|amount| {
        let parts: Vec<String> = amount.parts.iter().map(part).collect();
        let about = if amount.about { "~" } else { "" };
        let plus = amount.plus.map_or(String::new(), |plus| {
            format!(" + {} g", number(plus.as_grams(), 1))
        });
        let each = match amount.each_of.as_slice() {
            [] => String::new(),
            keys => format!(" for {}", keys.join(" ")),
        };
        format!("amount {about}{}{plus}{each}", parts.join("|"))
    }));
    out.extend(
        band.wraps_per_inch
            .map(|wraps| format!("wpi {}", span(wraps))),
    );
    out.extend(
        band.strands_held
            .map(|strands| format!("{strands} strands")),
    );
    out.extend(band.gtin.as_ref().map(|gtin| format!("gtin {gtin}")));
    out.extend(band.shade.as_ref().map(|shade| format!("shade {shade}")));
    out.extend(band.lot.as_ref().map(|lot| format!("lot {lot}")));
    out.extend(band.purpose.map(|purpose| purpose.name().to_owned()));
    out.extend(band.fit.map(|fit| fit.name().to_owned()));
    if !band.warnings.is_empty() {
        out.push(format!("!{}", band.warnings.len()));
    }
    out.extend(band.not_read.iter().map(|left| format!("?{}", left.text)));
    out.join("; ")
}

fn facts(band: &BandReading) -> Vec<String> {
    let facts = &band.facts;
    let parts = [
        facts
            .length
            .as_ref()
            .map(|length| format!("{} m", number(length.value.as_metres(), 2))),
        facts
            .mass
            .as_ref()
            .map(|mass| format!("{} g", number(mass.value.as_grams(), 2))),
        facts.count.as_ref().map(|count| {
            format!(
                "{} x {} {:?}",
                number(count.value.single(), 3),
                count.value.plies(),
                count.value.system()
            )
        }),
        facts.class.as_ref().map(|class| {
            let classes: Vec<String> = class
                .value
                .as_slice()
                .iter()
                .map(|class| class.number().to_string())
                .collect();
            format!("class {}", classes.join("/"))
        }),
        facts.blend.as_ref().map(|blend| blend.value.to_string()),
        facts
            .construction
            .as_ref()
            .map(|construction| construction.value.name().to_owned()),
        facts.plies.map(|plies| format!("plies {plies}")),
        facts.gauge.as_ref().map(|gauge| self::gauge(&gauge.value)),
        facts
            .needles
            .as_ref()
            .map(|needles| format!("{} mm", span(needles.value.map(NeedleSize::as_millimetres)))),
        facts.care.as_ref().map(|care| care.value.name().to_owned()),
        facts.price.as_ref().map(|price| match price.value.per {
            PriceBasis::Skein => price.value.money.to_string(),
            PriceBasis::Mass(mass) => {
                format!("{}/{} g", price.value.money, number(mass.as_grams(), 2))
            }
            PriceBasis::Length(length) => {
                format!("{}/{} m", price.value.money, number(length.as_metres(), 2))
            }
        }),
    ];
    parts.into_iter().flatten().collect()
}

fn gauge(stated: &StatedGauge) -> String {
    let mut text = format!("{} sts", span(stated.gauge.stitches()));
    if let Some(rows) = stated.gauge.rows() {
        text.push_str(&format!(" x {} rows", span(rows)));
    }
    if let Some(over) = stated.gauge.over() {
        text.push_str(&format!(" / {} cm", number(over.as_metres() * 100.0, 3)));
    }
    let about = [
        stated
            .stitch
            .as_ref()
            .map(|stitch| stitch.name().to_owned()),
        stated.worked.map(|worked| worked.name().to_owned()),
        stated
            .washed
            .map(|washed| if washed { "washed" } else { "unwashed" }.to_owned()),
        stated.strands.map(|strands| format!("x{strands}")),
    ];
    for about in about.into_iter().flatten() {
        text.push_str(&format!(" {about}"));
    }
    text
}

fn part(part: &AmountPart) -> String {
    let size = part
        .size
        .as_ref()
        .map_or(String::new(), |size| format!("{size} "));
    let quantity = match part.quantity {
        Quantity::Skeins(skeins) => span(skeins),
        Quantity::Length(length) => format!("{} m", span(length.map(|length| length.as_metres()))),
        Quantity::Mass(mass) => format!("{} g", span(mass.map(|mass| mass.as_grams()))),
    };
    format!("{size}{quantity}")
}

fn span(range: Interval<f64>) -> String {
    match range.is_one() {
        true => number(range.low(), 2),
        false => format!("{}-{}", number(range.low(), 2), number(range.high(), 2)),
    }
}

pub(crate) fn check(forms: &[(&str, &str)]) {
    let wrong: Vec<String> = forms
        .iter()
        .map(|(form, wanted)| (form, wanted, told(&read_band(form))))
        .filter(|(_, wanted, told)| *wanted != told)
        .map(|(form, wanted, told)| format!("{form}\n  wanted: {wanted}\n  read:   {told}"))
        .collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// The collected forms.
const COLLECTED: &[(&str, &str)] = &[
    ("50g = 135m", "135 m; 50 g"),
    ("50g ≈ 135 m (148 yds)", "135 m; 50 g"),
    ("135 m per 50 g", "135 m; 50 g"),
    ("50gm/148 yards", "135.33 m; 50 g"),
    ("1 3/4 oz. (50g) 148 yd.", "135.33 m; 50 g"),
    ("3.5oz / 100 g - 220 yd", "201.17 m; 100 g"),
    ("net wt 4 oz 113 gr, 210 yds", "192.02 m; 113 g"),
    ("16 oz/453,6 g; 830 yds/759 m", "759 m; 453.6 g"),
    ("ca. 420 m/100 g", "420 m; 100 g"),
    ("Lauflänge: 85 m/50 g", "85 m; 50 g"),
    ("125 metros ≈ 50 gr", "125 m; 50 g"),
    ("25g,80m", "80 m; 25 g"),
    ("140 mts (153yds)", "140 m"),
    ("1.100 m, 500 g", "500 g; ?1.100 m"),
    ("2/14 Nm, 150g cone", "150 g; 14 x 2 Metric"),
    ("tex 120/2", "120 x 2 Tex"),
    ("20/2 NeC", "20 x 2 Cotton"),
    ("400m", "400 m"),
    ("10 balls of 50", "amount 10; ?50"),
    ("1 full + ~60g", "amount ~1 + 60 g"),
    ("about half a hank", "amount ~0.5"),
    ("6 (7, 8, 9) skeins", "amount 6|7|8|9"),
    ("6-7-8-9-10 balls", "amount 6|7|8|9|10"),
    ("XS/S 7 M 8 L 9 XL 10 balls", "amount XS/S 7|M 8|L 9|XL 10"),
    (
        "650 (700) 750 (800) g colour 12",
        "amount 650 g|700 g|750 g|800 g; shade 12",
    ),
    ("900-1,100 m", "amount 900-1100 m"),
    ("1 ball each in A, B, C, D", "amount 1 for A B C D"),
    ("2 (2, 3) hanks, 100 g each", "100 g; amount 2|2|3"),
    // More than a ball weighs, and none is named: what a pattern takes.
    ("12 oz", "amount 340.19 g; !1"),
    ("22 sts & 30 rows = 10 cm", "22 sts x 30 rows / 10 cm"),
    ("22 m x 30 r = 10 x 10 cm", "22 sts x 30 rows / 10 cm"),
    ("5.5 sts/in", "5.5 sts / 2.54 cm"),
    ("20-22 sts", "20-22 sts; !1"),
    ("tension 22 st, 4mm", "22 sts; 4 mm; !1"),
    ("22/28", "22 sts x 28 rows; !2"),
    (
        "24 sts and 24 rnds, stranded, in the round",
        "24 sts x 24 rows stranded in the round; !1",
    ),
    ("11 sts with two strands", "11 sts x2; 2 strands; !1"),
    ("0.55 st/mm", "0.55 sts / 0.1 cm"),
    ("4,5 mm", "4.5 mm"),
    ("4mm (old 8)", "4 mm"),
    ("size 10½", "6.5 mm"),
    ("3.25-3.75 mm", "3.25-3.75 mm"),
    ("Ø 5", "5 mm"),
    ("#2 (2.75 or 3.0?)", "2.75-3 mm; !1"),
    ("75/25 wool/nylon", "75% wool, 25% nylon"),
    ("100% SW merino", "100% wool; machine wash; !1"),
    (
        "60% merino, 40% cotton, 10% nylon",
        "?60% merino, 40% cotton, 10% nylon",
    ),
    ("55% WO, 45% CO", "55% wool, 45% cotton"),
    ("laine 60 acrylique 40", "60% wool, 40% acrylic"),
    ("bamboo (viscose)", "100% viscose; !2"),
    ("mostly wool?", "?mostly wool?"),
    ("unknown, burns like hair", "?unknown, burns like hair"),
    ("dk/8ply", "class 3"),
    ("4ply", "class 1/2/4; !1"),
    ("CYC 4", "class 4"),
    ("wpi 13", "wpi 13"),
    ("per ball/hank/skein/cone/cake/oz", "?oz"),
    ("dyelot n/a", ""),
    ("£6.50/50g", "6.50 GBP/50 g"),
    ("12,95 €", "12.95 EUR"),
    ("freecycled", "?freecycled"),
];

#[test]
fn every_collected_form_is_read_or_said_not_to_be() {
    check(COLLECTED);
}

/// Their kin.
const KIN: &[(&str, &str)] = &[
    (
        "100 g / 200 m, 75% Schurwolle, 25% Polyamid, Nadelstärke 3-4, 22 M x 30 R = 10 x 10 cm",
        "200 m; 100 g; 75% wool, 25% nylon; 22 sts x 30 rows / 10 cm; 3-4 mm",
    ),
    (
        "50 g = 155 m; 100 % coton; aiguilles n° 3,5; 23 mailles et 30 rangs = 10 cm",
        "155 m; 50 g; 100% cotton; 23 sts x 30 rows / 10 cm; 3.5 mm",
    ),
    (
        "Ovillo 100 g = 210 metros, 50% lana 50% acrílico, agujas 4,5",
        "210 m; 100 g; 50% acrylic, 50% wool; 4.5 mm",
    ),
    (
        "gomitolo 50 g = 120 m, 100% lana merino, ferri 4",
        "120 m; 50 g; 100% wool; 4 mm",
    ),
    (
        "bol 50 g, looplengte 95 m, 100% katoen, naalden 4-4,5, 20 steken x 26 naalden = 10x10 cm",
        "95 m; 50 g; 100% cotton; 20 sts x 26 rows / 10 cm; 4-4.5 mm",
    ),
    (
        "nøgle 50 g = 175 m, 55% bomuld 45% hør, pinde 3, 27 masker x 36 pinde = 10 cm",
        "175 m; 50 g; 55% cotton, 45% linen; 27 sts x 36 rows / 10 cm; 3 mm",
    ),
    (
        "nystan 100 g, 23 maskor och 31 varv = 10 cm, stickor 4",
        "100 g; 23 sts x 31 rows / 10 cm; 4 mm",
    ),
    (
        "kerä 50 g = 130 m, 75 % villa 25 % polyamidi, puikot 3-3,5",
        "130 m; 50 g; 75% wool, 25% nylon; 3-3.5 mm",
    ),
    (
        "novelo 100 g = 180 m, 100% algodão, agulhas 5",
        "180 m; 100 g; 100% cotton; 5 mm",
    ),
    ("1.250 yds (1143 m)", "1143 m"),
    ("1,250 yds", "1143 m"),
    ("218 yd/200 m per 100 gram skein", "200 m; 100 g"),
    ("weight: 100 grams; yardage: 220 yards", "201.17 m; 100 g"),
    ("approx. 437 yds per 3½ oz", "399.59 m; 99.22 g"),
    ("3.53oz/100g; 219yds/200m", "200 m; 100 g"),
    ("50 g (1.75 oz.) = approx. 125 m (137 yds)", "125 m; 50 g"),
    ("8 oz cone, 1,800 yds", "1645.92 m; 226.8 g"),
    // More than a ball weighs, and none is named: what a pattern takes.
    ("1,5 kg", "amount 1500 g; !1"),
    ("1,5 kg cone", "1500 g"),
    ("1.250 g (44 oz)", "amount 1250 g; !1"),
    ("1150 yd/lb", "2.318 x 1 Metric"),
    ("1800 yds per pound", "3.629 x 1 Metric"),
    ("4.2 m/g", "4.2 x 1 Metric"),
    ("400-420 m/100 g", "100 g; ?400-420 m"),
    ("2 x 100 g (400 m)", "100 g; amount 2; ?400 m"),
    ("Nm 2/28", "28 x 2 Metric"),
    ("28/2 Nm", "28 x 2 Metric"),
    ("28/2", "?28/2"),
    ("8/2 cotton", "8 x 2 Cotton"),
    ("8/2 worsted", "8 x 2 Worsted; !1"),
    ("3/15 worsted count", "15 x 3 Worsted"),
    ("R 240 tex/2", "120 x 2 Tex"),
    ("dtex 167x2", "167 x 2 Decitex"),
    ("16/2 linen", "16 x 2 Linen"),
    ("500 g cone 3/14 Nm", "500 g; 14 x 3 Metric"),
    ("S (M, L): 5 (6, 7) balls", "amount S 5|M 6|L 7"),
    ("S: 5, M: 6, L: 7 skeins", "amount S 5|M 6|L 7"),
    ("2/3XL 12 4/5XL 14 balls", "amount 2/3XL 12|4/5XL 14"),
    (
        "XS (S, M, L, XL): 900 (1000, 1100, 1200, 1300) m",
        "amount XS 900 m|S 1000 m|M 1100 m|L 1200 m|XL 1300 m",
    ),
    ("4 [5, 6, 7] hanks", "amount 4|5|6|7"),
    ("5 skeins (6, 7, 8)", "amount 5|6|7|8"),
    ("5 (5, 6, 7, 8) x 100 g balls", "100 g; amount 5|5|6|7|8"),
    ("3 (3, 4, 4) skeins of 115 m", "115 m; amount 3|3|4|4"),
    (
        "1,200 (1,350, 1,500) yds",
        "amount 1097.28 m|1234.44 m|1371.6 m",
    ),
    ("600 m (650 m, 700 m)", "amount 600 m|650 m|700 m"),
    ("7/8/9/10 balls", "amount 7|8|9|10"),
    ("6/7 balls", "?6/7 balls"),
    ("6 (7,8) skeins", "?6 (7,8) skeins"),
    ("9 x 200 yd", "182.88 m; amount 9"),
    ("9 skeins of 182 m", "182 m; amount 9"),
    ("10 x 50 g", "50 g; amount 10"),
    ("20 balls @ 50 g", "50 g; amount 20"),
    ("three 50g balls", "50 g; amount 3"),
    ("5-6 balls", "amount 5-6"),
    ("needs 1200 m in total", "amount 1200 m"),
    ("takes about 900 yds", "amount ~822.96 m"),
    ("total 1,450 yards", "amount 1325.88 m"),
    ("MC: 3 skeins", "amount 3 for MC"),
    ("2 balls MC, 1 ball CC", "amount 2 for MC; amount 1 for CC"),
    ("two and a half skeins", "amount 2.5"),
    ("a quarter of a ball", "amount 0.25"),
    ("1/2 skein", "amount 0.5"),
    ("3/4 balls", "?3/4 balls"),
    ("2 full skeins + 35 g", "amount 2 + 35 g"),
    ("3 balls and 20 g", "amount 3 + 20 g"),
    ("about 60 g left", "amount ~60 g"),
    ("24 sts = 4\"", "24 sts / 10.16 cm"),
    (
        "18 sts and 24 rows = 4 inches in stockinette after blocking",
        "18 sts x 24 rows / 10.16 cm stockinette washed",
    ),
    (
        "16 sts x 22 rows over 10cm/4in on 5mm needles",
        "16 sts x 22 rows / 10 cm; 5 mm",
    ),
    (
        "tension 28 sts x 36 rows to 10 cm square over st st using 3.25mm needles",
        "28 sts x 36 rows / 10 cm stockinette; 3.25 mm",
    ),
    ("gauge: 5 sts per inch", "5 sts / 2.54 cm"),
    ("5 spi", "5 sts / 2.54 cm"),
    ("10 cm = 22 sts, 30 rows", "22 sts x 30 rows / 10 cm"),
    ("22 x 30 = 10 cm", "22 sts x 30 rows / 10 cm"),
    ("21 p. x 28 v. = 10 cm", "21 sts x 28 rows / 10 cm"),
    ("18-20 sts / 24-26 rows", "18-20 sts x 24-26 rows; !1"),
    ("14 sc = 4 in", "?14 sc = 4 in"),
    ("12 dc and 8 rows = 10 cm", "?12 dc and 8 rows = 10 cm"),
    ("US 6 (4 mm)", "4 mm"),
    ("US size 8", "5 mm"),
    ("US 8-9", "5-5.5 mm"),
    ("UK 8", "4 mm"),
    ("US 7 / 4.5 mm / UK 7", "4.5 mm"),
    ("4mm (US 8)", "4 mm; !1"),
    ("size 8", "?size 8"),
    ("needles: 4", "?needles: 4"),
    ("No. 7", "?No. 7"),
    ("#4", "?#4"),
    ("3¼ mm", "3.25 mm"),
    ("recommended needle size: 3.75mm - 4mm", "3.75-4 mm"),
    ("5.0 mm hook", "?5.0 mm hook"),
    ("H-8 hook", "?H-8 hook"),
    (
        "60% wool, 20% silk, 20% stellina",
        "60% wool, 20% silk, 20% stellina",
    ),
    (
        "70% merino 10% other fibres 20% nylon",
        "70% wool, 20% nylon, 10% other fibres",
    ),
    ("WO 70 PA 30", "70% wool, 30% nylon"),
    ("50% CA 50% WO", "?50% CA 50% WO"),
    ("wool/nylon 80/20", "80% wool, 20% nylon"),
    ("cotton 60 linen 40", "60% cotton, 40% linen"),
    ("50/50 cotton/linen", "50% cotton, 50% linen"),
    ("98% wool 1% nylon", "98% wool, 1% nylon; !1"),
    ("wool/cotton", "?wool/cotton"),
    ("wool blend", "?wool blend"),
    ("pure new wool", "100% wool; !1"),
    ("bamboo", "100% viscose; !2"),
    ("100% viscose from bamboo", "100% viscose; !1"),
    (
        "sock yarn 75% wool 25% nylon",
        "class 1; 75% wool, 25% nylon",
    ),
    (
        "non-superwash 100% Shetland wool",
        "100% wool; ?non-superwash",
    ),
    (
        "75% superwash wool, 25% nylon; machine wash 30°C",
        "75% wool, 25% nylon; machine wash; !1",
    ),
    ("worsted weight wool", "class 4; 100% wool; !1"),
    ("chunky / 12 ply", "class 5"),
    ("worsted 4 ply", "class 4; !1"),
    ("7 ply", "?7 ply"),
    ("3 ply", "class 0/1; !1"),
    ("3-ply construction", "plied; plies 3"),
    ("single ply merino", "100% wool; single; plies 1; !1"),
    ("#4 medium", "class 4"),
    ("yarn weight 5 - bulky", "class 5"),
    ("baby", "?baby"),
    ("baby weight acrylic", "class 1/2; 100% acrylic; !2"),
    ("baby blanket", "baby"),
    ("hot pad in cotton", "100% cotton; hot pad; !1"),
    ("child's nightwear", "child's nightwear"),
    ("fitted jumper", "garment; fitted"),
    ("held double", "2 strands"),
    ("hold three strands", "3 strands"),
    ("9 wraps per inch", "wpi 9"),
    ("EAN 5012345678900", "gtin 5012345678900"),
    ("5 012345 678900", "gtin 5012345678900"),
    ("5012345678901", "!1"),
    ("colour 12 lot 4711", "shade 12; lot 4711"),
    ("shade Moss Green, lot 99/3", "shade Moss Green; lot 99/3"),
    ("Farbe: 0042 Partie 17", "shade 0042; lot 17"),
    ("hand wash only", "hand wash"),
    ("do not machine wash", "?do not machine wash"),
    ("lavage à la main", "hand wash"),
    ("$9 per skein", "9.00 USD; !1"),
    ("EUR 12.95", "12.95 EUR"),
    ("£4 / oz", "4.00 GBP/28.35 g"),
    ("¥900", "900 JPY; !1"),
    ("1.250,00 €", "1250.00 EUR"),
    ("49 kr", "?49 kr"),
    ("95p", "0.95 GBP"),
    ("£1,250", "?£1,250"),
    (
        "Harbour Lane DK, 100 g = 225 m, 22 sts x 30 rows = 10 cm on 4 mm needles, 100% wool, hand wash, colour 12, lot 4711, £6.50",
        "225 m; 100 g; class 3; 100% wool; 22 sts x 30 rows / 10 cm; 4 mm; hand wash; 6.50 GBP; shade 12; lot 4711; ?Harbour Lane",
    ),
    (
        "Light worsted; 200 yd (183 m) per 3.5 oz (100 g); CYC 4; 18 sts = 4\" on US 7 (4.5 mm)",
        "183 m; 100 g; class 3; 18 sts / 10.16 cm; 4.5 mm; ?CYC 4",
    ),
    (
        "100g = ca. 420m, 75 % Schurwolle (superwash), 25 % Polyamid; NS 2-3; 30 M x 42 R = 10x10cm; 40°C",
        "420 m; 100 g; 75% wool, 25% nylon; 30 sts x 42 rows / 10 cm; 2-3 mm; machine wash; !1",
    ),
    (
        "MC 400 m, CC 150 m",
        "amount 400 m for MC; amount 150 m for CC",
    ),
    ("200g A, 100g B", "amount 200 g for A; amount 100 g for B"),
    ("70:30 wool:silk", "70% wool, 30% silk"),
    ("3 for £10", "?3 for £10"),
    ("1lb 4oz", "amount 566.99 g; !1"),
    ("500 yds + 100 yds", "457.2 m; ?100 yds"),
    ("Lot No. 1234 Shade 05", "shade 05; lot 1234"),
    ("5 hanks (1100 yds)", "amount 5; ?1100 yds"),
    ("10 skeins = 1250 m", "amount 10; ?1250 m"),
    ("1 skein (437 yds)", "399.59 m; amount 1"),
    ("10 balls, 50 g, 125 m", "125 m; 50 g; amount 10"),
    ("size US 10.5", "6.5 mm"),
    ("old No. 9", "3.75 mm"),
    ("€4,95/50g", "4.95 EUR/50 g"),
    ("S/M (L/XL): 5 (6) balls", "amount S/M 5|L/XL 6"),
    ("20st/28row", "20 sts x 28 rows; !1"),
];

#[test]
fn their_kin_in_other_values_units_languages_and_orders_are_read_alike() {
    check(KIN);
}

/// Traps.
const TRAPS: &[(&str, &str)] = &[
    ("100 m (91 yd) 50 g", "100 m; 50 g; !1"),
    ("109 yd / 109 m / 50 g", "109 m; 50 g; !1"),
    ("50 g (2 oz) 120 m", "120 m; 50 g; !1"),
    ("1,250 g", "?1,250 g"),
    ("1 250 m", "?1 250 m"),
    ("1\u{a0}250 m", "1250 m"),
    ("4‚5 mm", "?4‚5"),
    ("10� mm", "?10�"),
    ("10Â½ mm", "?10Â½"),
    ("50 g â‰ˆ 135 m", "135 m; 50 g; ?‰; ?ˆ"),
    ("", ""),
    (" \t ", ""),
    ("none", "?none"),
    ("0 g 0 m", "?0 g; ?0 m"),
    ("-5 m", "?-5 m"),
    ("nan m", "?nan m"),
    ("inf g", "?inf g"),
    ("1e9 m", "?1e9 m"),
    ("99999999999999 m", "?99999999999999 m"),
    (
        "\u{202e}50 g\u{202c} 135 m",
        "135 m; 50 g; ?\u{202e}; ?\u{202c}",
    ),
    ("שלום 50 g", "50 g; ?שלום"),
    ("\u{1b}[31m50 g", "50 g; ?\u{1b}[31m"),
    ("50\u{200b}g", "50 g"),
    ("５０ g", "?５０ g"),
    ("5 cm", "?5 cm"),
];

#[test]
fn traps_are_reported_and_never_taken_for_facts() {
    check(TRAPS);
}

#[test]
fn what_differs_is_told_with_both_values() {
    let band = read_band("100 m (91 yd) 50 g");
    let messages: Vec<&str> = band
        .warnings
        .iter()
        .map(|note| note.message.as_str())
        .collect();
    assert_eq!(
        messages,
        ["100 m is 109.36 yd, not 91 yd: used 100 m; perhaps yards and metres are swapped"]
    );
}

#[test]
fn what_may_mean_two_things_is_told_with_both_and_how_to_write_it() {
    let band = read_band("1.100 m, 500 g");
    let why: Vec<&str> = band.not_read.iter().map(|left| left.why.as_str()).collect();
    assert_eq!(
        why,
        ["it may be 1.1 m or 1100 m; write `1100 m`, or `1.1000 m` with a fourth decimal"]
    );
    let band = read_band("size 8");
    assert_eq!(
        band.not_read.first().map(|left| left.why.as_str()),
        Some(
            "it may be US 8 (5 mm), old UK 8 (4 mm) or 8 mm; write `4 mm`, `3.25-3.75 mm`, `US 6` or `old UK 8`"
        )
    );
}

#[test]
fn ten_thousand_letters_are_one_part_that_is_not_read() {
    let text = "a".repeat(10_000);
    let band = read_band(&text);
    assert_eq!(band.not_read.len(), 1);
    let numbers = "7 ".repeat(10_000);
    assert!(!read_band(&numbers).not_read.is_empty());
}

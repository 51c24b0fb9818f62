//! Materials paragraphs as designers write them, in the languages in which patterns are
//! sold, and what fills the fields of a pattern. Names are invented, the forms common
//! practice, no source.
//!
//! Told line by line: the sizes, each yarn by its key with what it is and how much of it
//! each size takes, the gauge, the notes of the pattern, and after `!` what the person is
//! told. So nothing that was typed is lost without a word.

use understudy::app::read_pattern_text;

fn told(text: &str) -> Vec<String> {
    let read = read_pattern_text("Skerrablet", text).unwrap();
    let field = |name: &str| read.typed.text(name).to_owned();
    let filled = |names: &[String]| {
        let texts = names.iter().map(|name| field(name));
        texts.filter(|text| !text.is_empty()).collect::<Vec<_>>()
    };
    let row = |of: &dyn Fn(usize) -> String| {
        let names: Vec<String> = (1..=9).map(of).collect();
        filled(&names).join(", ")
    };
    let mut out = vec![row(&|size| format!("size-{size}-name"))];
    for yarn in 1..=4 {
        let key = field(&format!("yarn-{yarn}-key"));
        if key.is_empty() {
            break;
        }
        let facts = [
            "maker", "name", "length", "mass", "fibre", "needle", "strands",
        ];
        let facts = facts.map(|fact| format!("yarn-{yarn}-{fact}"));
        let needs = row(&|size| format!("size-{size}-yarn-{yarn}"));
        out.push(format!("{key}: {}: {needs}", filled(&facts).join("; ")));
    }
    for once in ["gauge", "notes"] {
        out.extend(filled(&[once.to_owned()]));
    }
    out.extend(read.notes.into_iter().map(|note| format!("! {note}")));
    out
}

#[test]
fn materials_lines_fill_the_fields_that_they_say() {
    let wrong: Vec<String> = LINES
        .iter()
        .filter(|(text, expected)| told(text) != *expected)
        .map(|(text, _)| format!("{text}\n{:#?}", told(text)))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const LINES: &[(&str, &[&str])] = &[
    (
        "Wickerfen Mitts\nSizes: S (M, L)\nYarn: Marrowmere Fizzlewick (100% merino; 219 yd / 100 g), \
         1 (1, 2) skeins; approx. 150 (190, 230) yds\nGauge: 24 sts and 32 rnds = 4\"/10 cm",
        &[
            "S, M, L",
            "A: Marrowmere Fizzlewick; 219 yd; 100 g; 100% merino: 150 yds, 190 yds, 230 yds",
            "Gauge: 24 sts and 32 rnds = 4\"/10 cm",
            "! `1 (1, 2) skeins` is not used: the length of the same yarn is more exact",
            "! Not understood, left out: `Wickerfen`.",
        ],
    ),
    (
        "Umberlin DK (120 m/50 g), 600 (700) m, 5 (6) balls",
        &[
            "1, 2",
            "A: Umberlin DK; 120 m; 50 g: 600 m, 700 m",
            "! `5 (6) balls` is not used: the length of the same yarn is more exact",
        ],
    ),
    (
        "Yarn: 5 (5, 6, 7) balls of Umberlin DK (100% wool; 120 m per 50 g) in shade sea",
        &[
            "1, 2, 3, 4",
            "A: Umberlin DK; 120 m; 50 g; 100% wool: 5 balls, 5 balls, 6 balls, 7 balls",
            "A shade sea",
        ],
    ),
    (
        "120 m/50 g, 450 (500) g",
        &["1, 2", "A: 120 m; 50 g: 450 g, 500 g"],
    ),
    (
        "Umberlin DK 120 m/50 g, 450 (500) g",
        &["1, 2", "A: Umberlin DK; 120 m; 50 g: 450 g, 500 g"],
    ),
    (
        "Sizes: 34 (36, 38) in. Umberlin DK (100% wool, 120 m/50 g), 5 (6, 7) balls",
        &[
            "34 in, 36 in, 38 in",
            "A: Umberlin DK; 120 m; 50 g; 100% wool: 5 balls, 6 balls, 7 balls",
        ],
    ),
    (
        "Umberlin DK, 120 m/50 g, 10 (11, 12) balls, shade 14 ferry",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 10 balls, 11 balls, 12 balls",
            "A shade 14 ferry",
        ],
    ),
    (
        "Umberlin DK by Thrumwick Yard (100% wool; 131 yds/120 m per 50 g ball): 8 (9, 10, 11) balls in Moss",
        &[
            "1, 2, 3, 4",
            "A: Thrumwick Yard; Umberlin DK; 131 yds/120 m; 50 g; 100% wool: 8 balls, 9 balls, 10 balls, 11 balls",
            "! Not understood, left out: `Moss`.",
        ],
    ),
    (
        "6 (7, 8) x 50 g balls of Umberlin DK (100% merino wool, 120 m / 131 yds) in shade 204 Heather",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m / 131 yds); 50 g; 100% merino wool: 6 x 50 g balls, 7 x 50 g balls, 8 x 50 g balls",
            "A shade 204 Heather",
        ],
    ),
    (
        "You will need: 12 (13, 15) 50g balls of Thrumwick Yard Umberlin DK in colour 031",
        &[
            "1, 2, 3",
            "A: Thrumwick Yard Umberlin DK; 50g: 12 50g balls, 13 50g balls, 15 50g balls",
            "A shade 031",
            "! Not understood, left out: `You will`.",
        ],
    ),
    (
        "Hathrel Sock [75% wool, 25% nylon; 459 yds/420 m per 100 g]; 1 (1, 2) skeins Russet",
        &[
            "1, 2, 3",
            "A: Hathrel Sock; 459 yds/420 m; 100 g; 75% wool, 25% nylon: 1 skeins, 1 skeins, 2 skeins",
            "! Not understood, left out: `Russet`.",
        ],
    ),
    (
        "Worsted weight yarn, approx. 1100 (1200, 1350) yards. Shown in Orrin Worsted (100% wool; 220 yds/100 g)",
        &[
            "1, 2, 3",
            "A: 220 yds; 100 g; 100% wool: 1100 yards, 1200 yards, 1350 yards",
            "! Not understood, left out: `Shown`, `Orrin`.",
        ],
    ),
    (
        "Materials: Orrin Worsted, 100% wool, 220 yards (201 m) per 3.5 oz (100 g) hank; 5 (6, 6, 7) hanks, color Fern",
        &[
            "1, 2, 3, 4",
            "A: Orrin Worsted; 220 yards (201 m); 3.5 oz (100 g); 100% wool: 5 hanks, 6 hanks, 6 hanks, 7 hanks",
            "A shade Fern",
        ],
    ),
    (
        "MC: Umberlin DK, 100% wool, 120 m/50 g, shade 12 moss, 5 (6) balls; CC1: Umberlin DK, shade 3 cream, 2 balls; CC2: Umberlin DK, shade 8 rust, 1 ball",
        &[
            "1, 2",
            "MC: Umberlin DK; 120 m; 50 g; 100% wool: 5 balls, 6 balls",
            "CC1: Umberlin DK; 120 m; 50 g; 100% wool: 2 balls, 2 balls",
            "CC2: Umberlin DK; 120 m; 50 g; 100% wool: 1 ball, 1 ball",
            "MC shade 12 moss; CC1 shade 3 cream; CC2 shade 8 rust",
        ],
    ),
    (
        "Yarn A: Hathrel DK (125 m/50 g) in Slate, 4 (5, 6) balls. Yarn B: Hathrel DK (125 m/50 g) in Oat, 2 (2, 3) balls",
        &[
            "1, 2, 3",
            "A: Hathrel DK; 125 m; 50 g: 4 balls, 5 balls, 6 balls",
            "B: Hathrel DK; 125 m; 50 g: 2 balls, 2 balls, 3 balls",
            "! Not understood, left out: `Slate`, `Oat`.",
        ],
    ),
    (
        "A: 4 balls slate, B: 2 balls oat, Hathrel DK 125 m/50 g",
        &[
            "one size",
            "A: 125 m; 50 g: 4 balls",
            "B: 125 m; 50 g: 2 balls",
            "! Not understood, left out: `slate`, `oat`, `Hathrel`.",
        ],
    ),
    (
        "Colour A: Hathrel DK, 125 m/50 g, 3 balls",
        &["one size", "A: Hathrel DK; 125 m; 50 g: 3 balls"],
    ),
    (
        "Umberlin DK (100% wool; 120 m per 50 g): MC 5 (6, 7) balls; CC 2 (2, 3) balls",
        &[
            "1, 2, 3",
            "MC: Umberlin DK; 120 m; 50 g; 100% wool: 5 balls, 6 balls, 7 balls",
            "CC: Umberlin DK; 120 m; 50 g; 100% wool: 2 balls, 2 balls, 3 balls",
        ],
    ),
    (
        "Approx 350 (400, 450) g of DK yarn (120 m/50 g)",
        &["1, 2, 3", "A: 120 m; 50 g: 350 g, 400 g, 450 g"],
    ),
    (
        "400 (450, 500) g Umberlin DK (120 m per 50 g)",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 400 g, 450 g, 500 g",
        ],
    ),
    (
        "Umberlin DK (50 g = 120 m): 400 (450:500) g",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 400 g, 450 g, 500 g",
        ],
    ),
    (
        "XS (S, M, L): 8 (9, 10, 11) balls Umberlin DK 120 m/50 g",
        &[
            "XS, S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 8 balls, 9 balls, 10 balls, 11 balls",
        ],
    ),
    (
        "Size S: 5 balls, M: 6 balls, L: 7 balls. Umberlin DK 120 m/50 g",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 5 balls, 6 balls, 7 balls",
            "! Not understood, left out: `Size`.",
        ],
    ),
    (
        "To fit chest 32 (34, 36, 38) in; Umberlin DK (120 m/50 g) 9 (10, 11, 12) balls; 22 sts and 28 rows to 4 in on 4 mm",
        &[
            "32 in, 34 in, 36 in, 38 in",
            "A: Umberlin DK; 120 m; 50 g; on 4 mm: 9 balls, 10 balls, 11 balls, 12 balls",
            "22 sts and 28 rows to 4 in",
        ],
    ),
    (
        "Sizes: 81 (86, 91) cm. Umberlin DK 120 m/50 g, 6 (7, 8) balls",
        &[
            "81 cm, 86 cm, 91 cm",
            "A: Umberlin DK; 120 m; 50 g: 6 balls, 7 balls, 8 balls",
        ],
    ),
    (
        "Sizes 0-3 (3-6, 6-12) months. Murrow Baby (100% wool; 175 m/50 g) 2 (2, 3) balls",
        &[
            "0-3 months, 3-6 months, 6-12 months",
            "A: Murrow; 175 m; 50 g; 100% wool: 2 balls, 2 balls, 3 balls",
            "! `Baby` is not used: `baby` may be weight class 1 or 2, or say whom it is for; write `baby weight` or `for a baby`",
        ],
    ),
    (
        "Age 2 (4, 6) years. Umberlin DK (120 m/50 g) 4 (5, 6) balls",
        &[
            "2 years, 4 years, 6 years",
            "A: Umberlin DK; 120 m; 50 g: 4 balls, 5 balls, 6 balls",
        ],
    ),
    (
        "Garn: Umberlin DK (100 % Schurwolle, LL 120 m/50 g), 400 (450, 500) g in Fb 12 Moos",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100 % Schurwolle: 400 g, 450 g, 500 g",
            "A shade 12 Moos",
        ],
    ),
    (
        "Material: 8 (9, 10) Knäuel Umberlin DK (100 % Schurwolle, LL ca. 120 m/50 g) in Farbe 031; Nadelstärke 4 mm; Maschenprobe 22 M x 30 R = 10 x 10 cm",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100 % Schurwolle; Nadelstärke 4 mm: 8 Knäuel, 9 Knäuel, 10 Knäuel",
            "Maschenprobe 22 M x 30 R = 10 x 10 cm",
            "A shade 031",
        ],
    ),
    (
        "Größe: S (M, L). Umberlin DK, Lauflänge 120 m / 50 g, Verbrauch: 400 (450, 500) g",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 400 g, 450 g, 500 g",
        ],
    ),
    (
        "Fournitures: Umberlin DK (100 % laine, 50 g = 120 m), 8 (9, 10) pelotes coloris mousse; aiguilles 4 mm; échantillon 22 m x 30 rgs = 10 cm",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100 % laine; aiguilles 4 mm: 8 pelotes, 9 pelotes, 10 pelotes",
            "échantillon 22 m x 30 rgs = 10 cm",
            "A shade mousse",
        ],
    ),
    (
        "Tailles : S (M, L). Laine : Umberlin DK, 120 m / 50 g : 8 (9 - 10) pelotes",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 8 pelotes, 9 pelotes, 10 pelotes",
            "! Not understood, left out: `Laine`.",
        ],
    ),
    (
        "Garn: Umberlin DK (100% uld, 50 g = 120 m), 400 (450) 500 g farve 12",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100% uld: 400 g, 450 g, 500 g",
            "A shade 12",
        ],
    ),
    (
        "Størrelser: S (M) L. Garnforbrug: 400 (450) 500 g Umberlin DK (120 m / 50 g)",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 400 g, 450 g, 500 g",
        ],
    ),
    (
        "Garn: Umberlin DK (100% ull, 50 gram = 120 meter), farge 12: 8 (9) 10 (11) nøster",
        &[
            "1, 2, 3, 4",
            "A: Umberlin DK; 120 meter; 50 gram; 100% ull: 8 nøster, 9 nøster, 10 nøster, 11 nøster",
            "A shade 12",
        ],
    ),
    (
        "Størrelse: XS (S) M (L) XL. Garnmengde: 300 (350) 400 (450) 500 g Umberlin DK, 120 m/50 g. Strikkefasthet: 22 masker = 10 cm. Pinne 4 mm",
        &[
            "XS, S, M, L, XL",
            "A: Umberlin DK; 120 m; 50 g.; Pinne 4 mm: 300 g, 350 g, 400 g, 450 g, 500 g",
            "Strikkefasthet: 22 masker = 10 cm.",
        ],
    ),
    (
        "Maten: S (M, L). Garen: Umberlin DK (100% wol, 50 g = 120 m), 8 (9, 10) bollen kleur 12; naalden 4 mm",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g; 100% wol; naalden 4 mm: 8 bollen, 9 bollen, 10 bollen",
            "A shade 12",
        ],
    ),
    (
        "Benodigdheden: 400 (450-500) gram Umberlin DK, looplengte 120 m per 50 g",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 400 gram, 450 gram, 500 gram",
        ],
    ),
    (
        "Materiales: Umberlin DK (100% lana; 50 g = 120 m), 8 (9, 10) ovillos del color 12; agujas de 4 mm; muestra 22 p x 30 v = 10 cm",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100% lana; 4 mm: 8 ovillos, 9 ovillos, 10 ovillos",
            "muestra 22 p x 30 v = 10 cm",
            "A shade 12",
            "! Not understood, left out: `agujas`.",
        ],
    ),
    (
        "Tallas: S (M, L). Hilo: Umberlin DK, 120 m/50 g: 400 (450, 500) g",
        &[
            "S, M, L",
            "A: Umberlin DK; 120 m; 50 g: 400 g, 450 g, 500 g",
        ],
    ),
    (
        "Umberlin DK (120 m/50 g): 8, 9, 10, 11 balls",
        &[
            "1, 2, 3, 4",
            "A: Umberlin DK; 120 m; 50 g: 8 balls, 9 balls, 10 balls, 11 balls",
        ],
    ),
    (
        "Sizes S, M, L, XL. Umberlin DK (120 m/50 g): 8-9-10-11 balls",
        &[
            "S, M, L, XL",
            "A: Umberlin DK; 120 m; 50 g: 8 balls, 9 balls, 10 balls, 11 balls",
        ],
    ),
    (
        "8 [9, 10, 11] balls Umberlin DK, 120 m/50 g, sizes S [M, L, XL]",
        &[
            "S, M, L, XL",
            "A: Umberlin DK; 120 m; 50 g: 8 balls, 9 balls, 10 balls, 11 balls",
        ],
    ),
    (
        "Umberlin DK (120 m/50 g) x 8 (9, 10) balls",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 8 balls, 9 balls, 10 balls",
            "! Not understood, left out: `x`.",
        ],
    ),
    (
        "Hathrel Lace held double with Orrin Mohair: Hathrel Lace (800 m/100 g) 2 (3) skeins",
        &[
            "1, 2",
            "A: Hathrel Lace; 800 m; 100 g; 2: 2 skeins, 3 skeins",
            "! Not understood, left out: `Orrin Mohair`, `Hathrel`.",
        ],
    ),
    (
        "1 x 100 g skein of Hathrel Sock (420 m) for each pair of socks",
        &["one size", "A: Hathrel Sock; 420 m; 100 g: 1 x 100 g skein"],
    ),
    (
        "MC 3 (3, 4) balls, CC 1 ball; Umberlin DK 120 m/50 g",
        &[
            "1, 2, 3",
            "MC: Umberlin DK; 120 m; 50 g: 3 balls, 3 balls, 4 balls",
            "CC: Umberlin DK; 120 m; 50 g: 1 ball, 1 ball, 1 ball",
        ],
    ),
    (
        "Umberlin DK (100% wool; 50 g/120 m) - 10 (11, 12) balls of shade no. 27 (bracken)",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g; 100% wool: 10 balls, 11 balls, 12 balls",
            "A shade 27",
            "! Not understood, left out: `bracken`.",
        ],
    ),
    (
        "#4 Orrin Worsted (220 yds per 100 g), 900 (1000, 1150) yds",
        &[
            "1, 2, 3",
            "A: 220 yds; 100 g: 900 yds, 1000 yds, 1150 yds",
            "! `#4` is not used: number 4 may be a needle, a weight class or a shade; write `US 4`, `class 4` or `shade 4`",
            "! Not understood, left out: `Orrin`.",
        ],
    ),
    (
        "700 (800, 900) m DK weight yarn; sample knitted in Umberlin DK (120 m/50 g), shade Sea",
        &[
            "1, 2, 3",
            "A: 120 m; 50 g: 700 m, 800 m, 900 m",
            "A shade Sea",
            "! Not understood, left out: `sample knitted`, `Umberlin`.",
        ],
    ),
    (
        "Umberlin DK, 120 m/50 g: MC = Moss, 5 (6) balls; CC = Cream, 2 (2) balls",
        &[
            "1, 2",
            "MC: Umberlin DK; 120 m; 50 g: 5 balls, 6 balls",
            "CC: Umberlin DK; 120 m; 50 g: 2 balls, 2 balls",
            "MC shade Moss; CC shade Cream",
        ],
    ),
    (
        "2 (2, 3, 3) skeins Murrow Sock (75% wool/25% nylon; 420 m/100 g), colourway \"low tide\"",
        &[
            "1, 2, 3, 4",
            "A: Murrow Sock; 420 m; 100 g; 75% wool/25% nylon: 2 skeins, 2 skeins, 3 skeins, 3 skeins",
            "A shade low tide",
        ],
    ),
    (
        "5 (6, 7) balls of Umberlin DK (120 m/50 g) in main colour and 2 balls in contrast colour",
        &[
            "1, 2, 3",
            "A: Umberlin DK; 120 m; 50 g: 5 balls, 6 balls, 7 balls",
            "! `2 balls in contrast colour` is not used: a second amount; give each yarn or colour a line of its own",
            "! Not understood, left out: `main colour`.",
        ],
    ),
    (
        "5 (6, 7) 120 m/50 g balls of Umberlin DK",
        &[
            "one size",
            "A: 120 m; 50 g: ",
            "! Not understood, left out: `5`, `6`, `7`, `Umberlin`.",
        ],
    ),
    (
        "120 m/50 g; 5 (6, 7) balls",
        &["1, 2, 3", "A: 120 m; 50 g: 5 balls, 6 balls, 7 balls"],
    ),
    (
        "Umberlin DK, 120 m/50 g 450 (500) g",
        &["1, 2", "A: Umberlin DK; 120 m; 50 g: 450 g, 500 g"],
    ),
];

/// A garment for a child is a child's, whichever word comes first, so that the cautions
/// about cords hold for it (16 CFR 1120 and EN 14682 are about children's clothes).
#[test]
fn a_garment_for_a_child_is_a_childs_garment() {
    for (text, purpose) in [
        ("kid's hooded cardigan, 120 m/50 g", "child's garment"),
        ("cardigan for a child, 120 m/50 g", "child's garment"),
        ("jumper, newborn, 120 m/50 g", "baby"),
        ("hat for children, pyjamas, 120 m/50 g", "child's nightwear"),
    ] {
        let read = crate::desk::ask(&["read", text]);
        assert_eq!(read["purpose"], purpose, "{text}");
        let wants = [
            "check",
            "--wants",
            text,
            "--need",
            "600 m",
            "--yarn",
            "110 m/50 g, wool",
        ];
        let check = crate::desk::ask(&wants);
        assert!(check["cautions"].to_string().contains("cords"), "{text}");
    }
    // Two things that are not one are still told.
    let read = crate::desk::ask(&["read", "socks, hot pad, 120 m/50 g"]);
    assert!(!read["not_read"].as_array().unwrap().is_empty(), "{read}");
}

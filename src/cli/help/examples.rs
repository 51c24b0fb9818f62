//! Two examples for each command. A test runs them all, in a folder that holds the
//! sample stash, with its records.

/// A command, and what comes after the program's name in each example.
pub(super) const EXAMPLES: [(&str, &[&str]); 77] = [
    ("demo", &["demo", "demo --json"]),
    (
        "check",
        &[
            r#"check --pattern Skerrablet --yarn "Umberlin DK" --have "430 g""#,
            r#"check --wants "120 m/50 g, 22 sts / 10 cm, wool" --need "900 m" --yarn "50 g = 125 m""#,
            r#"check --pattern Skerrablet --size M --yarn Drindle --yarn "Kettrine Sock""#,
            r#"check --pattern Jotterhelm --with MC=Brockavane:ink --with "CC=Oskirry Aran""#,
        ],
    ),
    (
        "find",
        &[
            "find --pattern Skerrablet --size M --from stash",
            r#"find --pattern Skerrablet --size M --without mohair --max-cost "80 EUR" --top 3"#,
            "find --pattern Skerrablet --size M --together 2",
            "find --pattern Skerrablet --size M --from stash --together 3",
        ],
    ),
    (
        "plan",
        &[
            "plan Skerrablet:M Jotterhelm:adult",
            "plan Skerrablet:M --one-lot --max-cost \"20 EUR\"",
            "plan --reserve",
        ],
    ),
    (
        "suits",
        &[
            r#"suits "Hathrel DK""#,
            r#"suits "50 g = 125 m, 100% wool, plied, 22 sts / 10 cm""#,
        ],
    ),
    (
        "replace",
        &[
            r#"replace "Grundlin DK""#,
            r#"replace Brockavane --without mohair --top 1"#,
        ],
    ),
    (
        "stripes",
        &[
            "stripes --pattern Skerrablet --without mohair",
            r#"stripes "Umberlin DK" "Grundlin DK:moss" --pattern Skerrablet --size M"#,
        ],
    ),
    (
        "skeins",
        &[
            r#"skeins --need "900 m" --put-up "120 m/50 g""#,
            r#"skeins --need "6 (7, 8) skeins" --reference "125 m/50 g" --put-up "100 m/50 g""#,
        ],
    ),
    (
        "convert",
        &[
            r#"convert "230 m/100 g""#,
            r#"convert "2/14 Nm" --strands 2 --basis "50 g""#,
        ],
    ),
    (
        "read",
        &[
            r#"read "50 g = 125 m, 75% wool 25% nylon, 4 mm""#,
            r#"read "9 balls of 50 g = 125 m each, DK, 22 sts x 30 rows / 10 cm""#,
        ],
    ),
    (
        "size",
        &[
            r#"size --stitches 200 --rows 168 --gauge "22 sts x 30 rows / 10 cm""#,
            r#"size --stitches 90 --gauge "18 sts / 4 in""#,
        ],
    ),
    (
        "needs",
        &[
            "needs sample-stash/weighed.toml",
            "needs sample-stash/weighed.toml --pattern jumper.toml --purpose garment --fit relaxed",
        ],
    ),
    (
        "last",
        &[
            r#"last --before "61.5 g" --left "52.3 g" --rows 20 --rows-left 60"#,
            r#"last --pieces sample-stash/weighed.toml --size M --done "body 166 g, 1 sleeve" --left "120 g""#,
            r#"last --left "40 g" --row-takes "0.7 g" --rows-left 50 --keep "5 g""#,
        ],
    ),
    (
        "unlabelled",
        &[
            r#"unlabelled --mass "312 g" --length "20 m" --weighs "5.3 g""#,
            r#"unlabelled --wraps 32 --over "2 in""#,
            r#"unlabelled --mass "312 g" --length "20 m" --weighs "5.3 g" --keep "grey cone" --shade grey"#,
        ],
    ),
    (
        "gauge",
        &[
            r#"gauge --pattern Skerrablet --own-gauge "21 sts x 28 rows / 10 cm" --size M"#,
            r#"gauge --pattern Skerrablet --own-gauge "20 sts x 27 rows / 10 cm" --yarn "Hathrel DK" --keep size"#,
            r#"gauge --pattern Skerrablet --own-gauge "20 sts x 27 rows / 10 cm" --yarn "Kettrine Sock" --held-with Mizzlet"#,
        ],
    ),
    (
        "sheet",
        &[
            "sheet --pattern Skerrablet --top 2",
            r#"sheet --pattern Jotterhelm --with "MC=Brockavane" --html"#,
        ],
    ),
    (
        "lint",
        &[
            "lint sample-stash/patterns/skerrablet.toml",
            "lint --pattern Skerrablet",
        ],
    ),
    ("yarn list", &["yarn list", "yarn list DK --top 5"]),
    (
        "yarn show",
        &[r#"yarn show "Umberlin DK""#, "yarn show 2900328717698"],
    ),
    (
        "yarn add",
        &[
            r#"yarn add --maker Quenby --name Sandgate "50 g = 125 m, 100% wool, 4 mm""#,
            r#"yarn add --maker Quenby --name Marram "100 g = 350 m, 75% wool 25% nylon""#,
        ],
    ),
    (
        "yarn edit",
        &[
            r#"yarn edit "Umberlin DK" --price "4.20 EUR""#,
            r#"yarn edit "Umberlin DK" --low 6"#,
            r#"yarn edit "Umberlin DK" --discontinued yes --notes "last seen in May""#,
        ],
    ),
    (
        "yarn merge",
        &[
            r#"yarn merge "Grundlin DK" "Umberlin DK""#,
            r#"yarn merge Snorrick Brockavane --once "tidy 1""#,
        ],
    ),
    (
        "yarn shade",
        &[
            r#"yarn shade "Umberlin DK" oat "pale oat""#,
            r#"yarn shade "Palvetta DK" ember ember-red"#,
        ],
    ),
    (
        "yarn remove",
        &[
            "yarn remove Nubrielle",
            r#"yarn remove "Snorrick" --no-backup"#,
        ],
    ),
    ("stock list", &["stock list", r#"stock list "Grundlin DK""#]),
    ("stock ledger", &["stock ledger 2", "stock ledger 1 --json"]),
    (
        "stock buy",
        &[
            r#"stock buy "Umberlin DK" "10 balls" --shade slate --lot 4711"#,
            r#"stock buy "Grundlin DK" "340 g" --place "blue trunk""#,
        ],
    ),
    (
        "stock edit",
        &[
            "stock edit 6 --colour navy",
            r##"stock edit 2 --colour "#5b6b3a" --place "blue trunk""##,
        ],
    ),
    (
        "stock move",
        &[
            r#"stock move 6 "blue trunk""#,
            r#"stock move 6 window "1 ball""#,
        ],
    ),
    (
        "stock sell",
        &[
            r#"stock sell 6 "2 balls" --for Anna"#,
            r#"stock sell "Hathrel DK" 3"#,
        ],
    ),
    (
        "stock count",
        &[
            "stock count sample-stash/count.txt",
            r#"stock count sample-stash/count.txt --place loft --book --once "count of May""#,
        ],
    ),
    (
        "stock reservations",
        &["stock reservations", "stock reservations --json"],
    ),
    ("stock low", &["stock low", "stock low 5"]),
    (
        "stock use",
        &[
            r#"stock use 6 "2 balls" --for "a hat""#,
            r#"stock use 6 "35 g""#,
        ],
    ),
    (
        "stock weigh",
        &[
            r#"stock weigh 6 "173.5 g""#,
            r#"stock weigh 6 "2 balls + 31 g""#,
        ],
    ),
    (
        "stock reserve",
        &[
            r#"stock reserve 6 "3 balls" --for "a scarf""#,
            r#"stock reserve 6 "100 g""#,
        ],
    ),
    (
        "stock release",
        &[r#"stock release 6 "1 ball""#, r#"stock release 6 "50 g""#],
    ),
    (
        "swatch add",
        &[
            r#"swatch add "Umberlin DK" --needle "4 mm" --after "21 sts x 28 rows / 10 cm""#,
            r#"swatch add "Drindle" --held-with "Mizzlet" --needle "US 6" --after "21 sts / 10 cm""#,
        ],
    ),
    (
        "swatch list",
        &[
            r#"swatch list "Umberlin DK""#,
            r#"swatch list "Hathrel DK" --json"#,
        ],
    ),
    (
        "swatch edit",
        &[
            r#"swatch edit 1 --notes "blocked hard""#,
            r#"swatch edit 1 --needle "4 mm""#,
        ],
    ),
    ("swatch remove", &["swatch remove 1", "swatch remove 2"]),
    (
        "pattern add",
        &[
            r#"pattern add Orrinhap --purpose accessory --wants "Umberlin DK (100% wool; 120 m / 50 g), 5 (6, 7) balls; 22 sts to 10 cm on 4 mm; sizes S (M, L)""#,
            r#"pattern add Dunlin --purpose garment --wants "Umberlin DK, 120 m / 50 g, 22 sts to 10 cm" --sizes "S, M, L" --needs "10, 11, 12 balls""#,
        ],
    ),
    ("pattern list", &["pattern list", "pattern list --json"]),
    (
        "pattern show",
        &[
            "pattern show Skerrablet",
            "pattern show Jotterhelm --markdown",
        ],
    ),
    (
        "pattern rename",
        &[
            r#"pattern rename Skerrablet "Skerrablet jumper""#,
            "pattern rename Hobplate Hobpad",
        ],
    ),
    (
        "pattern remove",
        &[
            "pattern remove Hobplate",
            "pattern remove Mirrowhist --no-backup",
        ],
    ),
    (
        "import yarns",
        &[
            "import yarns sample-stash/yarns.csv",
            "import yarns sample-stash/yarns.csv --update",
        ],
    ),
    (
        "import stock",
        &[
            "import stock sample-stash/stock.csv",
            "import stock sample-stash/stock.csv --update",
        ],
    ),
    (
        "import swatches",
        &[
            "import swatches swatches.csv",
            r#"import swatches swatches.csv --once "March""#,
        ],
    ),
    (
        "import projects",
        &[
            "import projects projects.csv",
            "import projects projects.csv --update",
        ],
    ),
    (
        "import reservations",
        &[
            "import reservations reservations.csv",
            r#"import reservations reservations.csv --once "March""#,
        ],
    ),
    (
        "project add",
        &[
            "project add Skerrablet:S --rank 1",
            r#"project add Mirrowhist --name "Shawl for Mum" --without mohair"#,
        ],
    ),
    ("project list", &["project list", "project list --json"]),
    (
        "project move",
        &["project move 2 1", r#"project move "Skerrablet M" 2"#],
    ),
    (
        "project edit",
        &[
            r#"project edit 1 --name "For Ada""#,
            r#"project edit "Skerrablet M" --size L --without mohair"#,
        ],
    ),
    (
        "project pin",
        &[
            r#"project pin "Skerrablet M" "Umberlin DK""#,
            r#"project pin 2 "Umberlin DK" --for MC --shade heather"#,
        ],
    ),
    (
        "project unpin",
        &["project unpin 1", "project unpin 2 --for MC"],
    ),
    (
        "project remove",
        &[
            r#"project remove "Skerrablet M""#,
            "project remove 2 --no-backup",
        ],
    ),
    (
        "import table",
        &[
            "import table sample-stash/supplier.csv --maker Zellandine",
            "import table sample-stash/supplier.csv --maker Zellandine --layout supplier --yes",
        ],
    ),
    (
        "import layouts",
        &["import layouts", "import layouts --json"],
    ),
    (
        "import pattern",
        &[
            "import pattern sample-stash/patterns/skerrablet.toml",
            "import pattern sample-stash/patterns/hobplate.toml --update",
        ],
    ),
    (
        "export yarns",
        &["export yarns", "export yarns yarns.csv --replace"],
    ),
    (
        "export stock",
        &["export stock", "export stock stock.xlsx --replace"],
    ),
    (
        "export swatches",
        &["export swatches", "export swatches swatches.csv --replace"],
    ),
    (
        "export projects",
        &["export projects", "export projects projects.csv --replace"],
    ),
    (
        "export reservations",
        &[
            "export reservations",
            "export reservations reservations.xlsx --replace",
        ],
    ),
    (
        "export pattern",
        &[
            "export pattern Skerrablet",
            "export pattern Skerrablet jumper.toml --replace",
        ],
    ),
    ("serve", &["serve", "serve --port 8080"]),
    (
        "backup",
        &["backup backup-march.db", "backup backup-april.db"],
    ),
    (
        "restore",
        &["restore backup-march.db", "restore backup-april.db"],
    ),
    (
        "history",
        &[r#"history yarn "Umberlin DK""#, "history lot 6"],
    ),
    ("undo", &["undo", "undo --list"]),
    ("verify", &["verify", "verify --db backup-march.db"]),
    ("help", &["help stock buy", "help units"]),
    ("schema", &["schema check", "schema stock list"]),
    ("completions", &["completions bash", "completions fish"]),
    ("man", &["man .", "man . --json"]),
];

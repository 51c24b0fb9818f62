//! The form of the question.

use crate::{
    app::PatternChoice,
    web::{
        calculators::chance,
        form::{Choice, Field, Form, Group, Head, Kind},
        pattern_choice::with_sizes,
    },
};

/// The form, with every pattern and each of its sizes to choose from.
pub(super) fn question(patterns: &[PatternChoice]) -> Form {
    let mut offered = Field::new("offered", "Look at", "", Kind::Radio(OFFERED.to_vec()));
    offered.value = "one".to_owned();
    let yarn = Field::new(
        "yarn",
        "Name or barcode",
        "Maker and name, or the digits under the barcode: a scanner can type them here.",
        Kind::Names,
    );
    let band = Field::new(
        "band",
        "Or what its band says",
        "As in: 50 g = 125 m, 100% wool, DK, 22 sts x 30 rows / 10 cm",
        Kind::Area(2),
    );
    Form::get("ask", "/answer", "Answer")
        .with(Group::new(
            Head::Legend("What the pattern wants".to_owned()),
            wanted(patterns),
        ))
        .with(Group::new(
            Head::Legend("What is offered".to_owned()),
            vec![offered, yarn, band],
        ))
        .with(Group::new(
            Head::Folded("How strictly, and other settings".to_owned()),
            settings(),
        ))
}

const OFFERED: [(&str, &str); 3] = [
    ("one", "One yarn, named below"),
    ("stash", "All that is free in the stash"),
    ("catalogue", "Every yarn that is kept"),
];

fn wanted(patterns: &[PatternChoice]) -> Vec<Field> {
    let wants = Field::new(
        "wants",
        "Or what the pattern says of its yarn",
        "Its materials line and gauge, as printed: 9 balls of 50 g = 125 m each, 100% wool, DK, 22 sts x 30 rows / 10 cm",
        Kind::Area(3),
    );
    let need = Field::line(
        "need",
        "How much it takes, where the text does not say",
        "As in: 900 m, or 6 (7, 8) skeins",
    );
    let mut fields = Vec::new();
    if !patterns.is_empty() {
        fields.push(Field::new(
            "pattern",
            "A kept pattern and size",
            "",
            Kind::Choose(with_sizes("None: the text below", patterns)),
        ));
    }
    fields.extend([wants, need]);
    fields
}

fn choose(name: &str, label: &str, words: &[&str]) -> Field {
    let none = Choice::new("", "As the pattern says");
    let words = words.iter().map(|word| Choice::new(*word, *word));
    Field::new(
        name,
        label,
        "",
        Kind::Choose(std::iter::once(none).chain(words).collect()),
    )
}

fn settings() -> Vec<Field> {
    let mut fields = strictness();
    fields.extend(chance::fields());
    fields
}

fn strictness() -> Vec<Field> {
    let keep = vec![
        Choice::new("", "Not said"),
        Choice::new("size", "The finished size; stitch counts are reworked"),
        Choice::new("counts", "The stitch counts; the finished size changes"),
    ];
    vec![
        Field::line("for", "Only this yarn of the pattern", "Its key, as in: MC"),
        Field::line(
            "tolerance",
            "How far length per mass may lie",
            "As in: 8%, or 15 m/100 g",
        ),
        Field::line("margin", "What to buy beyond the need", "As in: 10%"),
        choose(
            "fit",
            "How close it sits",
            &["fitted", "relaxed", "unfitted"],
        ),
        choose("purpose", "What it is for", &PURPOSES),
        choose(
            "care",
            "The washing it must take",
            &["machine wash", "hand wash", "dry clean"],
        ),
        Field::line("strands", "Strands of the yarn held together", "As in: 2"),
        Field::line(
            "own-gauge",
            "The gauge you measured of this yarn, washed",
            "As in: 20 sts x 28 rows / 10 cm",
        ),
        Field::new(
            "keep",
            "What you keep at that gauge",
            "",
            Kind::Choose(keep),
        ),
        Field::new(
            "with-reserved",
            "Count reserved yarn as there",
            "",
            Kind::Tick,
        ),
    ]
}

const PURPOSES: [&str; 7] = [
    "garment",
    "accessory",
    "home",
    "hot pad",
    "child's garment",
    "child's nightwear",
    "baby",
];

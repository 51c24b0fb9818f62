//! The main job on the sample stash, which is invented and part of the program.

use super::{
    AppError, BestRequest, CheckAnswer, CheckRequest, FindAnswer, FindRequest, QuestionRequest,
    Records, TableKind, check, find, import_patterns, import_table,
};

const YARNS: &str = include_str!("../../sample-stash/yarns.csv");
const STOCK: &str = include_str!("../../sample-stash/stock.csv");
const PATTERNS: [(&str, &str); 4] = [
    (
        "skerrablet.toml",
        include_str!("../../sample-stash/patterns/skerrablet.toml"),
    ),
    (
        "jotterhelm.toml",
        include_str!("../../sample-stash/patterns/jotterhelm.toml"),
    ),
    (
        "mirrowhist.toml",
        include_str!("../../sample-stash/patterns/mirrowhist.toml"),
    ),
    (
        "hobplate.toml",
        include_str!("../../sample-stash/patterns/hobplate.toml"),
    ),
];

/// Three questions about the sample stash, answered.
#[derive(Debug)]
pub struct Demo {
    /// A knitter's: what in the cupboard could become a jumper?
    pub knitter: Vec<FindAnswer>,
    /// A customer's: will this yarn of the same class do?
    pub shop: CheckAnswer,
    /// One that must be refused: acrylic for a pad for hot dishes.
    pub hazard: CheckAnswer,
}

/// Imports the sample stash into records that are gone with the program, and
/// asks three questions.
pub fn demo() -> Result<Demo, AppError> {
    let records = sample()?;
    let yarn = |question, yarn: &str| CheckRequest {
        question,
        yarn: vec![yarn.to_owned()],
        ..CheckRequest::default()
    };
    let mut jumper = QuestionRequest::about("Skerrablet");
    jumper.of.size = Some("M".to_owned());
    let cupboard = FindRequest {
        question: jumper.clone(),
        best: BestRequest {
            from: Some("stash".to_owned()),
            top: Some("3".to_owned()),
        },
        ..FindRequest::default()
    };
    Ok(Demo {
        knitter: find(&records, &cupboard)?,
        shop: check(&records, &yarn(jumper, "Umberlin DK"))?,
        hazard: check(
            &records,
            &yarn(QuestionRequest::about("Hobplate"), "Hobbelin"),
        )?,
    })
}

fn sample() -> Result<Records, AppError> {
    let mut records = Records::in_memory()?;
    take_sample(&mut records)?;
    Ok(records)
}

/// Whether nothing is kept yet: neither a yarn nor a pattern.
pub fn is_new(records: &Records) -> Result<bool, AppError> {
    let reader = records.store()?.reader()?;
    Ok(reader.count_yarns()? == 0 && reader.patterns()?.is_empty())
}

/// Imports the sample stash, so that somebody can try the program with it.
pub fn take_sample(records: &mut Records) -> Result<(), AppError> {
    import_table(
        records,
        TableKind::Yarns,
        "yarns.csv",
        YARNS.as_bytes(),
        false,
        |_| (),
    )?;
    import_table(
        records,
        TableKind::Stock,
        "stock.csv",
        STOCK.as_bytes(),
        false,
        |_| (),
    )?;
    let files = PATTERNS.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    import_patterns(records, &files, false)?;
    Ok(())
}

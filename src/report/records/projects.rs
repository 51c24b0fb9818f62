//! Projects, listed and changed, and what is reserved for them.

use crate::{
    app::{PlanReserved, ProjectChange, ProjectDeed, ProjectLine, ProjectList, Reservation},
    record::{Pin, Project},
    report::{
        Notice, Page, Render, Style, Table,
        cover::ONE_SIZE,
        json::{fields_of, list},
        listing::{ListFields, ShortAnswer, list_fields, list_page},
        plan::ReservedFields,
    },
    words::{and_list, joined},
};

fields_of! {
    /// A project, in the order in which they matter.
    ProjectRow(line: &ProjectLine) where project = &line.project, pattern = line.pattern.as_deref(); {
        /// Its number.
        number: i64 = line.number,
        /// Its place: 1 matters most.
        rank: usize = line.rank,
        /// Name by which other commands find it.
        name: String = project.name.to_string(),
        /// Its pattern.
        pattern: String = pattern.unwrap_or(project.pattern_name.as_str()).to_owned(),
        /// Whether the pattern was removed.
        pattern_removed: bool = pattern.is_none(),
        /// Its size.
        size: String = project.size.clone(),
        /// Fibres that it must not have.
        without: String = project.without.clone(),
        /// Fibres that alone it may have.
        only: String = project.only.clone(),
        /// How it is to be washed.
        care: String = project.care.clone(),
        /// The most to spend on it.
        max_cost: String = project.max_cost.clone(),
        /// Whether nothing is to be bought for it.
        enough: bool = project.enough,
        /// Whether each of its yarns must be of one dye lot.
        one_lot: bool = project.one_lot,
        /// Words of a shade.
        shade: String = project.shade.clone(),
        /// Words of a place.
        place: String = project.place.clone(),
        /// Yarns that you chose.
        pins: Vec<PinFields> = list(&project.pins, PinFields::of),
        /// What is reserved for it.
        reserved: Vec<ReservedFields> = list(&line.reserved, ReservedFields::of),
    }
}

fields_of! {
    /// A yarn that you chose.
    PinFields(pin: &Pin) {
        /// Key of the pattern's yarn.
        role: String = pin.role.to_string(),
        /// The yarn.
        yarn: String = pin.yarn_name.clone(),
        /// The shade.
        shade: Option<String> = pin.shade.clone(),
    }
}

impl Render for ProjectList {
    type Fields = ListFields<ProjectRow>;

    fn fields(&self) -> Self::Fields {
        list_fields(&self.0, ProjectRow::of)
    }

    fn page(&self, _: &Style) -> Page {
        let table = Table::of(&self.0)
            .right("no", |line| line.rank.to_string())
            .left("project", |line| line.project.name.to_string())
            .left("pattern", pattern_words)
            .left("size", |line| {
                Some(line.project.size.as_str()).filter(|size| *size != ONE_SIZE)
            })
            .left("wanted", |line| project_wishes(&line.project))
            .left("yarn you chose", |line| {
                joined(line.project.pins.iter().map(pin_words), "; ")
            })
            .left("reserved", |line| {
                joined(line.reserved.iter().map(reservation_words), "; ")
            });
        let empty = "You have no projects yet: add one with `project add PATTERN:SIZE`.";
        list_page(
            "Your projects, the one that matters most first",
            table,
            empty,
        )
    }
}

fn pattern_words(line: &ProjectLine) -> String {
    match &line.pattern {
        Some(name) => name.clone(),
        None => format!("{} (removed)", line.project.pattern_name),
    }
}

/// `without wool, hand wash, at most 40 EUR`.
pub(in crate::report) fn project_wishes(project: &Project) -> String {
    let said = |before: &str, text: &str| match text {
        "" => None,
        text => Some([before, text].concat()),
    };
    let flag = |is_wished: bool, words: &str| is_wished.then(|| words.to_owned());
    let wishes = [
        said("without ", &project.without),
        said("only ", &project.only),
        said("", &project.care),
        said("at most ", &project.max_cost),
        flag(project.enough, "only from your stash"),
        flag(project.one_lot, "one dye lot a yarn"),
        said("shade ", &project.shade),
        said("from ", &project.place),
    ];
    joined(wishes.into_iter().flatten(), ", ")
}

/// `Umberlin DK in moss for MC`.
fn pin_words(pin: &Pin) -> String {
    let shade = pin.shade.as_ref();
    let shade = shade.map_or(String::new(), |shade| format!(" in {shade}"));
    format!("{}{shade} for {}", pin.yarn_name, pin.role)
}

/// `7 skeins of Ferrivale, Umberlin DK, moss, lot A417`.
pub(in crate::report) fn reservation_words(reserved: &Reservation) -> String {
    format!("{} of {}", reserved.amount, reserved.title)
}

impl ShortAnswer for ProjectChange {
    fn notice(&self, _: &Style) -> Notice {
        match self {
            Self::Kept {
                deed,
                project,
                rank,
                of,
                has_sizes,
            } => kept((*deed, project), (*rank, *of), *has_sizes),
            Self::Removed { name, released } => removed(name, released),
            Self::PlanReserved(done) => plan_reserved(done),
        }
    }
}

/// A project that was added or changed.
fn kept(
    (deed, project): (ProjectDeed, &Project),
    (rank, of): (usize, usize),
    has_sizes: bool,
) -> Notice {
    let name = &project.name;
    let done = match deed {
        ProjectDeed::Added => format!("Project {name} added"),
        ProjectDeed::Moved => format!("Project {name} moved to place {rank} of {of}"),
        ProjectDeed::Edited => format!("Project {name} changed"),
        ProjectDeed::Pinned => format!("Yarn chosen for {name}"),
        ProjectDeed::Unpinned => format!("The plan chooses the yarn for {name}"),
    };
    let notice = Notice::of(done).detail("pattern", project.pattern_name.as_str());
    let notice = match has_sizes {
        true => notice.detail("size", project.size.as_str()),
        false => notice,
    };
    let notice = notice.detail("place", format!("{rank} of {of}"));
    let notice = match project_wishes(project) {
        none if none.is_empty() => notice,
        wishes => notice.detail("wanted", wishes),
    };
    let pins = project.pins.iter();
    pins.fold(notice, |notice, pin| {
        notice.detail("yarn you chose", pin_words(pin))
    })
}

/// A project that was removed, and what is free again.
fn removed(name: &str, released: &[Reservation]) -> Notice {
    let notice = Notice::of(format!("Project {name} removed"));
    released.iter().fold(notice, |notice, released| {
        notice.detail("released", reservation_words(released))
    })
}

/// What is reserved for a plan, and what is free again.
fn plan_reserved(done: &PlanReserved) -> Notice {
    let mut names: Vec<&str> = Vec::new();
    for reserved in &done.reserved {
        if !names.contains(&reserved.what_for.as_str()) {
            names.push(&reserved.what_for);
        }
    }
    let said = match names.as_slice() {
        [] => "Nothing is reserved: your stash is enough for none of your projects".to_owned(),
        names => format!("Yarn reserved for {}", and_list(names)),
    };
    let notice = done.reserved.iter().fold(Notice::of(said), |notice, it| {
        notice.detail(it.what_for.as_str(), reservation_words(it))
    });
    let notice = done.released.iter().fold(notice, |notice, it| {
        let was = format!("{}, was for {}", reservation_words(it), it.what_for);
        notice.detail("released", was)
    });
    let left_out = (!done.left_out.is_empty()).then(|| {
        let names = and_list(&done.left_out);
        match done.left_out.len() {
            1 => format!("your stash alone is not enough for {names}: nothing is reserved for it"),
            _ => {
                format!("your stash alone is not enough for {names}: nothing is reserved for them")
            }
        }
    });
    notice.knowing(left_out)
}

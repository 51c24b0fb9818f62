//! A file of samples and pieces from a few answers: one kind of piece, weighed in
//! one size.

use super::NeedsTemplateRequest;
use crate::{
    app::{AppError, Fault, FaultKind, InputReader, TextFault, input::is_given},
    files::{
        CellFault, FileError,
        needs_file::{NeedsTemplate, read_needs_file, write_template},
    },
    label::cells,
    words::fold,
};
use std::collections::HashSet;

/// The text of the file, or all that is wrong with the answers. What may differ by
/// size has one line for each size, in their order, or one for all.
pub fn needs_template(request: &NeedsTemplateRequest) -> Result<String, AppError> {
    let mut reader = InputReader::default();
    let sizes = read_pattern(&mut reader, request);
    read_piece(&mut reader, request, sizes);
    read_weights(&mut reader, request);
    request.stated.read(&mut reader);
    reader.check()?;
    let text = write_template(&template(request));
    match read_needs_file("", text.as_bytes()) {
        Ok(_) => Ok(text),
        Err(FileError::Faults { faults, .. }) => {
            Err(AppError::Faults(faults.into_iter().map(fault).collect()))
        }
        Err(other) => Err(other.into()),
    }
}

/// Looks through name, sizes, yarn and gauge; gives how many sizes there are.
fn read_pattern(reader: &mut InputReader, request: &NeedsTemplateRequest) -> usize {
    reader.must_fill("pattern", &request.pattern);
    let sizes = lines(&request.sizes);
    let mut seen = HashSet::new();
    for size in sizes.iter().filter(|size| !seen.insert(fold(size))) {
        reader.fault("sizes", TextFault::RepeatedName(size.clone()));
    }
    if sizes.len() > 1 {
        reader.must_fill("size", &request.size);
    }
    let put_up = reader.required("put-up", &request.put_up, cells::put_up);
    if put_up.is_some_and(|put_up| put_up.grist().is_none()) {
        reader.fault("put-up", FaultKind::NoLengthPerMass);
    }
    reader.optional("gauge", &request.gauge, cells::gauge);
    sizes.len().max(1)
}

fn read_piece(reader: &mut InputReader, request: &NeedsTemplateRequest, sizes: usize) {
    reader.must_fill("width", &request.width);
    reader.must_fill("height", &request.height);
    for (field, text) in [
        ("width", &request.width),
        ("top", &request.top),
        ("height", &request.height),
    ] {
        let lines = lines(text);
        if lines.len() > 1 && lines.len() != sizes {
            let lines = lines.len();
            reader.fault(field, TextFault::LinesForSizes { lines, sizes });
        }
        for line in lines {
            reader.read(field, cells::length(&line));
        }
    }
}

/// The finished pieces were weighed, or the yarn before and after.
fn read_weights(reader: &mut InputReader, request: &NeedsTemplateRequest) {
    let [mass, before, after] = [&request.mass, &request.before, &request.after].map(is_given);
    match (mass, before, after) {
        (false, false, false) => reader.fault("mass", FaultKind::Missing),
        (false, true, false) => reader.fault("before", FaultKind::OnlyWith("after")),
        (false, false, true) => reader.fault("after", FaultKind::OnlyWith("before")),
        (true, true, _) => reader.fault("before", FaultKind::NotWith("mass")),
        (true, false, true) => reader.fault("after", FaultKind::NotWith("mass")),
        (true, false, false) | (false, true, true) => {}
    }
    for (field, text) in [
        ("mass", &request.mass),
        ("before", &request.before),
        ("after", &request.after),
    ] {
        reader.optional(field, text.as_deref(), cells::mass);
    }
}

/// The lines of a field that hold anything.
fn lines(text: &Option<String>) -> Vec<String> {
    let lines = text.iter().flat_map(|text| text.lines()).map(str::trim);
    let filled = lines.filter(|line| !line.is_empty());
    filled.map(str::to_owned).collect()
}

fn template(request: &NeedsTemplateRequest) -> NeedsTemplate {
    let text = |text: &Option<String>| {
        let text = text.as_deref().map_or("", str::trim);
        text.to_owned()
    };
    NeedsTemplate {
        pattern: text(&request.pattern),
        sizes: lines(&request.sizes),
        gauge: text(&request.gauge),
        put_up: text(&request.put_up),
        shape: request.shape.name(),
        width: lines(&request.width),
        top: lines(&request.top),
        height: lines(&request.height),
        times: text(&request.times),
        size: text(&request.size),
        before: text(&request.before),
        after: text(&request.after),
        mass: text(&request.mass),
    }
}

/// A fault of the text, as one of the field that it came from.
fn fault(error: CellFault) -> Fault {
    let key = error.field.rsplit(", ").next().map(str::to_owned);
    let field = match key.as_deref() {
        Some("put_up") => "put-up",
        Some("around") => "width",
        Some(key) => key,
        None => "",
    };
    Fault::new(field, TextFault::InFile(error))
}

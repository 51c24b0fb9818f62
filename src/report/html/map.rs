//! The map of yarns as a picture: the pattern as a cross, its limits as a box, each yarn
//! as a mark that leads to its page. A circle lies within the limits, a triangle
//! outside; a filled one is in the stash. Those that are both are named, right beside
//! their marks, where a name covers neither another nor a mark; the others say their
//! names when pointed at, and in the table. A key says what each mark means.

use super::{
    escaped,
    map_names::{Label, Room},
};
use crate::{
    report::picture::{Map, Mark, Sample, shown},
    words::number,
};

/// The picture, in its own units, and where its frame begins and ends.
const WIDTH: f64 = 340.0;
const HEIGHT: f64 = 300.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 332.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 258.0;
const FRAME: Room = Room {
    left: LEFT,
    top: TOP,
    right: RIGHT,
    bottom: BOTTOM,
};
/// Half of a mark.
const MARK: f64 = 7.0;
/// Yarns that are named at most.
const NAMED: usize = 6;
/// Half of an arm of the cross, along and across.
const ARM: [f64; 2] = [18.0, 3.0];

/// Places of a measure along a side of the frame.
#[derive(Debug, Clone, Copy)]
struct Axis {
    from: f64,
    to: f64,
    ends: [f64; 2],
}

impl Axis {
    /// As far as the marks reach, but no less than twice and no more than four times the
    /// tolerance either way.
    fn around(
        (wanted, tolerance): (f64, f64),
        marks: impl Iterator<Item = f64>,
        ends: [f64; 2],
    ) -> Self {
        let tolerance = tolerance.max(wanted * 0.02);
        let most = 4.0 * tolerance;
        let far = marks.map(|at| (at - wanted).abs() * 1.05);
        let reach = far
            .filter(|off| *off <= most)
            .fold(2.0 * tolerance, f64::max);
        Self {
            from: (wanted - reach).max(0.0),
            to: wanted + reach,
            ends,
        }
    }

    fn holds(&self, value: f64) -> bool {
        (self.from..=self.to).contains(&value)
    }

    fn place(&self, value: f64) -> f64 {
        let [begin, end] = self.ends;
        begin
            + (value.clamp(self.from, self.to) - self.from) / (self.to - self.from) * (end - begin)
    }

    /// Round values, four to nine of them.
    fn ticks(&self) -> Vec<f64> {
        let rough = (self.to - self.from) / 8.0;
        let power = 10.0_f64.powf(rough.log10().floor());
        let steps = [1.0, 2.0, 5.0, 10.0].map(|step| step * power);
        let step = steps.into_iter().find(|step| *step >= rough);
        let step = step.unwrap_or(power * 10.0);
        let first = (self.from / step).ceil();
        let ticks = (0..12_u8).map(|nth| (first + f64::from(nth)) * step);
        ticks.take_while(|tick| *tick <= self.to).collect()
    }
}

/// The frame, and the marks that lie within it.
struct Drawing<'m> {
    map: &'m Map,
    axes: [Axis; 2],
    marks: Vec<(&'m Mark, [f64; 2])>,
}

impl<'m> Drawing<'m> {
    fn new(map: &'m Map) -> Self {
        let ([wanted, stitches], [off, off_up]) = (map.wanted, map.tolerance);
        let across = map.marks.iter().map(|mark| {
            let [across, _] = mark.at;
            across
        });
        let up = map.marks.iter().map(|mark| {
            let [_, up] = mark.at;
            up
        });
        let axes = [
            Axis::around((wanted, off), across, [LEFT, RIGHT]),
            Axis::around((stitches, off_up), up, [BOTTOM, TOP]),
        ];
        let [across, up] = axes;
        let held = |mark: &&Mark| {
            let [x, y] = mark.at;
            across.holds(x) && up.holds(y)
        };
        let place = |mark: &'m Mark| {
            let [x, y] = mark.at;
            (mark, [across.place(x), up.place(y)])
        };
        let marks = map.marks.iter().filter(held).map(place).collect();
        Self { map, axes, marks }
    }

    fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [across, up] = self.axes;
        [across.place(x), up.place(y)]
    }

    /// Names of those within the limits and in the stash, none over another or over a
    /// mark; where the stash has none, of those within.
    fn labels(&self) -> Vec<Label> {
        let marks = self
            .marks
            .iter()
            .map(|(_, at)| Room::around(*at, MARK + 1.0));
        let mut taken: Vec<Room> = marks.chain(self.arms()).collect();
        let lines = self.sides();
        let has_both = |mark: &Mark| mark.is_within && mark.in_stash;
        let is_any = self.marks.iter().any(|(mark, _)| has_both(mark));
        let is_named = |mark: &Mark| mark.is_within && (mark.in_stash || !is_any);
        let mut labels: Vec<Label> = Vec::new();
        for (mark, at) in self.marks.iter().filter(|(mark, _)| is_named(mark)) {
            if labels.len() == NAMED {
                break;
            }
            if let Some(label) = Label::beside((&mark.name, *at), &FRAME, &taken, &lines) {
                taken.push(label.room);
                labels.push(label);
            }
        }
        labels
    }

    /// The room of the cross.
    fn arms(&self) -> [Room; 2] {
        let [x, y] = self.place(self.map.wanted);
        let [along, across] = ARM;
        [[along, across], [across, along]].map(|[wide, high]| Room {
            left: x - wide,
            top: y - high,
            right: x + wide,
            bottom: y + high,
        })
    }

    /// The ends of the box: left, top, right and bottom.
    fn corners(&self) -> [f64; 4] {
        let ([x, y], [off, off_up]) = (self.map.wanted, self.map.tolerance);
        let [left, bottom] = self.place([x - off, y - off_up]);
        let [right, top] = self.place([x + off, y + off_up]);
        [left, top, right, bottom]
    }

    /// The room of the sides of the box.
    fn sides(&self) -> [Room; 4] {
        let [left, top, right, bottom] = self.corners();
        let side = |left, top, right, bottom| Room {
            left: left - 1.0,
            top: top - 1.0,
            right: right + 1.0,
            bottom: bottom + 1.0,
        };
        [
            side(left, top, right, top),
            side(left, bottom, right, bottom),
            side(left, top, left, bottom),
            side(right, top, right, bottom),
        ]
    }

    fn frame(&self) -> String {
        let [across, up] = self.axes;
        let ticks_across = across.ticks().into_iter().map(|tick| {
            let (x, label) = (number(across.place(tick), 1), shown(tick));
            format!("<path class=\"line\" d=\"M{x} {BOTTOM}v5\"/><text class=\"tick\" x=\"{x}\" y=\"{}\">{label}</text>", BOTTOM + 19.0)
        });
        let ticks_up = up.ticks().into_iter().map(|tick| {
            let (y, label) = (number(up.place(tick), 1), shown(tick));
            format!("<path class=\"line\" d=\"M{LEFT} {y}h-5\"/><text class=\"tick up\" x=\"{}\" y=\"{y}\" dy=\".35em\">{label}</text>", LEFT - 7.0)
        });
        let [across, up] = self.map.measures;
        format!(
            "<path class=\"line\" d=\"M{LEFT} {TOP}H{RIGHT}V{BOTTOM}H{LEFT}Z\"/>{}{}\
             <text class=\"measure\" x=\"0\" y=\"13\">{up}</text><text class=\"measure across\" x=\"{RIGHT}\" y=\"{}\">{across}</text>",
            ticks_across.collect::<String>(),
            ticks_up.collect::<String>(),
            HEIGHT - 4.0
        )
    }

    /// The limits as a box.
    fn limits(&self) -> String {
        let [left, top, right, bottom] = self.corners().map(|at| number(at, 1));
        format!("<path class=\"limits\" d=\"M{left} {top}H{right}V{bottom}H{left}Z\"/>")
    }

    fn cross(&self) -> String {
        let [x, y] = self.place(self.map.wanted).map(|at| number(at, 1));
        let path = format!("M{x} {y}m-18 0h36m-18-18v36");
        format!("<path class=\"halo\" d=\"{path}\"/><path class=\"cross\" d=\"{path}\"/>")
    }
}

/// A mark with what it says, and its link where it has one. The table has the same
/// links for those who go by keyboard.
fn mark(map: &Map, (mark, [x, y]): &(&Mark, [f64; 2]), link: Option<&str>) -> String {
    let ([across, up], [metres, stitches]) = (map.measures, mark.at.map(shown));
    let said = escaped(&format!(
        "{}: {metres} {across}, {stitches} {up}",
        mark.name
    ));
    let class = if mark.in_stash { "mine" } else { "other" };
    let shape = shape(mark.is_within, class, [*x, *y]);
    match link {
        Some(link) => format!(
            "<a href=\"{}\" tabindex=\"-1\" aria-label=\"{said}\"><title>{said}</title>{shape}</a>",
            escaped(link)
        ),
        None => format!("<g><title>{said}</title>{shape}</g>"),
    }
}

/// A circle within the limits, a triangle outside.
fn shape(is_within: bool, class: &str, at: [f64; 2]) -> String {
    let [x, y] = at.map(|at| number(at, 1));
    match is_within {
        true => format!("<circle class=\"{class}\" cx=\"{x}\" cy=\"{y}\" r=\"6\"/>"),
        false => format!("<path class=\"{class}\" d=\"M{x} {y}m0-7.5l7 12.5h-14z\"/>"),
    }
}

/// The map; `nth` picture of its page. `link` gives where a yarn of a name leads.
pub(super) fn picture(map: &Map, nth: usize, link: impl Fn(&str) -> Option<String>) -> String {
    let drawing = Drawing::new(map);
    // The nearest lie on top of the others.
    let marks = drawing.marks.iter().rev();
    let marks = marks.map(|placed| mark(map, placed, link(&placed.0.name).as_deref()));
    let labels: String = drawing.labels().iter().map(Label::drawn).collect();
    let is_drawn = |mark: &Mark| drawing.marks.iter().any(|(drawn, _)| *drawn == mark);
    format!(
        "<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"group\" aria-labelledby=\"map{nth}t\" aria-describedby=\"map{nth}d\">\
         <title id=\"map{nth}t\">{}</title><desc id=\"map{nth}d\">{}</desc>{}{}{}{}{labels}</svg>\n{}",
        escaped(&map.title),
        escaped(&map.described(is_drawn)),
        drawing.limits(),
        drawing.frame(),
        drawing.cross(),
        marks.collect::<String>(),
        key(&drawing)
    )
}

/// What each mark means, beside a sample of it, and what is not drawn.
fn key(drawing: &Drawing<'_>) -> String {
    let map = drawing.map;
    let samples = map.key(|kind| drawing.marks.iter().any(|(mark, _)| mark.kind() == kind));
    let samples = samples.into_iter().map(|(sample, words)| {
        let drawn = match sample {
            Sample::Cross => "<path class=\"cross\" d=\"M12 3v18M3 12h18\"/>".to_owned(),
            Sample::Limits => "<path class=\"limits\" d=\"M4 6H20V18H4Z\"/>".to_owned(),
            Sample::Mark(within, true) => shape(within, "mine", [12.0, 12.0]),
            Sample::Mark(within, false) => shape(within, "other", [12.0, 12.0]),
        };
        format!(
            "<li><svg class=\"sample\" viewBox=\"0 0 24 24\" aria-hidden=\"true\">{drawn}</svg>{}</li>\n",
            escaped(&words)
        )
    });
    let notes = map.notes(drawing.marks.len());
    let notes = notes
        .iter()
        .map(|note| format!("<p>{}</p>\n", escaped(note)));
    format!(
        "<div class=\"key\">\n<ul>\n{}</ul>\n{}</div>\n",
        samples.collect::<String>(),
        notes.collect::<String>()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{matching::Verdict, report::html::map_names::OFF};
    use proptest::prelude::*;

    fn yarn(name: &str, at: [f64; 2], [is_within, in_stash]: [bool; 2]) -> Mark {
        Mark {
            name: name.to_owned(),
            at,
            is_within,
            in_stash,
            is_estimated: false,
            verdict: Verdict::ShouldWork,
        }
    }

    fn map(marks: Vec<Mark>) -> Map {
        Map {
            title: "Yarns".to_owned(),
            measures: ["metres per 100 g", "stitches in 10 cm"],
            wanted: [240.0, 22.0],
            tolerance: [19.2, 0.88],
            marks,
            without_place: 0,
        }
    }

    fn no_link(_: &str) -> Option<String> {
        None
    }

    #[test]
    fn the_cross_stands_in_the_middle_and_marks_where_their_numbers_belong() {
        // Twice the tolerance either way: 201.6 to 278.4, and 20.24 to 23.76.
        let at_limit = yarn("Edge", [259.2, 21.12], [true, true]);
        let out = picture(&map(vec![at_limit]), 1, no_link);
        let middle = [f64::midpoint(LEFT, RIGHT), f64::midpoint(TOP, BOTTOM)];
        let [x, y] = middle.map(|at| number(at, 1));
        assert!(
            out.contains(&format!("class=\"cross\" d=\"M{x} {y}m")),
            "{out}"
        );
        let [x, y] =
            [LEFT + (RIGHT - LEFT) * 0.75, TOP + (BOTTOM - TOP) * 0.75].map(|at| number(at, 1));
        assert!(out.contains(&format!("cx=\"{x}\" cy=\"{y}\"")), "{out}");
        // The box ends there too.
        assert!(out.contains(&format!("H{x}V{y}H")), "{out}");
    }

    #[test]
    fn the_shape_says_within_or_not_and_what_fills_it_whether_it_is_in_the_stash() {
        let marks = vec![
            yarn("A", [240.0, 22.0], [true, true]),
            yarn("B", [230.0, 22.0], [true, false]),
            yarn("C", [210.0, 22.0], [false, true]),
            yarn("D", [205.0, 22.0], [false, false]),
        ];
        let out = picture(&map(marks), 1, |name| Some(format!("/yarns/{name}")));
        // One in the picture, one in its key.
        for class in [
            "<circle class=\"mine\"",
            "<circle class=\"other\"",
            "<path class=\"mine\"",
            "<path class=\"other\"",
        ] {
            assert_eq!(out.matches(class).count(), 2, "{class}");
        }
        let out = out.split("class=\"key\"").next().unwrap();
        assert_eq!(out.matches("<circle class=\"mine\"").count(), 1);
        assert_eq!(out.matches("<circle class=\"other\"").count(), 1);
        assert_eq!(out.matches("<path class=\"mine\"").count(), 1);
        assert_eq!(out.matches("<path class=\"other\"").count(), 1);
        assert!(out.contains("<a href=\"/yarns/C\" tabindex=\"-1\" aria-label=\"C: 210 metres"));
        assert!(out.contains("4 yarns, 2 within the limits."), "{out}");
    }

    #[test]
    fn what_lies_too_far_off_is_counted_and_not_drawn() {
        let far = yarn("Far", [800.0, 34.0], [false, false]);
        let out = picture(&map(vec![far]), 1, no_link);
        assert!(
            !out.contains("Far") && out.contains("Too far off to draw: 1 yarn."),
            "{out}"
        );
    }

    #[test]
    fn ticks_are_round_and_lie_within_the_frame() {
        let axis = Axis::around((240.0, 19.2), std::iter::empty(), [LEFT, RIGHT]);
        assert_eq!(
            axis.ticks(),
            [210.0, 220.0, 230.0, 240.0, 250.0, 260.0, 270.0]
        );
        // A tolerance of nothing leaves something to see.
        let axis = Axis::around((22.0, 0.0), std::iter::empty(), [BOTTOM, TOP]);
        assert!(axis.holds(22.4) && !axis.ticks().is_empty());
    }

    proptest! {
        #[test]
        fn prop_no_name_covers_another_or_a_mark_or_leaves_the_frame(
            places in prop::collection::vec((200.0..280.0_f64, 20.0..24.0_f64), 1..40)
        ) {
            let marks = places.iter().enumerate().map(|(nth, (x, y))| {
                yarn(&format!("Quenby, Yarn {nth}"), [*x, *y], [true, true])
            });
            let map = map(marks.collect());
            let drawing = Drawing::new(&map);
            let labels = drawing.labels();
            for (nth, label) in labels.iter().enumerate() {
                prop_assert!(label.room.is_inside(&FRAME));
                prop_assert!(labels.iter().skip(nth + 1).all(|other| !other.room.overlaps(&label.room)));
                for (_, at) in &drawing.marks {
                    prop_assert!(!Room::around(*at, MARK).overlaps(&label.room));
                }
            }
        }

        #[test]
        fn prop_of_few_yarns_around_a_pattern_most_are_named(
            places in prop::collection::vec((200.0..280.0_f64, 20.0..24.0_f64), 5)
        ) {
            let marks = places.iter().enumerate().map(|(nth, (x, y))| {
                yarn(&format!("Quenby, Moor {nth}"), [*x, *y], [true, true])
            });
            let map = map(marks.collect());
            let named = Drawing::new(&map).labels().len();
            prop_assert!(named >= 3, "{named}");
        }
    }

    #[test]
    fn those_within_the_limits_and_in_the_stash_are_named_and_others_where_there_are_none() {
        let named = |both: [bool; 2]| {
            let marks = vec![
                yarn("Quenby, Moor", [240.0, 22.5], both),
                yarn("Quenby, Sandgate", [250.0, 21.5], [true, false]),
                yarn("Quenby, Far", [210.0, 22.0], [false, true]),
            ];
            let map = map(marks);
            let labels = Drawing::new(&map).labels().into_iter();
            labels.map(|label| label.name).collect::<Vec<_>>()
        };
        assert_eq!(named([true, true]), ["Moor"]);
        assert_eq!(named([true, false]), ["Moor", "Sandgate"]);
    }

    #[test]
    fn a_name_lies_beside_its_mark_and_rather_not_over_a_side_of_the_box() {
        // 259.2 is the right side of the box; this mark is just left of it.
        let marks = vec![yarn("Quenby, Moor", [255.0, 22.3], [true, true])];
        let map = map(marks);
        let drawing = Drawing::new(&map);
        let labels = drawing.labels();
        let [label] = labels.as_slice() else {
            panic!("{}", labels.len())
        };
        let sides = drawing.sides();
        assert!(sides.iter().all(|side| !side.overlaps(&label.room)));
        assert!(label.across < 0.0);
        let [(_, [x, _])] = drawing.marks.as_slice() else {
            panic!()
        };
        assert!((x - label.room.right).abs() <= OFF + 1e-9);
    }
}

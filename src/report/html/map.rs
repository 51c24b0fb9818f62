//! The map of yarns as a picture: the pattern as a cross, its limits as a box, each yarn
//! as a mark that leads to its page. A circle lies within the limits, a triangle
//! outside; a filled one is in the stash. The nearest are named, where no name covers
//! another or a mark.

use super::escaped;
use crate::{
    report::picture::{Map, Mark, shown},
    words::number,
};

/// The picture, in its own units, and where its frame begins and ends.
const WIDTH: f64 = 340.0;
const HEIGHT: f64 = 300.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 332.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 258.0;
/// Half of a mark.
const MARK: f64 = 7.0;
/// Yarns that are named.
const NAMED: usize = 10;
/// A line of a name, and one of its letters.
const LINE: f64 = 15.0;
const LETTER: f64 = 7.0;
/// Letters of a name that are shown.
const LETTERS: usize = 16;

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

/// Room that something takes.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Room {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Room {
    fn around([x, y]: [f64; 2], half: f64) -> Self {
        Self {
            left: x - half,
            top: y - half,
            right: x + half,
            bottom: y + half,
        }
    }

    fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn is_inside(&self) -> bool {
        self.left >= LEFT && self.right <= RIGHT && self.top >= TOP && self.bottom <= BOTTOM
    }
}

/// A name, its room, and where its line to the mark begins and ends, where it lies
/// farther off.
struct Label {
    name: String,
    room: Room,
    /// Which way from the mark it lies, across.
    across: f64,
    line: Option<[[f64; 2]; 2]>,
}

/// Which way from its mark a name may lie.
const WAYS: [[f64; 2]; 8] = [
    [1.0, 0.0],
    [-1.0, 0.0],
    [0.0, -1.0],
    [0.0, 1.0],
    [0.7, -0.7],
    [-0.7, -0.7],
    [0.7, 0.7],
    [-0.7, 0.7],
];
/// How far from its mark a name may lie, the nearest first.
const OFF: [f64; 6] = [9.0, 18.0, 30.0, 44.0, 60.0, 78.0];

impl Label {
    /// The name beside its mark, where there is room for it.
    fn beside(name: &str, mark: [f64; 2], taken: &[Room]) -> Option<Self> {
        let name = short(name);
        let letters = u16::try_from(name.chars().count()).unwrap_or(u16::MAX);
        let width = f64::from(letters) * LETTER;
        let places = OFF
            .iter()
            .flat_map(|off| WAYS.iter().map(move |way| (*off, *way)));
        let (off, way, room) = places
            .map(|(off, way)| (off, way, room(mark, way, (off, width))))
            .find(|(.., room)| room.is_inside() && !taken.iter().any(|it| it.overlaps(room)))?;
        let ([x, y], [across, down]) = (mark, way);
        let line = (off > 9.0).then(|| {
            let at = |off: f64| [x + across * off, y + down * off];
            [at(MARK), at(off - 1.0)]
        });
        Some(Self {
            name,
            room,
            across,
            line,
        })
    }
}

/// The room of a name of this width, so far from its mark.
fn room([x, y]: [f64; 2], [across, down]: [f64; 2], (off, width): (f64, f64)) -> Room {
    let left = match across {
        right if right > 0.1 => x + off * right,
        left if left < -0.1 => x + off * left - width,
        _ => x - width / 2.0,
    };
    let top = match down {
        below if below > 0.1 => y + off * below,
        above if above < -0.1 => y + off * above - LINE,
        _ => y - LINE / 2.0,
    };
    Room {
        left,
        top,
        right: left + width,
        bottom: top + LINE,
    }
}

/// The name of a yarn without its maker, and without what makes it long.
fn short(name: &str) -> String {
    let name = name.split_once(", ").map_or(name, |(_, name)| name);
    match name.char_indices().nth(LETTERS) {
        Some((end, _)) => format!("{}\u{2026}", name.get(..end).unwrap_or(name).trim_end()),
        None => name.to_owned(),
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

    /// Names of the nearest, none over another or over a mark.
    fn labels(&self) -> Vec<Label> {
        let marks = self
            .marks
            .iter()
            .map(|(_, at)| Room::around(*at, MARK + 1.0));
        let cross = Room::around(self.place(self.map.wanted), MARK + 3.0);
        let mut taken: Vec<Room> = marks.chain([cross]).collect();
        let mut labels = Vec::new();
        for (mark, at) in self.marks.iter().take(NAMED) {
            if let Some(label) = Label::beside(&mark.name, *at, &taken) {
                taken.push(label.room);
                labels.push(label);
            }
        }
        labels
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
        let ([x, y], [off, off_up]) = (self.map.wanted, self.map.tolerance);
        let [left, bottom] = self.place([x - off, y - off_up]);
        let [right, top] = self.place([x + off, y + off_up]);
        let [left, right, top, bottom] = [left, right, top, bottom].map(|at| number(at, 1));
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
    let [x, y] = [*x, *y].map(|at| number(at, 1));
    let shape = match mark.is_within {
        true => format!("<circle class=\"{class}\" cx=\"{x}\" cy=\"{y}\" r=\"6\"/>"),
        false => format!("<path class=\"{class}\" d=\"M{x} {y}m0-7.5l7 12.5h-14z\"/>"),
    };
    match link {
        Some(link) => format!(
            "<a href=\"{}\" tabindex=\"-1\" aria-label=\"{said}\"><title>{said}</title>{shape}</a>",
            escaped(link)
        ),
        None => format!("<g><title>{said}</title>{shape}</g>"),
    }
}

fn label(label: &Label) -> String {
    let Label {
        name,
        room,
        across,
        line,
    } = label;
    let line = line.map_or(String::new(), |[[x, y], [to_x, to_y]]| {
        let [x, y, to_x, to_y] = [x, y, to_x, to_y].map(|at| number(at, 1));
        format!("<path class=\"line\" d=\"M{x} {y}L{to_x} {to_y}\"/>")
    });
    // Where letters are smaller, the end at the mark stays where it is.
    let (x, end) = match *across {
        right if right > 0.1 => (room.left, "name-of right-of"),
        left if left < -0.1 => (room.right, "name-of left-of"),
        _ => (f64::midpoint(room.left, room.right), "name-of"),
    };
    let y = room.bottom - 4.0;
    format!(
        "{line}<text class=\"{end}\" x=\"{}\" y=\"{}\">{}</text>",
        number(x, 1),
        number(y, 1),
        escaped(name)
    )
}

/// The map; `nth` picture of its page. `link` gives where a yarn of a name leads.
pub(super) fn picture(map: &Map, nth: usize, link: impl Fn(&str) -> Option<String>) -> String {
    let drawing = Drawing::new(map);
    // The nearest lie on top of the others.
    let marks = drawing.marks.iter().rev();
    let marks = marks.map(|placed| mark(map, placed, link(&placed.0.name).as_deref()));
    let labels: String = drawing.labels().iter().map(label).collect();
    let is_drawn = |mark: &Mark| drawing.marks.iter().any(|(drawn, _)| *drawn == mark);
    let key = map.key(drawing.marks.len()).into_iter();
    let key: String = key
        .map(|line| format!("<p>{}</p>\n", escaped(&line)))
        .collect();
    format!(
        "<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"group\" aria-labelledby=\"map{nth}t\" aria-describedby=\"map{nth}d\">\
         <title id=\"map{nth}t\">{}</title><desc id=\"map{nth}d\">{}</desc>{}{}{}{labels}{}</svg>\n<div class=\"key\">\n{key}</div>\n",
        escaped(&map.title),
        escaped(&map.described(is_drawn)),
        drawing.limits(),
        drawing.frame(),
        drawing.cross(),
        marks.collect::<String>()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matching::Verdict;
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

    #[test]
    fn a_long_name_is_cut_and_its_maker_left_out() {
        assert_eq!(short("Quenby, Moor"), "Moor");
        assert_eq!(
            short("Quenby, A very long name indeed"),
            "A very long name\u{2026}"
        );
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
                prop_assert!(label.room.is_inside());
                prop_assert!(labels.iter().skip(nth + 1).all(|other| !other.room.overlaps(&label.room)));
                for (_, at) in &drawing.marks {
                    prop_assert!(!Room::around(*at, MARK).overlaps(&label.room));
                }
            }
        }

        #[test]
        fn prop_ten_yarns_around_a_pattern_are_all_named(
            places in prop::collection::vec((200.0..280.0_f64, 20.0..24.0_f64), 10)
        ) {
            let marks = places.iter().enumerate().map(|(nth, (x, y))| {
                yarn(&format!("Quenby, Moor {nth}"), [*x, *y], [true, true])
            });
            let map = map(marks.collect());
            let named = Drawing::new(&map).labels().len();
            prop_assert!(named >= 9, "{named}");
        }
    }
}

//! Names on the map of yarns: where each finds room beside its mark.

use super::escaped;
use crate::words::number;

/// A line of a name, and one of its letters.
const LINE: f64 = 15.0;
const LETTER: f64 = 7.0;
/// Letters of a name that are shown.
const LETTERS: usize = 16;

/// Room that something takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Room {
    pub(super) fn around([x, y]: [f64; 2], half: f64) -> Self {
        Self {
            left: x - half,
            top: y - half,
            right: x + half,
            bottom: y + half,
        }
    }

    pub(super) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(super) fn is_inside(&self, frame: &Self) -> bool {
        self.left >= frame.left
            && self.right <= frame.right
            && self.top >= frame.top
            && self.bottom <= frame.bottom
    }
}

/// A name, and its room.
pub(super) struct Label {
    pub(super) name: String,
    pub(super) room: Room,
    /// Which way from the mark it lies, across.
    pub(super) across: f64,
}

/// Which way from its mark a name may lie.
const WAYS: [[f64; 2]; 8] = [
    [1.0, 0.0],
    [-1.0, 0.0],
    [0.0, -1.0],
    [0.0, 1.0],
    [0.9, -0.9],
    [0.9, 0.9],
    [-0.9, -0.9],
    [-0.9, 0.9],
];
/// How far from its mark a name lies.
pub(super) const OFF: f64 = 10.0;

impl Label {
    /// The name beside its mark, where there is room for it within the frame; rather not
    /// over `lines`.
    pub(super) fn beside(
        (name, mark): (&str, [f64; 2]),
        frame: &Room,
        taken: &[Room],
        lines: &[Room],
    ) -> Option<Self> {
        let name = short(name);
        let letters = u16::try_from(name.chars().count()).unwrap_or(u16::MAX);
        let width = f64::from(letters) * LETTER;
        let is_free = |room: &Room, of: &[Room]| !of.iter().any(|it| it.overlaps(room));
        let places = WAYS
            .iter()
            .map(|way| (*way, room(mark, *way, (OFF, width))));
        let free = places.filter(|(_, room)| room.is_inside(frame) && is_free(room, taken));
        let free: Vec<_> = free.collect();
        let clear = free.iter().find(|(_, room)| is_free(room, lines));
        let ([across, _], room) = *clear.or(free.first())?;
        Some(Self { name, room, across })
    }

    /// As a text.
    pub(super) fn drawn(&self) -> String {
        let Self { name, room, across } = self;
        // Where letters are smaller, the end at the mark stays where it is.
        let (x, end) = match *across {
            right if right > 0.1 => (room.left, "name-of right-of"),
            left if left < -0.1 => (room.right, "name-of left-of"),
            _ => (f64::midpoint(room.left, room.right), "name-of"),
        };
        let y = room.bottom - 4.0;
        format!(
            "<text class=\"{end}\" x=\"{}\" y=\"{}\">{}</text>",
            number(x, 1),
            number(y, 1),
            escaped(name)
        )
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_name_is_cut_and_its_maker_left_out() {
        assert_eq!(short("Quenby, Moor"), "Moor");
        assert_eq!(
            short("Quenby, A very long name indeed"),
            "A very long name\u{2026}"
        );
    }
}

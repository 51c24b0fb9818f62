//! What a pattern wants of its yarns: one role for each strand that it is knitted with,
//! mostly of one yarn. Where yarns are held together, the gauge of the pattern is that of
//! the strand, and each yarn is a role of its own within it, of which no gauge is known.

use super::{Overrides, ResolvedQuestion};
use crate::{
    app::{AppError, InputReader, QuestionFault},
    matching::{Requirement, usual_fit},
    measure::{Interval, Length, Mass},
    record::{Contradiction, Need, NeedRange, Pattern, PatternYarn, YarnFacts},
    words::fold,
};

/// One yarn role, or the strand that several are.
#[derive(Debug, Clone)]
pub(in crate::app) struct Role {
    pub(in crate::app) key: String,
    pub(in crate::app) wanted: Requirement,
    /// One need a size; empty where none is stated.
    pub(in crate::app) needs: Vec<Need>,
    /// The yarn of the sample, as `maker, name`, where the pattern says.
    pub(in crate::app) called: Option<String>,
    /// Whether the fit is stated, not taken from what it is for.
    pub(super) fit_is_stated: bool,
    /// The yarns that it holds together; none of a role of one yarn.
    pub(in crate::app) ends: Vec<Self>,
    /// Place of the only one of those that is asked about.
    pub(in crate::app) only_end: Option<usize>,
    /// Keys of the yarns that are held together, of the strand and of each of its yarns.
    pub(in crate::app) strand: Vec<String>,
}

impl Role {
    fn of_yarn(pattern: &Pattern, yarn: &PatternYarn, strand: Vec<String>) -> Self {
        let gauge = pattern.gauge.as_ref().filter(|_| strand.is_empty());
        Self {
            key: yarn.key.to_string(),
            wanted: Requirement {
                facts: yarn.reference.clone(),
                strands: yarn.strands,
                gauge: gauge.map(|gauge| gauge.value.clone()),
                fit: pattern.fit,
                purpose: Some(pattern.purpose),
                care: pattern.care.as_ref().map(|care| care.value),
                multiple: pattern.multiple.as_ref().map(|multiple| multiple.value),
                sizes: pattern.sizes.clone(),
                size: None,
            },
            needs: yarn.needs.iter().map(|need| need.value).collect(),
            called: yarn.called.clone(),
            fit_is_stated: true,
            ends: Vec::new(),
            only_end: None,
            strand,
        }
    }

    /// A strand of the pattern; several yarns as one of what is known of all of them.
    fn of_strand(pattern: &Pattern, yarns: &[&PatternYarn]) -> Result<Option<Self>, AppError> {
        if let [yarn] = yarns {
            return Ok(Some(Self::of_yarn(pattern, yarn, Vec::new())));
        }
        let strand: Vec<String> = yarns.iter().map(|yarn| yarn.key.to_string()).collect();
        let ends = yarns.iter();
        let ends = ends.map(|yarn| Self::of_yarn(pattern, yarn, strand.clone()));
        let ends: Vec<Self> = ends.collect();
        let Some(first) = ends.first() else {
            return Ok(None);
        };
        let held = ends.iter().flat_map(|end| {
            let strands = usize::from(end.wanted.strands);
            std::iter::repeat_n(&end.wanted.facts, strands)
        });
        let needs = (0..pattern.sizes.len()).map(|size| need_of_strand(&ends, size));
        Ok(Some(Self {
            key: strand.join(" + "),
            wanted: Requirement {
                facts: YarnFacts::held_together(&held.collect::<Vec<_>>()),
                strands: 1,
                gauge: pattern.gauge.as_ref().map(|gauge| gauge.value.clone()),
                ..first.wanted.clone()
            },
            needs: needs.collect::<Result<_, _>>()?,
            called: None,
            fit_is_stated: true,
            ends,
            only_end: None,
            strand,
        }))
    }

    /// The yarns that it is: of several held together each that is asked about, else it
    /// alone.
    pub(in crate::app) fn each_yarn(&self) -> &[Self] {
        match (self.only_end, self.ends.as_slice()) {
            (Some(_), _) | (None, []) => std::slice::from_ref(self.alone()),
            (None, ends) => ends,
        }
    }

    /// The only yarn that is asked about of those that it holds together, without them.
    pub(in crate::app) fn alone(&self) -> &Self {
        let only = self.only_end.and_then(|place| self.ends.get(place));
        only.unwrap_or(self)
    }

    /// The same about each of its yarns, one after the other.
    pub(in crate::app) fn each_alone(&self) -> Vec<Self> {
        match (self.only_end, self.ends.len()) {
            (Some(_), _) | (None, 0) => vec![self.clone()],
            (None, count) => (0..count).map(|place| self.only(place)).collect(),
        }
    }

    /// The same about one of the yarns that it holds together.
    pub(in crate::app) fn only(&self, place: usize) -> Self {
        let key = self.ends.get(place).map(|end| end.key.clone());
        Self {
            key: key.unwrap_or_else(|| self.key.clone()),
            only_end: Some(place),
            ..self.clone()
        }
    }

    /// What an end of a strand takes: of one that stands for a yarn of the pattern what
    /// that takes, else what the strand takes.
    pub(in crate::app) fn of_end(&self, stands_for: Option<usize>) -> &Self {
        stands_for
            .and_then(|place| self.ends.get(place))
            .unwrap_or(self)
    }

    /// Whether a yarn is one of those that it holds together: that alone is no stand-in
    /// for all of them.
    pub(in crate::app) fn holds(&self, title: &str) -> bool {
        let ends = self.ends.iter().filter(|_| self.only_end.is_none());
        let called = ends.filter_map(|end| end.called.as_deref());
        called.map(fold).any(|called| called == fold(title))
    }

    /// Whether a text is its key; spaces around a plus do not count.
    pub(in crate::app) fn is_called(&self, text: &str) -> bool {
        let key = |text: &str| fold(text).replace(' ', "");
        key(&self.key) == key(text)
    }

    pub(super) fn settle(&mut self, overrides: &Overrides, size: Option<usize>) {
        let wanted = &mut self.wanted;
        wanted.purpose = overrides.purpose.or(wanted.purpose);
        self.fit_is_stated |= overrides.fit.is_some();
        wanted.fit = match overrides.fit {
            Some(fit) => fit,
            None if self.fit_is_stated => wanted.fit,
            None => usual_fit(wanted.purpose),
        };
        wanted.care = overrides.care.or(wanted.care);
        wanted.size = size;
        for end in &mut self.ends {
            end.settle(overrides, size);
        }
    }

    /// What contradicts itself in the labels of its yarns.
    pub(super) fn contradictions(
        &self,
        find: fn(&YarnFacts) -> Vec<Contradiction>,
    ) -> impl Iterator<Item = Contradiction> {
        let yarns = self.each_yarn().iter();
        yarns.flat_map(move |yarn| find(&yarn.wanted.facts))
    }
}

/// What the strand takes for the size at `place`: the longest of what its yarns take for
/// each strand of them, so that it is enough of all. Where no length is known, what they
/// weigh together.
fn need_of_strand(ends: &[Role], place: usize) -> Result<Need, AppError> {
    let (mut low, mut high): (Option<f64>, Option<f64>) = (None, None);
    for end in ends {
        let need = end.needs.get(place);
        let need = need.and_then(|need| need.in_metres(end.wanted.facts.grist()));
        let Some(NeedRange { at_least, buy_for }) = need.transpose()? else {
            continue;
        };
        let of_one = |metres: Length| metres.as_metres() / f64::from(end.wanted.strands);
        low = Some(low.map_or(of_one(at_least), |known| known.max(of_one(at_least))));
        high = Some(high.map_or(of_one(buy_for), |known| known.max(of_one(buy_for))));
    }
    if let Some((low, high)) = low.zip(high) {
        let range = Interval::between(Length::metres(low)?, Length::metres(high)?)?;
        return Ok(Need::Length(range));
    }
    let (mut low, mut high) = (0.0, 0.0);
    for end in ends {
        if let Some(Need::Mass(mass)) = end.needs.get(place) {
            low += mass.low().as_grams();
            high += mass.high().as_grams();
        }
    }
    let range = Interval::between(Mass::grams(low)?, Mass::grams(high)?)?;
    Ok(Need::Mass(range))
}

/// The roles of a pattern, or the one with this key: a strand, or one of its yarns. A
/// key that none has is a fault.
pub(super) fn roles_of(
    reader: &mut InputReader,
    pattern: &Pattern,
    key: Option<&str>,
) -> Result<Option<Vec<Role>>, AppError> {
    let strands = pattern.strands();
    let strands = strands.iter();
    let all = strands.filter_map(|yarns| Role::of_strand(pattern, yarns).transpose());
    let all: Vec<Role> = all.collect::<Result<_, _>>()?;
    let Some(key) = key else {
        return Ok(Some(all));
    };
    if let Some(role) = all.iter().find_map(|role| named(role, key)) {
        return Ok(Some(vec![role]));
    }
    let each = all
        .iter()
        .flat_map(|role| std::iter::once(role).chain(&role.ends));
    let kind = QuestionFault::NoSuchRole {
        pattern: pattern.name.to_string(),
        given: key.to_owned(),
        keys: each.map(|role| role.key.clone()).collect(),
    };
    reader.fault("for", kind);
    Ok(None)
}

/// The role with this key, or about the yarn in it that has it.
fn named(role: &Role, key: &str) -> Option<Role> {
    if role.is_called(key) {
        return Some(role.clone());
    }
    let place = role.ends.iter().position(|end| end.is_called(key))?;
    Some(role.only(place))
}

impl ResolvedQuestion {
    /// The same question about a yarn by itself, where one of several that are held
    /// together is asked about.
    pub(in crate::app) fn alone(self) -> Self {
        Self {
            roles: self.roles.iter().map(|role| role.alone().clone()).collect(),
            ..self
        }
    }

    /// The same question about each yarn by itself, where some are held together.
    pub(in crate::app) fn each_yarn(self) -> Self {
        let roles = self.roles.iter().flat_map(Role::each_yarn);
        Self {
            roles: roles.cloned().collect(),
            ..self
        }
    }

    /// The same about each yarn, one after the other.
    pub(in crate::app) fn each_alone(&self) -> Self {
        Self {
            roles: self.roles.iter().flat_map(Role::each_alone).collect(),
            ..self.clone()
        }
    }

    /// The same about only those yarns that are held together, each by itself.
    pub(in crate::app) fn only_ends(&self) -> Self {
        let held = self.roles.iter().filter(|role| !role.ends.is_empty());
        Self {
            roles: held.flat_map(Role::each_alone).collect(),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::pattern_file::read_typed_pattern;

    const FIRST: &str = r#"
pattern = "Wetherlin"
purpose = "accessory"
fit = "relaxed"
gauge = "20 sts / 10 cm"
[[size]]
name = "one"
"#;

    fn pattern(yarns: &str) -> Pattern {
        let read = read_typed_pattern(&format!("{FIRST}{yarns}"));
        read.unwrap().pattern
    }

    fn roles(yarns: &str, key: Option<&str>) -> Vec<Role> {
        let mut reader = InputReader::default();
        let found = roles_of(&mut reader, &pattern(yarns), key).unwrap();
        assert_eq!(found.is_none(), reader.check().is_err());
        found.unwrap_or_default()
    }

    const PAIR: &str = r#"
[[yarn]]
key = "A"
put_up = "420 m / 100 g"
strands = 2
needs = "400 m"
[[yarn]]
key = "C"
put_up = "120 m / 50 g"
needs = "90 m"
[[yarn]]
key = "B"
put_up = "420 m / 50 g"
held_with = "a"
needs = "180-190 m"
"#;

    /// Worked by hand, common practice, no source: two strands of 420 m/100 g and one of
    /// 840 m/100 g weigh 23.81 + 23.81 + 11.90 g in 100 m, 168 m/100 g. Of A 400 m are
    /// 200 m of the strand, of B at most 190 m: the longer counts.
    #[test]
    fn yarns_that_are_held_together_are_one_role_with_the_longest_need() {
        let [strand, alone] = &roles(PAIR, None)[..] else {
            panic!("two strands")
        };
        assert_eq!((strand.key.as_str(), alone.key.as_str()), ("A + B", "C"));
        let grist = strand.wanted.facts.grist().unwrap();
        assert!((grist.as_metres_per_100_g() - 168.0).abs() < 1e-9);
        let need = Need::Length(Interval::one(Length::metres(200.0).unwrap()));
        assert_eq!((strand.needs[0], strand.wanted.strands), (need, 1));
        assert!(strand.wanted.gauge.is_some() && alone.wanted.gauge.is_some());
        assert_eq!(alone.strand, Vec::<String>::new());
        let ends: Vec<_> = strand.ends.iter().map(|end| end.key.as_str()).collect();
        assert_eq!(ends, ["A", "B"]);
        assert!(strand.ends.iter().all(|end| end.wanted.gauge.is_none()));
    }

    #[test]
    fn a_key_names_a_strand_or_one_of_its_yarns() {
        for (key, found) in [("a+b", "A + B"), ("A + B", "A + B"), ("b", "B"), ("C", "C")] {
            let named = roles(PAIR, Some(key));
            assert_eq!(named[0].key, found);
        }
        assert!(roles(PAIR, Some("D")).is_empty());
    }

    /// Of weights without a length per mass only the sum is known.
    #[test]
    fn weights_of_unknown_length_add() {
        let two = r#"
[[yarn]]
key = "A"
needs = "100 g"
[[yarn]]
key = "B"
held_with = "A"
needs = "50-60 g"
"#;
        let found = roles(two, None);
        let [low, high] = [150.0, 160.0].map(|grams| Mass::grams(grams).unwrap());
        let sum = Need::Mass(Interval::between(low, high).unwrap());
        assert_eq!(found[0].needs, [sum]);
        assert_eq!(found[0].wanted.facts.grist(), None);
    }
}

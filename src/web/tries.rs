//! How many wrong passcodes are looked at: a few a minute from each address, and some
//! more from all of them together, so that one who guesses keeps nobody else out.

use std::{
    collections::VecDeque,
    net::{IpAddr, Ipv6Addr},
    time::{Duration, Instant},
};

/// How long a try counts.
const WHILE: Duration = Duration::from_secs(60);
/// Tries from one address within that while.
const EACH: usize = 5;
/// Tries from all addresses that never gave the passcode.
const ALL: usize = 40;
/// Addresses that are remembered for having given the passcode.
const KNOWN: usize = 64;

/// Tries that were wrong, or are not known to be right yet.
#[derive(Debug, Default)]
pub(super) struct Tries {
    made: Vec<(IpAddr, Instant)>,
    /// Who gave the passcode before: strangers never use up their tries.
    known: VecDeque<IpAddr>,
}

impl Tries {
    /// Counts a try, where one more may be looked at.
    pub(super) fn reserve(&mut self, from: IpAddr, now: Instant) -> bool {
        let from = network(from);
        self.made
            .retain(|(_, when)| now.saturating_duration_since(*when) < WHILE);
        let known = &self.known;
        let is_stranger = |address: &IpAddr| !known.contains(address);
        let made = self.made.iter().map(|(address, _)| address);
        let strangers = made.clone().filter(|address| is_stranger(address)).count();
        let own = made.filter(|address| **address == from).count();
        if own >= EACH || is_stranger(&from) && strangers >= ALL {
            return false;
        }
        self.made.push((from, now));
        true
    }

    /// Takes back a try that was right, and remembers from where it was.
    pub(super) fn was_right(&mut self, from: IpAddr) {
        let from = network(from);
        if let Some(last) = self.made.iter().rposition(|(address, _)| *address == from) {
            self.made.remove(last);
        }
        if !self.known.contains(&from) {
            self.known.push_back(from);
            if self.known.len() > KNOWN {
                self.known.pop_front();
            }
        }
    }
}

/// What one sender has for its own: an address of IPv4, a network of 64 bits of IPv6.
fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(address) => IpAddr::V6(Ipv6Addr::from_bits(
            address.to_bits() & !u128::from(u64::MAX),
        )),
        short => short,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn address(text: &str) -> IpAddr {
        text.parse().unwrap()
    }

    fn looked_at(tries: &mut Tries, from: &str, count: usize, now: Instant) -> usize {
        (0..count)
            .filter(|_| tries.reserve(address(from), now))
            .count()
    }

    #[test]
    fn one_who_guesses_keeps_nobody_else_out_and_may_go_on_after_a_minute() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 250, now), EACH);
        assert_eq!(looked_at(&mut tries, "192.0.2.2", 1, now), 1);
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 9, now + WHILE), EACH);
    }

    #[test]
    fn a_right_try_counts_for_nothing() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        for _ in 0..20 {
            assert!(tries.reserve(address("192.0.2.1"), now));
            tries.was_right(address("192.0.2.1"));
        }
    }

    #[test]
    fn many_addresses_together_are_limited_and_keep_out_nobody_who_came_in_before() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert!(tries.reserve(address("198.51.100.7"), now));
        tries.was_right(address("198.51.100.7"));
        let all: usize = (0..250)
            .map(|last| looked_at(&mut tries, &format!("192.0.2.{last}"), 2, now))
            .sum();
        assert_eq!(all, ALL);
        assert_eq!(looked_at(&mut tries, "198.51.100.7", 9, now), EACH);
        assert_eq!(looked_at(&mut tries, "198.51.100.8", 1, now), 0);
    }

    #[test]
    fn a_network_of_64_bits_is_one_address_and_so_are_both_forms_of_a_short_one() {
        let (mut tries, now) = (Tries::default(), Instant::now());
        assert_eq!(looked_at(&mut tries, "2001:db8::1", 3, now), 3);
        assert_eq!(looked_at(&mut tries, "2001:db8::ffff:2", 9, now), EACH - 3);
        assert_eq!(looked_at(&mut tries, "192.0.2.1", 3, now), 3);
        assert_eq!(looked_at(&mut tries, "::ffff:192.0.2.1", 9, now), EACH - 3);
    }
}

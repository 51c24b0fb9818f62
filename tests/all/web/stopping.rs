//! The program itself: its stop in good order.

use super::query;
use crate::desk::{Desk, Running};
use std::{
    io::{Read, Write},
    net::TcpStream,
    process::{Command, ExitStatus},
    time::{Duration, Instant},
};
use understudy::app::{self, Records};

/// The program on records of its own; ends with its test.
pub(super) struct Server {
    pub(super) running: Running,
    pub(super) address: String,
    pub(super) desk: Desk,
}

fn serving(desk: &Desk) -> (Running, String) {
    let (running, base) = desk.serve(&["--port", "0"]);
    (running, base.split('/').nth(2).unwrap().to_owned())
}

impl Server {
    pub(super) fn begin() -> Self {
        Self::on(Desk::empty())
    }

    pub(super) fn on(desk: Desk) -> Self {
        let (running, address) = serving(&desk);
        Self {
            running,
            address,
            desk,
        }
    }

    /// The program again, on the same records.
    pub(super) fn begin_again(&mut self) {
        (self.running, self.address) = serving(&self.desk);
    }

    pub(super) fn connect(&self) -> TcpStream {
        let socket = TcpStream::connect(&self.address).unwrap();
        let most = Some(Duration::from_secs(30));
        socket.set_read_timeout(most).unwrap();
        socket
    }

    pub(super) fn signal(&self, name: &str) {
        let id = self.running.0.id().to_string();
        let told = Command::new("kill").args(["-s", name, &id]).status();
        assert!(told.unwrap().success());
    }

    pub(super) fn ended(&mut self) -> ExitStatus {
        let begin = Instant::now();
        while begin.elapsed() < Duration::from_secs(30) {
            if let Some(status) = self.running.0.try_wait().unwrap() {
                return status;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("the server does not stop");
    }

    pub(super) fn yarns(&self) -> usize {
        let records = Records::open_existing(&self.desk.db()).unwrap();
        let page = app::browse_yarns(&records, &app::YarnQuery::text(""), 0, 10).unwrap();
        page.entries.len()
    }
}

/// The head of a form that is sent, and its body.
pub(super) fn post(path: &str, fields: &[(&str, &str)]) -> (String, String) {
    let body = query(fields);
    let head = head(path, "application/x-www-form-urlencoded", body.len());
    (head, body)
}

pub(super) fn head(path: &str, kind: &str, length: usize) -> String {
    format!(
        "POST {path} HTTP/1.1\r\nHost: localhost\r\nSec-Fetch-Site: same-origin\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\n\r\n"
    )
}

pub(super) const YARN: [(&str, &str); 4] = [
    ("maker", "Quenby"),
    ("name", "Sandgate"),
    ("length", "125 m"),
    ("mass", "50 g"),
];

fn a_write_in_flight_finishes(signal: &str) {
    let mut server = Server::begin();
    let mut slow = server.connect();
    let (head, body) = post("/yarns/new", &YARN);
    let (first, second) = body.split_at(body.len() / 2);
    slow.write_all(head.as_bytes()).unwrap();
    slow.write_all(first.as_bytes()).unwrap();
    let idle = server.connect();
    std::thread::sleep(Duration::from_millis(300));
    server.signal(signal);
    std::thread::sleep(Duration::from_millis(300));
    assert!(
        TcpStream::connect(&server.address).is_err(),
        "whoever comes after {signal} is refused"
    );
    assert!(server.running.0.try_wait().unwrap().is_none());
    slow.write_all(second.as_bytes()).unwrap();
    let mut answer = String::new();
    slow.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 303"), "{answer}");
    assert!(answer.contains("location: /yarns/1?"), "{answer}");
    assert_eq!(server.ended().code(), Some(0), "{signal}");
    assert_eq!(server.yarns(), 1);
    drop(idle);
}

#[test]
fn a_change_under_way_is_finished_when_the_program_is_told_to_end() {
    a_write_in_flight_finishes("TERM");
}

#[test]
fn a_change_under_way_is_finished_when_the_program_is_interrupted() {
    a_write_in_flight_finishes("INT");
}

#[test]
fn a_second_signal_ends_the_program_at_once_and_nothing_half_sent_is_kept() {
    let mut server = Server::begin();
    let mut slow = server.connect();
    let (head, body) = post("/yarns/new", &YARN);
    slow.write_all(head.as_bytes()).unwrap();
    slow.write_all(&body.as_bytes()[..5]).unwrap();
    std::thread::sleep(Duration::from_millis(300));
    server.signal("INT");
    std::thread::sleep(Duration::from_millis(300));
    assert!(server.running.0.try_wait().unwrap().is_none());
    let begin = Instant::now();
    server.signal("INT");
    assert_eq!(server.ended().code(), Some(0));
    assert!(begin.elapsed() < Duration::from_secs(3));
    assert_eq!(server.yarns(), 0);
}

#[test]
fn a_head_that_is_half_sent_is_dropped_while_the_program_runs() {
    let server = Server::begin();
    let mut slow = server.connect();
    slow.write_all(b"GET / HTTP/1.1\r\nHost: local").unwrap();
    let begin = Instant::now();
    let mut rest = Vec::new();
    slow.read_to_end(&mut rest).unwrap();
    assert!(rest.is_empty());
    assert!(begin.elapsed() > Duration::from_secs(5), "not in a hurry");
}

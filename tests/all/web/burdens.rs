//! The program itself under more than it should have to bear: senders that never
//! finish, forms that are too long or too many, and the longest work that what is sent
//! can make.
//!
//! `UNDERSTUDY_LONG=1 cargo test --test all burdens` goes on with slow senders and with
//! bursts for a minute each.

use super::stopping::{Server, YARN, head, post};
use crate::desk::sample;
use std::{
    fs,
    io::{Read, Write},
    net::TcpStream,
    thread,
    time::{Duration, Instant},
};

const FORM: &str = "application/x-www-form-urlencoded";
const UPLOAD: &str = "multipart/form-data; boundary=edge";

/// How long a burden is borne: once, or for a minute.
fn time() -> Duration {
    let is_long = std::env::var_os("UNDERSTUDY_LONG").is_some();
    Duration::from_secs(if is_long { 60 } else { 0 })
}

/// Asks for a page; its whole answer.
fn page(server: &Server, path: &str) -> String {
    let mut socket = server.connect();
    let ask = format!("GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
    socket.write_all(ask.as_bytes()).unwrap();
    let mut answer = String::new();
    socket.read_to_string(&mut answer).unwrap();
    answer
}

/// Ways to keep a connection without ever finishing.
fn ways_to_hold(server: &Server) -> [String; 5] {
    let (form, fields) = post("/yarns/new", &YARN);
    let upload = head("/tables/look", UPLOAD, 9_000_000);
    let answer = format!(
        "GET /yarns.csv HTTP/1.1\r\nHost: {}\r\n\r\n",
        server.address
    );
    [
        String::new(),
        "GET /yarns HTTP/1.1\r\nHost: local".to_owned(),
        form + &fields[..9],
        upload + "--edge\r\n",
        answer,
    ]
}

/// More connections of each kind than there may be open, all of which go on for ever;
/// each newcomer is answered meanwhile.
#[test]
fn three_hundred_slow_senders_of_five_kinds_keep_no_newcomer_out() {
    let server = Server::begin();
    let begin = Instant::now();
    loop {
        for (way, sent) in ways_to_hold(&server).iter().enumerate() {
            let hold = |count| -> Vec<TcpStream> {
                let held = (0..count).map(|_| {
                    let mut socket = server.connect();
                    socket.write_all(sent.as_bytes()).unwrap();
                    socket
                });
                held.collect()
            };
            let held = hold(256);
            // Until they are read they would be taken for connections that ask nothing.
            thread::sleep(Duration::from_secs(1));
            let more = hold(44);
            // Given up after thirty seconds; half bodies once kept newcomers out for 59.
            let answer = page(&server, "/yarns");
            assert!(answer.starts_with("HTTP/1.1 200"), "{way}: {answer}");
            drop((held, more));
        }
        if begin.elapsed() >= time() {
            break;
        }
    }
}

/// All that is sent before anything is read, as a browser does it.
fn answer_to(server: &Server, head: &str, body: &[u8]) -> String {
    let mut socket = server.connect();
    socket.write_all(head.as_bytes()).unwrap();
    socket.write_all(body).unwrap();
    let mut answer = vec![0; 64 * 1024];
    let read = socket.read(&mut answer).unwrap();
    String::from_utf8_lossy(&answer[..read]).into_owned()
}

#[test]
fn what_is_too_long_is_answered_with_a_page_even_to_one_who_sends_all_of_it_first() {
    let server = Server::begin();
    let much = format!("notes={}", "x".repeat(20 << 20));
    let form = head("/yarns/new", FORM, much.len());
    let form = answer_to(&server, &form, much.as_bytes());
    assert!(form.starts_with("HTTP/1.1 413"), "{form}");
    assert!(form.contains("too long for this form"), "{form}");
    let part =
        "--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"y.csv\"\r\n\r\n";
    let file = format!("{part}{}\r\n--edge--\r\n", "maker,name\n".repeat(4 << 20));
    let upload = head("/tables/look", UPLOAD, file.len());
    let upload = answer_to(&server, &upload, file.as_bytes());
    assert!(upload.starts_with("HTTP/1.1 413"), "{upload}");
    assert!(upload.contains("longer than 24 MiB"), "{upload}");
}

#[test]
fn forms_that_are_half_sent_share_the_room_of_uploads_and_give_it_back() {
    let server = Server::begin();
    let half = format!("notes={}", "x".repeat(450_000));
    let held: Vec<TcpStream> = (0..155)
        .map(|_| {
            let mut socket = server.connect();
            let head = head("/yarns/new", FORM, half.len() + 9);
            socket.write_all(head.as_bytes()).unwrap();
            socket.write_all(half.as_bytes()).unwrap();
            socket
        })
        .collect();
    let form = || {
        let head = head("/yarns/new", FORM, half.len());
        answer_to(&server, &head, half.as_bytes())
    };
    // What was sent is not read at once, nor are those who leave noticed at once.
    let is_answered = |code: &str, said: &str| {
        let begin = Instant::now();
        let is_so = |answer: String| answer.starts_with(code) && answer.contains(said);
        let patience = Duration::from_secs(15);
        std::iter::repeat_with(form)
            .take_while(|_| begin.elapsed() < patience)
            .any(is_so)
    };
    assert!(is_answered("HTTP/1.1 503", "Others are sending"));
    drop(held);
    assert!(is_answered("HTTP/1.1 413", "write at most"));
}

/// The work that the program has longest with, of what may be sent to it.
fn worst_requests() -> Vec<(String, Vec<u8>)> {
    let upload = |path: &str, name: &str, text: String| {
        let part = format!(
            "--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\r\n"
        );
        let body = format!("{part}{text}\r\n--edge--\r\n").into_bytes();
        (head(path, UPLOAD, body.len()), body)
    };
    let form = |path: &str, fields: &[(&str, &str)]| {
        let (head, body) = post(path, fields);
        (head, body.into_bytes())
    };
    let up_to = |bytes: usize, text: &str| text.repeat(bytes / text.len());
    let pattern = fs::read_to_string(sample("patterns/jotterhelm.toml")).unwrap();
    let tables: String = (0..200)
        .map(|key| {
            let sizes = vec![r#""400 m, 3 sk / 120 g""#; 200].join(", ");
            format!("[[yarn]]\nkey = \"C{key}\"\nneed = [{sizes}]\nput_up = \"120 m / 50 g\"\n")
        })
        .collect();
    let rows = up_to(
        2 << 20,
        "Quay,Dune,\"125 m, 50 g, 3 x 4\",50 potatoes,75% wool 25% what\n",
    );
    let line =
        "yarn A: 5 (6, 7, 8) balls of 120 m / 50 g, 22 sts x 30 rows / 10 cm, 40 in (90 cm)\n";
    vec![
        upload("/patterns/upload", "p.toml", up_to(1 << 20, "=\n")),
        upload(
            "/patterns/upload",
            "p.toml",
            up_to(1 << 20, "a = \"\\q\\q\\q\"\n"),
        ),
        upload("/patterns/upload", "p.toml", format!("{pattern}\n{tables}")),
        upload(
            "/needs",
            "n.toml",
            up_to(500 << 10, "[[sample]]\nx = \"\\q\"\n"),
        ),
        upload("/lint", "s.md", up_to(500 << 10, line)),
        upload(
            "/lint",
            "p.toml",
            up_to(500 << 10, "[[yarn]]\nkey = \"A\"\n"),
        ),
        upload(
            "/tables/look",
            "y.csv",
            format!("maker,name,length,mass,fibre\n{rows}"),
        ),
        form(
            "/patterns/new",
            &[("text", &up_to(190_000, "sizes = [\"1\", \"2\"]\n"))],
        ),
    ]
}

/// Sends them at once and reads no answer yet.
fn sent_at_once(server: &Server, requests: &[(String, Vec<u8>)]) -> Vec<TcpStream> {
    thread::scope(|scope| {
        let send = |(head, body): &(String, Vec<u8>)| {
            let mut socket = server.connect();
            let most = Some(Duration::from_secs(120));
            socket.set_read_timeout(most).unwrap();
            socket.write_all(head.as_bytes()).unwrap();
            socket.write_all(body).unwrap();
            socket
        };
        let sending: Vec<_> = requests
            .iter()
            .map(|request| scope.spawn(move || send(request)))
            .collect();
        sending.into_iter().map(|one| one.join().unwrap()).collect()
    })
}

#[test]
fn the_worst_texts_eight_at_once_all_end_and_keep_no_page_waiting() {
    let server = Server::begin();
    let begin = Instant::now();
    loop {
        let sockets = sent_at_once(&server, &worst_requests());
        assert!(page(&server, "/questions").starts_with("HTTP/1.1 200"));
        for (way, mut socket) in sockets.into_iter().enumerate() {
            let mut answer = [0; 12];
            socket.read_exact(&mut answer).unwrap();
            let answer = String::from_utf8_lossy(&answer);
            let is_told = ["200", "422", "503"]
                .iter()
                .any(|code| answer.ends_with(code));
            assert!(is_told, "{way}: {answer}");
        }
        if begin.elapsed() >= time() {
            break;
        }
    }
}

#[test]
fn the_program_stops_within_ten_seconds_while_it_has_the_longest_work() {
    let mut server = Server::begin();
    let sockets = sent_at_once(&server, &worst_requests());
    thread::sleep(Duration::from_millis(200));
    let begin = Instant::now();
    server.signal("TERM");
    assert_eq!(server.ended().code(), Some(0));
    assert!(
        begin.elapsed() < Duration::from_secs(10),
        "{:?}",
        begin.elapsed()
    );
    drop(sockets);
}

#[test]
fn a_burst_of_forms_is_saved_or_told_to_wait_and_nothing_is_lost_or_doubled() {
    let server = Server::begin();
    let begin = Instant::now();
    let mut saved = 0;
    for round in 0.. {
        let forms: Vec<(String, Vec<u8>)> = (0..100)
            .map(|number| {
                let name = format!("Sandgate {round}-{number}");
                let mut fields = YARN;
                fields[1].1 = &name;
                let (head, body) = post("/yarns/new", &fields);
                (head, body.into_bytes())
            })
            .collect();
        for mut socket in sent_at_once(&server, &forms) {
            let mut answer = [0; 12];
            socket.read_exact(&mut answer).unwrap();
            match &answer[9..] {
                b"303" => saved += 1,
                told => assert_eq!(told, b"503"),
            }
        }
        if begin.elapsed() >= time() {
            break;
        }
    }
    let table = page(&server, "/yarns.csv");
    assert_eq!(table.matches("Sandgate").count(), saved);
    assert!(saved >= 10, "nearly nothing was saved");
}

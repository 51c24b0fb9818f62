//! What stands before every page.

use super::{Answered, House, getting, lock, posting, query};
use crate::desk::Desk;
use axum::{
    body::Body,
    http::{Request, StatusCode, header},
};
use std::{
    io::{Read, Write},
    net::TcpStream,
    time::Duration,
};

const PAGES: [&str; 13] = [
    "/",
    "/yarns",
    "/yarns/new",
    "/yarns/1",
    "/stock",
    "/stock/buy",
    "/stock/1",
    "/patterns",
    "/patterns/new",
    "/patterns/text",
    "/patterns/1",
    "/tables",
    "/nowhere",
];

#[tokio::test]
async fn every_page_carries_the_headers_that_guard_it_and_nothing_inline() {
    let house = House::sample();
    for path in PAGES {
        let page = house.get(path).await;
        let policy = page.headers[header::CONTENT_SECURITY_POLICY]
            .to_str()
            .unwrap();
        assert!(
            policy.contains("default-src 'none'") && !policy.contains("unsafe"),
            "{path}"
        );
        assert_eq!(page.headers[header::REFERRER_POLICY], "same-origin");
        assert_eq!(page.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        for inline in [" style=", "onclick=", "javascript:", "http://", "https://"] {
            assert!(!page.text.contains(inline), "{path} holds {inline}");
        }
        assert!(page.text.contains("<h1>"), "{path}");
    }
    assert_eq!(house.get("/nowhere").await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.get("/yarns/9999").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_name_that_is_not_its_own_is_refused() {
    let house = House::with(|shop| shop.with_names(vec!["counter.home".to_owned()]));
    for (host, status) in [
        ("localhost:8765", StatusCode::OK),
        ("127.0.0.1:8765", StatusCode::OK),
        ("[::1]:8765", StatusCode::OK),
        ("counter.home:8765", StatusCode::OK),
        ("evil.example:8765", StatusCode::MISDIRECTED_REQUEST),
        ("localhost.evil.example", StatusCode::MISDIRECTED_REQUEST),
    ] {
        let request = Request::get("/")
            .header(header::HOST, host)
            .body(Body::empty());
        assert_eq!(house.ask(request.unwrap()).await.status, status, "{host}");
    }
    let nameless = Request::get("/").body(Body::empty()).unwrap();
    assert_eq!(
        house.ask(nameless).await.status,
        StatusCode::MISDIRECTED_REQUEST
    );
}

#[tokio::test]
async fn a_post_from_another_site_is_refused_and_changes_nothing() {
    let house = House::empty();
    let fields = query(&[
        ("maker", "Q"),
        ("name", "S"),
        ("length", "1 m"),
        ("mass", "1 g"),
    ]);
    for (name, value) in [
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
        ("origin", "http://evil.example"),
    ] {
        let request = Request::post("/yarns/new")
            .header(header::HOST, "localhost:8765")
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .header(name, value)
            .body(Body::from(fields.clone()));
        assert_eq!(
            house.ask(request.unwrap()).await.status,
            StatusCode::FORBIDDEN,
            "{value}"
        );
    }
    assert!(
        house
            .get("/yarns")
            .await
            .text
            .contains("You have no yarns yet")
    );
}

#[tokio::test]
async fn too_much_is_refused_and_what_is_no_form_is_told() {
    let house = House::empty();
    let much = format!("notes={}", "x".repeat(600 * 1024));
    let request = posting("/yarns/new").body(Body::from(much)).unwrap();
    assert_eq!(
        house.ask(request).await.status,
        StatusCode::PAYLOAD_TOO_LARGE
    );
    let other = Request::post("/yarns/new")
        .header(header::HOST, "localhost")
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from("{}"));
    assert_eq!(
        house.ask(other.unwrap()).await.status,
        StatusCode::BAD_REQUEST
    );
}

/// Read at once, a text held the thread that serves everyone; now its answer is not
/// there yet when it is asked for the first time.
#[tokio::test]
async fn a_text_is_read_off_the_thread_that_serves_everyone() {
    let house = House::empty();
    let weighed = include_bytes!("../../../sample-stash/weighed.toml");
    for path in ["/needs", "/lint"] {
        let file = ("weighed.txt", weighed.as_slice());
        let answer = house.send(path, &[], file);
        tokio::select! {
            biased;
            _ = answer => panic!("{path} was computed on the serving thread"),
            () = std::future::ready(()) => {}
        }
        let answer = house.send(path, &[], file).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
    }
}

#[tokio::test]
async fn a_wrong_number_in_a_path_gets_a_page_of_the_program_and_heads_are_answered() {
    let house = House::sample();
    for path in [
        "/yarns/abc",
        "/patterns/99999999999999999999",
        "/stock/x/edit",
    ] {
        let wrong = house.get(path).await;
        assert_eq!(wrong.status, StatusCode::NOT_FOUND, "{path}");
        assert!(wrong.text.contains("This page does not exist"), "{path}");
    }
    for path in ["/", "/yarns", "/yarns/1", "/needs", "/yarns.csv"] {
        let head = Request::head(path).header(header::HOST, "localhost");
        let head = house.ask(head.body(Body::empty()).unwrap()).await;
        assert_eq!(
            (head.status, head.text.as_str()),
            (StatusCode::OK, ""),
            "{path}"
        );
    }
}

#[tokio::test]
async fn with_a_passcode_nothing_is_shown_before_it_is_given() {
    let house = House::locked("three small words");
    for path in PAGES {
        let page = house.get(path).await;
        assert_eq!(
            (page.status, page.place()),
            (StatusCode::SEE_OTHER, "/enter"),
            "{path}"
        );
    }
    assert_eq!(
        house.post("/yarns/new", &[("maker", "Q")]).await.status,
        StatusCode::FORBIDDEN
    );
    assert_eq!(house.get("/enter").await.status, StatusCode::OK);
    let wrong = house
        .post("/enter", &[("passcode", "three small sword")])
        .await;
    assert_eq!(wrong.status, StatusCode::FORBIDDEN);
    assert!(
        !wrong.text.contains("small sword"),
        "a secret is never shown again"
    );
    let right = house
        .post("/enter", &[("passcode", "three small words")])
        .await;
    assert_eq!(right.status, StatusCode::SEE_OTHER);
    let cookie = right.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    let session = cookie.split(';').next().unwrap().to_owned();
    let inside = getting("/")
        .header(header::COOKIE, &session)
        .body(Body::empty());
    let inside = house.ask(inside.unwrap()).await;
    assert!(inside.status == StatusCode::OK && inside.text.contains("Lock this device"));
    let leaving = posting("/leave")
        .header(header::COOKIE, &session)
        .body(Body::empty());
    house.ask(leaving.unwrap()).await;
    let outside = getting("/")
        .header(header::COOKIE, &session)
        .body(Body::empty());
    assert_eq!(
        house.ask(outside.unwrap()).await.status,
        StatusCode::SEE_OTHER
    );
}

#[tokio::test]
async fn tries_of_the_passcode_are_limited() {
    let house = House::locked("three small words");
    for _ in 0..5 {
        house.post("/enter", &[("passcode", "a wrong guess")]).await;
    }
    let right = house
        .post("/enter", &[("passcode", "three small words")])
        .await;
    assert_eq!(right.status, StatusCode::TOO_MANY_REQUESTS);
}

/// Sends a passcode as a proxy passes it on, from this address.
async fn try_from(house: &House, from: &str, passcode: &str) -> Answered {
    let request = posting("/enter")
        .header("x-forwarded-for", format!("203.0.113.9, {from}"))
        .header("x-forwarded-proto", "https")
        .body(Body::from(query(&[("passcode", passcode)])));
    house.ask(request.unwrap()).await
}

fn behind_proxy() -> House {
    let desk = Desk::empty();
    lock(&desk, "three small words");
    House::on(desk, |shop| shop.with_passcode().unwrap().behind_proxy())
}

#[tokio::test]
async fn of_a_burst_of_guesses_five_are_looked_at_and_the_right_one_behind_them_is_not_let_in() {
    let house = House::locked("three small words");
    let mut burst = tokio::task::JoinSet::new();
    for number in 0..250 {
        let router = house.router.clone();
        burst.spawn(async move {
            let guess = match number {
                249 => "three small words".to_owned(),
                _ => format!("guess {number}"),
            };
            let body = Body::from(query(&[("passcode", &guess)]));
            let request = posting("/enter").body(body).unwrap();
            tower::ServiceExt::oneshot(router, request)
                .await
                .unwrap()
                .status()
        });
    }
    let statuses = burst.join_all().await;
    let many = |status| statuses.iter().filter(|one| **one == status).count();
    assert_eq!(many(StatusCode::FORBIDDEN), 5);
    assert_eq!(many(StatusCode::TOO_MANY_REQUESTS), 245);
}

/// The program itself: each guess is held back but for its last letter, then all are
/// let go.
#[test]
fn guesses_that_are_held_back_and_let_go_at_once_gain_nothing() {
    let desk = Desk::empty();
    lock(&desk, "three small words");
    let (_running, base) = desk.serve(&["--behind-proxy", "--port", "0"]);
    let address = base.split('/').nth(2).unwrap();
    let guesses = (0..249).map(|number| format!("guess {number}"));
    let guesses = guesses.chain(["three small words".to_owned()]);
    let mut held: Vec<(TcpStream, u8)> = guesses
        .map(|guess| {
            let body = query(&[("passcode", &guess)]);
            let (last, body) = body.as_bytes().split_last().unwrap();
            let mut socket = TcpStream::connect(address).unwrap();
            let most = Some(Duration::from_secs(60));
            socket.set_read_timeout(most).unwrap();
            let head = format!(
                "POST /enter HTTP/1.1\r\nHost: {address}\r\nSec-Fetch-Site: same-origin\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n",
                body.len() + 1
            );
            socket.write_all(head.as_bytes()).unwrap();
            socket.write_all(body).unwrap();
            (socket, *last)
        })
        .collect();
    for (socket, last) in &mut held {
        socket.write_all(&[*last]).unwrap();
    }
    let statuses: Vec<String> = held
        .into_iter()
        .map(|(mut socket, _)| {
            let mut answer = Vec::new();
            socket.read_to_end(&mut answer).unwrap();
            String::from_utf8_lossy(&answer[9..12]).into_owned()
        })
        .collect();
    let many = |status| statuses.iter().filter(|one| *one == status).count();
    assert_eq!((many("403"), many("429")), (5, 245), "{statuses:?}");
}

#[tokio::test]
async fn one_who_guesses_keeps_nobody_else_out() {
    let house = behind_proxy();
    for _ in 0..6 {
        try_from(&house, "192.0.2.1", "a wrong guess").await;
    }
    let same = try_from(&house, "192.0.2.1", "three small words").await;
    assert_eq!(same.status, StatusCode::TOO_MANY_REQUESTS);
    let other = try_from(&house, "192.0.2.2", "three small words").await;
    assert_eq!(other.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn without_a_proxy_an_address_that_is_claimed_is_not_believed() {
    let house = House::locked("three small words");
    for number in 0..6 {
        try_from(&house, &format!("192.0.2.{number}"), "a wrong guess").await;
    }
    let other = try_from(&house, "192.0.2.9", "three small words").await;
    assert_eq!(other.status, StatusCode::TOO_MANY_REQUESTS);
}

#[tokio::test]
async fn another_passcode_holds_at_once_and_ends_every_session() {
    let house = House::locked("three small words");
    let come_in = async |passcode: &str| house.post("/enter", &[("passcode", passcode)]).await;
    let inside = come_in("three small words").await;
    let session = inside.headers[header::SET_COOKIE].to_str().unwrap();
    let session = session.split(';').next().unwrap().to_owned();
    let look = async || {
        let request = getting("/yarns").header(header::COOKIE, &session);
        house.ask(request.body(Body::empty()).unwrap()).await.status
    };
    assert_eq!(look().await, StatusCode::OK);
    lock(&house.desk, "four larger words");
    assert_eq!(look().await, StatusCode::SEE_OTHER);
    let before = come_in("three small words").await;
    assert_eq!(before.status, StatusCode::FORBIDDEN);
    let now = come_in("four larger words").await;
    assert_eq!(now.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_passcode_that_travels_in_the_clear_is_told_and_its_cookie_goes_as_it_came() {
    const CLEAR: &str = "This connection is not encrypted";
    let plain = House::locked("three small words");
    assert!(plain.get("/enter").await.text.contains(CLEAR));
    let house = behind_proxy();
    assert!(house.get("/enter").await.text.contains(CLEAR));
    let page = getting("/enter").header("x-forwarded-proto", "https");
    let page = house.ask(page.body(Body::empty()).unwrap()).await;
    assert!(!page.text.contains(CLEAR));
    for (house, is_secure) in [(&house, true), (&plain, false)] {
        let inside = try_from(house, "192.0.2.1", "three small words").await;
        let cookie = inside.headers[header::SET_COOKIE].to_str().unwrap();
        assert_eq!(cookie.contains("; Secure"), is_secure, "{cookie}");
    }
}

#[test]
fn pages_for_others_do_not_start_without_a_sound_passcode() {
    let desk = Desk::empty();
    for how in [["--listen", "0.0.0.0:0"], ["--behind-proxy", "--port=0"]] {
        let start = || desk.run(&[&["serve"], &how[..]].concat());
        start().code(2).stderr("--set-passcode");
        let file = desk.write("records.db.passcode", "not a hash");
        start().code(1).stderr("is damaged").stderr(&file);
        std::fs::remove_file(file).unwrap();
    }
    lock(&desk, "three small words");
    desk.run(&["serve", "--behind-proxy", "--listen", "0.0.0.0:0"])
        .code(2)
        .stderr("leave out --listen");
}

#[tokio::test]
async fn what_the_pages_need_is_inside_the_program() {
    let house = House::empty();
    for (path, kind) in [
        ("/style.css", "text/css"),
        ("/script.js", "text/javascript"),
        ("/icon.svg", "image/svg+xml"),
    ] {
        let asset = house.get(path).await;
        assert_eq!(asset.status, StatusCode::OK);
        assert!(
            asset.headers[header::CONTENT_TYPE]
                .to_str()
                .unwrap()
                .starts_with(kind)
        );
        let text = asset.text.replace("http://www.w3.org/2000/svg", "");
        assert!(!text.contains("http"), "{path} fetches from elsewhere");
    }
}

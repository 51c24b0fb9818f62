//! The program is killed while pages save: forms of yarns, one scan after the other of a
//! count, its end, and the removal of a layout. What was answered is there, what was not
//! is there as a whole or not at all, and the records are sound.
//!
//! `UNDERSTUDY_LONG=1 cargo test --test all killed` kills ten times as often.

use super::stopping::{Server, post};
use crate::reliability::{Chance, is_long};
use std::{
    io::{Read, Write},
    net::TcpStream,
    sync::mpsc,
    thread,
    time::Duration,
};
use understudy::app::{self, Records};

const BARCODE: &str = "2900328717698";
/// Yarn that is shown and counted in skeins.
const YARN: &str = "Umberlin DK";

fn rounds() -> u64 {
    if is_long() { 40 } else { 4 }
}

/// Sends a form; whether it was answered as saved.
fn saved(address: &str, path: &str, fields: &[(&str, &str)]) -> bool {
    let Ok(mut socket) = TcpStream::connect(address) else {
        return false;
    };
    let (head, body) = post(path, fields);
    let mut answer = [0; 12];
    let most = Some(Duration::from_secs(30));
    socket.set_read_timeout(most).unwrap();
    let asked = socket.write_all((head + &body).as_bytes());
    let answered = asked.and_then(|()| socket.read_exact(&mut answer));
    answered.is_ok() && answer.ends_with(b" 303")
}

/// When the program is killed.
enum Moment {
    /// So long after the first form was sent.
    Sent(Duration),
    /// So long after the first form was saved.
    Saved(Duration),
}

/// Sends form after form until the program is killed; how many were answered as saved,
/// after which at most one may be saved as well.
fn saved_until_killed(
    server: &mut Server,
    moment: &Moment,
    form: impl Fn(usize) -> (String, Vec<(&'static str, String)>) + Send,
) -> usize {
    let address = server.address.clone();
    let (tell, told) = mpsc::channel();
    let send = move |number| {
        let (path, fields) = form(number);
        let fields: Vec<(&str, &str)> = fields.iter().map(|(a, b)| (*a, b.as_str())).collect();
        let saved = saved(&address, &path, &fields);
        // Nobody listens any more once the program is to be killed.
        let _ = tell.send(saved);
        saved
    };
    let sending = thread::scope(|scope| {
        let sending = scope.spawn(move || (0..).take_while(|number| send(*number)).count());
        let after = match moment {
            Moment::Sent(after) => after,
            Moment::Saved(after) => {
                assert_eq!(told.recv(), Ok(true), "the first form is saved");
                after
            }
        };
        thread::sleep(*after);
        server.signal("KILL");
        sending.join().unwrap()
    });
    server.ended();
    sending
}

/// The program on the sample stash.
fn server() -> Server {
    Server::on(crate::desk::Desk::with_sample())
}

#[test]
fn forms_that_are_saved_when_the_program_is_killed_are_whole_or_not_there() {
    let mut server = server();
    let mut chance = Chance(0x5eed_0017);
    for round in 0..rounds() {
        let maker = format!("Mill{round}x");
        let form = |number: usize| {
            let fields = vec![
                ("maker", maker.clone()),
                ("name", format!("Dune {number}")),
                ("length", format!("{} m", 100 + number)),
                ("mass", "50 g".to_owned()),
                ("fibre", "80% wool 20% nylon".to_owned()),
                ("shades", "moss|chalk".to_owned()),
            ];
            ("/yarns/new".to_owned(), fields)
        };
        let after = Moment::Saved(Duration::from_millis(chance.below(150)));
        let done = saved_until_killed(&mut server, &after, form);
        server.desk.text(&["verify"]);
        let kept = server.desk.text(&["export", "yarns"]);
        let rows: Vec<&str> = kept.lines().filter(|row| row.starts_with(&maker)).collect();
        assert!(
            (done..=done + 1).contains(&rows.len()),
            "{done} done, {rows:?}"
        );
        for number in 0..rows.len() {
            let start = format!("{maker},Dune {number},{} m,50 g,", 100 + number);
            let row = rows.iter().find(|row| row.starts_with(&start));
            let row = row.unwrap_or_else(|| panic!("{start} in {rows:?}"));
            assert!(row.contains("80% wool 20% nylon"), "{row}");
            assert!(row.contains("moss|chalk"), "{row}");
        }
        server.begin_again();
    }
}

#[test]
fn scans_of_a_count_are_kept_when_the_program_is_killed_and_its_end_is_whole() {
    let mut server = server();
    let mut chance = Chance(0x5eed_0018);
    let mut counted = 0;
    assert!(saved(&server.address, "/stock/count", &[("place", "")]));
    for _ in 0..rounds() {
        let scan = |_| {
            let fields = vec![
                ("which", BARCODE.to_owned()),
                ("amount", "0.01 skeins".to_owned()),
            ];
            ("/stock/count/1".to_owned(), fields)
        };
        let after = Moment::Saved(Duration::from_millis(chance.below(150)));
        let done = saved_until_killed(&mut server, &after, scan);
        server.desk.text(&["verify"]);
        let records = Records::open_existing(&server.desk.db()).unwrap();
        let lines = app::count_session(&records, 1).unwrap().lines.len();
        let expected = counted + done..=counted + done + 1;
        assert!(expected.contains(&lines), "{lines}, {expected:?}");
        counted = lines;
        server.begin_again();
    }
    let held = |server: &Server| {
        let listed = server.desk.json(&["stock", "list", YARN]);
        listed["rows"][0]["held"].as_str().unwrap().to_owned()
    };
    let before = held(&server);
    for _ in 0..rounds() {
        let book = |number| {
            let fields = vec![("do", "book".to_owned()), ("once", format!("b{number}"))];
            ("/stock/count/1".to_owned(), fields)
        };
        let after = Moment::Sent(Duration::from_millis(chance.below(60)));
        let done = saved_until_killed(&mut server, &after, book);
        server.desk.text(&["verify"]);
        let records = Records::open_existing(&server.desk.db()).unwrap();
        let is_booked = app::count_session(&records, 1).is_err();
        assert!(is_booked || done == 0);
        assert_eq!(held(&server) != before, is_booked, "{}", held(&server));
        if is_booked {
            return;
        }
        server.begin_again();
    }
    // Each kill came before the end of the count: nobody interrupts this one.
    assert!(saved(&server.address, "/stock/count/1", &[("do", "book")]));
    assert_ne!(held(&server), before);
}

#[test]
fn a_layout_is_removed_or_there_when_its_removal_is_killed() {
    let mut server = server();
    let mut chance = Chance(0x5eed_0019);
    let list = crate::desk::sample("supplier.csv");
    for round in 0..rounds() {
        let name = format!("supplier {round}");
        let import = ["import", "table", &list, "--maker", "Zellandine", "--yes"];
        let layout = ["--layout", &name, "--update"];
        server.desk.text(&[&import[..], &layout[..]].concat());
        let before = server.desk.text(&["import", "layouts"]);
        assert!(before.contains(&name), "{before}");
        let forget = |number| {
            let fields = vec![("layout", name.clone()), ("once", format!("{number}"))];
            ("/tables/any/forget".to_owned(), fields)
        };
        let after = Moment::Sent(Duration::from_millis(chance.below(40)));
        let done = saved_until_killed(&mut server, &after, forget);
        server.desk.text(&["verify"]);
        let layouts = server.desk.text(&["import", "layouts"]);
        let is_there = layouts.contains(&name);
        assert!(!is_there || done == 0, "{layouts}");
        assert!(is_there || !layouts.contains("Zellandine"), "{layouts}");
        if is_there {
            assert_eq!(layouts, before);
            server.desk.text(&["import", "layouts", "--remove", &name]);
        }
        server.begin_again();
    }
}

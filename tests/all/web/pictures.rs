//! Pictures of the pages: their marks stand where their numbers belong, each has a table
//! that says the same, and none needs a colour or a script.

use super::{
    House,
    markup::{between, without_tags},
    query,
};

/// The figures of a class, whole.
fn figures<'t>(page: &'t str, class: &str) -> Vec<&'t str> {
    between(page, &format!("<figure class=\"{class}\">"), "</figure>")
}

/// The cells of each row of the table behind a picture.
fn rows(figure: &str) -> Vec<Vec<String>> {
    let body = between(figure, "<tbody", "</tbody>")[0];
    let plain = |cell: &str| {
        let text = cell.split_once('>').unwrap().1;
        without_tags(text).replace('\u{a0}', " ")
    };
    let cells = |row: &&str| -> Vec<String> {
        let row = row.replace("<th", "<td").replace("</th>", "</td>");
        between(&row, "<td", "</td>")
            .into_iter()
            .map(plain)
            .collect()
    };
    between(body, "<tr", "</tr>").iter().map(cells).collect()
}

#[tokio::test]
async fn the_chance_of_running_out_is_shown_as_bars_as_long_as_the_table_says() {
    let house = House::sample();
    let asked = query(&[
        ("asked", "yes"),
        ("need", "1000 m"),
        ("put-up", "100 m / 50 g"),
        ("sure", "95%"),
        ("own-use", "10%"),
    ]);
    let page = house.get(&format!("/skeins?{asked}")).await.text;
    let [figure] = figures(&page, "bars").try_into().unwrap();
    assert!(figure.contains("<figcaption>Chance of running out, by skeins bought"));
    let widths = between(figure, "width=\"", "%\"");
    let rows = rows(figure);
    assert_eq!(widths.len(), rows.len());
    assert!(rows.len() >= 3, "{rows:?}");
    for (width, row) in widths.iter().zip(&rows) {
        let said = row[1].trim_end_matches(" %");
        match said.parse::<f64>() {
            Ok(said) => assert!(
                (width.parse::<f64>().unwrap() - said).abs() < 0.06,
                "{row:?}"
            ),
            Err(_) => assert!(said.contains("0.1") || said.contains("99.9"), "{row:?}"),
        }
    }
    let sure = rows.iter().filter(|row| row[0].contains("95 % sure"));
    assert_eq!(sure.count(), 1);
}

#[tokio::test]
async fn the_chance_with_one_size_is_not_folded() {
    let house = House::sample();
    let page = house
        .get("/answer?pattern=1:2&offered=one&yarn=Drindle&sure=95%25")
        .await
        .text;
    let at = page.find("<figure class=\"bars\">").unwrap();
    assert!(at < page.find("<details class=\"details\"").unwrap());
}

#[tokio::test]
async fn the_map_holds_pattern_limits_and_yarns_each_with_its_link() {
    let house = House::sample();
    for (path, least) in [
        ("/answer?pattern=1&offered=catalogue", 10),
        ("/answer?pattern=1&offered=stash", 3),
        ("/patterns/1", 10),
    ] {
        let page = house.get(path).await.text;
        let map = figures(&page, "map")[0];
        for part in [
            "role=\"group\" aria-labelledby=",
            "<desc",
            "class=\"cross\"",
            "class=\"limits\"",
            "metres per 100 g</text>",
            "stitches in 10 cm</text>",
            "<summary>The same as a table</summary>",
        ] {
            assert!(map.contains(part), "{path}: {part}");
        }
        let rows = rows(map);
        assert!(rows.len() >= least, "{path}: {}", rows.len());
        let marks = between(map, "<a href=\"/yarns/named?name=", "</a>");
        let drawn = marks.iter().filter(|mark| mark.contains("tabindex=\"-1\""));
        let far = between(map, "Too far off to draw: ", " yarn");
        let far: usize = far.first().map_or(0, |far| far.parse().unwrap());
        assert_eq!(drawn.count() + far, rows.len(), "{path}");
        let inside = rows.iter().filter(|row| row[3] == "within").count();
        let shapes = ["<circle class=\"mine\"", "<circle class=\"other\""];
        let (drawn, key) = map.split_once("<div class=\"key\">").unwrap();
        let circles: usize = shapes
            .iter()
            .map(|shape| drawn.matches(shape).count())
            .sum();
        assert_eq!(circles, inside, "{path}");
        let names = drawn.matches("class=\"name-of").count();
        assert!((1..=6).contains(&names), "{path}: {names} names");
        // No line leads from a name to its mark.
        for text in between(drawn, "class=\"name-of", "</text>") {
            assert!(!text.contains("<path"), "{text}");
        }
        for said in ["what the pattern wants", "its limits", "in your stash"] {
            assert!(key.contains(said), "{path}: {said}");
        }
        assert!(!map.contains("style="));
    }
}

#[tokio::test]
async fn marks_stand_in_the_order_of_their_numbers_along_both_axes() {
    let house = House::sample();
    let page = house.get("/answer?pattern=1&offered=catalogue").await.text;
    let map = figures(&page, "map")[0];
    // Each circle with what its title says: metres across, stitches up.
    let marks = between(map, "<title>", "</a>");
    let circles = marks.iter().filter(|mark| mark.contains("<circle"));
    let placed: Vec<[f64; 4]> = circles
        .map(|mark| {
            let said = mark.split(": ").nth(1).unwrap();
            let number = |text: &str| text.parse::<f64>().unwrap();
            let stitches = between(said, "100 g, ", " stitches")[0];
            [
                number(said.split(' ').next().unwrap()),
                number(stitches),
                number(between(mark, "cx=\"", "\"")[0]),
                number(between(mark, "cy=\"", "\"")[0]),
            ]
        })
        .collect();
    assert!(placed.len() >= 3, "{placed:?}");
    // Titles say whole metres and tenths of stitches: what differs in them stands apart.
    for (a, b) in placed.iter().zip(placed.iter().skip(1)) {
        if (a[0] - b[0]).abs() > 1.0 {
            assert_eq!(a[0] < b[0], a[2] < b[2], "{a:?} {b:?}");
        }
        // More stitches stand higher, which is nearer to the top.
        if (a[1] - b[1]).abs() > 0.1 {
            assert_eq!(a[1] > b[1], a[3] < b[3], "{a:?} {b:?}");
        }
    }
    assert!(placed.iter().any(|mark| mark[2] != placed[0][2]));
}

#[tokio::test]
async fn yards_stand_across_for_those_who_want_them() {
    let house = House::sample();
    let request = super::getting("/answer?pattern=1&offered=catalogue")
        .header("cookie", "units=yards")
        .body(axum::body::Body::empty());
    let page = house.ask(request.unwrap()).await.text;
    let map = figures(&page, "map")[0];
    assert!(map.contains("yards per 100 g</text>"), "{map}");
}

#[tokio::test]
async fn what_the_sizes_take_is_shown_by_piece_and_by_yarn() {
    let house = House::sample();
    let weighed = include_str!("../../../sample-stash/weighed.toml");
    let page = house
        .send("/needs", &[("text", weighed)], ("", b""))
        .await
        .text;
    let figure = figures(&page, "bars")[0];
    assert!(
        figure.contains("<figcaption>Yarn for each size by piece, m"),
        "{figure}"
    );
    assert!(figure.contains("role=\"img\" aria-label="), "{figure}");
    let rows = rows(figure);
    assert!(rows.len() >= 2, "{rows:?}");
    // The parts of the longest bar fill it.
    let bars = between(figure, "role=\"img\"", "</svg>");
    let length = |bar: &&str| -> f64 {
        let widths = between(bar, "width=\"", "%\"");
        widths
            .iter()
            .map(|width| width.parse::<f64>().unwrap())
            .sum()
    };
    let longest = bars.iter().map(length).fold(0.0, f64::max);
    assert!((longest - 100.0).abs() < 0.1, "{longest}");
    let page = house.get("/patterns/1").await.text;
    assert!(page.contains("<figcaption>Yarn for each size, m"), "{page}");
}

#[tokio::test]
async fn a_pattern_without_stitches_or_metres_has_no_map() {
    let house = House::empty();
    let pattern = "pattern = \"Plainhat\"\npurpose = \"accessory\"\nfit = \"unfitted\"\n[[size]]\nname = \"one\"\n[[yarn]]\nkey = \"A\"\nneeds = \"90 m\"\n";
    let records = &mut understudy::app::Records::open(&house.desk.db()).unwrap();
    understudy::app::save_pattern(records, None, pattern).unwrap();
    let page = house.get("/patterns/1").await;
    assert!(page.status.is_success(), "{}", page.text);
    assert!(!page.text.contains("<figure"), "{}", page.text);
}

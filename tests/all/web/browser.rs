//! The three people's stories in Chromium, from empty records, by keyboard; axe
//! looks every page over. What is missing (the browser, its driver, axe-core) is
//! installed by `tests/run`; without them these tests say so and pass, unless
//! `UNDERSTUDY_OUTSIDE=fetched` says that they must be there.

use super::{JUMPER, YARNS};
use fantoccini::{
    Client, ClientBuilder, Locator,
    actions::{InputSource, KeyAction, KeyActions},
    key::Key,
    wd::{Capabilities, PrintConfiguration, PrintSize},
};
use std::{
    fs,
    io::{BufRead, BufReader},
    os::unix::process::CommandExt,
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
};

mod bench;

/// A process that ends with its test, and those that it started: a driver that
/// is killed alone would leave its browser behind.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        // They may have ended by themselves.
        let group = format!("-{}", self.0.id());
        drop(Command::new("kill").args(["-KILL", "--", &group]).status());
        drop(self.0.kill());
        drop(self.0.wait());
    }
}

/// Starts a program and waits for the line that tells where it listens.
fn started(command: &mut Command, tells: &str) -> (Running, String) {
    let mut child = command
        .process_group(0)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    let running = Running(child);
    let line = out
        .lines()
        .map(Result::unwrap)
        .find(|line| line.contains(tells))
        .unwrap();
    (running, line)
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn axe() -> Option<String> {
    fs::read_to_string(root().join("target/outside/node_modules/axe-core/axe.min.js")).ok()
}

/// A browser on the pages of empty records.
struct Visit {
    client: Client,
    base: String,
    axe: String,
    script: bool,
    folder: tempfile::TempDir,
    _server: Running,
    _driver: Running,
}

impl Visit {
    async fn begin(script: bool) -> Option<Self> {
        let there = |name: &str| Command::new(name).arg("--version").output().is_ok();
        let Some(axe) = axe().filter(|_| there("chromium") && there("chromedriver")) else {
            assert_ne!(
                std::env::var("UNDERSTUDY_OUTSIDE").as_deref(),
                Ok("fetched"),
                "chromium, chromedriver or axe-core is missing"
            );
            eprintln!(
                "skipped: chromium, chromedriver or axe-core is missing; tests/run installs them"
            );
            return None;
        };
        let folder = tempfile::tempdir().unwrap();
        let (server, told) = started(
            Command::new(env!("CARGO_BIN_EXE_understudy"))
                .args(["serve", "--port", "0", "--db"])
                .arg(folder.path().join("r.db")),
            "Open http",
        );
        let base = told.split(' ').nth(1).unwrap().to_owned();
        let (driver, told) = started(
            Command::new("chromedriver").arg("--port=0"),
            "started successfully on port",
        );
        let port: String = told
            .split("on port ")
            .nth(1)
            .unwrap()
            .chars()
            .filter(char::is_ascii_digit)
            .collect();
        let client = ClientBuilder::new(hyper_util::client::legacy::connect::HttpConnector::new())
            .capabilities(capabilities(&folder.path().join("profile"), script))
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .unwrap();
        Some(Self {
            client,
            base,
            axe,
            script,
            folder,
            _server: server,
            _driver: driver,
        })
    }

    async fn go(&self, path: &str) {
        self.client
            .goto(&format!("{}{path}", self.base))
            .await
            .unwrap();
    }

    /// The text of the page once it says `expected`: a page that is asked for is
    /// not there at once, and the one before may still be.
    async fn told(&self, expected: &str) -> String {
        let mut seen = String::new();
        for _ in 0..100 {
            seen = self.text_now().await.unwrap_or(seen);
            if seen.contains(expected) {
                return seen;
            }
            tokio::time::sleep(std::time::Duration::from_millis(100)).await;
        }
        panic!("`{expected}` is not said:\n{seen}");
    }

    /// The text of whichever page is there, if one is.
    async fn text_now(&self) -> Option<String> {
        let body = self.client.find(Locator::Css("body")).await.ok()?;
        body.text().await.ok()
    }

    /// Looks the page over with axe and at three widths.
    async fn look(&self, name: &str) {
        if !self.script {
            return;
        }
        for width in [320, 768, 1280] {
            self.client.set_window_size(width, 900).await.unwrap();
            let wide = self.client.execute("return document.documentElement.scrollWidth - document.documentElement.clientWidth", Vec::new()).await.unwrap();
            assert_eq!(wide, 0, "{name} scrolls sideways at {width}");
            let height = self
                .client
                .execute(
                    "return Math.min(document.documentElement.scrollHeight + 140, 6000)",
                    Vec::new(),
                )
                .await
                .unwrap();
            self.client
                .set_window_size(width, u32::try_from(height.as_u64().unwrap()).unwrap())
                .await
                .unwrap();
            let folder = root().join("target/screenshots");
            fs::create_dir_all(&folder).unwrap();
            fs::write(
                folder.join(format!("{name}-{width}.png")),
                self.client.screenshot().await.unwrap(),
            )
            .unwrap();
        }
        self.client.execute(&self.axe, Vec::new()).await.unwrap();
        let found = self.client.execute_async(
            "const done = arguments[0]; axe.run().then(r => done(r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html).join(' | '))))",
            Vec::new(),
        );
        let found = found.await.unwrap();
        assert_eq!(found, serde_json::json!([]), "{name}");
    }

    /// Goes with the Tab key to the element of this id and types there.
    async fn type_into(&self, id: &str, text: &str) {
        for _ in 0..60 {
            let here = self.client.active_element().await.unwrap();
            if here.attr("id").await.unwrap().as_deref() == Some(id) {
                here.send_keys(text).await.unwrap();
                return;
            }
            self.press(Key::Tab).await;
        }
        panic!("{id} is not reached by keyboard");
    }

    async fn press(&self, key: Key) {
        let value = char::from(key);
        let keys = KeyActions::new("keys".to_owned())
            .then(KeyAction::Down { value })
            .then(KeyAction::Up { value });
        self.client.perform_actions(keys).await.unwrap();
    }

    async fn enter(&self) {
        self.press(Key::Enter).await;
    }

    /// How many sides of paper the page takes.
    async fn sides(&self, size: PrintSize) -> usize {
        let how = PrintConfiguration::builder().size(size).build().unwrap();
        let paper = self.client.print(how).await.unwrap();
        let text = String::from_utf8_lossy(&paper).into_owned();
        text.matches("/Type /Page\n").count() + text.matches("/Type /Page/").count()
    }
}

fn capabilities(profile: &Path, script: bool) -> Capabilities {
    let mut flags: Vec<String> = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--hide-scrollbars",
    ]
    .map(str::to_owned)
    .to_vec();
    flags.push(format!("--user-data-dir={}", profile.display()));
    let mut options = serde_json::json!({ "args": flags });
    if !script {
        options["prefs"] =
            serde_json::json!({ "profile.managed_default_content_settings.javascript": 2 });
    }
    let mut capabilities = Capabilities::new();
    capabilities.insert("goog:chromeOptions".to_owned(), options);
    capabilities
}

const BAND: &str = "100 g = 240 m, 100% wool, 22 sts x 30 rows / 10 cm, 4 mm";

#[tokio::test]
async fn a_knitter_begins_with_nothing_and_asks_corrects_weighs_and_prints() {
    let Some(visit) = Visit::begin(true).await else {
        return;
    };
    visit.go("/").await;
    visit.look("ask-empty").await;
    visit.go("/tables").await;
    visit.look("tables").await;
    visit
        .type_into(
            "look-text",
            &YARNS.lines().take(20).collect::<Vec<_>>().join("\n"),
        )
        .await;
    visit
        .client
        .find(Locator::Css("#look button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    visit.told("rows to be added").await;
    visit.look("tables-seen").await;
    visit
        .client
        .find(Locator::Css("#take button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    visit.told("imported").await;
    visit.go("/patterns/new").await;
    visit.look("pattern-new").await;
    let area = visit
        .client
        .find(Locator::Css("#pattern-table"))
        .await
        .unwrap();
    area.clear().await.unwrap();
    area.send_keys(JUMPER).await.unwrap();
    visit
        .client
        .find(Locator::Css("#pattern button"))
        .await
        .unwrap()
        .click()
        .await
        .unwrap();
    visit.told("Pattern Skerrablet kept").await;
    visit.look("pattern").await;
    visit.go("/").await;
    visit.look("ask").await;
    visit.type_into("ask-pattern", "Skerrablet, size M").await;
    visit.type_into("ask-band", BAND).await;
    visit
        .client
        .find(Locator::Css("#ask button"))
        .await
        .unwrap()
        .send_keys(&char::from(Key::Enter).to_string())
        .await
        .unwrap();
    let answer = visit.told("Verdict:").await;
    assert!(answer.contains("What the band says, as read"), "{answer}");
    visit.look("answer").await;
    for (name, size) in [
        (
            "A5",
            PrintSize {
                width: 14.8,
                height: 21.0,
            },
        ),
        (
            "letter",
            PrintSize {
                width: 21.59,
                height: 27.94,
            },
        ),
    ] {
        assert_eq!(visit.sides(size).await, 1, "sides of {name}");
    }
    let field = visit
        .client
        .find(Locator::Css("#correct-offered-length"))
        .await
        .unwrap();
    field.clear().await.unwrap();
    field.send_keys("190 m").await.unwrap();
    visit.type_into("correct-offered-length", "").await;
    visit.enter().await;
    visit.told("190 m (208 yd)").await;
    visit.go("/answer?pattern=1&offered=catalogue").await;
    visit.look("answer-list").await;
    visit
        .go("/answer?wants=225+m%2F100+g&tolerance=a+bit&yarn=x")
        .await;
    visit.look("ask-refused").await;
}

#[tokio::test]
async fn a_shop_keeps_stock_and_the_second_editor_is_told() {
    shop(true).await;
}

#[tokio::test]
async fn a_shop_keeps_stock_with_script_off() {
    shop(false).await;
}

async fn shop(script: bool) {
    let Some(visit) = Visit::begin(script).await else {
        return;
    };
    visit.go("/yarns/new").await;
    for (field, text) in [
        ("maker", "Quenby"),
        ("name", "<script>alert(1)</script>"),
        ("length", "125 m"),
        ("mass", "50 g"),
    ] {
        visit.type_into(&format!("yarn-{field}"), text).await;
    }
    visit.enter().await;
    visit.told("Quenby, <script>alert(1)</script> kept").await;
    visit.look("yarn").await;
    visit.go("/stock/buy?yarn=Quenby").await;
    visit.type_into("buy-amount", "5 skeins").await;
    visit.type_into("buy-shade", "moss").await;
    visit.enter().await;
    visit.told("5 skeins held").await;
    visit.go("/stock").await;
    visit.look("stock").await;
    visit.go("/stock/1").await;
    visit
        .client
        .find(Locator::Css("input[value=weighed]"))
        .await
        .unwrap()
        .click()
        .await
        .unwrap();
    visit.type_into("entry-amount", "2 + 30 g").await;
    visit.enter().await;
    visit.told("weighed, entered").await;
    visit.look("lot").await;
    visit.go("/yarns/1/edit").await;
    visit.look("yarn-edit").await;
    let first = visit.client.new_window(true).await.unwrap();
    let second = visit.client.window().await.unwrap();
    for (window, text) in [(first.handle, "one"), (second, "two")] {
        visit.client.switch_to_window(window).await.unwrap();
        if text == "one" {
            visit.go("/yarns/1/edit").await;
        }
        visit
            .client
            .find(Locator::Css("#yarn-notes"))
            .await
            .unwrap()
            .send_keys(text)
            .await
            .unwrap();
        visit
            .client
            .find(Locator::Css("#yarn button.main"))
            .await
            .unwrap()
            .click()
            .await
            .unwrap();
        if text == "one" {
            visit.told("</script> kept").await;
        }
    }
    let told = visit.told("changed by someone else").await;
    assert!(told.contains("as kept now"), "{told}");
    visit.look("yarn-clash").await;
}

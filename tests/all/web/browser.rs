//! The pages in Chromium; axe looks every page and state over, light and dark and
//! at 400 % zoom. What is missing (the browser, its driver, axe-core) is
//! installed by `tests/run`; without them these tests pass, and `machine.rs` says so.

mod counter;
mod keyboard;
mod phone;
mod plan;
mod shop;
mod states;
mod stories;

use crate::{
    desk::{Desk, Running, root},
    machine::{Need, fetched},
};
use fantoccini::{
    Client, ClientBuilder, Locator,
    actions::{InputSource, KeyAction, KeyActions},
    key::Key,
    wd::{Capabilities, PrintConfiguration, PrintSize, WebDriverCompatibleCommand},
};
use std::{
    fs,
    io::Write,
    path::Path,
    process::{Command, Stdio},
};

mod calculators;

/// A browser on the pages of empty records.
struct Visit {
    client: Client,
    base: String,
    axe: String,
    script: bool,
    desk: Desk,
    _server: Running,
    _driver: Running,
}

/// A command to the browser itself, by the protocol of its developers' tools.
#[derive(Debug)]
struct Inside(&'static str, serde_json::Value);

impl WebDriverCompatibleCommand for Inside {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap()))
    }

    fn method_and_body(&self, _: &url::Url) -> (axum::http::Method, Option<String>) {
        let body = serde_json::json!({ "cmd": self.0, "params": self.1 });
        (axum::http::Method::POST, Some(body.to_string()))
    }
}

/// Where the keyboard is, as the page shows it.
const FOCUS: &str = "
    const at = document.activeElement, style = getComputedStyle(at), box = at.getBoundingClientRect();
    const lines = [...at.getClientRects()];
    const seen = lines.some(r => r.width > 0 && r.height > 0 && r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth);
    return { tag: at.tagName.toLowerCase(), id: at.id, text: (at.innerText || at.value || '').trim(),
        ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2, seen, path: location.pathname };";

/// What axe finds: every rule, also the size of targets, which it leaves out by itself.
const AXE: &str = "
    const done = arguments[0];
    axe.run({ rules: { 'target-size': { enabled: true } } })
        .then(r => done(r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html + ' ' + n.failureSummary).join(' | '))));";

/// What reaches out of the window sideways, but for what scrolls by itself.
const CUT: &str = "
    const wide = document.documentElement.clientWidth;
    return [...document.querySelectorAll('main *, nav *, footer *')]
        .filter(e => !e.closest('.scroll') && !e.closest('svg') && !e.closest('details:not([open])') && !e.classList.contains('skip'))
        .filter(e => { const r = e.getBoundingClientRect(); return r.width > 0 && (r.right > wide + 0.5 || r.left < -0.5); })
        .map(e => e.outerHTML.slice(0, 120));";

impl Visit {
    async fn begin(script: bool) -> Option<Self> {
        Self::of(script, &["--port", "0"], "").await
    }

    /// A visit where a passcode is asked.
    async fn locked(passcode: &str) -> Option<Self> {
        Self::of(true, &["--listen", "0.0.0.0:0"], passcode).await
    }

    async fn of(script: bool, listen: &[&str], passcode: &str) -> Option<Self> {
        if !Need::Browser.is_here() {
            return None;
        }
        let axe = fetched("node_modules/axe-core/axe.min.js");
        let axe = fs::read_to_string(axe).unwrap();
        let desk = Desk::empty();
        if !passcode.is_empty() {
            set_passcode(&desk, passcode);
        }
        let (server, base) = desk.serve(listen);
        let base = base.replace("0.0.0.0", "127.0.0.1");
        let (driver, told) = Running::start(
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
            .capabilities(capabilities(&desk.path("profile"), script))
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .unwrap();
        let visit = Self {
            client,
            base,
            axe,
            script,
            desk,
            _server: server,
            _driver: driver,
        };
        // As a window that is in front.
        let in_front = serde_json::json!({ "enabled": true });
        visit
            .inside("Emulation.setFocusEmulationEnabled", in_front)
            .await;
        Some(visit)
    }

    async fn go(&self, path: &str) {
        self.client
            .goto(&format!("{}{path}", self.base))
            .await
            .unwrap();
    }

    /// The sample stash, by the button of an empty one.
    async fn with_sample(&self) {
        self.go("/stock").await;
        self.told("Your stash is empty").await;
        self.click("#sample button").await;
        self.told("The sample stash is in").await;
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

    /// Looks the page over: at three widths, at 400 % zoom of a screen of 1280 by
    /// 1024, and in the dark; axe finds nothing in any of it.
    async fn look(&self, name: &str) {
        if !self.script {
            return;
        }
        for width in [320, 768, 1280] {
            self.client.set_window_size(width, 900).await.unwrap();
            self.is_whole(&format!("{name} at {width}")).await;
            let height = self
                .said("return Math.min(document.documentElement.scrollHeight + 140, 6000)")
                .await;
            let height = u32::try_from(height.as_u64().unwrap()).unwrap();
            self.client.set_window_size(width, height).await.unwrap();
            self.keep(&format!("{name}-{width}")).await;
        }
        self.client.execute(&self.axe, Vec::new()).await.unwrap();
        for light in ["", " in the dark"] {
            self.dark(!light.is_empty()).await;
            self.zoomed(true).await;
            self.is_whole(&format!("{name} at 400 %")).await;
            self.axe_finds_nothing(&format!("{name} at 400 %{light}"))
                .await;
            self.zoomed(false).await;
            self.axe_finds_nothing(&format!("{name}{light}")).await;
        }
        self.keep(&format!("{name}-dark")).await;
        self.dark(false).await;
    }

    async fn said(&self, script: &str) -> serde_json::Value {
        self.client.execute(script, Vec::new()).await.unwrap()
    }

    /// Nothing reaches out of the window, and the page does not scroll sideways.
    async fn is_whole(&self, name: &str) {
        let wide =
            "return document.documentElement.scrollWidth - document.documentElement.clientWidth";
        assert_eq!(self.said(wide).await, 0, "{name} scrolls sideways");
        assert_eq!(self.said(CUT).await, serde_json::json!([]), "{name}");
    }

    async fn axe_finds_nothing(&self, name: &str) {
        let found = self.client.execute_async(AXE, Vec::new()).await.unwrap();
        assert_eq!(found, serde_json::json!([]), "{name}");
    }

    async fn inside(&self, command: &'static str, how: serde_json::Value) {
        self.client.issue_cmd(Inside(command, how)).await.unwrap();
    }

    /// A screen of this size.
    async fn screen(&self, width: u32, height: u32) {
        let screen = serde_json::json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.inside("Emulation.setDeviceMetricsOverride", screen)
            .await;
    }

    async fn zoomed(&self, zoomed: bool) {
        let (command, screen) = match zoomed {
            true => (
                "Emulation.setDeviceMetricsOverride",
                serde_json::json!({ "width": 320, "height": 256, "deviceScaleFactor": 4, "mobile": false }),
            ),
            false => (
                "Emulation.clearDeviceMetricsOverride",
                serde_json::json!({}),
            ),
        };
        self.inside(command, screen).await;
        let seen = self.said("return [innerWidth, devicePixelRatio]").await;
        assert_eq!(seen == serde_json::json!([320, 4]), zoomed, "{seen}");
    }

    async fn dark(&self, dark: bool) {
        let value = if dark { "dark" } else { "" };
        let features = serde_json::json!([{ "name": "prefers-color-scheme", "value": value }]);
        self.inside(
            "Emulation.setEmulatedMedia",
            serde_json::json!({ "features": features }),
        )
        .await;
        let asked = "return matchMedia('(prefers-color-scheme: dark)').matches";
        assert_eq!(self.said(asked).await, dark);
    }

    /// Keeps a picture of the page.
    async fn keep(&self, name: &str) {
        let folder = root().join("target/screenshots");
        fs::create_dir_all(&folder).unwrap();
        let picture = self.client.screenshot().await.unwrap();
        fs::write(folder.join(format!("{name}.png")), picture).unwrap();
    }

    /// Presses a button, or whatever else is found so.
    async fn click(&self, css: &str) {
        let found = self.client.find(Locator::Css(css)).await.unwrap();
        found.click().await.unwrap();
    }

    /// Writes into a field in the place of what stands there.
    async fn fill(&self, id: &str, text: &str) {
        let css = format!("#{id}");
        let field = self.client.find(Locator::Css(&css)).await.unwrap();
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
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

fn set_passcode(desk: &Desk, passcode: &str) {
    let mut set = desk.command(&["serve", "--set-passcode"]);
    let mut child = set.stdin(Stdio::piped()).spawn().unwrap();
    let mut line = child.stdin.take().unwrap();
    writeln!(line, "{passcode}").unwrap();
    drop(line);
    assert!(child.wait().unwrap().success());
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

//! A headless Chromium, spoken to by the DevTools protocol: opens the page, presses
//! keys, reads what is there. Each has a profile of its own and ends with the test.

use std::io::{BufRead, BufReader};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;
use tungstenite::stream::MaybeTlsStream;
use tungstenite::{Message, WebSocket, connect};

/// How long anything on the page may take on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

pub(crate) struct Browser {
    child: Child,
    socket: WebSocket<MaybeTlsStream<TcpStream>>,
    session: String,
    sent: u64,
    _profile: TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Browser {
    /// `None` where there is no Chromium; under CI that is a failure.
    pub(crate) fn start() -> Option<Self> {
        let profile = TempDir::new().unwrap();
        let child = Command::new("chromium")
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"])
            .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
            .args(["--remote-debugging-port=0", "--window-size=1200,1600"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn();
        let Ok(mut child) = child else {
            assert!(std::env::var_os("CI").is_none(), "chromium is missing");
            return None;
        };
        let mut lines = BufReader::new(child.stderr.take().unwrap()).lines().map_while(Result::ok);
        let address =
            lines.find_map(|line| line.strip_prefix("DevTools listening on ").map(str::to_owned)).unwrap();
        // It goes on talking, and must be heard.
        std::thread::spawn(move || lines.for_each(drop));
        let (socket, _) = connect(address).unwrap();
        if let MaybeTlsStream::Plain(stream) = socket.get_ref() {
            stream.set_read_timeout(Some(PATIENCE)).unwrap();
        }
        let mut browser = Self { child, socket, session: String::new(), sent: 0, _profile: profile };
        let page = browser.tell("Target.createTarget", &json!({ "url": "about:blank" }));
        let attached =
            browser.tell("Target.attachToTarget", &json!({ "targetId": page["targetId"], "flatten": true }));
        browser.session = attached["sessionId"].as_str().unwrap().to_owned();
        browser.tell("Page.enable", &json!({}));
        Some(browser)
    }

    fn tell(&mut self, method: &str, what: &Value) -> Value {
        self.sent += 1;
        let mut message = json!({ "id": self.sent, "method": method, "params": what });
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        self.socket.send(Message::text(message.to_string())).unwrap();
        loop {
            let Message::Text(text) = self.socket.read().unwrap() else { continue };
            let answer: Value = serde_json::from_str(text.as_str()).unwrap();
            if answer["id"] == self.sent {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
        }
    }

    /// What a script gives, awaited.
    pub(crate) fn evaluate(&mut self, script: &str) -> Value {
        let answer = self.tell(
            "Runtime.evaluate",
            &json!({ "expression": script, "awaitPromise": true, "returnByValue": true }),
        );
        assert!(answer["exceptionDetails"].is_null(), "{script}: {}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// Waits until a script says true.
    pub(crate) fn until(&mut self, script: &str) {
        let begun = Instant::now();
        while self.evaluate(script) != json!(true) {
            if begun.elapsed() > PATIENCE {
                let seen = self.evaluate("document.body.innerText");
                panic!("never: {script}\n{}", seen.as_str().unwrap_or_default());
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    pub(crate) fn open(&mut self, address: &str) {
        self.tell("Page.navigate", &json!({ "url": address }));
        self.until("document.readyState === 'complete' && location.href !== 'about:blank'");
    }

    /// Puts a file into the input `selector`, as a person does with the picker.
    pub(crate) fn choose(&mut self, selector: &str, file: &Path) {
        let root = self.tell("DOM.getDocument", &json!({}));
        let node = self
            .tell("DOM.querySelector", &json!({ "nodeId": root["root"]["nodeId"], "selector": selector }));
        self.tell("DOM.setFileInputFiles", &json!({ "files": [file], "nodeId": node["nodeId"] }));
    }

    /// Presses a key, by its name in the standard of keyboard events.
    pub(crate) fn press(&mut self, key: &str) {
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            " " => 32,
            "ArrowLeft" => 37,
            "ArrowRight" => 39,
            _ => 0,
        };
        let text = if key.len() == 1 {
            key
        } else if key == "Enter" {
            "\r"
        } else {
            ""
        };
        let down = json!({ "type": "keyDown", "key": key, "text": text, "windowsVirtualKeyCode": code });
        self.tell("Input.dispatchKeyEvent", &down);
        let up = json!({ "type": "keyUp", "key": key, "windowsVirtualKeyCode": code });
        self.tell("Input.dispatchKeyEvent", &up);
    }

    /// A picture of the whole page, into the folder that `PITSIDE_PICTURES` names, to
    /// be looked at by a person.
    pub(crate) fn picture(&mut self, name: &str) {
        let Some(folder) = std::env::var_os("PITSIDE_PICTURES") else { return };
        let shot = self.tell("Page.captureScreenshot", &json!({ "captureBeyondViewport": true }));
        let bytes = data_encoding::BASE64.decode(shot["data"].as_str().unwrap().as_bytes()).unwrap();
        std::fs::write(Path::new(&folder).join(format!("{name}.png")), bytes).unwrap();
    }
}

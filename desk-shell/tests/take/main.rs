//! A clip is timed on the page, in a real browser: the picture shown is frame n, marks
//! become times, and what the browser cannot decode is drawn by ffmpeg.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod browser;
mod routes;

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};

use browser::Browser;
use pitside_model::clip::Media;
use serde_json::json;
use tempfile::TempDir;

/// A served squad of one athlete; it ends with the test.
struct Page {
    child: Child,
    _out: BufReader<ChildStdout>,
    address: String,
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn pitside() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pitside"));
    command.stderr(Stdio::null());
    command
}

impl Page {
    fn start(book: &Path, more: &[&str]) -> Self {
        Self::start_with(book, more, &[])
    }

    /// The same with other variables of the environment.
    fn start_with(book: &Path, more: &[&str], variables: &[(&str, &Path)]) -> Self {
        let ports = ["--page-port", "0", "--listen", "127.0.0.1:0", "--book"];
        let mut command = pitside();
        command.arg("serve").args(ports).arg(book).args(more).envs(variables.iter().copied());
        let mut child = command.stdout(Stdio::piped()).spawn().unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        while !said.starts_with("The page:") {
            said.clear();
            assert!(out.read_line(&mut said).unwrap() > 0, "it ended without saying where the page is");
        }
        let address = said.trim().trim_start_matches("The page:").trim().to_owned();
        Self { child, _out: out, address }
    }

    fn of_a_squad(folder: &TempDir, more: &[&str]) -> Self {
        Self::of_a_squad_with(folder, more, &[])
    }

    fn of_a_squad_with(folder: &TempDir, more: &[&str], variables: &[(&str, &Path)]) -> Self {
        let book = folder.path().join("book");
        drop(Self::start(&book, &["--found", "Quay jumps"]));
        let set = ["--member", "Ino", "--exercise", "Bounds with a run-in", "--reps", "4", "--strides", "6"];
        for args in [&["--new-member", "Ino"][..], &set] {
            let logged =
                pitside().arg("log").args(args).arg("--book").arg(&book).stdout(Stdio::null()).status();
            assert!(logged.unwrap().success(), "{args:?}");
        }
        Self::start_with(&book, more, variables)
    }

    /// The browser on the page that times clips, let in.
    fn marking(&self) -> Option<Browser> {
        let mut browser = Browser::start()?;
        browser.open(&self.address);
        browser.until("document.querySelector('nav') !== null");
        let (base, _) = self.address.split_once("/?").unwrap();
        browser.open(&format!("{base}/take"));
        browser.until("document.getElementById('choose') && !document.getElementById('choose').hidden");
        Some(browser)
    }
}

/// Half a second in which each frame shows its own number: eight squares across the top,
/// white for the ones of its binary digits, the lowest at the left. Coded with B-frames,
/// so that decoding order is not the order shown.
fn counted(folder: &Path, name: &str, codec: &[&str]) -> PathBuf {
    let path = folder.join(name);
    let squares = "geq=lum='if(lt(Y,40),if(mod(floor(N/pow(2,floor(X/40))),2),235,16),110)':cb=128:cr=128";
    let drawn = Command::new("ffmpeg")
        .args(["-v", "error", "-f", "lavfi", "-i", "color=black:s=320x180:r=240:d=0.5", "-vf", squares])
        .args(["-pix_fmt", "yuv420p", "-g", "48", "-bf", "3"])
        .args(codec)
        .arg(&path)
        .status();
    assert!(drawn.unwrap().success(), "ffmpeg");
    path
}

/// The number that the stage shows, read from its pixels, and the one it says it shows.
const SHOWN: &str = "(() => {
    const stage = document.getElementById('stage'), draw = stage.getContext('2d');
    const bit = (k) => draw.getImageData(20 + 40 * k, 20, 1, 1).data[0] > 128;
    return [[0, 1, 2, 3, 4, 5, 6, 7].reduce((n, k) => n + (bit(k) ? 2 ** k : 0), 0), Number(stage.dataset.frame)];
})()";

/// Moves the slider to a frame.
fn go(browser: &mut Browser, frame: u32) {
    browser.evaluate(&format!(
        "(() => {{ const along = document.getElementById('along'); along.value = {frame}; \
         along.dispatchEvent(new Event('input')); }})()"
    ));
}

/// Chooses the newest set, as a person does.
fn choose_set(browser: &mut Browser) {
    browser.evaluate(
        "(() => { const set = document.getElementById('set'); set.selectedIndex = 1; \
         set.dispatchEvent(new Event('change')); })()",
    );
}

/// The frame that the stage shows.
fn at(browser: &mut Browser) -> f64 {
    browser.evaluate("Number(document.getElementById('stage').dataset.frame)").as_f64().unwrap()
}

/// Waits until the stage shows a frame.
fn arrives(browser: &mut Browser, frame: impl std::fmt::Display) {
    browser.until(&format!("document.getElementById('stage').dataset.frame === '{frame}'"));
}

fn shows(browser: &mut Browser, frame: u32) {
    arrives(browser, frame);
    assert_eq!(browser.evaluate(SHOWN), json!([frame, frame]));
}

#[test]
fn the_picture_is_frame_n_and_keys_alone_time_a_contact() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let clip = counted(folder.path(), "counted.mp4", &["-c:v", "libx264"]);
    browser.choose("#file", &clip);
    shows(&mut browser, 0);
    // Far and near, forwards and backwards, over keys and between them.
    for frame in [1, 2, 119, 60, 59, 58, 13, 97, 48, 47, 0, 10] {
        go(&mut browser, frame);
        shows(&mut browser, frame);
    }
    // Around the foot stands the square; at the left it shows the lowest digit, so that
    // each of three neighbours differs from the next.
    browser.evaluate("document.getElementById('stage').focus()");
    browser.evaluate(
        "(() => { const stage = document.getElementById('stage'), box = stage.getBoundingClientRect(); \
         stage.dispatchEvent(new MouseEvent('click', { clientX: box.left + 1, clientY: box.top + 1 })); })()",
    );
    browser.until(
        "[...document.querySelectorAll('[data-crop]')].every((crop) => \
         crop.dataset.frame === String(10 + Number(crop.dataset.crop)) && \
         (crop.getContext('2d').getImageData(100, 100, 1, 1).data[0] > 128) === (Number(crop.dataset.frame) % 2 === 1))",
    );
    // Touchdown between 9 and 10 by its key; then to the toe-off between 45 and 46.
    choose_set(&mut browser);
    browser.press("1");
    browser.until("document.querySelectorAll('#marks li').length === 1");
    let marked = browser.evaluate("document.querySelector('#marks li').textContent");
    assert_eq!(marked, json!("Touchdown, left: between frames 9 and 10"));
    // It jumped near: the usual contact of a bound is 155 ms, 37 frames.
    browser.until("Math.abs(Number(document.getElementById('stage').dataset.frame) - 47) < 2");
    let heading = browser.evaluate("document.getElementById('expected').textContent");
    assert_eq!(heading, json!("Toe-off, left"));
    while at(&mut browser) > 45.0 {
        let before = at(&mut browser);
        browser.press("ArrowLeft");
        arrives(&mut browser, before - 1.0);
    }
    shows(&mut browser, 45);
    browser.press("2");
    browser.until("document.querySelectorAll('#marks li').length === 2");
    // 36 frames of 1/240 s.
    let times = browser.evaluate("document.getElementById('times').innerText");
    assert!(times.as_str().unwrap().contains("0.150 s"), "{times}");
    browser.picture("take-marked");
    // Doubt, and back; the next touchdown is expected behind the clip's end.
    shows(&mut browser, 119);
    go(&mut browser, 100);
    shows(&mut browser, 100);
    browser.press("3");
    browser.until("document.querySelectorAll('#marks .doubted').length === 1");
    browser.press("u");
    browser.until("document.querySelectorAll('#marks li').length === 2");
    // By keyboard to the button, and saved into the session of its set.
    browser.evaluate("document.getElementById('save').focus()");
    browser.press("Enter");
    browser.until("location.pathname.startsWith('/session/') && document.readyState === 'complete'");
    let session = browser.evaluate("document.body.innerText");
    assert!(session.as_str().unwrap().contains("0.150 s"), "{session}");
    browser.picture("take-saved");
}

/// The drawn clip of tests/render: its contacts are known, and its marks were read by
/// eye (bounds-240.marks.json).
#[test]
fn four_contacts_are_eight_keys_and_lie_by_the_drawn_times() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let clip = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/render/clips/bounds-240.mp4");
    // The browser reads no path with two dots in it.
    browser.choose("#file", &clip.canonicalize().unwrap());
    arrives(&mut browser, 0);
    choose_set(&mut browser);
    let read = [165, 200, 270, 308, 383, 416, 496, 539];
    for (number, frame) in read.into_iter().enumerate() {
        // It jumps near by itself: from the second contact on within 35 frames.
        let near = at(&mut browser);
        assert!(number == 0 || (near - f64::from(frame)).abs() < 35.0, "mark {number}: {near}, not {frame}");
        go(&mut browser, frame);
        arrives(&mut browser, frame);
        browser.press("1");
        browser.until(&format!("document.querySelectorAll('#marks li').length === {}", number + 1));
        // The view jumps before the next key.
        let settled =
            "document.getElementById('stage').dataset.frame === document.getElementById('along').value";
        browser.until(settled);
    }
    let marks = "[...document.querySelectorAll('#marks li')].map((mark) => mark.textContent.split(':')[0])";
    let expected = ["left", "right", "left", "right"]
        .map(|foot| [format!("Touchdown, {foot}"), format!("Toe-off, {foot}")])
        .concat();
    assert_eq!(browser.evaluate(marks), json!(expected));
    let times =
        "[...document.querySelectorAll('.times .figure')].map((time) => time.textContent.slice(0, 5))";
    // As drawn (bounds-240.json), within one frame.
    let shown: Vec<f64> = browser
        .evaluate(times)
        .as_array()
        .unwrap()
        .iter()
        .map(|t| t.as_str().unwrap().parse().unwrap())
        .collect();
    let truth: serde_json::Value =
        serde_json::from_str(include_str!("../../../tests/render/clips/bounds-240.json")).unwrap();
    let drawn: Vec<f64> = truth["contacts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|contact| contact["toe_off_s"].as_f64().unwrap() - contact["touchdown_s"].as_f64().unwrap())
        .collect();
    assert_eq!((shown.len(), drawn.len()), (4, 4));
    for (shown, drawn) in shown.iter().zip(&drawn) {
        assert!((shown - drawn).abs() < 1.0 / 240.0 + 0.0005, "{shown} s, drawn with {drawn} s");
    }
    go(&mut browser, 383);
    arrives(&mut browser, 383);
    browser.picture("take-drawn-clip");
}

#[test]
fn what_is_turned_is_shown_upright() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let flat = counted(folder.path(), "flat.mp4", &["-c:v", "libx264"]);
    let turned = folder.path().join("turned.mp4");
    let copied = Command::new("ffmpeg")
        .args(["-v", "error", "-i"])
        .arg(&flat)
        .args(["-c", "copy", "-metadata:s:v:0", "rotate=270"])
        .arg(&turned)
        .status();
    assert!(copied.unwrap().success(), "ffmpeg");
    browser.choose("#file", &turned);
    arrives(&mut browser, 0);
    let size =
        "(() => { const stage = document.getElementById('stage'); return [stage.width, stage.height]; })()";
    assert_eq!(browser.evaluate(size), json!([180, 320]));
    // The top of the picture is its right edge now.
    go(&mut browser, 5);
    arrives(&mut browser, 5);
    let bits = "[0, 1, 2, 3].map((k) => document.getElementById('stage').getContext('2d').getImageData(160, 20 + 40 * k, 1, 1).data[0] > 128)";
    assert_eq!(browser.evaluate(bits), json!([true, false, true, false]));
}

#[test]
fn what_the_browser_cannot_decode_is_drawn_anew_and_timed_from_the_clip() {
    let folder = TempDir::new().unwrap();
    let clips = folder.path().join("clips");
    std::fs::create_dir(&clips).unwrap();
    let hevc = ["-c:v", "libx265", "-x265-params", "log-level=error", "-tag:v", "hvc1"];
    let clip = counted(&clips, "hevc.mp4", &hevc);
    let page = Page::of_a_squad(&folder, &["--clips", clips.to_str().unwrap()]);
    let Some(mut browser) = page.marking() else { return };
    browser.evaluate("document.querySelector('[data-name=\"hevc.mp4\"]').click()");
    browser.until("document.getElementById('pictures-note').textContent.includes('drawn anew by ffmpeg')");
    shows(&mut browser, 0);
    for frame in [77, 76, 12, 119] {
        go(&mut browser, frame);
        shows(&mut browser, frame);
    }
    browser.picture("take-drawn");
    // A clip that was read in place can go when its times are kept; not before.
    assert!(clip.exists());
    browser.press("1");
    browser.until("document.querySelectorAll('#marks li').length === 1 && !document.getElementById('save-delete').disabled");
    browser.evaluate("document.getElementById('save-delete').click()");
    browser.until("location.pathname.startsWith('/athlete/')");
    assert!(!clip.exists());
}

/// Neither the browser nor anything beside it decodes the clip.
#[test]
fn without_pictures_a_contact_is_timed_by_time_stamps() {
    let folder = TempDir::new().unwrap();
    let nothing = folder.path().join("nothing");
    std::fs::create_dir(&nothing).unwrap();
    let hevc = ["-c:v", "libx265", "-x265-params", "log-level=error", "-tag:v", "hvc1"];
    let clip = counted(folder.path(), "hevc.mp4", &hevc);
    let page = Page::of_a_squad_with(&folder, &[], &[("PATH", &nothing)]);
    let Some(mut browser) = page.marking() else { return };
    browser.choose("#file", &clip);
    browser.until("document.getElementById('pictures-note').textContent.includes('not installed')");
    let note = browser.evaluate("document.getElementById('pictures-note').textContent");
    assert_eq!(
        note,
        json!(
            "This browser cannot decode the clip, and ffmpeg, which could draw its pictures, is not installed. \
             Frames can still be marked by their times."
        )
    );
    let captions =
        "[...document.querySelectorAll('#crops figcaption')].map((caption) => caption.textContent)";
    go(&mut browser, 24);
    assert_eq!(
        browser.evaluate(captions),
        json!(["frame 23, 0.0958 s", "frame 24, 0.1000 s", "frame 25, 0.1042 s"])
    );
    choose_set(&mut browser);
    browser.press("1");
    browser.until("document.querySelectorAll('#marks li').length === 1");
    go(&mut browser, 60);
    browser.press("1");
    browser.until("document.querySelectorAll('#marks li').length === 2");
    let times = browser.evaluate("document.getElementById('times').innerText");
    assert!(times.as_str().unwrap().contains("0.150 s"), "{times}");
    browser.picture("take-no-pictures");
    browser.evaluate("document.getElementById('save').click()");
    browser.until("location.pathname.startsWith('/session/') && document.readyState === 'complete'");
    let session = browser.evaluate("document.body.innerText");
    assert!(session.as_str().unwrap().contains("0.150 s"), "{session}");
}

const MARKS: &str = "[...document.querySelectorAll('#marks li')].map((mark) => mark.textContent)";

/// Waits until these are the marks.
fn marked(browser: &mut Browser, marks: &[&str]) {
    browser.until(&format!("JSON.stringify({MARKS}) === {}", json!(json!(marks).to_string())));
}

/// What a person does too quickly, in another order, or again.
#[test]
fn hasty_keys_undo_and_a_reload_keep_the_marks_right() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let clip = counted(folder.path(), "counted.mp4", &["-c:v", "libx264"]);
    browser.choose("#file", &clip);
    shows(&mut browser, 0);
    choose_set(&mut browser);
    go(&mut browser, 10);
    shows(&mut browser, 10);
    // Three presses before the first answer are one mark; a choice of the foot that
    // follows is not lost to it.
    browser.evaluate(
        "['1', '1', '1'].forEach((key) => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true })))",
    );
    let on = "Touchdown, left: between frames 9 and 10";
    marked(&mut browser, &[on]);
    browser.until("Number(document.getElementById('stage').dataset.frame) > 40");
    go(&mut browser, 46);
    browser.evaluate(
        "['1', 'f'].forEach((key) => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true })))",
    );
    let off = "Toe-off, left: between frames 45 and 46";
    marked(&mut browser, &[on, off]);
    browser.until("document.getElementById('expected').textContent === 'Touchdown, both feet'");
    // Undo takes back the widening, then the mark.
    browser.evaluate("document.getElementById('wider-after').click()");
    let wide = "Toe-off, left: in doubt between frames 45 and 47";
    marked(&mut browser, &[on, wide]);
    browser.press("u");
    marked(&mut browser, &[on, off]);
    // A mark put in before the others is the newest one all the same.
    go(&mut browser, 5);
    browser.evaluate("document.getElementById('other-foot').click()");
    browser.press("2");
    browser.until("document.querySelectorAll('#marks li').length === 3");
    browser.evaluate("document.getElementById('wider-before').click()");
    browser.until(&format!("({MARKS})[0].includes('between frames 4 and 6')"));
    browser.press("u");
    browser.until(&format!("({MARKS})[0].includes('between frames 5 and 6')"));
    browser.press("u");
    marked(&mut browser, &[on, off]);
    // What was stated of the clock comes back with the marks.
    browser.evaluate(
        "(() => { const rate = document.getElementById('rate'); rate.value = '480'; rate.dispatchEvent(new Event('change')); })()",
    );
    let half = "document.getElementById('times').innerText.includes('0.075 s')";
    browser.until(half);
    browser.evaluate("(window.before = true, location.reload())");
    browser.until("window.before === undefined && document.readyState === 'complete'");
    marked(&mut browser, &[on, off]);
    browser.until(half);
    // Saved twice is saved once.
    browser.evaluate("document.getElementById('save').click(), document.getElementById('save').click()");
    browser.until("location.pathname.startsWith('/session/') && document.readyState === 'complete'");
    let session = browser.evaluate("document.body.innerText");
    assert_eq!(session.as_str().unwrap().matches("0.075 s").count(), 1, "{session}");
}

/// The pictures of the first group are noise; those of the others are shown all the same.
#[test]
fn what_is_damaged_is_said_and_the_rest_is_shown() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let clip = counted(folder.path(), "counted.mp4", &["-c:v", "libx264"]);
    let mut bytes = std::fs::read(&clip).unwrap();
    let media = Media::read(std::io::Cursor::new(&bytes), None).unwrap();
    for sample in media.samples.iter().filter(|sample| sample.frame < 44) {
        let from = usize::try_from(sample.offset).unwrap();
        bytes[from..from + usize::try_from(sample.size).unwrap()].fill(0x5a);
    }
    std::fs::write(&clip, &bytes).unwrap();
    browser.choose("#file", &clip);
    browser.until("document.getElementById('trouble').textContent !== ''");
    go(&mut browser, 100);
    shows(&mut browser, 100);
    go(&mut browser, 20);
    browser.until("document.getElementById('trouble').textContent !== ''");
    go(&mut browser, 119);
    shows(&mut browser, 119);
}

#[test]
fn a_clip_that_is_too_large_is_said_before_it_is_sent() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let large = folder.path().join("large.mp4");
    // A file with a hole in it, which takes no room.
    std::fs::File::create(&large).unwrap().set_len((8 << 30) + 1).unwrap();
    browser.choose("#file", &large);
    browser.until("document.getElementById('trouble').textContent.includes('more than 8 GB')");
}

/// A clip of one frame, in which nothing can be marked.
#[test]
fn a_single_picture_has_no_gap() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let clip = counted(folder.path(), "one.mp4", &["-c:v", "libx264", "-frames:v", "1"]);
    browser.choose("#file", &clip);
    shows(&mut browser, 0);
    for key in ["1", "2", "3", "u", "ArrowRight", "ArrowLeft"] {
        browser.press(key);
    }
    browser.until("['gap-before', 'gap-after', 'doubt'].every((id) => document.getElementById(id).disabled)");
    assert_eq!(browser.evaluate(MARKS), json!([]));
    shows(&mut browser, 0);
}

#[test]
fn what_is_no_clip_is_said_and_a_form_of_elsewhere_is_refused() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder, &[]);
    let Some(mut browser) = page.marking() else { return };
    let noise = folder.path().join("notes.mp4");
    std::fs::write(&noise, b"not a clip at all").unwrap();
    browser.choose("#file", &noise);
    browser.until("document.getElementById('trouble').textContent.includes('no MP4 or QuickTime file')");
    let refused = browser.evaluate(
        "fetch('/take/clip', { method: 'POST', headers: { 'x-form': 'made up' }, body: 'x' }).then((answer) => answer.status)",
    );
    assert_eq!(refused, json!(403));
    let missing = browser.evaluate("fetch('/take/clip/0123').then((answer) => answer.status)");
    assert_eq!(missing, json!(404));
    let path = browser.evaluate(
        "fetch('/take/listed', { method: 'POST', headers: { 'x-form': document.querySelector('#about [name=form]').value }, \
         body: JSON.stringify({ name: '../book/book.sqlite' }) }).then((answer) => answer.status)",
    );
    assert_eq!(path, json!(404));
}

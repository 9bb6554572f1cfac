//! Writes the rendered clips and their known times into `clips/`, or measures
//! the suggested events on scenes: `measure FIRST COUNT`.

use std::env;
use std::error::Error;
use std::fs;
use std::io::Write as _;
use std::path::Path;

use render::measure::{Ground, HEAD, Outcome, judge, suggestions};
use render::picture::WIDTH;
use render::scene::Scene;
use render::truth::Truth;
use render::{clip, file};

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => write_clips(),
        ["measure", first, count] => measure(first.parse()?, count.parse()?),
        _ => Err("nothing (writes the clips), or: measure FIRST COUNT".into()),
    }
}

fn measure(first: u64, count: u64) -> Result<(), Box<dyn Error>> {
    const GROUNDS: [Ground; 2] = [Ground::Pointed, Ground::Unsaid];
    let kinds = ["pogo", "hops", "bounds", "run"];
    let mut all = [Outcome::default(), Outcome::default()];
    let mut by_kind = [(); 4].map(|()| Outcome::default());
    for seed in first..first.saturating_add(count) {
        let scene = Scene::of(seed);
        let events = scene.events();
        for (place, found) in suggestions(&scene, &GROUNDS)?.into_iter().enumerate() {
            let outcome = judge(&events, &found, WIDTH / 2);
            if place == 0 {
                by_kind[scene.exercise as usize].add(outcome.clone());
            }
            all[place].add(outcome);
        }
    }
    let mut out = std::io::stdout();
    writeln!(out, "{HEAD}")?;
    writeln!(out, "{}", all[0].line("ground pointed at"))?;
    for (kind, outcome) in kinds.iter().zip(&by_kind) {
        writeln!(out, "{}", outcome.line(&format!("  {kind}")))?;
    }
    writeln!(out, "{}", all[1].line("ground unsaid"))?;
    Ok(())
}

fn write_clips() -> Result<(), Box<dyn Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("clips");
    fs::create_dir_all(&folder)?;
    for clip in clip::all() {
        let video = folder.join(clip.file_name());
        file::write(&clip, &video)?;
        fs::write(folder.join(format!("{}.json", clip.stem)), Truth::of(&clip).to_json()?)?;
        writeln!(
            std::io::stdout(),
            "{}: {} frames, {} bytes",
            video.display(),
            clip.frames,
            fs::metadata(&video)?.len()
        )?;
    }
    Ok(())
}

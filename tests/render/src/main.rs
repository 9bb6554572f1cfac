//! Writes the rendered clips and their known times into `clips/`.

use std::error::Error;
use std::fs;
use std::io::Write as _;
use std::path::Path;

use render::truth::Truth;
use render::{clip, file};

fn main() -> Result<(), Box<dyn Error>> {
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

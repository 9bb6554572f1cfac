//! The page as it is drawn before its script fills it.

use maud::{Markup, html};
use pitside_screen::record::MarkingForm;

use super::super::layout::{Frame, options, sentences};
use super::shelf::{Listed, MAX_BYTES};

pub(super) fn page(frame: &Frame, form: &MarkingForm, listed: &[Listed]) -> Markup {
    frame.page(
        "/take",
        &form.title,
        html! {
            h1 { (form.title) }
            noscript { p.notice { "Marking frames needs JavaScript, which is switched off here. The command " code { "pitside contact" } " does without." } }
            (of_what(frame, form))
            (choose(listed))
            p #trouble .notice role="alert" hidden {}
            div #work hidden {
                (clock())
                (view())
                (marking())
                section #result aria-labelledby="result-head" {
                    h2 #result-head { "What it comes to" }
                    p #no-times .quiet { "Nothing is marked yet." }
                    div #times {}
                    p { a href="/targets" { "Targets of contact times" } }
                }
                div.acts {
                    button #save type="button" disabled { "Save the times" }
                    button #save-delete .plain type="button" hidden disabled { "Save the times and delete the clip" }
                    button #leave .plain type="button" { "Close the clip" }
                }
                p #copy-note .quiet { "This page works on a copy on this machine, which is deleted when you close the clip or end the program. The clip itself stays where you chose it; only times are kept." }
            }
            section.cautions aria-labelledby="cautions" {
                h2 #cautions { "Before you film" }
                (sentences("", &form.cautions))
            }
            script type="module" src="/take/mark.js" {}
        },
    )
}

/// Whose clip it is and what it shows.
fn of_what(frame: &Frame, form: &MarkingForm) -> Markup {
    html! {
        form #about .fields .row data-today=(form.today) {
            (frame.form.field())
            label { "Athlete"
                select #member name="member" required {
                    option value="" { "choose" }
                    (options(&form.members))
                }
            }
            @if form.members.iter().any(|member| member.chosen) {
                label { "Set"
                    select #set name="set" {
                        option value="" { "none of these" }
                        (options(&form.sets))
                    }
                }
                label.no-set { "Exercise"
                    select #exercise name="exercise" {
                        option value="" { "none" }
                        (options(&form.exercises))
                    }
                }
                label.no-set { "Filmed on" input #day type="date" name="day" value=(form.today) max=(form.today); }
            }
        }
    }
}

fn choose(listed: &[Listed]) -> Markup {
    html! {
        section #choose aria-labelledby="choose-head" hidden {
            h2 #choose-head { "The clip" }
            div #drop {
                label.button for="file" { "Choose a clip" }
                input #file .spoken-only type="file" accept="video/*,.mp4,.mov,.m4v,.3gp" data-most=(MAX_BYTES);
                span { " or drop it here." }
                progress #sending hidden max="1" value="0" {}
            }
            @if !listed.is_empty() {
                p { "In the folder of clips, read in place:" }
                ul #listed .files {
                    @for clip in listed {
                        li { button.plain type="button" data-name=(clip.name) { (clip.name) " " span.quiet { (megabytes(clip.bytes)) } } }
                    }
                }
            }
        }
    }
}

fn megabytes(bytes: u64) -> String {
    match bytes {
        ..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{} MB", bytes.div_ceil(1_000_000)),
    }
}

/// The clock, and what settles it.
fn clock() -> Markup {
    html! {
        details #clock {
            summary #clock-text {}
            ul #evidence {}
            div.fields.row {
                label #track-label hidden { "Video track" select #track {} }
                label { "Frames a second it was captured with"
                    input #rate type="number" min="1" max="10000" step="any" inputmode="decimal" placeholder="as the file says";
                }
            }
            details #measure {
                summary { "Measure the clock in the clip" }
                p.quiet { "Two moments in one evenly slowed part, far apart: a ball that falls from a measured height, or two readings of a running clock. Step to each and take it over." }
                div.fields.row {
                    label { "With"
                        select #with {
                            option value="" { "nothing" }
                            option value="ball" { "a falling ball" }
                            option value="clock" { "a running clock" }
                        }
                    }
                    button #first .plain type="button" disabled { "First moment is here" }
                    button #second .plain type="button" disabled { "Second moment is here" }
                }
                div.fields.row #ball hidden {
                    label { "Height of the fall, m" input #height type="number" min="0.2" max="20" step="any" value="1.5"; }
                    label { "known to ±, cm" input #height-u type="number" min="0" max="100" step="any" value="1"; }
                }
                div.fields.row #shown hidden {
                    label { "Shown first, s" input #first-s type="number" min="0" step="any"; }
                    label { "Shown second, s" input #second-s type="number" min="0" step="any"; }
                    label { "Last digit, s" input #digit type="number" min="0.001" step="any" value="0.01"; }
                }
                p #measured-at .quiet {}
            }
        }
        p #warnings .notice hidden {}
    }
}

/// The picture, and what steps through it.
fn view() -> Markup {
    html! {
        p #pictures-note .quiet hidden {}
        div #stage-frame {
            canvas #stage tabindex="0" role="img" aria-label="The picture" width="640" height="360" {}
        }
        p #where aria-live="polite" {}
        p #square-hint .label { "Press the picture where the foot meets the ground: the three pictures below show that place." }
        div.steps role="group" aria-label="Step through the frames" {
            button type="button" data-step="-10" aria-label="Back ten frames" { "−10" }
            button type="button" data-step="-1" aria-label="Back one frame" { "−1" }
            button #play .plain type="button" aria-pressed="false" { "Play" }
            label { span.spoken-only { "Frames played a second" }
                select #pace { option value="4" { "4 a second" } option value="12" selected { "12 a second" } option value="30" { "30 a second" } }
            }
            button type="button" data-step="1" aria-label="On one frame" { "+1" }
            button type="button" data-step="10" aria-label="On ten frames" { "+10" }
        }
        input #along type="range" min="0" max="0" value="0" step="1" aria-label="Frame";
    }
}

/// Three pictures of the foot with the gaps between them.
fn marking() -> Markup {
    html! {
        section #marking aria-labelledby="expected" {
            h2 #expected aria-live="polite" {}
            div.steps role="group" aria-label="Another foot or event" {
                button.plain #other-foot type="button" { "Another foot" }
                button.plain #other-kind type="button" { "Another event" }
                button.plain #undo type="button" disabled { "Undo" }
            }
            p #gap-hint .quiet {}
            div #crops {
                figure { canvas data-crop="-1" width="280" height="280" {} figcaption {} }
                button.gap #gap-before type="button" {}
                figure #doubt-figure { canvas data-crop="0" width="280" height="280" {} figcaption {} button.plain #doubt type="button" { "In doubt" } }
                button.gap #gap-after type="button" {}
                figure { canvas data-crop="1" width="280" height="280" {} figcaption {} }
            }
            div.steps role="group" aria-label="The last mark" {
                button.plain #wider-before type="button" disabled { "Last mark: begin a frame earlier" }
                button.plain #wider-after type="button" disabled { "Last mark: end a frame later" }
            }
            ol #marks {}
            details {
                summary { "Keys" }
                dl.keys {
                    dt { kbd { "←" } " " kbd { "→" } } dd { "one frame; with " kbd { "Shift" } " ten" }
                    dt { kbd { "1" } " " kbd { "2" } } dd { "mark the gap before, after the middle picture" }
                    dt { kbd { "3" } } dd { "mark it with the middle picture in doubt" }
                    dt { kbd { "F" } " " kbd { "T" } } dd { "another foot; touchdown or toe-off" }
                    dt { kbd { "U" } } dd { "undo" }
                    dt { kbd { "Space" } } dd { "play, stop" }
                    dt { kbd { "I" } " " kbd { "J" } " " kbd { "K" } " " kbd { "L" } } dd { "move the square around the foot; " kbd { "+" } " " kbd { "−" } " its size" }
                }
            }
        }
    }
}

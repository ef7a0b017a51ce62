//! `watch`: builds again whenever a note is saved.

use std::path::PathBuf;
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::{Ended, build, output};
use crate::source::Footprint;
use crate::typeset;

/// Build the dossier again whenever a note, a picture or a template is saved, until Ctrl-C
///
/// Builds once at the start. Problems are reported as they come, and the last good dossier stands until they are mended.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    making: build::Making,
}

/// How often the folder is looked at.
const GLANCE: Duration = Duration::from_millis(250);

pub(super) fn run(arguments: &Arguments) -> Ended {
    let folders = arguments.making.folders();
    let mut built = Footprint::of(&folders);
    build::once(&arguments.making, None)?;
    output::say(&format!("Watching {}; Ctrl-C ends it.", arguments.making.dir().display()));
    loop {
        built = settled_after(&folders, &built);
        if let Err(trouble) = build::once(&arguments.making, None) {
            output::complain(&trouble.0);
        }
        typeset::forget_what_is_old();
    }
}

/// How often a folder that does not come to rest is looked at before it is built all the same.
const MOST_GLANCES: usize = 8;

/// Looking takes at most this part of the time.
const SHARE: u32 = 10;

/// Waits until the folders differ from what was built, and for as long as they still change, but not for ever.
fn settled_after(folders: &[PathBuf], built: &Footprint) -> Footprint {
    let mut pause = GLANCE;
    let mut glance = || {
        sleep(pause);
        let begun = Instant::now();
        let seen = Footprint::of(folders);
        pause = GLANCE.max(begun.elapsed() * SHARE);
        seen
    };
    let mut seen = glance();
    let mut restless = 0;
    loop {
        let now = glance();
        restless += usize::from(now != *built);
        if now != *built && (now == seen || restless > MOST_GLANCES) {
            return now;
        }
        seen = now;
    }
}

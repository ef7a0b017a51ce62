//! `watch`: builds again whenever a note is saved.

use std::path::PathBuf;
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::{Ended, Outcome, build, output};
use crate::source::Footprint;
use crate::typeset::{self, Again};

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
    let mut again = Again::default();
    build::once(&arguments.making, None, Some(&mut again))?;
    output::say(&format!("Watching {}; Ctrl-C ends it.", arguments.making.dir().display()));
    loop {
        let now = settled_after(&folders, &built);
        let changed = now.changed_since(&built, arguments.making.dir());
        let begun = Instant::now();
        match build::once(&arguments.making, None, Some(&mut again)) {
            Ok(Outcome::Clean) => {
                output::say(&format!("{changed}: built again in {:.1} s.", begun.elapsed().as_secs_f64()));
            }
            Ok(_) => output::say(&format!("{changed}: not built.")),
            Err(trouble) => output::complain(&trouble.0),
        }
        built = now;
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

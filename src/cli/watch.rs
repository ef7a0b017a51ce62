//! `watch`: builds again whenever a note is saved.

use std::path::PathBuf;
use std::thread::sleep;
use std::time::Duration;

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

/// Waits until the folders differ from what was built, and for as long as they still change.
fn settled_after(folders: &[PathBuf], built: &Footprint) -> Footprint {
    let glance = || {
        sleep(GLANCE);
        Footprint::of(folders)
    };
    let mut seen = glance();
    loop {
        let now = glance();
        if now == seen && now != *built {
            return now;
        }
        seen = now;
    }
}

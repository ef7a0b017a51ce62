//! `watch`: builds at the start, after each save, and goes on after a fault.

use std::io::{BufRead, BufReader};
use std::process::{Child, ChildStderr, Command, Stdio};

use super::scratch::{project, write};

const POST: &str = "---\nkind: part\nname: Slewing post\ndisposition: reuse\n---\nIt leans.\n";

/// The tool at work, ended with the test.
struct Watching {
    child: Child,
    says: std::io::Lines<BufReader<ChildStderr>>,
}

impl Watching {
    fn start(dir: &std::path::Path) -> Self {
        let mut child = Command::new(snapbox::cmd::cargo_bin!("asfound"))
            .current_dir(dir)
            .args(["watch", "crane", "--draft"])
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let says = BufReader::new(child.stderr.take().unwrap()).lines();
        Self { child, says }
    }

    /// Reads on until a line holds these words.
    fn until(&mut self, words: &str) {
        let found = self.says.by_ref().map_while(Result::ok).any(|line| line.contains(words));
        assert!(found, "it ended before it said `{words}`");
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn every_save_is_followed_by_a_build_and_a_fault_ends_nothing() {
    let dir = project(&[("dossier.yaml", "title: A crane\n"), ("post.md", POST)]);
    let mut watching = Watching::start(dir.path());
    watching.until("Watching crane");
    write(dir.path(), "post.md", &POST.replace("part", "prat"));
    watching.until("prat");
    watching.until("nothing was written");
    write(dir.path(), "base.md", &POST.replace("Slewing post", "Base"));
    write(dir.path(), "post.md", POST);
    watching.until("from 2 notes");
    // What was saved, and how long it took: what has not changed is not set anew.
    watching.until(": built again in ");
    write(dir.path(), "post.md", &POST.replace("leans", "leans a little"));
    watching.until("post.md was saved: built again in ");
    std::fs::remove_file(dir.path().join("crane/base.md")).unwrap();
    watching.until("base.md is gone: built again in ");
}

/// Saves that never pause for long enough are built all the same.
#[test]
fn saves_without_end_are_built_at_last() {
    use std::sync::atomic::{AtomicBool, Ordering};
    let dir = project(&[("dossier.yaml", "title: A crane\n"), ("post.md", POST)]);
    let mut watching = Watching::start(dir.path());
    watching.until("Watching crane");
    let (built, given_up) = (AtomicBool::new(false), AtomicBool::new(false));
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let begun = std::time::Instant::now();
            for round in 0.. {
                if built.load(Ordering::Relaxed) {
                    return;
                }
                if begun.elapsed().as_secs() > 120 {
                    given_up.store(true, Ordering::Relaxed);
                    return;
                }
                write(dir.path(), "post.md", &POST.replace("leans", &format!("leans {round}")));
                std::thread::sleep(std::time::Duration::from_millis(200));
            }
        });
        watching.until("from 1 note");
        built.store(true, Ordering::Relaxed);
    });
    assert!(!given_up.load(Ordering::Relaxed), "it was built only when the saves ended");
}

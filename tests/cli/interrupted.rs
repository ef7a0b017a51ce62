//! Builds that are killed, find no room, or meet each other: afterwards the old set is whole, or the new one.
//!
//! `KILLS=200 cargo test interrupted -- --nocapture` kills so many builds, and prints how they ended.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use asfound::estimate::random::Random;
use snapbox::cmd::cargo_bin;

use super::scratch::{project, write};

type Set = BTreeMap<String, Vec<u8>>;

const NOTES: [&str; 2] = ["The post leans.", "The post stands."];

fn post(text: &str) -> String {
    format!("---\nkind: part\nname: Post\ndisposition: reuse\n---\n{text}\n")
}

/// A project with what is built of each of its two states; the second stands.
fn crane() -> (tempfile::TempDir, [Set; 2]) {
    let dir = project(&[("dossier.yaml", "title: A crane\nunits: metric\nmoney: GBP\n")]);
    let sets = NOTES.map(|text| {
        write(dir.path(), "parts/post.md", &post(text));
        let built = build(dir.path()).output().unwrap();
        assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
        set(dir.path())
    });
    assert_ne!(sets[0], sets[1]);
    (dir, sets)
}

fn build(dir: &Path) -> Command {
    let mut command = Command::new(cargo_bin!("asfound"));
    command.args(["build", "--draft", "crane"]).current_dir(dir).stdout(Stdio::null()).stderr(Stdio::piped());
    command
}

/// What stands in the folder of results.
fn set(dir: &Path) -> Set {
    let files = std::fs::read_dir(dir.join("crane/out")).unwrap().map(|entry| entry.unwrap());
    files
        .map(|entry| (entry.file_name().into_string().unwrap(), std::fs::read(entry.path()).unwrap()))
        .collect()
}

/// Any other command: it finishes what was begun.
fn next_command(dir: &Path) {
    let checked = Command::new(cargo_bin!("asfound")).args(["check", "crane"]).current_dir(dir).output();
    assert!(checked.unwrap().status.success());
}

/// Which of the sets stands, whole; and nothing is left over that a build would not clear away.
fn which(dir: &Path, sets: &[Set; 2]) -> usize {
    next_command(dir);
    let found = set(dir);
    let which = sets.iter().position(|set| *set == found);
    assert!(!dir.join("crane/.asfound/replacing").exists());
    which.unwrap_or_else(|| panic!("neither set is whole: {:?}", found.keys()))
}

fn killed_after(mut child: Child, pause: Duration) {
    std::thread::sleep(pause);
    let _ = child.kill();
    child.wait().unwrap();
}

#[test]
fn a_build_killed_at_any_moment_leaves_a_whole_set() {
    let kills = std::env::var("KILLS").ok().and_then(|count| count.parse().ok()).unwrap_or(8);
    let (dir, sets) = crane();
    let begun = Instant::now();
    assert!(build(dir.path()).output().unwrap().status.success());
    let whole = begun.elapsed();
    let mut random = Random::new(1912);
    let (mut stands, mut ended) = (1, [0, 0]);
    for _ in 0..kills {
        let next = 1 - stands;
        write(dir.path(), "parts/post.md", &post(NOTES[next]));
        let share = (random.bits() % 1200) as f64 / 1000.0;
        killed_after(build(dir.path()).spawn().unwrap(), whole.mul_f64(share));
        let now = which(dir.path(), &sets);
        ended[usize::from(now == next)] += 1;
        stands = now;
    }
    write(dir.path(), "parts/post.md", &post(NOTES[0]));
    assert!(build(dir.path()).output().unwrap().status.success());
    assert_eq!(which(dir.path(), &sets), 0);
    assert!(!dir.path().join("crane/.asfound/new").exists(), "what killed builds left is gone");
    println!("{kills} kills: {} left the old set, {} the new one", ended[0], ended[1]);
}

/// A build under `strace` with one of its system calls changed; `None` where that can't be had.
fn with_fault(dir: &Path, fault: &str) -> Option<Output> {
    let call = fault.split(':').next().unwrap_or_default();
    let output = Command::new("strace")
        .args([
            "-f",
            "-qq",
            "-o",
            "/dev/null",
            "-e",
            &format!("trace={call}"),
            "-e",
            &format!("inject={fault}"),
        ])
        .arg(cargo_bin!("asfound"))
        .args(["build", "--draft", "crane"])
        .current_dir(dir)
        .output();
    let output = match output {
        Ok(output) => output,
        Err(error) => {
            assert!(std::env::var_os("CI").is_none(), "strace must be installed where CI runs: {error}");
            return None;
        }
    };
    let said = String::from_utf8_lossy(&output.stderr);
    (!said.contains("strace:")).then_some(output)
}

#[test]
fn a_build_killed_at_each_rename_leaves_a_whole_set() {
    let (dir, sets) = crane();
    let mut stands = 1;
    for at in 1.. {
        let next = 1 - stands;
        write(dir.path(), "parts/post.md", &post(NOTES[next]));
        let fault = format!("/^rename:signal=SIGKILL:when={at}");
        let Some(output) = with_fault(dir.path(), &fault) else { return };
        stands = which(dir.path(), &sets);
        // The first rename puts the list in place: from then on the new set is written.
        assert!(at == 1 || stands == next, "killed at rename {at}");
        if output.status.success() {
            println!("killed at each of {} renames", at - 1);
            assert!(at > 5, "one for the list and one for each of five files: {at}");
            return;
        }
    }
}

#[test]
fn a_full_disk_leaves_the_old_set_and_names_the_file() {
    let (dir, sets) = crane();
    write(dir.path(), "parts/post.md", &post(NOTES[0]));
    for at in 1..=6 {
        let fault = format!("fsync:error=ENOSPC:when={at}");
        let Some(output) = with_fault(dir.path(), &fault) else { return };
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{at}: {said}");
        assert!(said.contains("crane/.asfound/new/") && said.contains("No space left"), "{said}");
        assert!(!dir.path().join("crane/.asfound/new").exists(), "what did not fit takes no room");
        assert_eq!(which(dir.path(), &sets), 1);
    }
}

/// The greatest length of a file stands for the end of the disk, where no faults can be put in.
#[cfg(unix)]
#[test]
fn a_file_that_does_not_fit_leaves_the_old_set_and_is_named() {
    let (dir, sets) = crane();
    write(dir.path(), "parts/post.md", &post(NOTES[0]));
    let limited = "trap '' XFSZ; ulimit -f 8; exec \"$0\" build --draft crane";
    let mut command = Command::new("sh");
    command.args(["-c", limited]).arg(cargo_bin!("asfound")).current_dir(dir.path());
    let output = command.output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("crane/.asfound/new/"), "{said}");
    assert!(!dir.path().join("crane/.asfound/new").exists(), "what did not fit takes no room");
    assert_eq!(which(dir.path(), &sets), 1);
}

#[cfg(unix)]
#[test]
fn a_read_only_folder_keeps_the_old_set_and_is_named() {
    use std::os::unix::fs::PermissionsExt;
    let (dir, sets) = crane();
    write(dir.path(), "parts/post.md", &post(NOTES[0]));
    let out = dir.path().join("crane/.asfound");
    let allow = |mode: u32| std::fs::set_permissions(&out, std::fs::Permissions::from_mode(mode)).unwrap();
    allow(0o555);
    // Whoever may do everything is stopped by nothing.
    let stops = std::fs::write(out.join("probe"), "").is_err();
    let output = build(dir.path()).output().unwrap();
    allow(0o755);
    if stops {
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("crane/.asfound"), "{said}");
        assert_eq!(which(dir.path(), &sets), 1);
    } else {
        assert_eq!(which(dir.path(), &sets), 0);
    }
}

#[test]
fn who_reads_the_old_dossier_keeps_it_whole() {
    use std::io::Read;
    let (dir, sets) = crane();
    let mut open = std::fs::File::open(dir.path().join("crane/out/dossier.pdf")).unwrap();
    write(dir.path(), "parts/post.md", &post(NOTES[0]));
    assert!(build(dir.path()).output().unwrap().status.success());
    let mut read = Vec::new();
    open.read_to_end(&mut read).unwrap();
    assert_eq!(read, sets[1]["dossier.pdf"]);
    assert_eq!(which(dir.path(), &sets), 0);
}

#[test]
fn of_two_builds_at_once_one_set_stands_whole() {
    let (dir, sets) = crane();
    for round in 0..2 {
        write(dir.path(), "parts/post.md", &post(NOTES[round]));
        let first = build(dir.path()).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(100));
        write(dir.path(), "parts/post.md", &post(NOTES[1 - round]));
        let second = build(dir.path()).spawn().unwrap();
        for child in [first, second] {
            let output = child.wait_with_output().unwrap();
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        }
        which(dir.path(), &sets);
    }
}

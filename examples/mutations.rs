//! Damages a small project in thousands of ways and runs the commands over each:
//! `cargo run --example mutations -- ASFOUND COUNT [SEED]`. A command has to end with 0, 1 or 2 in 10 s of a
//! processor and 1 GiB, where 1 names a place in the notes. The slow ones, `build` and `sheet`, run over every tenth.
#![allow(clippy::print_stdout, clippy::unwrap_used)]
#[path = "../tests/fuzz/mutate.rs"]
mod mutate;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use mutate::{Random, mutated};

/// By the clock, for what waits without working.
const LONGEST: Duration = Duration::from_secs(120);
/// Kilobytes of address space, which is never smaller than what is in memory, and seconds of a processor.
const LIMITS: &str = "ulimit -v 1048576; ulimit -t 10; exec \"$0\" \"$@\"";

const WORDS: [&str; 16] = [
    "---\n",
    ": ",
    "- ",
    "[[",
    "```calc\n",
    "|",
    "private: true\n",
    "after: [turn-journal]\n",
    "within: spindle\n",
    "1e308 t",
    "> ",
    "![a](b.png)",
    "kind: step\n",
    "id: spindle\n",
    "check ",
    "@spindle.x",
];

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [binary, count, rest @ ..] = arguments.as_slice() else { panic!("ASFOUND COUNT [SEED]") };
    let (binary, count): (PathBuf, usize) = (std::fs::canonicalize(binary).unwrap(), count.parse().unwrap());
    let seed: u64 = rest.first().map_or(1, |text| text.parse().unwrap());
    let folder = tempfile::tempdir().unwrap();
    let whole = folder.path().join("whole");
    assert!(Command::new(&binary).arg("new").arg(&whole).stdout(Stdio::null()).status().unwrap().success());
    let notes = files(&whole);
    let (mut runs, mut broken, mut slowest, mut codes) = (0, 0, Duration::ZERO, [0_usize; 3]);
    let mut random = Random::new(seed);
    for number in 0..count {
        let damaged = folder.path().join(number.to_string());
        damage(&mut random, &notes, &damaged);
        let quick = [&["check"][..], &["next"], &["why", "turn-journal"], &["bill"]];
        let slow = [&["build"][..], &["sheet", "shed"]];
        for command in quick.iter().chain(slow.iter().filter(|_| number % 10 == 0)) {
            let (outcome, took) = run(&binary, command, &damaged);
            runs += 1;
            slowest = slowest.max(took);
            match outcome {
                Ok(code) => codes[code] += 1,
                Err(why) => {
                    broken += 1;
                    let kept = std::env::temp_dir().join(format!("mutation-{seed}-{number}"));
                    copy(&damaged, &kept);
                    println!("{} in {}: {why}", command.join(" "), kept.display());
                }
            }
        }
        std::fs::remove_dir_all(&damaged).unwrap();
    }
    println!(
        "{count} projects, {runs} runs, {broken} broken; exits 0, 1, 2: {codes:?}; slowest {:.2} s",
        slowest.as_secs_f64()
    );
    std::process::exit(i32::from(broken > 0));
}

/// Every file below a folder with its path in it.
fn files(folder: &Path) -> Vec<(PathBuf, String)> {
    let entries = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(Result::unwrap);
    let files = entries.filter(|entry| entry.file_type().is_file());
    let read = files.filter_map(|entry| {
        let text = std::fs::read_to_string(entry.path()).ok()?;
        Some((entry.path().strip_prefix(folder).unwrap().to_owned(), text))
    });
    read.collect()
}

/// The project with one to three of its files changed or gone.
fn damage(random: &mut Random, notes: &[(PathBuf, String)], to: &Path) {
    let corpus: Vec<String> = notes.iter().map(|(_, text)| text.clone()).collect();
    let mut changed = notes.to_vec();
    for _ in 0..=random.below(3) {
        let at = random.below(changed.len());
        match random.below(12) {
            0 => {
                changed.remove(at);
            }
            1 => {
                let text = changed[at].1.clone();
                changed.push((PathBuf::from(format!("parts/copy-{at}.md")), text));
            }
            _ => changed[at].1 = mutated(random, &[changed[at].1.clone()], &WORDS),
        }
        if random.below(20) == 0 {
            changed[at % notes.len().min(5)].1 = mutated(random, &corpus, &WORDS);
        }
    }
    for (path, text) in changed {
        let full = to.join(path);
        std::fs::create_dir_all(full.parent().unwrap()).unwrap();
        std::fs::write(full, text).unwrap();
    }
}

fn copy(from: &Path, to: &Path) {
    for (path, text) in files(from) {
        let full = to.join(path);
        std::fs::create_dir_all(full.parent().unwrap()).unwrap();
        std::fs::write(full, text).unwrap();
    }
}

/// The exit code, or what is wrong with how it ended.
fn run(binary: &Path, command: &[&str], project: &Path) -> (Result<usize, String>, Duration) {
    let out = tempfile::tempfile().unwrap();
    let begun = Instant::now();
    let mut child = Command::new("sh")
        .args(["-c", LIMITS])
        .arg(binary)
        .args(command)
        .arg(project)
        .stdin(Stdio::null())
        .stdout(out.try_clone().unwrap())
        .stderr(out.try_clone().unwrap())
        .spawn()
        .unwrap();
    let status = loop {
        match child.try_wait().unwrap() {
            Some(status) => break status,
            None if begun.elapsed() > LONGEST => {
                child.kill().unwrap();
                child.wait().unwrap();
                return (Err("more than 120 s by the clock".to_owned()), begun.elapsed());
            }
            None => std::thread::sleep(Duration::from_millis(3)),
        }
    };
    let took = begun.elapsed();
    let said = read(out);
    let outcome = match status.code() {
        Some(0) => Ok(0),
        Some(1) if said.contains(".md") || said.contains("dossier.yaml") => Ok(1),
        Some(2) if !said.contains("panicked") => Ok(2),
        code => Err(format!("ended with {code:?}: {}", said.chars().take(400).collect::<String>())),
    };
    (outcome, took)
}

fn read(mut file: std::fs::File) -> String {
    use std::io::{Read, Seek};
    file.rewind().unwrap();
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes).unwrap();
    String::from_utf8_lossy(&bytes).into_owned()
}

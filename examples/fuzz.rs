//! Feeds mutated texts to the stages until a law is broken: `cargo run --example fuzz -- TARGET|all SECONDS [SEED]`.
#![allow(clippy::print_stdout, clippy::unwrap_used)]
#[path = "../tests/fuzz/mutate.rs"]
mod mutate;
#[allow(dead_code, reason = "the test suite's share of each target")]
#[path = "../tests/fuzz/targets.rs"]
mod targets;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use mutate::{Random, mutated};
use targets::{TARGETS, Target};

/// No text of this size may take longer.
const LONGEST: Duration = Duration::from_secs(10);

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let wanted = arguments.first().map_or("all", String::as_str);
    let seconds: u64 = arguments.get(1).map_or(60, |text| text.parse().unwrap());
    let seed: u64 = arguments.get(2).map_or(1, |text| text.parse().unwrap());
    let chosen: Vec<&Target> =
        TARGETS.iter().filter(|target| wanted == "all" || wanted == target.name).collect();
    assert!(!chosen.is_empty(), "targets: all, {}", TARGETS.map(|target| target.name).join(", "));
    let broken: usize = chosen.iter().map(|target| run(target, Duration::from_secs(seconds), seed)).sum();
    std::process::exit(i32::from(broken > 0));
}

/// How many laws were broken, each text once in a file of its own.
fn run(target: &Target, time: Duration, seed: u64) -> usize {
    let corpus = (target.corpus)();
    let mut random = Random::new(seed);
    let (begun, mut count, mut broken) = (Instant::now(), 0_u64, 0);
    let mut slowest = Duration::ZERO;
    while begun.elapsed() < time && broken < 20 {
        let text = mutated(&mut random, &corpus, target.words);
        let started = Instant::now();
        let outcome = catch_unwind(AssertUnwindSafe(|| (target.law)(&text)));
        slowest = slowest.max(started.elapsed());
        count += 1;
        let why = match outcome {
            Ok(Ok(())) if started.elapsed() < LONGEST => continue,
            Ok(Ok(())) => format!("took {:?}", started.elapsed()),
            Ok(Err(why)) => why,
            Err(_) => "a panic".to_owned(),
        };
        broken += 1;
        let file = std::env::temp_dir().join(format!("fuzz-{}-{seed}-{count}.txt", target.name));
        std::fs::write(&file, &text).unwrap();
        println!("{}: {}: {}", target.name, file.display(), why.chars().take(600).collect::<String>());
    }
    let (name, seconds) = (target.name, begun.elapsed().as_secs());
    println!("{name}: {count} texts in {seconds} s, {broken} broken, slowest {:.2} s", slowest.as_secs_f64());
    broken
}

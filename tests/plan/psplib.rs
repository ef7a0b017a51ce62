//! The forecast against project instances whose shortest durations are proven.

use std::fs;

use asfound::plan::precedence::Precedence;
use asfound::plan::schedule::limited::{Instance as Project, Schedule, Task, schedule};
use serde::Deserialize;

#[derive(Deserialize)]
struct Instance {
    instance: String,
    capacity: Vec<u32>,
    jobs: Vec<Job>,
    optimal_makespan: i64,
}

#[derive(Deserialize)]
struct Job {
    job: usize,
    duration: i64,
    needs: Vec<u32>,
    successors: Vec<usize>,
}

fn instances() -> Vec<Instance> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/psplib_j30.jsonl");
    let text = fs::read_to_string(path).expect("the reference file is there");
    text.lines()
        .filter(|line| !line.trim().is_empty())
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

impl Instance {
    fn project(&self) -> Project {
        let edges: Vec<_> = self
            .jobs
            .iter()
            .flat_map(|job| job.successors.iter().map(move |&next| (job.job - 1, next - 1)))
            .collect();
        let untangled = Precedence::untangle(self.jobs.len(), &edges);
        assert!(untangled.circles.is_empty(), "{}", self.instance);
        let task = |job: &Job| Task {
            work: job.duration,
            demand: job.needs.iter().copied().enumerate().filter(|(_, amount)| *amount > 0).collect(),
            ..Task::default()
        };
        Project {
            tasks: self.jobs.iter().map(task).collect(),
            precedence: untangled.precedence,
            capacity: self.capacity.clone(),
        }
    }
}

/// Every edge kept, no resource overdrawn at any time, and the span is that of the starts.
fn assert_keeps_the_rules(name: &str, project: &Project, found: &Schedule) {
    let finish = |node: usize| found.starts[node] + project.tasks[node].length();
    for node in 0..project.tasks.len() {
        for &next in project.precedence.after(node) {
            assert!(finish(node) <= found.starts[next], "{name}: {next} starts before {node} is finished");
        }
    }
    for (resource, &capacity) in project.capacity.iter().enumerate() {
        for time in 0..found.span {
            let used: u32 = (0..project.tasks.len())
                .filter(|&node| found.starts[node] <= time && time < finish(node))
                .flat_map(|node| &project.tasks[node].demand)
                .filter(|(which, _)| *which == resource)
                .map(|(_, amount)| amount)
                .sum();
            assert!(used <= capacity, "{name}: resource {resource} overdrawn at {time}");
        }
    }
    assert_eq!(found.span, (0..project.tasks.len()).map(finish).max().unwrap_or(0), "{name}");
}

/// PSPLIB single-mode set J30 (Kolisch and Sprecher, European Journal of Operational Research 96, 1996):
/// 30 activities, four renewable resources, optimal durations proven by branch and bound.
#[test]
fn psplib_excess_over_the_proven_optimum() {
    let instances = instances();
    assert!(!instances.is_empty());
    let mut excesses = Vec::new();
    for instance in &instances {
        let project = instance.project();
        let found = schedule(&project);
        assert_keeps_the_rules(&instance.instance, &project, &found);
        assert!(
            found.at_least <= instance.optimal_makespan,
            "{}: bound above the optimum",
            instance.instance
        );
        assert!(found.span >= instance.optimal_makespan, "{}: below the proven optimum", instance.instance);
        #[expect(clippy::cast_precision_loss)]
        let excess = (found.span - instance.optimal_makespan) as f64 / instance.optimal_makespan as f64;
        excesses.push((excess, &instance.instance));
    }
    let mean = excesses.iter().map(|(excess, _)| excess).sum::<f64>() / excesses.len() as f64;
    let worst = excesses.iter().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
    println!(
        "{} instances: mean {:.3} %, worst {:.3} % ({})",
        excesses.len(),
        100.0 * mean,
        100.0 * worst.0,
        worst.1
    );
    assert!(mean <= 0.02, "mean excess {mean}");
    assert!(worst.0 <= 0.08, "worst excess {worst:?}");
}

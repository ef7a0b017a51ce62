//! Early and late times against textbook tables and an independent library.

use std::fs;

use asfound::estimate::Estimate;
use asfound::plan::precedence::Precedence;
use asfound::plan::schedule::critical_path::critical_path;
use asfound::plan::schedule::moments::moments;
use serde::Deserialize;
use serde_yaml::Value;

pub(super) fn reference(file: &str) -> String {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// One worked example by its id.
fn example(id: &str) -> Value {
    let all: Value = serde_yaml::from_str(&reference("worked_examples.yaml")).unwrap();
    let examples = all["examples"].as_sequence().unwrap();
    examples.iter().find(|example| example["id"] == id).unwrap_or_else(|| panic!("no example {id}")).clone()
}

/// The names of the activities and the graph of what each comes after.
fn graph(lists: &Value, after: impl Fn(&Value) -> &Value) -> (Vec<String>, Precedence) {
    let lists = lists.as_mapping().unwrap();
    let names: Vec<String> = lists.iter().map(|(name, _)| name.as_str().unwrap().to_owned()).collect();
    let position =
        |name: &Value| names.iter().position(|known| Some(known.as_str()) == name.as_str()).unwrap();
    let mut edges = Vec::new();
    for (name, value) in lists {
        let befores = after(value).as_sequence().unwrap().iter();
        edges.extend(befores.map(|before| (position(before), position(name))));
    }
    let untangled = Precedence::untangle(names.len(), &edges);
    assert!(untangled.circles.is_empty());
    (names, untangled.precedence)
}

fn assert_table_holds(id: &str) {
    let example = example(id);
    let activities = &example["inputs"]["activities"];
    let (names, precedence) = graph(activities, |activity| &activity["after"]);
    let days: Vec<f64> = activities
        .as_mapping()
        .unwrap()
        .iter()
        .map(|(_, value)| value["duration"].as_f64().unwrap())
        .collect();
    let found = critical_path(&precedence, &days);
    assert_eq!(found.length, example["expected"]["duration"]["value"].as_f64().unwrap(), "{id}");
    let path: Vec<&str> = found.path.iter().map(|&node| names[node].as_str()).collect();
    assert_eq!(path.join(" "), example["expected"]["critical"]["value"].as_str().unwrap(), "{id}");
    let rows = example["expected"]["table"]["value"].as_sequence().unwrap();
    assert_eq!(rows.len(), names.len(), "{id}");
    for row in rows {
        let node = names.iter().position(|name| Some(name.as_str()) == row[0].as_str()).unwrap();
        let times = found.times[node];
        let figures =
            [times.early_start, times.early_finish, times.late_start, times.late_finish, times.float];
        for (column, figure) in figures.into_iter().enumerate() {
            assert_eq!(Some(figure), row[column + 1].as_f64(), "{id} {} column {column}", names[node]);
        }
        assert_eq!(times.critical, times.float == 0.0);
    }
}

/// Heizer and Render, Operations Management, the paper-mill example: full table (`PN-01`).
#[test]
fn eight_activities() {
    assert_table_holds("PN-01");
}

/// Taylor, Introduction to Management Science, chapter 8, thirteen activities with a dummy (`PN-03`).
#[test]
fn thirteen_activities_with_a_dummy() {
    assert_table_holds("PN-03");
}

/// Heizer and Render, the same example continued: mean, variance, chance of being done by week 16 (`PN-04`).
#[test]
fn three_point_moments() {
    let example = example("PN-04");
    let (names, precedence) = graph(&example["inputs"]["predecessors"], |value| value);
    let estimate = |name: &String| {
        let points = &example["inputs"]["estimates"][name.as_str()];
        Estimate::new(points[0].as_f64().unwrap(), points[1].as_f64().unwrap(), points[2].as_f64().unwrap())
    };
    let days: Vec<Estimate> = names.iter().map(estimate).collect();
    let found = moments(&precedence, &days);
    let due = example["inputs"]["due"].as_f64().unwrap();
    let got = [found.mean, found.variance, found.sigma(), found.chance_by(due)];
    for (name, value) in ["mean", "variance", "sigma", "p_16"].into_iter().zip(got) {
        let published = &example["expected"][name];
        let (wanted, tolerance) = (published["value"].as_f64().unwrap(), published["rtol"].as_f64().unwrap());
        assert!((value / wanted - 1.0).abs() <= tolerance, "{name}: {value}, published {wanted}");
        let exact = example["recomputed"][name].as_f64().unwrap();
        assert!((value / exact - 1.0).abs() <= 1e-6, "{name}: {value}, recomputed {exact}");
    }
}

#[derive(Deserialize)]
struct Times {
    graph: usize,
    days: Vec<f64>,
    edges: Vec<(usize, usize)>,
    length: f64,
    early_start: Vec<f64>,
    late_start: Vec<f64>,
}

#[derive(Deserialize)]
struct Cycles {
    graph: usize,
    nodes: usize,
    edges: Vec<(usize, usize)>,
    cycles: Vec<Vec<usize>>,
}

/// 200 random networks, times by networkx (version in the table's first line; made by `networkx_times.py`).
/// All durations are quarters, so that every sum is exact.
#[test]
fn random_networks_against_networkx() {
    let text = reference("networkx_times.jsonl");
    let graphs: Vec<Times> = text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect();
    assert_eq!(graphs.len(), 200);
    for graph in graphs {
        let untangled = Precedence::untangle(graph.days.len(), &graph.edges);
        assert!(untangled.circles.is_empty() && untangled.set_aside.is_empty(), "graph {}", graph.graph);
        let found = critical_path(&untangled.precedence, &graph.days);
        assert_eq!(found.length, graph.length, "graph {}", graph.graph);
        let early: Vec<f64> = found.times.iter().map(|times| times.early_start).collect();
        let late: Vec<f64> = found.times.iter().map(|times| times.late_start).collect();
        assert_eq!(early, graph.early_start, "graph {}", graph.graph);
        assert_eq!(late, graph.late_start, "graph {}", graph.graph);
        let along: f64 = found.path.iter().map(|&node| graph.days[node]).sum();
        assert_eq!(along, graph.length, "graph {}: the critical path is not the longest", graph.graph);
    }
}

/// 60 random graphs with circles: the cycles by networkx (`strongly_connected_components`), and a circle in each.
#[test]
fn cycles_against_networkx() {
    let text = reference("networkx_times.jsonl");
    let graphs: Vec<Cycles> = text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect();
    assert_eq!(graphs.len(), 60);
    for graph in graphs {
        let untangled = Precedence::untangle(graph.nodes, &graph.edges);
        assert_eq!(untangled.circles.len(), graph.cycles.len(), "graph {}", graph.graph);
        assert_eq!(untangled.precedence.order().len(), graph.nodes, "graph {}", graph.graph);
        for (circle, cycle) in untangled.circles.iter().zip(&graph.cycles) {
            let nodes: Vec<(usize, usize)> = circle.iter().map(|&edge| graph.edges[edge]).collect();
            for (step, &(_, to)) in nodes.iter().enumerate() {
                assert_eq!(to, nodes[(step + 1) % nodes.len()].0, "graph {}: not a circle", graph.graph);
                assert!(cycle.contains(&to), "graph {}", graph.graph);
            }
            assert!(circle.iter().any(|edge| untangled.set_aside.contains(edge)), "graph {}", graph.graph);
        }
    }
}

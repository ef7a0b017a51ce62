//! No worked example of a covered topic is left out.

use std::collections::BTreeSet;

use super::worked;

/// What each file of this room exercises.
const EXERCISED: &[&[&str]] = &[
    super::bearing::WORKED,
    super::chain::WORKED,
    super::coating::WORKED,
    super::cutting::WORKED,
    super::gear::WORKED,
    super::key::WORKED,
    super::lifting::WORKED,
    super::measuring::WORKED,
    super::pin::WORKED,
    super::press::WORKED,
    super::repair::WORKED,
    super::shaft::WORKED,
    super::thermal::WORKED,
    super::tube::WORKED,
    super::weld::WORKED,
];

/// Topics and single examples that other rooms exercise: the project network (`plan`), the statistics of readings
/// (`calc`: uncertainty), the cut list (`bill`).
const ELSEWHERE: &[&str] = &["PN-01", "PN-03", "PN-04", "ME-01", "ME-03", "ME-12", "WS-10", "WS-12"];

#[test]
fn every_example_is_exercised() {
    let exercised: BTreeSet<&str> = EXERCISED.iter().flat_map(|list| list.iter().copied()).collect();
    let left_out: Vec<String> = worked::topics()
        .iter()
        .flat_map(|topic| worked::ids(topic))
        .filter(|id| !exercised.contains(id.as_str()) && !ELSEWHERE.contains(&id.as_str()))
        .collect();
    assert_eq!(left_out, Vec::<String>::new(), "examples that no test exercises");
}

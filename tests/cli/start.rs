//! `new`: a started project is whole at once.

use super::asfound;

#[test]
fn a_started_project_has_no_problems() {
    let dir = tempfile::tempdir().unwrap();
    asfound(dir.path()).args(["new", "mill"]).assert().success();
    let summary = "9 notes: 2 parts, 1 finding, 1 measurement, 1 question, 1 step; no problems\n";
    let checked = asfound(dir.path()).args(["check", "mill", "--strict"]).assert().success();
    checked.stdout_eq("").stderr_eq(summary);
}

/// The started part has a shape that can be drawn, with the size on hold that its question settles.
#[test]
fn a_started_project_has_a_shape_to_draw() {
    let dir = tempfile::tempdir().unwrap();
    asfound(dir.path()).args(["new", "mill"]).assert().success();
    asfound(dir.path()).args(["draw", "spindle", "mill"]).assert().success();
    let svg = std::fs::read_to_string(dir.path().join("mill/out/spindle.svg")).unwrap();
    assert!(svg.contains("?1 on hold, not to be made yet: how small it cleans up"), "{svg}");
}

#[test]
fn nothing_is_overwritten() {
    let dir = tempfile::tempdir().unwrap();
    std::fs::write(dir.path().join("mine.txt"), "mine").unwrap();
    asfound(dir.path())
        .args(["new", "."])
        .assert()
        .code(2)
        .stderr_eq("asfound: . is not empty; name a new or empty folder\n");
}

#[test]
fn a_folder_that_is_not_there_is_no_project() {
    let dir = tempfile::tempdir().unwrap();
    asfound(dir.path()).args(["check", "nowhere"]).assert().code(2);
}

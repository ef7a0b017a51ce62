//! `why`: an explanation from the top down, and bad input.

use serde_json::json;

use super::asfound;
use super::scratch::{json, project};

const NOTES: &[(&str, &str)] = &[
    ("dossier.yaml", "title: A crane\nhome: shed\nstart: 2027-03-01\n"),
    ("shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    ("bearing.md", "---\nkind: part\nname: Footstep bearing\ndisposition: scrap\ntrapped_by: [post]\n---\n"),
    ("post.md", "---\nkind: part\nname: Post\ndisposition: rework\ntrapped_by: [pins]\n---\n"),
    ("pins.md", "---\nkind: part\nname: Pins\ndisposition: scrap\n---\n"),
    ("drilled.md", "---\nkind: question\nasks: Are the pins drilled?\nsettled_by: [look]\n---\n"),
    ("look.md", "---\nkind: step\ndoes: Look at the pins\ntakes: 1 h\n---\n"),
    (
        "cut.md",
        "---\nkind: step\ndoes: Cut the pins\nparts: [pins]\nremoves: [pins]\nirreversible: true\n\
         hangs_on: [drilled]\nneeds: [look]\n---\n",
    ),
    ("lift.md", "---\nkind: step\ndoes: Lift the post\nremoves: [post]\n---\n"),
    ("draw.md", "---\nkind: step\ndoes: Draw the bearing\nremoves: [bearing]\n---\n"),
    ("rust.md", "---\nkind: finding\nabout: [post]\nseen: 2027-03-01\ncondition: rust\n---\n"),
];

#[test]
fn it_reads_like_an_explanation() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["why", "bearing", "crane"]).assert().success().stdout_eq(
        "\
Footstep bearing [bearing]: what comes before it can come off

- Draw the bearing [draw], waiting
  takes it off (says draw)
  - Lift the post [lift], waiting
    takes off Post, in the way of Footstep bearing (says bearing)
    - Cut the pins [cut], held at a point of no return
      takes off Pins, in the way of Post (says post)
      - Pins [pins]
        no record as found, and the step can't be undone (says cut)
      - it can't be undone, and nothing says what to do if it goes wrong (says cut)
      - Look at the pins [look], ready
        comes first (says cut)
      - Are the pins drilled? [drilled]
        to be settled first (says cut)
        - Look at the pins [look], ready; see above
          settles it (says drilled)

Today you can:
- Pins [pins]: photograph or measure it as found
- Cut the pins [cut]: write under `if_wrong` how to recover
- Look at the pins [look]: do it at The shed, 1.0 h
",
    );
}

/// A part that is to be put in, old or new, is not in place yet: what is reported comes before it can be.
#[test]
fn of_a_part_to_be_put_in_it_says_what_comes_before_that() {
    let dir = project(&[
        ("dossier.yaml", "title: Crane\nton: long\n"),
        ("cap.md", "---\nkind: part\nname: Cap\ndisposition: reuse\n---\n"),
        ("pin.md", "---\nkind: part\nname: Pin\ndisposition: make\nsupply: received\n---\n"),
        ("a.md", "---\nkind: step\ndoes: Off\nremoves: [cap]\nstate: done\n---\n"),
        ("b.md", "---\nkind: step\ndoes: On\nrefits: [cap, pin]\n---\n"),
    ]);
    for (part, line, does) in [("cap", "Cap [cap]", "puts it back"), ("pin", "Pin [pin]", "puts it in")] {
        asfound(dir.path()).args(["why", part, "crane"]).assert().success().stdout_eq(format!(
            "\
{line}: what comes before it can be in place

- On [b], ready
  {does} (says b)

Today you can:
- On [b]: do it
"
        ));
    }
}

#[test]
fn the_json_has_its_keys() {
    let dir = project(NOTES);
    let why = json(asfound(dir.path()).args(["why", "draw", "crane", "--format", "json"]));
    assert_eq!(why["id"], "draw");
    assert_eq!(why["doable_now"], json!(["pins", "look"]));
    let lift = &why["causes"][0];
    assert_eq!(
        (&lift["kind"], &lift["id"], &lift["from"]),
        (&json!("step"), &json!("lift"), &json!("bearing"))
    );
    assert_eq!(lift["why"], "Lift the post – takes off Post, in the way of Footstep bearing");
    assert_eq!(lift["causes"][0]["id"], "cut");
}

#[test]
fn what_nothing_keeps_back_is_said() {
    let dir = project(NOTES);
    asfound(dir.path())
        .args(["why", "look", "crane"])
        .assert()
        .success()
        .stdout_eq("Look at the pins [look]: ready\n\nToday you can:\n- Look at the pins [look]: do it at The shed, 1.0 h\n");
}

#[test]
fn an_id_that_is_not_there_is_refused_with_the_nearest() {
    let dir = project(NOTES);
    asfound(dir.path())
        .args(["why", "bearin", "crane"])
        .assert()
        .code(2)
        .stderr_eq("asfound: there is no note with the id `bearin`; did you mean `bearing`?\n");
}

#[test]
fn a_note_that_nothing_can_keep_back_is_refused() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["why", "rust", "crane"]).assert().code(2).stderr_eq(
        "asfound: `rust` is a finding, and nothing stands between now and that; name a step, a part or a question\n",
    );
}

//! Spindle speeds, cutting times, tap drills and bends against worked examples.

use std::f64::consts::TAU;

use asfound::trade::cutting::FUNCTIONS;

use super::calling::Calling;
use super::worked::{Example, worked_examples};

fn of(name: &str) -> Calling {
    Calling::of(FUNCTIONS, name)
}

/// Speed in radians per second.
fn speed(example: &Example) -> f64 {
    example.input("rev_per_min") * TAU / 60.0
}

fn spindle(cutting_speed: f64, d: f64) -> f64 {
    of("spindle_speed").number("cutting_speed", cutting_speed).number("d", d).answer().number("speed")
}

worked_examples! {
    /// S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, Example 22.1
    turning "WS-01" => |example| {
        let feed = example.input("v") / (speed(example) / TAU);
        let answer = of("turning")
            .number("before", example.input("D"))
            .number("after", example.input("D2"))
            .number("length", example.input("L"))
            .number("feed", feed)
            .number("speed", speed(example))
            .answer();
        example.check("cutting_speed", answer.number("cutting_speed"));
        example.check("MRR", answer.number("removal"));
        example.check("time", answer.number("time"));
        let alone = of("cutting_speed")
            .number("d", example.input("D"))
            .number("speed", speed(example))
            .answer();
        example.check("cutting_speed", alone.number("cutting_speed"));
    }

    /// P. C. Sharma, A Textbook of Production Engineering, Example 4.13
    facing "WS-02" => |example| {
        let (mean, travel) = (example.input("D_avg"), example.input("L"));
        let answer = of("facing")
            .number("outer", mean + travel)
            .number("inner", mean - travel)
            .number("feed", example.input("f"))
            .number("cutting_speed", example.input("V"))
            .answer();
        example.check("time", answer.number("time"));
    }

    /// P. C. Sharma, A Textbook of Production Engineering, Example 4.17
    milling_a_slot "WS-04" => |example| {
        let answer = of("milling")
            .number("d", example.input("D"))
            .count("teeth", 10)
            .number("cutting_speed", example.input("V"))
            .number("feed", example.input("f"))
            .number("length", example.input("L"))
            .number("depth", example.input("d"))
            .answer();
        example.check("table_feed", answer.number("table_feed"));
        example.check("travel", answer.number("travel"));
        example.check("time", answer.number("time"));
    }

    /// S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, Example 22.2
    drill_torque "WS-05" => |example| {
        let answer = of("drill_torque")
            .number("d", example.input("D"))
            .number("feed", example.input("f"))
            .number("speed", speed(example))
            .number("energy", example.input("u"))
            .answer();
        example.check("MRR", answer.number("removal"));
        example.check("torque", answer.number("torque"));
    }

    /// Machinery's Handbook, 31st ed., Allowances for Bending Sheet Metal, example
    bent_strip "WS-06" => |example| {
        let bend = |radius: &str, degrees: f64| {
            let bend = of("bend_stock")
                .number("radius", example.input(radius))
                .number("thickness", example.input("T"));
            bend.number("angle", degrees.to_radians()).answer().number("stock")
        };
        let (half_turn, slight) = (bend("R1", 180.0), bend("R2", 60.0));
        example.check("bend_180", half_turn);
        example.check("bend_60", slight);
        example.check("total", example.input("straight") + half_turn + slight);
    }

    /// ISO 2306 / workshop tables, coarse threads
    metric_tap_drills "WS-13" => |example| {
        for (name, major) in [("M8", 8e-3), ("M10", 10e-3), ("M12", 12e-3)] {
            let hole = of("tap_drill_by_pitch").number("major", major).number("pitch", example.input(name));
            example.check(name, hole.answer().number("drill"));
        }
    }

    /// P. C. Sharma, A Textbook of Production Engineering, Example 4.12
    turning_a_relief "WS-16" => |example| {
        let d = example.input("D");
        let answer = of("turning")
            .number("before", d)
            .number("after", d)
            .number("length", example.input("L"))
            .number("feed", example.input("f"))
            .number("speed", spindle(example.input("V"), d))
            .answer();
        example.check("time", answer.number("time"));
    }
}

/// Speed to rpm and back is the identity; 318.3 V/D in the shop's figures (m/min, mm).
#[test]
fn spindle_speed_and_back() {
    let n = spindle(27.0 / 60.0, 0.175);
    let back = of("cutting_speed").number("d", 0.175).number("speed", n).answer().number("cutting_speed");
    assert!((back - 27.0 / 60.0).abs() < 1e-15);
    let rpm = n / TAU * 60.0;
    assert!((rpm - 318.31 * 27.0 / 175.0).abs() < 1e-3, "{rpm}");
}

/// The point of a 118 deg drill is 0.30 of its diameter long (handbooks print 0.29 to 0.3).
#[test]
fn drill_point() {
    let hole =
        of("drilling").number("d", 0.02).number("depth", 0.05).number("feed", 0.25e-3).number("speed", 32.0);
    let point = (hole.answer().number("travel") - 0.05) / 0.02;
    assert!((0.29..=0.301).contains(&point), "{point}");
}

/// Drill and percentage are each other's inverse; major - pitch leaves 77 % (ISO 2306 drills, workshop rule).
#[test]
fn percentage_of_thread() {
    let plain = of("tap_drill_by_pitch").number("major", 0.012).number("pitch", 1.75e-3).answer();
    assert!((plain.number("thread") - 1.0 / 1.299).abs() < 1e-12);
    for wanted in [0.55, 0.65, 0.75, 0.8] {
        let hole = of("tap_drill_by_pitch")
            .number("major", 0.012)
            .number("pitch", 1.75e-3)
            .number("thread", wanted)
            .answer();
        let share = of("thread_share")
            .number("major", 0.012)
            .number("pitch", 1.75e-3)
            .number("drill", hole.number("drill"))
            .answer();
        assert!((share.number("thread") - wanted).abs() < 1e-12);
        assert_eq!(share.0.warnings, Vec::<String>::new());
    }
}

#[test]
fn bad_inputs_have_clear_words() {
    let said = |calling: Calling| calling.outcome().unwrap_err().message;
    let face = of("facing")
        .number("outer", 0.1)
        .number("inner", 0.2)
        .number("feed", 1e-4)
        .number("cutting_speed", 1.0);
    assert_eq!(said(face), "the cut ends outside the face");
    let deep =
        of("milling").number("d", 0.05).count("teeth", 8).number("cutting_speed", 1.0).number("feed", 1e-4);
    assert_eq!(
        said(deep.number("length", 0.1).number("depth", 0.03)),
        "the cut is deeper than half the cutter"
    );
    let bend = of("bend_stock").number("radius", 0.01).number("thickness", 0.001).number("angle", 1.0);
    let refusal = bend.text("metal", "glass").outcome().unwrap_err();
    assert_eq!(refusal.message, "`metal` cannot be \"glass\"");
    assert_eq!(refusal.help, "Write \"soft brass\", \"soft steel\" or \"hard\".");
    let coarse = of("tap_drill_by_pitch").number("major", 0.002).number("pitch", 0.003);
    assert_eq!(said(coarse), "the thread is deeper than the bolt is thick");
    let whole = of("tap_drill_by_pitch").number("major", 0.02).number("pitch", 0.003).number("thread", 1.2);
    assert_eq!(said(whole), "more than the full thread");
    let share = |drill: f64| {
        let hole = of("thread_share").number("major", 0.01).number("pitch", 1.5e-3).number("drill", drill);
        hole.answer().0.warnings.join("; ")
    };
    assert!(share(0.0105).contains("as large as the thread"));
    assert!(share(0.0094).contains("under 50 %"));
    assert!(share(0.0082).contains("tap tends to break"));
}

#[test]
fn slopes() {
    let all = |calling: Calling, outputs: &[&str]| {
        outputs.iter().for_each(|output| calling.assert_slopes(output, 1e-6));
    };
    all(of("spindle_speed").number("cutting_speed", 0.5).number("d", 0.1), &["speed"]);
    all(of("cutting_speed").number("speed", 30.0).number("d", 0.1), &["cutting_speed"]);
    let pass = |from: f64, to: f64| {
        of("turning")
            .number("before", from)
            .number("after", to)
            .number("length", 0.3)
            .number("feed", 2e-4)
            .number("speed", 30.0)
    };
    all(pass(0.05, 0.047), &["time", "cutting_speed", "removal"]);
    all(pass(0.047, 0.05), &["time", "cutting_speed", "removal"]);
    let face = of("facing")
        .number("outer", 0.25)
        .number("inner", 0.1)
        .number("feed", 2e-4)
        .number("cutting_speed", 0.5);
    all(face, &["speed", "time"]);
    let hole =
        of("drilling").number("d", 0.02).number("depth", 0.05).number("feed", 2e-4).number("speed", 30.0);
    all(hole.number("point", 2.0), &["travel", "time"]);
    let drill =
        of("drill_torque").number("d", 0.02).number("feed", 2e-4).number("speed", 30.0).number("energy", 2e9);
    all(drill, &["removal", "torque", "power"]);
    let slot =
        of("milling").number("d", 0.15).count("teeth", 10).number("cutting_speed", 0.8).number("feed", 2e-4);
    all(slot.number("length", 0.2).number("depth", 0.025), &["speed", "table_feed", "travel", "time"]);
    let face = of("shaping")
        .number("stroke", 0.3)
        .number("width", 0.12)
        .number("feed", 6e-4)
        .number("cutting_speed", 0.25);
    all(face.number("quick_return", 0.6), &["strokes", "time"]);
    let thread = |name: &str| of(name).number("major", 0.012).number("pitch", 1.75e-3);
    all(thread("tap_drill_by_pitch"), &["drill", "thread"]);
    all(thread("tap_drill_by_pitch").number("thread", 0.7), &["drill", "thread"]);
    all(thread("thread_share").number("drill", 0.0103), &["thread"]);
    let bend = |name: &str| of(name).number("radius", 0.01).number("thickness", 0.003).number("angle", 1.2);
    all(bend("bend_stock"), &["stock"]);
    all(bend("bend_allowance").number("k", 0.4), &["stock"]);
}

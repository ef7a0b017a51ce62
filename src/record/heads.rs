//! What the heads of a table of readings mean: repeats, diameters of one circle, or other places.

/// Whether the columns repeat one dimension: 1, 2, 3 and so on.
pub(super) fn are_repeats(heads: &[String]) -> bool {
    !heads.is_empty() && heads.iter().enumerate().all(|(at, head)| *head == (at + 1).to_string())
}

/// Whether the columns are diameters of one circle in different directions: angles round it, or a pair of crossing words
/// where the feature is said to be round. Only of these is a difference out of round.
pub(super) fn are_diameters(heads: &[String], feature: &str) -> bool {
    let says = |words: &[&str]| {
        let mut own = feature.split(|letter: char| !letter.is_alphanumeric()).map(str::to_lowercase);
        own.any(|word| words.contains(&word.as_str()) || words.contains(&word.trim_end_matches('s')))
    };
    match angles(heads) {
        Some(angles) => are_directions(&angles) && !says(NO_DIAMETER),
        None => are_crossing(heads) && says(ROUND),
    }
}

/// What is measured at angles round a part without being its diameter.
const NO_DIAMETER: &[&str] = &[
    "wall",
    "thickness",
    "height",
    "depth",
    "width",
    "length",
    "gap",
    "clearance",
    "play",
    "runout",
    "radius",
    "radii",
];

/// A feature that one of these names has a diameter.
const ROUND: &[&str] = &["diameter", "bore", "hole", "journal", "eye", "spigot"];

/// Heads that lie square to each other.
const CROSSING: &[(&str, &str)] =
    &[("north-south", "east-west"), ("n-s", "e-w"), ("vertical", "horizontal"), ("along", "across")];

fn are_crossing(heads: &[String]) -> bool {
    let first = |head: &String| head.split_whitespace().next().unwrap_or_default().to_lowercase();
    let [one, other] = heads else { return false };
    let (one, other) = (first(one), first(other));
    CROSSING.iter().any(|(a, b)| (one == *a && other == *b) || (one == *b && other == *a))
}

/// The heads as degrees: with a sign (`45°`, `45 deg`), or bare from 0 on in steps of fifteen degrees at least.
fn angles(heads: &[String]) -> Option<Vec<f64>> {
    let angles: Vec<(f64, bool)> = heads.iter().map(|head| angle(head)).collect::<Option<_>>()?;
    let degrees: Vec<f64> = angles.iter().map(|(degrees, _)| *degrees).collect();
    let is_signed = angles.iter().any(|(_, signed)| *signed);
    let is_turn = degrees.first() == Some(&0.0)
        && degrees.windows(2).all(|pair| pair[1] - pair[0] >= LEAST_STEP)
        && degrees.iter().all(|degrees| *degrees < 360.0);
    (is_signed || is_turn).then_some(degrees)
}

/// Bare numbers nearer than this are not angles that anyone measures at, degrees.
const LEAST_STEP: f64 = 15.0;

fn angle(head: &str) -> Option<(f64, bool)> {
    let bare = ["°", "degrees", "deg"].into_iter().find_map(|sign| head.strip_suffix(sign));
    let degrees = bare.unwrap_or(head).trim().parse::<f64>().ok().filter(|degrees| degrees.is_finite())?;
    Some((degrees, bare.is_some()))
}

/// Two or more, no two of them the same diameter: half a turn further it is measured from the other side, and readings
/// taken there are walls, radii or a dial's.
fn are_directions(angles: &[f64]) -> bool {
    let differ = |one: f64, other: f64| {
        let apart = (one - other).abs() % 180.0;
        apart.min(180.0 - apart) > SAME_DIRECTION
    };
    let all = |(at, one): (usize, &f64)| angles[at + 1..].iter().all(|other| differ(*one, *other));
    angles.len() > 1 && angles.iter().enumerate().all(all)
}

/// Degrees.
const SAME_DIRECTION: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::are_diameters;

    fn round(heads: &[&str], feature: &str) -> bool {
        are_diameters(&heads.iter().map(|head| (*head).to_owned()).collect::<Vec<_>>(), feature)
    }

    #[test]
    fn angles_round_one_diameter() {
        for heads in [
            &["0°", "45°", "90°", "135°"][..],
            &["0 deg", "90 deg"],
            &["0", "45", "90", "135"],
            &["0°", "120°", "240°"],
        ] {
            assert!(round(heads, "bearing"), "{heads:?}");
        }
        for (heads, feature) in [
            (&["0°", "90°", "180°", "270°"][..], "dial on the rim"),
            (&["0°", "60°"], "wall of the tube"),
            (&["0°"], "bore"),
            (&["0", "2", "4"], "bore"),
            (&["3", "7"], "bore"),
        ] {
            assert!(!round(heads, feature), "{heads:?} {feature}");
        }
    }

    #[test]
    fn words_that_cross_count_for_round_features_only() {
        assert!(round(&["north-south", "east-west"], "outside diameter"));
        assert!(round(&["horizontal", "vertical"], "bore, pressed in"));
        assert!(round(&["along the rod", "across"], "bore of the eyes"));
        assert!(!round(&["along", "across"], "flatness of the plate"));
        assert!(!round(&["jib head", "post head"], "diameter along the pin"));
        assert!(!round(&["north", "east", "south", "west"], "wall of the lower chamber"));
        assert!(!round(&["boss side", "rim side"], "thickness of teeth on the pitch line"));
        assert!(!round(&["near crown", "far crown"], "bar diameter at the crown"));
    }
}

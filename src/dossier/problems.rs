//! Problems that only show when notes are laid side by side.

use std::fmt::Display;

use jiff::civil::Date;

use crate::diagnostic::{Problem, codes, nearest};
use crate::limits::DEEPEST_PART;
use crate::photo::PhotoFault;
use crate::record::{Dated, Head, Kind, Typed, Want};
use crate::text::Span;

/// The id of a note stands after `id:`, or is the name of its file.
pub fn id_twice(note: &Head, first: &Head) -> Problem {
    let id = &note.id;
    let message = if note.has("id") {
        format!("the id `{id}` belongs to another note already")
    } else {
        format!("the name of this file is the id `{id}`, which belongs to another note already")
    };
    Problem::new(&codes::ID_TWICE, note.id_place(), message)
        .also(first.id_place(), "this note has it first")
        .help("Rename one of the files, or give one an `id:` of its own.")
        .about(id)
}

pub fn id_unknown(typed: &Typed, wanted: &str, known: &[&str]) -> Problem {
    let help = match nearest(&typed.text, known.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None if typed.text.contains(',') => format!("Several ids stand in brackets: `[{}]`.", typed.text),
        None => format!("Write a note for it, or correct the id; `asfound check -v` lists every {wanted}."),
    };
    Problem::new(&codes::ID_UNKNOWN, typed.span, format!("there is no {wanted} with the id `{}`", typed.text))
        .help(help)
}

pub fn id_kind(typed: &Typed, wanted: Kind, found: Kind) -> Problem {
    let (wanted, found) = (wanted.owner(), found.owner());
    let message = format!("`{}` is {found}, but {wanted} is meant here", typed.text);
    Problem::new(&codes::ID_KIND, typed.span, message)
        .help(format!("Name {wanted}, or move the id to the key that takes {found}."))
}

pub fn instrument_unknown(typed: &Typed, known: &[&str]) -> Problem {
    let help = match nearest(&typed.text, known.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Add it under `instruments:` in dossier.yaml, with what it is and how far it may be off."
            .to_owned(),
    };
    Problem::new(&codes::ID_UNKNOWN, typed.span, format!("dossier.yaml has no instrument `{}`", typed.text))
        .help(help)
}

/// `circle` begins with the first part in path order; each is within the next, the last within the first.
pub fn part_circle(circle: &[&Head]) -> Problem {
    let ids: Vec<String> = circle.iter().chain(circle.first()).map(|head| format!("`{}`", head.id)).collect();
    let first = circle.first().expect("a circle has a part");
    let message = format!("a part is inside itself: {}", ids.join(" within "));
    let others = circle.iter().zip(&ids).skip(1);
    let problem = others
        .fold(Problem::new(&codes::PART_CIRCLE, first.at("within"), message), |problem, (part, id)| {
            problem.also(part.at("within"), format!("what {id} is within"))
        });
    problem.help("Take `within:` out of one of them.").about(&first.id)
}

/// Each replaces the next, the last the first.
pub fn replacing_circle(circle: &[&Head]) -> Problem {
    let ids: Vec<String> = circle.iter().chain(circle.first()).map(|head| format!("`{}`", head.id)).collect();
    let first = circle.first().expect("a circle has a part");
    let message = format!("a part replaces itself: {}", ids.join(" replaces "));
    Problem::new(&codes::PART_CIRCLE, first.at("replaces"), message)
        .help("The new part replaces the old one: take `replaces:` out of the old.")
        .about(&first.id)
}

/// The part is the first of its chain that lies too deep.
pub fn part_deep(head: &Head) -> Problem {
    let message = format!("`{}` lies deeper than {DEEPEST_PART} levels within other parts", head.id);
    Problem::new(&codes::LIMIT, head.at("within"), message)
        .help("Let it lie within a part further out; a tree of that depth can't be printed.")
        .about(&head.id)
}

/// `circle`: what must come after what; each reason with the place that it follows from, in the order of the circle.
pub fn step_circle(about: &Head, circle: &str, reasons: &[(Span, String)]) -> Problem {
    let says: Vec<&str> = reasons.iter().map(|(_, reason)| reason.as_str()).collect();
    let place = reasons.first().map_or(about.span, |(place, _)| *place);
    let problem =
        Problem::new(&codes::STEP_CIRCLE, place, format!("these steps wait for each other: {circle}"));
    let others = reasons.iter().skip(1).filter(|(other, _)| *other != place);
    others
        .fold(problem, |problem, (place, reason)| problem.also(*place, reason.clone()))
        .help(format!("{}. Take one of these away.", says.join("; ")))
        .about(&about.id)
}

/// `meant` is the path of a file that is there and has nearly this name.
pub fn file_missing(at: Span, target: &str, meant: Option<&str>) -> Problem {
    let help = match meant {
        Some(meant) if meant.to_lowercase() == target.to_lowercase() => {
            format!("The file is `{meant}`: capital and small letters are different.")
        }
        Some(meant) => format!("Did you mean `{meant}`?"),
        None => "The path is relative to this note.".to_owned(),
    };
    Problem::new(&codes::FILE_MISSING, at, format!("there is no file `{target}`")).help(help)
}

pub fn file_outside(at: Span, target: &str) -> Problem {
    Problem::new(&codes::FILE_MISSING, at, format!("`{target}` leads out of the project's folder"))
        .help("Copy the file into the project and name it from there.")
}

pub fn no_picture(at: Span, target: &str, fault: &PhotoFault) -> Problem {
    let message = match fault {
        PhotoFault::Unknown => format!("`{target}` is not a picture that can be printed"),
        fault => format!("`{target}` is not a picture that can be printed: {fault}"),
    };
    Problem::new(&codes::PICTURE, at, message).help(fault.help())
}

pub fn picture_unreadable(at: Span, target: &str, error: &impl Display) -> Problem {
    Problem::new(&codes::PICTURE, at, format!("`{target}` can't be read: {error}"))
        .help("Check that you may read it and that it lies inside the project's folder.")
}

pub fn picture_untold(note: &Head, at: Span, target: &str) -> Problem {
    Problem::new(&codes::PICTURE_UNTOLD, at, format!("nothing says what the picture `{target}` shows"))
        .help(
            "Write it between the square brackets: it is the caption, and what is read out to whoever can't see it.",
        )
        .about(&note.id)
}

pub fn link_nowhere(at: Span, target: &str, known: &[&str]) -> Problem {
    let name = target.rsplit('/').next().unwrap_or(target).trim_end_matches(".md");
    let help = match nearest(name, known.iter().copied()) {
        Some(near) => format!("Did you mean `[[{near}]]`?"),
        None => "A link names a note by its path from here, or by its id: `[[id]]`.".to_owned(),
    };
    Problem::new(&codes::LINK_NOWHERE, at, format!("this link leads nowhere: there is no note `{target}`"))
        .help(help)
}

/// An address that no link of a document may lead to.
pub fn link_scheme(at: Span, target: &str) -> Problem {
    let scheme = target.split(':').next().unwrap_or(target);
    Problem::new(&codes::LINK_NOWHERE, at, format!("a link may not lead to an address of `{scheme}:`"))
        .help("A link names a note, a file of the project, or an address of `https:`, `http:` or `mailto:`.")
}

/// `why`: the key that puts `need` first, where it stands, and its own note.
pub fn done_too_early(step: &Head, need: &Head, state: &str, why: Span) -> Problem {
    let message = format!("`{}` is done, but `{}`, which comes first, is `{state}`", step.id, need.id);
    let help = format!("Close `{}`, or correct what puts it first; or open this step again.", need.id);
    Problem::new(&codes::DONE_TOO_EARLY, step.at("state"), message)
        .also(why, format!("puts `{}` first", need.id))
        .help(help)
        .about(&step.id)
}

/// A step is done with a part that is not there.
pub fn used_too_early(step: &Head, part: &str, supply: &str) -> Problem {
    let message = format!("`{}` is done, but `{part}`, which it uses, is `{supply}`", step.id);
    Problem::new(&codes::DONE_TOO_EARLY, step.at("state"), message)
        .also(step.at_id("uses", part), "used here")
        .help(format!("Write `supply: received` or `supply: fitted` for `{part}`, or open the step again."))
        .about(&step.id)
}

/// `what` speaks of the work as done.
pub fn done_unsaid(step: &Head, at: Span, what: &str, state: &str) -> Problem {
    Problem::new(&codes::DONE_UNSAID, at, format!("`{}` has {what}, but is `{state}`", step.id))
        .help("Write `state: done`, or take the line out.")
        .about(&step.id)
}

/// The step has a day on which it was begun, and is not in hand.
pub fn begun_unsaid(step: &Head, at: Span) -> Problem {
    let message = format!("`{}` has the day that it was begun on, but is `todo`", step.id);
    Problem::new(&codes::DONE_UNSAID, at, message)
        .help("Write `state: doing`, or take the line out.")
        .about(&step.id)
}

/// The step mends a finding that was seen after it was done.
pub fn mended_too_early(step: &Head, done: Dated, finding: &str, seen: Dated) -> Problem {
    let message = format!("`{}` mends `{finding}`, which was first seen on {}", step.id, seen.date);
    Problem::new(&codes::DONE_TOO_EARLY, done.span, message)
        .also(seen.span, "the finding was seen on this day")
        .help("Correct one of the days, or take the finding out of `mends:`.")
        .about(&step.id)
}

pub fn answer_missing(question: &Head) -> Problem {
    Problem::new(
        &codes::ANSWER_MISSING,
        question.at("state"),
        format!("`{}` is settled, but has no answer", question.id),
    )
    .help("Write the answer under `answer:`, and what settled it under `settled_by:`.")
    .missing(&["answer", "state"])
    .about(&question.id)
}

pub fn one_way_no_record(step: &Head, part: &str) -> Problem {
    let message = format!("`{}` can't be undone, and `{part}` has no record as found", step.id);
    Problem::new(&codes::ONE_WAY_NO_RECORD, step.at_id("parts", part), message)
        .also(step.at("irreversible"), "it can't be undone")
        .help(format!("Add a finding with a photo, or an as-found measurement, of `{part}` before the work."))
        .about(&step.id)
}

pub fn one_way_no_recovery(step: &Head) -> Problem {
    let message = format!("`{}` can't be undone, and nothing says what to do if it goes wrong", step.id);
    Problem::new(&codes::ONE_WAY_NO_RECOVERY, step.at("irreversible"), message)
        .help("Fill in `if_wrong:`: how to recover, or who could.")
        .about(&step.id)
}

/// `near` names a hazard and is nearly what was typed, `known` are the words of all.
pub fn hazard_unknown(step: &Head, at: Span, typed: &str, near: Option<&str>, known: &[&str]) -> Problem {
    let meant = near.map(|near| format!("Did you mean `{near}`? ")).unwrap_or_default();
    let help = format!("{meant}The hazards are {}; or write a sentence of your own.", known.join(", "));
    Problem::new(
        &codes::HAZARD_UNKNOWN,
        at,
        format!("`{typed}` names no hazard whose caution could be printed"),
    )
    .help(help)
    .about(&step.id)
}

pub fn disposition_open(part: &Head) -> Problem {
    Problem::new(
        &codes::DISPOSITION_OPEN,
        part.at("disposition"),
        format!("nobody has decided what becomes of `{}`", part.id),
    )
    .help("Set `disposition:` to reuse, rework, make, buy or scrap; or accept it under `allow:` for now.")
    .missing(&["disposition", "within"])
    .about(&part.id)
}

pub fn cost_missing(part: &Head) -> Problem {
    Problem::new(
        &codes::COST_MISSING,
        part.at("disposition"),
        format!("`{}` is to be bought, but has no cost", part.id),
    )
    .help("Give a price or a range: `cost: 120 GBP .. 180 GBP`.")
    .missing(&["cost", "disposition"])
    .about(&part.id)
}

pub fn instrument_missing(measurement: &Head) -> Problem {
    let message = format!("`{}` does not say what it was measured with", measurement.id);
    Problem::new(&codes::INSTRUMENT_MISSING, measurement.span, message)
        .help("Name one of the instruments in dossier.yaml: without it the readings count as exact to half a digit.")
        .missing(&["instrument"])
        .about(&measurement.id)
}

/// `other` is the feature of an earlier note, with its place.
pub fn feature_near(measurement: &Head, at: Span, feature: &str, (first, other): (Span, &str)) -> Problem {
    let message = format!(
        "the features `{feature}` and `{other}` of one part differ in capitals or spaces alone, and count as two"
    );
    Problem::new(&codes::FEATURE_NEAR, at, message)
        .also(first, "the other stands here")
        .help(format!(
            "If they are one, write `{other}` in both: as found and as left are then shown side by side."
        ))
        .about(&measurement.id)
}

/// `reading` and `median` in figures with their unit.
pub fn reading_far(measurement: &Head, at: Span, reading: &str, median: &str) -> Problem {
    let message =
        format!("`{}`: {reading} is far from the other readings, whose median is {median}", measurement.id);
    Problem::new(&codes::READING_FAR, at, message)
        .help("Measure there again, or look for a slip of the pen; accept it under `allow:` if it is so.")
        .about(&measurement.id)
}

/// `readings`: what is outside, in words; `measures`: what the instrument reads.
pub fn reading_outside(
    measurement: &Head,
    at: Span,
    readings: &str,
    instrument: &str,
    measures: &str,
) -> Problem {
    let message =
        format!("`{}`: {readings} outside what `{instrument}` measures, {measures}", measurement.id);
    Problem::new(&codes::READING_OUTSIDE, at, message)
        .help(
            "Name the instrument that was used, correct the reading, or correct `measures:` in dossier.yaml.",
        )
        .about(&measurement.id)
}

pub fn paper_expired(paper: &Head, until: Dated, today: Date) -> Problem {
    let message =
        format!("`{}` was valid until {}, and the notes have come to {today}", paper.id, until.date);
    Problem::new(&codes::PAPER_EXPIRED, until.span, message)
        .help("Have it renewed, and write the new day under `valid_until:`.")
        .about(&paper.id)
}

/// By the forecast a step is finished after its last day: its own, or that of a paper.
pub fn last_day_missed(step: &Head, last: Dated, paper: Option<&str>, finish: Date) -> Problem {
    let until = paper.map_or_else(
        || format!("is to be done by {}", last.date),
        |paper| format!("is done under `{paper}`, valid until {}", last.date),
    );
    let message = format!("`{}` {until}, but is likely finished on {finish}", step.id);
    Problem::new(&codes::LAST_DAY_MISSED, last.span, message)
        .help("`asfound why` and the chapter \"Repair sequence\" show what comes before it; begin that sooner, or have the day moved.")
        .about(&step.id)
}

/// A season that can't be planned for.
pub fn no_day_zero(step: &Head, at: Span) -> Problem {
    let message = format!("`{}` has its days, but no note says what day it is", step.id);
    Problem::new(&codes::NO_DAY_ZERO, at, message)
        .help("Write the first day of work under `start:` in dossier.yaml.")
        .about(&step.id)
}

pub fn trap_not_freed(part: &Head, trap: &str) -> Problem {
    let message = format!("`{}` is trapped by `{trap}`, and no step takes `{trap}` off", part.id);
    Problem::new(&codes::TRAP_NOT_FREED, part.at_id("trapped_by", trap), message)
        .help(format!("Add a step that `removes: [{trap}]`, or correct `trapped_by:`."))
        .about(&part.id)
}

/// A step works on a part elsewhere than at the machine, and nothing takes it off before.
/// `site`: the shop where the machine stands, if it is one; `is_said`: dossier.yaml names it under `site`.
pub fn not_taken_off(step: &Head, part: &str, shop: &str, site: Option<&str>, is_said: bool) -> Problem {
    let stands = site.map_or("with the keeper".to_owned(), |site| format!("at `{site}`"));
    let message = format!(
        "`{}` works on `{part}` at `{shop}`, but the machine stands {stands}, and no step takes `{part}` off before",
        step.id
    );
    let problem = Problem::new(&codes::NOT_TAKEN_OFF, step.at_id("parts", part), message);
    let problem = if step.has("at") { problem.also(step.at("at"), "worked on here") } else { problem };
    let or_site = if is_said {
        String::new()
    } else {
        format!(", or `site: {shop}` in dossier.yaml if it stands there")
    };
    problem
        .help(format!(
            "Add a step that `removes: [{part}]` or an assembly around it; or, if the work is done at the machine, write \
             `in_place: true` here{or_site}."
        ))
        .about(&step.id)
}

pub fn place_cannot(step: &Head, shop: &str, misses: &str, others: &[&str]) -> Problem {
    let help = match others {
        [] => "No known shop can: see the unplaced jobs.".to_owned(),
        others => format!("Who could: {}.", others.join(", ")),
    };
    Problem::new(&codes::PLACE_CANNOT, step.at("at"), format!("`{shop}` can't do `{}`: {misses}", step.id))
        .help(help)
        .about(&step.id)
}

/// A word of `calls_for` or `has` that stands in one note alone, and the one that was probably meant.
pub fn capability_word(note: &Head, at: Span, key: &str, word: &str, near: &str) -> Problem {
    let message = format!("no other note has the word `{word}` of this `{key}`");
    Problem::new(&codes::CAPABILITY_WORD, at, message)
        .help(format!("Did you mean `{near}`? A step finds a shop only by the same word."))
        .about(&note.id)
}

/// `told`: what the part weighs or measures, as the end of a sentence: `weighs 2000 lb`.
pub fn calls_for_less(step: &Head, want: &Want, part: &str, told: &str) -> Problem {
    let message = format!("`{}` calls for {} {}, but `{part}` {told}", step.id, want.what, want.amount);
    Problem::new(&codes::CALLS_FOR_LESS, want.place.span, message)
        .help(
            "Call for as much as the part needs, with its uncertainty; or correct what the part's note says.",
        )
        .about(&step.id)
}

pub fn lift_unsaid(step: &Head, part: &str, mass: &str) -> Problem {
    let message = format!("`{}` moves `{part}`, which weighs {mass}, and calls for no lift", step.id);
    Problem::new(&codes::LIFT_UNSAID, step.span, message)
        .help("Say what lifts it: `calls_for: {lift: ...}`; more than 25 kg (55 lb) is not for one person's hands.")
        .about(&step.id)
}

pub fn hours_unused(shop: &Head, at: Span) -> Problem {
    let message = format!("`{}` has hours of its own, but the hands there are the keeper's", shop.id);
    Problem::new(&codes::HOURS_UNUSED, at, message)
        .help("Take `hours_per_week:` out, for yours stand in dossier.yaml; or take `hands: keeper` out.")
        .about(&shop.id)
}

pub fn ton_assumed(at: Span) -> Problem {
    Problem::new(&codes::TON_ASSUMED, at, "a bare ton is taken as the short ton of 2000 lb")
        .help("Say which is meant in dossier.yaml: `ton: short`, `long` or `metric`.")
}

pub fn allow_error(at: Span, code: &str) -> Problem {
    Problem::new(&codes::ALLOW_UNUSED, at, format!("`{code}` is an error, and errors can't be accepted"))
        .help("Mend what it says, and take the line out of `allow:`.")
}

pub fn allow_unused(at: Span, code: &str) -> Problem {
    Problem::new(&codes::ALLOW_UNUSED, at, format!("nothing is found any more that this accepts: {code}"))
        .help("Take the line out of `allow:`.")
}

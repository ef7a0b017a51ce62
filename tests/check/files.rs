//! Bad files, as no text can show them: each gets its problem at its place, and the others are read all the same.

use std::fs;
use std::path::Path;

use super::folder::{check, short, write};

/// The codes that the tests here show.
pub(crate) const SHOWN: &[&str] =
    &["too-large", "not-text", "link-outside", "link-loop", "unreadable", "body-unreadable"];

const GOOD: &str = "---\nkind: part\nname: Post\ndisposition: reuse\n---\n";

/// A folder with dossier.yaml and a good note, to which `spoil` adds something bad; then the problems it has.
fn problems_after(spoil: impl FnOnce(&Path)) -> Vec<String> {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    write(dir.path(), "dossier.yaml", "title: The hand crane\n");
    write(dir.path(), "parts/post.md", GOOD);
    spoil(dir.path());
    let project = check(dir.path());
    assert!(project.dossier.find("post").is_some(), "the good note was not read");
    project.problems().iter().map(|problem| short(problem, &project)).collect()
}

#[test]
fn a_binary_file_is_no_note() {
    let found = problems_after(|dir| drop(write(dir, "parts/plate.md", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")));
    assert_eq!(found, ["not-text parts/plate.md:1"]);
}

#[test]
fn a_text_in_another_encoding_is_named_with_the_line() {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    write(dir.path(), "dossier.yaml", "title: The hand crane\n");
    write(dir.path(), "letter.md", b"---\nkind: paper\ntitle: Letter of the f\xfcrst owner\n---\n");
    let project = check(dir.path());
    let [problem] = project.problems() else { panic!("one problem, not {:?}", project.problems()) };
    assert_eq!(short(problem, &project), "not-text letter.md:1");
    assert!(problem.message.contains("line 3"), "{}", problem.message);
}

#[test]
fn a_note_of_twenty_megabytes_is_refused() {
    let found = problems_after(|dir| drop(write(dir, "parts/jib.md", vec![b'a'; 20 * 1024 * 1024])));
    assert_eq!(found, ["too-large parts/jib.md:1"]);
}

#[test]
fn a_note_of_many_nested_quotes_keeps_its_keys() {
    let deep =
        format!("---\nkind: part\nname: Jib\ndisposition: reuse\n---\n\n{} a mail\n", "> ".repeat(5000));
    let found = problems_after(|dir| drop(write(dir, "parts/jib.md", deep)));
    assert_eq!(found, ["body-unreadable parts/jib.md:7"]);
}

#[test]
fn a_folder_in_place_of_dossier_yaml_is_named() {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    fs::create_dir(dir.path().join("dossier.yaml")).expect("a folder can be made");
    let project = check(dir.path());
    let found: Vec<String> = project.problems().iter().map(|problem| short(problem, &project)).collect();
    assert_eq!(found, ["not-a-file dossier.yaml:1"]);
}

#[test]
fn a_folder_that_is_not_there_is_no_project() {
    assert!(asfound::Project::open(Path::new("no/such/folder")).is_err());
}

#[test]
fn a_picture_of_a_telephone_is_named_as_such() {
    let dir = tempfile::tempdir().expect("a temporary folder can be made");
    write(dir.path(), "dossier.yaml", "title: The hand crane\n");
    write(dir.path(), "parts/post.md", format!("{GOOD}\n![the top](top.heic)\n"));
    write(dir.path(), "parts/top.heic", b"\0\0\0\x18ftypheic\0\0\0\0");
    let project = check(dir.path());
    let [problem] = project.problems() else { panic!("one problem, not {:?}", project.problems()) };
    assert_eq!(short(problem, &project), "picture parts/post.md:7");
    let (message, help) = (&problem.message, &problem.help);
    assert!(message.contains("it is a HEIC picture") && help.contains("JPEG"), "{message}; {help}");
}

/// One rule says what a picture is, here and where it is printed.
#[test]
fn a_drawing_is_known_behind_a_long_comment_and_with_its_names_prefixed() {
    let comment = format!("<!-- {} -->\n<svg/>", "drawn by hand ".repeat(100));
    let prefixed = "<s:svg xmlns:s=\"http://www.w3.org/2000/svg\"/>";
    let found = problems_after(|dir| {
        write(dir, "parts/jib.md", format!("{GOOD}\n![the jib](jib.svg) ![its foot](foot.svg)\n"));
        write(dir, "parts/jib.svg", comment);
        write(dir, "parts/foot.svg", prefixed);
    });
    assert_eq!(found, Vec::<String>::new());
}

/// RFC 3986, section 2.1: two hexadecimal digits behind `%`, and nothing else.
#[test]
fn a_percent_sign_without_two_digits_is_part_of_a_name() {
    let found = problems_after(|dir| {
        write(dir, "parts/jib.md", format!("{GOOD}\n![the jib](jib%+1%20b.gif)\n"));
        // A picture of one pixel, as small as the format allows.
        let gif = b"GIF89a\x01\0\x01\0\x80\0\0\0\0\0\xff\xff\xff,\0\0\0\0\x01\0\x01\0\0\x02\x02D\x01\0;";
        write(dir, "parts/jib%+1 b.gif", gif);
    });
    assert_eq!(found, Vec::<String>::new());
}

/// As root every file can be read: the tool complains exactly when the computer does.
#[cfg(unix)]
#[test]
fn a_locked_file_is_named_and_the_others_are_read() {
    use std::os::unix::fs::PermissionsExt;
    let mut refused = false;
    let found = problems_after(|dir| {
        let locked = write(dir, "parts/jib.md", GOOD);
        fs::set_permissions(&locked, fs::Permissions::from_mode(0o000)).expect("permissions can be set");
        refused = fs::read(&locked).is_err();
    });
    assert_eq!(found == ["unreadable parts/jib.md:1"], refused);
}

#[cfg(unix)]
mod links {
    use std::os::unix::fs::symlink;

    use super::*;

    #[test]
    fn a_link_to_nothing_is_unreadable() {
        let found =
            problems_after(|dir| symlink("gone.md", dir.join("parts/jib.md")).expect("a link can be made"));
        assert_eq!(found, ["unreadable parts/jib.md:1"]);
    }

    #[test]
    fn a_link_out_of_the_folder_is_not_followed() {
        let outside = tempfile::tempdir().expect("a temporary folder can be made");
        let letter = write(outside.path(), "letter.md", "---\nkind: paper\ntitle: Letter\n---\n");
        let found =
            problems_after(|dir| symlink(letter, dir.join("parts/letter.md")).expect("a link can be made"));
        assert_eq!(found, ["link-outside parts/letter.md:1"]);
    }

    #[test]
    fn a_linked_folder_outside_is_not_read() {
        let outside = tempfile::tempdir().expect("a temporary folder can be made");
        write(outside.path(), "letter.md", "---\nkind: paper\ntitle: Letter\n---\n");
        let found =
            problems_after(|dir| symlink(outside.path(), dir.join("papers")).expect("a link can be made"));
        assert_eq!(found, ["link-outside papers:1"]);
    }

    /// However many ways lead to a folder, it is read once: here there are a quarter of a million.
    #[test]
    fn a_folder_with_many_links_to_it_is_read_once() {
        let found = problems_after(|dir| {
            for step in 0..18 {
                let folder = dir.join(format!("ways/{step}"));
                fs::create_dir_all(&folder).expect("a folder can be made");
                for name in ["left", "right"] {
                    symlink(format!("../{}", step + 1), folder.join(name)).expect("a link can be made");
                }
            }
            write(dir, "ways/18/jib.md", GOOD);
            symlink("jib.md", dir.join("ways/18/again.md")).expect("a link can be made");
        });
        assert!(found.iter().all(|problem| !problem.contains("id-twice")), "{found:?}");
    }

    /// A pipe never ends: it is no note, no picture, no paper.
    #[test]
    fn a_pipe_is_not_waited_for() {
        let found = problems_after(|dir| {
            for name in ["pipe.md", "pipe.svg"] {
                let made = std::process::Command::new("mkfifo").arg(dir.join(name)).status();
                assert!(made.expect("mkfifo is there").success());
            }
            write(dir, "parts/jib.md", format!("{GOOD}\n![the plate](../pipe.svg)\n"));
        });
        assert_eq!(found, ["picture parts/jib.md:7", "not-a-file pipe.md:1"]);
    }

    #[test]
    fn a_link_to_a_folder_above_is_passed_over() {
        let found = problems_after(|dir| symlink("..", dir.join("parts/all")).expect("a link can be made"));
        assert_eq!(found, ["link-loop parts/all:1"]);
    }

    #[test]
    fn a_picture_behind_a_link_out_of_the_folder_is_not_read() {
        let outside = tempfile::tempdir().expect("a temporary folder can be made");
        let picture = write(outside.path(), "plate.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>");
        let found = problems_after(|dir| {
            symlink(picture, dir.join("plate.svg")).expect("a link can be made");
            write(dir, "parts/jib.md", format!("{GOOD}\n![the plate](../plate.svg)\n"));
        });
        assert_eq!(found, ["picture parts/jib.md:7"]);
    }
}

//! A second build decodes nothing again; the cache changes nothing else.

use std::fs;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use asfound::photo::{self, Cache, PhotoFault};

use super::drawing::GOOD;
use super::pictures::{gif, jpeg, quarters, scene};

fn entries(root: &Path) -> Vec<PathBuf> {
    let Ok(folder) = fs::read_dir(root.join(".asfound/photos")) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = folder.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

#[test]
fn a_second_build_decodes_none_again() {
    let root = tempfile::tempdir().unwrap();
    let files =
        [jpeg(&scene(300, 200)), jpeg(&scene(200, 300)), gif(&quarters(90, 60)), GOOD.as_bytes().to_vec()];
    let expected: Vec<_> = files.iter().map(|file| photo::prepare(file, 20.0)).collect();
    for decoded in [3, 0, 0] {
        let cache = Cache::of_project(root.path());
        let found: Vec<_> = files.iter().map(|file| cache.prepare(file, 20.0)).collect();
        assert_eq!(found, expected);
        assert_eq!(cache.decoded(), decoded, "the drawing passes untouched");
    }
    assert_eq!(entries(root.path()).len(), 3, "and nothing half-written beside them");
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 1, "nothing outside .asfound");
}

/// Who exchanges two entries does not exchange two pictures.
#[test]
fn an_entry_under_another_name_is_no_entry() {
    let root = tempfile::tempdir().unwrap();
    let files = [jpeg(&scene(300, 200)), jpeg(&quarters(300, 200))];
    let expected = files.each_ref().map(|file| photo::prepare(file, 20.0));
    let cache = Cache::of_project(root.path());
    files.iter().for_each(|file| assert!(cache.prepare(file, 20.0).is_ok()));
    let kept = entries(root.path());
    let aside = root.path().join("aside");
    fs::rename(&kept[0], &aside).unwrap();
    fs::rename(&kept[1], &kept[0]).unwrap();
    fs::rename(&aside, &kept[1]).unwrap();
    let found = files.each_ref().map(|file| cache.prepare(file, 20.0));
    assert_eq!(found, expected);
    assert_eq!(cache.decoded(), 4);
}

#[test]
fn another_width_or_another_picture_is_another_entry() {
    let root = tempfile::tempdir().unwrap();
    let cache = Cache::of_project(root.path());
    let (one, mut other) = (jpeg(&scene(300, 200)), jpeg(&scene(300, 200)));
    let last = other.len() - 20;
    other[last] ^= 1;
    for (file, width) in [(&one, 10.0), (&one, 20.0), (&other, 10.0), (&one, 10.0)] {
        assert_eq!(cache.prepare(file, width), photo::prepare(file, width));
    }
    assert_eq!((cache.decoded(), entries(root.path()).len()), (3, 3));
}

/// Sixty days after the last build that printed it a picture goes; what was not made by us stays.
#[test]
fn pictures_long_unused_are_swept_away() {
    let root = tempfile::tempdir().unwrap();
    let file = jpeg(&scene(40, 30));
    let is_kept = |width: f64| {
        let cache = Cache::of_project(root.path());
        cache.prepare(&file, width).unwrap();
        cache.decoded() == 0
    };
    let unused_for = |days: u64, path: &Path| {
        let last = SystemTime::now() - Duration::from_secs(days * 24 * 60 * 60);
        fs::File::options().append(true).open(path).unwrap().set_modified(last).unwrap();
    };
    let mut known = Vec::new();
    for (width, days) in [(5.0, 61), (10.0, 59), (20.0, 61)] {
        Cache::of_project(root.path()).prepare(&file, width).unwrap();
        let entry = entries(root.path()).into_iter().find(|entry| !known.contains(entry)).unwrap();
        unused_for(days, &entry);
        known.push(entry);
    }
    let note = root.path().join(".asfound/photos/note.txt");
    fs::write(&note, "mine").unwrap();
    unused_for(400, &note);

    let cache = Cache::of_project(root.path());
    cache.prepare(&file, 20.0).unwrap();
    cache.sweep();

    assert!(note.exists());
    assert_eq!([5.0, 10.0, 20.0].map(is_kept), [false, true, true]);
}

/// Every byte of an entry counts: a damaged one is made anew, and mended.
#[test]
fn a_damaged_entry_is_never_believed() {
    let root = tempfile::tempdir().unwrap();
    let file = jpeg(&scene(40, 30));
    let expected = Cache::of_project(root.path()).prepare(&file, 20.0);
    let entry = entries(root.path()).remove(0);
    let good = fs::read(&entry).unwrap();
    let flipped = (0..good.len()).map(|at| {
        let mut bad = good.clone();
        bad[at] ^= 0x01;
        bad
    });
    let cut = (0..good.len()).step_by(7).map(|length| good[..length].to_vec());
    for bad in flipped.chain(cut).chain([[&good[..], b"x"].concat()]) {
        fs::write(&entry, bad).unwrap();
        let cache = Cache::of_project(root.path());
        assert_eq!(cache.prepare(&file, 20.0), expected);
        assert_eq!(cache.decoded(), 1);
        assert_eq!(fs::read(&entry).unwrap(), good);
    }
}

#[test]
fn a_cache_that_cannot_be_written_is_no_error() {
    let root = tempfile::tempdir().unwrap();
    let file = jpeg(&scene(300, 200));
    fs::write(root.path().join(".asfound"), "a file in its way").unwrap();
    for cache in
        [Cache::of_project(root.path()), Cache::of_project(Path::new("/dev/null/nowhere")), Cache::none()]
    {
        for decoded in [1, 2] {
            assert_eq!(cache.prepare(&file, 20.0), photo::prepare(&file, 20.0));
            assert_eq!(cache.decoded(), decoded);
        }
    }
}

#[test]
fn a_fault_is_not_kept() {
    let root = tempfile::tempdir().unwrap();
    let cache = Cache::of_project(root.path());
    let file = jpeg(&scene(300, 200));
    assert_eq!(cache.prepare(&file[..900], 20.0), Err(PhotoFault::CutOff));
    assert_eq!(cache.prepare(b"", 20.0), Err(PhotoFault::Empty));
    assert!(entries(root.path()).is_empty());
}

#[test]
fn many_come_back_in_order_each_with_its_own_fault() {
    let root = tempfile::tempdir().unwrap();
    let file = |number: &u32| match number % 5 {
        3 => Err(Error::new(ErrorKind::PermissionDenied, "not yours")),
        4 => Ok(b"just words".to_vec()),
        _ => Ok(jpeg(&scene(100 + number, 80))),
    };
    let wanted: Vec<(u32, f64)> = (0..40).map(|number| (number, 5.0 + f64::from(number) / 10.0)).collect();
    let expected: Vec<_> = wanted
        .iter()
        .map(|(number, width)| match file(number) {
            Ok(bytes) => photo::prepare(&bytes, *width),
            Err(error) => Err(PhotoFault::Unreadable(error.to_string())),
        })
        .collect();
    for cache in [Cache::of_project(root.path()), Cache::of_project(root.path()), Cache::none()] {
        assert_eq!(cache.prepare_all(&wanted, file), expected);
    }
    assert_eq!(Cache::none().prepare_all(&[] as &[(u32, f64)], file), []);
}

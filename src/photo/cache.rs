//! Prepared pictures kept from one build to the next.

use std::fs;
use std::hash::Hasher;
use std::io::{self, Write};
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, SystemTime};

use siphasher::sip128::{Hasher128, SipHasher24};

use crate::guard::guarded;

use super::{Kind, PhotoFault, Prepared, dots, prepare_to, raster, size, svg};

/// Goes into every key; raised whenever [`super::prepare`] gives other bytes than before.
const EDITION: u32 = 2;

/// No more pictures at a time than this: the largest take half a gigabyte each while they are decoded.
const MOST_AT_ONCE: usize = 4;

/// A picture that no build has asked for in this time goes.
const KEPT_FOR: Duration = Duration::from_secs(60 * DAY);

/// Seconds. How finely it is noted when a picture was last asked for.
const DAY: u64 = 24 * 60 * 60;

/// A folder of prepared pictures. What is in it, or whether it can be written at all, changes nothing but the time
/// taken.
///
/// Each file is named by its source's content and the size wanted, and holds one line, `asfound photo`, kind, width,
/// height and a checksum, then the picture.
#[derive(Debug, Default)]
pub struct Cache {
    folder: Option<PathBuf>,
    decoded: AtomicUsize,
}

impl Cache {
    /// The cache of the project in this folder: `.asfound/photos` within it, made when it is first needed.
    pub fn of_project(root: &Path) -> Self {
        Self { folder: Some(root.join(".asfound").join("photos")), ..Self::default() }
    }

    /// A cache that keeps nothing.
    pub fn none() -> Self {
        Self::default()
    }

    /// How many pictures had to be decoded so far, because they were not kept.
    pub fn decoded(&self) -> usize {
        self.decoded.load(Ordering::Relaxed)
    }

    /// As [`super::prepare`].
    ///
    /// # Errors
    /// As [`super::prepare`]; never because of the cache.
    pub fn prepare(&self, bytes: &[u8], printed_width_mm: f64) -> Result<Prepared, PhotoFault> {
        let widest = dots(printed_width_mm);
        let folder = self.folder.as_deref().filter(|_| Kind::of(bytes) != Some(Kind::Svg));
        let Some(folder) = folder else { return self.decode(bytes, widest) };
        let key = key(bytes, widest);
        let file = folder.join(&key);
        if let Some(kept) = read(&file).and_then(|entry| from_entry(&entry, &key)) {
            let _ = note_use(&file);
            return Ok(kept);
        }
        let prepared = self.decode(bytes, widest)?;
        // The picture is there, kept or not.
        let _ = keep(folder, &key, &prepared);
        Ok(prepared)
    }

    /// Prepares many pictures, several at a time, each read only when its turn comes; the results in the order asked
    /// for.
    ///
    /// `wanted`: what `read` finds the picture by, and its printed width in millimetres.
    pub fn prepare_all<P: Sync>(
        &self,
        wanted: &[(P, f64)],
        read: impl Fn(&P) -> io::Result<Vec<u8>> + Sync,
    ) -> Vec<Result<Prepared, PhotoFault>> {
        let one = |(picture, width): &(P, f64)| {
            let bytes = read(picture).map_err(|error| PhotoFault::Unreadable(error.to_string()))?;
            guarded(|| self.prepare(&bytes, *width)).unwrap_or_else(|why| Err(PhotoFault::Undecodable(why)))
        };
        in_parallel(wanted, one)
    }

    /// Whether pictures can be printed, several looked at at a time: each is decoded once, and it is kept that it could be.
    pub fn look_at_all<P: Sync>(
        &self,
        wanted: &[P],
        read: impl Fn(&P) -> io::Result<Vec<u8>> + Sync,
    ) -> Vec<Result<(), PhotoFault>> {
        let one = |picture: &P| {
            let bytes = read(picture).map_err(|error| PhotoFault::Unreadable(error.to_string()))?;
            guarded(|| self.look_at(&bytes)).unwrap_or_else(|why| Err(PhotoFault::Undecodable(why)))
        };
        in_parallel(wanted, one)
    }

    fn look_at(&self, bytes: &[u8]) -> Result<(), PhotoFault> {
        size(bytes)?;
        if Kind::of(bytes) == Some(Kind::Svg) {
            return svg::clean(bytes).map(drop);
        }
        let entry = self.folder.as_deref().map(|folder| folder.join(key(bytes, NO_WIDTH)));
        if let Some(entry) =
            entry.filter(|entry| fs::symlink_metadata(entry).is_ok_and(|about| about.is_file()))
        {
            let _ = note_use(&entry);
            return Ok(());
        }
        self.decoded.fetch_add(1, Ordering::Relaxed);
        raster::decode(bytes, Kind::recognise(bytes)?)?;
        if let Some(folder) = &self.folder {
            // It can be printed, kept or not.
            let _ = keep_sound(folder, &key(bytes, NO_WIDTH));
        }
        Ok(())
    }

    /// Takes away the pictures that nothing has asked for in sixty days: replaced photographs, other sizes.
    pub fn sweep(&self) {
        let entries = self.folder.as_deref().and_then(|folder| fs::read_dir(folder).ok());
        for entry in entries.into_iter().flatten().flatten().filter(is_ours) {
            if unused_for(&entry.path()).is_some_and(|time| time > KEPT_FOR) {
                // Tried again at the next build.
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    fn decode(&self, bytes: &[u8], widest: u32) -> Result<Prepared, PhotoFault> {
        if Kind::of(bytes) != Some(Kind::Svg) {
            self.decoded.fetch_add(1, Ordering::Relaxed);
        }
        prepare_to(bytes, widest)
    }
}

/// `work` done on each of `items` by as many threads as there are processors, at most [`MOST_AT_ONCE`].
fn in_parallel<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(MOST_AT_ONCE).min(items.len());
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(items.len()));
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                while let Some((index, item)) = take(items, &next) {
                    let result = work(item);
                    done.lock().expect("no thread panics while it holds this").push((index, result));
                }
            });
        }
    });
    let mut done = done.into_inner().expect("no thread panics while it holds this");
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

fn take<'a, T>(items: &'a [T], next: &AtomicUsize) -> Option<(usize, &'a T)> {
    let index = next.fetch_add(1, Ordering::Relaxed);
    items.get(index).map(|item| (index, item))
}

/// The name of a picture's file: 32 hexadecimal digits from its source, the size wanted and the [`EDITION`].
fn key(bytes: &[u8], widest: u32) -> String {
    let mut hasher = SipHasher24::new();
    hasher.write(&EDITION.to_le_bytes());
    hasher.write(&widest.to_le_bytes());
    hasher.write(bytes);
    digits(&hasher)
}

fn digits(hasher: &SipHasher24) -> String {
    format!("{:032x}", hasher.finish128().as_u128())
}

/// Named as [`key`] names them: what somebody else has put beside them stays.
fn is_ours(entry: &fs::DirEntry) -> bool {
    let name = entry.file_name();
    name.len() == 32 && name.as_encoded_bytes().iter().all(u8::is_ascii_hexdigit)
}

/// An entry's bytes; nothing else than a regular file is opened, since a pipe would never end.
fn read(file: &Path) -> Option<Vec<u8>> {
    fs::symlink_metadata(file).is_ok_and(|about| about.is_file()).then(|| fs::read(file).ok())?
}

/// How long ago the entry was last asked for, by the time on its file.
fn unused_for(file: &Path) -> Option<Duration> {
    let last = fs::metadata(file).and_then(|about| about.modified()).ok()?;
    SystemTime::now().duration_since(last).ok()
}

fn note_use(file: &Path) -> io::Result<()> {
    if unused_for(file).is_some_and(|time| time.as_secs() > DAY) {
        fs::File::options().append(true).open(file)?.set_modified(SystemTime::now())?;
    }
    Ok(())
}

/// No picture is that wide: under it stands only that a picture could be decoded.
const NO_WIDTH: u32 = 0;

fn keep_sound(folder: &Path, key: &str) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    tempfile::NamedTempFile::new_in(folder)?.persist(folder.join(key))?;
    Ok(())
}

/// Writes the whole entry or nothing.
fn keep(folder: &Path, key: &str, prepared: &Prepared) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let mut entry = tempfile::NamedTempFile::new_in(folder)?;
    let stated = stated(prepared);
    let sum = checksum(key, &stated, &prepared.bytes);
    writeln!(entry, "{stated} {sum}")?;
    entry.write_all(&prepared.bytes)?;
    entry.persist(folder.join(key))?;
    Ok(())
}

fn stated(prepared: &Prepared) -> String {
    format!("asfound photo {} {} {}", prepared.kind.ending(), prepared.width, prepared.height)
}

/// Of an entry and the name that it is kept by, so that no entry can stand for another.
fn checksum(key: &str, stated: &str, bytes: &[u8]) -> String {
    let mut hasher = SipHasher24::new();
    hasher.write(key.as_bytes());
    hasher.write(stated.as_bytes());
    hasher.write(bytes);
    digits(&hasher)
}

/// The picture in an entry; `None` when a byte of it is not as it was written.
fn from_entry(entry: &[u8], key: &str) -> Option<Prepared> {
    let end = entry.iter().position(|byte| *byte == b'\n')?;
    let line = std::str::from_utf8(&entry[..end]).ok()?;
    let bytes = &entry[end + 1..];
    let (stated, sum) = line.rsplit_once(' ')?;
    if checksum(key, stated, bytes) != sum {
        return None;
    }
    let words: Vec<&str> = stated.split(' ').collect();
    let ["asfound", "photo", kind, width, height] = words[..] else { return None };
    Some(Prepared {
        bytes: bytes.to_vec(),
        kind: Kind::with_ending(kind)?,
        width: width.parse().ok()?,
        height: height.parse().ok()?,
    })
}

//! The border at which a panic of a library becomes an error.
//!
//! Takes: work that a library does on what came from outside. Gives: its result, or what the library said as it gave
//! up. Never: knows what the work is.

use std::panic::{self, AssertUnwindSafe};
use std::sync::atomic::{AtomicUsize, Ordering};

/// How many guarded works are under way.
static UNDER_WAY: AtomicUsize = AtomicUsize::new(0);

/// Does the work.
///
/// # Errors
/// The words of its panic.
pub fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    UNDER_WAY.fetch_add(1, Ordering::SeqCst);
    let done = panic::catch_unwind(AssertUnwindSafe(work));
    UNDER_WAY.fetch_sub(1, Ordering::SeqCst);
    done.map_err(|cause| {
        let words = cause.downcast_ref::<&str>().map(|words| (*words).to_owned());
        words.or_else(|| cause.downcast_ref::<String>().cloned()).unwrap_or_else(|| "it gave up".to_owned())
    })
}

/// From now on nothing is printed for a panic in guarded work, whose error is printed instead: for a program that
/// prints errors itself.
pub fn print_no_guarded_panics() {
    let usual = panic::take_hook();
    panic::set_hook(Box::new(move |panicked| {
        if UNDER_WAY.load(Ordering::SeqCst) == 0 {
            usual(panicked);
        }
    }));
}

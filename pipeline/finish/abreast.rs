//! Work on several things at once.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Does the work on every item, as many at once as the pool has threads, and gives the results in the
/// order of the items.
///
/// These are threads of their own and not the pool's: the press itself needs the pool while it sets a
/// paper, and a thread of the pool that waits would take up a second paper on top of the first.
pub(super) fn abreast<I: Sync, T: Send>(items: &[I], work: impl Fn(&I) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let done: Mutex<BTreeMap<usize, T>> = Mutex::new(BTreeMap::new());
    std::thread::scope(|scope| {
        for _ in 0..rayon::current_num_threads().min(items.len()) {
            scope.spawn(|| {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some(item) = items.get(index) else {
                        return;
                    };
                    let result = work(item);
                    if let Ok(mut done) = done.lock() {
                        done.insert(index, result);
                    }
                }
            });
        }
    });
    done.into_inner()
        .map(|done| done.into_values().collect())
        .unwrap_or_default()
}

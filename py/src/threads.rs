//! The threads that tables are computed on.

use std::sync::{Arc, Mutex, PoisonError};

use rayon::{ThreadPool, ThreadPoolBuilder};

/// A process that was forked has the pool's memory but not its threads, and would wait for them for
/// ever; so each process makes its own.
static POOL: Mutex<Option<(u32, Arc<ThreadPool>)>> = Mutex::new(None);

/// Runs a computation on every core, or on as many as the variable `RAYON_NUM_THREADS` says.
pub fn install<R: Send>(compute: impl FnOnce() -> R + Send) -> R {
    match pool() {
        Some(pool) => pool.install(compute),
        // No threads to be had: the engine then uses this one.
        None => compute(),
    }
}

fn pool() -> Option<Arc<ThreadPool>> {
    let process = std::process::id();
    let mut kept = POOL.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, pool)) = kept.as_ref().filter(|(owner, _)| *owner == process) {
        return Some(Arc::clone(pool));
    }
    let pool = Arc::new(ThreadPoolBuilder::new().build().ok()?);
    // The parent's pool is left alone: to end it would mean to wait for its threads.
    std::mem::forget(kept.replace((process, Arc::clone(&pool))));
    Some(pool)
}

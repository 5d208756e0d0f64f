//! Long work: off the interpreter's lock, stopped by Ctrl-C, with progress told on the way.

use crate::errors::Failure;
pub use loamline::math::parallel::Crew;
use pyo3::prelude::*;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

/// How often the calling thread looks for signals: well inside the 50 ms within which Ctrl-C acts.
const TICK: Duration = Duration::from_millis(15);

/// What workers and the calling thread tell each other.
#[derive(Debug, Default)]
pub struct Watch {
    stop: AtomicBool,
    done: AtomicUsize,
    total: AtomicUsize,
}

impl Watch {
    /// Whether the work is to stop; workers ask this between chunks of well under 50 ms.
    pub fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Notes `done` of `total` and says whether to go on.
    pub fn report(&self, done: usize, total: usize) -> ControlFlow<()> {
        self.done.fetch_max(done, Ordering::Relaxed);
        self.total.store(total, Ordering::Relaxed);
        if self.stopped() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }

    fn tell(&self, py: Python<'_>, progress: Option<&Py<PyAny>>) -> Result<(), Failure> {
        let (Some(progress), total) = (progress, self.total.load(Ordering::Relaxed)) else {
            return Ok(());
        };
        if total == 0 {
            return Ok(());
        }
        let answer = progress.call1(py, (self.done.load(Ordering::Relaxed), total))?;
        if answer.bind(py).is(pyo3::types::PyBool::new(py, false)) {
            return Err(Failure::cancelled());
        }
        Ok(())
    }
}

/// Who is told of progress: nobody for `None` or `False`, a line on standard error for `True`,
/// or the function given.
pub fn listener(progress: Option<Bound<'_, PyAny>>) -> Result<Option<Py<PyAny>>, Failure> {
    let Some(progress) = progress else {
        return Ok(None);
    };
    if progress.is_callable() {
        return Ok(Some(progress.unbind()));
    }
    match progress.extract::<bool>() {
        Ok(true) => {
            let line = progress.py().import("loamline._progress")?.getattr("Line")?.call0()?;
            Ok(Some(line.unbind()))
        }
        Ok(false) => Ok(None),
        Err(_) => Err(Failure::input("progress wants True, False or a function of (done, total)")
            .about("progress")),
    }
}

/// What `work` returns, done by a crew that is watched as [`long`] says.
pub fn crewed<T: Send>(
    py: Python<'_>,
    threads: Option<usize>,
    progress: Option<&Py<PyAny>>,
    work: impl FnOnce(&Crew<'_>) -> T + Send,
) -> Result<T, Failure> {
    long(py, progress, |watch| {
        let hook = |done, total| watch.report(done, total);
        work(&Crew { threads, watch: Some(&hook) })
    })
}

/// What `work` returns, done on a thread of its own while this one looks for signals.
///
/// A `KeyboardInterrupt`, an exception of `progress(done, total)`, or `progress` returning `False`
/// (`Cancelled`) stops the work, and is raised once the workers have come home.
pub fn long<T: Send>(
    py: Python<'_>,
    progress: Option<&Py<PyAny>>,
    work: impl FnOnce(&Watch) -> T + Send,
) -> Result<T, Failure> {
    let watch = Watch::default();
    let (value, broken) = py.detach(|| attend(&watch, progress, work));
    if let Some(failure) = broken {
        return Err(failure);
    }
    watch.tell(py, progress)?;
    Ok(value)
}

fn attend<T: Send>(
    watch: &Watch,
    progress: Option<&Py<PyAny>>,
    work: impl FnOnce(&Watch) -> T + Send,
) -> (T, Option<Failure>) {
    std::thread::scope(|scope| {
        let (home, arrivals) = mpsc::channel::<()>();
        let worker = scope.spawn(move || {
            let value = work(watch);
            drop(home);
            value
        });
        let mut broken = None;
        while arrivals.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
            if broken.is_none() {
                broken = look(watch, progress).err();
                watch.stop.store(broken.is_some(), Ordering::Relaxed);
            }
        }
        match worker.join() {
            Ok(value) => (value, broken),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

fn look(watch: &Watch, progress: Option<&Py<PyAny>>) -> Result<(), Failure> {
    Python::attach(|py| {
        py.check_signals()?;
        watch.tell(py, progress)
    })
}

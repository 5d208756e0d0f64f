//! Long work: off the interpreter's lock, stopped by Ctrl-C, with progress told on the way.

use crate::errors::Failure;
pub use loamline::math::parallel::Crew;
use pyo3::prelude::*;
use pyo3::types::PyBool;
use std::ops::ControlFlow;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::{Duration, Instant};

/// How often the calling thread looks for signals: well inside the 50 ms within which Ctrl-C acts.
const TICK: Duration = Duration::from_millis(15);

/// How much is done, of how much.
type Share = (usize, usize);

/// What workers and the calling thread tell each other.
#[derive(Debug, Default)]
pub struct Watch {
    stop: AtomicBool,
    share: Mutex<Share>,
}

impl Watch {
    /// Notes `done` of `total` and says whether to go on; another total begins another stage.
    fn report(&self, done: usize, total: usize) -> ControlFlow<()> {
        if let Ok(mut share) = self.share.lock()
            && (share.1 != total || share.0 < done)
        {
            *share = (done, total);
        }
        if self.stop.load(Ordering::Relaxed) {
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    }

    fn share(&self) -> Share {
        self.share.lock().map_or((0, 0), |share| *share)
    }
}

/// Who is told of progress, and what he was told last.
struct Listener<'a> {
    function: Option<&'a Py<PyAny>>,
    told: Share,
}

impl Listener<'_> {
    fn tell(&mut self, py: Python<'_>, share: Share) -> Result<(), Failure> {
        let Some(function) = self.function.filter(|_| share != self.told) else {
            return Ok(());
        };
        self.told = share;
        let answer = function.call1(py, share)?;
        if answer.bind(py).is(PyBool::new(py, false)) {
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

/// What `work` returns, done on this thread, which looks for signals between pieces: a thread of its own would take as long as
/// some thousand flights. For work by [`Crew::each`] alone, which asks its watch from this thread.
pub fn alone<T: Send>(
    py: Python<'_>,
    work: impl FnOnce(&Crew<'_>) -> T + Send,
) -> Result<T, Failure> {
    let looked = Mutex::new((Instant::now(), None));
    let look = |_, _| {
        let Ok(mut looked) = looked.lock() else { return ControlFlow::Continue(()) };
        if looked.0.elapsed() < TICK {
            return ControlFlow::Continue(());
        }
        looked.0 = Instant::now();
        match Python::attach(signals) {
            Ok(()) => ControlFlow::Continue(()),
            Err(signal) => {
                looked.1 = Some(signal);
                ControlFlow::Break(())
            }
        }
    };
    let value = py.detach(|| work(&Crew { threads: Some(1), watch: Some(&look) }));
    match looked.into_inner() {
        Ok((_, Some(signal))) => Err(signal.into()),
        _ => Ok(value),
    }
}

/// What `work` returns, done on a thread of its own while this one looks for signals.
///
/// A `KeyboardInterrupt`, an exception of `progress(done, total)`, or `progress` returning `False`
/// (`Cancelled`) stops the work, and is raised once the workers have come home.
fn long<T: Send>(
    py: Python<'_>,
    progress: Option<&Py<PyAny>>,
    work: impl FnOnce(&Watch) -> T + Send,
) -> Result<T, Failure> {
    let watch = Watch::default();
    let mut listener = Listener { function: progress, told: (0, 0) };
    let (value, broken) = py.detach(|| attend(&watch, &mut listener, work));
    if let Some(failure) = broken {
        return Err(failure);
    }
    listener.tell(py, watch.share())?;
    Ok(value)
}

fn attend<T: Send>(
    watch: &Watch,
    listener: &mut Listener<'_>,
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
                broken = look(watch, listener).err();
                watch.stop.store(broken.is_some(), Ordering::Relaxed);
            }
        }
        match worker.join() {
            Ok(value) => (value, broken),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

fn signals(py: Python<'_>) -> PyResult<()> {
    py.check_signals()
}

fn look(watch: &Watch, listener: &mut Listener<'_>) -> Result<(), Failure> {
    Python::attach(|py| {
        py.check_signals()?;
        listener.tell(py, watch.share())
    })
}

//! The same work over many indices on several threads, in order, watched, and stopped when asked.

use super::range::OutOfRange;
use rayon::prelude::*;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Told how many are done and how many there are; to break off stops the work. It is called from
/// the working threads, sometimes from two at once, and should return at once.
pub type Watch<'a> = &'a (dyn Fn(usize, usize) -> ControlFlow<()> + Sync);

/// How work over many is to be done.
#[derive(Clone, Copy, Default)]
#[allow(missing_debug_implementations, reason = "a hook has nothing to show")]
pub struct Crew<'a> {
    /// How many threads, 1 to 1024; as many as the machine has where none is given.
    pub threads: Option<usize>,
    /// Who looks on, if anyone.
    pub watch: Option<Watch<'a>>,
}

/// Why work was not done.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CrewError {
    /// No such number of threads.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The system gave no threads.
    #[error("{threads} threads cannot be had: {reason}")]
    NoThreads {
        /// How many were asked for.
        threads: usize,
        /// What the system said.
        reason: String,
    },
    /// It was stopped from outside.
    #[error("stopped after {done} of {total}")]
    Stopped {
        /// How many were done.
        done: usize,
        /// How many there were.
        total: usize,
    },
}

impl Crew<'_> {
    /// `work` of every index from 0 to `total`, in order: the same on any number of threads as long
    /// as `work` depends on its index alone. Between `stride` indices the watch is told.
    pub fn map<T: Send>(
        &self,
        total: usize,
        stride: usize,
        work: impl Fn(usize) -> T + Sync + Send,
    ) -> Result<Vec<T>, CrewError> {
        let round = Round { total, stride: stride.max(1), ..Round::default() };
        let all = || {
            let indices = (0..total).into_par_iter().with_max_len(stride.max(1));
            indices.map(|index| round.one(index, self.watch, &work)).collect::<Option<Vec<T>>>()
        };
        let done = match self.threads {
            None => all(),
            Some(threads) => pool(threads)?.install(all),
        };
        done.ok_or_else(|| CrewError::Stopped { done: round.done.into_inner(), total })
    }

    /// `work` on every piece, each of `size` things: for pieces that are written in place. Between pieces the watch is told
    /// how many things are done.
    ///
    /// On one thread it is the calling one.
    pub fn each<T: Send>(
        &self,
        pieces: Vec<T>,
        size: impl Fn(&T) -> usize + Sync,
        work: impl Fn(T) + Sync + Send,
    ) -> Result<(), CrewError> {
        let total = pieces.iter().map(&size).sum();
        let round = Round { total, ..Round::default() };
        let one = |piece: T| {
            let count = size(&piece);
            round.piece(count, self.watch, || work(piece))
        };
        let finished = match self.threads {
            Some(1) => pieces.into_iter().all(one),
            None => pieces.into_par_iter().map(one).reduce(|| true, |a, b| a && b),
            Some(threads) => pool(threads)?
                .install(|| pieces.into_par_iter().map(one).reduce(|| true, |a, b| a && b)),
        };
        if finished {
            return Ok(());
        }
        Err(CrewError::Stopped { done: round.done.into_inner(), total })
    }
}

/// What the threads of one piece of work share.
#[derive(Default)]
struct Round {
    total: usize,
    stride: usize,
    done: AtomicUsize,
    stopped: AtomicBool,
}

impl Round {
    fn one<T>(&self, index: usize, watch: Option<Watch>, work: impl Fn(usize) -> T) -> Option<T> {
        if self.stopped.load(Ordering::Relaxed) {
            return None;
        }
        let result = work(index);
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        let due = done.is_multiple_of(self.stride) || done == self.total;
        let stop = due && watch.is_some_and(|watch| watch(done, self.total).is_break());
        if stop && done < self.total {
            self.stopped.store(true, Ordering::Relaxed);
            return None;
        }
        Some(result)
    }

    /// Whether the piece was done, and the work is to go on.
    fn piece(&self, count: usize, watch: Option<Watch>, work: impl FnOnce()) -> bool {
        if self.stopped.load(Ordering::Relaxed) {
            return false;
        }
        work();
        let done = self.done.fetch_add(count, Ordering::Relaxed) + count;
        let stop = watch.is_some_and(|watch| watch(done, self.total).is_break());
        if stop && done < self.total {
            self.stopped.store(true, Ordering::Relaxed);
            return false;
        }
        true
    }
}

/// More threads than any machine of today runs at once: a slip of the finger, which would take its memory.
const MOST_THREADS: usize = 1024;

fn pool(threads: usize) -> Result<rayon::ThreadPool, CrewError> {
    if !(1..=MOST_THREADS).contains(&threads) {
        return Err(OutOfRange::new("threads", threads as f64, "from 1 to 1024").into());
    }
    let built = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    built.map_err(|error| CrewError::NoThreads { threads, reason: error.to_string() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cubes(crew: &Crew) -> Result<Vec<usize>, CrewError> {
        crew.map(1000, 16, |index| index.pow(3))
    }

    #[test]
    fn order_is_kept_on_any_number_of_threads() {
        let expected: Vec<usize> = (0..1000).map(|index: usize| index.pow(3)).collect();
        for threads in [None, Some(1), Some(2), Some(5)] {
            let crew = Crew { threads, watch: None };
            assert_eq!(cubes(&crew), Ok(expected.clone()));
        }
        let none = Crew { threads: Some(0), watch: None };
        assert!(matches!(cubes(&none), Err(CrewError::OutOfRange(_))));
    }

    #[test]
    fn a_watch_sees_all_and_may_stop() {
        let seen = AtomicUsize::new(0);
        let look = |done: usize, total: usize| {
            assert_eq!(total, 1000);
            seen.fetch_max(done, Ordering::Relaxed);
            ControlFlow::Continue(())
        };
        assert!(cubes(&Crew { threads: Some(2), watch: Some(&look) }).is_ok());
        assert_eq!(seen.into_inner(), 1000);
        let stop = |done: usize, _| {
            if done >= 160 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let stopped = cubes(&Crew { threads: Some(2), watch: Some(&stop) });
        assert!(matches!(stopped, Err(CrewError::Stopped { done, .. }) if done < 400));
    }

    #[test]
    fn pieces_are_written_in_place_and_may_be_stopped() {
        let mut numbers: Vec<usize> = (0..1000).collect();
        for threads in [None, Some(1), Some(3)] {
            let pieces = numbers.chunks_mut(17).collect();
            let crew = Crew { threads, watch: None };
            let double = |piece: &mut [usize]| piece.iter_mut().for_each(|number| *number *= 2);
            assert_eq!(crew.each(pieces, |piece| piece.len(), double), Ok(()));
        }
        assert!(numbers.iter().enumerate().all(|(i, number)| *number == 8 * i));
        let stop = |done: usize, total: usize| {
            assert_eq!(total, 1000);
            if done >= 160 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let crew = Crew { threads: Some(1), watch: Some(&stop) };
        let pieces: Vec<&mut [usize]> = numbers.chunks_mut(17).collect();
        let stopped = crew.each(pieces, |piece| piece.len(), |_| ());
        assert_eq!(stopped, Err(CrewError::Stopped { done: 170, total: 1000 }));
    }

    #[test]
    fn nothing_to_do_is_done() {
        assert_eq!(Crew::default().map(0, 16, |index| index), Ok(vec![]));
    }
}

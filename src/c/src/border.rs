//! The border: pointers in, values out, words for what went wrong, and no panic across.

use std::cell::RefCell;
use std::ffi::{CStr, CString, c_char};
use std::fmt::Display;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How a call went.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoamlineStatus {
    /// It went well, and what was asked for is written.
    Ok = 0,
    /// A pointer that has to point somewhere is null.
    NullPointer = 1,
    /// A number or a text is not one that may stand there.
    BadInput = 2,
    /// Nothing comes of it: a ride that ends before the edge, a flight without a touch.
    NoResult = 3,
    /// A file cannot be read.
    File = 4,
    /// A fault of the library itself.
    Fault = 5,
}

/// Why a call gave nothing.
#[derive(Debug)]
pub(crate) struct Failure {
    status: LoamlineStatus,
    message: String,
}

impl Failure {
    pub(crate) fn null(name: &str) -> Self {
        Self { status: LoamlineStatus::NullPointer, message: format!("{name} is null") }
    }

    pub(crate) fn bad_input(why: impl Display) -> Self {
        Self { status: LoamlineStatus::BadInput, message: why.to_string() }
    }

    pub(crate) fn no_result(why: impl Display) -> Self {
        Self { status: LoamlineStatus::NoResult, message: why.to_string() }
    }

    pub(crate) fn file(why: impl Display) -> Self {
        Self { status: LoamlineStatus::File, message: why.to_string() }
    }

    fn fault() -> Self {
        let message = "a fault of the library: please report it with what was asked".to_owned();
        Self { status: LoamlineStatus::Fault, message }
    }
}

thread_local! {
    static LAST: RefCell<CString> = RefCell::default();
}

/// Does the work of one call; what goes wrong, a panic too, becomes a status and a message.
pub(crate) fn guard(work: impl FnOnce() -> Result<(), Failure>) -> LoamlineStatus {
    let done = catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(Failure::fault()));
    let Err(failure) = done else { return LoamlineStatus::Ok };
    let words = CString::new(failure.message.replace('\0', "?")).unwrap_or_default();
    // A thread that is ending has no last message any more; the status still says what counts.
    LAST.try_with(|last| last.replace(words)).map_or(failure.status, |_| failure.status)
}

/// What was wrong with the last call of this thread that did not go well, in words; empty where none did not. It holds
/// until the next such call of the same thread.
#[unsafe(no_mangle)]
pub extern "C" fn loamline_last_error() -> *const c_char {
    LAST.try_with(|last| last.borrow().as_ptr()).unwrap_or(c"".as_ptr())
}

/// The version of the library, as text.
#[unsafe(no_mangle)]
pub extern "C" fn loamline_version() -> *const c_char {
    const VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), "\0");
    VERSION.as_ptr().cast()
}

/// What a pointer points to.
///
/// # Safety
/// The crate's contract for pointers.
pub(crate) unsafe fn read<'a, T>(pointer: *const T, name: &str) -> Result<&'a T, Failure> {
    // SAFETY: null or valid, by the contract.
    unsafe { pointer.as_ref() }.ok_or_else(|| Failure::null(name))
}

/// As many as `count` says from a pointer on.
///
/// # Safety
/// The crate's contract for pointers.
pub(crate) unsafe fn rows<'a, T>(
    pointer: *const T,
    count: usize,
    name: &str,
) -> Result<&'a [T], Failure> {
    check_count::<T>(count, name)?;
    match (count, pointer.is_null()) {
        (0, _) => Ok(&[]),
        (_, true) => Err(Failure::null(name)),
        // SAFETY: not null and valid for as many, by the contract; no more bytes than a slice may have.
        _ => Ok(unsafe { std::slice::from_raw_parts(pointer, count) }),
    }
}

/// Writes a value to where a pointer points.
///
/// # Safety
/// The crate's contract for pointers.
pub(crate) unsafe fn write<T>(pointer: *mut T, name: &str, value: T) -> Result<(), Failure> {
    if pointer.is_null() {
        return Err(Failure::null(name));
    }
    // SAFETY: not null and valid, by the contract. What stood there is plain data or not yet set: it is not dropped.
    unsafe { pointer.write(value) };
    Ok(())
}

/// Writes as many values as there are from a pointer on.
///
/// # Safety
/// The crate's contract for pointers.
pub(crate) unsafe fn write_rows<T: Copy>(
    pointer: *mut T,
    name: &str,
    values: &[T],
) -> Result<(), Failure> {
    if values.is_empty() {
        return Ok(());
    }
    if pointer.is_null() {
        return Err(Failure::null(name));
    }
    // SAFETY: not null and valid for as many, by the contract; `values` is ours, so the two do not overlap.
    unsafe { pointer.copy_from_nonoverlapping(values.as_ptr(), values.len()) };
    Ok(())
}

/// Hands a made thing to the caller.
///
/// # Safety
/// The crate's contract for pointers.
pub(crate) unsafe fn give<T>(out: *mut *mut T, value: T) -> Result<(), Failure> {
    if out.is_null() {
        return Err(Failure::null("out"));
    }
    // SAFETY: not null, by the lines above; the caller's, by the contract.
    unsafe { write(out, "out", Box::into_raw(Box::new(value))) }
}

/// Takes back what [`give`] handed out, and ends it; null is nothing.
///
/// # Safety
/// The crate's contract for what a function makes.
pub(crate) unsafe fn end<T>(pointer: *mut T) {
    if !pointer.is_null() {
        // SAFETY: made by `give` and not handed back before, by the contract.
        drop(unsafe { Box::from_raw(pointer) });
    }
}

/// A text that ends in a zero byte.
///
/// # Safety
/// The crate's contract for texts.
pub(crate) unsafe fn text<'a>(pointer: *const c_char, name: &str) -> Result<&'a str, Failure> {
    if pointer.is_null() {
        return Err(Failure::null(name));
    }
    // SAFETY: not null and ended by a zero byte, by the contract.
    let text = unsafe { CStr::from_ptr(pointer) };
    text.to_str().map_err(|_| Failure::bad_input(format_args!("{name} is not UTF-8")))
}

fn check_count<T>(count: usize, name: &str) -> Result<(), Failure> {
    let most = isize::MAX.unsigned_abs() / size_of::<T>().max(1);
    if count <= most {
        return Ok(());
    }
    Err(Failure::bad_input(format_args!("{name} has {count} rows: more than memory can hold")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn last() -> String {
        // SAFETY: the library's own text, which ends in a zero byte.
        unsafe { CStr::from_ptr(loamline_last_error()) }.to_string_lossy().into_owned()
    }

    #[test]
    #[allow(clippy::panic, reason = "the test asks what becomes of a panic")]
    fn a_panic_does_not_cross() {
        assert_eq!(guard(|| panic!("on purpose")), LoamlineStatus::Fault);
        assert!(last().contains("please report"));
    }

    #[test]
    fn a_failure_is_remembered_by_its_thread_alone() {
        assert_eq!(guard(|| Err(Failure::bad_input("mass\0 is wrong"))), LoamlineStatus::BadInput);
        assert_eq!(last(), "mass? is wrong");
        std::thread::spawn(|| assert_eq!(last(), "")).join().unwrap();
        assert_eq!(guard(|| Ok(())), LoamlineStatus::Ok);
        assert_eq!(last(), "mass? is wrong", "what went well says nothing");
    }

    #[test]
    fn null_and_counts_beyond_memory_are_told() {
        // SAFETY: null is always safe, and so is a count that is refused before anything is read.
        unsafe {
            assert_eq!(read::<f64>(std::ptr::null(), "x").unwrap_err().message, "x is null");
            assert!(rows::<f64>(std::ptr::null(), 0, "x").unwrap().is_empty());
            assert!(rows::<f64>(std::ptr::null(), 3, "x").is_err());
            let somewhere = [0.0];
            let most = rows(somewhere.as_ptr(), usize::MAX, "x").unwrap_err();
            assert!(most.message.contains("more than memory"));
            assert!(text(std::ptr::null(), "who").is_err());
            end::<f64>(std::ptr::null_mut());
        }
    }
}

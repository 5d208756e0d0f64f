//! Site files and their tables, spoilt at random: each is read or refused with words, and nothing panics on the way.
//!
//! What is read makes a site that is saved and read back as the same, and whose riders come down the hill or are told why
//! not. Files that once went wrong are kept in `corpus/` and read again each time. `PROPTEST_CASES=100000 cargo test --test
//! fuzz` looks longer.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod spoil;

use loamline::files::{FileError, demo_files, load_site, save_site};
use loamline::math::parallel::Crew;
use proptest::prelude::*;
use spoil::Spoil;
use std::fs;
use std::path::Path;

const SITE: &str = "heath.toml";

/// Writes the demo into a folder with one of its files spoilt, and reads it.
fn read(folder: &Path, file: usize, spoils: &[Spoil]) -> Result<(), TestCaseError> {
    for (i, (name, text)) in demo_files().into_iter().enumerate() {
        let text = if i == file { spoil::all(text, spoils) } else { text.as_bytes().to_vec() };
        fs::write(folder.join(name), text).unwrap();
    }
    judge(folder, load_site(folder.join(SITE)))
}

/// What has to hold of whatever comes out.
fn judge(
    folder: &Path,
    read: Result<loamline::site::Site, FileError>,
) -> Result<(), TestCaseError> {
    let site = match read {
        Ok(site) => site,
        Err(error) => {
            let words = error.to_string();
            prop_assert!(
                words.starts_with(&folder.display().to_string()),
                "no file named: {words}"
            );
            prop_assert!(words.len() < 2000, "words without end: {} of them", words.len());
            return Ok(());
        }
    };
    prop_assert_eq!(site.check(), Ok(()));
    let saved = folder.join("saved.toml");
    save_site(&saved, &site).unwrap();
    let back = load_site(&saved);
    prop_assert!(back.as_ref() == Ok(&site), "{back:?} is not {site:?}");
    if let Err(error) = site.passes(2, 1, &Crew { threads: Some(1), ..Crew::default() }) {
        prop_assert!(!error.to_string().is_empty());
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_spoilt_site_is_read_or_refused_with_words(
        file in 0_usize..3,
        spoils in prop::collection::vec(spoil::any(), 1..4),
    ) {
        let folder = tempfile::tempdir().unwrap();
        read(folder.path(), file, &spoils)?;
    }
}

#[test]
fn files_that_once_went_wrong_do_so_no_more() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus");
    let mut count = 0;
    for entry in fs::read_dir(corpus).unwrap() {
        let kept = entry.unwrap().path();
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in demo_files() {
            fs::write(folder.path().join(name), text).unwrap();
        }
        // A file is called `what-is-odd.name`: `survey.csv` stands for the demo's survey, and so on.
        let name = kept.file_name().unwrap().to_string_lossy().into_owned();
        let place = demo_files().into_iter().map(|(own, _)| own).find(|own| {
            own.strip_prefix("heath-").unwrap_or("toml") == name.split_once('.').unwrap().1
        });
        fs::copy(&kept, folder.path().join(place.unwrap())).unwrap();
        judge(folder.path(), load_site(folder.path().join(SITE)))
            .unwrap_or_else(|error| panic!("{name}: {error}"));
        count += 1;
    }
    assert!(count > 0, "the corpus is there");
}

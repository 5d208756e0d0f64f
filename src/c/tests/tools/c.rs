//! A C program compiled against the header and run with the shared library.

use std::path::{Path, PathBuf};
use std::process::Command;

/// The folder of this crate.
pub(crate) fn here() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What a program prints, compiled with every warning an error.
pub(crate) fn run(source: &Path) -> String {
    let library = library();
    let program = library.join(source.with_extension("").file_name().expect("a file has a name"));
    let compiled = Command::new(std::env::var_os("CC").unwrap_or_else(|| "cc".into()))
        .args(["-std=c11", "-Wall", "-Wextra", "-Werror", "-pedantic", "-I"])
        .arg(here())
        .arg(source)
        .arg("-L")
        .arg(&library)
        .args(["-lloamline_c", &format!("-Wl,-rpath,{}", library.display()), "-o"])
        .arg(&program)
        .output()
        .expect("there is a C compiler");
    assert!(compiled.status.success(), "{}", String::from_utf8_lossy(&compiled.stderr));
    let ran = Command::new(program).output().expect("the program starts");
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    String::from_utf8(ran.stdout).expect("it prints text")
}

/// The folder of the shared library: that of the test that runs, or the one above.
fn library() -> PathBuf {
    let test = std::env::current_exe().expect("a test has a path");
    let name =
        format!("{}loamline_c{}", std::env::consts::DLL_PREFIX, std::env::consts::DLL_SUFFIX);
    let mut folders = test.ancestors().skip(1).take(2);
    let found = folders.find(|folder| folder.join(&name).exists());
    found.expect("cargo has built the shared library").to_path_buf()
}

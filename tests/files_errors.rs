//! What a faulty site file is told: the file, the line, the field, its value and what may stand there.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::files::{demo_files, load_site};
use std::fs;
use std::path::Path;

const SITE: &str = "heath.toml";
const SURVEY: &str = "heath-survey.csv";
const RUN_IN: &str = "heath-run-in.csv";

fn text_of(file: &str) -> &'static str {
    demo_files().into_iter().find(|(name, _)| *name == file).unwrap().1
}

/// The demo in a folder, with one file of it changed.
fn with_file(file: &str, text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, own) in demo_files() {
        fs::write(folder.path().join(name), if name == file { text } else { own }).unwrap();
    }
    folder
}

/// What the loader says of the demo with one file of it changed, without the folder's name.
fn told(file: &str, text: &str) -> String {
    let folder = with_file(file, text);
    let error = load_site(folder.path().join(SITE)).unwrap_err().to_string();
    error.replace(&format!("{}/", folder.path().display()), "")
}

/// Checks what is told of the demo with the first `old` in one of its files replaced: the line of the change, and all of
/// `wanted`.
fn check(file: &str, old: &str, new: &str, wanted: &[&str]) {
    let text = text_of(file);
    let line = text[..text.find(old).unwrap()].matches('\n').count() + 1;
    check_at(file, old, new, Some(line), wanted);
}

fn check_at(file: &str, old: &str, new: &str, line: Option<usize>, wanted: &[&str]) {
    let message = told(file, &text_of(file).replacen(old, new, 1));
    let place = line.map_or(format!("{file}: "), |line| format!("{file}, line {line}"));
    assert!(message.starts_with(&place), "{place}: {message}");
    assert!(!message[place.len()..].starts_with(|next: char| next.is_ascii_digit()), "{message}");
    for part in wanted {
        assert!(message.contains(part), "{part}: {message}");
    }
}

#[test]
fn a_file_that_is_not_there_is_named() {
    let error = load_site("no/such/site.toml").unwrap_err().to_string();
    assert!(error.starts_with("no/such/site.toml: cannot be read: "), "{error}");
    let message = told(SITE, &text_of(SITE).replace(SURVEY, "gone.csv"));
    assert!(message.starts_with("gone.csv: cannot be read: "), "{message}");
    assert!(message.contains("survey.points in heath.toml, line "), "{message}");
}

#[test]
fn text_that_is_no_toml_is_told_with_its_line() {
    check(SITE, "radius = 7.0", "radius = = 7.0", &["column 10: cannot be read"]);
    check(SITE, "[barrows]", "[barrows", &["cannot be read"]);
    check_at(SITE, "radius = 7.0", "radius = 7.0\nradius = 8.0", Some(29), &["duplicate key"]);
}

#[test]
fn a_number_with_a_comma_is_told_the_point() {
    let point = |right: &str, wrong: &str| format!("a point: write {right} for {wrong}");
    check(SITE, "radius = 7.0", "radius = 7,25", &[&point("7.25", "7,25")]);
    check(SITE, "mode = 20.5", "mode = 20,5", &[&point("20.5", "20,5")]);
    check(SITE, "radius = 7.0", "radius = -7,0 # m", &[&point("-7.0", "-7,0")]);
    let folded = "radius = { low = 6.5, mode = 7,0, high = 8 }";
    check(SITE, "radius = 7.0", folded, &[&point("7.0", "7,0")]);
    let message = told(SITE, &text_of(SITE).replacen("radius = 7.0", "radius = = 7.0", 1));
    assert!(!message.contains("a point"), "{message}");
}

#[test]
fn a_key_that_is_not_known_is_told_with_the_nearest() {
    check(SITE, "width = 2.4", "widht = 2.4", &["`widht` in [wall]", "did you mean `width`?"]);
    check(SITE, "count = 48", "cuont = 48", &["`cuont` in [barrows]", "did you mean `count`?"]);
    check(SITE, "leave =", "leaves =", &["`leaves` in [[riders]]", "did you mean `leave`?"]);
    check(SITE, "mode = 20.5", "mood = 20.5", &["`mood` in [riders.start]", "`mode`"]);
    check(SITE, "width = 2.4", "colour = 3", &["`colour` in [wall]", "known here: ", "radius, "]);
}

#[test]
fn a_key_in_another_unit_is_told_the_right_one() {
    check(SITE, "radius = 7.0", "radius_ft = 23", &["`radius_ft`", "write `radius`, in metres"]);
    check(SITE, "bank_deg", "bank_rad", &["`bank_rad`", "write `bank_deg`, in degrees"]);
    check(SITE, "sweep_deg", "sweep", &["`sweep`", "write `sweep_deg`, in degrees"]);
    let celsius = ["`temperature_f`", "write `temperature_c`, in degrees Celsius"];
    check(SITE, "temperature_c", "temperature_f", &celsius);
}

#[test]
fn a_value_of_another_kind_is_told_what_may_stand() {
    let wanted = ["wall.width = \"wide\"", "expected a finite number, above 0, in metres"];
    check(SITE, "width = 2.4", "width = \"wide\"", &wanted);
    check(SITE, "\"right\"", "\"rigth\"", &["wall.turn = \"rigth\"", "\"left\" or \"right\""]);
    check(SITE, "count = 48", "count = 4.5", &["barrows.count = 4.5", "a whole number"]);
    check(SITE, "[24, 62]", "40", &["wall.bank_deg = 40", "a list of 2"]);
    check(SITE, "kind = \"loam\"", "kind = \"peat\"", &["soil.kind = \"peat\"", "\"loam\""]);
}

#[test]
fn a_number_out_of_range_is_told_with_its_range() {
    let mass = "mass = { mean = 84, sd = 11, low = 60, high = 115 }";
    let above = ["riders[0].mass = -84", "a finite number, above 0, in kg"];
    check(SITE, mass, "mass = -84", &above);
    check(SITE, mass, "mass = nan", &["riders[0].mass = NaN", "a finite number, above 0"]);
    check(SITE, "sd = 11", "sd = -1", &["riders[0].mass.sd = -1", "above 0"]);
    check(SITE, "[24, 62]", "[24, 95]", &["wall.bank_deg[1] = 95", "at least 0 and at most 90"]);
    check(
        SITE,
        "grade = -0.02",
        "grade = -1.5",
        &["wall.grade = -1.5", "at least -1 and at most 1"],
    );
    check(SITE, "count = 48", "count = 0", &["barrows.count = 0", "at least 1"]);
    check(SITE, "width = 2.4", "width = inf", &["wall.width = inf", "a finite number, above 0"]);
    check(SITE, "enter = 0.3", "enter = 3.5", &["ride.enter = 3.5", "from 0 to 2.4"]);
    check(SITE, "fall_limit = 1.0", "fall_limit = 0", &["landing.fall_limit = 0", "above 0"]);
    check(SITE, "[8, 32]", "[32, 8]", &["landing.slope_deg[1] = 8", "at least 32"]);
    check(SITE, "[-20, 45]", "[-20, 400]", &["landing.heading_deg[1] = 400", "at most 340"]);
}

#[test]
fn values_that_do_not_fit_together_are_told() {
    let far = "start = { low = 24.5, mode = 26.0, high = 48.0 }";
    let high = "start = { low = 24.5, mode = 26.0, high = 28.0 }";
    check(SITE, high, far, &["riders[2].start = 4", "the run-in's level length, 29 m"]);
    check(
        SITE,
        "mode = 20.5",
        "mode = 29",
        &["riders[0].start.mode = 29", "low 19.5", "high 21.5"],
    );
    let lacks = "{ low = 19.5, mode = 20.5 }";
    let given = "{ low = 19.5, mode = 20.5, high = 21.5 }";
    check(SITE, given, lacks, &["riders[0].start", "expected low and high"]);
    let wall = text_of(SITE).lines().position(|line| line == "[wall]").unwrap() + 1;
    let wanted = ["wall: expected radius and sweep_deg, or pieces"];
    check_at(SITE, "sweep_deg = 58", "", Some(wall), &wanted);
}

#[test]
fn corners_that_go_around_no_area_are_told() {
    let area = "area = [[2.0, -5.5], [11.0, -5.5], [11.0, 7.0], [1.0, 7.0]]";
    let crossed = "area = [[2.0, -5.5], [11.0, -5.5], [1.0, 7.0], [11.0, 7.0]]";
    let sides = ["landing.area: side 2 (corner 2 to 3) and side 4 (corner 4 to 1) cross at ("];
    check(SITE, area, crossed, &sides);
    check(SITE, area, crossed, &["in the order in which one walks around the area"]);
    check(SITE, area, "area = [[2, -5.5], [11, -5.5]]", &["landing.area: 2 corners", "three"]);
    let obstacle = "[[landing.obstacle]]";
    let keep_out = |name: &str, corners: &str| {
        format!("[[landing.keep_out]]\n{name}corners = {corners}\n\n{obstacle}")
    };
    let told = |tables: &str| told(SITE, &text_of(SITE).replacen(obstacle, tables, 1));
    let crossed = told(&keep_out("name = \"roots\"\n", "[[5, 5], [8, 8], [8, 5], [5, 8]]"));
    let line = text_of(SITE).lines().position(|line| line == obstacle).unwrap() + 3;
    let wanted = format!("heath.toml, line {line}, column 11: landing.keep_out[0].corners: side 1");
    assert!(crossed.starts_with(&wanted), "{crossed}");
    let few = told(&keep_out("", "[[5, 5], [8, 8]]"));
    assert!(few.contains("landing.keep_out[0].corners = [[5, 5], [8, 8]]"), "{few}");
    let nameless = told(&keep_out("name = \" \"\n", "[[5, 5], [8, 8], [8, 5]]"));
    assert!(nameless.contains("landing.keep_out[0].name: expected a name"), "{nameless}");
}

#[test]
fn a_face_steeper_than_the_soil_stands_is_told() {
    let wanted = ["landing.slope_deg[0]: the gentlest face allowed, 40.0 degrees", "loam", "33.7"];
    check(SITE, "[8, 32]", "[40, 50]", &wanted);
    check(SITE, "[8, 32]", "[32, 33]", &["2 gentler; allow gentler faces"]);
}

#[test]
fn weights_that_do_not_add_up_are_told() {
    let line = text_of(SITE).lines().position(|line| line == "weight = 0.25").unwrap() + 1;
    let wanted = ["riders[2].weight", "add up to 1.2", "not to 1"];
    check_at(SITE, "weight = 0.45", "weight = 0.65", Some(line), &wanted);
}

#[test]
fn two_of_one_name_are_told_at_the_second() {
    check(SITE, "\"iron pin\"", "\"oak peg\"", &["mark[1].name", "\"oak peg\""]);
    check(SITE, "\"regulars\"", "\"first-timers\"", &["riders[1].name", "\"first-timers\""]);
}

#[test]
fn a_key_that_is_missing_is_told_with_what_it_says() {
    let wall = text_of(SITE).lines().position(|line| line == "[wall]").unwrap() + 1;
    let wanted = ["[wall] lacks `width`", "The width of the panel"];
    check_at(SITE, "width = 2.4\n", "", Some(wall), &wanted);
    check_at(SITE, "[ride]\nenter = 0.3\n", "", Some(wall), &["[ride]", "`enter`"]);
    let riders = text_of(SITE).lines().position(|line| line == "[[riders]]").unwrap() + 1;
    let leave = "leave = { low = 0.55, mode = 0.8, high = 1.1 }\n";
    check_at(SITE, leave, "", Some(riders), &["riders[0]", "lacks `leave`"]);
    check(SITE, "version = 1", "version = 2", &["version = 2", "reads version 1"]);
}

/// The demo's wall and how it is ridden, from one heading to the next.
fn wall_tables() -> &'static str {
    let text = text_of(SITE);
    let end = text.find("# Three classes").unwrap();
    &text[text.find("[wall]").unwrap()..end]
}

#[test]
fn a_takeoff_that_is_missing_or_one_too_many_is_told() {
    let wall = wall_tables();
    let drop = "[drop]\nlength = 2.0\nwidth = 1.2\nposition = [0, 0, 0]\nheading_deg = 10\n\n";
    check_at(SITE, wall, "", None, &["expected one table [wall], [lip] or [drop]"]);
    let both = told(SITE, &text_of(SITE).replacen(wall, &format!("{wall}{drop}"), 1));
    assert!(both.contains("drop: expected only one of [wall], [lip] and [drop]"), "{both}");
    let ridden = format!("{drop}[ride]\nenter = 0.3\n");
    let told = |text: &str| told(SITE, &text_of(SITE).replacen(wall, text, 1));
    assert!(told(&ridden).contains("ride: expected no table [ride]"), "{}", told(&ridden));
    // The demo's riders leave higher up than half a drop's width.
    assert!(told(drop).contains("riders[0].leave"), "{}", told(drop));
    let lip = "[lip]\nradius = 0.2\nend_angle_deg = 30\nwidth = 9\nposition = [0, 0, 0]\nheading_deg = 10\n";
    assert!(told(lip).contains("lip: a hollow of radius = 0.2 m"), "{}", told(lip));
    let vague = lip.replace("radius = 0.2", "");
    assert!(told(&vague).contains("lip: expected radius and end_angle_deg"), "{}", told(&vague));
    let past = lip.replace("end_angle_deg = 30", "end_angle_deg = 95");
    assert!(told(&past).contains("lip.end_angle_deg = 95"), "{}", told(&past));
    let pieces = lip.replace(
        "radius = 0.2\nend_angle_deg = 30",
        "pieces = [{ radius = 3, sweep_deg = 20, bend = \"left\" }]",
    );
    assert!(told(&pieces).contains("lip.pieces[0].bend = \"left\""), "{}", told(&pieces));
    let pieces =
        lip.replace("radius = 0.2\nend_angle_deg = 30", "pieces = [{ radius = 3, sweep = 20 }]");
    assert!(told(&pieces).contains("write `sweep_deg`"), "{}", told(&pieces));
}

#[test]
fn a_survey_that_spans_nothing_is_told() {
    let two = told(SURVEY, "x,y,z\n0,0,0\n1,2,0\n");
    assert_eq!(two, "heath-survey.csv: 2 survey points: expected at least 3");
    let line = told(SURVEY, "x,y,z\n0,0,0\n1,2,0\n2,4,1\n5,10,0\n");
    assert!(line.starts_with("heath-survey.csv: all 4 survey points lie within 0 m"), "{line}");
    let twice = told(SURVEY, "x,y,z\n0,0,0\n1,2,0\n# again\n3,1,0\n1,2.0,0.5\n");
    let wanted =
        "heath-survey.csv, line 6: the survey point (x, y) = (1, 2) stands already in line 3";
    assert!(twice.starts_with(wanted), "{twice}");
}

#[test]
fn a_profile_that_goes_back_is_told() {
    let message = told(RUN_IN, "distance,height\n0,3\n5,2\n4.5,1\n9,0\n");
    let wanted = "heath-run-in.csv, line 4: distance = 4.5 goes back from 5 in line 3";
    assert!(message.starts_with(wanted), "{message}");
}

#[test]
fn a_table_with_a_bad_number_or_header_is_told() {
    let wanted = ["column 2: height = `4.1w`: expected a finite number, in metres"];
    check(RUN_IN, "4.12", "4.1w", &wanted);
    check(RUN_IN, "4.12", "nan", &["column 2: height = `nan`"]);
    check(RUN_IN, "5,3.65", "5,3.65,1", &["3 fields in the row: expected 2"]);
    check(SURVEY, "x,y,z", "x,y,height", &["the header is `x,y,height`: expected `x,y,z`"]);
    let empty = told(SURVEY, "");
    assert!(empty.starts_with("heath-survey.csv: the header is ``"), "{empty}");
}

#[test]
fn a_corner_radius_that_does_not_fit_is_told() {
    let named = "profile = \"heath-run-in.csv\"";
    let line = text_of(SITE).lines().position(|line| line == "[run_in]").unwrap() + 1;
    let with = format!("{named}\ncorner_radius = 900.0");
    check_at(SITE, named, &with, Some(line), &["run_in: ", "radius = 900 is too large"]);
}

#[test]
fn the_loader_writes_nothing() {
    let folder = with_file(SITE, &text_of(SITE).replacen("count = 48", "count = 0", 1));
    assert!(load_site(folder.path().join(SITE)).is_err());
    assert_eq!(files_in(folder.path()), 3);
}

fn files_in(folder: &Path) -> usize {
    fs::read_dir(folder).unwrap().count()
}

//! A landing's earth as triangles for other programs: Wavefront OBJ and PLY.

use super::atomic::write_text;
use super::error::FileError;
use crate::ground::{Ground, Mesh, Surface};
use std::fmt::Write;
use std::path::Path;

/// Writes the earth of the landing on a ground as Wavefront OBJ text, metres, z up.
///
/// Every bit of a coordinate is kept. Errors: no landing on the ground, a file that cannot be written.
pub fn write_obj(path: impl AsRef<Path>, ground: &Ground) -> Result<(), FileError> {
    write_text(path, &obj(landing(ground)?))
}

/// Writes the earth of the landing on a ground as ASCII PLY, metres, z up.
///
/// Every bit of a coordinate is kept. Errors: no landing on the ground, a file that cannot be written.
pub fn write_ply(path: impl AsRef<Path>, ground: &Ground) -> Result<(), FileError> {
    write_text(path, &ply(landing(ground)?))
}

fn landing(ground: &Ground) -> Result<&Mesh, FileError> {
    let landing = ground.surfaces().iter().rev().find_map(|surface| match surface {
        Surface::Landing { mesh, .. } => Some(&**mesh),
        _ => None,
    });
    landing.ok_or_else(|| FileError::Lacks { what: "the ground".into(), wanted: "landing".into() })
}

fn obj(mesh: &Mesh) -> String {
    let mut text = String::from("# landing, metres, z up\n");
    for v in mesh.vertices() {
        line(&mut text, format_args!("v {:?} {:?} {:?}", v.x, v.y, v.z));
    }
    // Vertices count from 1 here.
    for [a, b, c] in mesh.triangles() {
        line(&mut text, format_args!("f {} {} {}", a + 1, b + 1, c + 1));
    }
    text
}

fn ply(mesh: &Mesh) -> String {
    let mut text = String::from("ply\nformat ascii 1.0\ncomment landing, metres, z up\n");
    line(&mut text, format_args!("element vertex {}", mesh.vertices().len()));
    for axis in ["x", "y", "z"] {
        line(&mut text, format_args!("property double {axis}"));
    }
    line(&mut text, format_args!("element face {}", mesh.triangles().len()));
    text.push_str("property list uchar int vertex_indices\nend_header\n");
    for v in mesh.vertices() {
        line(&mut text, format_args!("{:?} {:?} {:?}", v.x, v.y, v.z));
    }
    for [a, b, c] in mesh.triangles() {
        line(&mut text, format_args!("3 {a} {b} {c}"));
    }
    text
}

fn line(text: &mut String, words: std::fmt::Arguments<'_>) {
    // Writing to a string does not fail.
    let _ = writeln!(text, "{words}");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Landing;
    use crate::math::{Vec2, Vec3};

    fn built() -> Ground {
        let level = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
        level.with_landing(&Landing::new(Vec2::zeros(), 0.3, 0.3, 4.0, 3.0).unwrap()).unwrap()
    }

    fn numbers(line: &str) -> Vec<f64> {
        line.split(' ').filter_map(|word| word.parse().ok()).collect()
    }

    #[test]
    fn obj_gives_back_every_vertex_and_triangle() {
        let ground = built();
        let mesh = landing(&ground).unwrap();
        let text = obj(mesh);
        let of = |kind: &str| -> Vec<Vec<f64>> {
            text.lines().filter(|l| l.starts_with(kind)).map(numbers).collect()
        };
        let vertices: Vec<Vec<f64>> = mesh.vertices().iter().map(|v| vec![v.x, v.y, v.z]).collect();
        let places = |t: &[u32; 3]| t.iter().map(|i| f64::from(*i) + 1.0).collect::<Vec<f64>>();
        assert_eq!(of("v "), vertices);
        assert_eq!(of("f "), mesh.triangles().iter().map(places).collect::<Vec<_>>());
    }

    #[test]
    fn ply_says_how_many_come_and_they_come() {
        let ground = built();
        let mesh = landing(&ground).unwrap();
        let text = ply(mesh);
        let (head, body) = text.split_once("end_header\n").unwrap();
        let (points, faces) = (mesh.vertices().len(), mesh.triangles().len());
        assert!(head.contains(&format!("element vertex {points}\n")));
        assert!(head.contains(&format!("element face {faces}\n")));
        let rows: Vec<Vec<f64>> = body.lines().map(numbers).collect();
        assert_eq!(rows.len(), points + faces);
        let v = mesh.vertices()[1];
        assert_eq!(rows[1], [v.x, v.y, v.z]);
        assert!(body.lines().skip(points).all(|row| row.starts_with("3 ")));
        assert!(rows[points..].iter().all(|row| row.len() == 4));
    }

    #[test]
    fn bare_ground_is_refused_and_nothing_is_written() {
        let level = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("landing.obj");
        assert!(matches!(write_obj(&path, &level), Err(FileError::Lacks { .. })));
        assert!(!path.exists());
    }
}

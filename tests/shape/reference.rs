//! 200 random shapes against trimesh, shapely and ezdxf: `tests/reference/shape_volumes.csv`, made by
//! `shape_volumes.py` beside it.

use crate::parts::random::sound;
use asfound::shape::*;

/// The meshes of 512 sides are this good.
const VOLUME: f64 = 5e-4;
const CENTROID_MM: f64 = 0.06;
/// ezdxf turns arcs into cubic curves before it measures them: a circle's radius is up to 2.7e-4 too large.
const CONTOUR: f64 = 6e-4;

#[test]
fn volume_centroid_and_contour_agree() {
    let rows = include_str!("../reference/shape_volumes.csv").lines().skip(2);
    let mut seen = 0;
    for row in rows {
        let fields: Vec<&str> = row.split(',').collect();
        let figure = |i: usize| fields[i].parse::<f64>().expect("a figure");
        let shape = sound(fields[0].parse().expect("a seed"));
        let worked = work_out(&shape, &Allowance::USUAL).expect("sound");
        let volume = worked.volume * 1e9;
        assert!((volume - figure(2)).abs() < VOLUME * figure(2), "{row}: {volume}");
        for axis in 0..2 {
            let own = worked.centroid[axis] * 1e3;
            assert!((own - figure(3 + axis)).abs() < CENTROID_MM, "{row}: {own}");
        }
        assert!(worked.volume_error < 1e-4 * worked.volume, "{row}: {}", worked.volume_error);
        assert_eq!(fields[5], "0", "{row}: the audit found errors");
        if let Body::Flat(flat) = &shape.body {
            let area = worked.volume / flat.thick.m() * 1e6;
            assert!((area - figure(6)).abs() < CONTOUR * area, "{row}: {area}");
        }
        seen += 1;
    }
    assert_eq!(seen, 200);
}

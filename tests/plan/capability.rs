//! Who can do it, and the nearest miss.

use asfound::calc::dimension::Dimension;
use asfound::plan::capability::{Asked, Lack, Means, Measure, judge};

const TONF: f64 = 2240.0 * 4.448_221_615_260_5;

fn measure(what: &str, dimension: Dimension, low: f64, high: f64, typed: &str) -> Measure {
    Measure { what: what.to_owned(), low, high, dimension, typed: typed.to_owned(), asked: Asked::ByStep }
}

fn press(tons: f64) -> Measure {
    measure("press", Dimension::FORCE, tons * TONF, tons * TONF, &format!("{tons} tonf"))
}

fn means(measures: Vec<Measure>, processes: &[&str]) -> Means {
    Means { measures, processes: processes.iter().map(|&name| name.to_owned()).collect() }
}

#[test]
fn every_shop_with_all_of_it_is_able() {
    let demand = means(vec![press(30.0)], &["tig"]);
    let shops = [
        means(vec![press(40.0)], &["TIG", "mig"]),
        means(vec![press(40.0)], &[]),
        means(vec![press(30.0)], &["tig"]),
    ];
    assert_eq!(judge(&demand, &shops).able, [0, 2]);
}

#[test]
fn the_nearest_miss_says_what_is_needed_and_what_is_known() {
    let demand = means(vec![press(30.0)], &[]);
    let shops = [means(vec![press(8.0)], &[]), means(vec![press(12.0)], &[]), means(Vec::new(), &["tig"])];
    let verdict = judge(&demand, &shops);
    assert_eq!(verdict.able, [0_usize; 0]);
    assert_eq!(verdict.misses.len(), 1);
    assert_eq!(verdict.misses[0].shop, Some(1));
    assert_eq!(verdict.misses[0].lack.to_string(), "press: needs 30 tonf, best known 12 tonf");
    assert_eq!(verdict.nearest.map(|(shop, _)| shop), Some(1));
}

#[test]
fn two_shops_that_each_have_half_of_it_are_told_apart_from_none() {
    let swing = measure("swing", Dimension::LENGTH, 0.4572, 0.4572, "18 in");
    let demand = means(vec![press(30.0), swing.clone()], &["torch"]);
    let shops = [means(vec![press(30.0), swing], &[]), means(Vec::new(), &["torch"])];
    let verdict = judge(&demand, &shops);
    assert!(verdict.able.is_empty());
    assert!(verdict.misses.is_empty(), "each thing is known somewhere: {:?}", verdict.misses);
    let (shop, lacks) = verdict.nearest.unwrap();
    assert_eq!((shop, lacks), (0, vec![Lack::Process { name: "torch".to_owned() }]));
}

#[test]
fn nobody_has_anything_like_it() {
    let demand = means(vec![press(30.0)], &["chrome-plating"]);
    let verdict = judge(&demand, &[means(Vec::new(), &["tig"])]);
    let said: Vec<String> = verdict.misses.iter().map(|miss| miss.lack.to_string()).collect();
    assert_eq!(said, ["press: needs 30 tonf, none known", "chrome-plating: none known"]);
    assert!(verdict.nearest.is_none());
    let alone = judge(&demand, &[]);
    assert_eq!(alone.misses.len(), 2);
    assert!(alone.misses.iter().all(|miss| miss.shop.is_none()));
}

/// A hoist rated in tonf lifts a part of given mass: standard gravity, 9.80665 m/s² (3rd CGPM, 1901).
#[test]
fn a_mass_is_lifted_by_a_force() {
    let pound = 0.453_592_37;
    let needs = |pounds: f64| {
        let typed = format!("{pounds} lb");
        means(vec![measure("lift", Dimension::MASS, pounds * pound, pounds * pound, &typed)], &[])
    };
    let hoist = [means(vec![measure("lift", Dimension::FORCE, TONF, TONF, "1 tonf")], &[])];
    assert_eq!(judge(&needs(2240.0), &hoist).able, [0]);
    assert!(judge(&needs(2241.0), &hoist).able.is_empty());
}

#[test]
fn a_length_is_no_force() {
    let demand = means(vec![press(30.0)], &[]);
    let shop = means(vec![measure("press", Dimension::LENGTH, 1.0, 1.0, "1 m")], &[]);
    let verdict = judge(&demand, &[shop]);
    assert_eq!(verdict.misses[0].lack.to_string(), "press: needs 30 tonf, which can't be compared with 1 m");
}

/// Common practice: the demand counts with its upper end, the shop's means with their lower.
#[test]
fn ranges_are_taken_on_the_safe_side() {
    let range = |low: f64, high: f64| measure("swing", Dimension::LENGTH, low, high, "a range");
    let can = |demand: Measure, has: Measure| {
        !judge(&means(vec![demand], &[]), &[means(vec![has], &[])]).able.is_empty()
    };
    assert!(can(range(0.4, 0.5), range(0.5, 0.6)));
    assert!(!can(range(0.4, 0.5), range(0.45, 0.6)));
    assert!(can(range(0.3048, 12.0 * 0.0254), range(0.3048, 0.3048)), "a foot is twelve inches");
}

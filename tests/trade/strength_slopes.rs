//! The slopes of every strength function against central differences, at sizes drawn at random about a
//! sample.

use std::collections::BTreeSet;

use asfound::calc::function::{Function, Gives, Takes};
use asfound::trade::strength;
use proptest::prelude::*;

use super::calling::Calling;

/// One call a line: function, arguments in SI units; `steel` is a material.
const SAMPLES: &str = "
round_section d=0.06 bore=0.044
box_section width=0.06 height=0.1 wall=0.004 corner=0.008
rectangle_section width=0.01 height=0.04
i_section height=0.2 width=0.1 web=0.006 flange=0.009
channel_section height=0.1 width=0.05 web=0.006 flange=0.0085
tee_section height=0.08 width=0.09 web=0.009 flange=0.008
angle_section height=0.1 width=0.065 web=0.008 flange=0.007
axial_stress force=-2e4 area=4e-4 length=0.5 material=steel
axial_stress force=2e4 area=4e-4 length=0.5 modulus=2e11
stretch change=1e-4 length=0.1 modulus=2e11
bearing_pressure force=2e4 d=0.02 length=0.01 count=2
combined_stress normal=80e6 shear=30e6
eccentric_load force=4e4 eccentricity=0.05 d=0.05 bore=0.02
shear_strength uts=4e8
shear_strength material=steel
torque_of_power power=7e3 speed=180
power_of_torque torque=40 speed=180
torsion torque=300 d=0.05 bore=0.02
twist torque=300 length=1.2 d=0.05 bore=0.02 material=steel
twist torque=300 length=1.2 d=0.05 shear_modulus=8e10
shaft_stress moment=400 torque=300 d=0.05 bore=0.02 axial=5e3
shaft_code_stress yield=3.8e8 uts=6.5e8 keyway=true
shaft_code_stress yield=3.4e8 uts=6.5e8
shaft_diameter torque=300 moment=400 shear=6e7 torque_shock=1.1 moment_shock=1.5 bore_ratio=0.4
shaft_capacity d=0.05 bore=0.02 shear=6e7
shaft_capacity d=0.05 bore=0.02 shear=3e8 twist=0.03 length=1.2 shear_modulus=8e10
critical_speed deflections=1e-4,3e-4,2e-4 shaft_deflection=2e-4
critical_speed_rayleigh masses=25,50,20 deflections=1e-4,3e-4,2e-4
critical_speed_bare d=0.05 bore=0.02 span=2 modulus=2e11
cantilever force=1e3 length=0.9 second_moment=1.4e-7 modulus=2e11
beam_point force=1e3 span=2 at=0.7 second_moment=1.4e-7 modulus=2e11
beam_point force=1e3 span=2 at=1.4 second_moment=1.4e-7 material=steel
beam_fixed force=1e3 span=2 second_moment=1.4e-7 modulus=2e11
beam_overhang force=1e3 span=2 overhang=0.4 second_moment=1.4e-7 modulus=2e11
beam_uniform load=500 span=2 second_moment=1.4e-7 modulus=2e11 ends=cantilever
buckling length=3 second_moment=4e-8 area=7e-4 modulus=2e11 yield=2.35e8
buckling length=0.3 second_moment=4e-8 area=7e-4 modulus=2e11 yield=2.35e8 k=2
pin_shear force=2e4 d=0.02 planes=2 count=3
cross_pin torque=200 pin=0.01 shaft=0.05 count=2
cross_pin_size torque=200 shaft=0.05 strength=4e7
cross_pin_break pin=0.01 shaft=0.05 strength=4e8
flange_pins torque=800 pin=0.01 radius=0.06 count=6
flange_pins_size torque=800 radius=0.06 count=6 strength=5e7
shear_pin_guard pin=0.005 shaft=0.05 bore=0.02 strength=3e8 yield=2.35e8
shear_pin_guard pin=0.005 shaft=0.05 strength=3e8 material=steel others=900,600
clevis_pin force=1e4 d=0.02 eye=0.02 fork=0.01 gap=0.001
pinned_plate force=6e4 d=0.025 thickness=0.02 width=0.1 edge=0.03 planes=2 count=2
pinned_plate_capacity d=0.025 thickness=0.02 width=0.1 edge=0.03 shear=5e7 bearing=2e8 net=1e8 tear_out=6e7
pinned_plate_capacity d=0.025 thickness=0.02 width=0.1 edge=0.03 shear=9e8 bearing=1e8 net=5e8 planes=2
bolt_class class=8.8 major=0.02
stress_area_metric major=0.016 pitch=0.002
stress_area_unified major=0.019 pitch=0.00254
stress_area_unified major=0.019 pitch=0.00254 pitch_diameter=0.0172
bolt_preload proof=6e8 area=1.57e-4 fraction=0.75
tightening_torque preload=5e4 major=0.016 k=0.2
tightening_torque_by_friction preload=5e4 pitch=0.002 pitch_diameter=0.0147 bearing_diameter=0.02 \
    mu_thread=0.12 mu_head=0.15
preload_of_torque torque=160 major=0.016 k=0.2 scatter=0.3
bolt_stiffness area=1.57e-4 length=0.02 shank_area=2e-4 shank_length=0.03 modulus=2e11
clamp_stiffness major=0.016 grip=0.04 modulus=2e11
joint_under_load preload=2e4 load=1e4 bolt=2e8 clamped=8e8
joint_under_load preload=2e4 load=4e4 bolt=2e8 clamped=8e8
turn_of_nut preload=5e4 pitch=0.002 bolt=5e8 clamped=2e9
thread_shear_area engagement=0.016 pitch=0.002 major=0.016 pitch_diameter=0.0147 minor=0.0138 \
    nut_pitch_diameter=0.0149
thread_stripping engagement=0.016 pitch=0.002 major=0.016 pitch_diameter=0.0147 minor=0.0138 area=1.57e-4 \
    screw_uts=4e8 nut_uts=1.5e8
thread_engagement pitch=0.002 major=0.016 pitch_diameter=0.0147 minor=0.0138 area=1.57e-4 screw_uts=4e8 \
    nut_uts=1.5e8
bolt_group_tilt moment=1e3 distances=0.05,0.06,0.15,0.2 pull=2e3
bolt_group_twist xs=-0.05,0.05,0.07 ys=0.01,0.12,-0.09 across=1e3 up=-2e3 moment=-300
key_size d=0.041
key_stress torque=300 d=0.04 width=0.012 height=0.008 length=0.05 depth=0.003
key_length torque=300 d=0.04 width=0.012 height=0.008 shear=6e7 crushing=1e8 safety=1.5
key_balanced d=0.05 width=0.015 shear=4.2e7 crushing=7.2e7
tangent_keys torque=2e3 d=0.1 width=0.025 length=0.1
flange_thickness torque=800 hub=0.07 shear=1e7
fillet_weld force=1e5 leg=0.008 length=0.06 count=4 craters=true
fillet_weld_load leg=0.008 length=0.06 shear=8e7 count=2
weld_size line_load=5e5 allowable=1e8 plate=0.01
weld_strength uts=3.6e8 beta=0.8
butt_weld force=1e5 thickness=0.01 length=0.1 efficiency=0.8
butt_weld_load thickness=0.01 length=0.1 stress=1e8 efficiency=0.8
angle_welds force=3.3e5 line_load=8.8e5 y1=0.067 y2=0.035
weld_line length=0.1 along=1e3 across=2e3 pull=1e4 swing=100 twist=50
weld_two_lines length=0.05 gap=0.07 along=1e3 across=7e3 pull=500 tilt=900 swing=200 twist=300 \
    method=directional
weld_u length=0.05 gap=0.1 along=1e3 across=7e3 pull=500 tilt=900 swing=200 twist=300
weld_rectangle width=0.1 height=0.15 along=1e3 across=7e3 pull=500 tilt=900 swing=200 twist=300
weld_round d=0.05 along=1e3 across=7e3 pull=500 tilt=900 swing=200 twist=300
tube_stub force=2e3 length=0.1 d=0.06 bore=0.044
spigot force=5e3 arm=0.3 d=0.08 length=0.2
wall_left d=0.1 wall=0.01 least=0.008
wall_left d=0.1 wall=0.01 least=0.008 side=outside
wall_eccentric d=0.1 bore=0.08 offset=0.0015
ovality largest=0.12 smallest=0.099
tube_class d=0.1 bore=0.09 yield=2.35e8
hoop_stress pressure=1.2e6 d=1.5 wall=0.012 efficiency=0.75
shell_wall pressure=1.2e6 d=1.5 stress=1e8 efficiency=0.75
thick_wall pressure=3e7 bore=0.1 stress=5e7
";

const STEEL: [(&str, f64); 4] = [("E", 206e9), ("poisson", 0.3), ("yield", 235e6), ("uts", 360e6)];

/// The slopes are those of the formula to this, relatively; the differences themselves are no better.
const RTOL: f64 = 2e-5;

fn samples() -> impl Iterator<Item = (&'static Function, Vec<(&'static str, &'static str)>)> {
    SAMPLES.lines().filter(|line| !line.is_empty()).map(|line| {
        let (name, arguments) = line.split_once(' ').expect("arguments");
        let function = strength::FUNCTIONS.iter().find(|each| each.name == name);
        let arguments = arguments.split(' ').map(|each| each.split_once('=').expect("name=value")).collect();
        (*function.unwrap_or_else(|| panic!("no function {name}")), arguments)
    })
}

/// The call with every number moved by a scale of its own.
fn calling(function: &'static Function, arguments: &[(&str, &str)], scales: &[f64]) -> Calling {
    let mut scales = scales.iter().cycle();
    let mut scaled = |figure: &str| {
        let figure: f64 = figure.parse().unwrap_or_else(|_| panic!("{}: {figure}", function.name));
        figure * scales.next().expect("endless")
    };
    arguments.iter().fold(Calling::of(strength::FUNCTIONS, function.name), |call, (name, value)| {
        let parameter = function.parameters.iter().find(|each| each.name == *name);
        match parameter.unwrap_or_else(|| panic!("{} has no {name}", function.name)).takes {
            Takes::Text => call.text(name, value),
            Takes::Truth => call.truth(name, *value == "true"),
            Takes::Count => call.count(name, value.parse().expect("a count")),
            Takes::List(_) => call.list(name, &value.split(',').map(&mut scaled).collect::<Vec<_>>()),
            Takes::Material => call.material(name, &STEEL),
            _ => call.number(name, scaled(value)),
        }
    })
}

fn numbers(function: &Function) -> impl Iterator<Item = &'static str> {
    let quantities = function.outputs.iter().filter(|output| matches!(output.gives, Gives::Quantity { .. }));
    quantities.map(|output| output.name).collect::<Vec<_>>().into_iter()
}

#[test]
fn every_function_has_a_sample() {
    let sampled: BTreeSet<&str> = samples().map(|(function, _)| function.name).collect();
    let all: BTreeSet<&str> = strength::FUNCTIONS.iter().map(|function| function.name).collect();
    assert_eq!(sampled, all);
    assert_eq!(all.len(), strength::FUNCTIONS.len(), "two functions of one name");
    println!("{} functions, {} samples", all.len(), samples().count());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn slopes_are_those_of_the_formula(scales in proptest::collection::vec(0.98..1.02, 12)) {
        for (function, arguments) in samples() {
            let calling = calling(function, &arguments, &scales);
            for output in numbers(function) {
                calling.assert_slopes(output, RTOL);
            }
        }
    }
}

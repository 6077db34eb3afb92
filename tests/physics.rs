//! Turns published check values, each with its source, into proof of the laws; and compares water and friction with libraries.

#![allow(clippy::unwrap_used)]

use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use weephole::physics::catalogue::{all, find, input, reckon};
use weephole::physics::laws::{drive, oil, outlet, pipe, pump, suction, water};
use weephole::quantity::{Dimension, Quantity, find_unit, parse};

/// One published value: law, inputs as typed, output, expected value, tolerance in the same unit, unit.
type Row = (&'static str, &'static str, &'static str, f64, f64, &'static str);

/// What a law yields for inputs as typed, in a unit.
fn worked_out(law: &str, given: &str, output: &str, unit: &str) -> f64 {
    let card = find(law).unwrap().card();
    let given: Vec<(&str, Quantity)> = given
        .split("; ")
        .map(|part| {
            let (key, text) = part.split_once('=').unwrap();
            (key, parse(text, input(card, key).unwrap().dimension, None).unwrap().quantity)
        })
        .collect();
    let reckoned = reckon(law, &given).unwrap();
    assert!(reckoned.in_range(), "{law} {given:?}: {:?}", reckoned.outside);
    let value = reckoned.values.iter().find(|value| value.name == output).unwrap();
    value.quantity.value_in(unit).unwrap()
}

fn holds(rows: &[Row]) {
    for (law, given, output, expected, tolerance, unit) in rows {
        let found = worked_out(law, given, output, unit);
        assert!((found - expected).abs() <= *tolerance, "{law} {given}: {found} instead of {expected} {unit}");
    }
}

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} instead of {expected}");
}

/// A value with unit in SI.
fn si(dimension: Dimension, value: f64, unit: &str) -> f64 {
    Quantity::of(dimension, value, unit).unwrap().si()
}

/// Vapour pressure and density of water at 1 atm.
fn water_at(celsius: f64) -> (f64, f64) {
    let kelvin = celsius + 273.15;
    (water::vapour_pressure(kelvin).unwrap(), water::water_density(kelvin, 101_325.0).unwrap())
}

/// US Standard Atmosphere 1976; `fluids` 1.3.1, `ATMOSPHERE_1976(Z).P`. The short form within 0.06 %.
#[test]
fn atmosphere() {
    for (altitude, pressure) in [
        (0.0, 101_325.0),
        (500.0, 95_461.29),
        (1000.0, 89_876.29),
        (1500.0, 84_559.68),
        (2000.0, 79_501.42),
        (3000.0, 70_121.16),
        (5000.0, 54_048.29),
    ] {
        let given = format!("altitude={altitude} m");
        near(worked_out("barometer_at_altitude", &given, "barometer", "Pa"), pressure, 1.0);
        near(worked_out("barometer_simple", &given, "barometer", "Pa"), pressure, 0.0006 * pressure);
    }
    holds(&[
        ("barometer_at_altitude", "altitude=5280 ft", "barometer", 12.101, 0.005, "psi"),
        ("barometer_at_altitude", "altitude=10000 ft", "barometer", 20.581, 0.01, "inHg"),
    ]);
    // 1500 m and water at 20 °C: the deepest honest vacuum is 24.28 inHg.
    let barometer = worked_out("barometer_at_altitude", "altitude=1500 m", "barometer", "Pa");
    let given = format!("barometer={barometer} Pa; vapour_pressure={} Pa", water_at(20.0).0);
    near(worked_out("vacuum_ceiling", &given, "lowest_gauge", "inHg"), -24.28, 0.02);
}

/// IAPWS R7-97(2012) table 35 and `iapws` 1.5.5 `_PSat_T`, `IAPWS97(T, P)`; R12-08 table 4 and `_Viscosity`; `CoolProp`
/// 8.0.0 for the bulk modulus.
#[test]
fn water_properties() {
    for (kelvin, pascal) in [("300 K", 3_536.589_41), ("500 K", 2.638_897_76e6), ("600 K", 12.344_314_6e6)] {
        let found = worked_out("vapour_pressure", &format!("temperature={kelvin}"), "vapour_pressure", "Pa");
        near(found, pascal, 1e-8 * pascal);
    }
    for (celsius, pascal) in [(10, 1228.18), (20, 2339.21), (40, 7384.43), (60, 19_945.80), (80, 47_414.72)] {
        let given = format!("temperature={celsius} °C");
        near(worked_out("vapour_pressure", &given, "vapour_pressure", "Pa"), pascal, 0.0005 * pascal);
        near(worked_out("vapour_pressure_simple", &given, "vapour_pressure", "Pa"), pascal, 0.015 * pascal);
    }
    holds(&[
        ("water_density", "temperature=10 °C; pressure=101.325 kPa", "density", 999.702, 0.05, "kg/m3"),
        ("water_density", "temperature=20 °C; pressure=101.325 kPa", "density", 998.206, 0.05, "kg/m3"),
        ("water_density", "temperature=60 °C; pressure=101.325 kPa", "density", 983.211, 0.05, "kg/m3"),
        ("water_density", "temperature=90 °C; pressure=101.325 kPa", "density", 965.319, 0.05, "kg/m3"),
        ("water_viscosity", "temperature=20 °C; density=998.206 kg/m3", "viscosity", 1.0016, 0.005, "mPa s"),
        ("water_viscosity", "temperature=60 °C; density=983.211 kg/m3", "viscosity", 0.466_04, 0.0023, "mPa s"),
        ("water_viscosity", "temperature=298.15 K; density=998 kg/m3", "viscosity", 0.889_735_1, 8.9e-7, "mPa s"),
        ("water_bulk_modulus", "temperature=20 °C; pressure=101.325 kPa", "bulk_modulus", 2.179, 0.01, "GPa"),
    ]);
}

/// `CoolProp` 8.0.0 properties and the formula: 8.12 m at 20 °C, 6.42 m at 60 °C, 6.90 m from -10 inHg.
#[test]
fn npsh_from_a_gauge() {
    for (celsius, gauge, height, flow, bore, npsh) in [
        (20.0, -20e3, 0.0, 8.0, 0.052_48, 8.12),
        (60.0, -20e3, 0.0, 8.0, 0.052_48, 6.42),
        (25.0, si(Dimension::GaugePressure, -10.0, "inHg"), 0.3, 12.0, 0.077_93, 6.90),
    ] {
        let (vapour, density) = water_at(celsius);
        let velocity = pipe::pipe_velocity(flow / 3600.0, bore).unwrap();
        near(suction::npsh_gauge(101_325.0, gauge, vapour, density, height, velocity, 0.0).unwrap(), npsh, 0.02);
    }
}

/// Munson, Young, Okiishi, example 12.3, p. 702 (textbook companion): 7.65 ft. Theoretical lift of water at 20 °C from the
/// standard atmosphere and IF97: 10.11 m, 8.40 m at 1500 m, 6.92 m at 3000 m.
#[test]
fn lifts() {
    let of = |value, unit| si(Dimension::Length, value, unit);
    let bore = of(4.0, "in");
    let velocity = pipe::pipe_velocity(0.5 * of(1.0, "ft").powi(3), bore).unwrap();
    let density = si(Dimension::Density, 62.22, "lb/ft3");
    let [lost, _] = pipe::pipe_loss(0.0, 0.0, bore, 20.0, velocity, density).unwrap();
    let pressure = |psi| si(Dimension::AbsolutePressure, psi, "psi");
    let lift = suction::lift_allowed(pressure(14.7), pressure(0.5069), density, of(15.0, "ft"), lost, 0.0).unwrap();
    near(lift, of(7.65, "ft"), of(0.05, "ft"));
    let (vapour, density) = water_at(20.0);
    for (altitude, lift) in [("0 m", 10.11), ("1500 m", 8.40), ("3000 m", 6.92)] {
        let barometer = worked_out("barometer_at_altitude", &format!("altitude={altitude}"), "barometer", "Pa");
        near(suction::theoretical_lift(barometer, vapour, density).unwrap(), lift, 0.02);
    }
}

/// Rods of five crank radii against the constants of HI 6.1-6.5 and GPSA section 12 (from memory) and the kinematics;
/// without rods π²/180.
#[test]
fn acceleration_constants() {
    for (cranks, sides, derived, tabled) in [
        (1, 1, 0.395, 0.4),
        (2, 1, 0.197, 0.200),
        (2, 2, 0.1155, 0.115),
        (3, 1, 0.0658, 0.066),
        (5, 1, 0.0395, 0.040),
        (7, 1, 0.0282, 0.028),
        (9, 1, 0.0219, 0.022),
    ] {
        let given = format!("cranks={cranks}; sides={sides}");
        let found = worked_out("acceleration_constant_rods", &format!("{given}; rod_ratio=5"), "constant", "");
        near(found, derived, 0.02 * derived);
        near(found, tabled, 0.02 * tabled);
        near(worked_out("acceleration_constant_tabled", &given, "constant", ""), tabled, 1e-12);
    }
    let found = worked_out("acceleration_constant_sinusoidal", "cranks=3; sides=1", "constant", "");
    near(found, std::f64::consts::PI.powi(2) / 180.0, 0.001 * 0.0548);
    near(found, 0.0548, 0.001 * 0.0548);
}

/// GPSA-type example (from memory, arithmetic checked): 3.88 + 8.55 = 12.4 ft; Sarkar, examples 9.4 and 9.6, pp. 193 and
/// 196 (textbook companion).
#[test]
fn acceleration_heads() {
    let head = |length: &str, bore: &str| {
        let velocity = worked_out("pipe_velocity", &format!("flow=73 US gpm; bore={bore}"), "velocity", "m/s");
        let given = format!("length={length}; velocity={velocity} m/s; speed=360 rpm; constant=0.066; elasticity=1.4");
        worked_out("acceleration_head", &given, "acceleration_head", "ft")
    };
    near(head("4 ft", "4.026 in"), 3.88, 0.02);
    near(head("20 ft", "6.065 in"), 8.55, 0.02);
    near(head("4 ft", "4.026 in") + head("20 ft", "6.065 in"), 12.4, 0.05);
    holds(&[
        (
            "acceleration_head_column",
            "length=22 m; plunger=150 mm; bore=100 mm; stroke=300 mm; speed=50 rpm",
            "acceleration_head",
            20.75,
            0.02,
            "m",
        ),
        (
            "separation_speed",
            "plunger=80 mm; stroke=150 mm; length=4.5 m; bore=30 mm; density=1000 kg/m3; separation=78.86 kPa; lift=3 m",
            "speed",
            43.3,
            0.2,
            "rpm",
        ),
    ]);
}

/// `fluids` 1.3.1, `Colebrook(Re, eD, tol=0)`; the explicit forms within 1.5 %. `Hooper2K` and `ft_Crane` likewise.
#[test]
fn friction_factors() {
    for (reynolds, roughness, factor) in
        [(100_000, 0.0001, 0.018_514), (100_000, 0.001, 0.022_175), (50_000, 0.002, 0.026_506)]
    {
        let given = format!("reynolds={reynolds}; relative_roughness={roughness}");
        near(worked_out("friction_colebrook", &given, "friction", ""), factor, 1e-6);
        near(worked_out("friction_factor", &given, "friction", ""), factor, 1e-6);
        near(worked_out("friction_haaland", &given, "friction", ""), factor, 0.015 * factor);
        near(worked_out("friction_swamee_jain", &given, "friction", ""), factor, 0.015 * factor);
    }
    holds(&[
        ("fitting_two_k", "reynolds=1e4; bore=2 in; k_laminar=1500; k_turbulent=4", "losses", 6.150, 0.001, ""),
        ("friction_fully_turbulent", "bore=2.067 in", "friction", 0.0188, 0.0005, ""),
    ]);
}

/// Cengel and Cimbala, examples 8-3E and 8-3, p. 360; Esposito, example 4.3, p. 134 (textbook companions).
#[test]
fn pipe_drops() {
    let feet = |value| si(Dimension::Length, value, "ft");
    let (density, bore) = (si(Dimension::Density, 62.36, "lb/ft3"), feet(2.0 / 12.0));
    let flow = 0.2 * feet(1.0).powi(3);
    let velocity = pipe::pipe_velocity(flow, bore).unwrap();
    let viscosity = 7.536e-4 * si(Dimension::Mass, 1.0, "lb") / feet(1.0);
    let reynolds = pipe::reynolds(density, velocity, bore, viscosity).unwrap();
    let friction = pipe::friction_factor(reynolds, 7e-6 / (2.0 / 12.0)).unwrap();
    near(friction, 0.0174, 0.005 * 0.0174);
    let [head, drop] = pipe::pipe_loss(friction, feet(200.0), bore, 0.0, velocity, density).unwrap();
    near(drop, si(Dimension::PressureDifference, 11.8, "psi"), 0.005 * drop);
    near(drop, 1700.0 * si(Dimension::Force, 1.0, "lbf") / feet(1.0).powi(2), 0.005 * drop);
    near(head, feet(27.3), 0.005 * head);
    near(pump::hydraulic_power(flow, drop).unwrap(), 461.0, 0.005 * 461.0);

    let velocity = pipe::pipe_velocity(0.006, 0.05).unwrap();
    let reynolds = pipe::reynolds(999.0, velocity, 0.05, 1.138e-3).unwrap();
    let friction = pipe::friction_factor(reynolds, 2e-6 / 0.05).unwrap();
    near(friction, 0.0172, 0.006 * 0.0172);
    let [head, drop] = pipe::pipe_loss(friction, 60.0, 0.05, 0.0, velocity, 999.0).unwrap();
    near(drop, 96.5e3, 0.006 * 96.5e3);
    near(head, 9.85, 0.006 * 9.85);
    near(pump::hydraulic_power(0.006, drop).unwrap(), 579.0, 0.006 * 579.0);

    let (bore, velocity) = (feet(1.0 / 12.0), feet(10.0));
    let reynolds = pipe::reynolds(900.0, velocity, bore, 100e-6 * 900.0).unwrap();
    near(reynolds, 774.0, 1.0);
    let friction = pipe::friction_factor(reynolds, 0.0).unwrap();
    let [_, drop] = pipe::pipe_loss(friction, feet(100.0), bore, 0.0, velocity, 900.0).unwrap();
    near(drop, si(Dimension::PressureDifference, 60.0, "psi"), si(Dimension::PressureDifference, 0.2, "psi"));
}

/// Formula; Sarkar, example 9.4, p. 193; Subramanya, example 16.38, p. 420 (2.54 unrounded); Esposito, examples 8.2 p. 299
/// and 2.11 p. 57; Sullivan, example 7.1, p. 135 (textbook companions).
#[test]
fn displacement_slip_and_power() {
    holds(&[
        ("displacement", "chambers=3; plunger=2 in; stroke=5 in; speed=360 rpm", "displacement", 73.44, 0.01, "US gpm"),
        ("hydraulic_power", "flow=20 US gpm; rise=1000 psi", "power", 11.7, 0.05, "hp"),
        ("shaft_torque", "power=5 hp; speed=1725 rpm", "torque", 15.22, 0.02, "lbf ft"),
        // One US gallon a minute is 231 in³ a minute, one horsepower 33 000 ft lbf a minute.
        ("hydraulic_power", "flow=1 US gpm; rise=1714.285714285714 psi", "power", 1.0, 1e-12, "hp"),
        ("compression", "volume=10 in3; rise=1900 psi; modulus=250000 psi", "change", -0.076, 1e-12, "in3"),
    ]);
    for (speed, flow, slip, tolerance) in [(50, "4.2 L/s", 4.93, 0.02), (60, "310 L/min", 2.54, 0.05)] {
        let given = format!("chambers=1; plunger=150 mm; stroke=300 mm; speed={speed} rpm");
        let ideal = worked_out("displacement", &given, "displacement", "L/s");
        let given = format!("displacement={ideal} L/s; flow={flow}");
        near(worked_out("slip", &given, "slip", "%"), slip, tolerance);
    }
    // Esposito, example 5.7, p. 183 (textbook companion): 0.549 L/s.
    let stroke = worked_out("swash_stroke", "circle=125 mm; tilt=10°", "stroke", "m");
    let ideal = pump::displacement(9.0, 0.015, stroke, 1000.0 / 60.0).unwrap();
    near(pump::delivered_flow(ideal, 0.94).unwrap(), 0.549e-3, 0.002e-3);
}

/// Numerical kinematics, rods of six crank radii and none; the Pump Handbook's table (from memory) rounds to the same.
#[test]
fn ripple() {
    let rods = |cranks, sides, output| {
        let given = format!("cranks={cranks}; sides={sides}; rod_ratio=6");
        worked_out("flow_variation_rods", &given, output, "%")
    };
    for (cranks, sides, above, below, total) in [
        (3, 1, 6.17, -16.95, 23.1),
        (5, 1, 1.86, -5.20, 7.06),
        (4, 1, 11.07, -21.46, 32.5),
        (2, 2, 24.25, -21.46, 45.7),
    ] {
        near(rods(cranks, sides, "above"), above, 0.05);
        near(rods(cranks, sides, "below"), below, 0.05);
        near(rods(cranks, sides, "total"), total, 0.05);
    }
    for (cranks, above, below, total) in [(3, 4.72, -9.31, 14.03), (5, 1.66, -3.31, 4.98)] {
        let given = format!("cranks={cranks}; sides=1");
        near(worked_out("flow_variation_sinusoidal", &given, "above", "%"), above, 0.01);
        near(worked_out("flow_variation_sinusoidal", &given, "below", "%"), below, 0.01);
        near(worked_out("flow_variation_sinusoidal", &given, "total", "%"), total, 0.01);
    }
}

/// Derived: (N - 1)/N, π/(2N), 2/(3N), ((N - 1)/N)², and the kinematics without rods.
#[test]
fn one_dead_chamber() {
    holds(&[
        ("dead_chamber", "chambers=3", "flow", 2.0 / 3.0, 1e-12, "times"),
        ("dead_chamber", "chambers=3", "once_a_turn", 52.36, 0.01, "%"),
        ("dead_chamber", "chambers=3", "twice_a_turn", 22.22, 0.01, "%"),
        ("dead_chamber", "chambers=3", "pressure", 4.0 / 9.0, 1e-12, "times"),
        ("dead_chamber_swing", "chambers=3", "swing", 157.1, 0.1, "%"),
        ("dead_chamber_swing", "chambers=3", "no_flow", 1.0 / 6.0, 1e-12, "times"),
    ]);
}

/// Khurmi and Gupta, example 11.1, p. 333; Theraja, examples 34.4 and 34.5, p. 1256 (textbook companions); definition; belt
/// trade rule with span 29.29 in.
#[test]
fn drives() {
    let two_belts = |slip: f64| {
        let first = drive::sheave_speed(150.0 / 60.0, 0.75, 0.45, slip).unwrap();
        60.0 * drive::sheave_speed(first, 0.9, 0.15, slip).unwrap()
    };
    near(two_belts(0.0), 1500.0, 1.0);
    near(two_belts(0.02), 1440.0, 1.0);
    // The supply of example 34.5 comes from a 12-pole alternator at 500 rpm: 50 Hz.
    let hertz = 500.0 * 12.0 / 120.0;
    let synchronous = drive::synchronous_speed(hertz, 8.0).unwrap();
    near(60.0 * drive::motor_speed(synchronous, 0.03).unwrap(), 727.5, 0.1);
    let synchronous = drive::synchronous_speed(50.0, 4.0).unwrap();
    near(60.0 * drive::motor_speed(synchronous, 0.04).unwrap(), 1440.0, 1e-9);
    holds(&[
        ("synchronous_speed", "frequency=60 Hz; poles=4", "speed", 1800.0, 1e-9, "rpm"),
        ("belt_deflection", "distance=30 in; motor_sheave=5 in; pump_sheave=18 in", "span", 29.29, 0.01, "in"),
        ("belt_deflection", "distance=30 in; motor_sheave=5 in; pump_sheave=18 in", "deflection", 0.458, 0.005, "in"),
    ]);
}

/// NFPA hydrant-flow constant 29.84 (recomputed 29.839 with `CoolProp` 8.0.0); arithmetic; Esposito, examples 8.4 p. 302 and
/// 8.1 p. 293 (textbook companion); Pump Handbook, power-pump section, for the margins.
#[test]
fn openings_and_relief() {
    let density = water::water_density(si(Dimension::Temperature, 60.0, "°F"), 101_325.0).unwrap();
    let psi = si(Dimension::PressureDifference, 1.0, "psi");
    let [flow, _] = outlet::orifice_flow(0.0254, psi, density, 1.0).unwrap();
    near(flow, si(Dimension::Flow, 29.84, "US gpm"), si(Dimension::Flow, 0.01, "US gpm"));
    holds(&[
        (
            "orifice_flow",
            "diameter=2 mm; drop=150 bar; density=998.2 kg/m3; coefficient=1",
            "flow",
            32.68,
            0.05,
            "L/min",
        ),
        (
            "orifice_flow",
            "diameter=1 in; drop=100 psi; density=0.9 g/cm3; coefficient=0.8",
            "flow",
            252.0,
            1.0,
            "US gpm",
        ),
        ("orifice_wear", "growth=5 %", "pressure", 0.823, 0.001, "times"),
        ("orifice_wear", "growth=10 %", "flow", 1.21, 0.001, "times"),
        ("orifice_wear", "growth=10 %", "pressure", 0.683, 0.001, "times"),
        (
            "relief_spring",
            "stiffness=2500 lbf/in; preload=0.2 in; lift=0.1 in; seat=0.75 in2",
            "crack",
            667.0,
            1.0,
            "psi",
        ),
        (
            "relief_spring",
            "stiffness=2500 lbf/in; preload=0.2 in; lift=0.1 in; seat=0.75 in2",
            "full",
            1000.0,
            1.0,
            "psi",
        ),
        ("relief_margin", "working=100 bar; set=130 bar", "least_triplex", 110.0, 1e-9, "bar"),
        ("relief_margin", "working=100 bar; set=130 bar", "least_duplex", 125.0, 1e-9, "bar"),
    ]);
}

/// ASTM D2270 by `chemicals` 1.5.2, `viscosity_index`; ASTM D341 through both points; ASTM D2161 by `viscosity_converter`;
/// Esposito, example 2.12, p. 62 (textbook companion).
#[test]
fn oils() {
    holds(&[
        ("viscosity_index", "at_40=73.30 mm2/s; at_100=8.86 mm2/s", "index", 92.0, 1.0, ""),
        ("viscosity_index", "at_40=22.83 mm2/s; at_100=5.05 mm2/s", "index", 156.0, 1.0, ""),
        ("oil_at_100", "at_40=32 mm2/s; index=95", "at_100", 5.29, 0.02, "mm2/s"),
        ("oil_at_100", "at_40=46 mm2/s; index=95", "at_100", 6.65, 0.02, "mm2/s"),
        ("oil_at_100", "at_40=68 mm2/s; index=95", "at_100", 8.53, 0.02, "mm2/s"),
        ("oil_at_100", "at_40=100 mm2/s; index=95", "at_100", 11.07, 0.02, "mm2/s"),
        ("viscosity_to_saybolt", "viscosity=46 mm2/s; temperature=100 °F", "seconds", 214.0, 1.0, "s"),
        ("saybolt_to_viscosity", "seconds=230 s", "viscosity", 50.0, 0.1, "mm2/s"),
    ]);
    for (grade, at_100, at_0, at_20, at_60) in [
        (32.0, 5.29, 352.0, 87.8, 15.0),
        (46.0, 6.65, 608.0, 136.5, 20.4),
        (68.0, 8.53, 1080.0, 218.4, 28.4),
        (100.0, 11.07, 1837.0, 342.7, 39.6),
    ] {
        for (celsius, expected) in [(0.0, at_0), (20.0, at_20), (60.0, at_60)] {
            let kelvin = celsius + 273.15;
            let by_points = oil::oil_viscosity(grade * 1e-6, 313.15, at_100 * 1e-6, 373.15, kelvin).unwrap();
            near(by_points * 1e6, expected, 0.01 * expected);
            near(oil::oil_of_grade(grade * 1e-6, 95.0, kelvin).unwrap() * 1e6, expected, 0.01 * expected);
        }
    }
    for (grade, at_100, celsius) in [(32.0, 5.29, -11.5), (46.0, 6.65, -5.4)] {
        let kelvin = oil::oil_temperature(grade * 1e-6, 313.15, at_100 * 1e-6, 373.15, 1e-3).unwrap();
        near(kelvin - 273.15, celsius, 0.5);
    }
}

/// Definitions of NIST SP 811 (2008), Appendix B, taken back to the inch, the pound, the gallon and standard gravity.
#[test]
fn units() {
    for (dimension, unit, exact, relative) in [
        (Dimension::PressureDifference, "psi", 6_894.757_293_168, 1e-12),
        (Dimension::PressureDifference, "inHg", 3_386.389, 0.001 / 3386.0),
        (Dimension::PressureDifference, "mmHg", 133.322_387, 1e-5 / 133.0),
        (Dimension::PressureDifference, "ftH2O", 2_989.067, 0.001 / 2989.0),
        (Dimension::PressureDifference, "kgf/cm2", 98_066.5, 1e-15),
        (Dimension::Flow, "US gpm", 3.785_411_784e-3 / 60.0, 1e-15),
        (Dimension::Power, "hp", 745.699_871_6, 1e-9),
    ] {
        near(find_unit(dimension, unit).unwrap().to_si(1.0), exact, relative * exact);
    }
}

/// Esposito, example 2.7, p. 51 (textbook companion); US Army subcourse MM0486.
#[test]
fn gauges() {
    holds(&[
        ("absolute_pressure", "barometer=14.7 psia; gauge=-5 psi", "absolute", 9.7, 1e-9, "psi"),
        ("gauge_offset", "shown=260 psi; actual=250 psi; span=500 psi", "error", 2.0, 1e-9, "%"),
    ]);
}

/// IAPWS G7-04 by `iapws` 1.5.5, `_Henry`; nitrogen 78.08 % and oxygen 20.95 % of moist air.
#[test]
fn dissolved_air() {
    for (celsius, percent) in [(10, 2.24), (20, 1.85), (40, 1.35)] {
        let given = format!("temperature={celsius} °C; pressure=101.325 kPa");
        near(worked_out("dissolved_air", &given, "air", "%"), percent, 0.03 * percent);
    }
}

/// Wentzell, examples 6.1 and 6.2, pp. 120-121 (textbook companion); ISO 898-1 formula; pitch times turns.
#[test]
fn bolts_and_adjusters() {
    let preload = 0.85 * 0.334 * 85_000.0;
    let torque = format!("factor=0.2; diameter=0.75 in; preload={preload} lbf");
    near(worked_out("bolt_torque", &torque, "torque", "lbf in"), 3619.7, 1.0);
    let stretch = format!("preload={preload} lbf; grip=5 in; area=0.334 in2; modulus=30e6 psi; pitch=0.1 in");
    near(worked_out("bolt_stretch", &stretch, "turn", "°"), 43.35, 0.05);
    holds(&[
        ("stress_area_metric", "diameter=10 mm; pitch=1.5 mm", "area", 57.99, 0.02, "mm2"),
        ("axial_advance", "pitch=1.27 mm; turn=1/4 turn", "advance", 0.0125, 1e-12, "in"),
        ("axial_advance", "pitch=1.25 mm; turn=0.25 turn", "advance", 0.3125, 1e-12, "mm"),
        ("axial_advance", "pitch=1/16 in; turn=90°", "advance", 0.015_63, 0.000_01, "in"),
        ("axial_advance", "pitch=1/16 in; turn=90°", "advance", 0.3969, 0.0001, "mm"),
    ]);
}

fn table(name: &str) -> Vec<Value> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/physics").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// `iapws` 1.5.5 (`tests/scripts/physics_tables.py`).
#[test]
fn water_agrees_with_a_library() {
    let rows = table("water.json");
    assert_eq!(rows.len(), 14);
    for row in rows {
        let of = |key: &str| row[key].as_f64().unwrap();
        let (kelvin, pressure) = (of("kelvin"), of("pressure"));
        near(water::vapour_pressure(kelvin).unwrap(), of("vapour_pressure"), 1e-12 * of("vapour_pressure"));
        near(water::water_density(kelvin, pressure).unwrap(), of("density"), 1e-9);
        near(water::water_viscosity(kelvin, of("density")).unwrap()[0], of("viscosity"), 1e-12 * of("viscosity"));
        let compressibility = water::water_bulk_modulus(kelvin, pressure).unwrap()[1];
        near(compressibility, of("compressibility"), 1e-9 * of("compressibility"));
    }
}

/// `fluids` 1.3.1 (`tests/scripts/physics_tables.py`).
#[test]
fn friction_agrees_with_a_library() {
    let rows = table("friction.json");
    assert_eq!(rows.len(), 56);
    for row in rows {
        let of = |key: &str| row[key].as_f64().unwrap();
        let found = pipe::friction_colebrook(of("reynolds"), of("roughness")).unwrap();
        // With 30 digits (mpmath) the library is off by 4e-12 at Re 1e8, ours by less.
        near(found, of("friction"), 1e-11);
    }
}

/// The crate `seuif97`, an independent IAPWS-IF97, over 0 to 100 °C.
#[test]
fn water_agrees_with_a_crate() {
    let (mut thicker, mut less_vapour) = (f64::MAX, 0.0);
    for tenth in 0..=1000 {
        let celsius = f64::from(tenth) / 10.0;
        let kelvin = celsius + 273.15;
        let vapour = water::vapour_pressure(kelvin).unwrap();
        let pressure = 101_325.0f64.max(vapour * (1.0 + 1e-9));
        let density = water::water_density(kelvin, pressure).unwrap();
        near(vapour, 1e6 * seuif97::tx(celsius, 0.0, seuif97::OP), 1e-8 * vapour);
        near(density, seuif97::pt(pressure * 1e-6, celsius, (seuif97::OD, 1)), 1e-8 * density);
        let viscosity = water::water_viscosity(kelvin, density).unwrap()[0];
        near(viscosity, seuif97::pt(pressure * 1e-6, celsius, (seuif97::ODV, 1)), 1e-8 * viscosity);
        assert!(viscosity < thicker && less_vapour < vapour, "warmer water is thinner and has more vapour");
        (thicker, less_vapour) = (viscosity, vapour);
    }
}

/// One law per file, named alike, and every file in the catalogue.
#[test]
fn every_law_has_its_file() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/physics/laws");
    let mut files = BTreeSet::new();
    for group in std::fs::read_dir(root).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()) {
        for file in std::fs::read_dir(group).unwrap().map(|entry| entry.unwrap().path()) {
            if std::fs::read_to_string(&file).unwrap().contains("pub static LAW:") {
                files.insert(file.file_stem().unwrap().to_string_lossy().into_owned());
            }
        }
    }
    let listed: BTreeSet<String> = all().map(|law| law.card().name.to_owned()).collect();
    assert_eq!(files, listed);
}

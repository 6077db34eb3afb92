//! Typed examples, published factors and properties, turned into proof that the whole way from text to text holds.

#![allow(clippy::unwrap_used)]

use proptest::prelude::{Strategy, any, prop, prop_assert, proptest};

use super::{
    Dimension, Doubt, ParseProblem, Quantity, Unit, echo, exact_text, find_unit, in_unit, parse, parse_strict,
};

fn close(value: f64, wanted: f64, relative: f64) -> bool {
    (value - wanted).abs() <= relative * wanted.abs().max(1e-300)
}

/// The held value and the number of doubts.
fn read(text: &str, dimension: Dimension) -> (f64, usize) {
    let parsed = parse(text, dimension, None).unwrap();
    (parsed.quantity.si(), parsed.doubts.len())
}

fn refusal(text: &str, dimension: Dimension, default: Option<&str>) -> (String, ParseProblem) {
    let error = parse(text, dimension, default).unwrap_err();
    (text[error.range].to_owned(), error.problem)
}

/// Factors as printed in NIST SP 811 (2008), Appendix B.8, seven figures; exact ones (bold there) in full.
#[test]
fn factors_agree_with_the_published_table() {
    for (dimension, unit, printed) in [
        (Dimension::GaugePressure, "inHg", 3.386_389e3), // inch of mercury, conventional
        (Dimension::GaugePressure, "mmHg", 1.333_224e2), // millimetre of mercury, conventional
        (Dimension::GaugePressure, "torr", 1.333_224e2), // torr
        (Dimension::GaugePressure, "ftH2O", 2.989_067e3), // foot of water, conventional
        (Dimension::GaugePressure, "inH2O", 2.490_889e2), // inch of water, conventional
        (Dimension::GaugePressure, "mmH2O", 9.806_65),   // millimetre of water, conventional
        (Dimension::GaugePressure, "psi", 6.894_757e3),  // pound-force per square inch
        (Dimension::GaugePressure, "kgf/cm2", 9.806_65e4), // kilogram-force per square centimetre
        (Dimension::GaugePressure, "atm", 1.013_25e5),   // atmosphere, standard
        (Dimension::GaugePressure, "bar", 1e5),          // bar
        (Dimension::Volume, "US gal", 3.785_412e-3),     // gallon (US)
        (Dimension::Volume, "imp gal", 4.546_09e-3),     // gallon [Canadian and UK (Imperial)]
        (Dimension::Volume, "US qt", 9.463_529e-4),      // quart (US liquid)
        (Dimension::Volume, "in3", 1.638_706e-5),        // cubic inch
        (Dimension::Volume, "ft3", 2.831_685e-2),        // cubic foot
        (Dimension::Flow, "US gpm", 6.309_020e-5),       // gallon (US) per minute
        (Dimension::Flow, "US gpd", 4.381_264e-8),       // gallon (US) per day
        (Dimension::Length, "in", 2.54e-2),              // inch
        (Dimension::Length, "thou", 2.54e-5),            // mil (0.001 in)
        (Dimension::Length, "ft", 3.048e-1),             // foot
        (Dimension::Area, "in2", 6.4516e-4),             // square inch
        (Dimension::Area, "ft2", 9.290_304e-2),          // square foot
        (Dimension::Mass, "lb", 4.535_924e-1),           // pound (avoirdupois)
        (Dimension::Mass, "oz", 2.834_952e-2),           // ounce (avoirdupois)
        (Dimension::Force, "lbf", 4.448_222),            // pound-force
        (Dimension::Force, "kgf", 9.806_65),             // kilogram-force
        (Dimension::Torque, "lbf ft", 1.355_818),        // pound-force foot
        (Dimension::Torque, "lbf in", 1.129_848e-1),     // pound-force inch
        (Dimension::Power, "hp", 7.456_999e2),           // horsepower (550 ft lbf/s)
        (Dimension::Power, "PS", 7.354_988e2),           // horsepower (metric)
        (Dimension::Energy, "Btu", 1.055_056e3),         // British thermal unit IT
        (Dimension::Energy, "ft lbf", 1.355_818),        // foot pound-force
        (Dimension::Energy, "kWh", 3.6e6),               // kilowatt hour
        (Dimension::Density, "lb/ft3", 1.601_846e1),     // pound per cubic foot
        (Dimension::Density, "lb/US gal", 1.198_264e2),  // pound per gallon (US)
        (Dimension::ViscosityKinematic, "cSt", 1e-6),    // centistokes
        (Dimension::ViscosityDynamic, "cP", 1e-3),       // centipoise
        (Dimension::Stiffness, "lbf/in", 1.751_268e2),   // pound-force per inch
        (Dimension::Acceleration, "g", 9.806_65),        // acceleration of free fall, standard
        (Dimension::Velocity, "ft/s", 3.048e-1),         // foot per second
        (Dimension::Compressibility, "1/psi", 1.450_377e-4), // one over pound-force per square inch
        (Dimension::Expansion, "1/°F", 1.8),             // one over degree Fahrenheit (interval)
        (Dimension::Angle, "°", 1.745_329e-2),           // degree (angle)
        (Dimension::Time, "year", 3.1536e7),             // year (365 days)
        (Dimension::TemperatureDifference, "°F", 5.555_556e-1), // degree Fahrenheit (interval)
    ] {
        let factor = find_unit(dimension, unit).unwrap().to_si(1.0);
        assert!(close(factor, printed, 5e-7), "{unit}: {factor:e} is not {printed:e}");
    }
}

#[test]
fn thermometer_points() {
    // Freezing and boiling point of water on both scales; NIST SP 811, Appendix B.8.
    for (text, kelvin) in
        [("32 °F", 273.15), ("212 °F", 373.15), ("0 °C", 273.15), ("-40 F", 233.15), ("-40 C", 233.15)]
    {
        assert!(close(read(text, Dimension::Temperature).0, kelvin, 1e-12), "{text}");
    }
}

#[test]
fn what_technicians_type() {
    use Dimension::{Flow, GaugePressure, Length, Speed, Temperature};
    for (dimension, text, si, doubts) in [
        (GaugePressure, "-8 inHg", -27_091.109, 0),
        (GaugePressure, "\u{2212}8 inHg", -27_091.109, 0),
        (GaugePressure, "8\" vac", -27_091.109, 0),
        (GaugePressure, "8 in. Hg vac", -27_091.109, 0),
        (GaugePressure, "8 inHg vac", -27_091.109, 0),
        (GaugePressure, "8 inHg Vacuum", -27_091.109, 0),
        (GaugePressure, "-8 inHg vac", -27_091.109, 1),
        (GaugePressure, "8 inHg", 27_091.109, 1),
        (GaugePressure, "8 inHg g", 27_091.109, 0),
        (GaugePressure, "-8\"", -27_091.109, 1),
        (GaugePressure, "27 kPa vac", -27_000.0, 0),
        (GaugePressure, "2,5 bar", 250_000.0, 0),
        (GaugePressure, "2.5 bar g", 250_000.0, 0),
        (GaugePressure, "2.5 bar(g)", 250_000.0, 0),
        (GaugePressure, "2.5barg", 250_000.0, 0),
        (GaugePressure, "36psi", 248_211.263, 0),
        (GaugePressure, "36 PSIG", 248_211.263, 0),
        (GaugePressure, "5 Pa", 5.0, 0),
        (GaugePressure, "0,4 mpa", 400_000.0, 1),
        (GaugePressure, "1,450 psi", 9_997_398.08, 1),
        (GaugePressure, "1,450 bar", 145_000.0, 1),
        (Speed, "1 450 rpm", 24.166_667, 0),
        (Speed, "1\u{202f}450 rpm", 24.166_667, 0),
        (Speed, "1,450 rpm", 24.166_667, 1),
        (Speed, "1.450 rpm", 0.024_166_667, 1),
        (Speed, "1450 1/min", 24.166_667, 0),
        (Speed, "50 Hz", 50.0, 1),
        (Flow, "4.5 gpm", 2.839_059e-4, 1),
        (Flow, "4.5 US gpm", 2.839_059e-4, 0),
        (Flow, "4.5 imp gpm", 3.409_568e-4, 0),
        (Flow, "1 m³/h", 2.777_778e-4, 0),
        (Flow, "1 m3/h", 2.777_778e-4, 0),
        (Flow, "20 l/min", 3.333_333e-4, 0),
        (Flow, "1.2e3 L/h", 3.333_333e-4, 0),
        (Temperature, "140 °F", 333.15, 0),
        (Length, "0.006 in", 1.524e-4, 0),
        (Length, "6 thou", 1.524e-4, 0),
        (Length, "6 mil", 1.524e-4, 1),
        (Length, "1/4 in", 6.35e-3, 0),
        (Length, "1 1/2 in", 3.81e-2, 0),
        (Length, "1½\"", 3.81e-2, 0),
        (Length, "6'", 1.8288, 0),
    ] {
        let (value, count) = read(text, dimension);
        assert!(close(value, si, 1e-6), "{text}: {value}");
        assert_eq!(count, doubts, "{text}");
    }
    assert!(close(read("101.3 kPa abs", Dimension::AbsolutePressure).0, 101_300.0, 1e-12));
    assert!(close(read("1 bar a", Dimension::AbsolutePressure).0, 1e5, 1e-12));
    assert!(close(read("10 psid", Dimension::PressureDifference).0, 68_947.573, 1e-6));
    assert!(close(read("85%", Dimension::Ratio).0, 0.85, 1e-12));
    assert!(close(read("12 VAC", Dimension::Voltage).0, 12.0, 1e-12));
}

#[test]
fn doubts_are_sentences() {
    let doubt = |text, dimension| -> String {
        let doubts = parse(text, dimension, None).unwrap().doubts;
        doubts.iter().map(Doubt::to_string).collect::<Vec<_>>().join(" | ")
    };
    assert_eq!(doubt("5 gpm", Dimension::Flow), "US gallons taken; write `imp gpm` for imperial");
    assert_eq!(doubt("1,450 rpm", Dimension::Speed), "1450 rpm taken; write `1.45 rpm` if that is meant");
    assert_eq!(
        doubt("8 inHg", Dimension::GaugePressure),
        "8 inHg above the atmosphere taken; write `8 inHg vac` for a vacuum, `8 inHg gauge` to confirm"
    );
}

#[test]
fn a_default_unit_stands_in() {
    let default = |text, unit| parse(text, Dimension::GaugePressure, Some(unit)).unwrap().quantity.si();
    assert!(close(default("8", "inHg vac"), -27_091.109, 1e-6));
    assert!(close(default("8 vac", "inHg"), -27_091.109, 1e-6));
    assert!(close(default("2.5", "bar"), 250_000.0, 1e-12));
    assert!(close(default("36 psi", "bar"), 248_211.263, 1e-6));
    let (part, problem) = refusal("2.5", Dimension::GaugePressure, Some("furlong"));
    assert!(matches!(problem, ParseProblem::UnknownUnit { .. }), "{part}");
}

#[test]
fn refusals_point_and_explain() {
    for (text, dimension, part, sentence) in [
        ("5", Dimension::GaugePressure, "", "the unit is missing; write bar, kPa or psi"),
        ("5 vac", Dimension::GaugePressure, "vac", "the unit is missing; write bar, kPa or psi"),
        ("5 rpm", Dimension::GaugePressure, "rpm", "`rpm` is a speed; this asks for a pressure: use bar, kPa or psi"),
        ("5 psig ", Dimension::Flow, "psig", "`psig` is a pressure; this asks for a flow: use m3/h, L/min or US gpm"),
        (
            "5 barr",
            Dimension::GaugePressure,
            "barr",
            "`barr` is no known unit; did you mean `bar`? Usual are bar, kPa or psi",
        ),
        ("5 furlong", Dimension::Length, "furlong", "`furlong` is no known unit; use mm, in or m"),
        ("40 lb", Dimension::GaugePressure, "lb", "`lb` is a mass; this asks for a pressure: use bar, kPa or psi"),
        ("bar", Dimension::GaugePressure, "bar", "a pressure begins with a number, then bar, kPa or psi"),
        ("", Dimension::Count, "", "a count begins with a number"),
        ("1.2.3 bar", Dimension::GaugePressure, "1.2.3", "`1.2.3` cannot be read as a number"),
        ("5-6 bar", Dimension::GaugePressure, "-6 bar", "one number and one unit are asked for; `-6 bar` is more"),
        ("-1 bar a", Dimension::AbsolutePressure, "-1 bar a", "an absolute pressure cannot be below zero"),
        ("1e999 bar", Dimension::GaugePressure, "1e999 bar", "a pressure must be a finite number"),
        ("5\tbar", Dimension::GaugePressure, "\t", "a control character or an invisible one is in here; type it anew"),
    ] {
        let (blamed, problem) = refusal(text, dimension, None);
        assert_eq!(problem.to_string(), sentence, "{text}");
        assert_eq!(blamed, part, "{text}");
    }
    let long = "9".repeat(65);
    assert_eq!(refusal(&long, Dimension::Count, None), ("9".to_owned(), ParseProblem::TooLong));
}

#[test]
fn gauge_absolute_vacuum_and_difference_are_not_mixed() {
    for (text, dimension) in [
        ("15 psia", Dimension::GaugePressure),
        ("15 psig", Dimension::AbsolutePressure),
        ("5 inHg vac", Dimension::AbsolutePressure),
        ("15 psig", Dimension::PressureDifference),
        ("15 psid", Dimension::GaugePressure),
        ("5 K difference", Dimension::Temperature),
    ] {
        let (blamed, problem) = refusal(text, dimension, None);
        assert!(text.ends_with(&blamed) && blamed.len() < text.len(), "{text}: {blamed}");
        assert!(matches!(problem, ParseProblem::OtherReference { .. }), "{text}: {problem}");
    }
}

fn any_dimension() -> impl Strategy<Value = Dimension> {
    prop::sample::select(Dimension::ALL.to_vec())
}

fn any_unit() -> impl Strategy<Value = (Dimension, &'static Unit)> {
    let all: Vec<(Dimension, &'static Unit)> = Dimension::ALL
        .into_iter()
        .flat_map(|dimension| dimension.units().iter().map(move |unit| (dimension, unit)))
        .collect();
    prop::sample::select(all)
}

proptest! {
    #[test]
    fn printed_values_read_back((dimension, unit) in any_unit(), value in 1e-3f64..1e6) {
        let quantity = Quantity::from_unit(dimension, value, unit).unwrap();
        let printed = in_unit(quantity, unit);
        let back = parse(&printed, dimension, None).unwrap();
        let again = back.entered.unit.from_si(back.quantity.si());
        prop_assert!((again - value).abs() <= 0.005_1 * value, "{} -> {}", printed, again);
        let exact = exact_text(quantity);
        prop_assert!(parse_strict(&exact, dimension) == Ok(quantity), "{}", exact);
    }

    #[test]
    fn a_larger_number_is_a_larger_quantity((dimension, unit) in any_unit(), low in 0.0f64..1e6, step in 1e-3f64..1e6) {
        let held = |value| Quantity::from_unit(dimension, value, unit).unwrap().si();
        prop_assert!(held(low) < held(low + step));
    }

    #[test]
    fn any_text_is_answered_and_blame_is_on_the_text(text in any::<String>(), dimension in any_dimension(), default in any::<Option<String>>()) {
        check_answer(&text, dimension, default.as_deref());
    }

    #[test]
    fn near_misses_are_answered_too(
        text in "[-+−]?[0-9 ,./]{0,9}[eE½]?[0-9]{0,3} ?[a-zA-Z0-9/\"'°³·Ω() \u{2009}]{0,9}(vac|g|\\(a\\)|d)?",
        dimension in any_dimension(),
    ) {
        check_answer(&text, dimension, Some("bar"));
        check_answer(&text, dimension, None);
    }

    #[test]
    fn every_finite_value_can_be_shown_and_stored(dimension in any_dimension(), si in any::<f64>()) {
        if let Ok(quantity) = Quantity::new(dimension, si) {
            prop_assert!(!echo(quantity).is_empty());
            prop_assert!(parse_strict(&exact_text(quantity), dimension) == Ok(quantity), "{}", exact_text(quantity));
        }
    }
}

fn check_answer(text: &str, dimension: Dimension, default: Option<&str>) {
    match parse(text, dimension, default) {
        Ok(parsed) => assert!(parsed.quantity.si().is_finite()),
        Err(error) => {
            assert!(text.get(error.range.clone()).is_some(), "{error:?}");
            assert!(!error.to_string().is_empty());
        }
    }
}

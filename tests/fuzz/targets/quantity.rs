//! Any text as a number with a unit: what is understood is finite, is said back in ordinary digits, and reads back the same.

use super::shown;
use weephole::quantity::{
    Dimension, Parsed, PlausibleRange, Verdict, echo, echo_entered, exact_text, in_unit, judge, parse, parse_strict,
};

pub fn target(data: &[u8]) {
    let [which, default, text @ ..] = data else { return };
    let dimension = Dimension::ALL[usize::from(*which) % Dimension::ALL.len()];
    let units = dimension.units();
    // The last choice is no default at all.
    let default = units.get(usize::from(*default) % (units.len() + 1)).map(weephole::quantity::Unit::symbol);
    let text = String::from_utf8_lossy(text);
    match parse(&text, dimension, default) {
        Ok(parsed) => understood(&parsed, dimension),
        Err(error) => {
            assert!(text.get(error.range.clone()).is_some(), "{error:?} is outside of `{text}`");
            shown(&error.to_string());
        }
    }
    match parse_strict(&text, dimension) {
        Ok(quantity) => assert_eq!(parse(&text, dimension, None).map(|parsed| parsed.quantity), Ok(quantity)),
        Err(error) => shown(&error.to_string()),
    }
}

fn understood(parsed: &Parsed, dimension: Dimension) {
    let quantity = parsed.quantity;
    assert_eq!(quantity.dimension(), dimension);
    assert!(quantity.si().is_finite() && parsed.entered.value.is_finite(), "{parsed:?}");
    number(&echo(quantity));
    number(&echo_entered(parsed));
    number(&quantity.to_string());
    parsed.doubts.iter().for_each(|doubt| number(&doubt.to_string()));
    for unit in dimension.units() {
        number(&in_unit(quantity, unit));
    }
    let exact = exact_text(quantity);
    assert_eq!(parse_strict(&exact, dimension), Ok(quantity), "{exact}");
    let range = PlausibleRange::new(quantity, quantity).unwrap();
    for range in [None, Some(&range)] {
        match judge(parsed, range) {
            Verdict::Plausible => {}
            Verdict::Doubtful(doubt) => number(&doubt.to_string()),
            Verdict::Impossible(why) => number(&why.to_string()),
        }
    }
}

fn number(text: &str) {
    shown(text);
    assert!(
        !text.contains("NaN") && !text.split_whitespace().any(|word| word.trim_start_matches('-') == "inf"),
        "{text}"
    );
}

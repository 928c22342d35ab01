//! Lengths as a maker writes them.

use super::{plan, small, told};
use quarterturn_geometry::measure::{Length, Unit};

fn kerf(units: &str, written: &str) -> Length {
    let text = small(&format!("units = \"{units}\""), &format!("[shop.saw]\nkerf = {written}"));
    plan(&text).unwrap_or_else(|problems| panic!("{problems}")).job.saw.kerf
}

/// Every form that names its unit, or is a fraction, means the same in any plan.
#[test]
fn every_form_means_the_same_in_any_plan() {
    let want = Length::from_inch_fraction(11, 8);
    let forms = [
        "\"1 3/8\"",
        "\"1-3/8\"",
        "\"11/8\"",
        "'1 3/8\"'",
        "\"1⅜\"",
        "\"1.375 in\"",
        "'1.375\"'",
        "\"34.925 mm\"",
        "\"3.4925 cm\"",
        "\"34,925 mm\"",
    ];
    for units in ["inch", "millimetre"] {
        for form in forms {
            assert_eq!(kerf(units, form), want, "{form} in {units}");
        }
    }
}

#[test]
fn a_bare_number_is_in_the_unit_of_the_plan() {
    for form in ["1.375", "\"1.375\"", "1.3750", "+1.375"] {
        assert_eq!(kerf("inch", form), Length::from_inch_fraction(11, 8), "{form}");
    }
    for form in ["3", "3.0", "\"3\"", "+3", "\"3.0 mm\""] {
        assert_eq!(kerf("millimetre", form), Length::from_micrometres(3000), "{form}");
    }
    assert_eq!(kerf("inch", "0"), Length::ZERO);
}

/// The nearest floats to these are not these: 0.1 + 0.2 is not 0.3 there.
#[test]
fn a_length_is_exact_as_typed() {
    for (form, text) in [("0.1", "0.1"), ("0.3", "0.3"), ("0.0001", "0.0001"), ("2.7183", "2.7183")] {
        assert_eq!(kerf("inch", form), Length::parse(text, Unit::Inch).unwrap());
        assert_eq!(
            kerf("inch", form) * 10_000,
            Length::from_inch_fraction((text.parse::<f64>().unwrap() * 1e4).round() as i64, 1)
        );
    }
    assert_eq!(kerf("inch", "0.1") + kerf("inch", "0.2"), kerf("inch", "0.3"));
    assert_eq!(kerf("millimetre", "0.001"), Length::from_micrometres(1));
}

#[test]
fn what_is_no_length_is_told_with_what_was_written() {
    for wrong in [
        "\"1 3/8 ft\"",
        "\"\"",
        "1e-3",
        "inf",
        "nan",
        "0x10",
        "\"1/0\"",
        "\"1/3\"",
        "-1",
        "\"4 1/2\"",
        "[1]",
        "1.00001",
    ] {
        let problems = told(&small("", &format!("[shop.saw]\nkerf = {wrong}")));
        assert_eq!(problems.len(), 1, "{wrong}: {problems:?}");
        assert_eq!(problems[0].0, "shop.saw.kerf");
        assert!(problems[0].1.starts_with(wrong), "{wrong}: {}", problems[0].1);
    }
}

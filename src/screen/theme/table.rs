//! The table of colours: every theme, each colour as RGB and as the nearest of the 256 of an xterm.
//!
//! After Okabe and Ito, "Color Universal Design" (2008): orange, sky blue, bluish green, yellow, blue and vermillion can be
//! told apart with any colour vision. Where one of them is too near the paper it is made lighter or darker in its own hue.
//! What they say always stands in words, too, with a mark.

use super::Colours;
use ratatui::style::Color;

/// A colour: red, green, blue, and the number of the nearest of the 256.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ink(pub u8, pub u8, pub u8, pub u8);

impl Ink {
    /// As this terminal can show it.
    pub(super) fn on(self, colours: Colours) -> Color {
        if colours == Colours::Rgb { Color::Rgb(self.0, self.1, self.2) } else { Color::Indexed(self.3) }
    }
}

/// A theme in colours.
#[derive(Debug, Clone, Copy)]
pub(super) struct Inks {
    /// Behind everything.
    pub paper: Ink,
    /// Main text.
    pub text: Ink,
    /// Less important text.
    pub dim: Ink,
    /// Keys, and where one is.
    pub accent: Ink,
    /// Bars, bands and needles.
    pub bar: Ink,
    /// Something was done.
    pub good: Ink,
    /// Something was not.
    pub trouble: Ink,
    /// Signal words, gravest first: letters, and what they stand on.
    pub signs: [(Ink, Ink); 4],
}

const BLACK: Ink = Ink(0, 0, 0, 16);
const WHITE: Ink = Ink(255, 255, 255, 231);
const ORANGE: Ink = Ink(230, 159, 0, 178);
const SKY_BLUE: Ink = Ink(86, 180, 233, 74);
const YELLOW: Ink = Ink(240, 228, 66, 221);
const LIGHT_VERMILLION: Ink = Ink(255, 122, 51, 209);
const DARK_VERMILLION: Ink = Ink(143, 39, 0, 88);
const DARK_BLUE: Ink = Ink(0, 84, 140, 24);

/// Light text on black.
pub(super) const DARK: Inks = Inks {
    paper: BLACK,
    text: Ink(238, 238, 238, 255),
    dim: Ink(178, 178, 178, 249),
    accent: YELLOW,
    bar: SKY_BLUE,
    good: Ink(61, 195, 152, 72),
    trouble: ORANGE,
    signs: [(BLACK, LIGHT_VERMILLION), (BLACK, ORANGE), (BLACK, YELLOW), (BLACK, SKY_BLUE)],
};

/// Dark text on white, for the sun.
pub(super) const LIGHT: Inks = Inks {
    paper: WHITE,
    text: BLACK,
    dim: Ink(68, 68, 68, 238),
    accent: DARK_BLUE,
    bar: DARK_BLUE,
    good: Ink(0, 92, 68, 23),
    trouble: DARK_VERMILLION,
    signs: [(WHITE, DARK_VERMILLION), (BLACK, ORANGE), (BLACK, YELLOW), (BLACK, SKY_BLUE)],
};

/// Nothing between black and the brightest: for glare, dim screens and weak eyes.
pub(super) const HIGH_CONTRAST: Inks = Inks {
    paper: BLACK,
    text: WHITE,
    dim: WHITE,
    accent: Ink(255, 255, 0, 226),
    bar: WHITE,
    good: WHITE,
    trouble: Ink(255, 255, 0, 226),
    signs: [(BLACK, WHITE), (BLACK, Ink(255, 255, 0, 226)), (BLACK, Ink(255, 255, 0, 226)), (BLACK, WHITE)],
};

#[cfg(test)]
mod tests {
    use super::{DARK, HIGH_CONTRAST, Ink, Inks, LIGHT};

    const ALL: [(&str, Inks); 3] = [("dark", DARK), ("light", LIGHT), ("high contrast", HIGH_CONTRAST)];

    /// Every pair of letters and ground that is ever drawn; a chosen row turns main text and paper round.
    fn pairs(inks: &Inks) -> Vec<(&'static str, Ink, Ink)> {
        let on_paper = [
            ("text", inks.text),
            ("dim", inks.dim),
            ("accent", inks.accent),
            ("bar", inks.bar),
            ("good", inks.good),
            ("trouble", inks.trouble),
        ];
        let words = ["DANGER", "WARNING", "CAUTION", "NOTICE"];
        let signs = words.iter().zip(inks.signs).map(|(word, (letters, ground))| (*word, letters, ground));
        on_paper.into_iter().map(|(name, ink)| (name, ink, inks.paper)).chain(signs).collect()
    }

    /// Relative luminance and contrast ratio as defined in WCAG 2.1 (W3C Recommendation, 2018), section "Terms and
    /// definitions"; with 0.04045 for the threshold, as in the sRGB standard (no 8-bit value lies between the two).
    fn luminance((red, green, blue): (u8, u8, u8)) -> f64 {
        let linear = |value: u8| {
            let share = f64::from(value) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
    }

    fn contrast(one: (u8, u8, u8), other: (u8, u8, u8)) -> f64 {
        let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
        one.max(other) / one.min(other)
    }

    /// The colours 16 to 255 of an xterm (its 256colres.pl): a cube of six levels, then 24 greys.
    fn of_256(number: u8) -> (u8, u8, u8) {
        assert!(16 <= number, "what a terminal takes for its first 16 colours is not known");
        if 232 <= number {
            let grey = 8 + 10 * (number - 232);
            return (grey, grey, grey);
        }
        let at = number - 16;
        let level = |step: u8| if step == 0 { 0 } else { 55 + 40 * step };
        (level(at / 36), level(at / 6 % 6), level(at % 6))
    }

    #[test]
    fn the_formula_gives_the_published_ratios() {
        // Black on white is 21:1 by definition; #767676 on white is the well-known darkest grey below 4.55 (WebAIM's
        // article on contrast names 4.54:1).
        assert!((contrast((0, 0, 0), (255, 255, 255)) - 21.0).abs() < 1e-9);
        assert!((contrast((0x76, 0x76, 0x76), (255, 255, 255)) - 4.54).abs() < 0.005);
    }

    /// WCAG 2.1, success criterion 1.4.6 (level AAA): at least 7:1.
    #[test]
    fn everything_that_must_be_read_has_a_contrast_of_seven() {
        for (theme, inks) in ALL {
            for (name, ink, ground) in pairs(&inks) {
                let rgb = contrast((ink.0, ink.1, ink.2), (ground.0, ground.1, ground.2));
                let indexed = contrast(of_256(ink.3), of_256(ground.3));
                assert!(7.0 <= rgb.min(indexed), "{theme}, {name}: {rgb:.2} in RGB, {indexed:.2} of 256");
            }
        }
        for (name, ink, ground) in pairs(&HIGH_CONTRAST) {
            assert!(15.0 <= contrast((ink.0, ink.1, ink.2), (ground.0, ground.1, ground.2)), "{name}");
        }
    }

    #[test]
    fn the_numbers_are_those_of_the_nearest_colours() {
        let away = |ink: Ink, number: u8| {
            let (red, green, blue) = of_256(number);
            [(ink.0, red), (ink.1, green), (ink.2, blue)]
                .into_iter()
                .map(|(a, b)| u32::from(a.abs_diff(b)).pow(2))
                .sum::<u32>()
        };
        for (theme, inks) in ALL {
            let drawn = pairs(&inks).into_iter().flat_map(|(name, ink, ground)| [(name, ink), (name, ground)]);
            for (name, ink) in drawn {
                let nearest = (16..=255).map(|number| (away(ink, number), number)).min().unwrap_or_default();
                assert_eq!(away(ink, ink.3), nearest.0, "{theme}, {name}: {} is nearer", nearest.1);
            }
        }
    }
}

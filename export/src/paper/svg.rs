//! A page as SVG at its physical size, for the page in a browser and for templates.
//!
//! Must not know what is on a page.

use super::page::{Fraction, Item, Page, Path, Text, Tone};
use crate::ink::mm;
use crate::lettering;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use std::fmt::Write as _;

/// The page as an SVG element, in mm.
#[must_use]
pub fn page(page: &Page) -> String {
    let [w, h] = page.size.map(mm);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
         font-family=\"{}\" font-kerning=\"none\" font-variant-ligatures=\"none\">\n<rect width=\"{w}\" height=\"{h}\" fill=\"white\"/>\n",
        lettering::FAMILY
    );
    for item in &page.items {
        draw(item, &mut svg);
    }
    svg.push_str("</svg>\n");
    svg
}

fn draw(item: &Item, svg: &mut String) {
    let write = match item {
        Item::Text(it) => text(it),
        Item::Fraction(it) => fraction(it),
        Item::Path(it) => path(it),
        Item::Picture { picture, at, size } => placed(&STANDARD.encode(picture), *at, *size),
    };
    svg.push_str(&write);
    svg.push('\n');
}

fn colour(tone: Tone) -> String {
    let grey = tone.grey();
    format!("#{grey:02x}{grey:02x}{grey:02x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

fn text(it: &Text) -> String {
    let [x, y] = it.at.map(mm);
    let mut more = String::new();
    if it.upward {
        let _ = write!(more, " transform=\"rotate(-90 {x} {y})\"");
    }
    if it.on_wood {
        let _ = write!(
            more,
            " stroke=\"white\" stroke-width=\"{}\" stroke-linejoin=\"round\" paint-order=\"stroke\"",
            mm(it.size * 0.2)
        );
    }
    if it.tone != Tone::Black {
        let _ = write!(more, " fill=\"{}\"", colour(it.tone));
    }
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" xml:space=\"preserve\"{more}>{}</text>",
        mm(it.size),
        escaped(&it.text)
    )
}

fn fraction(it: &Fraction) -> String {
    let small = it.size * Fraction::SMALL;
    let wide = Fraction::width(&it.top, &it.bottom, it.size);
    let (minus, upper) = Fraction::minus(&it.top, it.size);
    let [up, down] = Fraction::baselines(it.size);
    let [x, y] = it.at;
    let figures = |said: &str, y: f64| {
        let x = x + minus + (wide - minus - lettering::width(said, small)) / 2.0;
        format!("<text x=\"{}\" y=\"{}\" font-size=\"{}\">{}</text>", mm(x), mm(y), mm(small), escaped(said))
    };
    let (bar, thick, colour) = (mm(y - Fraction::BAR * it.size), mm(it.size * Fraction::THICK), colour(it.tone));
    let line = |from: f64, to: f64| {
        format!("<path d=\"M{} {bar}H{}\" stroke=\"{colour}\" stroke-width=\"{thick}\"/>", mm(from), mm(to))
    };
    let sign = if minus > 0.0 { line(x, x + minus * 0.75) } else { String::new() };
    format!(
        "<g fill=\"{colour}\" role=\"img\" aria-label=\"{}/{}\">{}{}{sign}{}</g>",
        escaped(&it.top),
        escaped(&it.bottom),
        figures(upper, y - up),
        line(x + minus, x + wide),
        figures(&it.bottom, y + down),
    )
}

fn path(it: &Path) -> String {
    let mut d = String::new();
    for (i, [x, y]) in it.points.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if i == 0 { 'M' } else { 'L' }, mm(*x), mm(*y));
    }
    if it.closed {
        d.push('Z');
    }
    let fill = it.fill.map_or_else(|| "none".to_owned(), colour);
    let mut more = String::new();
    if let Some((thick, tone)) = it.stroke {
        let _ = write!(more, " stroke=\"{}\" stroke-width=\"{}\"", colour(tone), mm(thick));
    }
    if it.dashed {
        more.push_str(" stroke-dasharray=\"1.6 1.1\"");
    }
    format!("<path d=\"{d}\" fill=\"{fill}\"{more}/>")
}

fn placed(bytes: &str, [x, y]: [f64; 2], size: [f64; 2]) -> String {
    format!(
        "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" href=\"data:image/png;base64,{bytes}\"/>",
        mm(x),
        mm(y),
        mm(size[0]),
        mm(size[1])
    )
}

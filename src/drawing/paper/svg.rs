//! Marks as SVG, inside a page or as a file of its own: words escaped, no styles in it, balloons that lead to their things.

use std::fmt::{self, Write as _};

use glam::DVec2;

use crate::domain::words::ids::Balloon;
use crate::drawing::{Anchor, Ink, LinkTo, Mark, Pen, Weight};
use crate::quantity::Length;

/// A part over a drawing: where it is touched, and what is drawn then. It stays hidden until the part is pointed at or has the
/// focus.
#[derive(Debug, Clone, PartialEq)]
pub struct Touched {
    /// Its number.
    pub balloon: Balloon,
    /// Its line on the page; one point of what has no line.
    pub reach: Vec<DVec2>,
    /// Its balloon with its leader.
    pub marks: Vec<Mark>,
    /// Whether there is room for it only while the balloons that stand by themselves are hidden.
    pub alone: bool,
}

/// A drawing as SVG text. Every word, name and address in it is escaped, so it may stand in a page as it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Svg(String);

impl fmt::Display for Svg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Svg {
    /// Draws marks on a ground of this width and height. `address_of` says where touching a balloon leads. A picture's
    /// name is taken as its address.
    pub fn of(marks: &[Mark], size: (Length, Length), address_of: impl Fn(&Balloon) -> Option<String>) -> Self {
        let mut pen = Writer { out: String::new(), address_of: &address_of };
        // Writing to a String cannot fail; should it ever, the drawing ends there.
        let _ = pen.opened(size, r#"class="drawing""#);
        let _ = pen.marks(marks);
        pen.out.push_str("</svg>");
        Self(pen.out)
    }

    /// The same, and over it each of these parts' line as a place to touch.
    pub fn with_touched(
        marks: &[Mark],
        parts: &[Touched],
        size: (Length, Length),
        address_of: impl Fn(&Balloon) -> Option<String>,
    ) -> Self {
        let mut pen = Writer { out: String::new(), address_of: &address_of };
        let _ = pen.opened(size, r#"class="drawing""#);
        let _ = pen.marks(marks);
        let _ = parts.iter().try_for_each(|part| pen.touched(part));
        pen.out.push_str("</svg>");
        Self(pen.out)
    }

    /// Draws marks as a file of its own, at full size where it is not scaled: it brings its paper and names its type,
    /// which a page would give it.
    pub fn file(marks: &[Mark], size: (Length, Length)) -> Self {
        let mut pen = Writer { out: String::new(), address_of: &|_: &Balloon| None };
        let _ = pen.opened(size, r#"font-family="'Barlow Semi Condensed', 'Arial Narrow', sans-serif""#);
        let paper = Mark::rectangle(DVec2::ZERO, DVec2::new(size.0.mm(), size.1.mm()), None, Some(Ink::White));
        let _ = pen.mark(&paper);
        let _ = pen.marks(marks);
        pen.out.push_str("</svg>\n");
        Self(pen.out)
    }
}

/// Words as they may stand in a text or between the quotes of an attribute.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            control if control.is_control() => out.push(' '),
            plain => out.push(plain),
        }
    }
    out
}

/// A number with at most two decimals: a hundredth of a millimetre is finer than any screen.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// An address of this site or of the web; anything that could run as a script is no address.
fn address(text: &str) -> Option<String> {
    let own = text.starts_with('#') || (text.starts_with('/') && !text.starts_with("//"));
    (own || text.starts_with("https://") || text.starts_with("http://")).then(|| escaped(text))
}

const fn ink(ink: Ink) -> (&'static str, &'static str) {
    match ink {
        Ink::Black => ("ink-black", "#14202b"),
        Ink::Grey => ("ink-grey", "#4a5560"),
        Ink::Accent => ("ink-accent", "#b3341a"),
        Ink::White => ("ink-white", "#fdfcf9"),
    }
}

const fn pen_class(pen: Pen) -> &'static str {
    match pen {
        Pen::Wide => "pen-wide",
        Pen::Narrow => "pen-narrow",
        Pen::HiddenDashed => "pen-hidden",
        Pen::CentreChain => "pen-centre",
        Pen::Faint => "pen-faint",
        Pen::Marked => "pen-marked",
    }
}

/// The attributes of an outline and a filling; the classes let the page's own style change them.
fn look(pen: Option<Pen>, fill: Option<Ink>) -> String {
    let mut classes = Vec::new();
    let mut rest = String::new();
    if let Some(fill) = fill {
        classes.push(format!("fill-{}", ink(fill).0));
        let _ = write!(rest, r#" fill="{}""#, ink(fill).1);
    } else {
        rest.push_str(r#" fill="none""#);
    }
    if let Some(pen) = pen {
        classes.push(pen_class(pen).to_owned());
        let _ = write!(rest, r#" stroke="{}" stroke-width="{}""#, ink(pen.ink()).1, number(pen.width().mm()));
        if !pen.dashes().is_empty() {
            let dashes: Vec<String> = pen.dashes().iter().map(|dash| number(*dash)).collect();
            let _ = write!(rest, r#" stroke-dasharray="{}""#, dashes.join(" "));
        }
    }
    format!(r#" class="{}"{rest}"#, classes.join(" "))
}

/// How wide the place is at which a part is touched, mm: sixteen pixels at the desk.
const TOUCHED: &str = "4";

struct Writer<'a, F> {
    out: String,
    address_of: &'a F,
}

impl<F: Fn(&Balloon) -> Option<String>> Writer<'_, F> {
    fn opened(&mut self, size: (Length, Length), look: &str) -> fmt::Result {
        let (width, height) = (number(size.0.mm()), number(size.1.mm()));
        write!(
            self.out,
            r#"<svg {look} xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}mm" height="{height}mm" role="group">"#
        )
    }

    fn marks(&mut self, marks: &[Mark]) -> fmt::Result {
        marks.iter().try_for_each(|mark| self.mark(mark))
    }

    fn mark(&mut self, mark: &Mark) -> fmt::Result {
        match mark {
            Mark::Line { from, to, pen } => {
                let [x1, y1, x2, y2] = [from.x, from.y, to.x, to.y].map(number);
                write!(self.out, r#"<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"{}/>"#, look(Some(*pen), None))
            }
            Mark::Path { points, closed, pen, fill } => {
                let name = if *closed { "polygon" } else { "polyline" };
                let run: Vec<String> = points.iter().map(|at| format!("{},{}", number(at.x), number(at.y))).collect();
                write!(self.out, r#"<{name} points="{}"{}/>"#, run.join(" "), look(*pen, *fill))
            }
            Mark::Circle { centre, radius, pen, fill } => {
                let [x, y, r] = [centre.x, centre.y, radius.mm()].map(number);
                write!(self.out, r#"<circle cx="{x}" cy="{y}" r="{r}"{}/>"#, look(*pen, *fill))
            }
            Mark::Text { .. } => self.text(mark),
            Mark::Picture { at, size, name, caption } => {
                let Some(href) = address(name) else { return Ok(()) };
                let shape = rectangle(*at, *size);
                let caption = escaped(caption);
                write!(
                    self.out,
                    r#"<image href="{href}"{shape} aria-label="{caption}"><title>{caption}</title></image>"#
                )
            }
            Mark::Link { at, size, to } => {
                let href = match to {
                    LinkTo::Address(text) => address(text),
                    LinkTo::Place(name) => Some(format!("#{}", escaped(name))),
                };
                let Some(href) = href else { return Ok(()) };
                let shape = rectangle(*at, *size);
                write!(self.out, r#"<a href="{href}"><rect{shape} fill="none" pointer-events="all"/></a>"#)
            }
            Mark::Place { name, .. } => write!(self.out, r#"<g id="{}"></g>"#, escaped(name)),
            Mark::Tagged { marks, .. } => self.marks(marks),
            Mark::Group { balloon, marks } => self.group(balloon.as_ref(), marks),
        }
    }

    fn touched(&mut self, part: &Touched) -> fmt::Result {
        let Touched { balloon, reach, marks, alone } = part;
        let href = (self.address_of)(balloon).and_then(|text| address(&text));
        let href = href.map(|href| format!(r#" href="{href}""#)).unwrap_or_default();
        let kind = balloon.kind.word();
        let alone = if *alone { " alone" } else { "" };
        write!(self.out, r#"<a class="touch{alone}" data-balloon="{balloon}"{href}><title>{kind} {balloon}</title>"#)?;
        let run: Vec<String> = reach.iter().map(|at| format!("{},{}", number(at.x), number(at.y))).collect();
        // A line of one point is a round spot where its ends are round.
        let run = if let [one] = run.as_slice() { format!("{one} {one}") } else { run.join(" ") };
        write!(
            self.out,
            r#"<polyline points="{run}" fill="none" stroke="transparent" stroke-width="{TOUCHED}" stroke-linecap="round" pointer-events="stroke"/><g class="on-touch">"#
        )?;
        let mut inside = Writer { out: String::new(), address_of: &|_: &Balloon| None };
        inside.marks(marks)?;
        self.out.push_str(&inside.out);
        self.out.push_str("</g></a>");
        Ok(())
    }

    fn text(&mut self, mark: &Mark) -> fmt::Result {
        let Mark::Text { at, size, words, weight, anchor, ink: shade } = mark else { return Ok(()) };
        let [x, y, size] = [at.x, at.y, size.mm()].map(number);
        let (class, colour) = ink(*shade);
        let heavy = if *weight == Weight::Bold { r#" font-weight="bold""# } else { "" };
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => r#" text-anchor="middle""#,
            Anchor::End => r#" text-anchor="end""#,
        };
        let words = escaped(words);
        write!(
            self.out,
            r#"<text x="{x}" y="{y}" font-size="{size}" class="fill-{class}" fill="{colour}"{heavy}{anchor}>{words}</text>"#
        )
    }

    fn group(&mut self, balloon: Option<&Balloon>, marks: &[Mark]) -> fmt::Result {
        let Some(balloon) = balloon else {
            self.out.push_str("<g>");
            self.marks(marks)?;
            self.out.push_str("</g>");
            return Ok(());
        };
        let kind = balloon.kind.word();
        write!(self.out, r#"<g class="{}" data-balloon="{balloon}">"#, kind.replace(' ', "-"))?;
        let href = (self.address_of)(balloon).and_then(|text| address(&text));
        // Only a group with its number in it is a stop for the keyboard; a bar's pieces would be many stops for one place.
        let numbered = marks.iter().any(|mark| matches!(mark, Mark::Text { .. }));
        if let Some(href) = &href {
            let stop = if numbered { "" } else { r#" tabindex="-1" aria-hidden="true""# };
            write!(self.out, r#"<a href="{href}"{stop}>"#)?;
        }
        write!(self.out, "<title>{kind} {balloon}</title>")?;
        self.marks(marks)?;
        self.out.push_str(if href.is_some() { "</a></g>" } else { "</g>" });
        Ok(())
    }
}

fn rectangle(at: DVec2, size: DVec2) -> String {
    let [x, y, width, height] = [at.x, at.y, size.x, size.y].map(number);
    format!(r#" x="{x}" y="{y}" width="{width}" height="{height}""#)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::words::ids::Kind;

    const SIZE: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(50.0));

    fn said(words: &str) -> Mark {
        Mark::words(DVec2::ONE, Length::from_mm(3.5), Weight::Regular, words)
    }

    #[test]
    fn words_cannot_become_markup_and_nothing_carries_a_style() {
        let marks = [
            said("<script>alert(1)</script> & \"'"),
            Mark::Link { at: DVec2::ZERO, size: DVec2::ONE, to: LinkTo::Address("javascript:alert(1)".into()) },
            Mark::Picture {
                at: DVec2::ZERO,
                size: DVec2::ONE,
                name: "/p/1\" onload=\"x".into(),
                caption: "<b>".into(),
            },
        ];
        let svg = Svg::of(&marks, SIZE, |_| None).to_string();
        assert!(svg.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;&#39;"), "{svg}");
        for never in ["<script", "javascript:", "\" onload", "style=", "<b>"] {
            assert!(!svg.contains(never), "{never}: {svg}");
        }
    }

    #[test]
    fn a_balloon_leads_to_its_thing_and_says_what_it_is() {
        let group = Mark::Group { balloon: Some(Balloon::new(Kind::Joint, 7)), marks: vec![said("J7")] };
        let svg = Svg::of(std::slice::from_ref(&group), SIZE, |balloon| Some(format!("/builds/1/joints/{balloon}")))
            .to_string();
        assert!(
            svg.contains(r#"<g class="joint" data-balloon="J7"><a href="/builds/1/joints/J7"><title>joint J7</title>"#)
        );
        let svg = Svg::of(&[group], SIZE, |_| None).to_string();
        assert!(!svg.contains("<a ") && svg.contains("<title>joint J7</title>"), "{svg}");
    }

    /// Opened by itself, a drawing is as large as it says and has paper under it.
    #[test]
    fn a_file_of_its_own_has_its_size_its_paper_and_its_type() {
        let svg = Svg::file(&[said("J7")], SIZE).to_string();
        assert!(svg.starts_with("<svg font-family=") && svg.contains(r#"width="100mm" height="50mm""#), "{svg}");
        assert!(svg.contains(r##"<polygon points="0,0 100,0 100,50 0,50" class="fill-ink-white" fill="#fdfcf9"/>"##));
    }
}

//! A drawing may stand in a page as it is.

pub(crate) use crate::drawing::paper::svg::Svg;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Length;

    #[test]
    fn a_template_prints_it_as_it_is() {
        #[derive(askama::Template)]
        #[template(source = "{{ svg }}{{ words }}", ext = "html")]
        struct Shown {
            svg: Svg,
            words: &'static str,
        }
        let svg = Svg::of(&[], (Length::from_mm(100.0), Length::from_mm(50.0)), |_| None);
        let shown = askama::Template::render(&Shown { svg: svg.clone(), words: "<" }).unwrap();
        assert_eq!(shown, format!("{svg}&#60;"));
    }
}

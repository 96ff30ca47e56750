//! A grid as a picture: lines of equal value over two axes, common sizes as points. SVG 1.1, a few elements and escaped
//! text, so that no writer of XML is needed.

use roulade::quantity::notation::rounded;
use roulade_answer::answer::{GridAnswer, GridFigure, SizeRow};
use std::fmt::Write as _;

const WIDTH: f64 = 820.0;
const HEIGHT: f64 = 600.0;
/// Left, top, right, bottom of the drawn field.
const FIELD: [f64; 4] = [72.0, 84.0, 796.0, 536.0];

const STYLE: &str = "text{font:13px system-ui,'Segoe UI',Roboto,'Noto Sans',sans-serif;fill:#1c2630}\
    .title{font-size:17px;font-weight:600}.soft{fill:#566370}.halo{paint-order:stroke;stroke:#fbfaf6;stroke-width:4px;\
    stroke-linejoin:round}.line{fill:none;stroke:#0a625d}.grid{stroke:#dcd8cd}.frame{fill:none;stroke:#566370}\
    .size{fill:#83511f}.own{fill:none;stroke:#83511f;stroke-width:2}";

/// The first figure of a grid over two axes; `None` where it has no two axes or no figure.
pub(crate) fn grid(answer: &GridAnswer) -> Option<String> {
    let [x, y] = answer.axes.as_slice() else { return None };
    let figure = answer.figures.first()?;
    let across = Scale::of(&x.values, FIELD[0], FIELD[2])?;
    let up = Scale::of(&y.values, FIELD[3], FIELD[1])?;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" width=\"{WIDTH}\" height=\"{HEIGHT}\" \
         role=\"img\"><title>{title}</title><style>{STYLE}</style><rect width=\"100%\" height=\"100%\" fill=\"#fbfaf6\"/>",
        title = escaped(&title(answer, figure))
    );
    let text = |x: f64, y: f64, class: &str, anchor: &str, said: &str| {
        format!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" class=\"{class}\" text-anchor=\"{anchor}\">{}</text>",
            escaped(said)
        )
    };
    svg.push_str(&text(FIELD[0], 30.0, "title", "start", &title(answer, figure)));
    if !figure.note.is_empty() {
        svg.push_str(&text(FIELD[0], 48.0, "soft", "start", figure.note));
    }
    for tick in across.ticks() {
        let at = across.at(tick);
        line(&mut svg, "grid", at, FIELD[1], at, FIELD[3]);
        svg.push_str(&text(at, FIELD[3] + 18.0, "soft", "middle", &shown(tick)));
    }
    for tick in up.ticks() {
        let at = up.at(tick);
        line(&mut svg, "grid", FIELD[0], at, FIELD[2], at);
        svg.push_str(&text(FIELD[0] - 8.0, at + 4.0, "soft", "end", &shown(tick)));
    }
    svg.push_str(&text(FIELD[2], FIELD[3] + 40.0, "", "end", &axis(&x.label, x.unit)));
    svg.push_str(&text(16.0, FIELD[1] - 10.0, "", "start", &axis(&y.label, y.unit)));
    contours(&mut svg, figure, &across, &up);
    let (left, top, right, bottom) = (FIELD[0], FIELD[1], FIELD[2], FIELD[3]);
    let _ = write!(
        svg,
        "<rect class=\"frame\" x=\"{left}\" y=\"{top}\" width=\"{}\" height=\"{}\"/>",
        right - left,
        bottom - top
    );
    for size in &answer.common {
        point(&mut svg, size, &across, &up, "size");
        let (at, beside) = (across.at(size.diameter), up.at(size.height));
        let value = size.figures.first().and_then(Option::as_ref);
        let value = value.map_or(String::new(), |figure| format!(": {}", rounded(figure.value, 0.0).0));
        // To the left of the point where the right is taken: by the frame, or by the next size.
        let taken = answer.common.iter().any(|next| {
            next.diameter > size.diameter
                && across.at(next.diameter) - at < 130.0
                && (up.at(next.height) - beside).abs() < 12.0
        });
        let (at, anchor) = if taken || at > right - 130.0 { (at - 8.0, "end") } else { (at + 8.0, "start") };
        svg.push_str(&text(at, beside + 4.0, "halo", anchor, &format!("{}{value}", size.label)));
    }
    for own in answer.own.iter().filter(|own| across.holds(own.diameter) && up.holds(own.height)) {
        point(&mut svg, own, &across, &up, "own");
    }
    let foot = "Lines of equal value; points: common sizes; ring: the cell itself. Best values.";
    let foot = if answer.common.is_empty() { "Lines of equal value. Best values." } else { foot };
    svg.push_str(&text(FIELD[0], FIELD[3] + 40.0, "soft", "start", foot));
    svg.push_str("</svg>\n");
    Some(svg)
}

fn title(answer: &GridAnswer, figure: &GridFigure) -> String {
    format!("{}: {}", answer.cell, axis(figure.label, figure.unit))
}

fn axis(label: &str, unit: &str) -> String {
    if unit.is_empty() { label.to_owned() } else { format!("{label}, {unit}") }
}

fn shown(value: f64) -> String {
    value.to_string().replace('-', "−")
}

fn contours(svg: &mut String, figure: &GridFigure, across: &Scale, up: &Scale) {
    let mut labels = String::new();
    for (i, contour) in figure.contours.iter().enumerate() {
        let width = 1.0 + 1.6 * i as f64 / figure.contours.len().max(2) as f64;
        for line in &contour.lines {
            let _ = write!(svg, "<polyline class=\"line\" stroke-width=\"{width:.2}\" points=\"");
            for [x, y] in line {
                let _ = write!(svg, "{:.1},{:.1} ", across.at(*x), up.at(*y));
            }
            svg.push_str("\"/>");
        }
        // One label on the longest line of each level, at places that do not stand above one another.
        let longest = contour.lines.iter().max_by_key(|line| line.len());
        let part = 0.25 + 0.5 * ((i * 5) % 8) as f64 / 8.0;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a length")]
        let middle = longest.and_then(|line| line.get((line.len() as f64 * part) as usize));
        if let Some([x, y]) = middle {
            let (x, y) = (across.at(*x), up.at(*y) + 4.0);
            let level = shown(contour.level);
            let _ = write!(
                labels,
                "<text class=\"halo\" text-anchor=\"middle\" x=\"{x:.1}\" y=\"{y:.1}\" fill=\"#0a625d\">{level}</text>"
            );
        }
    }
    svg.push_str(&labels);
}

fn point(svg: &mut String, size: &SizeRow, across: &Scale, up: &Scale, class: &str) {
    let (x, y) = (across.at(size.diameter), up.at(size.height));
    let radius = if class == "own" { 7.0 } else { 3.5 };
    let _ = write!(svg, "<circle class=\"{class}\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius}\"/>");
}

fn line(svg: &mut String, class: &str, x1: f64, y1: f64, x2: f64, y2: f64) {
    let _ =
        write!(svg, "<line class=\"{class}\" x1=\"{x1:.1}\" y1=\"{y1:.1}\" x2=\"{x2:.1}\" y2=\"{y2:.1}\"/>");
}

/// Values to places on paper.
struct Scale {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
}

impl Scale {
    fn of(values: &[f64], low: f64, high: f64) -> Option<Self> {
        Some(Self { from: *values.first()?, to: *values.last()?, low, high })
    }

    fn at(&self, value: f64) -> f64 {
        self.low + (value - self.from) / (self.to - self.from) * (self.high - self.low)
    }

    fn holds(&self, value: f64) -> bool {
        (self.from.min(self.to)..=self.from.max(self.to)).contains(&value)
    }

    fn ticks(&self) -> Vec<f64> {
        let (least, greatest) = (self.from.min(self.to), self.from.max(self.to));
        // Ends that are round have a tick too.
        let margin = 1e-9 * (greatest - least);
        roulade_stats::contour::levels(least - margin, greatest + margin, 8)
    }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Characters that XML 1.0 has no way to write.
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_escaped() {
        assert_eq!(escaped("a<b & \"c\"\u{1b}"), "a&lt;b &amp; &quot;c&quot;\u{fffd}");
    }

    #[test]
    fn scales_have_ticks_at_round_ends() {
        let scale = Scale::of(&[16.0, 50.0], 0.0, 340.0).expect("two ends");
        assert!((scale.at(20.0) - 40.0).abs() < 1e-9);
        assert_eq!(scale.ticks(), [20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0]);
    }
}

//! Drawings as numbers: what stands where on the paper. The template makes them lines and areas.

use roulade_answer::answer::{ClaimAnswer, EstimateAnswer, Look};
use roulade_stats::decimal;

/// Rounded to a hundredth of a unit of the drawing.
fn place(x: f64) -> f64 {
    (100.0 * x).round() / 100.0
}

/// How the draws of a claim lie, and the claim among them.
#[derive(Debug)]
pub(crate) struct HistogramPicture {
    /// The outline of the draws, as points of a polygon.
    pub(crate) outline: String,
    /// Where the claim holds: left edge and width.
    pub(crate) holds: Option<(f64, f64)>,
    /// Where the claimed value stands.
    pub(crate) claimed: f64,
    /// Marks of the scale: where, and what they say.
    pub(crate) marks: Vec<(f64, String)>,
    /// The middle 95 % of the draws, from and to.
    pub(crate) middle: (f64, f64),
    /// The median.
    pub(crate) median: f64,
}

/// Width and height of the histogram.
pub(crate) const WIDE: f64 = 640.0;
const TALL: f64 = 88.0;

impl HistogramPicture {
    pub(crate) fn of(answer: &ClaimAnswer) -> Self {
        let histogram = &answer.histogram.trials;
        let end = histogram.from + histogram.step * histogram.counts.len() as f64;
        let value = answer.claim.value;
        let (low, high) = (histogram.from.min(value), end.max(value));
        let margin = 0.06 * (high - low).max(1e-9 * value.abs()).max(f64::MIN_POSITIVE);
        let (low, high) = (low - margin, high + margin);
        let x = |value: f64| place(WIDE * (value.clamp(low, high) - low) / (high - low));
        let most = histogram.counts.iter().copied().max().unwrap_or(1).max(1);
        let mut outline = vec![format!("{},{TALL}", x(histogram.from))];
        for (i, count) in histogram.counts.iter().enumerate() {
            let y = place(TALL * (1.0 - 0.92 * f64::from(*count) / f64::from(most)));
            let from = histogram.from + histogram.step * i as f64;
            outline.extend([from, from + histogram.step].map(|edge| format!("{},{y}", x(edge))));
        }
        outline.push(format!("{},{TALL}", x(end)));
        let quantile = |share: f64| {
            let found = histogram.quantiles.iter().find(|(share_of, _)| (share_of - share).abs() < 1e-9);
            x(found.map_or(histogram.mean, |(_, value)| *value))
        };
        let edges = answer.claim.low.map_or(low, |edge| edge.max(low)).min(high);
        let until = answer.claim.high.map_or(high, |edge| edge.min(high)).max(low);
        Self {
            outline: outline.join(" "),
            holds: (until > edges).then(|| (x(edges), place(x(until) - x(edges)).max(1.0))),
            claimed: x(value),
            marks: marks(low, high).into_iter().map(|(at, text)| (x(at), text)).collect(),
            middle: (quantile(0.025), quantile(0.975)),
            median: quantile(0.5),
        }
    }
}

/// Five to ten round values between two others.
fn marks(low: f64, high: f64) -> Vec<(f64, String)> {
    let rough = (high - low) / 6.0;
    if !(rough.is_finite() && rough > 0.0) {
        return Vec::new();
    }
    let power: i32 = format!("{rough:e}").split_once('e').and_then(|(_, p)| p.parse().ok()).unwrap_or(0);
    let size = |times: f64| decimal::number(&format!("{times}e{power}")).unwrap_or(rough);
    let step = [1.0, 2.0, 5.0, 10.0].map(size).into_iter().find(|step| *step >= rough).unwrap_or(rough);
    // A step of ten units of that place has one decimal less.
    let power = if step >= size(10.0) { power + 1 } else { power };
    let decimals = usize::try_from(-power).unwrap_or(0);
    let first = (low / step).ceil();
    (0..12)
        .map(|i| (first + f64::from(i)) * step)
        .take_while(|value| *value <= high)
        .map(|value| (value, format!("{:.decimals$}", value + 0.0).replace('-', "−")))
        .collect()
}

/// A half section of a cell, to scale.
#[derive(Debug)]
pub(crate) struct Half {
    pub(crate) cell: String,
    pub(crate) blocks: Vec<Area>,
    /// Where the axis stands.
    pub(crate) axis: f64,
    /// Outer height, as it is written.
    pub(crate) height: String,
    pub(crate) diameter: String,
}

/// A rectangle of it.
#[derive(Debug)]
pub(crate) struct Area {
    pub(crate) what: String,
    pub(crate) class: &'static str,
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// Room for the drawing.
pub(crate) const ROOM: (f64, f64) = (300.0, 380.0);

impl Half {
    /// One cell on both sides of its axis, or the first on the left and the second on the right, to one scale.
    pub(crate) fn both(first: &EstimateAnswer, second: Option<&EstimateAnswer>) -> Vec<Self> {
        let right = second.unwrap_or(first);
        let tallest = first.section.height.max(right.section.height);
        let widest = 0.5 * (first.section.diameter + right.section.diameter);
        let scale = (ROOM.1 / tallest).min(ROOM.0 / widest);
        if !scale.is_finite() {
            return Vec::new();
        }
        let axis = 0.5 * ROOM.0;
        [(first, -1.0), (right, 1.0)].map(|(cell, side)| Self::of(cell, side, axis, scale)).into()
    }

    fn of(answer: &EstimateAnswer, side: f64, axis: f64, scale: f64) -> Self {
        let section = &answer.section;
        let blocks = section.blocks.iter().map(|block| {
            let [from, to] = block.r.map(|r| axis + side * scale * r);
            let [low, high] = block.z.map(|z| ROOM.1 - scale * z);
            Area {
                what: block.what.clone(),
                class: class(block.look),
                x: place(from.min(to)),
                y: place(high.min(low)),
                width: place((to - from).abs()),
                height: place((low - high).abs()),
            }
        });
        Self {
            cell: answer.cell.clone(),
            blocks: blocks.collect(),
            axis,
            height: format!("{:.1}", section.height),
            diameter: format!("{:.1}", section.diameter),
        }
    }
}

fn class(look: Look) -> &'static str {
    match look {
        Look::Steel => "steel",
        Look::Copper => "copper",
        Look::Aluminium => "aluminium",
        Look::Nickel => "nickel",
        Look::Anode => "anode",
        Look::Cathode => "cathode",
        Look::Roll => "roll",
        Look::Separator => "separator",
        Look::Polymer => "polymer",
        Look::Space => "space",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_round() {
        let said = |low, high| marks(low, high).into_iter().map(|(_, text)| text).collect::<Vec<_>>();
        assert_eq!(said(247.0, 293.0), ["250", "260", "270", "280", "290"]);
        assert_eq!(said(-0.31, 0.12), ["−0.3", "−0.2", "−0.1", "0.0", "0.1"]);
        assert!(said(1.0, 1.0).is_empty() && said(f64::NAN, 1.0).is_empty());
    }
}

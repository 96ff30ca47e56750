//! What a stated coated width tells of the heights that stand in above and below it.

use super::hardware::Hardware;
use super::read::{Reader, Said, Slot};
use crate::quantity::notation;
use crate::quantity::units::Length;
use roulade_stats::uncertain::{Correlation, Spread, Uncertain};

/// The heights of the stack-up but for those of the parts.
pub(super) struct Heights {
    pub(super) can: Slot<Length>,
    pub(super) bottom: Slot<Length>,
    pub(super) width: Slot<Length>,
    pub(super) folds: [Slot<Length>; 2],
    pub(super) overhang: Slot<Length>,
    pub(super) margin: Slot<Length>,
}

/// Empty height above the roll, m: the default's 0 .. 0.8 mm as a normal law that keeps to it.
const VOID: (f64, f64) = (0.4e-3, 0.15e-3);
/// A void height that lies this many of its standard deviations above zero is in no doubt.
const IN_DOUBT: f64 = 2.5;
/// Heights that are further from the sum than so many standard deviations contradict it.
const CONTRADICTED: f64 = 3.5;

/// Gives the heights that stand in the values and the correlation that they have once their sum is known: the can's height
/// less the coated width is stated, so that a lid taken too tall cannot stand beside it. Only where, as they stand, too little
/// or hardly anything would be left above the roll; where no usual heights add to the sum, all is left for the stack-up to
/// refuse.
///
/// # Formula
/// With independent heights x of variances u² that enter the void height v with the coefficients a, and a usual void height
/// v₀ ± u₀: x′ = x + a·u²·(v₀ − v)/V and cov(x′ᵢ, x′ⱼ) = uᵢ²·δᵢⱼ − aᵢ·aⱼ·uᵢ²·uⱼ²/V, with V = Σ a²·u² + u₀² (the best linear
/// estimate of a normal vector given a linear function of it; JCGM 102:2011, 6.2, has the propagation).
pub(super) fn conditioned(
    r: &mut Reader,
    hardware: &Hardware,
    heights: &Heights,
    but: &Correlation,
) -> Correlation {
    let mut terms = vec![
        (heights.can.number(), 1.0),
        (heights.bottom.number(), -1.0),
        (heights.width.number(), -1.0),
        (heights.overhang.number(), -2.0),
        (heights.margin.number(), -2.0),
    ];
    terms.extend(heights.folds.iter().map(|fold| (fold.number(), -1.0)));
    terms.extend(hardware.heights().map(|slot| (slot.number(), -1.0)));
    let stands_in =
        |i: &usize| r.inputs.get(*i).is_some_and(|input| input.stands_in() && input.uncertain.u() > 0.0);
    let gives_way = |i: &usize| stands_in(i) && !but.inputs().contains(i);
    if !terms.iter().any(|(i, _)| gives_way(i)) {
        return Correlation::none();
    }
    let uncertain = |i: usize| r.uncertain_at(i);
    let left: f64 = terms.iter().map(|(i, a)| a * uncertain(*i).value).sum();
    let square = |x: f64| x * x;
    let variance: f64 = terms.iter().map(|(i, a)| square(a * uncertain(*i).u())).sum();
    if variance.is_nan() || left.is_nan() || left > IN_DOUBT * variance.sqrt() {
        return Correlation::none();
    }
    let (short, whole) = (VOID.0 - left, variance + VOID.1 * VOID.1);
    let moved: Vec<(usize, f64, f64)> =
        terms.iter().filter(|(i, _)| gives_way(i)).map(|(i, a)| (*i, *a, uncertain(*i).u())).collect();
    let after = |(_, a, u): (usize, f64, f64), value: f64| value + a * u * u * short / whole;
    let impossible = moved.iter().any(|term| after(*term, uncertain(term.0).value) <= 0.0);
    if impossible || short * short > CONTRADICTED * CONTRADICTED * whole {
        return Correlation::none();
    }
    // Standard deviations given the sum, and what is left of independence.
    let given = |a: f64, u: f64| u * (1.0 - square(a * u) / whole).sqrt();
    let coefficient = |(_, a, u): (usize, f64, f64), (_, b, w): (usize, f64, f64)| {
        -a * b * square(u * w) / (whole * given(a, u) * given(b, w))
    };
    let below: Vec<Vec<f64>> = moved
        .iter()
        .enumerate()
        .skip(1)
        .map(|(i, term)| moved.iter().take(i).map(|before| coefficient(*term, *before)).collect())
        .collect();
    let Some(correlation) = Correlation::new(moved.iter().map(|(i, ..)| *i).collect(), &below) else {
        return Correlation::none();
    };
    let mut replaced = Vec::new();
    for term in &moved {
        if let Some(input) = r.inputs.get_mut(term.0) {
            let (value, u) = (after(*term, input.uncertain.value), given(term.1, term.2));
            let text = notation::print(value, u, input.unit);
            if (value - input.uncertain.value).abs() > 0.5 * term.2 {
                replaced.push(format!("{}, {text} in the place of {}", input.label, input.text()));
            }
            input.uncertain = Uncertain { value, spread: Spread::Standard(u) };
            if let Said::StandIn(said, _) = &mut input.said {
                *said = text;
            }
        }
    }
    if !replaced.is_empty() {
        r.remarks.push(format!(
            "A coated width is stated, and usual heights beside it would not fit into the can: they gave way to it ({}).",
            replaced.join("; ")
        ));
    }
    correlation
}

#[cfg(test)]
mod tests {
    use crate::cell::draft::Draft;
    use serde_json::json;

    fn with_width(width: &str) -> Result<Draft, crate::quantity::problem::Problems> {
        let sheet = json!({
            "can": { "diameter": "18.4 mm", "height": "65.2 mm" },
            "cathode": { "mix": [{ "material": "NMC811" }], "width": width },
            "anode": { "mix": [{ "material": "graphite" }] },
        });
        Draft::parse(&sheet.to_string())
    }

    #[test]
    fn a_measured_width_beats_supposed_hardware() {
        let usual = with_width("54 mm").unwrap();
        let height = |draft: &Draft| {
            let input = draft.inputs().iter().find(|input| input.label == "cap assembly: height").unwrap();
            (input.uncertain.value, input.uncertain.u())
        };
        for (width, gives_way, remarked) in
            [("58.0 mm", true, false), ("59.2 mm", true, true), ("54 mm", false, false)]
        {
            let draft = with_width(width).unwrap();
            let design = draft.design().unwrap();
            assert!(design.stack().void_height.value > 0.0, "{width}");
            let found = draft.remarks().iter().any(|remark| remark.contains("they gave way to it"));
            assert_eq!(found, remarked, "{width}");
            let ((was, u_was), (is, u_is)) = (height(&usual), height(&draft));
            assert_eq!(is < was && u_is < u_was, gives_way, "{width}: {is} ± {u_is} for {was} ± {u_was}");
        }
    }

    /// Four standard deviations beyond what usual hardware leaves: no such cell, and it is refused as it was.
    #[test]
    fn a_width_that_no_usual_hardware_leaves_is_refused() {
        let problems = with_width("62 mm").unwrap().design().unwrap_err();
        assert!(problems.to_string().contains("cathode.width"), "{problems}");
    }

    /// The variance of the void height from all inputs and their correlation: below that of a usual one.
    #[test]
    fn the_void_height_is_as_uncertain_as_a_usual_one() {
        let draft = with_width("58.0 mm").unwrap();
        let void = |values: &[f64]| draft.design_at(values).unwrap().stack().void_height.value;
        let (best, base) = (draft.values(), void(&draft.values()));
        let slopes: Vec<f64> = (0..best.len())
            .map(|i| {
                let mut values = best.clone();
                values[i] += 1e-6;
                (void(&values) - base) / 1e-6
            })
            .collect();
        let u: Vec<f64> = draft.inputs().iter().map(|input| input.uncertain.u()).collect();
        let between = |i: usize, j: usize| draft.correlation().between(i, j);
        let variance: f64 = (0..u.len())
            .flat_map(|i| (0..u.len()).map(move |j| (i, j)))
            .map(|(i, j)| slopes[i] * slopes[j] * u[i] * u[j] * between(i, j))
            .sum();
        assert!(variance.sqrt() <= super::VOID.1, "{}", variance.sqrt());
        assert!(variance.sqrt() > 0.5 * super::VOID.1, "{}", variance.sqrt());
    }
}

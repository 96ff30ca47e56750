//! Two integrations that share nothing with the model: Gauss and Kronrod's, adaptive, and Gauss and Legendre's.
//!
//! Nodes and weights of the 15-point rule: Piessens, de Doncker-Kapenga, Überhuber, Kahaner, QUADPACK, Springer 1983,
//! from memory; [`tests`] checks them on polynomials, which no wrong digit would pass.

const NODES: [f64; 8] = [
    0.991_455_371_120_812_6,
    0.949_107_912_342_758_5,
    0.864_864_423_359_769_1,
    0.741_531_185_599_394_4,
    0.586_087_235_467_691_1,
    0.405_845_151_377_397_2,
    0.207_784_955_007_898_47,
    0.0,
];
const KRONROD: [f64; 8] = [
    0.022_935_322_010_529_224,
    0.063_092_092_629_978_55,
    0.104_790_010_322_250_18,
    0.140_653_259_715_525_92,
    0.169_004_726_639_267_9,
    0.190_350_578_064_785_4,
    0.204_432_940_075_298_9,
    0.209_482_141_084_727_82,
];
/// Of the seven-point rule on every second node.
const GAUSS: [f64; 4] =
    [0.129_484_966_168_869_7, 0.279_705_391_489_276_64, 0.381_830_050_505_118_9, 0.417_959_183_673_469_4];

/// The 15-point value over `a..b` and its distance from the 7-point value.
fn rule(f: &dyn Fn(f64) -> f64, a: f64, b: f64) -> (f64, f64) {
    let (centre, half) = (0.5 * (a + b), 0.5 * (b - a));
    let (mut fine, mut coarse) = (0.0, 0.0);
    for (i, (node, weight)) in NODES.iter().zip(KRONROD).enumerate() {
        let sum = if *node == 0.0 { f(centre) } else { f(centre - half * node) + f(centre + half * node) };
        fine += weight * sum;
        if i % 2 == 1 {
            coarse += GAUSS[i / 2] * sum;
        }
    }
    (half * fine, (half * (fine - coarse)).abs())
}

/// ∫ₐᵇ f, halved until each part's two rules agree to its share of `tolerance` or to rounding.
pub(super) fn integral(f: &dyn Fn(f64) -> f64, a: f64, b: f64, tolerance: f64) -> f64 {
    fn part(f: &dyn Fn(f64) -> f64, a: f64, b: f64, tolerance: f64, depth: u32) -> f64 {
        let (value, error) = rule(f, a, b);
        if error <= tolerance.max(1e-15 * value.abs()) || depth == 0 {
            return value;
        }
        let middle = 0.5 * (a + b);
        part(f, a, middle, 0.5 * tolerance, depth - 1) + part(f, middle, b, 0.5 * tolerance, depth - 1)
    }
    part(f, a, b, tolerance, 40)
}

/// ∫ₐᵇ f by Gauss and Legendre's five-point rule on `panels` equal parts.
pub(super) fn legendre(f: &dyn Fn(f64) -> f64, a: f64, b: f64, panels: u32) -> f64 {
    let root = (10.0_f64 / 7.0).sqrt();
    let near = (5.0 - 2.0 * root).sqrt() / 3.0;
    let far = (5.0 + 2.0 * root).sqrt() / 3.0;
    let (wide, narrow) = ((322.0 + 13.0 * 70.0_f64.sqrt()) / 900.0, (322.0 - 13.0 * 70.0_f64.sqrt()) / 900.0);
    let width = (b - a) / f64::from(panels);
    (0..panels)
        .map(|i| {
            let (centre, half) = (a + width * (f64::from(i) + 0.5), 0.5 * width);
            let at = |node: f64| f(centre - half * node) + f(centre + half * node);
            half * (128.0 / 225.0 * f(centre) + wide * at(near) + narrow * at(far))
        })
        .sum()
}

mod tests {
    use super::*;

    /// The 15-point rule is exact for polynomials up to degree 22, the 7-point rule up to 13, the 5-point rule up to 9.
    #[test]
    fn rules_are_exact_for_polynomials() {
        for degree in [0, 2, 6, 8, 12, 20, 22] {
            let exact = 2.0 / f64::from(degree + 1);
            let (fine, apart) = rule(&|x: f64| x.powi(degree), -1.0, 1.0);
            assert!((fine / exact - 1.0).abs() < 1e-15, "degree {degree}: {fine}");
            assert_eq!(apart < 1e-15, degree <= 13, "degree {degree}: {apart}");
            let five = legendre(&|x: f64| x.powi(degree), -1.0, 1.0, 1);
            assert_eq!((five / exact - 1.0).abs() < 1e-15, degree <= 9, "degree {degree}: {five}");
        }
        assert!((integral(&f64::exp, 0.0, 5.0, 1e-14) / (5.0_f64.exp() - 1.0) - 1.0).abs() < 1e-14);
    }
}

//! First-order propagation against worked examples of the guides.
//!
//! JCGM 100:2008, annex H.1, and JCGM 101:2008, 9.2 to 9.4 (inputs read, results recomputed); NIST Technical Note 1900
//! (2015), examples E3 and E13 (read). The crate moves each input by ± u (JCGM 100, 5.1.3, note 2), so that a model
//! without curvature gives the analytic result to rounding, and a curved one differs by its third derivative; that
//! difference is printed.

use super::say::{relative, within};
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Correlation, Uncertain};

/// Standard uncertainty of one output of a model of its inputs.
fn u(inputs: &[Uncertain], model: impl Fn(&[f64]) -> f64) -> f64 {
    let best: Vec<f64> = inputs.iter().map(|uncertain| uncertain.value).collect();
    FirstOrder::of(inputs, &Correlation::none(), &[model(&best)], |x| Some(vec![model(x)])).u(0)
}

/// JCGM 100:2008, H.1: length of an end gauge, nm; the combined uncertainty is printed as 32 nm, unrounded 31.663879.
#[test]
fn end_gauge() {
    let rectangular = |value: f64, half: f64| Uncertain::range(value - half, value + half);
    let inputs = [
        Uncertain::standard(50_000_623.0, 25.0),
        Uncertain::standard(215.0, 5.8),
        Uncertain::standard(0.0, 3.9),
        Uncertain::standard(0.0, 6.7),
        rectangular(11.5e-6, 2e-6),
        rectangular(0.0, 1e-6),
        rectangular(0.0, 0.05),
        Uncertain::standard(-0.1, 0.2),
        // An arcsine distribution of half-width 0.5 has u = 0.5/√2 (JCGM 100, H.1.3.4).
        Uncertain::standard(0.0, 0.5 / 2f64.sqrt()),
    ];
    let model = |x: &[f64]| x[0] + x[1] + x[2] + x[3] - x[0] * (x[5] * (x[7] + x[8]) + x[4] * x[6]);
    // The products are the only curvature, and a product has no third derivative: rounding of 5e7 nm remains.
    relative("end gauge, u_c in nm", 31.663_879_111_008_633, u(&inputs, model), 1e-7);
}

/// JCGM 101:2008, 9.2.2 and 9.2.4: sums of four inputs; 2 and 10.148891565.
#[test]
fn additive_models() {
    let sum = |x: &[f64]| x.iter().sum::<f64>();
    let one = Uncertain::standard(0.0, 1.0);
    relative("four normal inputs", 2.0, u(&[one; 4], sum), 1e-12);
    let half = 3f64.sqrt();
    let rectangular = |sd: f64| Uncertain::range(-half * sd, half * sd);
    let inputs = [rectangular(1.0), rectangular(1.0), rectangular(1.0), rectangular(10.0)];
    relative("three rectangulars and a wide one", 10.148_891_565_092_22, u(&inputs, sum), 1e-12);
}

/// JCGM 101:2008, 9.3: mass calibration; first order 0.0539 mg (0.053851648), where the whole distribution has 0.0755.
#[test]
fn mass_calibration() {
    let inputs = [
        Uncertain::standard(100_000.0, 0.050),
        Uncertain::standard(1.234, 0.020),
        Uncertain::range(1.10, 1.30),
        Uncertain::range(7000.0, 9000.0),
        Uncertain::range(7950.0, 8050.0),
    ];
    let model = |x: &[f64]| (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100_000.0;
    // At the best values buoyancy cancels, and so do its sensitivities: the first order misses what remains.
    relative("mass calibration, first order, mg", 0.053_851_648_071_345_05, u(&inputs, model), 1e-7);
}

/// JCGM 101:2008, 9.4: comparison loss x₁² + x₂²; first order 0.0005 at x₁ = 0.05, and nothing at x₁ = 0.
#[test]
fn comparison_loss() {
    let model = |x: &[f64]| x[0] * x[0] + x[1] * x[1];
    let at = |x1: f64| u(&[Uncertain::standard(x1, 0.005), Uncertain::standard(0.0, 0.005)], model);
    relative("comparison loss at 0.05", 0.0005, at(0.05), 1e-12);
    within("comparison loss at 0, where the first order vanishes", 0.0, at(0.0), 1e-15);
}

/// NIST TN 1900, E13: thermal expansion; first order 1.7554773e-6 (printed 1.76e-6).
#[test]
fn thermal_expansion() {
    let inputs = [
        Uncertain::standard(1.4999, 0.0001),
        Uncertain::standard(1.5021, 0.0002),
        Uncertain::standard(288.15, 0.02),
        Uncertain::standard(373.10, 0.05),
    ];
    let model = |x: &[f64]| (x[1] - x[0]) / (x[0] * (x[3] - x[2]));
    // Third derivatives over ± u: parts in 10⁷.
    relative("thermal expansion, 1/K", 1.755_477_280_812_577_7e-6, u(&inputs, model), 1e-6);
}

/// NIST TN 1900, E3: viscosity, a quotient whose divisor is known to 15 per cent. Analytic first order 1.0269; the whole
/// distribution has 1.115. Moving the divisor by ± u sees part of the curvature and lies between the two.
#[test]
fn a_strongly_curved_model_lies_between() {
    let inputs = [
        Uncertain::standard(4.63, 0.0463),
        Uncertain::standard(61.0, 6.1),
        Uncertain::standard(36.6, 5.49),
        Uncertain::standard(2217.0, 0.5),
        Uncertain::standard(1180.0, 0.5),
        Uncertain::standard(810.0, 0.5),
    ];
    let model = |x: &[f64]| x[0] * x[1] * (x[3] - x[4]) / (x[2] * (x[3] - x[5]));
    let (analytic, whole) = (1.026_894_189_303_218_9, 1.115_087_760_089_008_3);
    let found = u(&inputs, model);
    relative("viscosity, analytic first order", analytic, found, 0.03);
    assert!(analytic < found && found < whole, "{found}");
}

/// Means, standard uncertainties of the means and correlation coefficients of rows of simultaneous readings.
fn of_readings<const N: usize>(readings: [[f64; 5]; N]) -> ([Uncertain; N], [[f64; N]; N]) {
    let means = readings.map(|row| row.iter().sum::<f64>() / 5.0);
    let covariance = |i: usize, j: usize| {
        let products = readings[i].iter().zip(readings[j]).map(|(x, y)| (x - means[i]) * (y - means[j]));
        products.sum::<f64>() / (4.0 * 5.0)
    };
    let u = std::array::from_fn::<f64, N, _>(|i| covariance(i, i).sqrt());
    let uncertain = std::array::from_fn(|i| Uncertain::standard(means[i], u[i]));
    let r = std::array::from_fn(|i| std::array::from_fn(|j| covariance(i, j) / (u[i] * u[j])));
    (uncertain, r)
}

/// JCGM 100:2008, H.2: resistance, reactance and impedance from five simultaneous readings of voltage, current and phase
/// (readings read; table H.4 prints R 127.732 ± 0.071, X 219.847 ± 0.295, Z 254.260 ± 0.236 ohm; unrounded figures
/// recomputed, coefficients of correlation from memory as −0.588, −0.485 and 0.993).
#[test]
fn resistance_and_reactance() {
    const VOLTS: [f64; 5] = [5.007, 4.994, 5.005, 4.990, 4.999];
    const AMPERES: [f64; 5] = [0.019_663, 0.019_639, 0.019_640, 0.019_685, 0.019_678];
    const PHASE: [f64; 5] = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
    let model = |x: &[f64]| vec![x[0] * x[2].cos() / x[1], x[0] * x[2].sin() / x[1], x[0] / x[1]];

    let (inputs, r) = of_readings([VOLTS, AMPERES, PHASE]);
    within("r(V, I)", -0.355_311_219_817_471_7, r[1][0], 1e-9);
    let correlation = Correlation::new(vec![0, 1, 2], &[vec![r[1][0]], vec![r[2][0], r[2][1]]]).unwrap();
    let best = model(&inputs.map(|uncertain| uncertain.value));
    let first = FirstOrder::of(&inputs, &correlation, &best, |x| Some(model(x)));
    // Third derivatives over ± u, a few parts in 10⁴ of the readings: parts in 10⁷.
    let published = [
        ("R", 127.732_169_928_102_07, 0.071_071_407_396_994_96),
        ("X", 219.846_511_912_638_48, 0.295_581_677_358_638_3),
        ("Z", 254.259_701_948_018_94, 0.236_336_130_082_370_28),
    ];
    for (i, (name, value, u)) in published.into_iter().enumerate() {
        relative(&format!("{name}, ohm"), value, best[i], 1e-12);
        relative(&format!("u({name}), ohm"), u, first.u(i), 1e-5);
    }
    let together =
        |spread: &FirstOrder, i: usize, j: usize| spread.covariance(i, j) / (spread.u(i) * spread.u(j));
    within("r(R, X)", -0.588_429_784_423_579_2, together(&first, 0, 1), 1e-5);
    within("r(R, Z)", -0.485_259_224_209_99, together(&first, 0, 2), 1e-5);
    within("r(X, Z)", 0.992_511_648_949_017_1, together(&first, 1, 2), 1e-5);
    // Taken as independent, the resistance would be known nearly three times worse.
    let alone = FirstOrder::of(&inputs, &Correlation::none(), &best, |x| Some(model(x)));
    relative("u(R) without correlation", 0.194_544_454_488_58, alone.u(0), 1e-5);
    let shares: f64 = first.shares(0).iter().map(|(_, share)| share).sum();
    within("shares of R", 1.0, shares, 1e-12);
    assert!(first.shares(0).iter().any(|(_, share)| *share < 0.0), "what moves together takes away");

    // The second approach: R and X of each set, then their means; Z from these, correlated as they are.
    let of_each = |of: fn(f64, f64, f64) -> f64| std::array::from_fn(|k| of(VOLTS[k], AMPERES[k], PHASE[k]));
    let (means, r) =
        of_readings([of_each(|v, i, phi| v * phi.cos() / i), of_each(|v, i, phi| v * phi.sin() / i)]);
    within("r(R, X), second approach", -0.588_276_855_797_009_7, r[1][0], 1e-9);
    let impedance = |x: &[f64]| vec![(x[0] * x[0] + x[1] * x[1]).sqrt()];
    let correlation = Correlation::new(vec![0, 1], &[vec![r[1][0]]]).unwrap();
    let best = impedance(&means.map(|uncertain| uncertain.value));
    let spread = FirstOrder::of(&means, &correlation, &best, |x| Some(impedance(x)));
    // Published is the spread of the five impedances themselves: they differ from a straight line by parts in 10⁴.
    relative("u(Z), second approach", 0.236_247_501_703_968_88, spread.u(0), 1e-3);
}

/// JCGM 100:2008, H.3: a thermometer's calibration line y₁ + y₂·(t − 20 °C) and its value at 30 °C, −0.1494 ± 0.0041 °C
/// (data read, unrounded figures recomputed). Without the correlation of −0.93 the uncertainty would be 0.0073.
#[test]
fn calibration_line() {
    let inputs = [
        Uncertain::standard(-0.171_203_790_131_349_95, 0.002_877_597_835_159_956),
        Uncertain::standard(0.002_182_697_739_887_277, 0.000_667_938_773_227_832_1),
    ];
    let line = |x: &[f64]| vec![x[0] + 10.0 * x[1]];
    let correlation = Correlation::new(vec![0, 1], &[vec![-0.930_429_603_093_446]]).unwrap();
    let spread =
        FirstOrder::of(&inputs, &correlation, &line(&inputs.map(|uncertain| uncertain.value)), |x| {
            Some(line(x))
        });
    relative("b(30 °C), °C", 0.004_138_595_752_854_949, spread.u(0), 1e-9);
}

//! What the digits of a declared figure leave open.

/// The digits of a figure, and how far off the figure may be for them to stand as they do.
#[derive(Clone, Debug, PartialEq)]
pub struct Rounding {
    /// The number as it was written.
    pub written: String,
    /// Half a unit of the last digit that counts, in the unit as written: every digit first, then one trailing zero
    /// after the other taken as a placeholder. A tolerance that was written stands alone.
    pub halves: Vec<f64>,
    /// Which of them decides.
    pub main: usize,
    /// Whether a tolerance was written beside the number.
    pub stated: bool,
}

impl Rounding {
    /// Of a number as written, for example "290": half a unit of its last digit is 0.5, and 5 where the zero only holds
    /// a place. For a bound every digit counts; where `rough`, zeros do not, as long as two digits do.
    ///
    /// ```
    /// use roulade::study::claim::Rounding;
    /// assert_eq!(Rounding::of("290", false).halves, [0.5, 5.0]);
    /// assert_eq!(Rounding::of("5.0", false).halves, [0.05]);
    /// ```
    pub fn of(number: &str, rough: bool) -> Self {
        let (mantissa, power) = match number.split_once(['e', 'E']) {
            Some((mantissa, power)) => (mantissa, power.trim_start_matches('+').parse().unwrap_or(0)),
            None => (number, 0),
        };
        let decimals = mantissa.split_once('.').map(|(_, decimals)| decimals.len());
        let digits: String =
            mantissa.chars().filter(char::is_ascii_digit).skip_while(|digit| *digit == '0').collect();
        let zeros = match decimals {
            None => digits.len() - digits.trim_end_matches('0').len(),
            Some(_) => 0,
        };
        let last = power - i32::try_from(decimals.unwrap_or(0)).unwrap_or(i32::MAX);
        let halves: Vec<f64> = (0..=i32::try_from(zeros.min(12)).unwrap_or(0))
            .map(|dropped| {
                let half = format!("5e{}", last.saturating_add(dropped).saturating_sub(1));
                roulade_stats::decimal::number(&half).unwrap_or(0.0)
            })
            .collect();
        let main = if rough { zeros.min(digits.len().saturating_sub(2)) } else { 0 };
        Self { written: number.to_owned(), main: main.min(halves.len() - 1), halves, stated: false }
    }

    /// A tolerance that was written.
    pub fn stated(number: &str, half: f64) -> Self {
        Self { written: number.to_owned(), halves: vec![half], main: 0, stated: true }
    }

    /// The half that decides, in the unit as written.
    pub fn half(&self) -> f64 {
        self.halves.get(self.main).copied().unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trailing_zeros_may_hold_a_place() {
        for (number, halves) in [
            ("290", &[0.5, 5.0][..]),
            ("300", &[0.5, 5.0, 50.0]),
            ("291", &[0.5]),
            ("12", &[0.5]),
            ("5.00", &[0.005]),
            ("0.050", &[0.0005]),
            ("2.9e2", &[5.0]),
            ("-12.5", &[0.05]),
            ("0", &[0.5]),
        ] {
            assert_eq!(Rounding::of(number, false).halves, halves, "{number}");
        }
    }

    #[test]
    fn a_rough_figure_keeps_two_digits() {
        for (number, half) in
            [("750", 5.0), ("300", 5.0), ("5000", 50.0), ("20", 0.5), ("5.0", 0.05), ("7", 0.5)]
        {
            assert!((Rounding::of(number, true).half() - half).abs() < 1e-15, "{number}");
        }
        assert!((Rounding::of("300", false).half() - 0.5).abs() < 1e-15);
        assert!((Rounding::stated("300", 20.0).half() - 20.0).abs() < 1e-15);
    }
}

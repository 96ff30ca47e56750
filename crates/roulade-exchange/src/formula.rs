//! The formulas of the exchange standard: arithmetic of one variable x as Python writes it, read into a list of steps of
//! bounded length. Nothing is ever run but these steps.

use roulade::quantity::problem::{Problem, shortened};
use roulade_stats::maths;

/// Longest text that is read, bytes: published potentials take a few hundred.
const LONGEST: usize = 10_000;
/// Most steps: numbers, variables, operations.
const MOST_STEPS: usize = 4_000;
/// Deepest nesting of brackets, signs and exponents.
const DEEPEST: usize = 64;

/// One step of a calculation on a stack.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Step {
    Number(f64),
    X,
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Negate,
    Call(Function),
}

/// The functions that the standard names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Function {
    Exp,
    Tanh,
    Cosh,
}

/// A formula of x that was read whole.
///
/// ```
/// use roulade_exchange::Formula;
///
/// let formula = Formula::parse("1.9793 * exp(-39.3631 * x) + 0.2482 - 2*x**2")?;
/// assert!((formula.at(0.0) - 2.2275).abs() < 1e-12);
/// assert!(Formula::parse("__import__('os')").is_err());
/// # Ok::<(), roulade::quantity::problem::Problem>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Formula(Vec<Step>);

impl Formula {
    /// Reads a formula: numbers, x, `+ - * / **`, brackets, and the functions exp, tanh and cosh of one argument.
    ///
    /// # Errors
    /// Where anything else stands in it, with the character at which it was found; or where it is longer, or nested deeper,
    /// than any potential.
    pub fn parse(text: &str) -> Result<Self, Problem> {
        if text.len() > LONGEST {
            let found = format!("a formula of {} characters", text.len());
            return Err(Problem::new("", found, format!("at most {LONGEST} characters")));
        }
        let mut reader = Reader { text, at: 0, steps: Vec::new() };
        reader.sum(0)?;
        match reader.peek() {
            None => Ok(Self(reader.steps)),
            Some(_) => Err(reader.wrong("an operator, + - * / or **, or the end of the formula")),
        }
    }

    /// Its value at x; not a number, or infinite, where arithmetic has no answer.
    pub fn at(&self, x: f64) -> f64 {
        let mut stack: Vec<f64> = Vec::with_capacity(16);
        for step in &self.0 {
            let value = match *step {
                Step::Number(number) => number,
                Step::X => x,
                Step::Negate => -stack.pop().unwrap_or(f64::NAN),
                Step::Call(function) => {
                    let of = stack.pop().unwrap_or(f64::NAN);
                    match function {
                        Function::Exp => maths::exp(of),
                        Function::Tanh => maths::tanh(of),
                        Function::Cosh => maths::cosh(of),
                    }
                }
                two => {
                    let (right, left) = (stack.pop().unwrap_or(f64::NAN), stack.pop().unwrap_or(f64::NAN));
                    match two {
                        Step::Add => left + right,
                        Step::Subtract => left - right,
                        Step::Multiply => left * right,
                        Step::Divide => left / right,
                        _ => maths::pow(left, right),
                    }
                }
            };
            stack.push(value);
        }
        stack.pop().unwrap_or(f64::NAN)
    }
}

/// Reads from left to right; each rule leaves its steps behind.
struct Reader<'a> {
    text: &'a str,
    at: usize,
    steps: Vec<Step>,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }

    /// The next character that is no space, without passing it.
    fn peek(&mut self) -> Option<char> {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start_matches([' ', '\t', '\n', '\r']).len();
        self.rest().chars().next()
    }

    /// Passes a sign where it comes next; `*` is not the beginning of `**`.
    fn takes(&mut self, sign: &str) -> bool {
        let there = self.peek().is_some() && self.rest().starts_with(sign);
        let longer = sign == "*" && self.rest().starts_with("**");
        if there && !longer {
            self.at += sign.len();
        }
        there && !longer
    }

    fn wrong(&mut self, expected: &str) -> Problem {
        let next = self.peek();
        let place = self.text.get(..self.at).unwrap_or_default().chars().count() + 1;
        let found = match next {
            Some(_) => format!("\"{}\" at character {place} of a formula", shortened(self.rest())),
            None => "a formula that breaks off".to_owned(),
        };
        Problem::new("", found, expected)
    }

    fn step(&mut self, step: Step) -> Result<(), Problem> {
        if self.steps.len() >= MOST_STEPS {
            return Err(Problem::new(
                "",
                format!("a formula of more than {MOST_STEPS} numbers and operations"),
                "a shorter formula, or a table of points",
            ));
        }
        self.steps.push(step);
        Ok(())
    }

    fn deeper(depth: usize) -> Result<usize, Problem> {
        if depth < DEEPEST {
            return Ok(depth + 1);
        }
        Err(Problem::new(
            "",
            format!("a formula nested more than {DEEPEST} deep"),
            "fewer brackets within brackets",
        ))
    }

    /// `term (± term)*`
    fn sum(&mut self, depth: usize) -> Result<(), Problem> {
        let depth = Self::deeper(depth)?;
        self.product(depth)?;
        loop {
            let step = if self.takes("+") {
                Step::Add
            } else if self.takes("-") {
                Step::Subtract
            } else {
                return Ok(());
            };
            self.product(depth)?;
            self.step(step)?;
        }
    }

    /// `factor (× or ÷ factor)*`
    fn product(&mut self, depth: usize) -> Result<(), Problem> {
        self.signed(depth)?;
        loop {
            let step = if self.takes("*") {
                Step::Multiply
            } else if self.takes("/") {
                Step::Divide
            } else {
                return Ok(());
            };
            self.signed(depth)?;
            self.step(step)?;
        }
    }

    /// Signs bind less than a power, as in Python: −x² is −(x²).
    fn signed(&mut self, depth: usize) -> Result<(), Problem> {
        if self.takes("-") {
            self.signed(Self::deeper(depth)?)?;
            return self.step(Step::Negate);
        }
        if self.takes("+") {
            return self.signed(Self::deeper(depth)?);
        }
        self.power(depth)
    }

    /// `atom ** exponent`, the exponent first: 2³² is 2⁹.
    fn power(&mut self, depth: usize) -> Result<(), Problem> {
        self.atom(depth)?;
        if self.takes("**") {
            self.signed(Self::deeper(depth)?)?;
            self.step(Step::Power)?;
        }
        Ok(())
    }

    fn atom(&mut self, depth: usize) -> Result<(), Problem> {
        const EXPECTED: &str = "a number, x, a bracket, or one of exp, tanh, cosh";
        match self.peek() {
            Some('(') => {
                self.at += 1;
                self.sum(depth)?;
                self.closed()
            }
            Some(c) if c.is_ascii_digit() || c == '.' => {
                let number = self.number().ok_or_else(|| self.wrong("a number such as 1.5e-3"))?;
                self.step(Step::Number(number))
            }
            Some(c) if c.is_ascii_alphabetic() || c == '_' => {
                let name: String =
                    self.rest().chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
                let function = match name.as_str() {
                    "x" => {
                        self.at += 1;
                        return self.step(Step::X);
                    }
                    "exp" => Function::Exp,
                    "tanh" => Function::Tanh,
                    "cosh" => Function::Cosh,
                    _ => return Err(self.wrong(EXPECTED)),
                };
                self.at += name.len();
                if !self.takes("(") {
                    return Err(self.wrong("\"(\" after the name of a function"));
                }
                self.sum(depth)?;
                self.closed()?;
                self.step(Step::Call(function))
            }
            _ => Err(self.wrong(EXPECTED)),
        }
    }

    fn closed(&mut self) -> Result<(), Problem> {
        if self.takes(")") { Ok(()) } else { Err(self.wrong("an operator or \")\"")) }
    }

    /// Digits, a point, an exponent; passed only where they make a finite number.
    fn number(&mut self) -> Option<f64> {
        let bytes = self.rest().as_bytes();
        let digits =
            |from: usize| from + bytes.iter().skip(from).take_while(|byte| byte.is_ascii_digit()).count();
        let mut end = digits(0);
        if bytes.get(end) == Some(&b'.') {
            end = digits(end + 1);
        }
        if matches!(bytes.get(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
            let after = digits(end + 1 + sign);
            if after > end + 1 + sign {
                end = after;
            }
        }
        let number: f64 = self.rest().get(..end)?.parse().ok()?;
        if !number.is_finite() {
            return None;
        }
        self.at += end;
        Some(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn at(text: &str, x: f64) -> f64 {
        Formula::parse(text).unwrap().at(x)
    }

    /// What Python's own arithmetic gives for the same texts.
    #[test]
    fn the_order_of_operations_is_that_of_python() {
        for (text, wanted) in [
            ("1 + 2 * 3", 7.0),
            ("-2 ** 2", -4.0),
            ("2 ** 3 ** 2", 512.0),
            ("2 ** -1", 0.5),
            ("10 - 4 - 3", 3.0),
            ("100 / 10 / 2", 5.0),
            ("-(1 + 2) * -x", 3.0),
            ("+x--x", 2.0),
            ("1e3 + 1.5E-1 + .5 + 2.", 1002.65),
            ("exp(0) + tanh(0) + cosh(0)", 2.0),
            ("exp ( x - 1 )", 1.0),
            ("\t2 * \n x ", 2.0),
        ] {
            assert_relative_eq!(at(text, 1.0), wanted, max_relative = 1e-14);
        }
    }

    #[test]
    fn whatever_else_stands_there_is_reported_with_its_place() {
        for (text, expected) in [
            ("", "breaks off"),
            ("1 +", "breaks off"),
            ("x y", "\"y\" at character 3"),
            ("sin(x)", "\"sin(x)\" at character 1"),
            ("x.__class__", "\".__class__\" at character 2"),
            ("__import__('os').system('true')", "character 1"),
            ("exp x", "expected \"(\""),
            ("exp(x, 1)", "\", 1)\" at character 6"),
            ("(x", "breaks off"),
            ("1..2", "\".2\" at character 3"),
            ("x ^ 2", "\"^ 2\" at character 3"),
            ("1e999", "character 1"),
            ("lambda: x", "character 1"),
            ("x if x else 1", "character 3"),
            ("2 x", "\"x\" at character 3"),
            ("× x", "character 1"),
        ] {
            let problem = Formula::parse(text).unwrap_err().to_string();
            assert!(problem.contains(expected), "{text}: {problem}");
            assert!(problem.contains("expected"), "{text}: {problem}");
        }
    }

    #[test]
    fn nothing_grows_without_bound() {
        for deep in
            ["(".repeat(5_000), "-".repeat(5_000) + "1", "2**".repeat(3_000) + "1", "exp(".repeat(2_000)]
        {
            assert!(Formula::parse(&deep).unwrap_err().to_string().contains("nested"), "{}", &deep[..9]);
        }
        assert!(Formula::parse(&("1+".repeat(4_999) + "1")).unwrap_err().to_string().contains("more than"));
        assert!(Formula::parse(&"1".repeat(LONGEST + 1)).is_err());
        // As deep as may be.
        let nested = "(".repeat(DEEPEST - 1) + "x" + &")".repeat(DEEPEST - 1);
        assert_relative_eq!(at(&nested, 0.25), 0.25);
    }

    proptest! {
        #[test]
        fn no_text_is_too_strange(text in r"[-+*/().x0-9eE aexptnhcosµ,_]{0,60}") {
            if let Ok(formula) = Formula::parse(&text) {
                let _ = formula.at(0.5);
            }
        }

        #[test]
        fn a_polynomial_is_its_value(a in -9.0..9.0_f64, b in -9.0..9.0_f64, c in -9.0..9.0_f64, x in 0.0..1.0_f64) {
            let value = at(&format!("{a} + {b} * x + ({c}) * x ** 2"), x);
            prop_assert!((value - (a + b * x + c * x * x)).abs() < 1e-12);
        }
    }
}

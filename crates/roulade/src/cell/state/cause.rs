//! A change of a quantity with what is not known of it, cause by cause.

/// Something that is not known of how a cell shows in readings, of opened cells or of the model: what it moves, it moves
/// together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Cause {
    CathodeSpringBack,
    AnodeSpringBack,
    Film,
    Residue,
    Opening,
    HighFrequency,
    Pulse,
}

impl Cause {
    /// All.
    pub const ALL: [Cause; 7] = [
        Cause::CathodeSpringBack,
        Cause::AnodeSpringBack,
        Cause::Film,
        Cause::Residue,
        Cause::Opening,
        Cause::HighFrequency,
        Cause::Pulse,
    ];
}

/// What a state adds to a quantity, SI, and the standard uncertainty of that by each cause.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StateChange {
    /// Added to what the quantity is as built.
    pub by: f64,
    /// Standard uncertainty from each of [`Cause::ALL`], with the sign by which the cause moves it.
    pub u: [f64; Cause::ALL.len()],
}

impl StateChange {
    /// From one cause.
    pub fn of(by: f64, cause: Cause, u: f64) -> Self {
        let mut change = Self::exact(by);
        if let Some(slot) = change.u.get_mut(cause as usize) {
            *slot = u;
        }
        change
    }

    /// Without any doubt.
    pub fn exact(by: f64) -> Self {
        Self { by, ..Self::default() }
    }

    /// Both.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.by += other.by;
        for (own, more) in self.u.iter_mut().zip(other.u) {
            *own += more;
        }
        self
    }

    /// So many times.
    pub(super) fn times(mut self, factor: f64) -> Self {
        self.by *= factor;
        self.u.iter_mut().for_each(|u| *u *= factor);
        self
    }

    /// Standard uncertainty in all.
    pub fn uncertainty(&self) -> f64 {
        self.u.iter().map(|u| u * u).sum::<f64>().sqrt()
    }
}

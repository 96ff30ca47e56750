//! The searches themselves, over the unit cube: one figure by differential evolution, two by NSGA-II.
//!
//! Differential evolution with success-history adaptation: Tanabe and Fukunaga, IEEE Congress on Evolutionary Computation
//! (2013) 71, doi 10.1109/CEC.2013.6557555. NSGA-II: Deb, Pratap, Agarwal and Meyarivan, IEEE Trans. Evol. Comput. 6
//! (2002) 182, doi 10.1109/4235.996017. Constraints by Deb's rules in both: what holds comes before what does not, and of
//! what does not, the nearest comes first; Deb, Comput. Methods Appl. Mech. Eng. 186 (2000) 311, doi
//! 10.1016/S0045-7825(99)00389-8.

use genoxide::Objective::Maximize;
use genoxide::multi::{MultiEngine, Nsga2, Scores};
use genoxide::prelude::{
    De, Engine, Fitness, PolynomialMutation, Real, Reals, SimulatedBinaryCrossover, Stop,
};

/// What came of one design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial<const M: usize> {
    /// What is to be as great as can be.
    pub scores: [f64; M],
    /// By how much constraints are broken, in parts of their bounds; zero where all hold.
    pub broken: f64,
}

/// Designs that are bred from one another at a time.
const CROWD: usize = 100;
/// Generations without any gain after which a search for one figure ends.
const PATIENCE: u64 = 80;

/// The place in the unit cube with the greatest score, and how many designs were tried. `None` where no design could be
/// worked out at all.
pub fn best(
    inputs: usize,
    start: &[f64],
    seed: u64,
    trials: u64,
    trial: impl Fn(&[f64]) -> Option<Trial<1>> + Sync,
) -> Option<(Vec<f64>, u64)> {
    let de = De::builder(Real::uniform(inputs, 0.0..=1.0).ok()?)
        .maximize()
        .initial_genomes([start.iter().copied().collect::<Reals>()])
        .population_size(CROWD)
        .seed(seed)
        .build()
        .ok()?;
    let fitness = |genome: &Reals| match trial(genome) {
        Some(Trial { scores: [score], broken }) => Fitness::constrained(score, broken),
        None => Fitness::invalid(),
    };
    let mut engine =
        Engine::new(de, fitness).stop_when(Stop::evaluations(trials).or(Stop::stagnation(PATIENCE)));
    let outcome = engine.run().ok()?;
    let tried = outcome.evaluations();
    outcome.best_fitness().is_valid().then(|| (outcome.into_best().into_genome().into_vec(), tried))
}

/// Places in the unit cube of which none beats another in both scores, and how many designs were tried. Only those that
/// break no constraint; none where there is none.
pub fn front(
    inputs: usize,
    start: &[f64],
    seed: u64,
    trials: u64,
    trial: impl Fn(&[f64]) -> Option<Trial<2>> + Sync,
) -> (Vec<Vec<f64>>, u64) {
    let run = || -> genoxide::Result<(Vec<Vec<f64>>, u64)> {
        let nsga = Nsga2::builder(Real::uniform(inputs, 0.0..=1.0)?, [Maximize; 2])
            .initial_genomes([start.iter().copied().collect::<Reals>()])
            .population_size(CROWD)
            .crossover(SimulatedBinaryCrossover::new(20.0)?)
            .mutate(PolynomialMutation::per_gene(1.0 / inputs.max(1) as f64, 20.0)?)
            .seed(seed)
            .build()?;
        let scores = |genome: &Reals| match trial(genome) {
            Some(Trial { scores, broken }) => Scores::constrained(scores, broken),
            None => Scores::invalid(),
        };
        let outcome = MultiEngine::new(nsga, scores).stop_when(Stop::evaluations(trials)).run()?;
        let tried = outcome.evaluations();
        let holds = outcome
            .into_front()
            .into_iter()
            .filter(|one| one.fitness().is_some_and(|scores| scores.is_feasible()));
        Ok((holds.map(|one| one.into_genome().into_vec()).collect(), tried))
    };
    // Settings are constants that hold; were they not to, nothing is found.
    run().unwrap_or_default()
}

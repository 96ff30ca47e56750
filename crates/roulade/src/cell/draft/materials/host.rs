//! What makes a material a host: capacity, half-cell curve, expansion.

use super::Materials;
use super::figure::figure;
use super::used::{Expansion, HalfCell, Host};
use crate::cell::draft::filled_in::FilledIn;
use crate::cell::draft::lent::{borrowed_capacity, own_curve};
use crate::cell::draft::read::{Reader, Slot};
use crate::material::{Curve, Figure, Formula, Grade, Half, Ion};
use crate::quantity::problem::Problem;
use crate::quantity::units::{Ratio, Unit};
use crate::{material, sheet};
use roulade_stats::uncertain::Uncertain;

/// Length of a curve's continuation over what the table states: half of it either way. A judgement: what a host holds
/// beyond its usual limits differs from powder to powder by that much.
const EXTENSION: (f64, f64) = (0.5, 1.5);

impl Materials<'_> {
    pub(super) fn host(
        &mut self,
        r: &mut Reader,
        name: &str,
        table: Option<&'static material::Material>,
        own: Option<(usize, &sheet::Material)>,
    ) -> Host {
        // Where the metals were refused, what they would have lent is missed no second time.
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = self.compositions.iter().find(|composition| *composition.name == *name).cloned();
        let lent = |of: fn(&'static material::Material) -> Option<&'static Figure>| match &composition {
            Some(composition) => {
                let lender = composition.lender;
                let figure = of(lender)?;
                Some(FilledIn::lent(figure, lender.name))
            }
            None if measured => Some(FilledIn::missed()),
            None => table.and_then(of).map(FilledIn::of),
        };
        let capacity = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.capacity.as_ref()?))),
            "materials[].capacity",
            lent(|t| t.capacity.as_ref()).map(|filled| match &composition {
                Some(composition) => borrowed_capacity(filled, composition),
                None => filled,
            }),
        );
        let efficiency: Slot<Ratio> = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.initial_coulombic_efficiency.as_ref()?))),
            "materials[].initial_coulombic_efficiency",
            lent(|t| t.initial_coulombic_efficiency.as_ref()),
        );
        #[allow(clippy::single_match_else, reason = "a sheet's own curve and the table's weigh the same")]
        let half = match own.and_then(|(i, m)| Some((i, m.curve.as_ref()?))) {
            Some((i, points)) => match own_curve(points, own.and_then(|(_, m)| m.window.as_deref())) {
                Ok(curve) => {
                    let uncertain = Uncertain::exact(0.0);
                    let source = "the sheet's own curve, taken as it stands".to_owned();
                    Some(self.half(r, name, own, (curve, FilledIn::new(uncertain, Unit::Millivolt, source))))
                }
                Err(problem) => {
                    // The points of a sheet are the curve itself.
                    let place = match problem.place.strip_prefix("points") {
                        Some(point) => format!("materials[{i}].curve{point}"),
                        None => format!("materials[{i}].{}", problem.place),
                    };
                    r.problems.push(Problem { place, ..problem });
                    None
                }
            },
            None => {
                let distance = composition.as_ref().map_or(0.0, |composition| composition.distance);
                let lender = composition.map(|composition| composition.lender).or(table);
                lender.and_then(|lender| {
                    let half = lender.half?;
                    let curve = self.curve_cache.curve(lender)?;
                    let error = material::borrowed_error(half.error, distance);
                    let source = if distance > 0.0 {
                        format!(
                            "that of {} and what {:.1} % of other metals add: {}",
                            lender.name,
                            100.0 * distance,
                            half.error_source
                        )
                    } else {
                        half.error_source.to_owned()
                    };
                    self.attested(name, &half);
                    let filled = FilledIn::new(Uncertain::standard(0.0, error), Unit::Millivolt, source);
                    Some(self.half(r, name, own, (curve, filled)))
                })
            }
        };
        let ion = table.map(material::Material::ion).or_else(|| {
            let formula = Formula::read(own?.1.formula.as_deref()?).ok()?;
            [Ion::Lithium, Ion::Sodium].into_iter().find(|ion| formula.moles(ion.symbol()) > 0.0)
        });
        let ion = ion.or(measured.then_some(Ion::Lithium));
        let plates = table.and_then(|table| table.half).is_some_and(|half| half.plates);
        Host { capacity, efficiency, half, expansion: expansion(r, name, table, own), ion, plates }
    }

    /// A curve with its error and, where it goes on past its window, the length of that.
    #[allow(clippy::unused_self, reason = "beside the readers of a host's other figures")]
    pub(super) fn half(
        &self,
        r: &mut Reader,
        name: &str,
        own: Option<(usize, &sheet::Material)>,
        (curve, error): (Curve, FilledIn),
    ) -> HalfCell {
        let shift = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.potential.as_ref()?))),
            "materials[].potential",
            Some(error),
        );
        let own_points = own.is_some_and(|(_, m)| m.curve.is_some());
        let extension = (curve.reach() != curve.window()).then(|| {
            let (uncertain, source) = if own_points {
                (Uncertain::exact(1.0), "the sheet's own points, taken as they stand".to_owned())
            } else {
                let source = "how far powders differ beyond their usual limits: a judgement".to_owned();
                (Uncertain::range(EXTENSION.0, EXTENSION.1), source)
            };
            figure(
                r,
                name,
                own.and_then(|(i, m)| Some((i, m.extension.as_ref()?))),
                "materials[].extension",
                Some(FilledIn::new(uncertain, Unit::One, source)),
            )
        });
        HalfCell { curve, shift, extension }
    }

    /// A remark on a curve of the table that is not well attested.
    fn attested(&mut self, name: &str, half: &Half) {
        let whose = half.shape_of.map_or(String::new(), |lender| format!(", in shape that of {lender},"));
        if half.grade == Grade::C {
            self.remarks.push(format!(
                "The half-cell curve of {name}{whose} is uncertain: {:.0} mV either way as a standard uncertainty ({}).",
                1e3 * half.error,
                half.error_source
            ));
        }
    }
}

/// How a host of the anode swells; nothing where neither sheet nor table says it.
pub(super) fn expansion(
    r: &mut Reader,
    name: &str,
    table: Option<&'static material::Material>,
    own: Option<(usize, &sheet::Material)>,
) -> Option<Expansion> {
    let own = own.and_then(|(i, m)| Some((i, m.expansion.as_ref()?)));
    let of_table = table.and_then(|t| t.expansion.as_ref());
    if own.is_none() && of_table.is_none() {
        return None;
    }
    let at = of_table.filter(|_| own.is_none()).map(|expansion| expansion.at);
    let stand_in = of_table.map(|expansion| FilledIn::of(&expansion.volume));
    let volume = figure(r, name, own, "materials[].expansion", stand_in);
    Some(Expansion { volume, at })
}

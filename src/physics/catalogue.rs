//! Turns the name of a law and quantities by key into the law's outputs as quantities.

use thiserror::Error;

use super::law::{Card, Input, Listed, OutOfRange};
use super::laws;
use crate::quantity::{Dimension, Quantity, QuantityError};

/// The outputs of a law.
#[derive(Debug, Clone)]
pub struct Reckoned {
    /// Outputs in the order of the law.
    pub values: Vec<Value>,
    /// The inputs outside the published range; the outputs are then worth less than the source promises.
    pub outside: Vec<OutOfRange>,
}

impl Reckoned {
    /// Whether every input is inside its published range.
    pub fn in_range(&self) -> bool {
        self.outside.is_empty()
    }
}

/// One output.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// Its name.
    pub name: &'static str,
    /// The value.
    pub quantity: Quantity,
    /// The unit it is shown in.
    pub unit: &'static str,
}

/// Why a law gives nothing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ReckonError {
    /// No law of this name.
    #[error("`{0}` is no law")]
    UnknownLaw(String),
    /// A key the law does not ask for.
    #[error("`{law}` does not ask for `{key}`; it asks for {}", keys(.law))]
    UnknownKey {
        /// The law.
        law: &'static str,
        /// As given.
        key: String,
    },
    /// A key given twice.
    #[error("`{0}` is given twice")]
    Twice(&'static str),
    /// Keys that are missing.
    #[error("`{law}` needs {}", .missing.join(", "))]
    Missing {
        /// The law.
        law: &'static str,
        /// Each with its meaning and unit.
        missing: Vec<String>,
    },
    /// A quantity of another dimension.
    #[error("`{key}`: {error}; accepted: {units}")]
    Dimension {
        /// The key.
        key: &'static str,
        /// What it is and what is asked for.
        error: QuantityError,
        /// The accepted units.
        units: String,
    },
    /// An input with which the formula has no meaning.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// An output that cannot be, such as an absolute pressure below zero.
    #[error("these inputs give no possible `{output}`: {error}; check them and their units")]
    Impossible {
        /// The output.
        output: &'static str,
        /// Why not.
        error: QuantityError,
    },
}

/// Every law.
pub fn all() -> impl Iterator<Item = &'static dyn Listed> {
    laws::ALL.iter().flat_map(|group| group.iter().copied())
}

/// The law of a name; blanks and hyphens may stand for the underscores.
///
/// # Errors
/// [`ReckonError::UnknownLaw`].
pub fn find(name: &str) -> Result<&'static dyn Listed, ReckonError> {
    let wanted = name.trim().to_lowercase().replace([' ', '-'], "_");
    all().find(|law| law.card().name == wanted).ok_or_else(|| ReckonError::UnknownLaw(name.to_owned()))
}

/// The input of a key.
///
/// # Errors
/// [`ReckonError::UnknownKey`].
pub fn input(card: Card, key: &str) -> Result<&'static Input, ReckonError> {
    let wanted = key.trim().to_lowercase().replace([' ', '-'], "_");
    card.inputs
        .iter()
        .find(|input| input.key == wanted)
        .ok_or_else(|| ReckonError::UnknownKey { law: card.name, key: key.to_owned() })
}

/// Works a law out. An input outside its published range still gives a value where the formula keeps its meaning.
///
/// # Errors
/// [`ReckonError`].
pub fn reckon(name: &str, given: &[(&str, Quantity)]) -> Result<Reckoned, ReckonError> {
    let law = find(name)?;
    let card = law.card();
    let mut values: Vec<Option<f64>> = vec![None; card.inputs.len()];
    for (key, quantity) in given {
        let input = input(card, key)?;
        let place = card.inputs.iter().position(|other| other.key == input.key).unwrap_or_default();
        let quantity = quantity.checked_as(input.dimension).map_err(|error| ReckonError::Dimension {
            key: input.key,
            error,
            units: accepted_units(input.dimension),
        })?;
        if values[place].replace(quantity.si()).is_some() {
            return Err(ReckonError::Twice(input.key));
        }
    }
    let missing: Vec<String> = card
        .inputs
        .iter()
        .zip(&values)
        .filter(|(_, value)| value.is_none())
        .map(|(input, _)| in_words(input))
        .collect();
    if !missing.is_empty() {
        return Err(ReckonError::Missing { law: card.name, missing });
    }
    let values: Vec<f64> = values.into_iter().flatten().collect();
    let (outputs, outside) = law.outputs(&values)?;
    let value = |(output, si): (&super::law::Output, f64)| {
        let quantity = Quantity::new(output.dimension, si);
        let quantity = quantity.map_err(|error| ReckonError::Impossible { output: output.name, error })?;
        Ok(Value { name: output.name, quantity, unit: output.unit })
    };
    let values: Result<Vec<Value>, ReckonError> = card.outputs.iter().zip(outputs).map(value).collect();
    Ok(Reckoned { values: values?, outside })
}

/// The units a dimension takes, or that it takes none.
pub fn accepted_units(dimension: Dimension) -> String {
    let units = dimension.allowed_units();
    if units.is_empty() { "a number without a unit".to_owned() } else { units }
}

fn in_words(input: &Input) -> String {
    let unit = if input.unit.is_empty() { "a number" } else { input.unit };
    format!("{} ({}, {unit})", input.key, input.meaning)
}

fn keys(law: &str) -> String {
    let keys =
        |law: &'static dyn Listed| law.card().inputs.iter().map(|input| input.key).collect::<Vec<_>>().join(", ");
    find(law).map(keys).unwrap_or_default()
}

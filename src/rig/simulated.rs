//! Turns a simulated pump with faults into answers and readings, by the ids of the knowledge.

use super::asked::Rig;
use super::make::sound;
use crate::evidence::{Answer, Shown, of_key, shown};
use crate::knowledge::schema::Id;
use crate::knowledge::{Knowledge, did_you_mean};
use crate::physics::OutOfRange;
use crate::physics::steady::{Output, Part, State};
use crate::simulation::faults::{self, Present};
use crate::simulation::instruments::Instruments;
use crate::simulation::person::{self, Person, Scene, Sound};
use crate::simulation::{Chance, Detail, Settled, trace};
use std::rc::Rc;
use thiserror::Error;

/// What a person reads off something that no instrument of the set shows is right to such a share.
const BY_EYE: f64 = 0.05;
/// Seconds for which a needle is watched.
const WATCHED: f64 = 1.5;

/// Why there is no such pump.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RigError {
    /// No fault of this name.
    #[error("there is no fault `{0}` in the simulation; {1}")]
    NoSuchFault(Id, String),
    /// Numbers that describe no pump.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// A simulated pump in front of a person.
pub struct SimulatedPump {
    knowledge: Rc<Knowledge>,
    scene: Scene,
    instruments: Instruments,
    person: Person,
}

impl SimulatedPump {
    /// The pump of a seed with faults, each with its severity from 0 to 1. `errs`: times the usual errors of a person; 0
    /// never errs.
    ///
    /// # Errors
    /// [`RigError`].
    pub fn new(knowledge: &Rc<Knowledge>, faults: &[(Id, f64)], (seed, errs): (u64, f64)) -> Result<Self, RigError> {
        Self::on(knowledge, &sound(seed)?, faults, (seed, errs))
    }

    /// The same on a pump that is there already; the seed is that of the faults' chamber, instruments and person.
    ///
    /// # Errors
    /// [`RigError::NoSuchFault`].
    pub fn on(
        knowledge: &Rc<Knowledge>,
        sound: &Rc<Sound>,
        faults: &[(Id, f64)],
        (seed, errs): (u64, f64),
    ) -> Result<Self, RigError> {
        let chamber = Chance::of(seed, &["chamber"]).below(sound.chambers());
        let put = |(id, severity): &(Id, f64)| Ok(fault(id)?.at(*severity).in_chamber(chamber));
        let present = faults.iter().map(put).collect::<Result<Vec<Present>, RigError>>()?;
        let scene = Scene::on(sound, &present);
        let instruments = Instruments::at(scene.works(), seed);
        Ok(Self { knowledge: Rc::clone(knowledge), scene, instruments, person: Person { seed, errs } })
    }

    /// What the operator complains of: one or two findings, which may be partly wrong.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn complaints(&mut self) -> Result<Vec<&'static str>, OutOfRange> {
        person::complaints(&mut self.scene, self.person.seed)
    }

    /// Whether a finding shows, whatever a person makes of it.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn shows(&mut self, finding: &str) -> Result<bool, OutOfRange> {
        self.person.shows(finding, &mut self.scene)
    }

    /// What the reading showed on this pump before anything was wrong, SI; `None` where the physics does not know it.
    pub fn usual(&mut self, reading: &str) -> Option<f64> {
        let shown = self.shown(reading)?;
        let pair = self.scene.settled(shown.state).ok()?;
        Some(if shown.of_healthy { 1.0 } else { pair.sound.of(shown.output) })
    }

    /// What is measured beside the pump's own numbers, SI.
    fn plain(&mut self, reading: &str) -> Option<f64> {
        let mut eye = Chance::of(self.person.seed, &[reading, "eye"]);
        let mut blurred = |value: f64, error: f64| value + self.person.errs * error * eye.normal();
        let pump = &self.scene.works().pump;
        Some(match reading {
            "liquid_temp_inlet" => blurred(pump[Part::LiquidTemperature], 1.0),
            "level_over_inlet" => blurred(pump[Part::Level], 0.05),
            "barometer_local" => blurred(pump[Part::Barometer], 200.0),
            "oil_temperature" => {
                let time = eye.bits();
                let now = &self.scene.settled(State::default()).ok()?.now;
                self.instruments.read(Output::OilTemperature, now, time)?
            }
            _ => return person::taken(reading, &self.person, &mut self.scene).ok().flatten(),
        })
    }

    fn shown(&self, reading: &str) -> Option<Shown> {
        let (id, state) = of_key(reading);
        let shown = shown(self.knowledge.all.readings.get(id)?)?.ok()?;
        let state = if state.is_empty() { shown.state } else { State::parse(state).ok()? };
        Some(Shown { state, ..shown })
    }
}

fn fault(id: &str) -> Result<&'static faults::Fault, RigError> {
    faults::named(id).ok_or_else(|| {
        let near = did_you_mean(id, faults::all().map(|fault| fault.id));
        let hint =
            near.map_or_else(|| "name one of its own faults".to_owned(), |near| format!("did you mean `{near}`?"));
        RigError::NoSuchFault(id.to_owned(), hint)
    })
}

impl Rig for SimulatedPump {
    fn look(&mut self, finding: &str) -> Answer {
        match self.person.answer(finding, &mut self.scene) {
            Ok(person::Answer::Yes) => Answer::Yes,
            Ok(person::Answer::No) => Answer::No,
            Ok(person::Answer::CannotTell) | Err(_) => Answer::CantTell,
        }
    }

    fn read(&mut self, reading: &str) -> Option<f64> {
        if let Some(value) = self.plain(of_key(reading).0) {
            return Some(value);
        }
        let shown = self.shown(reading)?;
        let pair = self.scene.settled(shown.state).ok()?;
        let (now, sound): (&Settled, &Settled) = (&pair.now, &pair.sound);
        let time = Chance::of(self.person.seed, &[reading, "time"]).bits();
        let instrument = self.instruments.read(shown.output, now, time);
        let value = instrument.unwrap_or_else(|| {
            let mut eye = Chance::of(self.person.seed, &[reading, "eye"]);
            now.of(shown.output) * (1.0 + BY_EYE * self.person.errs * eye.normal())
        });
        let healthy = sound.of(shown.output);
        let value = if shown.of_healthy && healthy != 0.0 { value / healthy } else { value };
        value.is_finite().then_some(value)
    }

    fn needle(&mut self, reading: &str) -> Vec<(f64, f64)> {
        let Some(shown) = self.shown(reading) else { return Vec::new() };
        let Some(place) = gauge_of(shown.output) else { return Vec::new() };
        let Ok(curve) = trace(self.scene.works(), shown.state, WATCHED, Detail::Settled) else { return Vec::new() };
        let needles = self.instruments.needles(&curve);
        curve.iter().map(|point| point.time).zip(needles[place].iter().copied()).collect()
    }

    fn face(&self, reading: &str) -> Option<(f64, f64)> {
        let gauges = [self.instruments.inlet, self.instruments.outlet];
        Some(gauges[gauge_of(self.shown(reading)?.output)?].range)
    }
}

/// The gauge that shows an output: the inlet's is the first, the outlet's the second.
fn gauge_of(output: Output) -> Option<usize> {
    match output {
        Output::InletPressure | Output::InletSwing => Some(0),
        Output::OutletPressure | Output::OutletSwing | Output::OncePerTurn => Some(1),
        _ => None,
    }
}

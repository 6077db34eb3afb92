//! Turns what the pump settles to into the findings that follow from its numbers.
//!
//! Each has a threshold that one person in two calls "yes", and a width: near it people differ. Thresholds are common
//! practice, no source, unless one stands beside them.

use super::scene::{Pair, Scene};
use crate::physics::OutOfRange;
use crate::physics::steady::{Inlet, Oil, Orifice, Outlet, Output, Part, State};
use crate::simulation::{Settled, Works};

/// Share of people who say yes at a value, where half do at `half`: a logistic curve.
pub(super) fn rises(value: f64, half: f64, width: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-(value - half) / width))
}

/// The same for a value that has to be small.
fn falls(value: f64, half: f64, width: f64) -> f64 {
    rises(-value, -half, width)
}

/// The pump at work beside the same pump sound.
struct Seen<'a> {
    pair: &'a Pair,
    works: &'a Works,
}

impl Seen<'_> {
    fn now(&self, output: Output) -> f64 {
        self.pair.now.of(output)
    }

    fn sound(&self, output: Output) -> f64 {
        self.pair.sound.of(output)
    }

    /// Now over sound.
    fn ratio(&self, output: Output) -> f64 {
        self.now(output) / self.sound(output).max(1e-12)
    }

    fn flow(&self) -> f64 {
        flow(self.pair) * self.works.misread.flow
    }

    /// Shown pressure over the sound one.
    fn pressure(&self) -> f64 {
        let sound = self.sound(Output::OutletPressure).max(1.0);
        (self.now(Output::OutletPressure) + self.works.misread.outlet_bias) / sound
    }

    /// How much deeper the shown vacuum is, Pa.
    fn deeper(&self) -> f64 {
        self.sound(Output::InletPressure) - self.now(Output::InletPressure) - self.works.misread.inlet_bias
    }

    /// Swing of a needle, share of the pressure: what a lag of so many seconds leaves of the lines.
    fn needle(&self, lag: f64) -> f64 {
        needle(&self.pair.now, self.works, lag + self.works.misread.snubber)
    }

    fn bypass(&self) -> f64 {
        self.pair.now.bypass / self.pair.now.swept.max(1e-9)
    }

    /// What the worst chamber delivers, over the best.
    fn worst(&self) -> f64 {
        let each = &self.pair.now.each;
        let most = each.iter().copied().fold(0.0, f64::max);
        each.iter().copied().fold(f64::INFINITY, f64::min).max(0.0) / most.max(1e-6)
    }

    fn load(&self) -> f64 {
        self.now(Output::MotorCurrent) / self.works.pump[Part::CurrentRated]
    }

    fn inlet_swing(&self) -> f64 {
        libm::log(self.ratio(Output::InletSwing).max(1e-3))
    }
}

/// Delivered flow over the sound one.
fn flow(pair: &Pair) -> f64 {
    pair.now.of(Output::DeliveredFlow) / pair.sound.of(Output::DeliveredFlow).max(1e-9)
}

/// Swing of a needle behind a lag, share of the mean.
fn needle(settled: &Settled, works: &Works, lag: f64) -> f64 {
    let left = |times: f64| {
        let turned = std::f64::consts::TAU * settled.of(Output::PumpSpeed) * times * lag;
        1.0 / (1.0 + turned * turned).sqrt()
    };
    let once = settled.of(Output::OncePerTurn) * left(1.0);
    2.0 * libm::hypot(once, settled.of(Output::RippleAtN) * left(f64::from(works.pump.chambers)))
}

/// Time constant of a usual gauge's needle, s, and of one that is not damped at all.
const NEEDLE: (f64, f64) = (0.05, 0.01);

/// A finding and the share of people who say yes.
type Number = (&'static str, fn(&Seen) -> f64);

/// What one pump at work shows.
const AT_WORK: &[Number] = &[
    ("low_flow", |seen| falls(seen.flow(), 0.92, 0.02)),
    ("no_delivery", |seen| falls(seen.flow(), 0.04, 0.01)),
    ("flow_half_or_less", |seen| falls(seen.flow(), 0.55, 0.03)),
    ("flow_a_little_short", |seen| falls(seen.flow(), 0.95, 0.01).min(rises(seen.flow(), 0.82, 0.02))),
    ("flow_short_by_one_chamber", |seen| {
        let one = 1.0 / f64::from(seen.works.pump.chambers);
        falls((1.0 - seen.flow() - one).abs(), 0.08, 0.02)
    }),
    ("pressure_low", |seen| falls(seen.pressure(), 0.93, 0.02)),
    ("pressure_half_or_less", |seen| falls(seen.pressure(), 0.52, 0.03)),
    ("pressure_high", |seen| rises(seen.pressure(), 1.06, 0.015)),
    ("outlet_needle_swings", |seen| rises(seen.needle(NEEDLE.0), 0.04, 0.01)),
    ("needle_shakes_fast", |seen| {
        rises(2.0 * seen.now(Output::RippleAtN), 0.03, 0.006).min(rises(seen.needle(NEEDLE.1), 0.01, 0.002))
    }),
    ("pulse_each_turn", |seen| rises(seen.now(Output::OncePerTurn), 0.008, 0.002)),
    ("pipes_shake", |seen| rises(seen.now(Output::OutletSwing) / seen.works.pump.design.pressure, 0.05, 0.012)),
    ("inlet_needle_swings", |seen| rises(seen.inlet_swing(), libm::log(2.0), 0.2)),
    ("inlet_hose_jumps", |seen| rises(seen.inlet_swing(), libm::log(3.0), 0.25)),
    ("swing_within_log", |seen| {
        let inlet = falls(seen.inlet_swing().abs(), libm::log(1.4), 0.1);
        inlet * falls(libm::log(seen.ratio(Output::OutletSwing).max(1e-3)), libm::log(1.5), 0.1)
    }),
    ("crackle_noise", |seen| rises(seen.pair.now.vapour, 0.08, 0.02)),
    ("starved_with_little_vacuum", |seen| {
        rises(seen.pair.now.vapour, 0.08, 0.02) * rises(seen.now(Output::InletPressure), -25e3, 4e3)
    }),
    ("knock_each_turn", |seen| rises(seen.pair.now.cavity.max(2.0 * seen.pair.now.gas), 0.12, 0.03)),
    ("outlet_spits", |seen| rises(seen.pair.now.gas, 0.03, 0.008)),
    ("vacuum_deeper_than_usual", |seen| rises(seen.deeper(), 6e3, 1.2e3)),
    ("inlet_above_limit", |seen| rises(seen.now(Output::InletPressure), 1.5e5, 0.15e5)),
    ("vacuum_jumps_over_strainer", |seen| rises(strainer(seen), 6e3, 1.2e3)),
    ("shaft_turns_slow", |seen| falls(seen.ratio(Output::PumpSpeed), 0.965, 0.007)),
    ("shaft_turns_fast", |seen| rises(seen.ratio(Output::PumpSpeed), 1.035, 0.005)),
    ("current_over_plate", |seen| rises(seen.load(), 1.02, 0.015)),
    ("motor_hot", |seen| rises(seen.load(), 1.1, 0.04)),
    ("motor_trips", |seen| rises(seen.load(), 1.2, 0.03)),
    ("current_near_idle", |seen| {
        let idle = seen.works.pump[Part::CurrentIdle];
        let over = |current: f64| (current - idle).max(0.0);
        falls(over(seen.now(Output::MotorCurrent)) / over(seen.sound(Output::MotorCurrent)).max(0.1), 0.2, 0.04)
    }),
    ("oil_hot_to_touch", |seen| rises(seen.now(Output::OilTemperature), 338.0, 2.0)),
    ("bypass_line_flows", |seen| rises(seen.bypass(), 0.01, 0.002)),
    ("bypass_line_warm", |seen| rises(seen.bypass(), 0.04, 0.01)),
    ("relief_full_flow", |seen| rises(seen.bypass(), 0.6, 0.05)),
    ("far_outlet_weaker", |seen| falls(seen.now(Output::NozzleShare), 0.88, 0.02)),
    ("chamber_differs", |seen| falls(seen.worst(), 0.85, 0.04)),
    ("cover_feels_dead", |seen| falls(seen.worst(), 0.2, 0.04)),
    ("relief_opens_early", |seen| falls(opening(seen), 0.92, 0.015)),
    ("relief_opens_late", |seen| rises(opening(seen), 1.08, 0.015)),
    ("second_gauge_differs", |seen| {
        let off = seen.works.misread.outlet_bias.abs() / seen.works.pump.design.pressure;
        rises(off, 0.05, 0.008)
    }),
    ("inlet_second_gauge_differs", |seen| rises(seen.works.misread.inlet_bias.abs(), 4e3, 0.7e3)),
    ("gauge_needle_lazy", |seen| rises(seen.works.misread.snubber, 3.0, 0.6)),
    ("all_readings_as_baseline", |seen| {
        let near = |value: f64, off: f64| falls((value - 1.0).abs(), off, off / 8.0);
        near(seen.flow(), 0.04)
            * near(seen.pressure(), 0.04)
            * falls(seen.deeper().abs(), 4e3, 0.5e3)
            * near(seen.ratio(Output::PumpSpeed), 0.015)
            * near(seen.ratio(Output::MotorCurrent), 0.06)
            * falls((seen.now(Output::OilTemperature) - seen.sound(Output::OilTemperature)).abs(), 6.0, 0.8)
    }),
];

/// Pressure lost over the strainer beyond what it usually takes, Pa.
fn strainer(seen: &Seen) -> f64 {
    let bore = seen.works.pump[Part::InletBore];
    let velocity = seen.now(Output::DeliveredFlow) / (std::f64::consts::FRAC_PI_4 * bore * bore);
    let more = seen.works.pump[Part::StrainerLosses] - seen.works.sound[Part::StrainerLosses];
    more * seen.works.pump.liquid.density * velocity * velocity / 2.0
}

/// Opening pressure of the relief over that of the sound pump.
fn opening(seen: &Seen) -> f64 {
    seen.works.pump[Part::ReliefOpening] / seen.works.sound[Part::ReliefOpening]
}

/// What another state shows beside the pump at work: the two pairs, at work first.
type Trial = (&'static str, State, fn(&Seen, &Pair) -> f64);

const HALF: State =
    State { speed: 50, outlet: Outlet::Working, inlet: Inlet::AsFound, oil: Oil::Warm, orifice: Orifice::Fitted };
const FULL: State = State { speed: 100, ..HALF };

/// Better flow, or, where flow is all there is, no vapour or no air any more: over pressure a leak lets liquid out.
fn helps(seen: &Seen, other: &Pair) -> f64 {
    let full = rises(flow(other), 0.95, 0.01);
    let quiet = rises(seen.pair.now.vapour - other.now.vapour, 0.1, 0.03) * full;
    let clear = rises(seen.pair.now.gas - other.now.gas, 0.03, 0.008) * full;
    rises(flow(other) - flow(seen.pair), 0.05, 0.01).max(0.8 * quiet.max(clear))
}

/// What is tried.
const TRIALS: &[Trial] = &[
    // At the same pressure: behind a fixed orifice half the flow would leave a quarter of it, and leaks half of theirs.
    ("loss_same_at_half_speed", State { outlet: Outlet::Held, ..HALF }, |seen, half| {
        let lost = |pair: &Pair| pair.sound.of(Output::DeliveredFlow) - pair.now.of(Output::DeliveredFlow);
        let full = lost(seen.pair);
        let alike = (lost(half) / full.max(1e-9) - 1.0).abs();
        rises(1.0 - flow(seen.pair), 0.04, 0.01) * falls(alike, 0.35, 0.06)
    }),
    ("better_at_half_speed", HALF, |seen, half| rises(flow(half) - flow(seen.pair), 0.05, 0.012)),
    ("flooding_helps", State { inlet: Inlet::Flooded, ..FULL }, helps),
    ("bucket_helps", State { inlet: Inlet::Flooded, ..FULL }, helps),
    ("known_orifice_low", State { orifice: Orifice::Known, ..FULL }, |seen, known| {
        let shown = known.now.of(Output::OutletPressure) + seen.works.misread.outlet_bias;
        falls(shown / known.sound.of(Output::OutletPressure), 0.93, 0.015)
    }),
    ("falls_with_pressure", State { outlet: Outlet::Open, ..FULL }, |seen, open| {
        let through = |settled: &Settled| settled.of(Output::DeliveredFlow) + settled.bypass + settled.outside;
        let lost = |pair: &Pair| through(&pair.now) / through(&pair.sound).max(1e-9);
        rises(lost(open) - lost(seen.pair), 0.06, 0.012)
    }),
    ("better_when_warm", State { oil: Oil::Cold, ..FULL }, |seen, cold| {
        rises(flow(seen.pair) - flow(cold), 0.05, 0.012)
    }),
    ("pressure_jumps_on_shutoff", State { outlet: Outlet::Shut, ..FULL }, |seen, shut| {
        rises(shut.now.of(Output::OutletPressure) / seen.works.sound[Part::ReliefOpening], 1.2, 0.02)
    }),
];

/// Ids of all findings that follow from numbers.
pub fn ids() -> impl Iterator<Item = &'static str> {
    AT_WORK.iter().map(|number| number.0).chain(TRIALS.iter().map(|trial| trial.0))
}

/// How often people say yes to a finding, from the pump's numbers; `None` where they say nothing of it.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn share(finding: &str, scene: &mut Scene) -> Result<Option<f64>, OutOfRange> {
    if let Some((_, number)) = AT_WORK.iter().find(|number| number.0 == finding) {
        let pair = scene.settled(FULL)?.clone();
        return Ok(Some(number(&Seen { pair: &pair, works: scene.works() })));
    }
    let Some((_, state, trial)) = TRIALS.iter().find(|trial| trial.0 == finding) else { return Ok(None) };
    let other = scene.settled(*state)?.clone();
    let pair = scene.settled(FULL)?.clone();
    Ok(Some(trial(&Seen { pair: &pair, works: scene.works() }, &other)))
}

//! Turns the pressure over a check valve into its lift and what passes it: lag, leak, and parts that hold it open or shut.
//!
//! The lift follows the pressure as a first-order lag, one time to open and one to close (assumed; no mass and spring).
//! Flow is that of an orifice, rounded where the pressure turns round.

/// Pressure within which the orifice law is rounded off, Pa.
const ROUND: f64 = 300.0;

/// A check valve, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Valve {
    /// Discharge coefficient times area at full lift, m².
    pub area: f64,
    /// Pressure that lifts it, Pa.
    pub lifts_at: f64,
    /// From there to full lift, Pa.
    pub to_full: f64,
    /// Time constant of opening, s.
    pub opening: f64,
    /// Time constant of closing, s.
    pub closing: f64,
    /// Way past the closed valve, share of the full area.
    pub leak: f64,
    /// Lift below which it does not close, 0 to 1.
    pub held: f64,
    /// Lift above which it does not open, 0 to 1.
    pub most: f64,
}

/// A valve at one length of step: how far it follows in one step.
#[derive(Debug, Clone, Copy, Default)]
pub struct Paced {
    area: f64,
    lifts_at: f64,
    to_full: f64,
    opens: f64,
    closes: f64,
    leak: f64,
    held: f64,
    most: f64,
}

/// What passes a valve.
#[derive(Debug, Clone, Copy, Default)]
pub struct Passing {
    /// m³/s, positive forward.
    pub flow: f64,
    /// Its change with the pressure over the valve, m³/s per Pa.
    pub slope: f64,
    /// Lift at the end of the step, 0 to 1.
    pub lift: f64,
}

/// Orifice flow at 1 m² and density 2, and its change with pressure: √Δp, rounded off within [`ROUND`].
pub fn through(pressure: f64) -> (f64, f64) {
    let root = (pressure * pressure + ROUND * ROUND).sqrt();
    let quarter = root.sqrt();
    (pressure / quarter, (1.0 - 0.5 * pressure * pressure / (root * root)) / quarter)
}

impl Valve {
    /// The valve in steps of so many seconds, in a liquid of so many kg/m³.
    pub fn paced(&self, step: f64, density: f64) -> Paced {
        let follows = |time: f64| if time <= 0.0 { 1.0 } else { 1.0 - libm::exp(-step / time) };
        Paced {
            area: self.area * (2.0 / density).sqrt(),
            lifts_at: self.lifts_at,
            to_full: self.to_full.max(1.0),
            opens: follows(self.opening),
            closes: follows(self.closing),
            leak: self.leak,
            held: self.held.clamp(0.0, 1.0),
            most: self.most.clamp(0.0, 1.0),
        }
    }
}

impl Paced {
    /// What passes at the end of a step in which the pressure over the valve becomes `pressure`, from a lift. The slope
    /// may be the secant instead: Newton's method on a square root runs in a circle, on the secant it closes in.
    #[inline]
    pub fn pass(&self, lift: f64, pressure: f64, secant: bool) -> Passing {
        let wanted = ((pressure - self.lifts_at) / self.to_full).clamp(0.0, 1.0);
        let follows = if lift < wanted { self.opens } else { self.closes };
        let free = lift + follows * (wanted - lift);
        let now = free.max(self.held).min(self.most.max(self.held));
        let moves = if 0.0 < wanted && wanted < 1.0 && self.held < free && free < self.most {
            follows / self.to_full
        } else {
            0.0
        };
        let open = now + self.leak;
        let (one, change) = through(pressure);
        let flow = self.area * open * one;
        let change = if secant && 1.0 < pressure.abs() { one / pressure } else { change };
        Passing { flow, slope: self.area * (open * change + moves * one), lift: now }
    }
}

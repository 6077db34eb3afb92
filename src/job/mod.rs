//! Turns events into a job, and a job into what the screens show.
//!
//! [`Event`]s → [`Job`] (a fold; undo, resume and record are the same fold) → [`Sitting`] (job + belief + plan) → views.
//! Time comes in with the event; nothing here asks a clock or touches a disk. What may be entered is proposed as an
//! event, saved by the caller, and only then applied.

mod codes;
mod complete;
mod course;
mod dial;
mod enter;
mod event;
mod fold;
mod form;
mod gates;
mod handover;
mod keep;
mod merge;
mod next;
mod past;
mod pump;
mod reasons;
mod remarks;
mod results;
mod settings;
mod sitting;
mod status;
mod stop;
mod summary;
mod views;
mod work;

pub use codes::CodeRow;
pub use complete::{AllChecks, rests_on};
pub use course::Course;
pub use dial::{DialBand, DialView, OnDial};
pub use enter::{Entered, Refused};
pub use event::{Ending, Entry, Event, JOURNAL_VERSION, Outcome, PumpNote, ZeroProof};
pub use fold::{Given, Job, Where};
pub use form::{Filled, FormRow, Helps};
pub use gates::{
    FirstRun, GateKind, GateLine, GateView, Gates, IDLE_MINUTES, Isolation, Lapse, Said, Takes, is_answered, is_idle,
};
pub use handover::Handover;
pub use keep::{Archive, JobLine, Keeper, Taken};
pub use merge::{Fate, fate};
pub use next::Next;
pub use past::{CameBack, came_back, find};
pub use reasons::{
    AfterAnswer, AnswerWeight, Doubts, IdeaOfCause, IdeaView, Look, Sway, TurningAnswer, Unexplained, WhyCause,
    WhyStep, weight_word,
};
pub use remarks::{follow_up_day, initials_and_role, photo_note};
pub use results::{ChainLink, Confirming, ExpectedReading, RemedyView, ResultCause, Results, RunOnView};
pub use settings::Setting;
pub use sitting::{Sitting, SittingError};
pub use status::{ConfirmedBy, Status, confirmed_by, statuses};
pub use stop::StopView;
pub use summary::{JobSummary, job_id};
pub use views::{AskView, CautionView, Header, LikelyRow, LookRow, NumberView, StepView, TrailRow, stamp};
pub use work::{
    Broke, Judged, Proof, RemedyPlan, Repair, SecondThoughts, ServiceLineView, ServiceView, SheetView, Sheets, TryView,
    Work,
};

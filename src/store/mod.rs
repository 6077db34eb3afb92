//! Turns disk and clock into text, paths and instants; the only folder that opens files or asks the time.
//!
//! The bytes are never interpreted here: a journal holds opaque one-line JSON texts, a knowledge file is a `String`.
//! A job's life: [`data_dir`] → [`create_job`] → [`Journal::append`] per event → later [`list_jobs`] →
//! [`Journal::open`] to go on, or [`read_events`] only to look.

pub mod clock;
pub mod edits;
pub mod files;
pub mod folders;
pub mod fresh;
pub mod index;
pub mod journal;

mod disk;
mod frame;
mod listing;
mod lock;
mod repair;
mod settings;
mod tail;

pub use clock::{Stopwatch, local, now};
pub use disk::DiskError;
pub use edits::{EditError, FileEdit, LastEdit, last_edit, save_edit, undone_edits};
pub use files::{ReadError, WriteError, read_text, write_atomic};
pub use folders::{FolderError, JobFile, create_job, data_dir, list_jobs, next_job_path, sheet_path};
pub use frame::{Flaw, Scan, scan};
pub use fresh::{FreshError, write_folder, write_new};
pub use index::{Index, index_path};
pub use journal::{Damage, Journal, JournalError, TornTail, read_events};
pub use listing::{LeftOut, Listing, list};
pub use settings::{read_settings, settings_path, write_settings};

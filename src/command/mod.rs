//! Turns the words typed after `weephole` into work, and errors into exit codes: 0 done, 1 could not, 2 bad usage or file.

mod archive;
mod arguments;
mod attempt;
mod bench;
mod blind_spots;
mod bring;
mod desk;
mod diagnose;
mod edit;
mod expect;
mod home;
mod knowledge;
mod learn;
mod look;
mod merge;
mod own_case;
mod paper;
mod past;
mod practise;
mod print;
mod prove;
mod rank;
mod reckon;
mod record;
mod rows;
mod settings;
mod several;
mod share;
mod shelf;
mod snippets;
mod trial;
mod trial_told;

use arguments::{Arguments, Command};
use clap::Parser as _;
use std::process::ExitCode;
use thiserror::Error;

/// Why a command did not do its work.
#[derive(Debug, Error)]
pub(crate) enum Failure {
    /// Could not be done: exit 1.
    #[error("{0}")]
    Could(String),
    /// Bad usage or a bad file: exit 2.
    #[error("{0}")]
    Bad(String),
    /// Bad files, already told in full: exit 2.
    #[error("")]
    Told,
    /// Could not be done, already told in full: exit 1.
    #[error("")]
    CouldTold,
}

impl Failure {
    fn code(&self) -> u8 {
        match self {
            Self::Could(_) | Self::CouldTold => 1,
            Self::Bad(_) | Self::Told => 2,
        }
    }
}

/// Runs the program with the arguments of the process.
pub fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let code = u8::from(error.use_stderr()) * 2;
            print::usage(&error);
            return ExitCode::from(code);
        }
    };
    let done = work(&arguments);
    let done = done.and_then(|()| print::not_written().map_or(Ok(()), |why| Err(Failure::Could(why.to_owned()))));
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            let text = failure.to_string();
            if !text.is_empty() {
                print::error(&text);
            }
            ExitCode::from(failure.code())
        }
    }
}

fn work(arguments: &Arguments) -> Result<(), Failure> {
    match &arguments.command {
        None => diagnose::run(arguments, None),
        Some(Command::Job(job)) => diagnose::run(arguments, Some(job)),
        Some(Command::Knowledge(part)) => knowledge::run(arguments, &part.work),
        Some(Command::Rank(rank)) => rank::run(arguments, rank),
        Some(Command::Reckon(law)) => reckon::run(law),
        Some(Command::Expect(pump)) => expect::run(arguments, pump),
        Some(Command::Record(record)) => record::run(arguments, record),
        Some(Command::Jobs(jobs)) => past::run(arguments, jobs),
        Some(Command::Practice(part)) => practise::run(arguments, part),
        Some(Command::Completions { shell }) => {
            home::completions(*shell);
            Ok(())
        }
        Some(Command::Man { folder }) => home::manual(folder.as_deref()),
        Some(Command::Trial(trial)) => trial::run(arguments, trial),
    }
}

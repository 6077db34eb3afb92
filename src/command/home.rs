//! `weephole completions` and `weephole man`: what a shell and a manual expect, from the words of the command line.

use super::arguments::{Arguments, Shell};
use super::{Failure, print};
use crate::store;
use clap::CommandFactory as _;
use clap_complete::{Shell as Kind, generate};
use clap_mangen::Man;
use std::path::Path;

/// Name of the program.
const NAME: &str = "weephole";

/// Prints the completions for a shell.
pub fn completions(shell: Shell) {
    let kind = match shell {
        Shell::Bash => Kind::Bash,
        Shell::Zsh => Kind::Zsh,
        Shell::Fish => Kind::Fish,
        Shell::Powershell => Kind::PowerShell,
    };
    let mut text = Vec::new();
    generate(kind, &mut Arguments::command(), NAME, &mut text);
    print::out(String::from_utf8_lossy(&text).trim_end());
}

/// Prints the manual page, or writes one for every command into a folder.
pub fn manual(folder: Option<&Path>) -> Result<(), Failure> {
    let mut command = Arguments::command();
    command.build();
    let Some(folder) = folder else {
        print::out(page(command)?.trim_end());
        return Ok(());
    };
    let mut pages = Vec::new();
    gather(command, NAME.to_owned(), &mut pages)?;
    store::data_dir(Some(folder)).map_err(|error| Failure::Could(error.to_string()))?;
    for (name, text) in &pages {
        let path = folder.join(format!("{name}.1"));
        store::write_atomic(&path, text).map_err(|error| Failure::Could(error.to_string()))?;
    }
    print::out(&format!("{} pages written.", pages.len()));
    Ok(())
}

/// The pages of a command and of all commands below it, by name.
fn gather(command: clap::Command, name: String, pages: &mut Vec<(String, String)>) -> Result<(), Failure> {
    for inner in command.get_subcommands().filter(|inner| inner.get_name() != "help") {
        gather(inner.clone(), format!("{name}-{}", inner.get_name()), pages)?;
    }
    pages.push((name, page(command)?));
    Ok(())
}

fn page(command: clap::Command) -> Result<String, Failure> {
    let mut text = Vec::new();
    Man::new(command).render(&mut text).map_err(|error| Failure::Could(format!("cannot make the page: {error}")))?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}

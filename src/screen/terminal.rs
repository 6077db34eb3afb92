//! Turns a real terminal into events for a program and pictures for the person; leaves it as it was found.

use super::signals::{Asked, Signals};
use super::{ScreenError, watch};
use crossterm::event::{self, DisableBracketedPaste, EnableBracketedPaste, Event, KeyEvent};
use crossterm::execute;
use crossterm::terminal::{EnterAlternateScreen, disable_raw_mode, enable_raw_mode};
use ratatui::{DefaultTerminal, Frame};
use std::io;
use std::panic;
use std::time::Duration;

/// How long to wait for a key before looking again.
const WAIT: Duration = Duration::from_millis(250);
/// The same while something moves.
const FRAME: Duration = Duration::from_millis(80);

/// What runs on a terminal.
pub trait Program {
    /// True once there is nothing more to show.
    fn is_over(&self) -> bool;
    /// True while something is still to be worked out that no key may interrupt: draw, then call [`Program::think`].
    fn is_thinking(&self) -> bool;
    /// Works it out.
    fn think(&mut self);
    /// True while there is more to work out between keys: call [`Program::work`] while no key waits.
    fn is_working(&self) -> bool;
    /// Works a little on.
    fn work(&mut self);
    /// True while something is on top that must be seen: what was typed before must not answer it.
    fn is_stopped(&self) -> bool;
    /// The screen has this many columns and rows.
    fn resize(&mut self, columns: u16, rows: u16);
    /// Takes a key.
    fn key(&mut self, key: KeyEvent);
    /// Takes pasted text.
    fn paste(&mut self, text: &str);
    /// Draws what is on top.
    fn view(&self, frame: &mut Frame<'_>);
    /// Looks at the clock; called before each picture.
    fn tick(&mut self) {}
    /// True while something moves on the screen: pictures follow one another faster.
    fn is_moving(&self) -> bool {
        false
    }
}

/// Runs a program on the terminal until it is over.
pub(super) fn run(app: &mut dyn Program) -> Result<(), ScreenError> {
    watch_panics();
    let _watch = watch::Watch::begin();
    let signals = Signals::begin().map_err(ScreenError::Terminal)?;
    let result = match ratatui::try_init() {
        Ok(mut terminal) => paste_as_one().and_then(|()| turns(&mut terminal, app, &signals)),
        Err(error) => Err(error),
    };
    let restored = restore();
    signals.end_if_asked();
    result.and(restored).map_err(ScreenError::Terminal)
}

fn paste_as_one() -> io::Result<()> {
    execute!(io::stdout(), EnableBracketedPaste)
}

fn restore() -> io::Result<()> {
    let paste = execute!(io::stdout(), DisableBracketedPaste);
    ratatui::try_restore().and(paste)
}

/// Takes the terminal again, whatever was done to it meanwhile, and forgets what it showed.
fn take_again(terminal: &mut DefaultTerminal) -> io::Result<()> {
    // Modes are remembered as they were found; switched off first, so that they are set and not taken for set.
    disable_raw_mode()?;
    enable_raw_mode()?;
    execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste)?;
    terminal.clear()
}

/// Gives the terminal back, stops, and takes it again once somebody says to go on.
fn pause(terminal: &mut DefaultTerminal, signals: &Signals) -> io::Result<()> {
    restore()?;
    terminal.show_cursor()?;
    signals.stop()?;
    take_again(terminal)
}

/// The hook that `ratatui::try_init` sets knows nothing of pasting: this one, set before it, switches that off.
fn watch_panics() {
    let earlier = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        let _ = execute!(io::stdout(), DisableBracketedPaste);
        earlier(info);
    }));
}

fn turns(terminal: &mut DefaultTerminal, app: &mut dyn Program, signals: &Signals) -> io::Result<()> {
    while !app.is_over() {
        match signals.asked() {
            Asked::Nothing => {}
            Asked::Stop => pause(terminal, signals)?,
            Asked::GoneOn => take_again(terminal)?,
            // Everything answered is saved.
            Asked::End => return Ok(()),
        }
        let size = terminal.size()?;
        app.resize(size.width, size.height);
        app.tick();
        terminal.draw(|frame| app.view(frame))?;
        if app.is_thinking() {
            app.think();
            drop_typed_ahead(app)?;
        } else if app.is_working() && !event::poll(Duration::ZERO)? {
            app.work();
        } else if event::poll(if app.is_moving() { FRAME } else { WAIT })? {
            let was_stopped = app.is_stopped();
            if take_all(app)? {
                pause(terminal, signals)?;
            }
            if app.is_stopped() && !was_stopped {
                drop_typed_ahead(app)?;
            }
        }
    }
    Ok(())
}

/// Everything that waits, before the next picture; but nothing beyond an answer, whose page nobody has seen yet. True if the
/// program is to stop for a while.
fn take_all(app: &mut dyn Program) -> io::Result<bool> {
    let was_stopped = app.is_stopped();
    loop {
        match event::read()? {
            Event::Key(key) if super::keys::is_pause(key) => return Ok(true),
            Event::Key(key) => app.key(key),
            Event::Paste(text) => app.paste(&text),
            _ => {}
        }
        let is_new = app.is_thinking() || app.is_stopped() != was_stopped;
        if app.is_over() || is_new || !event::poll(Duration::ZERO)? {
            return Ok(false);
        }
    }
}

/// Keys pressed while the next step was worked out were meant for a page that is gone. Ways out still count.
fn drop_typed_ahead(app: &mut dyn Program) -> io::Result<()> {
    while !app.is_over() && event::poll(Duration::ZERO)? {
        if let Event::Key(key) = event::read()?
            && super::keys::is_way_out(key)
        {
            app.key(key);
        }
    }
    Ok(())
}

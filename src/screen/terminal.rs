//! Turns a real terminal into events for the app and pictures for the person; leaves it as it was found.

use super::app::App;
use super::{ScreenError, watch};
use crossterm::event::{self, DisableBracketedPaste, EnableBracketedPaste, Event};
use crossterm::execute;
use ratatui::DefaultTerminal;
use std::io;
use std::panic;
use std::time::Duration;

/// How long to wait for a key before looking again.
const WAIT: Duration = Duration::from_millis(250);

/// Runs the app on the terminal until it is over.
pub(super) fn run(app: &mut App<'_>) -> Result<(), ScreenError> {
    watch_panics();
    let _watch = watch::Watch::begin();
    let result = match ratatui::try_init() {
        Ok(mut terminal) => paste_as_one().and_then(|()| turns(&mut terminal, app)),
        Err(error) => Err(error),
    };
    let restored = restore();
    result.and(restored).map_err(ScreenError::Terminal)
}

fn paste_as_one() -> io::Result<()> {
    execute!(io::stdout(), EnableBracketedPaste)
}

fn restore() -> io::Result<()> {
    let paste = execute!(io::stdout(), DisableBracketedPaste);
    ratatui::try_restore().and(paste)
}

/// The hook that `ratatui::try_init` sets knows nothing of pasting: this one, set before it, switches that off.
fn watch_panics() {
    let earlier = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        let _ = execute!(io::stdout(), DisableBracketedPaste);
        earlier(info);
    }));
}

fn turns(terminal: &mut DefaultTerminal, app: &mut App<'_>) -> io::Result<()> {
    while !app.is_over() {
        let size = terminal.size()?;
        app.resize(size.width, size.height);
        terminal.draw(|frame| app.view(frame))?;
        if app.is_thinking() {
            app.think();
            drop_typed_ahead(app)?;
        } else if app.is_working() && !event::poll(Duration::ZERO)? {
            app.work();
        } else if event::poll(WAIT)? {
            let was_stopped = app.is_stopped();
            take_all(app)?;
            if app.is_stopped() && !was_stopped {
                drop_typed_ahead(app)?;
            }
        }
    }
    Ok(())
}

/// Everything that waits, before the next picture; but nothing beyond an answer, whose page nobody has seen yet.
fn take_all(app: &mut App<'_>) -> io::Result<()> {
    let was_stopped = app.is_stopped();
    loop {
        match event::read()? {
            Event::Key(key) => app.key(key),
            Event::Paste(text) => app.paste(&text),
            _ => {}
        }
        let is_new = app.is_thinking() || app.is_stopped() != was_stopped;
        if app.is_over() || is_new || !event::poll(Duration::ZERO)? {
            return Ok(());
        }
    }
}

/// Keys pressed while the next step was worked out were meant for a page that is gone. Ways out still count.
fn drop_typed_ahead(app: &mut App<'_>) -> io::Result<()> {
    while !app.is_over() && event::poll(Duration::ZERO)? {
        if let Event::Key(key) = event::read()?
            && super::keys::is_way_out(key)
        {
            app.key(key);
        }
    }
    Ok(())
}

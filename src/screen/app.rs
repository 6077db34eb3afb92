//! Turns keys into effects and effects into a changed job: a stack of pages, each owning its state.
//!
//! After an answer the likely causes are drawn at once; the next step is worked out behind that ([`Program::think`]).

use super::frame::{Message, around, scroll_of};
use super::keys::{Hint, is_plain, is_way_out};
use super::page::{Desk, Effect, Kind, Page, Purpose, World};
use super::pages::{gate, rebuild, results, service, start, step, stop, try_out, walk};
use super::place::{Scroll, scrolled};
use super::sheet::{self, Around, Sheet};
use super::terminal::Program;
use super::theme::{Remember, Theme};
use super::{Options, ScreenError, parts};
use crate::job::{Archive, Next, Sitting};
use crate::knowledge::Knowledge;
use crate::text::clean;
use crossterm::event::KeyEvent;
use ratatui::Frame;
use ratatui::layout::Rect;
use std::rc::Rc;

/// A page and how far it is scrolled.
pub(super) struct Layer {
    /// The page.
    pub page: Box<dyn Page>,
    /// Rows scrolled away.
    pub scroll: usize,
}

/// The program behind the terminal.
pub struct App<'a> {
    pub(super) archive: &'a mut dyn Archive,
    pub(super) record: fn(&Sitting) -> String,
    pub(super) world: World,
    pub(super) layers: Vec<Layer>,
    pub(super) message: Option<Message>,
    pub(super) remember: Remember,
    pub(super) is_over: bool,
}

impl<'a> App<'a> {
    /// Opens the first page, or takes a job up at once.
    pub fn new(archive: &'a mut dyn Archive, knowledge: Rc<Knowledge>, options: Options) -> Result<Self, ScreenError> {
        let Options { family, resume, record, look } = options;
        let jobs = if resume.is_none() { archive.jobs() } else { Vec::new() };
        let world = World { desk: None, knowledge, family, jobs, theme: look.theme, size: (80, 24) };
        let (message, remember) = (look.first_message(), look.remember);
        let mut app = Self { archive, record, world, layers: Vec::new(), message, remember, is_over: false };
        match resume {
            Some(number) => {
                let taken = app.archive.resume(number).map_err(ScreenError::Archive)?;
                app.take_up(taken, true)?;
                app.put_stop_on_top();
            }
            None => app.open(Box::new(start::Start::default())),
        }
        Ok(app)
    }

    /// What can be done now.
    pub fn hints(&self) -> Vec<Hint> {
        self.top().map(|layer| layer.page.hints(&self.world)).unwrap_or_default()
    }

    /// True while letters are typed as text.
    pub fn is_typing(&self) -> bool {
        self.top().is_some_and(|layer| layer.page.is_typing())
    }

    /// Cautions of the page on top as they are said, gravest first.
    pub fn cautions(&self) -> Vec<String> {
        self.top().map(|layer| layer.page.sheet(&self.world).said_cautions()).unwrap_or_default()
    }

    /// Another theme from now on.
    pub fn wear(&mut self, theme: Theme) {
        self.world.theme = theme;
    }

    fn top(&self) -> Option<&Layer> {
        self.layers.last()
    }

    /// Puts a page on top.
    pub(super) fn open(&mut self, page: Box<dyn Page>) {
        self.layers.push(Layer { page, scroll: 0 });
    }

    fn scroll(&mut self, by: Scroll) {
        let area = Rect::new(0, 0, self.world.size.0, self.world.size.1);
        let Some(layer) = self.layers.last() else { return };
        let (sheet, around) = (layer.page.sheet(&self.world), self.around());
        let scroll = scrolled(&sheet, &around, area, layer.scroll, by);
        if let Some(layer) = self.layers.last_mut() {
            layer.scroll = scroll;
        }
    }

    fn around(&self) -> Around {
        around(parts::header(&self.world), self.message.as_ref(), &self.hints(), (self.world.size, &self.world.theme))
    }
}

impl Program for App<'_> {
    fn is_over(&self) -> bool {
        self.is_over
    }

    fn is_thinking(&self) -> bool {
        !self.is_over && matches!(self.top().map(|layer| layer.page.kind()), Some(Kind::Thinking(_)))
    }

    /// Works out what comes next and puts its page where the likely causes were.
    fn think(&mut self) {
        let Some(Kind::Thinking(purpose)) = self.top().map(|layer| layer.page.kind()) else { return };
        let Some(desk) = &self.world.desk else { return };
        let page = match purpose {
            Purpose::Walk => walk_page(&desk.sitting).unwrap_or_else(|| next_page(desk)),
            Purpose::Step => next_page(desk),
        };
        self.put_job_page(page);
        self.put_stop_on_top();
    }

    fn is_working(&self) -> bool {
        !self.is_over && self.top().is_some_and(|layer| layer.page.is_working())
    }

    fn work(&mut self) {
        if let Some(layer) = self.layers.last_mut() {
            layer.page.work(&self.world);
        }
    }

    /// True while a stop rule is on top.
    fn is_stopped(&self) -> bool {
        matches!(self.top().map(|layer| layer.page.kind()), Some(Kind::Stop(_)))
    }

    fn resize(&mut self, columns: u16, rows: u16) {
        self.world.size = (columns, rows);
    }

    fn key(&mut self, key: KeyEvent) {
        if is_way_out(key) {
            self.carry_out(vec![Effect::Leave]);
            return;
        }
        if !is_plain(key) {
            return;
        }
        self.message = None;
        if self.notice_pause() {
            return;
        }
        if let Some(by) = scroll_of(key.code, &self.hints()) {
            self.scroll(by);
            return;
        }
        let Some(layer) = self.layers.last_mut() else { return };
        let effects = layer.page.press(key, &self.world);
        self.carry_out(effects);
    }

    fn paste(&mut self, text: &str) {
        self.message = None;
        if let Some(layer) = self.layers.last_mut() {
            layer.page.paste(&clean(text), &self.world);
        }
    }

    fn view(&self, frame: &mut Frame<'_>) {
        let area = frame.area();
        let (sheet, scroll) =
            self.top().map_or((Sheet::default(), 0), |layer| (layer.page.sheet(&self.world), layer.scroll));
        sheet::draw(&sheet, &self.around(), scroll, &self.world.theme, (area, frame.buffer_mut()));
    }
}

fn walk_page(sitting: &Sitting) -> Option<Box<dyn Page>> {
    let rows = sitting.walk_round(walk::LOOKS);
    if rows.is_empty() || sitting.job.closed.is_some() { None } else { Some(Box::new(walk::Walk::new(rows))) }
}

fn next_page(desk: &Desk) -> Box<dyn Page> {
    if let Some((ending, ..)) = desk.sitting.job.closed {
        return Box::new(results::ResultsPage::ended(ending, desk));
    }
    match desk.sitting.next() {
        Next::Stop(stop) => Box::new(stop::StopPage::new(stop)),
        Next::Gate(gate) => Box::new(gate::GatePage::before(gate)),
        Next::Ask(step) => match step::StepPage::new(step) {
            Some(page) => Box::new(page),
            None => Box::new(results::ResultsPage::ended(crate::job::Ending::NothingWorthAsking, desk)),
        },
        Next::Sheet(step) => Box::new(rebuild::RebuildPage::new(*step)),
        Next::Try(view) => Box::new(try_out::TryPage::new(view)),
        Next::Return(_) => Box::new(service::ServicePage::new()),
        Next::Ended(ending) => Box::new(results::ResultsPage::ended(ending, desk)),
    }
}

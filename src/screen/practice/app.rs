//! Turns keys into moves of a practice job: a stack of pages, each owning its state, as in a real job.

use super::choose::Choose;
use super::debriefed::Debriefed;
use super::helps::Helps;
use super::job::JobPage;
use super::missed::Missed;
use super::page::{Effect, Page, World, boxed};
use super::small::Ending;
use crate::knowledge::schema::{Help, Id};
use crate::practice::{Exercise, Happened, Move, NotMade, PracticeChoice, Progress, Room};
use crate::screen::frame::{Message, around, scroll_of};
use crate::screen::keys::{Hint, is_plain, is_way_out};
use crate::screen::lines::{minutes, sentence, two_ends};
use crate::screen::place::scrolled;
use crate::screen::sheet::{self, Around, Sheet};
use crate::screen::terminal::Program;
use crate::screen::theme::{Look, Remember, Theme, next_theme};
use crate::text::{clean, width};
use crossterm::event::KeyEvent;
use jiff::Timestamp;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use std::rc::Rc;

/// What the caller decides.
#[derive(Debug, Clone)]
pub struct PracticeOptions {
    /// How it looks.
    pub look: Look,
    /// The clock by which the needles move.
    pub now: fn() -> Timestamp,
}

/// A page and how far it is scrolled.
struct Layer {
    page: Box<dyn Page>,
    scroll: usize,
}

/// Practice behind the terminal.
pub struct PracticeApp<'a> {
    room: Room<'a>,
    world: World,
    layers: Vec<Layer>,
    message: Option<Message>,
    is_over: bool,
    remember: Remember,
    now: fn() -> Timestamp,
    began: Timestamp,
}

/// Stops the rest of a list of effects.
struct Halted;

impl<'a> PracticeApp<'a> {
    /// Takes up the job that did not end, begins the lesson chosen beforehand, or shows what there is to practise.
    pub fn new(room: Room<'a>, choice: PracticeChoice, options: PracticeOptions) -> Self {
        let world = World {
            knowledge: Rc::clone(room.knowledge()),
            exercise: None,
            dials: None,
            groups: Vec::new(),
            progress: Progress::default(),
            unsaved: false,
            theme: options.look.theme,
            size: (80, 24),
            seconds: 0.0,
        };
        let (now, began) = (options.now, (options.now)());
        let (message, remember) = (options.look.first_message(), options.look.remember);
        let mut app = Self { room, world, layers: Vec::new(), message, is_over: false, remember, now, began };
        app.back_to_choice();
        match (choice.lesson, choice.help) {
            (Some(lesson), Some(help)) => app.carry_out(vec![Effect::Begin(lesson, choice.seed, help)]),
            (Some(lesson), None) => app.open(boxed(Helps::new(&lesson, choice.seed, &app.world))),
            (None, _) => app.take_up(),
        }
        app
    }

    /// What can be done now.
    pub fn hints(&self) -> Vec<Hint> {
        self.top().map(|layer| layer.page.hints(&self.world)).unwrap_or_default()
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

    fn open(&mut self, page: Box<dyn Page>) {
        self.layers.push(Layer { page, scroll: 0 });
    }

    fn say(&mut self, text: &str, is_trouble: bool) {
        self.message = Some(Message { text: sentence(text), is_trouble });
    }

    fn trouble(&mut self, text: &str) -> Result<(), Halted> {
        self.say(text, true);
        Err(Halted)
    }

    /// The list of lessons as it stands after what was practised last.
    fn back_to_choice(&mut self) {
        let (groups, progress, trouble) = self.room.stand();
        (self.world.groups, self.world.progress) = (groups, progress);
        (self.world.exercise, self.world.dials) = (None, None);
        self.layers.clear();
        self.open(boxed(Choose::default()));
        if !trouble.is_empty() {
            self.say(&trouble.join("; "), true);
        }
    }

    fn take_up(&mut self) {
        let Some(taken) = self.room.take_up() else { return };
        match taken.exercise {
            Ok(exercise) => {
                self.begun(exercise);
                self.say(&format!("{} It goes on where it was.", taken.notices.join(" ")), false);
            }
            Err(why) => self.say(&format!("{} It cannot be taken up: {why}", taken.notices.join(" ")), true),
        }
    }

    fn begun(&mut self, exercise: Exercise) {
        let page = JobPage::new(exercise.help);
        (self.world.exercise, self.world.dials, self.world.unsaved) = (Some(exercise), None, false);
        self.layers.truncate(1);
        self.open(boxed(page));
    }

    /// Carries out effects in order, up to the first that fails.
    fn carry_out(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if self.do_one(effect).is_err() {
                break;
            }
        }
    }

    fn do_one(&mut self, effect: Effect) -> Result<(), Halted> {
        match effect {
            Effect::Begin(lesson, seed, help) => return self.begin(&lesson, (seed, help)),
            Effect::Make(made) => return self.make(made),
            Effect::Open(page) => self.open(page),
            Effect::Close => {
                self.layers.pop();
            }
            Effect::ToChoice => self.back_to_choice(),
            Effect::NextTheme => self.message = Some(next_theme(&mut self.world.theme, &self.remember)),
            Effect::Leave => self.is_over = true,
        }
        Ok(())
    }

    fn begin(&mut self, lesson: &Id, (seed, help): (Option<u64>, Help)) -> Result<(), Halted> {
        match self.room.begin(lesson, (seed, help)) {
            Ok(exercise) => {
                self.begun(exercise);
                Ok(())
            }
            Err(why) => self.trouble(&format!("this lesson cannot be begun: {why}")),
        }
    }

    /// Saves a move and makes it; then the page of the job is on top, or what must be seen first.
    fn make(&mut self, made: Move) -> Result<(), Halted> {
        let Some(exercise) = &mut self.world.exercise else { return Err(Halted) };
        let noted = noted(&made);
        let happened = match self.room.make(exercise, made) {
            Ok(happened) => happened,
            Err(why) => {
                self.world.unsaved |= matches!(why, NotMade::NotSaved(_));
                return self.trouble(&why.to_string());
            }
        };
        self.world.unsaved = false;
        self.layers.truncate(2);
        for layer in &mut self.layers {
            layer.page.refresh(&self.world);
            layer.scroll = 0;
        }
        match happened {
            Happened::Done(done) => self.say(&format!("Done: {}, {}", done.name, minutes(done.minutes)), false),
            Happened::Unsafe(miss) => self.open(boxed(Missed::new(miss))),
            Happened::Noted => self.say(noted, false),
            Happened::Over => self.open(boxed(Ending)),
        }
        Ok(())
    }

    /// Marks and debrief of the job that has ended.
    fn end(&mut self) {
        let Some(exercise) = self.world.exercise.take() else { return };
        let ended = self.room.end(&exercise);
        self.back_to_choice();
        match ended {
            Ok(ended) => {
                if let Some(why) = &ended.not_saved {
                    self.say(&format!("The marks were not saved: {why}"), true);
                }
                self.open(boxed(Debriefed::new(ended)));
            }
            Err(why) => self.say(&format!("The planner cannot play it: {why}"), true),
        }
    }

    /// Lesson, help, minutes, saved.
    fn header(&self) -> Line<'static> {
        let (theme, columns) = (&self.world.theme, usize::from(self.world.size.0).saturating_sub(2));
        let Some(exercise) = &self.world.exercise else {
            let release = format!("knowledge {}", self.world.knowledge.release);
            return two_ends(("weephole practice", theme.header), (&release, theme.header), columns, theme.marks.cut);
        };
        let saved = if self.world.unsaved { "NOT SAVED" } else { "saved" };
        let (name, spent) = (&exercise.lesson.1.name, exercise.minutes());
        let short = format!("{spent:.0} min  {saved}");
        let long = format!("help: {}  seed {}  {short}", exercise.help.word(), exercise.seed);
        let whole = format!("practice: {name}");
        let candidates = [(&whole, &long), (&whole, &short), (name, &short)];
        let fits = |(left, right): &&(&String, &String)| width(left) + 2 + width(right) <= columns;
        let (left, right) = candidates.iter().find(fits).unwrap_or(&candidates[2]);
        two_ends((left, theme.header), (right, theme.header), columns, theme.marks.cut)
    }

    fn around(&self) -> Around {
        around(self.header(), self.message.as_ref(), &self.hints(), (self.world.size, &self.world.theme))
    }

    fn shows_dials(&self) -> bool {
        self.top().is_some_and(|layer| layer.page.shows_dials())
    }

    fn stands(&self) -> bool {
        self.world.exercise.as_ref().is_none_or(Exercise::stands)
    }
}

/// What is said of a move that only had to be noted.
fn noted(made: &Move) -> &'static str {
    match made {
        Move::Isolates => "Stopped, locked, relieved, zero proved twice",
        Move::Readies => "The list before the first run is walked",
        Move::Stops => "The pump is stopped",
        _ => "Noted",
    }
}

impl Program for PracticeApp<'_> {
    fn is_over(&self) -> bool {
        self.is_over
    }

    fn is_thinking(&self) -> bool {
        !self.is_over && self.top().is_some_and(|layer| layer.page.is_ending())
    }

    fn think(&mut self) {
        self.end();
    }

    fn is_working(&self) -> bool {
        let wants_dials = self.world.dials.is_none() && !self.stands() && self.shows_dials();
        !self.is_over && (wants_dials || self.top().is_some_and(|layer| layer.page.is_working()))
    }

    fn work(&mut self) {
        let Some(layer) = self.layers.last_mut() else { return };
        if layer.page.is_working() {
            layer.page.work(&self.world);
        } else if let Some(exercise) = &mut self.world.exercise {
            self.world.dials = Some(exercise.dials());
        }
    }

    /// True while an unsafe move is on top.
    fn is_stopped(&self) -> bool {
        self.top().is_some_and(|layer| layer.page.is_grave())
    }

    fn resize(&mut self, columns: u16, rows: u16) {
        self.world.size = (columns, rows);
    }

    fn key(&mut self, key: KeyEvent) {
        if is_way_out(key) {
            self.is_over = true;
            return;
        }
        if !is_plain(key) {
            return;
        }
        self.message = None;
        if let Some(by) = scroll_of(key.code, &self.hints()) {
            let area = Rect::new(0, 0, self.world.size.0, self.world.size.1);
            let Some(layer) = self.layers.last() else { return };
            let scroll = scrolled(&layer.page.sheet(&self.world), &self.around(), area, layer.scroll, by);
            self.layers.iter_mut().last().into_iter().for_each(|layer| layer.scroll = scroll);
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

    fn tick(&mut self) {
        self.world.seconds = (self.now)().duration_since(self.began).as_secs_f64();
    }

    fn is_moving(&self) -> bool {
        self.shows_dials() && !self.stands() && self.world.dials.as_ref().is_some_and(|dials| !dials.is_empty())
    }
}

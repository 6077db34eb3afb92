//! Turns keys into drafts of knowledge: a stack of pages, each owning its state, as in a job.

use super::draft::DraftPage;
use super::drawn::HelpPage;
use super::entry::EntryPage;
use super::list::List;
use super::page::{Effect, Page, World, boxed};
use crate::editing::entry_lines;
use crate::proof::{Noticed, Workshop};
use crate::screen::frame::{Message, around, scroll_of};
use crate::screen::keys::{Hint, is_plain, is_way_out};
use crate::screen::lines::{sentence, two_ends};
use crate::screen::place::scrolled;
use crate::screen::sheet::{self, Around, Sheet};
use crate::screen::terminal::Program;
use crate::screen::theme::{Look, Remember, Theme, next_theme};
use crate::text::{clean, width};
use crossterm::event::KeyEvent;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

/// Pictures between two looks at the files: about two seconds at rest.
const BETWEEN_LOOKS: u32 = 8;

/// A page and how far it is scrolled.
struct Layer {
    page: Box<dyn Page>,
    scroll: usize,
}

/// The bench behind the terminal.
pub struct BenchApp<'a> {
    shop: &'a mut dyn Workshop,
    world: World,
    layers: Vec<Layer>,
    message: Option<Message>,
    remember: Remember,
    is_over: bool,
    pictures: u32,
}

impl<'a> BenchApp<'a> {
    /// The list of all entries.
    pub fn new(shop: &'a mut dyn Workshop, look: Look) -> Self {
        let knowledge = shop.knowledge();
        let lines = entry_lines(&knowledge);
        let world = World { knowledge, lines, theme: look.theme, size: (80, 24) };
        let (message, remember) = (look.first_message(), look.remember);
        let mut app = Self { shop, world, layers: Vec::new(), message, remember, is_over: false, pictures: 0 };
        app.open(boxed(List::new(&app.world)));
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

    /// Takes over the knowledge of the workshop; pages with nothing to show any more go.
    fn refresh(&mut self) {
        self.world.knowledge = self.shop.knowledge();
        self.world.lines = entry_lines(&self.world.knowledge);
        let world = &self.world;
        self.layers.retain_mut(|layer| layer.page.refresh(world));
    }

    fn do_one(&mut self, effect: Effect) {
        match effect {
            Effect::Open(page) => self.open(page),
            Effect::Entry(id) => match EntryPage::new(&id, &self.world) {
                Some(page) => self.open(boxed(page)),
                None => self.say(&format!("`{id}` is no entry"), true),
            },
            Effect::Close => {
                self.layers.pop();
            }
            Effect::Draft(edit) => match self.shop.draft(&[edit]) {
                Ok(drafted) => self.open(boxed(DraftPage::new(drafted, false))),
                Err(why) => self.say(&why, true),
            },
            Effect::Undo => match self.shop.draft_undo() {
                Ok(drafted) => self.open(boxed(DraftPage::new(drafted, true))),
                Err(why) => self.say(&why, true),
            },
            Effect::Accept(second) => self.accept(second.as_deref()),
            Effect::Drop => {
                self.shop.drop_draft();
                self.layers.pop();
                self.say("nothing was saved", false);
            }
            Effect::Help => {
                let page = HelpPage::new(self.hints());
                self.open(boxed(page));
            }
            Effect::NextTheme => self.message = Some(next_theme(&mut self.world.theme, &self.remember)),
            Effect::Leave => self.leave(),
        }
    }

    fn accept(&mut self, second: Option<&str>) {
        match self.shop.accept(second) {
            Ok(done) => {
                self.layers.retain(|layer| !layer.page.is_of_change());
                self.refresh();
                self.say(&done, false);
            }
            Err(why) => self.say(&why, true),
        }
    }

    fn leave(&mut self) {
        self.shop.drop_draft();
        self.is_over = true;
    }

    fn header(&self) -> Line<'static> {
        let (theme, columns) = (&self.world.theme, usize::from(self.world.size.0).saturating_sub(2));
        let left = format!("bench: {}", self.shop.place());
        let (release, hash) = (&self.world.knowledge.release, &self.world.knowledge.hash);
        let candidates = [format!("knowledge {release} ({hash})"), format!("knowledge {release}"), String::new()];
        let fits = |right: &&String| width(&left) + 2 + width(right) <= columns;
        let right = candidates.iter().find(fits).unwrap_or(&candidates[2]);
        two_ends((&left, theme.header), (right, theme.header), columns, theme.marks.cut)
    }

    fn around(&self) -> Around {
        around(self.header(), self.message.as_ref(), &self.hints(), (self.world.size, &self.world.theme))
    }

    /// Notices what somebody else saved. A draft is read against what it was made of, so it is left alone.
    fn look(&mut self) {
        match self.shop.look() {
            Some(Noticed::ReadAgain(what)) => {
                self.refresh();
                self.say(&format!("the files were changed by somebody else and read again: {what}"), false);
            }
            Some(Noticed::Broken(what)) => {
                self.say(
                    &format!("the files were changed and cannot be used; the last good knowledge stays: {what}"),
                    true,
                );
            }
            None => {}
        }
    }
}

impl Program for BenchApp<'_> {
    fn is_over(&self) -> bool {
        self.is_over
    }

    fn is_thinking(&self) -> bool {
        false
    }

    fn think(&mut self) {}

    fn is_working(&self) -> bool {
        !self.is_over && self.top().is_some_and(|layer| layer.page.waits())
    }

    /// The cases are played elsewhere; here it is only asked whether they are through.
    fn work(&mut self) {
        if let (Some(proof), Some(layer)) = (self.shop.proof(), self.layers.last_mut()) {
            layer.page.proved(proof);
        }
    }

    fn is_stopped(&self) -> bool {
        false
    }

    fn resize(&mut self, columns: u16, rows: u16) {
        self.world.size = (columns, rows);
    }

    fn key(&mut self, key: KeyEvent) {
        if is_way_out(key) {
            self.leave();
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
        for effect in effects {
            self.do_one(effect);
        }
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
        self.pictures = self.pictures.wrapping_add(1);
        let is_changing = self.layers.iter().any(|layer| layer.page.is_of_change());
        if self.pictures.is_multiple_of(BETWEEN_LOOKS) && !is_changing {
            self.look();
        }
    }
}

//! Pictures of the supervisor's bench on a small knowledge in memory, and what its keys do.

#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "fixtures/look.rs"]
mod look;

use crossterm::event::{KeyCode, KeyEvent};
use look::{is_kept, sizes_of_all_kinds, without_colours};
use std::cell::RefCell;
use std::rc::Rc;
use weephole::editing::{Edit, Edited, apply, changes_in_words, compare};
use weephole::knowledge::{Knowledge, Loaded, SourceText, load};
use weephole::proof::{Drafted, Noticed, Proof, Proven, Workshop, cases_touched, play};
use weephole::screen::{BenchApp, Program as _, Theme};

const FILE: &str = "small.ron";
/// The clock of the screen: looks at the files come every so many pictures.
const LOOKS: usize = 8;

/// What the folder holds: its texts one after the other; the last counts.
type Texts = Rc<RefCell<Vec<String>>>;

/// A folder of one file in memory.
struct Memory {
    texts: Texts,
    now: Loaded,
    read: String,
    bad: Option<String>,
    draft: Option<(Edited, Loaded)>,
    seconds: Rc<RefCell<Vec<Option<String>>>>,
}

fn read(text: &str) -> Loaded {
    load(vec![SourceText { name: FILE.to_owned(), text: text.to_owned() }])
}

impl Workshop for Memory {
    fn knowledge(&self) -> Rc<Knowledge> {
        Rc::new(self.now.knowledge.clone())
    }

    fn place(&self) -> String {
        "our-graph".to_owned()
    }

    fn draft(&mut self, edits: &[Edit]) -> Result<Drafted, String> {
        let edited = apply(&self.now.knowledge, &[FILE.to_owned()], &edits[0]).map_err(|why| why.to_string())?;
        let after = load(edited.sources.clone());
        let changes = compare(&self.now.knowledge, &after.knowledge);
        let safety = changes.iter().any(|change| change.safety);
        self.draft = Some((edited, after));
        let problems = Vec::new();
        Ok(Drafted { words: changes_in_words(&changes), problems, files: vec![FILE.to_owned()], safety })
    }

    fn draft_undo(&mut self) -> Result<Drafted, String> {
        Err("there is no edit to take back".to_owned())
    }

    fn proof(&mut self) -> Option<Result<Proven, String>> {
        let (_, after) = self.draft.as_ref()?;
        let both = (Rc::new(self.now.knowledge.clone()), Rc::new(after.knowledge.clone()));
        let ids = cases_touched(&both.0, &both.1, &compare(&both.0, &both.1));
        let played: Vec<_> = ids.iter().map(|id| play(&both.0, &both.1, id, false)).collect();
        Some(Ok(Proven::of(&both.1, &Proof::of(&self.now, after, &played))))
    }

    fn drop_draft(&mut self) {
        self.draft = None;
    }

    fn accept(&mut self, second: Option<&str>) -> Result<String, String> {
        let (edited, after) = self.draft.take().ok_or("there is no draft")?;
        self.seconds.borrow_mut().push(second.map(str::to_owned));
        self.read.clone_from(&edited.touched[0].after);
        self.texts.borrow_mut().push(self.read.clone());
        self.now = after;
        Ok("saved as edit 1".to_owned())
    }

    fn look(&mut self) -> Option<Noticed> {
        let text = self.texts.borrow().last().unwrap().clone();
        if text == self.read || self.bad.as_ref() == Some(&text) {
            return None;
        }
        let loaded = read(&text);
        if loaded.is_broken() {
            self.bad = Some(text);
            return Some(Noticed::Broken("small.ron:1:1: this cannot be read".to_owned()));
        }
        (self.now, self.read) = (loaded, text);
        Some(Noticed::ReadAgain("a name".to_owned()))
    }
}

/// The bench at work.
struct Bench {
    app: BenchApp<'static>,
    texts: Texts,
    seconds: Rc<RefCell<Vec<Option<String>>>>,
}

impl Bench {
    fn new() -> Self {
        Self::wearing(Theme::plain())
    }

    fn wearing(theme: Theme) -> Self {
        let text = include_str!("fixtures/trial/small.ron").to_owned();
        let text = text.replace(
            "checks: {",
            "cautions: {\"c_hot\": (word: caution, hazard: \"Hot oil.\", consequence: \"It burns.\", avoid: \"Let it cool.\")},
    checks: {",
        );
        let (texts, seconds): (Texts, _) = (Rc::new(RefCell::new(vec![text.clone()])), Rc::default());
        let now = read(&text);
        assert!(!now.is_broken(), "{:#?}", now.problems);
        let shop =
            Memory { texts: Rc::clone(&texts), now, read: text, bad: None, draft: None, seconds: Rc::clone(&seconds) };
        Self { app: BenchApp::new(Box::leak(Box::new(shop)), theme.into()), texts, seconds }
    }

    /// Presses keys: `^` Enter, `!` Esc, `~` Backspace, `↓` Down.
    fn press(&mut self, keys: &str) -> &mut Self {
        for key in keys.chars() {
            let code = match key {
                '^' => KeyCode::Enter,
                '!' => KeyCode::Esc,
                '~' => KeyCode::Backspace,
                '↓' => KeyCode::Down,
                letter => KeyCode::Char(letter),
            };
            self.app.key(KeyEvent::from(code));
        }
        self
    }

    /// Lets the cases be played.
    fn settle(&mut self) -> &mut Self {
        while self.app.is_working() {
            self.app.work();
        }
        self
    }

    fn wait(&mut self) {
        (0..LOOKS).for_each(|_| self.app.tick());
    }

    fn text(&mut self) -> String {
        self.app.resize(80, 24);
        look::text(&look::drawn(&self.app, (80, 24)))
    }

    fn file(&self) -> String {
        self.texts.borrow().last().unwrap().clone()
    }
}

macro_rules! picture {
    ($name:expr, $bench:expr) => {
        insta::with_settings!({filters => vec![(r"\([0-9a-f]{8,64}\)", "(<hash>)")]}, {
            insta::assert_snapshot!($name, look::at_every_size(&mut $bench.app, (80, 24)));
        });
    };
}

#[test]
fn entries_are_listed_found_and_followed() {
    let mut bench = Bench::new();
    picture!("bench_list", bench);
    bench.press("fhammers");
    picture!("bench_found", bench);
    bench.press("^^");
    picture!("bench_entry", bench);
    bench.press("d");
    picture!("bench_drawing", bench);
    bench.press("b↓↓^");
    let text = bench.text();
    assert!(text.contains("ENTRY  bearing loose (bearing, causes)") && text.contains("LEADS TO"), "{text}");
    bench.press("h");
    picture!("bench_help", bench);
    bench.press("bbbq");
    assert!(bench.app.is_over());
}

/// Turned round, the strength that carries two cases flips both; dropped, nothing is saved. A little smaller it flips none.
#[test]
fn a_strength_is_changed_rejected_and_changed_smaller() {
    let mut bench = Bench::new();
    bench.press("fend hot^^");
    let before = bench.file();
    bench.press("e");
    picture!("bench_change", bench);
    bench.press("0.001^");
    let waiting = bench.text();
    assert!(waiting.contains("The cases are being played") && waiting.contains("b do not save"), "{waiting}");
    assert!(!waiting.contains("s save it"), "{waiting}");
    bench.settle();
    picture!("bench_worse", bench);
    bench.press("s^");
    assert_eq!(bench.file(), before, "neither Enter nor the usual key saves what makes a case worse");
    bench.press("b");
    assert!(bench.text().contains("Nothing was saved."));
    bench.press("~~~~~0.97^").settle();
    picture!("bench_draft", bench);
    bench.press("s");
    let text = bench.text();
    assert!(text.contains("ENTRY  end hot") && text.contains("0.97") && text.contains("Saved as edit 1."), "{text}");
    assert_eq!(bench.file(), before.replace("strength: nearly_always", "strength: share(0.97)"));
}

#[test]
fn what_gets_worse_is_saved_by_a_key_of_its_own() {
    let mut bench = Bench::new();
    bench.press("fend hot^^e0.001^").settle().press("w");
    assert!(bench.file().contains("strength: share(0.001)"), "{}", bench.text());
}

#[test]
fn safety_text_needs_a_second_reader() {
    let mut bench = Bench::new();
    bench.press("fhot oil^^e").press("~~~~~~~warning^").settle();
    let text = bench.text();
    assert!(text.contains("SAFETY") && text.contains("2 who else read it") && !text.contains("s save it"), "{text}");
    bench.press("s2Rolf Kramer^");
    assert!(bench.text().contains("Initials and role only"), "{}", bench.text());
    bench.press("!2R.K., supervisor^");
    picture!("bench_safety", bench);
    bench.press("s");
    assert_eq!(bench.seconds.borrow().as_slice(), [Some("R.K., supervisor".to_owned())]);
    assert!(bench.file().contains("word: warning"));
}

#[test]
fn a_link_is_added_and_an_entry_retired_by_a_typed_line() {
    let mut bench = Bench::new();
    bench.press("fend hot^^aseat strength=rarely basis=guess source=practice^").settle().press("s");
    assert!(
        bench.file().contains("\"seat\": (strength: rarely, basis: guess, source: \"practice\")"),
        "{}",
        bench.text()
    );
    bench.press("r").press("nothing^");
    assert!(bench.text().contains("nothing"), "a refusal is told and the line stays");
    bench.press("!bfseat^");
    let before = bench.file();
    bench.press("!u");
    assert!(bench.text().contains("There is no edit to take back."), "{}", bench.text());
    assert_eq!(bench.file(), before);
}

#[test]
fn changes_on_disk_are_noticed_and_a_broken_file_never_counts() {
    let mut bench = Bench::new();
    let good = bench.file();
    bench.texts.borrow_mut().push("(version: 1, causes: {".to_owned());
    bench.wait();
    let text = bench.text();
    assert!(text.contains("the last good knowledge stays") && text.contains("bearing loose"), "{text}");
    bench.press("↓");
    bench.wait();
    assert!(!bench.text().contains("the last good knowledge stays"), "told once");
    bench.texts.borrow_mut().push(good.replace("bearing loose", "bearing worn out"));
    bench.wait();
    let text = bench.text();
    assert!(text.contains("read again: a name") && text.contains("bearing worn out"), "{text}");
}

/// Keys to every page in every state, and whether the cases are played there.
const PLACES: &[(&str, &str, bool)] = &[
    ("list", "", false),
    ("list, words", "fhammers", false),
    ("list, nothing", "fqqzz", false),
    ("entry", "fend hot^^", false),
    ("entry of a caution", "fhot oil^^", false),
    ("drawing", "fhammers^^d", false),
    ("help", "h", false),
    ("change", "fend hot^^e", false),
    ("change, typed", "fend hot^^e0.3", false),
    ("add", "fend hot^^a", false),
    ("retire", "fend hot^^r", false),
    ("draft, playing", "fend hot^^e0.97^", false),
    ("draft", "fend hot^^e~~~~~0.97^", true),
    ("draft, worse", "fend hot^^e0.001^", true),
    ("draft of safety text", "fhot oil^^e~~~~~~~warning^", true),
    ("second reader", "fhot oil^^e~~~~~~~warning^2", true),
];

fn at(keys: &str, is_played: bool) -> Bench {
    let mut bench = Bench::new();
    match keys.strip_suffix('2').filter(|_| is_played) {
        Some(before) => bench.press(before).settle().press("2"),
        None if is_played => bench.press(keys).settle(),
        None => bench.press(keys),
    };
    bench
}

#[test]
fn no_page_breaks_at_any_size_or_in_any_theme() {
    for (name, keys, is_played) in PLACES {
        let mut bench = at(keys, *is_played);
        let page = look::Page { hints: bench.app.hints(), cautions: bench.app.cautions(), name };
        for size in sizes_of_all_kinds() {
            bench.app.resize(size.0, size.1);
            for theme in [Theme::plain(), without_colours(), Theme::dark()] {
                bench.app.wear(theme);
                page.holds_up(&look::drawn(&bench.app, size), &theme);
            }
        }
    }
}

#[test]
fn the_picture_in_the_readme_is_true() {
    let mut bench = Bench::wearing(Theme::dark());
    bench.press("fend hot^^e0.001^").settle();
    bench.app.resize(90, 18);
    is_kept("screen_bench.svg", &look::drawn(&bench.app, (90, 18)), "A number changed at the bench: a case gets worse");
}

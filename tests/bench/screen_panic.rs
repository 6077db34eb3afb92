//! Turns the key `n` into a panic in the middle of the full screen, so that a test can see what is left of the terminal.
#![allow(clippy::panic)]

use std::rc::Rc;
use weephole::job::{Archive, JobLine, Taken};
use weephole::knowledge::{SourceText, load};
use weephole::screen::{Options, ScreenError, run};

const NODES: &str = include_str!("../fixtures/screen/nodes.ron");
const ASKS: &str = include_str!("../fixtures/screen/asks.ron");

/// Jobs that cannot even be begun.
struct Broken;

impl Archive for Broken {
    fn jobs(&self) -> Vec<JobLine> {
        Vec::new()
    }

    fn begin(&mut self, _family: &str) -> Result<Taken, String> {
        panic!("the archive fell over");
    }

    fn resume(&mut self, number: u32) -> Result<Taken, String> {
        Err(format!("there is no job {number}"))
    }

    fn write_record(&mut self, number: u32, _markdown: &str) -> Result<String, String> {
        Err(format!("there is no job {number}"))
    }
}

fn main() -> Result<(), ScreenError> {
    let source = |name: &str, text: &str| SourceText { name: name.to_owned(), text: text.to_owned() };
    let loaded = load(vec![source("nodes.ron", NODES), source("asks.ron", ASKS)]);
    let options = Options { family: "oil_backed".to_owned(), ..Options::default() };
    run(&mut Broken, Rc::new(loaded.knowledge), options)
}

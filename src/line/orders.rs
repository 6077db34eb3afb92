//! Turns the words that work at every prompt into orders; help is printed from the same table.

use crate::knowledge::did_you_mean;
use crate::text::fold;

/// Something the person wants beside answering.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Order {
    /// Reasons for the open question.
    Why,
    /// Reasons for the cause at this place of the list, from 1.
    WhyCause(usize),
    /// What is open about the list.
    Doubts,
    /// The numbers on which the first cause rests.
    Numbers,
    /// All open checks.
    Checks,
    /// An idea of one's own.
    Think(String),
    /// The list of likely causes.
    Likely,
    /// Everything given so far.
    Trail,
    /// Answer an entry of the trail anew, from 1.
    Change(usize),
    /// Take an entry of the trail back, from 1.
    Withdraw(usize),
    /// Volunteer something.
    Tell(String),
    /// The results so far.
    Results,
    /// The pump sheet: nothing behind it shows it, a field and its value fill it in, `save` writes its file.
    Sheet(String),
    /// The settings of a rebuild of this pump.
    Settings,
    /// The whole check cannot be done now.
    Skip,
    /// A remark.
    Note(String),
    /// A remark that names a photo.
    Photo(String),
    /// The page for the next shift.
    Handover,
    /// A trade term in plain words.
    Words(String),
    /// Answer the question of isolation again.
    Isolate,
    /// Answer the first-run gate again.
    Start,
    /// What a remedy takes, and its rebuild sheets.
    Fix,
    /// Something was changed.
    Changed(String),
    /// The return-to-service list.
    Service,
    /// Put the rebuild sheets aside.
    Aside,
    /// What can be typed.
    Help,
    /// Close the job or hand it over.
    End,
    /// Stop here; the job stays open.
    Leave,
}

/// One row of the table.
pub struct Word {
    /// How it is typed.
    pub form: &'static str,
    /// What it does.
    pub does: &'static str,
    make: fn(&str) -> Option<Order>,
}

/// Every word, in the order of help.
const TABLE: &[Word] = &[
    Word { form: "why", does: "why this question is asked", make: |rest| alone(rest, Order::Why) },
    Word {
        form: "why cause N",
        does: "why cause number N of the list stands where it stands",
        make: |rest| numbered(rest.strip_prefix("cause")?, Order::WhyCause),
    },
    Word {
        form: "doubts",
        does: "causes together, what fits badly, what would change the list",
        make: |rest| alone(rest, Order::Doubts),
    },
    Word {
        form: "numbers",
        does: "which numbers of the knowledge the first cause rests on",
        make: |rest| alone(rest, Order::Numbers),
    },
    Word {
        form: "checks",
        does: "every open check with what it takes and saves",
        make: |rest| alone(rest, Order::Checks),
    },
    Word {
        form: "think WORDS",
        does: "check an idea of your own: a cause or a check",
        make: |rest| Some(Order::Think(rest.to_owned())),
    },
    Word { form: "likely", does: "the likely causes", make: |rest| alone(rest, Order::Likely) },
    Word { form: "trail", does: "everything answered so far, numbered", make: |rest| alone(rest, Order::Trail) },
    Word { form: "change N", does: "answer number N of the trail anew", make: |rest| numbered(rest, Order::Change) },
    Word { form: "withdraw N", does: "take number N of the trail back", make: |rest| numbered(rest, Order::Withdraw) },
    Word {
        form: "tell WORDS",
        does: "tell something that was not asked",
        make: |rest| Some(Order::Tell(rest.to_owned())),
    },
    Word { form: "results", does: "what is known so far, and the remedy", make: |rest| alone(rest, Order::Results) },
    Word {
        form: "sheet FIELD VALUE",
        does: "fill in the pump sheet; `sheet` shows it, `sheet save` writes its file",
        make: |rest| Some(Order::Sheet(rest.to_owned())),
    },
    Word {
        form: "settings",
        does: "end play, bolts, belt, oil and priming of this pump",
        make: |rest| alone(rest, Order::Settings),
    },
    Word { form: "skip", does: "the whole check cannot be done now", make: |rest| alone(rest, Order::Skip) },
    Word { form: "note WORDS", does: "a remark for the record", make: |rest| Some(Order::Note(rest.to_owned())) },
    Word {
        form: "photo FILE WORDS",
        does: "the file name of a photo and what it shows",
        make: |rest| Some(Order::Photo(rest.to_owned())),
    },
    Word {
        form: "handover",
        does: "the page for the next shift: isolated, open, not to be done",
        make: |rest| alone(rest, Order::Handover),
    },
    Word { form: "words TERM", does: "a trade term in plain words", make: |rest| Some(Order::Words(rest.to_owned())) },
    Word { form: "isolate", does: "answer the isolation question again", make: |rest| alone(rest, Order::Isolate) },
    Word { form: "start", does: "answer the lines before a first run again", make: |rest| alone(rest, Order::Start) },
    Word {
        form: "fix",
        does: "put a cause or part right: parts, rebuild sheets, or say it is done",
        make: |rest| alone(rest, Order::Fix),
    },
    Word {
        form: "changed WORDS",
        does: "tell what was changed or put right, then what came of it",
        make: |rest| Some(Order::Changed(rest.to_owned())),
    },
    Word { form: "service", does: "the return-to-service list", make: |rest| alone(rest, Order::Service) },
    Word {
        form: "aside",
        does: "put the rebuild sheet aside and go on with the questions",
        make: |rest| alone(rest, Order::Aside),
    },
    Word { form: "help", does: "this list", make: |rest| alone(rest, Order::Help) },
    Word { form: "end", does: "close the job, hand it over, or leave it open", make: |rest| alone(rest, Order::End) },
    Word { form: "leave", does: "stop here; the job is saved and stays open", make: |rest| alone(rest, Order::Leave) },
];

/// What a line turned out to be.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Read {
    /// An order.
    Order(Order),
    /// Begins like an order; this is how it is typed.
    Nearly(&'static str),
    /// Something else.
    Other,
}

impl Word {
    /// The word it begins with.
    pub fn word(&self) -> &'static str {
        self.form.split(' ').next().unwrap_or(self.form)
    }
}

/// The table, for help and manual.
pub fn words() -> &'static [Word] {
    TABLE
}

/// Help, one line per word.
pub fn help_lines() -> Vec<String> {
    TABLE.iter().map(|word| format!("  {}: {}", word.form, word.does)).collect()
}

/// Reads a line as an order.
pub(super) fn read(line: &str) -> Read {
    let (first, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let (first, rest) = (fold(first), rest.trim());
    let rows = || TABLE.iter().filter(|word| word.word() == first);
    // Of several forms the last takes the most behind it: that is the one something is missing from.
    let Some(fullest) = rows().next_back() else { return Read::Other };
    rows().find_map(|word| (word.make)(rest)).map_or(Read::Nearly(fullest.form), Read::Order)
}

/// The nearest of the accepted words and the words of the table.
pub(super) fn nearest(typed: &str, accepted: &[&str]) -> Option<String> {
    let typed = fold(typed);
    let first = typed.split_whitespace().next()?;
    let mut known: Vec<&str> = accepted.to_vec();
    for word in TABLE {
        known.push(word.word());
    }
    let near = |word: &str| did_you_mean(word, known.iter().copied()).map(str::to_owned);
    near(&typed).or_else(|| near(first))
}

fn alone(rest: &str, order: Order) -> Option<Order> {
    rest.is_empty().then_some(order)
}

fn numbered(rest: &str, order: fn(usize) -> Order) -> Option<Order> {
    rest.trim().parse().ok().map(order)
}

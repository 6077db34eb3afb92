//! Pictures of every page, and what the keys on them do.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "fixtures/screen/bench.rs"]
mod bench;

use bench::look::{is_kept, sizes_of_all_kinds, styled, without_colours};
use bench::{Bench, Memory, PLACES, holds};
use crossterm::event::KeyCode;
use weephole::job::Event;
use weephole::knowledge::{SourceText, load};
use weephole::screen::{Colours, Theme, ThemeName};
use weephole::text::wrap;

macro_rules! picture {
    ($name:expr, $bench:expr) => {
        insta::with_settings!({filters => vec![(r"2026\.11 [0-9a-f]{12}", "2026.11 <hash>")]}, {
            insta::assert_snapshot!($name, $bench.at_every_size());
        });
    };
}

#[test]
fn the_start_page_without_jobs() {
    let memory = Memory::default();
    picture!("start_empty", Bench::new(&memory));
}

#[test]
fn the_start_page_with_jobs() {
    let memory = Memory::default();
    for words in ["weak jet and it rattles a bit when it is warm", "no pressure"] {
        let mut bench = Bench::new(&memory);
        bench.press("n").type_in(words).press("↓ ^");
    }
    memory.close_first();
    picture!("start_jobs", Bench::new(&memory));
}

#[test]
fn the_complaint() {
    let memory = Memory::default();
    let mut bench = Bench::new(&memory);
    bench.press("n");
    picture!("complaint_empty", bench);
    bench.type_in("weak jet and it rattles");
    picture!("complaint_hits", bench);
    bench.press("↓ ↓ ");
    picture!("complaint_marked", bench);
    bench.press("^");
    let event = bench.memory().last();
    assert!(
        matches!(&event, Event::Complaint { words, findings } if words == "weak jet and it rattles" && findings.len() == 2)
    );
}

#[test]
fn a_complaint_nobody_has_a_name_for_is_kept_as_words() {
    let memory = Memory::default();
    let mut bench = Bench::new(&memory);
    bench.press("n^");
    holds(&bench.text(), "Type what the operator says");
    bench.type_in("zzqq").press("^");
    picture!("complaint_words_only", bench);
    assert_eq!(bench.memory().events().len(), 1);
    bench.press("^");
    assert!(
        matches!(bench.memory().last(), Event::Complaint { words, findings } if words == "zzqq" && findings.is_empty())
    );
}

#[test]
fn the_first_minute() {
    let memory = Memory::default();
    let mut bench = Bench::at_first_minute(&memory);
    picture!("first_minute", bench);
    bench.press("1");
    assert!(matches!(bench.memory().last(), Event::FirstMinute { yes, .. } if yes == ["came_slowly"]));
    holds(&bench.text(), "What was last touched");
    bench.press("s");
    assert!(bench.is_thinking());
    picture!("working", bench);
}

#[test]
fn the_walk_round() {
    let memory = Memory::default();
    let mut bench = Bench::at_walk(&memory);
    picture!("walk", bench);
    bench.press("n↓");
    picture!("walk_answered", bench);
    bench.press("w");
    picture!("walk_why", bench);
}

#[test]
fn a_question() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    picture!("question", bench);
    bench.press("w");
    picture!("why_question", bench);
    bench.press("bc");
    picture!("why_cause", bench);
    bench.press("→");
    picture!("why_cause_next", bench);
}

#[test]
fn what_is_open_about_the_list() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("d");
    picture!("doubts", bench);
    bench.press("n");
    picture!("doubts_numbers", bench);
}

#[test]
fn every_open_check() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("l");
    picture!("open_checks_first", bench);
    bench.work_on();
    picture!("open_checks", bench);
}

#[test]
fn an_idea_of_ones_own() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("m").type_in("nozzle");
    picture!("idea_hits", bench);
    bench.press("^");
    picture!("idea_cause", bench);
    let before = bench.memory().events().len();
    bench.press("s");
    picture!("idea_started", bench);
    assert_eq!(bench.memory().events().len(), before);
    bench.press("n");
    assert!(matches!(bench.memory().last(), Event::Answered { finding, .. } if finding == "found_nozzle_worn"));
}

/// A look that opens something goes through the gate, and follows it whatever else is proposed; where isolation is not
/// possible it is told and not offered.
#[test]
fn an_idea_goes_through_the_gate() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("m").type_in("strainer").press("^s");
    holds(&bench.text(), "ISOLATION");
    let bench = bench.isolated();
    holds(&bench.text(), "is the strainer clogged?");
    let memory = Memory::default();
    let mut bench = Bench::at_isolation(&memory);
    bench.press("a");
    let mut bench = bench.settled();
    bench.press("m").type_in("strainer").press("^");
    picture!("idea_not_now", bench);
    assert!(bench.hints().iter().all(|hint| hint.short != "start this check"));
}

#[test]
fn a_reading() {
    let memory = Memory::default();
    let mut bench = Bench::at_reading(&memory);
    picture!("reading", bench);
    bench.press("9");
    picture!("reading_typing", bench);
    bench.press("^");
    picture!("reading_refused", bench);
    bench.type_in(" inHg").press("^");
    picture!("reading_doubtful", bench);
    let before = bench.memory().events().len();
    bench.press("n").type_in(" vac");
    picture!("reading_echo", bench);
    bench.press("^");
    assert_eq!(bench.memory().events().len(), before + 1);
    assert!(matches!(bench.memory().last(), Event::Measured { reading, .. } if reading == "inlet_vacuum"));
}

#[test]
fn a_reading_that_needs_the_usual_value() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("v").type_in("amps").press("^");
    picture!("tell_reading", bench);
    bench.type_in("20 A").press("^");
    picture!("usual", bench);
    bench.type_in("21 A").press("^");
    assert!(matches!(bench.memory().last(), Event::Usual { reading, .. } if reading == "motor_current"));
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("v").type_in("amps").press("^").type_in("20 A").press("^?");
    holds(&bench.text(), "counts once the usual value is known");
    bench.settle().press("t");
    picture!("trail_set_aside", bench);
}

#[test]
fn the_trail() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("t");
    picture!("trail", bench);
    bench.press("^");
    picture!("change", bench);
    bench.press("u");
    let changed = bench.memory().last();
    assert!(matches!(changed, Event::Answered { check: Some(_), .. }), "{changed:?}");
    bench.press("d");
    assert!(matches!(bench.memory().last(), Event::Withdrawn { .. }));
    holds(&bench.text(), "Taken back");
}

#[test]
fn telling_something() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("v");
    picture!("tell_empty", bench);
    bench.type_in("bubbles");
    picture!("tell_hits", bench);
    bench.press("^");
    picture!("tell_question", bench);
    bench.press("y");
    assert!(matches!(bench.memory().last(), Event::Answered { finding, check: None, .. } if finding == "bubbles_seen"));
    assert!(bench.is_thinking());
    bench.settle().press("v").type_in("qqzz").press("^");
    assert!(matches!(bench.memory().last(), Event::Note { text } if text == "qqzz"));
}

#[test]
fn a_check_left_out() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("k");
    picture!("skip", bench);
    bench.press("7");
    bench.type_in("guard is welded on");
    picture!("skip_own_words", bench);
    bench.press("^");
    assert!(matches!(bench.memory().last(), Event::Barred { reason, .. } if reason == "guard is welded on"));
    assert!(bench.is_thinking());
}

#[test]
fn a_stop_rule() {
    let memory = Memory::default();
    let mut bench = Bench::at_stop(&memory);
    picture!("stop", bench);
    bench.press("d").type_in("AB, shift lead");
    picture!("stop_run_on", bench);
    bench.press("^");
    picture!("stop_run_on_read", bench);
    bench.press("r");
    assert!(
        matches!(bench.memory().last(), Event::StopAnswered { stopped: false, words, .. } if words == "AB, shift lead")
    );
}

#[test]
fn a_stop_rule_answered_or_its_answer_changed() {
    let memory = Memory::default();
    let mut bench = Bench::at_stop(&memory);
    bench.press("s");
    assert!(matches!(bench.memory().last(), Event::StopAnswered { stopped: true, .. }));
    bench.settle();
    assert!(!bench.text().contains("pump running"), "{}", bench.text());
    let memory = Memory::default();
    let mut bench = Bench::at_stop(&memory);
    bench.press("t");
    holds(&bench.text(), "CHANGE AN ANSWER");
    bench.press("n").settle();
    assert!(!bench.text().contains(" STOP "), "{}", bench.text());
}

#[test]
fn a_complaint_can_stop_the_pump() {
    let memory = Memory::default();
    let mut bench = Bench::new(&memory);
    bench.press("n").type_in("white oil").press("↓ ^");
    holds(&bench.text(), "DO THIS NOW");
    bench.press("s");
    holds(&bench.text(), "FIRST MINUTE");
}

/// Whatever page is open, what triggers a stop rule can be told from there, and the stop lies on top at once.
#[test]
fn a_stop_rule_fires_from_every_page() {
    let (mut straight, mut above) = (0, 0);
    for (name, place) in PLACES {
        let mut bench = place(&Memory::default());
        let leads_to_tell = |bench: &Bench| bench.hints().iter().any(|hint| hint.short == "tell");
        let was_straight = leads_to_tell(&bench);
        for key in ["!", "!", "b", "!", "b"] {
            if !leads_to_tell(&bench) && !bench.text().contains("DO THIS NOW") && !bench.text().contains("START") {
                bench.press(key).settle();
            }
        }
        if !leads_to_tell(&bench) {
            continue;
        }
        bench.press("v").type_in("milky").press("^y");
        let text = bench.text();
        assert!(text.contains("DO THIS NOW") && text.contains("Stop the pump"), "{name}:\n{text}");
        if was_straight { straight += 1 } else { above += 1 }
    }
    assert!(8 <= straight && 8 <= above, "{straight} pages straight, {above} from above");
}

#[test]
fn a_stop_rule_comes_again_after_leaving() {
    let memory = Memory::default();
    Bench::at_stop(&memory).press("q");
    let mut bench = Bench::new(&memory);
    bench.press("^");
    holds(&bench.text(), "DO THIS NOW");
}

#[test]
fn the_gate_of_isolation() {
    let memory = Memory::default();
    let mut bench = Bench::at_isolation(&memory);
    picture!("isolation", bench);
    bench.press("i").type_in("unknown").press("^");
    picture!("isolation_unknown_liquid", bench);
    bench.press("!i").type_in("rain water").press("^").type_in("Ann Smith, fitter");
    picture!("isolation_signing", bench);
    bench.press("^").type_in("drive locked, both valves shut").press("^yyy");
    picture!("isolation_read", bench);
    bench.press("z");
    assert!(matches!(bench.memory().last(), Event::ZeroProved(proof) if proof.who.starts_with("Ann")));
    bench.settle();
    picture!("question_isolated", bench);
}

#[test]
fn isolation_not_possible_and_possible_after_all() {
    let memory = Memory::default();
    let mut bench = Bench::at_isolation(&memory);
    bench.press("a");
    assert!(matches!(bench.memory().last(), Event::Isolation { proved: false, .. }));
    bench.settle();
    assert!(!bench.text().contains("open the strainer"), "{}", bench.text());
    bench.press("i");
    picture!("isolation_again", bench);
    let bench = bench.isolated();
    holds(&bench.text(), "open the strainer");
}

#[test]
fn results_and_the_end() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("r");
    picture!("results_so_far", bench);
    bench.press("→");
    picture!("results_second", bench);
    bench.press("e");
    picture!("close_handed_over", bench);
}

#[test]
fn a_confirmed_cause_ends_the_questions() {
    let memory = Memory::default();
    let mut bench = Bench::at_end(&memory);
    picture!("results_confirmed", bench);
    bench.press("e1");
    picture!("close_question", bench);
    bench.type_in("air leak").press("^^^");
    bench.type_in("screen full of husks");
    picture!("close_remark", bench);
    bench.press("^");
    let closed = bench.memory().last();
    assert!(
        matches!(&closed, Event::Closed { cause: Some(cause), words, .. } if cause == "strainer_clogged" && words == "screen full of husks")
    );
    bench.settle();
    picture!("closed", bench);
    assert_eq!(bench.memory().records(), ["weak jet and it rattles"]);
    bench.press("q");
    picture!("start_after_leaving", bench);
    bench.press("^");
    picture!("recap_closed", bench);
    bench.press("g").settle().press("o").settle();
    assert!(matches!(bench.memory().last(), Event::Reopened));
}

#[test]
fn a_job_taken_up_again() {
    let memory = Memory::default();
    Bench::at_reading(&memory);
    let mut bench = Bench::new(&memory);
    bench.press("^");
    picture!("recap", bench);
    bench.press("^").settle();
    holds(&bench.text(), "READING");
}

#[test]
fn help_and_trade_words() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("h");
    picture!("help", bench);
    bench.press("g");
    picture!("words", bench);
    bench.type_in("snub");
    picture!("words_found", bench);
}

#[test]
fn a_full_disk_is_told_and_nothing_counts() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.memory().fill();
    let before = bench.memory().events().len();
    bench.press("y");
    picture!("not_saved", bench);
    assert_eq!(bench.memory().events().len(), before);
    assert!(!bench.is_thinking());
}

#[test]
fn without_colours_and_lines_it_is_plain_ascii() {
    let memory = Memory::default();
    Bench::at_finding(&memory);
    let mut bench = Bench::in_theme(&memory, &Theme::plain());
    bench.press("^^").settle();
    picture!("question_ascii", bench);
    assert!(bench.text().is_ascii());
}

#[test]
fn a_key_goes_through_the_themes_and_says_which() {
    let memory = Memory::default();
    let mut bench = Bench::new(&memory);
    let dark = bench.styles();
    let mut seen = vec![];
    for name in ["light", "high contrast", "without colours", "dark"] {
        bench.press("l");
        holds(&bench.text(), &format!("Theme: {name}. Kept for the next start."));
        seen.push(bench.press("→").styles());
    }
    assert_eq!(seen.pop().unwrap(), dark);
    assert!(seen.iter().all(|other| *other != dark));
}

/// Three pages in every theme, and in one of them on a terminal with 256 colours and one with 16.
#[test]
fn themes() {
    let looks = ThemeName::ALL.map(|name| (name, Colours::Rgb));
    let fewer = [(ThemeName::Dark, Colours::Of256), (ThemeName::Dark, Colours::Of16)];
    let pages: [(&str, fn(&Memory) -> Bench); 3] =
        [("question", Bench::at_finding), ("isolation", Bench::at_isolation), ("results", Bench::at_end)];
    for (page, go) in pages {
        let mut bench = go(&Memory::default());
        for (name, colours) in looks.into_iter().chain(fewer) {
            let drawn = bench.wear(Theme::new(name, colours, false)).drawn();
            let file = format!("theme_{page}_{}_{colours:?}", name.word()).to_lowercase();
            insta::with_settings!({filters => vec![(r"2026\.11 [0-9a-f]{12}", "2026.11 <hash>")]}, {
                insta::assert_snapshot!(file, styled(&drawn));
            });
        }
    }
}

#[test]
fn enter_decides_nothing_dangerous() {
    let stop = ["^^^", "d^^^", "dAB^^^", "d^!^"];
    let gate = ["^^^", "i^^^", "iAnn, gauge^^^", "i^!^"];
    for (go, scripts) in [(Bench::at_stop as fn(&Memory) -> Bench, stop), (Bench::at_isolation, gate)] {
        for keys in scripts {
            let memory = Memory::default();
            let mut bench = go(&memory);
            let before = memory.events().len();
            bench.press(keys);
            assert_eq!(memory.events().len(), before, "{keys}");
        }
    }
}

#[test]
fn every_key_of_the_bar_does_something() {
    for (name, go) in PLACES {
        let many = { go(&Memory::default()).hints().len() };
        for at in 0..many {
            let memory = Memory::default();
            let mut bench = go(&memory);
            let hint = bench.hints()[at].clone();
            let before = (bench.text(), bench.memory().events().len(), bench.is_over(), bench.styles());
            bench.key(hint.key);
            let after = (bench.text(), bench.memory().events().len(), bench.is_over(), bench.styles());
            assert_ne!(before, after, "{name}: {} {} does nothing", hint.shown, hint.title);
        }
    }
}

#[test]
fn no_page_has_one_key_twice() {
    for (name, go) in PLACES {
        let memory = Memory::default();
        let hints = go(&memory).hints();
        for (at, hint) in hints.iter().enumerate() {
            let again = hints.iter().skip(at + 1).find(|other| other.key == hint.key);
            assert!(again.is_none(), "{name}: {hint:?} and {again:?}");
        }
    }
}

#[test]
fn no_page_breaks_at_any_size_or_in_any_theme() {
    for (name, go) in PLACES {
        let memory = Memory::default();
        let mut bench = go(&memory);
        let page = bench::look::Page { hints: bench.hints(), cautions: bench.cautions(), name };
        for size in sizes_of_all_kinds() {
            bench.size(size.0, size.1);
            for theme in [Theme::plain(), without_colours(), Theme::dark()] {
                page.holds_up(&bench.wear(theme).drawn(), &theme);
            }
            bench.key(KeyCode::PageDown);
            bench.key(KeyCode::PageUp);
        }
        page.is_told_without_colour(|theme| bench.size(80, 24).wear(theme).text());
    }
}

/// The question stands beside the longest caution on the smallest screen.
#[test]
fn the_question_is_seen_on_the_smallest_screen() {
    for (go, question) in [
        (Bench::at_reading as fn(&Memory) -> Bench, "What does the inlet gauge show"),
        (Bench::at_finding, "Does the inlet hose flatten or shake at full speed?"),
        (|memory| Bench::at_isolation(memory).isolated(), "Having looked, is the strainer"),
    ] {
        let text = go(&Memory::default()).size(40, 12).text();
        let seen = text.split_whitespace().collect::<Vec<_>>().join(" ");
        holds(&seen, question);
    }
}

/// Every caution of the shipped knowledge finds its rows on the smallest screen, beside two rows of keys, one of a message
/// and a question of two.
#[test]
fn shipped_cautions_fit_the_smallest_screen() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
    let text = std::fs::read_to_string(folder.join("cautions.ron")).unwrap();
    let loaded = load(vec![SourceText { name: "cautions.ron".to_owned(), text }]);
    assert!(30 <= loaded.knowledge.all.cautions.len());
    for (id, caution) in &loaded.knowledge.all.cautions {
        let said = format!("▲ {} {} {} {}", caution.word.word(), caution.hazard, caution.consequence, caution.avoid);
        let rows = wrap(&said, 38).len();
        assert!(rows <= 6, "{id} takes {rows} rows");
    }
}

#[test]
fn nothing_on_the_screen_commands_the_terminal() {
    let memory = Memory::default();
    let mut bench = Bench::new(&memory);
    bench.press("n").paste("weak \u{1b}[2Jjet\u{7}\u{202e}\r\nand more");
    let text = bench.text();
    assert!(text.chars().all(|c| c == '\n' || !c.is_control()), "{text}");
    assert!(!text.contains('\u{202e}'));
}

#[test]
fn keys_pressed_while_the_next_step_is_worked_out_answer_nothing() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("y");
    let events = bench.memory().events().len();
    bench.press("ynpux.^");
    assert_eq!(bench.memory().events().len(), events);
}

/// From the confirmed cause through its rebuild sheet and the first run to a passed return to service.
#[test]
fn rebuild_to_return_to_service() {
    let memory = Memory::default();
    let mut bench = Bench::at_end(&memory);
    bench.press("f");
    picture!("put_right", bench);
    bench.press("^");
    picture!("put_right_remedy", bench);
    let memory = Memory::default();
    let mut bench = Bench::at_rebuild(&memory);
    picture!("rebuild", bench);
    bench.press("n").type_in("two meshes blocked");
    picture!("rebuild_fails", bench);
    bench.press("^").settle();
    holds(&bench.text(), "Times it failed so far: 1.");
    bench.press("y").settle();
    bench.type_in("0.3 mm").press("^");
    picture!("rebuild_out_of_band", bench);
    bench.press("^").settle().press("y").settle().type_in("0.1 mm").press("^").settle();
    picture!("first_run", bench);
    let memory = Memory::default();
    let mut bench = Bench::at_try(&memory);
    picture!("try_it", bench);
    bench.press("w").settle();
    picture!("return_to_service", bench);
    bench.type_in("2 inHg vac").press("^").settle().press("n").settle();
    picture!("return_off", bench);
    bench.press("↓y").settle().press("z").type_in("Ann; recheck tomorrow").press("^").settle();
    assert!(matches!(bench.memory().last(), Event::Returned { passed: true, .. }));
    picture!("returned", bench);
}

/// Something that was changed without effect leaves the list.
#[test]
fn changed_without_effect() {
    let memory = Memory::default();
    let mut bench = Bench::at_finding(&memory);
    bench.press("rf").type_in("nozzle").press("^d").type_in("new tip").press("^").settle();
    holds(&bench.text(), "FIRST RUN");
    bench.press("i").type_in("Ann").press("^yyyyyyyyyyz").settle().press("n").settle();
    assert!(bench.memory().events().iter().any(|event| matches!(event, Event::Tried { .. })));
    bench.press("t");
    picture!("trail_after_repair", bench);
}

/// The pictures of the README are what the screens draw.
#[test]
fn the_pictures_in_the_readme_are_true() {
    let theme = |name| Theme::new(name, Colours::Rgb, false);
    let pages: [(&str, fn(&Memory) -> Bench, ThemeName, &str); 3] = [
        ("reading", Bench::at_reading, ThemeName::Dark, "A reading is asked, with its caution and the likely causes"),
        ("isolation", Bench::at_isolation, ThemeName::Light, "The gate before something is opened, light theme"),
        ("results", Bench::at_end, ThemeName::HighContrast, "A confirmed cause, its chain and remedy, high contrast"),
    ];
    for (page, go, name, title) in pages {
        let drawn = go(&Memory::default()).size(90, 26).wear(theme(name)).drawn();
        is_kept(&format!("screen_{page}.svg"), &drawn, title);
    }
    let readme = std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    for page in ["reading", "isolation", "results", "gauges", "bench"] {
        holds(&readme, &format!("(demo/screen_{page}.svg)"));
    }
}

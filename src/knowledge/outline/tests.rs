//! Turns handwritten, random and hostile texts into evidence that the outline agrees with `ron`.

use super::{Key, Kind, Node, Outline, Span};
use indexmap::IndexMap;
use proptest::prelude::*;
use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

/// Texts that `ron` reads as a `ron::Value`.
#[rustfmt::skip]
const VALUES: &[&str] = &[
    // words and the unit
    "true", "false", "None", "()", "Foo", "r#true", "_x1", "größe",
    // numbers
    "0", "-1", "+7", "3u8", "-3i64", "0x1F", "0b1010_0001", "0o17", "1_000_000", "300u16", "1.5",
    ".5", "5.", "-0.5", "1e3", "1.5e-3", "2E+10", "1_0.2_5", "0.25f32", "1.0f64", "inf", "-inf",
    "NaN", "+NaN", "inff64", "NaNf32", "b'a'", "b'\\n'", "b'\\''", "b'\\x7f'",
    "18446744073709551615", "99999999999999999999999", "0xAbu8",
    // ranges
    "1..5", "1..=5", "..5", "..=5", "5..", "..", "0.5..1.5", "-1..1", "0.0..b'.'", "inf..",
    "-3..=inf", "b'a'..=b'z'", "[1.., 2]", "(1..2)",
    // texts
    "\"\"", "\"plain\"", "\"ü ⚠ 🛢\"", "\"a\\\"b\"", "\"\\\\\"", "\"// no comment /* nor this\"",
    "\"\\u{e9}\\x41\\xc3\\xa9\"", "\"two\\\n     lines\"", "\"two\\\r\n lines\"", "\"a\nb\"",
    "r\"\\n\"", "r#\"say \"hi\"\"#", "r##\"a\"#b\"##", "r#\"\"#", "b\"bytes\\x00\"", "br\"\\x\"",
    "br#\"a\"b\"#", "\"([{,:\"",
    // characters
    "'a'", "'\\''", "'''", "'\"'", "'\\\\'", "'\\u{1F6E2}'", "'🛢'", "','", "'\n'",
    // lists
    "[]", "[ ]", "[1]", "[1,]", "[1, 2 , 3]", "[[], [[]], [1, [2]]]", "['(', ')', \"]\", b'[']",
    "[/* a */ 1 /* b */ , // c\n 2 /* d */ ]",
    // maps
    "{}", "{\"a\": 1}", "{\"a\":1,\"b\":2,}", "{1: \"x\", 2: \"y\"}", "{'k': 'v'}",
    "{true: false}", "{(1, 2): [3]}", "{[1]: {2: 3}}", "{\"\\u{e9}\": 1}",
    "{r\"\\\": 1, r#\"\"\"#: 2}", "{0x10: 16, -1: 0}",
    "{ /* k */ \"a\" /* c */ : /* v */ 1 /* e */ , }", "{(): ()}", "{b'a': b\"a\"}",
    "{{1: 2}: 3}",
    // tuples and structs
    "(1)", "(1,)", "(1, \"two\", '3')", "((), (()))", "(a: 1)", "(a: 1, b: (c: 2),)", "Foo(1)",
    "Foo (1)", "Foo()", "Foo( )", "( )", "Foo(a: 1)", "Foo /* x */ ( a : 1 )",
    "(a/*:*/:/*,*/1/*)*/)", "Some(1)", "Some (Some(\"x\"))", "Some(None)", "Some(1,)",
    "(r#type: 1)", "(r#a.b-c+d: 1)", "(b: 1, r: 2, br: 3)", "(inf: 1, NaN: 2)", "(inff32: inf)",
    "Foo(bar: Baz(1, 2), qux: Quux)", "(Foo, Bar)", "(Foo)", "(ключ: 1, 鍵: 2)",
    "(a: Foo, b: Foo(), c: [Foo])", "Between(lo: 1, hi: 2)", "(e\u{301}: 1)",
    // headers, blanks and comments
    "#![enable(implicit_some)]\n1", "# ! [ enable ( unwrap_newtypes , ) ] [1]",
    "#![type = \"a ] b\"]\n#![schema = r#\"x\"]\"#]\n(a: 1)",
    "// c\n/* d */ #![enable(implicit_some)] // e\n(a: 1) // f", "1 // no line end", "1 //\r\n",
    "/* /* nested */ */ 1", "/*/ */ 1", "/***/1/**/", "/**/1/*/*/**/*/*/", "/* \" ' [ */ 1",
    "\u{85}\u{2028}\u{200E}1\u{2029}\u{200F}\x0B\x0C", "[1//]\n]", "[\r\n\t1,\r\n]\r\n",
    "/* /*/ */ */ 1",
];

/// The span of every value reads as the value `ron` found in the whole text.
fn agrees(node: &Node, value: &ron::Value, text: &str) {
    let source = node.span.of(text);
    let alone: ron::Value = ron::from_str(source).unwrap();
    assert_eq!(&alone, value, "{source} in {text}");
    match value {
        ron::Value::Map(map) if node.kind != Kind::Range => {
            assert!(matches!(node.kind, Kind::Map | Kind::Fields), "{text}");
            // `Foo` and `Bar` are two keys here, but the same unit to `ron::Value`.
            if map.len() < node.children.len() && node.kind == Kind::Map {
                return;
            }
            assert_eq!(node.children.len(), map.len());
            for ((key, child), (ron_key, ron_child)) in node.entries().zip(map.iter()) {
                key_agrees(key, ron_key, text);
                agrees(child, ron_child, text);
            }
        }
        ron::Value::Seq(seq) => {
            assert!(matches!(node.kind, Kind::List | Kind::Tuple), "{text}");
            assert_eq!(node.children.len(), seq.len());
            node.children.iter().zip(seq).for_each(|(child, value)| agrees(child, value, text));
        }
        ron::Value::Option(Some(inner)) => {
            assert_eq!(node.name_in(text), Some("Some"));
            agrees(&node.children[0], inner, text);
        }
        ron::Value::String(said) => assert_eq!(node.said_in(text).unwrap(), said.as_str()),
        ron::Value::Char(said) => assert_eq!(node.said_in(text).unwrap(), said.to_string()),
        _ => assert!(node.children.is_empty(), "{text}"),
    }
}

fn key_agrees(key: &Key, value: &ron::Value, text: &str) {
    let source = key.span.of(text);
    match value {
        ron::Value::String(said) => assert_eq!(&key.text, said, "{text}"),
        ron::Value::Char(said) => assert_eq!(key.text, said.to_string(), "{text}"),
        other => assert_eq!(&ron::from_str::<ron::Value>(source).unwrap(), other, "{text}"),
    }
    // A number forced to be small prints shorter than it would have to without its suffix.
    let as_it_says = matches!(key.kind, Kind::Text | Kind::Char | Kind::Word);
    if !as_it_says && !source.contains("f32") {
        let again: ron::Value = ron::from_str(&key.text).unwrap();
        assert_eq!(&again, value, "{text}");
    }
}

/// Whatever the text, spans lie inside each other, in order, on whole characters.
fn well_formed(outline: &Outline, text: &str) {
    let whole = Span::new(0, text.len());
    node_well_formed(&outline.root, whole, text);
    let mut from = 0;
    for comment in &outline.comments {
        let source = comment.span.of(text);
        assert!(source.starts_with(if comment.block { "/*" } else { "//" }), "{source}");
        assert!(comment.span.start >= from);
        from = comment.span.end;
    }
    assert_eq!(outline.comments_in(whole), outline.comments);
}

fn node_well_formed(node: &Node, room: Span, text: &str) {
    let entry = node.entry();
    assert!(room.start <= entry.start && entry.end <= room.end);
    assert!(text.get(node.span.range()).is_some_and(|source| !source.is_empty()));
    let Some(body) = node.body else {
        assert!(node.children.is_empty() && node.name.is_none());
        return;
    };
    assert_eq!(body.end + 1, node.span.end);
    assert!(text[..body.start].ends_with(['(', '[', '{']));
    let mut from = body.start;
    for (index, child) in node.children.iter().enumerate() {
        let last = index + 1 == node.children.len();
        assert!(last || child.comma.is_some());
        assert!(child.comma.is_none_or(|comma| text[comma..].starts_with(',')));
        let end = child.comma.unwrap_or(body.end);
        node_well_formed(child, Span::new(from, end), text);
        from = end;
    }
}

fn read(text: &str) -> Outline {
    let outline = Outline::read(text).map_err(|error| (text, error)).unwrap();
    well_formed(&outline, text);
    outline
}

#[test]
fn agrees_with_ron_on_handwritten_values() {
    assert!(VALUES.len() >= 60);
    for text in VALUES {
        let value: ron::Value = ron::from_str(text).map_err(|error| (text, error)).unwrap();
        agrees(&read(text).root, &value, text);
    }
}

#[test]
fn values_inside_other_values_are_the_same_values() {
    for text in VALUES.iter().filter(|text| !text.contains('#') || text.contains("r#")) {
        for (before, after) in [("[", "\n]"), ("(a:", "\n, )"), ("Foo(1,", "\n)"), ("{\"k\" :", "\n,}")] {
            let inside = format!("{before}{text}{after}");
            if let Ok(value) = ron::from_str::<ron::Value>(&inside) {
                agrees(&read(&inside).root, &value, &inside);
            }
        }
    }
}

#[test]
fn reads_what_only_typed_ron_accepts() {
    #[derive(Deserialize)]
    struct Meters(#[allow(dead_code)] f64);
    #[derive(Deserialize)]
    #[allow(dead_code)]
    struct Sheet {
        name: String,
        stroke: Option<Meters>,
        limit: Option<Limit>,
    }
    #[derive(Deserialize)]
    #[allow(dead_code)]
    enum Limit {
        Between { lo: f64, hi: f64 },
        AtMost(Bound),
    }
    #[derive(Deserialize)]
    #[allow(dead_code)]
    struct Bound {
        at: u8,
    }
    let header = "#![enable(implicit_some, unwrap_newtypes, unwrap_variant_newtypes)]\n";
    let plain = "Sheet(name: \"x\", stroke: Some(Meters(-NaN)), limit: None)";
    let short = format!("{header}(name: r\"x\", stroke: 0.1, limit: AtMost(at: b'a'))");
    let words = format!("{header}(name: \"x\", stroke: +inf, limit: Some(Between(lo: inf, hi: .5e1)))");
    for text in [plain, &short, &words] {
        assert!(ron::from_str::<Sheet>(text).is_ok(), "{text}");
        assert_eq!(read(text).root.kind, Kind::Fields);
    }
    assert_eq!(read(&short).find(&["limit", "at"]).unwrap().span.of(&short), "b'a'");
    assert_eq!(read(&words).find(&["limit", "0", "lo"]).unwrap().kind, Kind::Number);
    assert_eq!(read(&words).attributes[0].of(&words), header.trim_end());
}

#[test]
fn spans_cover_key_value_comma_name_and_body() {
    let text =
        "/* top */ Sheet (\n  // the bore\n  bore : Mm ( 40 ) , // really\n\n  'x': {}\n)".replace("'x'", "rest");
    let outline = read(&text);
    let bore = outline.find(&["bore"]).unwrap();
    assert_eq!(outline.root.name_in(&text), Some("Sheet"));
    assert!(outline.root.span.of(&text).starts_with("Sheet (\n"));
    assert_eq!(bore.key.as_ref().unwrap().span.of(&text), "bore");
    assert_eq!(bore.span.of(&text), "Mm ( 40 )");
    assert_eq!(bore.name.unwrap().of(&text), "Mm");
    assert_eq!(bore.body.unwrap().of(&text), " 40 ");
    assert_eq!(bore.entry().of(&text), "bore : Mm ( 40 )");
    assert_eq!(&text[bore.comma.unwrap()..][..2], ", ");
    let rest = outline.find(&["rest"]).unwrap();
    assert_eq!((rest.body.unwrap().of(&text), rest.comma), ("", None));
    let comments: Vec<_> = outline.comments.iter().map(|c| c.span.of(&text)).collect();
    assert_eq!(comments, ["/* top */", "// the bore", "// really"]);
}

#[test]
fn comments_in_a_gap_are_found() {
    let text = "[ // one\r\n 1, /* two */ // three\n 2 // four\n]";
    let outline = read(text);
    let two = &outline.root.children[1];
    let gap = Span::new(outline.root.children[0].comma.unwrap(), two.entry().start);
    let said: Vec<_> = outline.comments_in(gap).iter().map(|c| c.span.of(text)).collect();
    assert_eq!(said, ["/* two */", "// three"]);
    let after = Span::new(two.span.end, outline.root.body.unwrap().end);
    assert_eq!(outline.comments_in(after)[0].span.of(text), "// four");
    assert_eq!(outline.comments[0].span.of(text), "// one");
    assert!(outline.comments_in(two.span).is_empty());
}

#[test]
fn wrong_texts_are_refused_where_they_go_wrong() {
    let wrong = [
        ("", 0, "a value"),
        ("  // only this", 14, "a value"),
        ("[1 2]", 3, "`,` or `]`"),
        ("[1, 2", 0, "never closed"),
        ("(a: 1", 0, "never closed"),
        ("{1 2}", 3, "`:`"),
        ("{1: }", 4, "a value"),
        ("[a: 1]", 2, "`,` or `]`"),
        ("(1: 2)", 2, "`,` or `)`"),
        ("(a: 1, 2)", 7, "mixed"),
        ("(1, a: 2)", 4, "mixed"),
        ("1 2", 2, "follows"),
        ("[1,,2]", 3, "a value"),
        ("(]", 1, "a value"),
        ("  \"abc\\", 2, "never closed"),
        ("[r##\"x\"#]", 1, "never closed"),
        ("r###", 4, "`\"`"),
        ("'", 0, "never closed"),
        ("'ab'", 0, "never closed"),
        ("[1] /* /* */", 4, "never closed"),
        ("#![enable(", 0, "never closed"),
        ("#[x] 1", 1, "#![...]"),
        ("1 / 2", 2, "follows"),
        ("/*//*/ 1", 0, "never closed"),
    ];
    for (text, offset, message) in wrong {
        assert!(ron::from_str::<ron::Value>(text).is_err(), "{text}");
        let error = Outline::read(text).unwrap_err();
        assert_eq!(error.offset, offset, "{text}: {error}");
        assert!(error.message.contains(message), "{text}: {error}");
    }
}

#[test]
fn some_without_brackets_is_refused_though_ron_lets_it_pass() {
    for text in ["Some 1", "(a: Some'x')", "[Some [1]]"] {
        let loose = format!("#![enable(implicit_some)]{text}");
        assert!(Outline::read(&loose).is_err(), "{loose}");
    }
}

fn nested(open: &str, middle: &str, close: &str, levels: usize) -> String {
    format!("{}{middle}{}", open.repeat(levels), close.repeat(levels))
}

#[test]
fn what_ron_accepts_is_never_too_deep() {
    type Lists = serde::de::IgnoredAny;
    for (open, middle, close) in [("[", "()", "]"), ("{1:", "[]", "}"), ("(a:", "1", ")"), ("Some(", "X", ")")] {
        for levels in 1..200 {
            let text = nested(open, middle, close, levels);
            let read = Outline::read(&text);
            assert!(read.is_ok() || ron::from_str::<Lists>(&text).is_err(), "{text}");
        }
    }
}

#[test]
fn deep_texts_are_refused_without_overflow() {
    assert!(Outline::read(&nested("[", "1", "]", super::MAX_DEPTH)).is_ok());
    let error = Outline::read(&nested("[", "1", "]", super::MAX_DEPTH + 1)).unwrap_err();
    assert_eq!(error.offset, super::MAX_DEPTH + 1);
    for open in ["[", "(", "{", "{1:", "Some(", "(a:", "A /**/ (", "/*", "[1,", "#![", "r#", "1..", "'", "\\\""] {
        assert!(Outline::read(&open.repeat(200_000)).is_err(), "{open}");
    }
}

#[test]
fn a_hundred_thousand_items_in_one_line() {
    let items = "(id: \"x\", prior: 0.25, next: [1, 2]), ".repeat(100_000);
    let text = format!("[{items}]");
    let outline = read(&text);
    assert_eq!(outline.root.children.len(), 100_000);
    assert!(outline.duplicates().is_empty());
    assert_eq!(outline.find(&["99999", "prior"]).unwrap().span.of(&text), "0.25");
}

/// Every form `ron` can print.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum Tree {
    Nothing,
    Unit(()),
    Flag(bool),
    Whole(i64),
    Real(f64),
    Text(String),
    Letter(char),
    Maybe(Option<Box<Tree>>),
    Row(Vec<Tree>),
    Table(IndexMap<String, Tree>),
    Numbered(IndexMap<i32, Tree>),
    Pair(Box<Tree>, Box<Tree>),
    Record {
        first: Box<Tree>,
        r#type: Box<Tree>,
        #[serde(rename = "odd-name")]
        odd: Inner,
    },
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Inner {
    note: String,
    tree: Box<Tree>,
}

fn trees() -> impl Strategy<Value = Tree> {
    let words = "[a-z \"\\\\\n/*{}(),:'üß🛢#]{0,8}";
    let leaf = prop_oneof![
        Just(Tree::Nothing),
        Just(Tree::Unit(())),
        any::<bool>().prop_map(Tree::Flag),
        any::<i64>().prop_map(Tree::Whole),
        prop_oneof![-1e9..1e9, Just(f64::INFINITY), Just(1e-300)].prop_map(Tree::Real),
        words.prop_map(Tree::Text),
        any::<char>().prop_map(Tree::Letter),
    ];
    leaf.prop_recursive(4, 40, 5, move |inner| {
        let boxed = inner.clone().prop_map(Box::new);
        let entries = proptest::collection::vec((words, inner.clone()), 0..5);
        let numbers = proptest::collection::vec((any::<i32>(), inner.clone()), 0..4);
        prop_oneof![
            proptest::option::of(boxed.clone()).prop_map(Tree::Maybe),
            proptest::collection::vec(inner, 0..5).prop_map(Tree::Row),
            entries.prop_map(|entries| Tree::Table(entries.into_iter().collect())),
            numbers.prop_map(|entries| Tree::Numbered(entries.into_iter().collect())),
            (boxed.clone(), boxed.clone()).prop_map(|(a, b)| Tree::Pair(a, b)),
            (boxed.clone(), boxed.clone(), words, boxed).prop_map(|(first, kind, note, tree)| {
                let odd = Inner { note, tree };
                Tree::Record { first, r#type: kind, odd }
            }),
        ]
    })
}

/// The span of every tree, at any depth, reads as that tree; every key says what the model says.
fn holds(node: &Node, tree: &Tree, text: &str) {
    let alone: Tree = ron::from_str(node.span.of(text)).unwrap();
    assert_eq!(&alone, tree, "{text}");
    let inner = node.children.first();
    match tree {
        Tree::Text(said) => assert_eq!(inner.unwrap().said_in(text).unwrap(), said.as_str()),
        Tree::Letter(said) => assert_eq!(inner.unwrap().said_in(text).unwrap(), said.to_string()),
        Tree::Maybe(Some(tree)) => holds(&inner.unwrap().children[0], tree, text),
        Tree::Row(trees) => hold(&inner.unwrap().children, trees.iter(), text),
        Tree::Table(table) => {
            let keys: Vec<_> = inner.unwrap().entries().map(|(key, _)| &key.text).collect();
            assert_eq!(keys, table.keys().collect::<Vec<_>>());
            hold(&inner.unwrap().children, table.values(), text);
        }
        Tree::Numbered(table) => {
            let keys: Vec<_> = inner.unwrap().entries().map(|(key, _)| key.text.clone()).collect();
            assert_eq!(keys, table.keys().map(i32::to_string).collect::<Vec<_>>());
            hold(&inner.unwrap().children, table.values(), text);
        }
        Tree::Pair(a, b) => hold(&node.children, [&**a, &**b].into_iter(), text),
        Tree::Record { first, r#type, odd } => {
            holds(node.get("first").unwrap(), first, text);
            holds(node.get("type").unwrap(), r#type, text);
            let inner = node.get("odd-name").unwrap();
            holds(inner.get("tree").unwrap(), &odd.tree, text);
            assert_eq!(inner.get("note").unwrap().said_in(text).unwrap(), odd.note.as_str());
        }
        _ => {}
    }
}

fn hold<'a>(nodes: &[Node], trees: impl ExactSizeIterator<Item = &'a Tree>, text: &str) {
    assert_eq!(nodes.len(), trees.len());
    nodes.iter().zip(trees).for_each(|(node, tree)| holds(node, tree, text));
}

#[rustfmt::skip]
const REMARKS: &[&str] = &[
    "// note\n", "/* note */", " /* /* in */ it's \"odd\" ] */ ", "//\n", "\r\n", "/**/",
    "// ) \" ,\r\n", "\t", "\u{2028}", "// über /* 🛢\n", "/*/ */",
];

/// Where blanks may stand: around commas, inside brackets, behind keys and before values.
fn gaps(node: &Node, places: &mut Vec<usize>) {
    if let Some(key) = &node.key {
        places.extend([key.span.start, key.span.end]);
    }
    places.extend([node.span.start, node.span.end]);
    places.extend(node.comma.map(|comma| comma + 1));
    if let (Some(body), false) = (node.body, node.children.is_empty()) {
        places.extend([body.start, body.end]);
    }
    node.children.iter().for_each(|child| gaps(child, places));
}

/// The text with remarks strewn into it, and how many of them are comments.
fn commented(text: &str, choices: &[(usize, usize)]) -> (String, usize) {
    let mut places = Vec::new();
    gaps(&read(text).root, &mut places);
    let chosen = choices.iter().map(|(place, remark)| (places[place % places.len()], REMARKS[remark % REMARKS.len()]));
    let mut chosen: Vec<_> = chosen.collect();
    chosen.sort_unstable_by(|a, b| b.cmp(a));
    let mut strewn = text.to_owned();
    let mut count = 0;
    for (place, remark) in chosen {
        strewn.insert_str(place, remark);
        count += usize::from(remark.contains('/'));
    }
    (strewn, count)
}

fn printed(tree: &Tree, style: u8) -> String {
    let pretty = match style {
        0 => return ron::to_string(tree).unwrap(),
        1 => PrettyConfig::new(),
        2 => PrettyConfig::new().struct_names(true).new_line("\r\n").compact_arrays(true),
        _ => PrettyConfig::new().escape_strings(false).separator("").depth_limit(2).number_suffixes(true),
    };
    ron::ser::to_string_pretty(tree, pretty).unwrap()
}

/// Pieces from which texts like RON come about by chance.
#[rustfmt::skip]
const PIECES: &[&str] = &[
    "(", ")", "[", "]", "{", "}", ",", ",", ":", ": ", " ", "\n", "\"", "\"a\"", "r#", "r\"", "#",
    "b'", "'", "b\"", "br#\"", "\\", "/*", "*/", "//", "a", "b", "r", "inf", "NaN", "f32", "Some",
    "None", "true", "1", "0x1F", "3u8", "..", "..=", ".", "-", "+", "e", "_", "é", "🛢",
    "\u{2028}", "'a'", "'\\''", "'''", "\\u{41}", "#![enable(unwrap_newtypes)]", "()", "a:", "1,",
];

fn soup() -> impl Strategy<Value = String> {
    let piece = proptest::sample::select(PIECES);
    proptest::collection::vec(piece, 0..14).prop_map(|pieces| pieces.concat())
}

/// An outline of any text is well formed, and whatever `ron` accepts has one.
fn survives(text: &str) {
    let outline = Outline::read(text);
    if let Ok(outline) = &outline {
        well_formed(outline, text);
        let _ = outline.duplicates();
    }
    if let Ok(value) = ron::from_str::<ron::Value>(text) {
        let outline = outline.map_err(|error| (text, error)).unwrap();
        if outline.attributes.is_empty() && outline.duplicates().is_empty() {
            agrees(&outline.root, &value, text);
        }
    }
}

proptest! {
    #[test]
    fn printed_documents_hold_their_model(tree in trees(), style in 0..4_u8) {
        let text = printed(&tree, style);
        let outline = read(&text);
        holds(&outline.root, &tree, &text);
        prop_assert!(outline.duplicates().is_empty());
    }

    #[test]
    fn strewn_comments_change_nothing(
        tree in trees(),
        style in 0..4_u8,
        choices in proptest::collection::vec(any::<(usize, usize)>(), 0..12),
    ) {
        let (text, comments) = commented(&printed(&tree, style), &choices);
        prop_assert_eq!(&ron::from_str::<Tree>(&text).unwrap(), &tree, "{}", text);
        let outline = read(&text);
        holds(&outline.root, &tree, &text);
        prop_assert_eq!(outline.comments.len(), comments);
    }

    #[test]
    fn any_text_at_all_ends(text in "\\PC{0,60}") {
        survives(&text);
    }

    #[test]
    fn any_soup_of_pieces_ends_as_ron_ends(text in soup()) {
        survives(&text);
    }

    #[test]
    fn damaged_documents_end(tree in trees(), cut in any::<usize>(), dirt in soup()) {
        let text = printed(&tree, 1);
        let cut = text.floor_char_boundary(cut % (text.len() + 1));
        survives(&text[..cut]);
        survives(&text[cut..]);
        survives(&format!("{}{dirt}{}", &text[..cut], &text[cut..]));
    }
}

//! Turns the characters of a RON text into nodes, comments and attributes, in one pass forward.

use super::{Comment, Key, Kind, MAX_DEPTH, Node, Outline, OutlineError, Span, keys};

type Read<T> = Result<T, OutlineError>;

/// How a raw text or byte string may begin; `r#word` is a word.
const RAW_STARTS: [&str; 5] = ["r\"", "r#\"", "r##", "br\"", "br#"];

/// Reads the one value of `text` and what stands around it.
pub(super) fn read(text: &str) -> Read<Outline> {
    let mut reader = Reader { text, at: 0, comments: Vec::new() };
    let attributes = reader.attributes()?;
    let root = reader.value(0)?;
    reader.blank()?;
    if reader.at < text.len() {
        return Err(reader.error("something follows the end of the value"));
    }
    Ok(Outline { root, comments: reader.comments, attributes })
}

/// The three pairs of brackets.
#[derive(Clone, Copy, PartialEq)]
enum Brackets {
    Square,
    Curly,
    Round,
}

impl Brackets {
    fn closing(self) -> char {
        match self {
            Self::Square => ']',
            Self::Curly => '}',
            Self::Round => ')',
        }
    }

    fn kind(self, children: &[Node]) -> Kind {
        let keyed = children.first().is_some_and(|child| child.key.is_some());
        match self {
            Self::Square => Kind::List,
            Self::Curly => Kind::Map,
            Self::Round if keyed => Kind::Fields,
            Self::Round => Kind::Tuple,
        }
    }
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    comments: Vec<Comment>,
}

/// Moving over characters.
impl<'t> Reader<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn sees(&self, what: &str) -> bool {
        self.rest().starts_with(what)
    }

    fn eat(&mut self, what: &str) -> bool {
        let seen = self.sees(what);
        if seen {
            self.at += what.len();
        }
        seen
    }

    fn eat_char(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }

    fn eat_while(&mut self, wanted: fn(char) -> bool) {
        let rest = self.rest();
        self.at += rest.find(|c| !wanted(c)).unwrap_or(rest.len());
    }

    fn since(&self, start: usize) -> Span {
        Span::new(start, self.at)
    }

    fn error(&self, message: &str) -> OutlineError {
        error_at(self.at, message)
    }
}

/// What lies between values.
impl Reader<'_> {
    /// Skips blanks and takes note of comments.
    fn blank(&mut self) -> Read<()> {
        loop {
            self.eat_while(is_blank);
            let start = self.at;
            let block = self.sees("/*");
            if block {
                self.block_comment()?;
            } else if self.sees("//") {
                self.line_comment();
            } else {
                return Ok(());
            }
            let span = self.since(start);
            self.comments.push(Comment { span, block });
        }
    }

    fn line_comment(&mut self) {
        let rest = self.rest();
        let line = rest.find('\n').map_or(rest, |end| &rest[..end]);
        self.at += line.strip_suffix('\r').unwrap_or(line).len();
    }

    fn block_comment(&mut self) -> Read<()> {
        let start = self.at;
        let mut level = 0_usize;
        loop {
            self.eat_while(|c| c != '/' && c != '*');
            if self.eat("/*") {
                level += 1;
            } else if self.eat("*/") {
                level -= 1;
            } else if self.peek().is_some() {
                self.eat_char();
            } else {
                return Err(error_at(start, "this comment is never closed"));
            }
            if level == 0 {
                return Ok(());
            }
        }
    }

    /// Skips the `#![...]` lines at the top.
    fn attributes(&mut self) -> Read<Vec<Span>> {
        let mut attributes = Vec::new();
        self.blank()?;
        while self.sees("#") {
            let start = self.at;
            self.attribute()?;
            attributes.push(self.since(start));
            self.blank()?;
        }
        Ok(attributes)
    }

    fn attribute(&mut self) -> Read<()> {
        let start = self.at;
        for sign in ["#", "!", "["] {
            if !self.eat(sign) {
                return Err(self.error("expected `#![...]`"));
            }
            self.blank()?;
        }
        while !self.eat("]") {
            if self.peek().is_none() {
                return Err(error_at(start, "this attribute is never closed"));
            }
            if self.quoted()?.is_none() {
                self.eat_char();
            }
            self.blank()?;
        }
        Ok(())
    }
}

/// Values with brackets.
impl Reader<'_> {
    /// Reads the value that begins here, inside `depth` pairs of brackets.
    fn value(&mut self, depth: usize) -> Read<Node> {
        if depth > MAX_DEPTH {
            return Err(self.error("too many brackets inside each other"));
        }
        match self.peek() {
            Some('[') => self.container(Brackets::Square, depth),
            Some('{') => self.container(Brackets::Curly, depth),
            Some('(') => self.container(Brackets::Round, depth),
            _ => self.leaf_or_named(depth),
        }
    }

    fn container(&mut self, brackets: Brackets, depth: usize) -> Read<Node> {
        let start = self.at;
        self.eat_char();
        let children = self.children(brackets, depth + 1, start)?;
        let body = self.since(start + 1);
        self.eat_char();
        let kind = brackets.kind(&children);
        Ok(Node { body: Some(body), children, ..Node::leaf(kind, self.since(start)) })
    }

    /// Reads the entries up to the closing bracket, which is left standing.
    fn children(&mut self, brackets: Brackets, depth: usize, opening: usize) -> Read<Vec<Node>> {
        let mut children: Vec<Node> = Vec::new();
        loop {
            self.blank()?;
            match self.peek() {
                Some(c) if c == brackets.closing() => return Ok(children),
                Some(_) => {}
                None => return Err(error_at(opening, "this bracket is never closed")),
            }
            if children.last().is_some_and(|last| last.comma.is_none()) {
                return Err(self.error(&format!("expected `,` or `{}`", brackets.closing())));
            }
            let mut child = self.entry(brackets, depth)?;
            let same_form = |first: &Node| first.key.is_some() == child.key.is_some();
            if !children.first().is_none_or(same_form) {
                return Err(error_at(child.entry().start, "fields with and without names are mixed"));
            }
            self.blank()?;
            child.comma = self.sees(",").then_some(self.at);
            self.eat(",");
            children.push(child);
        }
    }

    /// Reads `value` or `key: value`.
    fn entry(&mut self, brackets: Brackets, depth: usize) -> Read<Node> {
        let first = self.value(depth)?;
        let may_be_key = match brackets {
            Brackets::Square => false,
            Brackets::Curly => true,
            Brackets::Round => self.is_field_name(&first),
        };
        if !may_be_key {
            return Ok(first);
        }
        self.blank()?;
        if !self.eat(":") {
            return match brackets {
                Brackets::Curly => Err(self.error("expected `:`")),
                _ => Ok(first),
            };
        }
        self.blank()?;
        let key = self.key(first, brackets)?;
        let value = self.value(depth)?;
        Ok(Node { key: Some(key), ..value })
    }

    /// A field may be called `inf` too.
    fn is_field_name(&self, node: &Node) -> bool {
        node.kind == Kind::Word || is_number_word(node.span.of(self.text))
    }

    fn key(&self, mut node: Node, brackets: Brackets) -> Read<Key> {
        if brackets == Brackets::Round {
            node.kind = Kind::Word;
        }
        let wrong = || error_at(node.span.start, "this key has an escape that means nothing");
        Ok(Key { span: node.span, kind: node.kind, text: keys::key_text(&node, self.text).ok_or_else(wrong)? })
    }
}

/// Values without brackets.
impl Reader<'_> {
    fn leaf_or_named(&mut self, depth: usize) -> Read<Node> {
        let start = self.at;
        if let Some(kind) = self.quoted()? {
            return Ok(Node::leaf(kind, self.since(start)));
        }
        match self.peek() {
            Some('\'') => {
                self.letter()?;
                Ok(Node::leaf(Kind::Char, self.since(start)))
            }
            Some('0'..='9' | '+' | '-' | '.') => self.number(),
            Some(_) if self.sees("b'") => self.number(),
            Some(c) if is_word_char(c) => self.word(depth),
            _ => Err(self.error("expected a value")),
        }
    }

    /// Reads a text or byte string if one begins here.
    fn quoted(&mut self) -> Read<Option<Kind>> {
        let kind = match self.peek() {
            Some('"' | 'r') => Kind::Text,
            Some('b') => Kind::Bytes,
            _ => return Ok(None),
        };
        let start = self.at;
        if self.eat("\"") || self.eat("b\"") {
            self.plain_string(start)?;
        } else if RAW_STARTS.iter().any(|sign| self.sees(sign)) {
            self.raw_string(start)?;
        } else {
            return Ok(None);
        }
        Ok(Some(kind))
    }

    fn plain_string(&mut self, start: usize) -> Read<()> {
        loop {
            self.eat_while(|c| c != '"' && c != '\\');
            if self.eat("\"") {
                return Ok(());
            }
            if !self.eat("\\") {
                return Err(error_at(start, "this text is never closed"));
            }
            self.eat_char();
        }
    }

    fn raw_string(&mut self, start: usize) -> Read<()> {
        self.eat("b");
        self.eat("r");
        let hashes_from = self.at;
        self.eat_while(|c| c == '#');
        let closing = format!("\"{}", self.since(hashes_from).of(self.text));
        if !self.eat("\"") {
            return Err(self.error("expected `\"`"));
        }
        let unclosed = || error_at(start, "this text is never closed");
        self.at += self.rest().find(&closing).ok_or_else(unclosed)? + closing.len();
        Ok(())
    }

    /// Reads `'c'`, `'\''`, `'\u{e9}'`; the middle of `'''` needs no escape.
    fn letter(&mut self) -> Read<()> {
        let start = self.at;
        self.eat("'");
        let escaped = self.eat("\\");
        self.eat_char();
        if escaped {
            self.eat_while(|c| c != '\'' && c != '\n');
        }
        if self.eat("'") {
            return Ok(());
        }
        Err(error_at(start, "this character is never closed"))
    }

    fn number(&mut self) -> Read<Node> {
        let start = self.at;
        self.bound()?;
        self.range_after(start)
    }

    /// Reads `..5` or `..=5` behind a number, if it is there, and ends the node.
    fn range_after(&mut self, start: usize) -> Read<Node> {
        let mut kind = Kind::Number;
        if self.eat("..") {
            kind = Kind::Range;
            self.eat("=");
            self.bound()?;
        }
        Ok(Node::leaf(kind, self.since(start)))
    }

    /// Reads one number up to `..` or its end; it may be missing.
    fn bound(&mut self) -> Read<()> {
        if self.eat("b'") {
            self.at -= 1;
            return self.letter();
        }
        loop {
            self.eat_while(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '+' | '-'));
            if self.sees("..") || !self.eat(".") {
                return Ok(());
            }
        }
    }

    /// Reads a bare word, a named pair of brackets, or `inf` and `NaN`.
    fn word(&mut self, depth: usize) -> Read<Node> {
        let start = self.at;
        if self.eat("r#") {
            self.eat_while(|c| is_word_char(c) || matches!(c, '.' | '+' | '-'));
        } else {
            self.eat_while(is_word_char);
        }
        let name = self.since(start);
        if is_number_word(name.of(self.text)) {
            return self.range_after(start);
        }
        self.blank()?;
        if !self.sees("(") {
            return Ok(Node::leaf(Kind::Word, name));
        }
        let mut node = self.container(Brackets::Round, depth)?;
        node.span.start = start;
        node.name = Some(name);
        Ok(node)
    }
}

fn error_at(offset: usize, message: &str) -> OutlineError {
    OutlineError { offset, message: message.to_owned() }
}

/// The blanks of RON, which are not quite those of Unicode.
fn is_blank(c: char) -> bool {
    let ascii = matches!(c, ' ' | '\t' | '\n' | '\r' | '\x0B' | '\x0C');
    ascii || matches!(c, '\u{85}' | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}')
}

/// Any letter of any script, without a table: what else could a character be that `ron` accepted?
fn is_word_char(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_' || (!c.is_ascii() && !is_blank(c))
}

fn is_number_word(word: &str) -> bool {
    let bare = ["f32", "f64"].iter().find_map(|suffix| word.strip_suffix(suffix));
    matches!(bare.unwrap_or(word), "inf" | "NaN")
}

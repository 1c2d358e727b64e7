//! What a browser would make of a page: its elements, read by html5ever, which follows the HTML standard's parsing chapter.
//!
//! The oracle of this folder: it shares no code with what writes the pages.

use std::borrow::Cow;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use html5ever::interface::{ElemName, ElementFlags, NodeOrText, QuirksMode, TreeSink};
use html5ever::tendril::{StrTendril, TendrilSink};
use html5ever::{Attribute, LocalName, Namespace, QualName, parse_document};

/// A node by its place in [`Sink::nodes`].
type Node = usize;

/// What a node is.
enum Kind {
    Document,
    Element(QualName, BTreeMap<String, String>),
    Comment,
    Text(String),
}

struct Held {
    kind: Kind,
    parent: Option<Node>,
    children: Vec<Node>,
}

/// A parsed page.
pub(crate) struct Tree {
    nodes: Vec<Held>,
    /// What a browser forgives, such as an end tag of nothing.
    pub(crate) forgiven: Vec<String>,
}

/// The tree under construction; the parser holds it shared, so what changes is in cells.
struct Sink {
    nodes: RefCell<Vec<Held>>,
    forgiven: RefCell<Vec<String>>,
    quirks: Cell<bool>,
}

/// The name of an element, by itself: a borrow would not outlive the cell.
#[derive(Debug)]
struct Called(QualName);

impl ElemName for Called {
    fn ns(&self) -> &Namespace {
        &self.0.ns
    }

    fn local_name(&self) -> &LocalName {
        &self.0.local
    }
}

impl Sink {
    fn new_node(&self, kind: Kind) -> Node {
        let mut nodes = self.nodes.borrow_mut();
        nodes.push(Held { kind, parent: None, children: Vec::new() });
        nodes.len() - 1
    }

    fn put(&self, parent: Node, at: usize, child: NodeOrText<Node>) {
        let child = match child {
            NodeOrText::AppendNode(node) => node,
            NodeOrText::AppendText(text) => self.new_node(Kind::Text(text.to_string())),
        };
        self.remove_from_parent(&child);
        let mut nodes = self.nodes.borrow_mut();
        nodes[child].parent = Some(parent);
        nodes[parent].children.insert(at, child);
    }
}

impl TreeSink for Sink {
    type Handle = Node;
    type Output = Tree;
    type ElemName<'a> = Called;

    fn finish(self) -> Tree {
        assert!(!self.quirks.get(), "a page begins with its doctype");
        Tree { nodes: self.nodes.into_inner(), forgiven: self.forgiven.into_inner() }
    }

    fn parse_error(&self, message: Cow<'static, str>) {
        self.forgiven.borrow_mut().push(message.into_owned());
    }

    fn get_document(&self) -> Node {
        0
    }

    fn elem_name<'a>(&'a self, target: &'a Node) -> Called {
        match &self.nodes.borrow()[*target].kind {
            Kind::Element(name, _) => Called(name.clone()),
            _ => panic!("only elements have names"),
        }
    }

    fn create_element(&self, name: QualName, attributes: Vec<Attribute>, _: ElementFlags) -> Node {
        let named = attributes.into_iter().map(|one| (one.name.local.to_string(), one.value.to_string()));
        self.new_node(Kind::Element(name, named.collect()))
    }

    fn create_comment(&self, _: StrTendril) -> Node {
        self.new_node(Kind::Comment)
    }

    fn create_pi(&self, _: StrTendril, _: StrTendril) -> Node {
        self.new_node(Kind::Comment)
    }

    fn append(&self, parent: &Node, child: NodeOrText<Node>) {
        let end = self.nodes.borrow()[*parent].children.len();
        self.put(*parent, end, child);
    }

    fn append_based_on_parent_node(&self, element: &Node, before: &Node, child: NodeOrText<Node>) {
        if self.nodes.borrow()[*element].parent.is_some() {
            self.append_before_sibling(element, child);
        } else {
            self.append(before, child);
        }
    }

    fn append_doctype_to_document(&self, _: StrTendril, _: StrTendril, _: StrTendril) {}

    fn get_template_contents(&self, target: &Node) -> Node {
        *target
    }

    fn same_node(&self, one: &Node, other: &Node) -> bool {
        one == other
    }

    fn set_quirks_mode(&self, mode: QuirksMode) {
        self.quirks.set(mode != QuirksMode::NoQuirks);
    }

    fn append_before_sibling(&self, sibling: &Node, new: NodeOrText<Node>) {
        let parent = self.nodes.borrow()[*sibling].parent.expect("a sibling has a parent");
        let at = self.nodes.borrow()[parent].children.iter().position(|child| child == sibling).expect("its child");
        self.put(parent, at, new);
    }

    fn add_attrs_if_missing(&self, target: &Node, attributes: Vec<Attribute>) {
        if let Kind::Element(_, have) = &mut self.nodes.borrow_mut()[*target].kind {
            for one in attributes {
                have.entry(one.name.local.to_string()).or_insert_with(|| one.value.to_string());
            }
        }
    }

    fn remove_from_parent(&self, target: &Node) {
        let mut nodes = self.nodes.borrow_mut();
        if let Some(parent) = nodes[*target].parent.take() {
            nodes[parent].children.retain(|child| child != target);
        }
    }

    fn reparent_children(&self, node: &Node, new: &Node) {
        let moved = std::mem::take(&mut self.nodes.borrow_mut()[*node].children);
        for child in moved {
            self.nodes.borrow_mut()[child].parent = Some(*new);
            self.nodes.borrow_mut()[*new].children.push(child);
        }
    }
}

/// The tree of a page.
pub(crate) fn tree(html: &str) -> Tree {
    let document = Held { kind: Kind::Document, parent: None, children: Vec::new() };
    let sink = Sink { nodes: RefCell::new(vec![document]), forgiven: RefCell::default(), quirks: Cell::new(false) };
    parse_document(sink, html5ever::ParseOpts::default()).one(html)
}

/// Elements whose text a browser acts on.
const ACTS: [&str; 2] = ["script", "style"];

/// Attributes whose value a browser acts on: of an address its scheme counts, of the rest the whole value.
const ADDRESSES: [&str; 6] = ["href", "src", "action", "formaction", "srcset", "data"];
const SETTINGS: [&str; 6] = ["http-equiv", "type", "method", "rel", "name", "style"];

impl Tree {
    /// Every element in the order of the page, one a line, indented by depth: its name, its attributes' names, and every value a browser
    /// acts on. What stands below an element of class `but` is left out. Texts are left out, but for those of scripts and styles.
    pub(crate) fn outline(&self, but: &str) -> String {
        let mut out = String::new();
        self.write(0, 0, but, &mut out);
        out
    }

    fn write(&self, node: Node, depth: usize, but: &str, out: &mut String) {
        let held = &self.nodes[node];
        let indent = " ".repeat(depth);
        let mut hidden = false;
        match &held.kind {
            Kind::Document => {}
            Kind::Text(_) => return,
            Kind::Comment => out.push_str(&format!("{indent}a comment\n")),
            Kind::Element(name, attributes) => {
                let told: Vec<String> = attributes.iter().map(|(name, value)| acted_on(name, value)).collect();
                out.push_str(&format!("{indent}{} {}", name.local, told.join(" ")));
                if ACTS.contains(&&*name.local) {
                    out.push_str(&self.text(node));
                }
                out.push('\n');
                hidden = !but.is_empty() && attributes.get("class").is_some_and(|class| class == but);
            }
        }
        if !hidden {
            held.children.iter().for_each(|child| self.write(*child, depth + 1, but, out));
        }
    }

    /// The names of every element below the elements of a class, with the schemes of their addresses.
    pub(crate) fn below(&self, class: &str) -> Vec<String> {
        let mut found = Vec::new();
        for (node, held) in self.nodes.iter().enumerate() {
            let (Kind::Element(name, attributes), mut up) = (&held.kind, held.parent) else { continue };
            while let Some(parent) = up {
                if let Kind::Element(_, of) = &self.nodes[parent].kind
                    && of.get("class").is_some_and(|value| value == class)
                    && node != parent
                {
                    let told: Vec<String> = attributes.iter().map(|(name, value)| acted_on(name, value)).collect();
                    found.push(format!("{} {}", name.local, told.join(" ")).trim_end().to_owned());
                    break;
                }
                up = self.nodes[parent].parent;
            }
        }
        found
    }

    /// The text below a node.
    fn text(&self, node: Node) -> String {
        match &self.nodes[node].kind {
            Kind::Text(text) => text.clone(),
            _ => self.nodes[node].children.iter().map(|child| self.text(*child)).collect(),
        }
    }

    /// The text of the whole page.
    pub(crate) fn whole_text(&self) -> String {
        self.text(0)
    }
}

fn acted_on(name: &str, value: &str) -> String {
    if ADDRESSES.contains(&name) {
        let end = value.find(|c: char| !c.is_ascii_alphanumeric() && c != '+' && c != '-').unwrap_or(value.len());
        format!("{name}={}", if value[end..].starts_with(':') { &value[..=end] } else { "here" })
    } else if SETTINGS.contains(&name) {
        format!("{name}={value}")
    } else {
        name.to_owned()
    }
}

#[test]
fn the_oracle_sees_what_a_browser_sees() {
    let page = |inside: &str| format!("<!DOCTYPE html><html><head><title>x</title></head><body>{inside}</body></html>");
    let outline = |inside: &str| tree(&page(inside)).outline("");
    assert_eq!(outline("<p>one</p>"), outline("<p>two &lt;b&gt;</p>"));
    for hostile in ["<p><b>one</b></p>", "<p onclick=x>one</p>", "<p>one<!-- --></p>", "<p>one</p><svg/onload=x>"] {
        assert_ne!(outline("<p>one</p>"), outline(hostile), "{hostile}");
    }
    assert_ne!(outline("<a href=\"/a\">a</a>"), outline("<a href=\"javascript:a\">a</a>"));
    assert_ne!(outline("<style>a</style>"), outline("<style>b</style>"));
    assert_eq!(tree(&page("<div class=\"k\"><p>a<em>b</em></p></div><b>c</b>")).below("k"), ["p", "em"]);
    assert_eq!(tree(&page("<p>a</p>")).whole_text(), "xa");
    assert!(tree(&page("</b>")).forgiven.len() == 1 && tree(&page("<p>a</p>")).forgiven.is_empty());
}

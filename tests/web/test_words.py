"""Every word a page says stands in the words files, so that it can be said in another language."""

from __future__ import annotations

import ast
import re
from importlib.resources import files
from pathlib import Path

import pytest

from halfpan.files.words import say, sentences, words

PACKAGE = Path(str(files("halfpan")))
SCRIPTS = sorted([*PACKAGE.glob("web/static/js/*.js"), *PACKAGE.glob("files/carried/*.js")])
LITERAL = re.compile(r'"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`')
KEYS_AND_VERBS = {
    *("ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Escape", "Enter", "Delete", "Backspace", "Arrow"),
    *("L", "POST", "Accept", "X-Halfpan-Token", "NFKD"),
}
"""Names a browser or the protocol gives to keys, methods, headers and forms of Unicode; nobody reads them."""
SHOWN = re.compile(
    r'(?:textContent|innerText|title|placeholder|alt|label)\s*[=:]\s*(["`][^"`]*["`])'
    r'|setAttribute\("(?:aria-label|title|alt|placeholder)",\s*(["`][^"`]*["`])'
)


def code_of(script: Path) -> str:
    """Return a script without its comments."""
    text = re.sub(r"/\*.*?\*/", "", script.read_text("utf-8"), flags=re.DOTALL)
    return re.sub(r"(?m)(^|\s)//.*$", "", text)


def said(literal: str) -> str:
    """Return what stands in a literal itself, without its quotes and the values put into it."""
    return re.sub(r"\$\{[^}]*\}", " ", literal[1:-1])


def marks() -> set[str]:
    """Return the names that style sheets give to things."""
    css = " ".join(path.read_text("utf-8") for path in PACKAGE.glob("web/static/css/*.css"))
    return set(re.findall(r"\.([a-z][\w-]*)", css))


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.name)
def test_no_script_shows_a_word_of_its_own(script: Path) -> None:
    shown = [one or other for one, other in SHOWN.findall(code_of(script))]
    assert not [text for text in shown if re.search(r"[^\W\d_]{2,}", said(text))]


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.name)
def test_no_script_holds_a_sentence(script: Path) -> None:
    held = []
    for literal in LITERAL.findall(code_of(script)):
        text = said(literal)
        if literal[1:-1] in KEYS_AND_VERBS or re.search(r"[\[\]#>/=;(]|data-|use strict", text):
            continue  # a key, a selector, an address, a type
        tokens = re.findall(r"[^\W\d_][\w'’-]+", text)
        prose = len(tokens) > 1 and not set(tokens) <= marks()
        if prose and not text.startswith("halfpan "):  # under which name a browser keeps what was typed
            held.append(text)
        if any(token[0].isupper() and token[1:].islower() for token in tokens):
            held.append(text)
    assert held == []


SOURCES = sorted([*PACKAGE.glob("web/**/*.py"), *PACKAGE.glob("files/carried/*.py")])
NO_WORDS_OF_A_PAGE = {"serif", "sans", "bold", "italic", "it"}
"""Names of letters, not words."""


def literals(source: Path) -> list[str]:
    """Return the literals of a module that are neither its documentation nor what its log says."""
    tree = ast.parse(source.read_text("utf-8"))
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and node.func.attr == "exception"
        ):
            told |= {id(part) for part in node.args}
    found = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in told]
    return [node.value for node in found if isinstance(node.value, str)]


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: path.name)
def test_no_page_holds_a_sentence_of_its_own(source: Path) -> None:
    known = marks() | NO_WORDS_OF_A_PAGE
    values = {key.rsplit(".", 1)[1] for key in words()}  # kept as data, shown by their word: “half pan”
    held = []
    for text in literals(source):
        bare = re.sub(r"\{[^}]*\}", "", text)
        tokens = set(re.findall(r"[^\W\d_][\w’-]+", bare))
        machine = re.search(r"[<=;(]|^/|src ", text) or text in values
        if re.search(r"[^\W\d_]{2,} [^\W\d_]{2,}", bare) and not machine and not tokens <= known:
            held.append(text)
    assert held == []


def test_this_test_sees_words_where_there_are_some(tmp_path: Path) -> None:
    spoken = tmp_path / "spoken.js"
    spoken.write_text('// a remark\nbutton("+", "Nearer");\nsay.textContent = `${n} painted`;\n')
    with pytest.raises(AssertionError):
        test_no_script_holds_a_sentence(spoken)
    with pytest.raises(AssertionError):
        test_no_script_shows_a_word_of_its_own(spoken)
    source = tmp_path / "spoken.py"
    source.write_text('"""What it is for."""\n\nTOLD = f"{3} boxes are painted"\n')
    with pytest.raises(AssertionError):
        test_no_page_holds_a_sentence_of_its_own(source)


def test_a_sentence_about_a_number_has_both_its_forms() -> None:
    held = words()
    assert [
        key for key in held if key.endswith(".one") and f"{key.removesuffix('.one')}.other" not in held
    ] == []
    assert say("carried.count", 1) == "1 paint"
    assert say("carried.count", 5000) == "5,000 paints"


def test_sentences_for_a_script_keep_their_braces() -> None:
    assert sentences("carried.found")["near"] == "Nothing is spelt “{text}”; near it: {n} owned."


def test_templates_hold_no_words_of_their_own() -> None:
    held = {}
    for path in PACKAGE.glob("web/templates/*.html"):
        text = re.sub(
            r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", " ", path.read_text("utf-8"), flags=re.DOTALL
        )
        left = re.sub(
            r"&\w+;|\b(?:L|C|h|a|b|mm|ml|Space|Delete|Esc|Ctrl|Z|g|p|c|m|t|s|n)\b|ΔE|hidden|data-\w+",
            " ",
            text,
        )
        if found := re.findall(r"[^\W\d_]{2,}", left):
            held[path.name] = found
    assert held == {}

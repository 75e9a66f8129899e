"""The pages of the help: Markdown in `resources/help`, with what the registries say put in.

A line ``{tools: line, circle}`` becomes the tools' names, keys and hints; ``{findings: gap}`` what
the codes mean, why it matters and what mends it; ``{joints}`` and ``{rules}`` the same of every
state of a joint and every cutting rule. So the words are where the things are, and the page that
names one is where the help opens for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html import escape

from sketcher.board.action_table import all_actions
from sketcher.board.board import all_tools
from sketcher.inspect.findings import CODES
from sketcher.inspect.joint_value import JOINT_STATES
from sketcher.inspect.rules import rules
from sketcher.shipped import shipped

PAGES = ("draw", "bind", "mirror", "construct", "practice", "inspect", "deliver", "mend", "mark")
KEYS = "keys"
PLACE = re.compile(r"^\{(\w+)(?:: ([^}]*))?\}$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class HelpSection:
    """A part of a page below one heading.

    Parameters
    ----------
    page, title : str
        Name of the page, and the heading; that of the page itself for what stands before others.
    text : str
        Markdown, heading included.
    about : tuple of str
        What it is about: ``tool:line``, ``finding:gap``, ``joint:corner``, ``rule:web``.
    """

    page: str
    title: str
    text: str
    about: tuple[str, ...]

    @property
    def words(self) -> str:
        """All that it says, for finding words in it."""
        return re.sub(r"[*_`#|]|!\[[^]]*\]\([^)]*\)", " ", self.text).lower()


@cache
def sections() -> tuple[HelpSection, ...]:
    """Return every section of every page, in order; the list of keys comes last."""
    found = [section for page in PAGES for section in _of_page(page)]
    return (*found, HelpSection(KEYS, "Keys", _keys(), ()))


def text_of(page: str) -> str:
    """Return a page as Markdown."""
    return "\n\n".join(section.text for section in sections() if section.page == page)


def section_about(thing: str) -> HelpSection:
    """Return the section about a tool, a finding, a state or a rule; the first one without any."""
    return next((section for section in sections() if thing in section.about), sections()[0])


def having(words: str) -> tuple[HelpSection, ...]:
    """Return the sections in which all of these words, or beginnings of words, stand.

    Those that have them in their heading, or are about a thing of that name, come first.
    """
    wanted = [re.compile(rf"\b{re.escape(word)}") for word in words.lower().split()]
    found = [section for section in sections()
             if all(word.search(section.words) for word in wanted)]

    def told_aside(section: HelpSection) -> int:
        subject = " ".join((section.title.lower(), *section.about))
        return sum(not word.search(subject) for word in wanted)

    return tuple(sorted(found, key=told_aside))


def beginnings() -> tuple[HelpSection, ...]:
    """Return the first section of every page: what a list of the pages is made of."""
    found = {section.page: section for section in reversed(sections())}
    return tuple(section for section in sections() if found[section.page] is section)


def nothing_found(words: str) -> str:
    """Return as HTML that no page has all of some words, which it are, and what to try."""
    sought = words.split()
    missing = [word for word in sought if not having(word)]
    if len(sought) > 1:
        why = f"No page has {_quoted(missing)}; leave that out." if missing else \
            "Each of the words is found, but no section has all of them; try one alone."
    else:
        why = "Try another word for it, or only its beginning."
    pages = "".join(f'<li><a href="{section.page}">{escape(section.title)}</a></li>'
                    for section in beginnings())
    return (f"<h1>Nothing found for {_quoted([words.strip()])}</h1><p>{why}</p>"
            f"<p>The pages:</p><ul>{pages}</ul>")


def _quoted(words: list[str]) -> str:
    return escape(", ".join(f"\N{LEFT DOUBLE QUOTATION MARK}{word}\N{RIGHT DOUBLE QUOTATION MARK}"
                            for word in words))


def _of_page(page: str) -> Iterator[HelpSection]:
    raw = shipped("resources", f"help/{page}.md").read_text("utf-8")
    for block in re.split(r"^(?=#{1,2} )", raw, flags=re.MULTILINE):
        if block.strip():
            title = block.split("\n", 1)[0].lstrip("# ").strip()
            about = tuple(name for what, names in PLACE.findall(block)
                          for name in _about(what, names))
            yield HelpSection(page, title, PLACE.sub(_filled, block).strip(), about)


def _listed(names: str) -> list[str]:
    return [name.strip() for name in names.split(",")]


def _about(what: str, names: str) -> Iterator[str]:
    if what == "joints":
        return (f"joint:{state}" for state in JOINT_STATES)
    if what == "rules":
        return (f"rule:{name}" for name in rules())
    return (f"{what.removesuffix('s')}:{name}" for name in _listed(names))


def _filled(place: re.Match[str]) -> str:
    return "\n\n".join(_said(place[1], place[2] or ""))


def _said(what: str, names: str) -> Iterable[str]:
    if what == "tools":
        tools = all_tools()
        return (f"- **{tools[name].label}** ({tools[name].key}): {tools[name].hint}"
                for name in _listed(names))
    if what == "findings":
        return (f"- **{code}**: {CODES[code].text}. {CODES[code].why} *{CODES[code].mend}*"
                for code in _listed(names))
    if what == "joints":
        return (f"- **{state}**: {why} *{mend}*" for state, (why, mend) in JOINT_STATES.items())
    return (f"- **{name}** ({rule.asks}): {rule.why}; *{rule.mend}*"
            for name, rule in rules().items())


def _keys() -> str:
    from sketcher.desk.dialogs.key_list import SHEET

    rows = [row[:2] for row in SHEET]
    rows += [(action.label.removesuffix(" ..."), ", ".join(action.keys))
             for action in all_actions().values() if action.keys]
    lines = [f"| {what} | {key.replace('|', '')} |" for what, key in rows]
    return "\n".join(["# Keys", "", "| What | Key |", "| --- | --- |", *lines])

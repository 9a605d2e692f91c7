"""A page as HTML for people: one file that opens anywhere, without script, and asks nothing of any other place.

It is HTML that reads as XML too. Titles are headings in order, a table has a caption and names its rows and columns, a
finding is a section of its own with its signal word written out, so that a screen reader follows. Every text is
escaped, ours like those of files. The policy in its head forbids whatever could be asked of elsewhere.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from html import escape
from typing import NamedTuple

from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible_lines
from kitbuilder.report.answer import Answer, document_head
from kitbuilder.report.cells import format_cell, format_sentence, format_value
from kitbuilder.report.columns import SetColumn, set_columns
from kitbuilder.report.document_style import STYLE
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Box,
    Fact,
    Facts,
    Node,
    Picture,
    Section,
    Series,
    Statement,
    Statements,
    Table,
    Text,
    Values,
)

DEEPEST = 6
"""The lowest level of a heading (HTML Living Standard, 4.3.6)."""
SPREAD = re.compile("± ( *)([0-9.]+)")
"""A spread, with what stands before one that is shorter than others of its column."""
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


class HtmlRendering(NamedTuple):
    """For whom a part is written, and the heading that it stands below with the level of the next."""

    system: System
    width: int
    heading: str
    files: tuple[str, ...] = ()
    """The files that the page is about, which are set apart where they are named alone."""
    level: int = 2

    def below(self, title: str) -> "HtmlRendering":
        """Give what holds below a heading; without a title there is none."""
        return self._replace(level=self.level + 1, heading=title) if title else self


def render(answer: Answer, system: System, width: int) -> str:
    """Write the whole document in the reader's units; without a page, nothing."""
    if answer.page is None:
        return ""
    name, below = document_head(answer)
    at = HtmlRendering(system, width, name, tuple(read.file for read in answer.files))
    title = f"{name}: {answer.about}" if answer.about and answer.about != name else name
    lines = (
        "<!DOCTYPE html>",
        '<html lang="en" xmlns="http://www.w3.org/1999/xhtml">',
        "<head>",
        '<meta charset="utf-8"/>',
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}"/>',
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>',
        '<meta name="color-scheme" content="light dark"/>',
        '<meta name="generator" content="kitbuilder"/>',
        '<link rel="icon" href="data:,"/>',
        _element("title", escaped(title)),
        f"<style>{STYLE}</style>",
        "</head>",
        f"<body{_class('sheet' if answer.page.is_one_sheet else '')}>",
        "<main>",
        *_header(name, below),
        *_stack(answer.page.parts, at),
        "</main>",
        "</body>",
        "</html>",
    )
    return "\n".join(lines) + "\n"


def escaped(text: str) -> str:
    """Write a text so that a browser shows it as it is, and nothing in it is markup."""
    return escape(visible_lines(text).strip("\n"))


def _header(name: str, below: str) -> Iterator[str]:
    yield "<header>"
    if below:
        yield _element("p", escaped(below))
    yield _element("h1", escaped(name))
    yield "</header>"


# ---- parts of a page ----


def _stack(parts: Sequence[Node], at: HtmlRendering) -> Iterator[str]:
    for part in parts:
        yield from _part(part, at)


def _part(part: Node, at: HtmlRendering) -> Iterator[str]:
    match part:
        case Section(title, parts):
            yield from _titled(title, "", list(_stack(parts, at.below(title))), at)
        case Series(_, sections):
            yield from _stack(sections, at)
        case Text(words):
            shown = format_sentence(words, at.system)
            yield _element("p", escaped(shown), "file" if shown in at.files else "")
        case Facts(rows):
            yield from _fields([row for row in rows if row.label], at)
        case Table():
            yield from list(_table(part, at)) or _paragraphs([_with_colon(part.title, part.empty)])
        case Statements():
            shown_entries = [entry for entry in part.entries if entry.is_shown]
            yield from _titled(part.title, part.empty, list(_entries(shown_entries, at.below(part.title))), at)
        case Picture():
            yield from _picture(part, at)
        case Values():
            return


def _titled(title: str, empty: str, lines: Sequence[str], at: HtmlRendering) -> Iterator[str]:
    """Set lines below their title, in a section; without lines, say what there is to say about that."""
    if not lines or not title:
        yield from lines or _paragraphs([_with_colon(title, empty)])
        return
    yield "<section>"
    yield _heading(escaped(title), at.level)
    yield from lines
    yield "</section>"


def _with_colon(title: str, empty: str) -> str:
    return f"{title}: {empty}" if title and empty else empty


def _heading(content: str, level: int) -> str:
    return _element(f"h{min(level, DEEPEST)}", content)


def _paragraphs(texts: Iterable[str]) -> Iterator[str]:
    yield from (_element("p", escaped(text)) for text in texts if text)


def _fields(rows: Sequence[Fact], at: HtmlRendering) -> Iterator[str]:
    if not rows:
        return
    yield "<dl>"
    for row in rows:
        value, note = format_value(row.value, at.system), format_cell(row.note, at.system)
        behind = f' <span class="note">{escaped(note)}</span>' if note else ""
        yield f"<dt>{escaped(row.label)}</dt><dd>{escaped(value)}{behind}</dd>"
    yield "</dl>"


def _picture(part: Picture, at: HtmlRendering) -> Iterator[str]:
    """Draw a picture; one in signs is nothing to read aloud, and every number in it is also written."""
    if part.vector is not None:
        yield _element("figure", part.vector.svg(at.system).strip(), "drawn")
    elif part.drawing is not None:
        rows = (escape(visible_lines(row)).rstrip() for row in part.drawing.lines(at.width, part.height))
        yield f'<pre aria-hidden="true">{chr(10).join(rows)}</pre>'


# ---- entries ----


def _entries(entries: Sequence[Statement], at: HtmlRendering) -> Iterator[str]:
    """Write findings as sections, and other entries as the items of lists."""
    begun = ""
    for entry in entries:
        kind = _list_of(entry)
        if begun and begun != kind:
            yield _end_of(begun)
        if kind and begun != kind:
            yield f"<{kind}>"
        begun = kind
        yield from _item(entry, at) if kind else _finding(entry, at)
    if begun:
        yield _end_of(begun)


def _end_of(begun: str) -> str:
    return f"</{begun.split()[0]}>"


def _list_of(entry: Statement) -> str:
    """Give the list that an entry is an item of; none for a finding that says more than one sentence."""
    match entry.mark:
        case Signal():
            return "" if entry.body else 'ul class="marked"'
        case Box():
            return 'ul class="boxes"'
        case str() if entry.mark.isdigit():
            return "ol"
    return "ul" if entry.mark in ("", "-") else 'ul class="marked"'


def _finding(entry: Statement, at: HtmlRendering) -> Iterator[str]:
    assert isinstance(entry.mark, Signal)
    yield f'<section class="finding {entry.mark.word.lower()}">'
    yield _heading(f"{_signal(entry.mark)} {escaped(format_sentence(entry.head, at.system))}", at.level)
    yield from _paragraphs(format_sentence(words, at.system) for words in entry.body)
    yield "</section>"


def _signal(signal: Signal) -> str:
    return _element("span", escaped(signal.word), f"signal {signal.word.lower()}")


def _item(entry: Statement, at: HtmlRendering) -> Iterator[str]:
    head, value = escaped(format_sentence(entry.head, at.system)), ""
    match entry.mark:
        case Signal():
            head, value = f"{_signal(entry.mark)} {head}", f' class="finding {entry.mark.word.lower()}"'
        case Box(number, is_ticked):
            ticked = ' checked="checked"' if is_ticked else ""
            head = f'<label><input type="checkbox"{ticked}/><b>{number}</b> <span>{head}</span></label>'
        case str() if entry.mark.isdigit():
            value = f' value="{int(entry.mark)}"'
        case str() if entry.mark not in ("", "-"):
            head = f"<b>{escaped(entry.mark)}</b> {head}"
    yield f"<li{value}>{head}"
    yield from _paragraphs(format_sentence(words, at.system) for words in entry.body)
    yield "</li>"


# ---- tables ----


def _table(table: Table, at: HtmlRendering) -> Iterator[str]:
    """Write a table with its caption: its title, or unseen the heading that it stands below."""
    columns = set_columns(table, at.system)
    if not table.rows or not columns:
        return
    yield '<div class="wide">'
    yield "<table>"
    yield _element("caption", escaped(table.title or at.heading), "" if table.title else "unseen")
    if any(column.head.strip() for column in columns):
        yield _element("thead", _element("tr", "".join(map(_head, columns))))
    yield "<tbody>"
    names = [column for column in columns if column.names_row] or [column for column in columns if _has_words(column)][
        :1
    ]
    cells = [_cells(column, is_name=column in names) for column in columns]
    yield from (_element("tr", "".join(row)) for row in zip(*cells, strict=True))
    yield "</tbody>"
    yield "</table>"
    yield "</div>"


def _has_words(column: SetColumn) -> bool:
    """Say whether a column can name its rows: one of signs alone, such as what marks a difference, cannot."""
    return any(sign.isalnum() for text in column.cells for sign in text)


def _head(column: SetColumn) -> str:
    css = _class("number" if column.is_right else "")
    return f'<th scope="col"{css}>{escaped(column.head)}</th>' if column.head.strip() else f"<td{css}></td>"


def _cells(column: SetColumn, *, is_name: bool) -> Iterator[str]:
    """Write the cells of a column. Spreads of several lengths are set flush right, by the class of their width."""
    is_uneven = any("±  " in text for text in column.cells)
    for text, role in zip(column.cells, column.roles, strict=True):
        shown = escaped(text)
        if is_uneven:
            shown = SPREAD.sub(lambda found: f'± <span class="w{len(found[1] + found[2])}">{found[2]}</span>', shown)
        css = _class("number" if column.is_right else role)
        name = f'th scope="row"{css}' if is_name and text.strip() else f"td{css}"
        yield f"<{name}>{shown.strip()}</{name.split()[0]}>"


# ---- elements ----


def _element(name: str, content: str, css: str = "") -> str:
    return f"<{name}{_class(css)}>{content}</{name}>"


def _class(css: str) -> str:
    return f' class="{css}"' if css else ""

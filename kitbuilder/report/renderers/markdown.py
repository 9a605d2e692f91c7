"""A page as Markdown for people: CommonMark 0.31, with the tables and the boxes to tick of GitHub's dialect.

Every text is escaped, ours like those of files: a page does not tell one from the other. A paragraph, a cell or an item
is one line, since whatever shows Markdown wraps it, and spaces that only align are left out. Mail addresses cannot be
escaped: GitHub's dialect makes links of them wherever they stand.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from textwrap import indent
from typing import NamedTuple

from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.report.answer import Answer, document_head
from kitbuilder.report.cells import format_cell, format_sentence, format_value
from kitbuilder.report.columns import set_columns
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Box,
    Fact,
    Facts,
    Node,
    Picture,
    Section,
    Sentence,
    Series,
    Statement,
    Statements,
    Table,
    Text,
    Values,
)
from kitbuilder.report.words import box

DEEPEST = 6
"""The lowest level of a heading (CommonMark 0.31, 4.2)."""
BULLETS = ("-", "*")
"""Two lists that follow each other take turns: of one sign they would be one list (CommonMark 0.31, 5.3)."""
FENCE = 3
"""Backticks around a drawing, at least (CommonMark 0.31, 4.5)."""

MARKUP = re.compile(r"[\\`*_\[\]<>&|~#$]|:(?=//)|(?<=www)\.", re.IGNORECASE)
"""Signs that mean something within a line or at its ends, and those that make a bare address a link."""
START = re.compile(r"^(\d*)(?=[-+.)](?:[-\s]|$))")
"""Digits, if any, before a sign that would begin a list or draw a line across."""

MarkdownBlock = str | list[str]
"""What blank lines set apart: lines as they are, or the items of a list, without their bullets."""


class Rendering(NamedTuple):
    """For whom a part is written."""

    system: System
    width: int
    level: int = 2
    """Of a heading where it stands; the title of the document has the first level."""

    def below(self, title: str) -> "Rendering":
        """Give what holds below a heading; without a title there is none."""
        return self._replace(level=self.level + 1) if title else self


def render(answer: Answer, system: System, width: int) -> str:
    """Write the page in the reader's units; only drawings have the width. Without a page, write nothing."""
    if answer.page is None:
        return ""
    title, below = document_head(answer)
    head = [f"# {escaped(title)}", *([_paragraph(below)] if below else [])]
    blocks = _written(_stack(answer.page.parts, Rendering(system, width)))
    return "\n\n".join([*head, *blocks]) + "\n"


def escaped(text: str) -> str:
    """Write a text in one line of Markdown that shows it as it is, but for spaces beside each other."""
    return MARKUP.sub(r"\\\g<0>", " ".join(visible(text).split()))


def _paragraph(text: str) -> str:
    """Write a text so that it begins neither a list nor anything else but a paragraph."""
    return START.sub(r"\1\\", escaped(text))


def _written(blocks: Iterable[MarkdownBlock]) -> Iterator[str]:
    bullet = ""
    for block in blocks:
        if isinstance(block, str):
            bullet = ""
            yield block
        else:
            bullet = BULLETS[bullet == BULLETS[0]]
            between = "\n\n" if any("\n" in item for item in block) else "\n"
            yield between.join(f"{bullet} {indent(item, '  ').lstrip()}".rstrip() for item in block)


# ---- parts of a page ----


def _stack(parts: Sequence[Node], at: Rendering) -> Iterator[MarkdownBlock]:
    for part in parts:
        yield from filter(None, _blocks(part, at))


def _blocks(part: Node, at: Rendering) -> Iterator[MarkdownBlock]:
    match part:
        case Section(title, parts):
            yield from _titled(title, "", list(_stack(parts, at.below(title))), at)
        case Series(_, sections):
            yield from _stack(sections, at)
        case Text(words):
            yield _sentence(words, at.system)
        case Facts(rows):
            yield [_field(row, at.system) for row in rows if row.label]
        case Table():
            yield from _titled(part.title, part.empty, _table(part, at.system), at)
        case Statements(_, entries):
            items = [_entry(entry, at.system) for entry in entries if entry.is_shown]
            yield from _titled(part.title, part.empty, [items] if items else [], at)
        case Picture(drawing, height) if drawing is not None:
            yield _fenced([visible(row).rstrip() for row in drawing.lines(at.width, height)])
        case Values() | Picture():
            return


def _titled(title: str, empty: str, blocks: Sequence[MarkdownBlock], at: Rendering) -> Iterator[MarkdownBlock]:
    """Set blocks below their title; without blocks, say what there is to say about that."""
    if blocks and title:
        yield f"{'#' * min(at.level, DEEPEST)} {escaped(title)}"
    elif empty and not blocks:
        yield _paragraph(f"{title}: {empty}" if title else empty)
    yield from blocks


def _sentence(words: Sentence, system: System) -> str:
    return _paragraph(format_sentence(words, system))


def _field(row: Fact, system: System) -> str:
    texts = (format_value(row.value, system), format_cell(row.note, system))
    return " ".join([f"**{escaped(row.label)}:**", *filter(None, map(escaped, texts))])


def _entry(entry: Statement, system: System) -> str:
    """Write the mark and the first line, and the others as paragraphs below."""
    first, *others = (_sentence(words, system) for words in (entry.head, *entry.body))
    match entry.mark:
        case Signal():
            first = f"**{escaped(entry.mark.word)}** {first}"
        case Box(number, is_ticked):
            first = f"{box(is_ticked)} **{number}** {first}"
        case str() if entry.mark not in ("", "-"):  # a dash is the bullet
            first = f"**{escaped(entry.mark)}** {first}"
    return "\n\n".join(filter(None, (first, *others)))


def _table(table: Table, system: System) -> list[MarkdownBlock]:
    """Write a table of which no row is too wide: a column that the text leaves out where it lacks room stays."""
    columns = set_columns(table, system)
    if not table.rows or not columns:
        return []
    lines = [
        _row(escaped(column.head) for column in columns),
        _row("---:" if column.is_right else "---" for column in columns),
        *(_row(map(escaped, cells)) for cells in zip(*(column.cells for column in columns), strict=True)),
    ]
    return ["\n".join(lines)]


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"


def _fenced(lines: Sequence[str]) -> str:
    """Put lines in a fence of more backticks than any line has in a row."""
    longest = max((len(run) for line in lines for run in re.findall("`+", line)), default=0)
    fence = "`" * max(FENCE, longest + 1)
    return "\n".join([fence, *lines, fence])

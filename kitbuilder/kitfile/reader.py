"""From the text of a kit file to a kit, or to everything that is wrong with it at once."""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from itertools import pairwise
from typing import Any, cast

from kitbuilder.kit.diver import Diver
from kitbuilder.kit.fields import Field, fields_of
from kitbuilder.kit.file_kinds import FILE_KINDS, KIT_FILE, Contents, FileKind
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import FORMAT, KINDS, Entry, Kit
from kitbuilder.kit.lines import Lines
from kitbuilder.kit.old_words import OldWord
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.stock import Stock
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.blocks import Block, find_blocks
from kitbuilder.kitfile.old_words import HOLDS, KEYS, old_keys, renew_heading, renew_holds, renew_keys
from kitbuilder.kitfile.problems import Problem, nearest
from kitbuilder.kitfile.raw_values import describe, shorten
from kitbuilder.kitfile.syntax import NotToml, is_toml_table, parse_toml
from kitbuilder.kitfile.values import Refusal, parse_attributes

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,60}")

SCHEMA_KEY = "$schema"
"""Where an editor finds the schema of a file. It may stand at the top of every file, and says nothing of the kit."""

RawTable = tuple[str, dict[str, Any]]


@dataclass(frozen=True)  # keeps the blocks of its text when they have been looked for
class ParseResult:
    """What came of reading one text: a kit, what another kind of file holds, or problems."""

    contents: Contents | None
    problems: tuple[Problem, ...]
    text: str = ""
    rows: tuple[RawTable, ...] = ()
    """What stands in each block as TOML gives it: the name of its table, and its keys and values."""
    starts: tuple[int, ...] = ()
    """Offsets of the tables, if all are plainly written; else a line takes looking at every statement."""

    file: FileKind = KIT_FILE
    holds: str = KIT_FILE.name
    """What the text itself says it holds."""
    old_keys: dict[str, str] = field(default_factory=dict)
    """The old keys of its heading, each with its new word; everything else here goes by the new words."""

    @property
    def kit(self) -> Kit | None:
        """The kit; None if the text is not a kit."""
        return self.contents if isinstance(self.contents, Kit) else None

    @property
    def resolved(self) -> ResolvedKit | None:
        """The kit with all it refers to; None if the text is not a kit, or was read by itself."""
        return self.contents if isinstance(self.contents, ResolvedKit) else None

    @property
    def diver(self) -> Diver | None:
        """The diver; None if the text is not a diver file."""
        return self.contents if isinstance(self.contents, Diver) else None

    @property
    def stock(self) -> Stock | None:
        """The stock, without its broken rows; None if the text is not a stock."""
        return self.contents if isinstance(self.contents, Stock) else None

    @property
    def gear(self) -> Gear | None:
        """The gear file; None if the text is not one."""
        return self.contents if isinstance(self.contents, Gear) else None

    @property
    def trip(self) -> Trip | None:
        """The trip; None if the text is not a trip file."""
        return self.contents if isinstance(self.contents, Trip) else None

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """The heading, then one block per item; found on first use. Empty when the blocks cannot be separated."""
        blocks = renew_heading(find_blocks(self.text), self.old_keys) if self.rows else ()
        return blocks if len(blocks) == len(self.rows) else ()

    @cached_property
    def lines(self) -> Lines:
        """The lines of items and keys; found on first use."""
        plain = _plain_lines(self.text, self.starts) if self.starts else ()
        has_all = all(row.keys() <= keys.keys() for (_, row), (_, keys) in zip(self.rows, plain, strict=False))
        if plain and has_all:
            return Lines(plain)
        return Lines(tuple((block.line, block.key_lines) for block in self.blocks))


def read_kit(text: str) -> ParseResult:
    """Read a text as a kit file. Never raises: the result holds what is wrong."""
    return parse_as(text, KIT_FILE)


def parse_as(text: str, file: FileKind) -> ParseResult:
    """Read a text as a kind of file. Never raises: the result holds what is wrong."""
    try:
        data = parse_toml(text)
    except NotToml as error:
        return ParseResult(None, (error.problem,), text, file=file)
    return _FileReader(data, text, file).read()


def parse_as_said(text: str) -> ParseResult:
    """Read a text as what its key `holds` says; a text without that key is a kit. Never raises."""
    try:
        data = parse_toml(text)
    except NotToml as error:
        match = _HOLDS.search(text)
        return ParseResult(None, (error.problem,), text, file=_kind_said(match[1]) if match else KIT_FILE)
    said = data.get("holds")
    return _FileReader(data, text, _kind_said(said) if isinstance(said, str) else KIT_FILE).read()


_HOLDS = re.compile(r"""^[ \t]*holds[ \t]*=[ \t]*["'](\w+)["']""", re.MULTILINE)
"""What a text that is not TOML means to hold."""


def _kind_said(said: str) -> FileKind:
    return FILE_KINDS.get(HOLDS.get(said, said), KIT_FILE)


def holds_other(line: int | None, found: FileKind, expected: FileKind) -> Problem:
    """Give the one problem of a file that holds something else than it should."""
    holds = f"this file holds {found.article}{found.name}, not {expected.article}{expected.name}"
    return Problem(line, "", holds, f"Name a {expected.name} file here.")


class _FileReader:
    """One pass over the parsed text, gathering problems on the way. A block goes by its number; the heading is 0."""

    def __init__(self, data: dict[str, Any], text: str, file: FileKind) -> None:
        self.text, self.file = text, file
        data, old_words = renew_holds(data)
        self.old_keys = old_keys(data, file.name)
        self.data = renew_keys(data, self.old_keys)
        self.old_words = (*old_words, *(OldWord(new, old, new) for old, new in self.old_keys.items()))
        self.starts, self.tables = _plain_tables(self.data, text)
        self.tables = self.tables or tuple(block.table for block in self.blocks[1:])
        self.problems: list[Problem] = []
        self.rows: list[RawTable] = []
        self.tags: list[tuple[int, str]] = []
        self.broken: set[int] = set()
        """The blocks that have a problem."""

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """The blocks of the text; needed only to say where a problem is."""
        return renew_heading(find_blocks(self.text), self.old_keys)

    def read(self) -> ParseResult:
        if problem := self._find_newer_format():
            return ParseResult(None, (problem,), self.text, file=self.file)
        holds = self.data.get("holds", KIT_FILE.name)
        if isinstance(holds, str) and holds in FILE_KINDS and holds != self.file.name:
            line = self._line(0, "holds") if "holds" in self.data else None
            return ParseResult(
                None, (holds_other(line, FILE_KINDS[holds], self.file),), self.text, file=self.file, holds=holds
            )
        self._check_tables()
        header = self._read_header()
        items = self._read_items()
        self._check_tags()
        self.problems.sort(key=lambda problem: problem.line or 0)
        problems, rows = tuple(self.problems), tuple(self.rows)
        if 0 in self.broken or (problems and not self.file.keeps_sound_rows):
            return ParseResult(None, problems, self.text, rows, file=self.file)
        sound = [item for number, item in items if number not in self.broken]
        contents = self.file.contents(header, sound, self.old_words)
        return ParseResult(contents, problems, self.text, rows, self.starts, self.file, self.file.name, self.old_keys)

    def _find_newer_format(self) -> Problem | None:
        """Give the one problem of a file of a later format; what else it holds is not ours to judge."""
        found = self.data.get("format")
        # Not `isinstance`: true and false are integers to Python.
        if type(found) is not int or found <= FORMAT:
            return None
        accepted = f"This program reads format {FORMAT}. A newer file needs a newer program."
        return Problem(self._line(0, "format"), "format", f"found format {describe(found)}", accepted)

    def _check_tables(self) -> None:
        for number, table in enumerate(self.tables, 1):
            if table not in self.file.kinds:
                self._report(number, None, "", *_unknown_table(table, self.file))
            elif not isinstance(self.data.get(table), list):
                accepted = f"Write [[{table}]], with two brackets on each side."
                self._report(number, None, "", f"[{table}] is a single table", accepted)

    def _read_header(self) -> object | None:
        keys = self._own_keys(self.data, 0)
        schema = keys.pop(SCHEMA_KEY, "")
        if not isinstance(schema, str):
            accepted = f'Write the place of the schema: "{SCHEMA_KEY}" = "./{self.file.schema}"'
            self._report(0, SCHEMA_KEY, f'"{SCHEMA_KEY}"', f"found {describe(schema)}", accepted)
        for kind in self.file.kinds:
            if kind in keys:
                found = f"found {describe(keys.pop(kind))}"
                self._report(0, kind, kind, found, f"Write a [[{kind}]] table for each item.")
        self.rows.append(("", keys))
        return self._read_record(self.file.header, keys, 0, "", "")

    def _read_items(self) -> list[tuple[int, object]]:
        """Give the items, each with the number of its block."""
        used = dict.fromkeys(self.file.kinds, 0)
        items: list[tuple[int, object]] = []
        for number, table in enumerate(self.tables, 1):
            rows = self.data.get(table)
            if table not in self.file.kinds or not isinstance(rows, list):
                continue
            raw = rows[used[table]]
            used[table] += 1
            self.rows.append((table, raw))
            if isinstance(raw.get("tag"), str):
                self.tags.append((number, raw["tag"]))
            items.append((number, self._read_item(table, raw, number, used[table])))
        return items

    def _read_item(self, table: str, raw: dict[str, Any], number: int, count: int) -> object | None:
        if self.file is KIT_FILE and (item := read_item(table, raw)):
            return item
        record = self.file.kinds[table]
        return self._read_record(record, self._own_keys(raw, number), number, table, _name(record, count, raw))

    def _read_record(self, record: type, raw: dict[str, Any], number: int, table: str, name: str) -> object | None:
        """Give the record, or None after reporting what is wrong with it."""
        known = _fields_by_key(record)
        values: dict[str, object] = {}
        before = len(self.problems)
        for key, value in raw.items():
            field = known.get(key)
            if field is None:
                self._report(number, key, _place(name, key), *self._unknown_key(number, key, known))
                continue
            try:
                values |= parse_attributes(field, table, value)
            except Refusal as refusal:
                spelled = next((old for old, new in self.old_keys.items() if number == 0 and new == key), key)
                self._report(number, key, _place(name, spelled), refusal.found, refusal.accepted)
        for field in known.values():
            if field.required and field.key not in raw:
                accepted = f"Add a line such as: {field.key} = {field.example}"
                self._report(number, None, _place(name, field.key), "this key is missing", accepted)
        return record(**values) if len(self.problems) == before else None

    def _unknown_key(self, number: int, key: str, known: Iterable[str]) -> tuple[str, str]:
        new = KEYS.get(self.file.name, {}).get(key) if number == 0 else None
        if new is None or new not in self.data:
            return "this key is not known", f"Accepted here: {', '.join(known)}.{nearest(key, known)}"
        found = f'this is the old word for "{new}", and line {self._line(0, new)} has that key already'
        return found, f"Remove {key} or {new}."

    def _check_tags(self) -> None:
        first_seen: dict[str, int] = {}
        for number, tag in self.tags:
            if tag in first_seen:
                line = self._line(first_seen[tag], "tag")
                accepted = f"Line {line} has it already. A tag names one item: change one of the two."
                title = self.file.kinds[self.tables[number - 1]].title
                self._report(number, "tag", f"{title}, tag", f'found "{shorten(tag)}" a second time', accepted)
            first_seen.setdefault(tag, number)

    def _own_keys(self, raw: dict[str, Any], number: int) -> dict[str, Any]:
        """Give the keys that stand in a block itself; a table inside it is a block of its own, and reported there."""
        if number == 0 and self.starts:
            return {key: value for key, value in raw.items() if not is_toml_table(value)}
        return {
            key: value for key, value in raw.items() if not is_toml_table(value) or key in self.blocks[number].key_lines
        }

    def _line(self, number: int, key: str | None) -> int:
        block = self.blocks[number]
        return block.line if key is None else block.key_lines.get(key, block.line)

    def _report(self, number: int, key: str | None, place: str, found: str, accepted: str) -> None:
        self.broken.add(number)
        self.problems.append(Problem(self._line(number, key), place, found, accepted))


_TABLE = re.compile(r"^[ \t]*\[(?:\[[ \t]*([a-z_]+)[ \t]*\]\])?", re.MULTILINE)


def _plain_tables(data: dict[str, Any], text: str) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """Give offsets and names of all tables in the order of the file, which the parsed text no longer has.

    Every table begins a line with a bracket. If all lines that do are plainly written tables, as many as were parsed,
    and no text runs over several lines, then no other line was taken for a table or a key, and the slow way of telling
    every statement apart is not needed. Nothing in other texts, and in those without a table.
    """
    found = list(_TABLE.finditer(text))
    names = tuple(match[1] for match in found)
    parsed = {key: len(value) for key, value in data.items() if isinstance(value, list) and is_toml_table(value)}
    # In a text of several lines, a line of the text may look like a table.
    is_plain = Counter(names) == parsed and '"""' not in text and "'''" not in text
    if not is_plain or any(isinstance(value, dict) for value in data.values()):
        return (), ()
    return tuple(match.start() for match in found), names


_PLAIN_KEY = re.compile(r"^[ \t]*([A-Za-z0-9_-]+)[ \t]*=", re.MULTILINE)


def _plain_lines(text: str, starts: tuple[int, ...]) -> tuple[tuple[int, dict[str, int]], ...]:
    """Find the line of each block and of its keys without quotes, in a text whose tables are plainly written."""
    blocks: list[tuple[int, dict[str, int]]] = []
    line, counted = 1, 0
    for start, end in pairwise((0, *starts, len(text))):
        line += text.count("\n", counted, start)
        counted, keys = start, dict[str, int]()
        blocks.append((line, keys))
        for match in _PLAIN_KEY.finditer(text, start, end):
            line += text.count("\n", counted, match.start())
            counted = match.start()
            keys[match[1]] = line
    return tuple(blocks)


KeyValues = tuple[tuple[str, str | bool | tuple[str, ...]], ...]


def _hashable(raw: dict[str, Any]) -> KeyValues | None:
    """Give keys and values, lists as tuples; None if there is a value that an item never has, such as a number."""
    pairs: list[tuple[str, str | bool | tuple[str, ...]]] = []
    for key, value in raw.items():
        if isinstance(value, (str, bool)):
            pairs.append((key, value))
        elif isinstance(value, list) and all(isinstance(row, str) for row in value):
            pairs.append((key, tuple(value)))
        else:
            return None
    return tuple(pairs)


def read_item(table: str, raw: dict[str, Any]) -> Entry | None:
    """Read the keys of one item of a kit; give None if anything is wrong with it."""
    pairs = _hashable(raw)
    return _sound_item(table, pairs) if pairs else None


@lru_cache(maxsize=4096)
def _sound_item(table: str, pairs: KeyValues) -> Entry | None:
    """Read an item; give None if anything is wrong with it. Cached: the kits of a folder share most of theirs."""
    record: type = KINDS[table]
    known = _fields_by_key(record)
    values: dict[str, object] = {}
    for key, value in pairs:
        field = known.get(key)
        if field is None:
            return None
        try:
            values |= parse_attributes(field, table, list(value) if isinstance(value, tuple) else value)
        except Refusal:
            return None
    if any(field.required and field.attribute not in values for field in known.values()):
        return None
    return cast("Entry", record(**values))


@cache
def _fields_by_key(record: type) -> dict[str, Field]:
    return {field.key: field for field in fields_of(record)}


def _unknown_table(table: str, file: FileKind) -> tuple[str, str]:
    """Describe a table that is not a kind of item."""
    outer = table.partition(".")[0]
    if outer in file.kinds:
        accepted = f"Write its keys below [[{outer}]], or write a separate [[table]]."
        return f'"{shorten(table)}" is a table inside a table', accepted
    if field := _fields_by_key(file.header).get(table):
        return f'"{table}" is a key, not a table', f"Write it above the first item: {table} = {field.example}"
    kinds = ", ".join(f"[[{kind}]]" for kind in file.kinds)
    what = "An item is one of" if file is KIT_FILE else "Accepted here:"
    return f'the table "{shorten(table)}" is not known', f"{what} {kinds}.{nearest(table, file.kinds)}"


def _name(record: type[Entry], count: int, raw: dict[str, Any]) -> str:
    """Name an item for a message: its tag, else its place among its kind."""
    title = record.title
    tag = raw.get("tag")
    return f'{title} "{shorten(tag)}"' if isinstance(tag, str) and tag else f"{title} no. {count}"


def _place(name: str, key: str) -> str:
    """Give an item and one of its keys."""
    shown = key if _BARE_KEY.fullmatch(key) else describe(key)
    return f"{name}, {shown}" if name else shown

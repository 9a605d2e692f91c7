"""From the text of a kit file to a kit, or to everything that is wrong with it at once."""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, Kind, fields_of
from kitbuilder.kit.things import FORMAT, KINDS, Header, Kit, Thing
from kitbuilder.kitfile.blocks import Block, find_blocks
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.disk import UnreadableFile, read_text
from kitbuilder.kitfile.problems import Problem, nearest
from kitbuilder.units import DIMENSIONS, QuantityError, parse_quantity

LONGEST_TEXT = 2000
"""Characters in one value."""

_TOML_KINDS = {
    bool: "true or false",
    str: "a text",
    int: "a bare number",
    float: "a bare number",
    list: "a list",
    dict: "a table",
}
_PORT = re.compile(r"(LP|HP)\w*")

Row = tuple[str, dict[str, Any]]


class Refusal(ValueError):
    """A value is not accepted; the message is (found, accepted)."""

    def __init__(self, found: str, accepted: str) -> None:
        """Keep both halves of the sentence."""
        super().__init__(f"{found}. {accepted}")
        self.found, self.accepted = found, accepted


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading one text: a kit, or problems."""

    kit: Kit | None
    problems: tuple[Problem, ...]
    blocks: tuple[Block, ...] = ()
    """The heading, then one block a thing. Empty when the text is not TOML."""
    rows: tuple[Row, ...] = ()
    """What stands in each block as TOML gives it: the name of its table, and its keys and values."""

    def line_of(self, thing: int | None, key: str | None) -> int | None:
        """The line of a key, else of the thing that lacks it; `thing` None is the heading."""
        number = 0 if thing is None else thing + 1
        if number >= len(self.blocks):
            return None
        block = self.blocks[number]
        return block.key_lines.get(key, block.line) if key else block.line


def read_file(path: Path) -> tuple[str, Reading]:
    """The text of a file and what it says. Never raises: what is wrong is in the reading."""
    try:
        text = read_text(path)
    except UnreadableFile as error:
        found, _, accepted = str(error).partition(". ")
        return "", Reading(None, (Problem(None, "", found, accepted + "."),))
    return text, read_kit(text)


def read_kit(text: str) -> Reading:
    """What a text says as a kit file. Never raises: what is wrong is in the reading."""
    try:
        data = tomllib.loads(text)
    except ValueError as error:
        return Reading(None, (_syntax_problem(text, error),))
    except RecursionError:
        accepted = "A kit file is flat: keys, and tables such as [[hose]] with keys."
        return Reading(None, (Problem(None, "", "lists or tables are nested too deep to read", accepted),))
    blocks = find_blocks(text)
    return _KitReader(data, blocks).read()


def parse_value(field: Field, table: str, raw: object) -> Any:
    """The value of one key as the record holds it.

    Raises:
        Refusal: The value is not accepted.
    """
    return _PARSERS[field.kind](field, table, raw)


class _KitReader:
    """One pass over the parsed text, gathering problems on the way."""

    def __init__(self, data: dict[str, Any], blocks: tuple[Block, ...]) -> None:
        self.data, self.blocks = data, blocks
        self.problems: list[Problem] = []
        self.rows: list[Row] = []

    def read(self) -> Reading:
        self._check_tables()
        header = self._read_header()
        things = self._read_things()
        self._check_tags(things)
        blocks = self.blocks if len(things) == len(self.blocks) - 1 else ()
        if self.problems or header is None:
            self.problems.sort(key=lambda problem: problem.line or 0)
            return Reading(None, tuple(self.problems), blocks, tuple(self.rows))
        kit = Kit(header, tuple(thing for thing in things if isinstance(thing, Thing)))
        return Reading(kit, (), blocks, tuple(self.rows))

    def _check_tables(self) -> None:
        for block in self.blocks[1:]:
            rows = self.data.get(block.table)
            if block.table not in KINDS:
                accepted = (
                    f"A thing is one of {', '.join(f'[[{kind}]]' for kind in KINDS)}.{nearest(block.table, KINDS)}"
                )
                self._report(block.line, "", f'the table "{_shorten(block.table)}" is not known', accepted)
            elif not isinstance(rows, list):
                self._report(
                    block.line,
                    "",
                    f"[{block.table}] is a single table",
                    f"Write [[{block.table}]], two brackets each side.",
                )

    def _read_header(self) -> Header | None:
        keys = {key: value for key, value in self.data.items() if key not in KINDS and not _is_table(value)}
        for key in (key for key, value in self.data.items() if key in KINDS and not _is_table(value)):
            self._report(
                self._header_line(key),
                key,
                f"found {_describe(self.data[key])}",
                f"Write a [[{key}]] table for each thing.",
            )
        if self.data.get("format") != FORMAT and type(self.data.get("format")) is int:
            accepted = f"This program reads format {FORMAT}. A newer file needs a newer program."
            self._report(self._header_line("format"), "format", f"found format {self.data['format']}", accepted)
            return None
        self.rows.append(("", keys))
        return self._read_record(Header, keys, self.blocks[0], "")  # type: ignore[return-value]

    def _header_line(self, key: str) -> int:
        return self.blocks[0].key_lines.get(key, self.blocks[0].line)

    def _read_things(self) -> list[object]:
        used = dict.fromkeys(KINDS, 0)
        things: list[object] = []
        for block in self.blocks[1:]:
            rows = self.data.get(block.table)
            if block.table not in KINDS or not isinstance(rows, list):
                continue
            number = used[block.table]
            used[block.table] += 1
            raw = rows[number] if number < len(rows) else None
            if not isinstance(raw, dict):
                self._report(
                    block.line,
                    block.table,
                    "this is not a table of keys",
                    f"Write [[{block.table}]] and keys below it.",
                )
                continue
            self.rows.append((block.table, raw))
            things.append(self._read_record(KINDS[block.table], raw, block, _name(block.table, number, raw)))
        return things

    def _read_record(self, record: type, raw: dict[str, Any], block: Block, name: str) -> object | None:
        """The record, or None after reporting what is wrong with it."""
        known = _fields_by_key(record)
        values: dict[str, object] = {}
        before = len(self.problems)
        for key, value in raw.items():
            place = f"{name}, {_shorten(key)}" if name else _shorten(key)
            field = known.get(key)
            if field is None:
                accepted = f"Accepted here: {', '.join(known)}.{nearest(key, known)}"
                self._report(block.key_lines.get(key, block.line), place, "this key is not known", accepted)
                continue
            try:
                values[field.attribute] = _PARSERS[field.kind](field, block.table, value)
            except Refusal as refusal:
                self._report(block.key_lines.get(key, block.line), place, refusal.found, refusal.accepted)
        for field in known.values():
            if field.required and field.key not in raw:
                place = f"{name}, {field.key}" if name else field.key
                self._report(
                    block.line, place, "this key is missing", f"Add a line such as: {field.key} = {field.example}"
                )
        return record(**values) if len(self.problems) == before else None

    def _check_tags(self, things: list[object]) -> None:
        first_seen: dict[str, int] = {}
        for block, thing in zip(self.blocks[1:], things, strict=False):
            if not isinstance(thing, Thing):
                continue
            line = block.key_lines.get("tag", block.line)
            if thing.tag in first_seen:
                accepted = (
                    f"It stands on line {first_seen[thing.tag]} already. A tag names one thing; change one of the two."
                )
                self._report(line, f"{thing.title}, tag", f'found "{_shorten(thing.tag)}" a second time', accepted)
            first_seen.setdefault(thing.tag, line)

    def _report(self, line: int, place: str, found: str, accepted: str) -> None:
        self.problems.append(Problem(line, place, found, accepted))


@cache
def _fields_by_key(record: type) -> dict[str, Field]:
    return {field.key: field for field in fields_of(record)}


def _parse_text(_field: Field, _table: str, raw: object) -> str:
    if not isinstance(raw, str):
        raise Refusal(f"found {_describe(raw)}", "Write a text in quotes.")
    if len(raw) > LONGEST_TEXT:
        raise Refusal(f"found a text of {len(raw)} characters", f"At most {LONGEST_TEXT}.")
    return raw


def _parse_name(field: Field, table: str, raw: object) -> str:
    text = _parse_text(field, table, raw)
    if not text.strip() or text != text.strip():
        raise Refusal(f'found "{text}"', "A name has at least one character and no space at either end.")
    return text


def _parse_choice(field: Field, table: str, raw: object) -> str:
    accepted = choices_for(field, table)
    if isinstance(raw, str) and raw in accepted:
        return raw
    hint = nearest(raw, accepted) if isinstance(raw, str) else ""
    words = ", ".join(f'"{word}"' for word in accepted)
    raise Refusal(f"found {_describe(raw)}", f"Accepted: {words}.{hint}")


def _parse_whole(field: Field, _table: str, raw: object) -> int:
    if type(raw) is int and str(raw) in field.choices:
        return raw
    raise Refusal(f"found {_describe(raw)}", f"Accepted: {', '.join(field.choices)}.")


def _parse_flag(_field: Field, _table: str, raw: object) -> bool:
    if isinstance(raw, bool):
        return raw
    raise Refusal(f"found {_describe(raw)}", "Accepted: true, false; without quotes.")


def _parse_quantity(field: Field, _table: str, raw: object) -> float:
    wanted = DIMENSIONS[field.dimension]
    if not isinstance(raw, str):
        found = f"found {_describe(raw)}"
        if type(raw) in (int, float):
            found = f"found {raw}, a number without a unit"
        raise Refusal(found, f"Write it in quotes with its unit: {wanted.accepted}.")
    try:
        value = parse_quantity(raw[:80], field.dimension)
    except QuantityError as error:
        raise Refusal(str(error), f"For example {field.key} = {field.example}.") from None
    if not _within(value, field):
        raise Refusal(f'found "{raw}"', f"Accepted: {limits_words(field)}.")
    return value


def _within(value: float, field: Field) -> bool:
    # A limit written in one unit and a value in another may differ in the last bit.
    slack = 1e-9
    return (field.lowest is None or value >= field.lowest - slack) and (
        field.highest is None or value <= field.highest + slack
    )


def limits_words(field: Field) -> str:
    """The least and the most a quantity may be, with a unit."""
    unit, factor = _LIMIT_UNITS[field.dimension]
    if field.dimension == "temperature":
        return f"from {field.lowest - 273.15:g} to {field.highest - 273.15:g} °C"  # type: ignore[operator]
    return f"from {field.lowest / factor:g} to {field.highest / factor:g} {unit}"  # type: ignore[operator]


_LIMIT_UNITS = {
    "length": ("cm", 0.01),
    "mass": ("kg", 1.0),
    "buoyancy": ("kg", 1.0),
    "density": ("kg/m3", 1.0),
    "salinity": ("g/kg", 1e-3),
    "temperature": ("°C", 1.0),
}


def _parse_ports(_field: Field, _table: str, raw: object) -> tuple[str, ...]:
    threads = catalogue().threads
    accepted = 'Write a name that begins with LP or HP, a space and the thread: "LP1 3/8-24 UNF".'
    rows = _texts(raw, accepted)
    names = [row.split(" ", 1)[0] for row in rows]
    for row, name in zip(rows, names, strict=True):
        thread = row.partition(" ")[2].strip()
        if not _PORT.fullmatch(name):
            raise Refusal(f'found the port "{_shorten(row)}"', accepted)
        if thread not in threads:
            words = ", ".join(threads)
            raise Refusal(
                f'the port "{_shorten(row)}" has no known thread', f"Threads: {words}.{nearest(thread, threads)}"
            )
        if names.count(name) > 1:
            raise Refusal(f'the port "{name}" stands there twice', "Give each port a name of its own.")
    return rows


def _parse_port_names(_field: Field, _table: str, raw: object) -> tuple[str, ...]:
    accepted = 'Write a list of names of ports: ["LP4", "HP2"].'
    rows = _texts(raw, accepted)
    for row in rows:
        if not _PORT.fullmatch(row):
            raise Refusal(f'found "{_shorten(row)}"', accepted)
        if rows.count(row) > 1:
            raise Refusal(f'"{row}" stands there twice', "A port has one plug.")
    return rows


def _parse_port(field: Field, table: str, raw: object) -> str:
    text = _parse_text(field, table, raw)
    if not re.fullmatch(r"\S(?:.*\S)? (?:LP|HP)\w*", text):
        raise Refusal(
            f'found "{_shorten(text)}"', f"Write the tag of a first stage, a space and the port: {field.example}."
        )
    return text


def _texts(raw: object, accepted: str) -> tuple[str, ...]:
    if not isinstance(raw, list) or not all(isinstance(row, str) for row in raw):
        raise Refusal(f"found {_describe(raw)}", accepted)
    return tuple(raw)


_PARSERS: dict[Kind, Callable[[Field, str, object], Any]] = {
    Kind.TEXT: _parse_text,
    Kind.CHOICE: _parse_choice,
    Kind.WHOLE: _parse_whole,
    Kind.FLAG: _parse_flag,
    Kind.QUANTITY: _parse_quantity,
    Kind.PORTS: _parse_ports,
    Kind.PORT_NAMES: _parse_port_names,
    Kind.PORT: _parse_port,
    Kind.TAG: _parse_name,
    Kind.NAME: _parse_name,
}


def _syntax_problem(text: str, error: ValueError) -> Problem:
    """tomllib says where in its message only: "... (at line 3, column 7)" or "(at end of document)"."""
    match = re.search(r"\(at line (\d+)", str(error))
    line = int(match[1]) if match else text.count("\n") + 1
    what = re.sub(r" \(at .*\)$", "", str(error))
    return Problem(
        line,
        "",
        f"this is not TOML: {what[:1].lower()}{_shorten(what[1:])}",
        "Look for a missing quote, bracket or equals sign on this line or the one above.",
    )


def _is_table(value: object) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(row, dict) for row in value)
    )


def _name(table: str, number: int, raw: dict[str, Any]) -> str:
    """What to call a thing in a message: its tag, else its place among its kind."""
    title = KINDS[table].title
    tag = raw.get("tag")
    return f'{title} "{_shorten(tag)}"' if isinstance(tag, str) and tag else f"{title} no. {number + 1}"


def _describe(raw: object) -> str:
    if isinstance(raw, str):
        return f'"{_shorten(raw)}"'
    if isinstance(raw, bool):
        return str(raw).lower()
    if isinstance(raw, (int, float)):
        return _shorten(str(raw))
    return _TOML_KINDS.get(type(raw), "a date or time")


def _shorten(text: str, most: int = 60) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"

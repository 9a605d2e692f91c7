"""From the value of one key, as TOML gives it, to what the record holds."""

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise
from math import inf
from pathlib import PureWindowsPath
from typing import Any

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.gas_mix import Gas, gas_named
from kitbuilder.kitfile.accepted_words import examples_of, format_limits
from kitbuilder.kitfile.battery_typed import parse_battery
from kitbuilder.kitfile.choices import ON_THE_PAGE, choices_for
from kitbuilder.kitfile.problems import nearest
from kitbuilder.kitfile.rated_capacity import parse_capacity
from kitbuilder.kitfile.raw_values import describe, shorten
from kitbuilder.spellings import NEUTRAL
from kitbuilder.units import DIMENSIONS, QuantityError, Reading, parse_quantity, parse_reading, plausible_forms

LONGEST_TEXT = 2000
"""Characters in one value."""
LONGEST_QUANTITY = 80
"""Characters in one quantity."""

_PORT = re.compile(r"(LP|HP)\w*")
_PORT_OF_STAGE = re.compile(rf"\S(?:.*\S)? {_PORT.pattern}", re.DOTALL)
_NUMBER = re.compile(r"(?:\d+\s+)?\d+\s*/\s*\d+|\d+(?:[.,]\d+)*(?:[eE][+-]?\d+)?")
"""One number in a text, whole, broken or with decimals, a comma among them."""
_PRICE = re.compile(r"[0-9]{1,7}(?:\.[0-9]{1,2})?")
_DATE = re.compile(r"(\d{4})(?:-(\d{1,2}))?(?:-(\d{1,2}))?")
_HALF_CHARACTER = re.compile("[\ud800-\udfff]")


class Refusal(ValueError):
    """A value is not accepted; the message is (found, accepted)."""

    def __init__(self, found: str, accepted: str) -> None:
        """Keep both halves of the sentence."""
        super().__init__(f"{found}. {accepted}")
        self.found, self.accepted = found, accepted


def parse_value(field: Field, table: str, raw: object) -> Any:
    """Give the value of one key as the record holds it.

    Raises:
        Refusal: The value is not accepted.
    """
    return _PARSERS[field.kind](field, table, raw)


def parse_attributes(field: Field, table: str, raw: object) -> dict[str, Any]:
    """Give what the value of one key sets in the record: its attribute, and its spread or what its digits are worth.

    Raises:
        Refusal: The value is not accepted.
    """
    if not field.keeps_spread:
        return {field.attribute: parse_value(field, table, raw)}
    reading = _parse_reading(field, raw)
    beside = {field.spread_attribute: reading.spread, field.half_digit_attribute: reading.half_digit}
    return {field.attribute: reading.value} | {name: value for name, value in beside.items() if value is not None}


def _parse_text(_field: Field, _table: str, raw: object) -> str:
    if not isinstance(raw, str):
        raise Refusal(f"found {describe(raw)}", "Write a text in quotes.")
    if len(raw) > LONGEST_TEXT:
        raise Refusal(f"found a text of {len(raw)} characters", f"At most {LONGEST_TEXT}.")
    if _HALF_CHARACTER.search(raw):
        raise Refusal(f"found half a character in {shorten(raw)!a}", "Type the character again.")
    return raw


def _parse_name(field: Field, table: str, raw: object) -> str:
    text = _parse_text(field, table, raw)
    if not text.strip() or text != text.strip():
        raise Refusal(f'found "{shorten(text)}"', "Write at least one character, and no space at either end.")
    return text


def _parse_choice(field: Field, table: str, raw: object) -> str:
    accepted = choices_for(field, table)
    if isinstance(raw, str) and raw in accepted:
        return raw
    hint = nearest(raw, accepted) if isinstance(raw, str) else ""
    raise Refusal(f"found {describe(raw)}", f"Accepted: {_listed(accepted, field.vocabulary)}.{hint}")


def _listed(words: tuple[str, ...], vocabulary: str) -> str:
    """List the words to choose from; for the longest lists, say where to find them."""
    if vocabulary in ON_THE_PAGE:
        return f"the {vocabulary}s that `kitbuilder format` lists"
    return ", ".join(f'"{word}"' for word in words)


def _parse_whole(field: Field, _table: str, raw: object) -> int:
    if type(raw) is int and raw in map(int, field.choices):
        return raw
    bare = "; without quotes" if isinstance(raw, str) else ""
    raise Refusal(f"found {describe(raw)}", f"Accepted: {format_choices(field)}{bare}.")


def format_choices(field: Field) -> str:
    """List the whole numbers that a field accepts; of many only the first and the last."""
    first, *_, last = (*field.choices, field.choices[-1])
    return f"from {first} to {last}" if len(field.choices) > MOST_LISTED else ", ".join(field.choices)


MOST_LISTED = 24
"""Numbers that are listed one by one."""


def _parse_flag(_field: Field, _table: str, raw: object) -> bool:
    if isinstance(raw, bool):
        return raw
    raise Refusal(f"found {describe(raw)}", "Accepted: true or false, without quotes.")


def _parse_quantity(field: Field, _table: str, raw: object) -> float:
    return _parse_reading(field, raw).value


def _parse_reading(field: Field, raw: object) -> Reading:
    examples = examples_of(field)
    if not isinstance(raw, str):
        found, forms = f"found {describe(raw)}", examples
        if type(raw) in (int, float) and describe(raw)[-1].isdigit():
            found, forms = f"{found}, a number without a unit", _forms(field, describe(raw))
        raise Refusal(found, f"Write it in quotes with its unit: {forms}.")
    if len(raw) > LONGEST_QUANTITY:
        raise Refusal(f"found {describe(raw)}", f"Write {examples}.")
    try:
        reading = _reading_of(field, raw)
    except QuantityError as error:
        forms = _forms(field, raw)
        instead = error.accepted.replace(DIMENSIONS[field.dimension].accepted, examples)
        accepted = (forms and f"write {forms}") or instead or f"accepted: {format_limits(field)}"
        raise Refusal(error.found, f"{accepted[:1].upper()}{accepted[1:]}.") from None
    if not _within(reading.value, field):
        raise Refusal(f'found "{raw}"', f"Accepted: {format_limits(field)}.")
    if reading.spread is not None and field.dimension == "mass" and reading.spread >= reading.value:
        raise Refusal(f'found "{raw}"', "Write a spread that is smaller than the mass.")
    return reading


def _forms(field: Field, text: str) -> str:
    """List what a number without a unit may mean in a field; empty for a text that is no such number."""
    lowest, highest = (
        (-inf if field.lowest is None else field.lowest),
        (inf if field.highest is None else field.highest),
    )
    return plausible_forms(text, field.dimension, lowest, highest)


def _reading_of(field: Field, text: str) -> Reading:
    """Read a quantity with the spread that it carries or implies.

    Raises:
        QuantityError: It cannot be read.
    """
    if field.takes_rating:
        return parse_capacity(text)
    if field.takes_charge:
        return parse_battery(text)
    if not field.takes_spread:
        return Reading(parse_quantity(text, field.dimension), None, None)
    reading = parse_reading(text, field.dimension)
    if reading.spread is None and field.dimension == "buoyancy" and text.strip().lower() == NEUTRAL:
        return reading._replace(spread=catalogue().limits["neutral_spread"].value)
    return reading


def _parse_quantities(field: Field, table: str, raw: object) -> tuple[float, ...]:
    accepted = f"Write a list of quantities: {field.example}."
    rows = _texts(raw, accepted)
    for row in rows:
        if len(_NUMBER.findall(row)) > 1:
            raise Refusal(
                f'found "{shorten(row)}" as the size of one piece', "Put a comma between the sizes of two pieces."
            )
    if field.exactly and len(rows) != field.exactly:
        raise Refusal(f"found {len(rows)} in the list", f"Write {field.exactly}: {field.example}.")
    return tuple(_parse_quantity(field, table, row) for row in rows)


def _parse_gas(field: Field, table: str, raw: object) -> Gas:
    text = _parse_text(field, table, raw)
    if gas := gas_named(text):
        return gas
    raise Refusal(
        f'found "{shorten(text)}"',
        'Accepted: "air", "oxygen", "nitrox 31" (percent of oxygen), "trimix 17/42" (oxygen, then helium, at most 100 '
        "together). For any other gas write the keys oxygen and helium, with %.",
    )


def _parse_file(field: Field, table: str, raw: object) -> str:
    text = _parse_name(field, table, raw)
    # Windows takes both slashes and a drive in front; what leaves the folder there is refused everywhere.
    is_plain = text == PureWindowsPath(text).name and text.isprintable() and not text.startswith(".")
    if is_plain and text.lower().endswith(field.endings):
        return text
    endings = " or ".join(field.endings)
    raise Refusal(
        f'found "{shorten(text)}"', f"Write the name of a {endings} file in the same folder: {field.example}."
    )


def _parse_files(field: Field, table: str, raw: object) -> tuple[str, ...]:
    rows = tuple(
        _parse_file(replace(field, example=_first_of(field.example)), table, row)
        for row in _texts(raw, f"Write a list of names of files: {field.example}.")
    )
    if twice := _named_twice(rows):
        raise Refusal(f'"{shorten(twice)}" appears twice', "Name each file once.")
    return rows


def _first_of(examples: str) -> str:
    """Give the first of a list of examples."""
    return examples.strip("[]").partition(",")[0]


def _within(value: float, field: Field) -> bool:
    # A limit written in one unit and a value in another may differ in the last bit.
    slack = 1e-9
    return (field.lowest is None or value >= field.lowest - slack) and (
        field.highest is None or value <= field.highest + slack
    )


def _parse_ports(_field: Field, _table: str, raw: object) -> tuple[str, ...]:
    threads = catalogue().threads
    each = "each a name that begins with LP or HP, a space and the thread"
    accepted = f'Write a list of ports, {each}: ["LP1 3/8-24 UNF"].'
    rows = _texts(raw, accepted)
    names = [row.split(" ", 1)[0] for row in rows]
    for row, name in zip(rows, names, strict=True):
        thread = row.partition(" ")[2].strip()
        if not _PORT.fullmatch(name):
            raise Refusal(f'found the port "{shorten(row)}"', accepted)
        if thread not in threads:
            words = ", ".join(threads)
            raise Refusal(
                f'the port "{shorten(row)}" has no known thread', f"Threads: {words}.{nearest(thread, threads)}"
            )
    if twice := _named_twice(names):
        raise Refusal(f'the port "{shorten(twice)}" appears twice', "Give each port a different name.")
    return rows


def _parse_port_names(_field: Field, _table: str, raw: object) -> tuple[str, ...]:
    accepted = 'Write a list of port names: ["LP4", "HP2"].'
    rows = _texts(raw, accepted)
    for row in rows:
        if not _PORT.fullmatch(row):
            raise Refusal(f'found "{shorten(row)}"', accepted)
    if twice := _named_twice(rows):
        raise Refusal(f'"{shorten(twice)}" appears twice', "Name each port once.")
    return rows


def _parse_tags(field: Field, table: str, raw: object) -> tuple[str, ...]:
    rows = tuple(_parse_name(field, table, row) for row in _texts(raw, f"Write a list of tags: {field.example}."))
    if twice := _named_twice(rows):
        raise Refusal(f'"{shorten(twice)}" appears twice', "Name each item once.")
    return rows


def _parse_port(field: Field, table: str, raw: object) -> str:
    text = _parse_text(field, table, raw)
    if not _PORT_OF_STAGE.fullmatch(text):
        raise Refusal(
            f'found "{shorten(text)}"', f"Write the tag of a first stage, a space and the port: {field.example}."
        )
    return text


def _parse_landmarks(field: Field, table: str, raw: object) -> tuple[str, ...]:
    known = choices_for(field, table)
    rows = _texts(raw, f"Write a list of landmarks: {field.example}.")
    for row in rows:
        if row not in known:
            accepted = f"Accepted: {_listed(known, field.vocabulary)}.{nearest(row, known)}"
            raise Refusal(f'found "{shorten(row)}", which is not a landmark', accepted)
    if twice := next((row for row, following in pairwise(rows) if row == following), None):
        raise Refusal(f'"{twice}" appears twice in a row', "Remove one of the two.")
    if len(rows) < field.fewest:
        wanted = "one landmark" if field.fewest == 1 else f"{field.fewest} landmarks, in order from the port"
        raise Refusal(f"found {len(rows)} in the list", f"Write at least {wanted}: {field.example}.")
    return rows


def _parse_price(field: Field, _table: str, raw: object) -> float:
    text = raw.strip() if isinstance(raw, str) else "" if isinstance(raw, bool) else describe(raw)
    if _PRICE.fullmatch(text):
        return float(text)
    raise Refusal(
        f"found {describe(raw)}", f"Write a number from 0 to 9999999 with at most two decimals: {field.example}."
    )


def _parse_date(field: Field, _table: str, raw: object) -> date:
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    accepted = f'Write a year, a month or a day in quotes: "2024", "2024-05", {field.example}.'
    match = _DATE.fullmatch(raw.strip()) if isinstance(raw, str) else None
    if match is None:
        raise Refusal(f"found {describe(raw)}", accepted)
    year, month, day = (int(part or 1) for part in match.groups())
    try:
        found = date(year, month, day)
    except ValueError:
        raise Refusal(f"found {describe(raw)}, which is not a date", accepted) from None
    if year < EARLIEST_YEAR:
        raise Refusal(f"found {describe(raw)}", f"Accepted: from {EARLIEST_YEAR} on.")
    return found


EARLIEST_YEAR = 1940
"""No dive gear in use is older."""


def _named_twice(names: Iterable[str]) -> str | None:
    return next((name for name, count in Counter(names).items() if count > 1), None)


def _texts(raw: object, accepted: str) -> tuple[str, ...]:
    if not isinstance(raw, list):
        raise Refusal(f"found {describe(raw)}", accepted)
    for row in raw:
        if not isinstance(row, str):
            raise Refusal(f"found {describe(row)} in the list", accepted)
    return tuple(raw)


_PARSERS: dict[ValueKind, Callable[[Field, str, object], Any]] = {
    ValueKind.TEXT: _parse_text,
    ValueKind.CHOICE: _parse_choice,
    ValueKind.WHOLE: _parse_whole,
    ValueKind.FLAG: _parse_flag,
    ValueKind.QUANTITY: _parse_quantity,
    ValueKind.QUANTITIES: _parse_quantities,
    ValueKind.GAS: _parse_gas,
    ValueKind.FILE: _parse_file,
    ValueKind.FILES: _parse_files,
    ValueKind.KIT_ITEM: _parse_name,
    ValueKind.PORTS: _parse_ports,
    ValueKind.PORT_NAMES: _parse_port_names,
    ValueKind.LANDMARKS: _parse_landmarks,
    ValueKind.PRICE: _parse_price,
    ValueKind.PORT: _parse_port,
    ValueKind.TAG: _parse_name,
    ValueKind.TAGS: _parse_tags,
    ValueKind.NAME: _parse_name,
    ValueKind.OWNED: _parse_name,
    ValueKind.DATE: _parse_date,
}

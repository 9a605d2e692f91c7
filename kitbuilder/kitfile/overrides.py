"""What is given on the command line in place of a file, by the same keys, limits and words."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.fields import Field, field_named, fields_of
from kitbuilder.kit.items import Header, Hose
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.problems import nearest
from kitbuilder.kitfile.values import Refusal, parse_value

NOT_OF_A_BODY = ("format", "holds", "name", "units", "lead_sizes", "notes")
BODY_FIELDS: tuple[Field, ...] = tuple(field for field in fields_of(DiverHeader) if field.key not in NOT_OF_A_BODY)
"""The keys of a diver file that tell of the body."""


SEX_WORDS = {
    "male": "male", "man": "male", "m": "male", "female": "female", "woman": "female", "f": "female", "w": "female",
}  # fmt: skip
"""Words for a sex that are typed, and what a diver file has for them."""


def sex_named(word: str) -> str:
    """Give a sex as a diver file has it, by a word or a letter; any other word as it is."""
    return SEX_WORDS.get(word.strip().lower(), word)


def override_diver(diver: Diver | None, overrides: Mapping[str, str]) -> Diver | None:
    """Replace values of a diver by those given on the command line.

    Args:
        diver: The diver of the file, if there is one.
        overrides: Values by key, written as in a diver file.

    Raises:
        Refusal: A value is not accepted.
    """
    if not overrides:
        return diver
    values: dict[str, Any] = {}
    for key, text in overrides.items():
        field = field_named(DiverHeader, key)
        values[field.attribute] = _parsed(field, "", sex_named(text) if key == "sex" else text, key.replace("_", " "))
    header = diver.header if diver else DiverHeader(format=1, holds="diver", name="the diver")
    return Diver(replace(header, **values), diver.items if diver else ())


def override_runs(kit: ResolvedKit, runs: Mapping[str, str]) -> ResolvedKit:
    """Replace the runs of some hoses by lengths given on the command line.

    Args:
        kit: The kit.
        runs: Lengths by the tag of the hose, written as in a kit file.

    Raises:
        Refusal: There is no such hose, or a length is not accepted.
    """
    field = field_named(Hose, "run")
    tags = [item.tag for item in kit.items if isinstance(item, Hose)]
    for tag in runs:
        if tag not in tags:
            hoses = ", ".join(f'"{known}"' for known in tags)
            raise Refusal(f'found no hose "{tag}"', f"Hoses: {hoses or 'none'}.{nearest(tag, tags)}")
    lengths: dict[str, Any] = {tag: _parsed(field, Hose.kind, text, f"run of {tag}") for tag, text in runs.items()}
    items = tuple(
        replace(item, run_m=lengths[item.tag]) if isinstance(item, Hose) and item.tag in lengths else item
        for item in kit.items
    )
    return replace(kit, items=items)


def override_day(text: str) -> date:
    """Read a day given in place of that of the kit file.

    Raises:
        Refusal: It is no day.
    """
    try:
        day: date = parse_value(field_named(Header, "day"), "", text)
    except Refusal as refusal:
        # Quotes belong to a file; on a command line a shell takes them off.
        raise Refusal(refusal.found, refusal.accepted.replace(" in quotes", "").replace('"', "")) from None
    return day


def _parsed(field: Field, table: str, text: str, place: str) -> object:
    """Read a value; a refusal says where the value was found."""
    try:
        return parse_value(field, table, text)
    except Refusal as refusal:
        raise Refusal(f"{place}: {refusal.found}", refusal.accepted) from None

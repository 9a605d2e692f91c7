"""What stands in the files of the catalogue is what the program has: every value, its range, every word and number.

The files are read here with a table of units of their own, so that a value that is lost, halved, put at the wrong end
of its range or taken in the wrong unit shows, whichever reader of the catalogue does it.
"""

import math
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

import kitbuilder.catalogue
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.catalogue.air_rules import air_rules
from kitbuilder.catalogue.allowances import allowances
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.catalogue.rules_of_thumb import rules_of_thumb
from kitbuilder.catalogue.spares import spares
from kitbuilder.catalogue.travel_facts import travel_facts
from kitbuilder.catalogue.upkeep import upkeep
from tests.catalogue.test_origins import walk

FOLDER = Path(kitbuilder.catalogue.__file__).parent
FACTORS = {
    "kg": 1.0,
    "g": 1e-3,
    "m": 1.0,
    "cm": 1e-2,
    "mm": 1e-3,
    "in": 0.0254,
    "L": 1e-3,
    "bar": 1e5,
    "MPa": 1e6,
    "kg/m3": 1.0,
    "kg/m2": 1.0,
    "g/m": 1e-3,
    "g/kg": 1e-3,
    "%": 1e-2,
    "Nm": 1.0,
    "Wh": 3600.0,
    "°": math.pi / 180,
}
CUSTOM = "customary"
"""Lengths in use are ends without a middle; they have a test of their own."""


def in_si(text: str) -> float:
    """Units as in ISO 80000; a thread's pitch is the inch over its threads, a temperature is absolute."""
    number, unit = text.split(" ", 1)
    if unit == "°C":
        return float(number) + 273.15
    if unit == "tpi":
        return 0.0254 / float(number)
    return float(number) * FACTORS[unit]


def ranges(rows: object) -> Iterator[tuple[float, float, float]]:
    """Every value of a file with its range: the middle of the range where none is written, no range where none is."""
    if isinstance(rows, dict) and "origin" in rows and {"value", "low"} & rows.keys():
        ends = [in_si(rows[end]) for end in ("low", "high") if end in rows]
        value = in_si(rows["value"]) if "value" in rows else sum(ends) / 2
        yield (value, *(ends or (value, value)))
    elif isinstance(rows, (dict, list)):
        for row in [row for key, row in rows.items() if key != CUSTOM] if isinstance(rows, dict) else rows:
            yield from ranges(row)


def rounded(value: tuple[float, float, float]) -> tuple[str, ...]:
    return tuple(f"{number:.9g}" for number in value)


def written() -> Counter[tuple[str, ...]]:
    """Every value that stands in a file."""
    files = (tomllib.loads(path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.toml")))
    return Counter(rounded(value) for rows in files for value in ranges(rows))


def loaded() -> Counter[tuple[str, ...]]:
    """Every value that the program has."""
    everything = [
        *walk(catalogue()),
        *walk(bench_work()),
        *walk(rules_of_thumb()),
        *walk(air_rules()),
        *walk(allowances()),
        *walk(travel_facts()),
        *walk(spares()),
    ]
    return Counter(rounded((item.value, item.low, item.high)) for _, item in everything if isinstance(item, Value))


def test_every_value_that_stands_there_is_had() -> None:
    """As often as it stands there at least: a value of all hose ends is had by each of them."""
    there, here = written(), loaded()
    assert sum(there.values()) > 450
    assert {value: times for value, times in there.items() if here[value] < times} == {}


def test_no_value_is_had_that_stands_nowhere() -> None:
    """Nothing is made up on the way."""
    assert loaded().keys() <= written().keys()


def rows_of(name: str, key: str) -> list[dict[str, object]]:
    found = tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8"))[key]
    assert isinstance(found, list)
    return found


@pytest.mark.parametrize(
    ("file", "key", "entries"),
    [
        ("cylinders", "metal", "metals"),
        ("cylinders", "valve", "valves"),
        ("cylinders", "cylinder", "cylinders"),
        ("outlets", "connection", "connections"),
        ("outlets", "outlet", "outlets"),
        ("suits", "foam", "foams"),
        ("suits", "cut", "cuts"),
        ("suits", "undersuit", "undersuits"),
        ("fittings", "fitting", "fittings"),
        ("fittings", "adapter", "adapters"),
        ("fittings", "inlet", "inlets"),
        ("joints", "thread", "threads"),
        ("joints", "coupling", "couplings"),
        ("places", "place", "places"),
        ("waters", "water", "waters"),
        ("roles", "role", "roles"),
    ],
)
def test_every_entry_is_there_by_its_name_with_its_words(file: str, key: str, entries: str) -> None:
    """In the order of the file; each word of its row stands in the attribute of that name, where there is one."""
    loaded = getattr(catalogue(), entries)
    rows = rows_of(file, key)
    assert list(loaded) == [row["name"] for row in rows]
    for row in rows:
        entry = loaded[row["name"]]
        for word, value in row.items():
            if isinstance(value, (str, bool)) and hasattr(entry, word):
                assert getattr(entry, word) == value, (row["name"], word)


def test_customary_lengths_keep_both_ends_and_their_origin() -> None:
    """By role and layout."""
    several = 0
    for row in rows_of("roles", "role"):
        role = catalogue().roles[row["name"]]
        custom = row.get(CUSTOM, {})
        assert isinstance(custom, dict)
        assert role.customary.keys() == role.customary_origins.keys() == custom.keys()
        for layout, ends in custom.items():
            several += 1
            assert role.customary[layout] == pytest.approx((in_si(ends["low"]), in_si(ends["high"])))
            assert role.customary_origins[layout] == ends["origin"]
    assert several > 10


def test_upkeep_has_every_interval_and_every_word() -> None:
    """A number of months stays that number, and is its own range where none is written."""
    rows = rows_of("upkeep", "upkeep")
    assert len(rows) == len(upkeep().intervals)
    for row, interval in zip(rows, upkeep().intervals, strict=True):
        words = {"bodies": [], "region": "", "earliest": row["months"], "latest": row["months"]} | row
        for key, value in words.items():
            found = getattr(interval, key)
            assert (list(found) if isinstance(value, list) else found) == value, (row["name"], key)
        assert interval.is_rule is bool(words["region"])
    soon = tomllib.loads((FOLDER / "upkeep.toml").read_text("utf-8"))["due_soon"]
    assert (upkeep().due_soon_days, upkeep().due_soon_origin) == (soon["days"], soon["origin"])


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_stock_lengths_are_those_of_the_file(service: str) -> None:
    """In its order, shortest first."""
    rows = tomllib.loads((FOLDER / "roles.toml").read_text("utf-8"))["stock_lengths"]
    lengths = [in_si(text) for text in rows[service]]
    assert list(catalogue().stock_lengths[service]) == pytest.approx(lengths)
    assert lengths == sorted(lengths)

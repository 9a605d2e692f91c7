"""A key that no reader of the catalogue asks for is refused, whatever table it is in: a misspelt key is never lost."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from shutil import copy

import pytest
import tomlkit

from kitbuilder.catalogue import CatalogueError
from kitbuilder.catalogue.air_rules import load_air_rules
from kitbuilder.catalogue.allowances import load_allowances
from kitbuilder.catalogue.bench_work import load_bench_work
from kitbuilder.catalogue.load import FILES, FOLDER, load_catalogue
from kitbuilder.catalogue.rental import load_rental
from kitbuilder.catalogue.rules_of_thumb import load_rules_of_thumb
from kitbuilder.catalogue.spares import load_spares
from kitbuilder.catalogue.styles import load_styles
from kitbuilder.catalogue.swaps import load_swap_facts
from kitbuilder.catalogue.travel_facts import load_travel_facts
from kitbuilder.catalogue.upkeep import load_upkeep

STRANGE = "out_of_place"


def tables(rows: object, shape: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], dict[str, object]]]:
    """Every table of a file with its shape, the keys that lead to it; no single values."""
    if isinstance(rows, dict):
        if "origin" not in rows or not {"value", "low"} & rows.keys():
            yield shape, rows
        for key, row in rows.items():
            yield from tables(row, (*shape, key))
    elif isinstance(rows, list):
        for row in rows:
            yield from tables(row, shape)


def shapes(name: str) -> list[tuple[str, ...]]:
    return list(dict(tables(tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8")))))


def broken(name: str, shape: tuple[str, ...]) -> str:
    """The file with a strange key in the first table of a shape."""
    rows = tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8"))
    table = next(table for found, table in tables(rows) if found == shape)
    table[STRANGE] = 1
    return tomlkit.dumps(rows)


def load(name: str, folder: Path) -> object:
    """By the loader that reads a file."""
    if name == "bench_work":
        return load_bench_work(folder / "bench_work.toml")
    if name == "styles":
        return load_styles(folder / "styles.toml")
    if name == "rules_of_thumb":
        return load_rules_of_thumb(folder / "rules_of_thumb.toml")
    if name == "air_rules":
        return load_air_rules(folder / "air_rules.toml")
    if name == "allowances":
        return load_allowances(folder / "allowances.toml")
    if name == "travel_facts":
        return load_travel_facts(folder / "travel_facts.toml")
    if name == "rental":
        return load_rental(folder / "rental.toml")
    if name == "swaps":
        return load_swap_facts(folder / "swaps.toml")
    if name == "spares":
        return load_spares(folder / "spares.toml")
    return load_upkeep(folder / "upkeep.toml") if name == "upkeep" else load_catalogue(folder)


@pytest.mark.parametrize(
    "name",
    [
        *FILES,
        "bench_work",
        "upkeep",
        "styles",
        "rules_of_thumb",
        "air_rules",
        "allowances",
        "travel_facts",
        "rental",
        "spares",
        "swaps",
    ],
)
def test_a_strange_key_is_named_wherever_it_stands(name: str, tmp_path: Path) -> None:
    """One table of each shape in each file."""
    for file in FOLDER.glob("*.toml"):
        copy(file, tmp_path)
    said = {}
    for shape in shapes(name):
        (tmp_path / f"{name}.toml").write_text(broken(name, shape), "utf-8")
        try:
            load(name, tmp_path)
            said[shape] = "nothing"
        except CatalogueError as refused:
            said[shape] = str(refused)
    assert said
    assert {shape: text for shape, text in said.items() if f"{name}.toml" not in text or STRANGE not in text} == {}

"""What holds for every formula: its docstring, its dimensions, what it may import."""

import ast
import importlib
import inspect
import pkgutil
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import kitbuilder.physics
from kitbuilder.physics import buoyancy, hose
from tests.pint_units import pint_registry

MODULES = [
    importlib.import_module(f"kitbuilder.physics.{module.name}")
    for module in pkgutil.iter_modules(kitbuilder.physics.__path__)
]
FORMULAS = [
    formula
    for module in MODULES
    for name, formula in inspect.getmembers(module, inspect.isfunction)
    if formula.__module__ == module.__name__ and not name.startswith("_")
]
WORDS = {"ends"}
"""Arguments that are words and have no unit."""
DIMENSIONS: list[tuple[Callable[..., Any], tuple[tuple[float, str], ...], str]] = [
    (hose.ring_area, ((12.0, "mm"), (0.25, "inch")), "m**2"),
    (hose.mass_per_length, ((12.0, "mm"), (0.25, "inch"), (1.3, "g/cm**3")), "kg/m"),
    (hose.tube_volume, ((12.0, "mm"), (7.0, "ft")), "m**3"),
    (hose.bore_volume, ((0.25, "inch"), (2.1, "m")), "m**3"),
    (hose.solid_volume, ((70.0, "g"), (0.307, "lb/inch**3")), "m**3"),
    (buoyancy.buoyancy_kgf, ((12.0, "L"), (15.0, "lb"), (64.0, "lb/ft**3")), "kg"),
    (buoyancy.displaced_volume, ((15.0, "lb"), (-1.0, "kg"), (64.0, "lb/ft**3")), "m**3"),
]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: f"{formula.__module__}.{formula.__name__}")
def test_every_formula_says_what_it_takes_gives_refuses_and_rests_on(formula: Callable[..., Any]) -> None:
    """Arguments in order with their unit, result with its unit, Raises, Valid and Source."""
    text = inspect.getdoc(formula) or ""
    arguments = inspect.signature(formula).parameters
    for section in ("Args:", "Returns:", "Raises:", "Valid:", "Source:"):
        assert section in text, f"{formula.__name__} has no {section}"
    described = _entries(text.split("Args:")[1].split("Returns:")[0])
    assert list(described) == list(arguments)
    assert [name for name, entry in described.items() if name not in WORDS and "[" not in entry] == []
    if formula.__annotations__["return"] is float:
        assert "[" in text.split("Returns:")[1].split("Raises:")[0]


def test_there_are_formulas_to_look_at() -> None:
    """So that a change of layout does not empty the check above."""
    assert {"bend", "curve", "seawater_density", "unified_limits", "buoyancy_kgf"} <= {f.__name__ for f in FORMULAS}


@pytest.mark.parametrize(
    ("formula", "quantities", "unit"), DIMENSIONS, ids=lambda value: getattr(value, "__name__", "")
)
def test_a_formula_run_on_quantities_gives_the_right_dimension_and_the_same_value(
    formula: Callable[..., Any], quantities: tuple[tuple[float, str], ...], unit: str
) -> None:
    """Source: pint's own unit table; trade units in, so a slip in a factor shows as well as a slip in a dimension."""
    registry = pint_registry()
    arguments = [registry.Quantity(value, text) for value, text in quantities]
    in_si = [argument.to_base_units().magnitude for argument in arguments]
    assert formula(*arguments).to(unit).magnitude == pytest.approx(formula(*in_si), rel=1e-12)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_physics_imports_only_the_standard_library(module: ModuleType) -> None:
    """Nothing of the project, no numpy, no pint: the formulas stay quick to load and free of the rest."""
    tree = ast.parse(Path(module.__file__ or "").read_text("utf-8"))
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "." for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert {name for name in imported if name.split(".")[0] not in sys.stdlib_module_names} == set()


def _entries(section: str) -> dict[str, str]:
    """The entries of an Args section by name, continuation lines joined."""
    entries: dict[str, str] = {}
    name = ""
    for line in section.splitlines():
        if line.startswith("    ") and not line.startswith("     "):
            name, _, line = line.strip().partition(":")
            entries[name] = ""
        if name:
            entries[name] += line
    return entries

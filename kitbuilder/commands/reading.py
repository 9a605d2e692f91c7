"""Reads the files that commands are given. A file that cannot be used is complained about, and gives None."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.foreign import visible
from kitbuilder.streams import write_error

if TYPE_CHECKING:
    from kitbuilder.assess.assessment import Assessment
    from kitbuilder.kit.gear import Gear
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kit.stock import Stock
    from kitbuilder.kitfile.problems import Problem


def read_kit(name: str) -> "ResolvedKit | None":
    """Read a kit with all files it names."""
    from kitbuilder.kit.file_kinds import KIT_FILE
    from kitbuilder.kitfile.read import read

    reading = read(Path(name), KIT_FILE)
    if reading.resolved is None:
        write_problems(name, reading.problems)
    return reading.resolved


def assessed_kits(names: Iterable[str]) -> "list[tuple[str, Assessment]]":
    """Work out the kits of the files that can be read, each with its name."""
    from kitbuilder.assess.assessment import assess

    kits = ((name, read_kit(name)) for name in names)
    return [(name, assess(kit)) for name, kit in kits if kit is not None]


def read_gear(name: str) -> "Gear | None":
    """Read a gear file."""
    from kitbuilder.kit.file_kinds import GEAR_FILE
    from kitbuilder.kitfile.read import read

    reading = read(Path(name), GEAR_FILE)
    if reading.gear is None:
        write_problems(name, reading.problems)
    return reading.gear


def read_stock(name: str) -> "tuple[Stock, tuple[str, ...]] | None":
    """Read a stock, with what is wrong in rows that are left out."""
    from kitbuilder.kit.file_kinds import STOCK_FILE
    from kitbuilder.kitfile.read import read

    reading = read(Path(name), STOCK_FILE)
    if reading.stock is None:
        write_problems(name, reading.problems)
        return None
    return reading.stock, tuple(problem.located(name) for problem in reading.problems)


def write_problems(name: str, problems: "tuple[Problem, ...]") -> None:
    """Say why a file cannot be used, one line per problem."""
    write_error("".join(f"{visible(problem.located(name))}\n" for problem in problems))

"""Files from the disk: each is read once as what it says it holds, and a kit comes with all that it refers to.

What a file holds is decided here and nowhere else: by its ending, then by its key `holds`.
"""

from dataclasses import replace
from functools import lru_cache
from itertools import repeat
from pathlib import Path

from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import DIVER_FILE, GEAR_FILE, KIT_FILE, STOCK_FILE, FileKind
from kitbuilder.kit.items import Kit
from kitbuilder.kit.lines import NO_LINES, Lines
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve
from kitbuilder.kit.resolved_trip import ResolvedTrip, TripKit
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.disk import UnreadableFile, read_text
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.reader import ParseResult, holds_other, parse_as, parse_as_said
from kitbuilder.kitfile.stock_links import is_table, read_stock_text

MOST_PROBLEMS = 3
"""Problems of a linked file that are named with the kit; `check` of that file names all."""


def read(path: Path, expected: FileKind | None = None) -> ParseResult:
    """Read a file as `read_written` does; a kit or trip is resolved. Never raises: what is wrong is in `problems`."""
    reading = read_written(path, expected)
    if reading.trip is not None:
        return replace(reading, contents=trip_at(path, reading.trip, reading.lines))
    return reading if reading.kit is None else replace(reading, contents=resolve_at(path, reading.kit, reading.lines))


def read_written(path: Path, expected: FileKind | None = None) -> ParseResult:
    """Read a file by itself, without what it refers to. Never raises.

    Args:
        path: The file.
        expected: What it should hold; a file that holds something else has that as its one problem. None takes the
            file's own word.
    """
    by_name = expected or _kind_by_name(path)
    try:
        text = read_text(path, holds=by_name.name)
    except UnreadableFile as error:
        found, _, accepted = str(error).partition(". ")
        return ParseResult(None, (Problem(None, "", found, accepted + "."),), file=by_name)
    if is_table(path) and expected and expected is not STOCK_FILE:
        return ParseResult(None, (holds_other(None, STOCK_FILE, expected),), text, file=STOCK_FILE)
    if expected is STOCK_FILE or is_table(path):
        return read_stock_text(text, path)
    if expected is not None:
        return parse_as(text, expected)
    reading = parse_as_said(text)
    return read_stock_text(text, path) if reading.file is STOCK_FILE else reading


def read_kept(path: Path, expected: FileKind | None = None) -> ParseResult:
    """Read a file as `read_written` does, again only when it was written since. Never raises."""
    try:
        found = path.stat()
    except OSError:
        return read_written(path, expected)
    said = _kept(path, found.st_mtime_ns, found.st_size, None)
    if expected in (None, said.file):
        return said
    return _kept(path, found.st_mtime_ns, found.st_size, expected)


@lru_cache(maxsize=256)
def _kept(path: Path, _written_ns: int, _size: int, expected: FileKind | None) -> ParseResult:
    return read_written(path, expected)


def resolve_at(path: Path, kit: Kit, lines: Lines = NO_LINES) -> ResolvedKit:
    """Resolve what a kit file says, as it stands on the disk or as edited. Never raises.

    Args:
        path: The kit file; what it names is looked for in its folder and nowhere else.
        kit: What it says.
        lines: Where it says it.
    """
    folder, header = path.parent, kit.header
    diver, diver_problems = _linked(folder, header.diver, DIVER_FILE)
    gear, gear_problems = _linked(folder, header.gear, GEAR_FILE)
    stock, stock_problems = _linked(folder, header.stock, STOCK_FILE)
    linked = LinkedFiles(
        own=path.name,
        diver=diver.diver if diver else None,
        worn=worn_kits(path, diver.diver) if diver and diver.diver else (),
        diver_problems=diver_problems,
        stock=stock.stock if stock else None,
        stock_problems=stock_problems,
        gear=gear.gear if gear else None,
        gear_problems=gear_problems,
    )
    return resolve(kit, linked, lines)


def trip_at(path: Path, trip: Trip, lines: Lines = NO_LINES) -> ResolvedTrip:
    """Resolve what a trip file says, as it stands on the disk or as edited. Never raises.

    Args:
        path: The trip file; what it names is looked for in its folder and nowhere else.
        trip: What it says.
        lines: Where it says it.
    """
    header = trip.header
    divers = (*header.divers, *repeat(None, max(0, len(header.kits) - len(header.divers))))
    pairs = zip(header.kits, divers, strict=False)
    kits = tuple(_travelling(path.parent, name, diver, header.water) for name, diver in pairs)
    return ResolvedTrip(header, trip.items, kits, lines)


def _travelling(folder: Path, name: str, diver: str | None, water: str | None) -> TripKit:
    """Read a kit of a trip as it is used there: on another diver, in another water."""
    reading, problems = _linked(folder, name, KIT_FILE)
    if reading is None or reading.kit is None:
        return TripKit(name, None, problems)
    header = reading.kit.header
    if diver is not None:
        header = replace(header, diver=diver)
    if water is not None:
        # What was measured at home does not hold there.
        header = replace(header, water=water, salinity_kg_per_kg=None, temperature_k=None, density_kg_m3=None)
    return TripKit(name, resolve_at(folder / name, replace(reading.kit, header=header), reading.lines))


def worn_kits(path: Path, diver: Diver) -> tuple[tuple[str, ResolvedKit], ...]:
    """Read the kits of a diver's float checks, but for the one of `path`; those that cannot be read are left out."""
    names = sorted({check.kit for check in diver.items} - {path.name})
    kits = ((name, read_worn(path.parent, name, diver)) for name in names)
    return tuple((name, kit) for name, kit in kits if kit is not None)


def read_worn(folder: Path, name: str, diver: Diver) -> ResolvedKit | None:
    """Read a kit as a diver wore it: with its own gear file. None when it is not there or cannot be read."""
    kit = read_kept(folder / name, KIT_FILE).kit
    if kit is None:
        return None
    gear, problems = _linked(folder, kit.header.gear, GEAR_FILE)
    found = gear.gear if gear else None
    return resolve(kit, LinkedFiles(own=name, diver=diver, gear=found, gear_problems=problems))


def _linked(folder: Path, name: str | None, file: FileKind) -> tuple[ParseResult | None, tuple[str, ...]]:
    """Read a file that a kit names, and say what is wrong with it, a sentence each."""
    if name is None:
        return None, ()
    if not _is_there(folder / name):
        return None, (f"{name} is not in this folder.",)
    reading = read_kept(folder / name, file)
    problems = [problem.located(name) for problem in reading.problems[:MOST_PROBLEMS]]
    more = len(reading.problems) - MOST_PROBLEMS
    if more > 0:
        problems.append(f"{name}: {more} more; `kitbuilder check` names them.")
    return reading, tuple(problems)


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:  # a name that no disk takes: reading it tells what is wrong
        return True


def _kind_by_name(path: Path) -> FileKind:
    return STOCK_FILE if is_table(path) else KIT_FILE

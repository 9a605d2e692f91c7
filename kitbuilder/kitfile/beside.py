"""The other files of the folder that a kit refers to: diver, kits of the float checks, stock, locker."""

from functools import lru_cache
from pathlib import Path

from kitbuilder.kit.diver import Beside, Diver
from kitbuilder.kit.files import DIVER_FILE, FILE_KINDS, KIT_FILE, LOCKER_FILE, STOCK_FILE, FileKind
from kitbuilder.kit.locker import Locker
from kitbuilder.kit.stock import Stock
from kitbuilder.kit.things import Kit
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.reader import Reading, read_file
from kitbuilder.kitfile.stock import read_stock

MOST_PROBLEMS = 3
"""Problems of another file that are told; its own screen tells all."""


def read_beside(path: Path, kit: Kit) -> Beside:
    """What the files beside a kit file say. Never raises: what cannot be used is told.

    Args:
        path: The kit file; what it names is looked for in its folder, and nowhere else.
        kit: What it says.
    """
    beside = _with_stock(_beside_its_diver(path, kit), path.parent, kit.header.stock)
    return _with_locker(beside, path.parent, kit.header.locker)


def _beside_its_diver(path: Path, kit: Kit) -> Beside:
    own = path.name
    if kit.header.diver is None:
        return Beside(own)
    name = kit.header.diver
    if not _is_there(path.parent / name):
        return Beside(own, problems=(f"{name} is not in this folder.",))
    reading = _read(path.parent / name, DIVER_FILE)
    if reading.diver is None:
        told = [problem.located(name) for problem in reading.problems[:MOST_PROBLEMS]]
        return Beside(own, problems=tuple(told))
    return Beside(own, reading.diver, _worn_kits(path, reading.diver))


def _with_stock(beside: Beside, folder: Path, name: str | None) -> Beside:
    if name is None:
        return beside
    if not _is_there(folder / name):
        return beside._replace(stock_problems=(f"{name} is not in this folder.",))
    stock, problems = _read_stock(folder / name)
    told = [problem.located(name) for problem in problems[:MOST_PROBLEMS]]
    more = len(problems) - MOST_PROBLEMS
    if more > 0:
        told.append(f"{name}: {more} more; `kitbuilder check` names them.")
    return beside._replace(stock=stock, stock_problems=tuple(told))


def _with_locker(beside: Beside, folder: Path, name: str | None) -> Beside:
    if name is None:
        return beside
    if not _is_there(folder / name):
        return beside._replace(locker_problems=(f"{name} is not in this folder.",))
    reading = _read(folder / name, LOCKER_FILE)
    told = tuple(problem.located(name) for problem in reading.problems[:MOST_PROBLEMS])
    return beside._replace(locker=reading.locker, locker_problems=told)


def beside_diver(path: Path, kit_name: str, diver: Diver) -> Beside:
    """What a diver, as edited, and the kits of the folder say, none of them the one all is about.

    Args:
        path: The diver file.
        kit_name: A kit of the same folder, read besides those of the float checks.
        diver: What the diver file says now.
    """
    kits = _worn_kits(path, diver)
    kit = kit_in(path.parent, kit_name)
    own = ((kit_name, kit),) if kit and kit_name not in dict(kits) else ()
    return Beside("", diver, (*kits, *own))


def kit_in(folder: Path, name: str) -> Kit | None:
    """The kit of a file in a folder; None when it is not there or cannot be read."""
    return _read(folder / name).kit


def locker_in(folder: Path, name: str) -> Locker | None:
    """The locker of a file in a folder; None when it is not there or cannot be read."""
    return _read(folder / name, LOCKER_FILE).locker


def kits_naming(path: Path) -> tuple[tuple[str, Kit], ...]:
    """The kits beside a locker file that name it, by file name; those that cannot be read are left out."""
    kits = ((name, kit_in(path.parent, name)) for name in files_holding(path.parent, KIT_FILE.name))
    return tuple((name, kit) for name, kit in kits if kit is not None and kit.header.locker == path.name)


def unreadable_beside(path: Path) -> tuple[tuple[str, tuple[Problem, ...]], ...]:
    """The kit files beside a locker that cannot be read and seem to name it, each with what is wrong with it."""
    found = []
    for other in sorted(path.parent.glob("*.toml")):
        text, reading = read_file(other)
        if reading.kit is None and reading.holds == KIT_FILE.name and f'"{path.name}"' in text:
            found.append((other.name, reading.problems))
    return tuple(found)


def _worn_kits(path: Path, diver: Diver) -> tuple[tuple[str, Kit], ...]:
    """The kits of the float checks; one that is not there is told with its float check."""
    names = sorted({check.kit for check in diver.things} - {path.name})
    return tuple((name, kit) for name in names if (kit := kit_in(path.parent, name)))


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:  # a name that no disk takes: reading it tells what is wrong
        return True


def _read(path: Path, *file: FileKind) -> Reading:
    """A file as it is now; read anew only when it was written since."""
    try:
        found = path.stat()
    except OSError:
        return read_file(path, *file)[1]
    return _kept(path, found.st_mtime_ns, found.st_size, *file)


@lru_cache(maxsize=64)
def _kept(path: Path, _written_ns: int, _size: int, *file: FileKind) -> Reading:
    return read_file(path, *file)[1]


def _read_stock(path: Path) -> tuple[Stock | None, tuple[Problem, ...]]:
    """A stock file as it is now; read anew only when it was written since."""
    try:
        found = path.stat()
    except OSError:
        return read_stock(path)
    return _kept_stock(path, found.st_mtime_ns, found.st_size)


@lru_cache(maxsize=16)
def _kept_stock(path: Path, _written_ns: int, _size: int) -> tuple[Stock | None, tuple[Problem, ...]]:
    return read_stock(path)


def files_holding(folder: Path, holds: str) -> tuple[str, ...]:
    """The names of the files in a folder that can be read and hold a kit, a diver, a stock or a locker."""
    file = FILE_KINDS[holds]
    if file is STOCK_FILE:
        paths = sorted((*folder.glob("*.toml"), *folder.glob("*.csv")))
        return tuple(path.name for path in paths if _read_stock(path)[0] is not None)
    return tuple(path.name for path in sorted(folder.glob("*.toml")) if _read(path, file).contents is not None)

"""The other files of a folder: what each of them holds, and which kits name a file."""

import os
from pathlib import Path

from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import FILE_KINDS, KIT_FILE, STOCK_FILE
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.disk import ends_in
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.read import read_kept, read_worn, resolve_at


def files_holding(folder: Path, holds: str) -> tuple[str, ...]:
    """Name the files in a folder that can be read and hold what is asked for: "kit", "diver", "trip" and so on."""
    file = FILE_KINDS[holds]
    endings = (".toml", ".csv") if file is STOCK_FILE else (".toml",)
    paths = sorted(path for path in folder.glob("*") if ends_in(path.name, *endings))
    readings = ((path.name, read_kept(path)) for path in paths)
    return tuple(name for name, reading in readings if reading.file is file and reading.contents is not None)


def free_name(folder: Path, stem: str) -> str:
    """Give a file name that nothing in a folder has yet: "diver.toml", else "diver2.toml" and so on."""
    names = (f"{stem}{number}.toml" for number in ("", *range(2, 1000)))
    return next(name for name in names if not os.path.lexists(folder / name))


def kit_in(folder: Path, name: str) -> ResolvedKit | None:
    """Read a kit of a folder; None when it is not there or cannot be read."""
    reading = read_kept(folder / name)
    return None if reading.kit is None else resolve_at(folder / name, reading.kit, reading.lines)


def gear_in(folder: Path, name: str) -> Gear | None:
    """Read a gear file of a folder; None when it is not there or cannot be read."""
    return read_kept(folder / name).gear


def kits_naming(path: Path) -> tuple[tuple[str, ResolvedKit], ...]:
    """Read the kits beside a gear file that name it, by file name; those that cannot be read are left out."""
    kits = ((name, kit_in(path.parent, name)) for name in files_holding(path.parent, KIT_FILE.name))
    return tuple((name, kit) for name, kit in kits if kit is not None and kit.header.gear == path.name)


def unreadable_naming(path: Path) -> tuple[tuple[str, tuple[Problem, ...]], ...]:
    """Find the kit files beside a gear file that cannot be read and seem to name it, each with what is wrong."""
    readings = ((other.name, read_kept(other)) for other in sorted(path.parent.glob("*")) if ends_in(other.name))
    return tuple(
        (name, reading.problems)
        for name, reading in readings
        if reading.contents is None and reading.file is KIT_FILE and f'"{path.name}"' in reading.text
    )


def kit_worn_by(path: Path, name: str, diver: Diver) -> ResolvedKit | None:
    """Read a kit of the folder of a diver file with that diver as edited, so that all float checks count.

    Args:
        path: The diver file.
        name: The kit's file, in the same folder.
        diver: What the diver file says now.
    """
    kit = read_worn(path.parent, name, diver)
    if kit is None:
        return None
    others = ((other, read_worn(path.parent, other, diver)) for other in sorted({check.kit for check in diver.items}))
    worn = tuple((other, found) for other, found in others if found is not None and other != name)
    return resolve(kit.unresolved, kit.linked._replace(worn=worn), kit.lines)

"""The demo: the kits that come with the program, copied to a folder in which they can be changed."""

import errno
from pathlib import Path

import kitbuilder
from kitbuilder.kitfile import disk

PACKED = Path(kitbuilder.__file__).parent / "demo"
"""Where an installed package holds the files of `configs/`."""
IN_REPOSITORY = Path(kitbuilder.__file__).parents[1] / "configs"
"""Where they stand in a checkout that is installed as it is."""


def copy_demo(folder: Path) -> tuple[str, ...]:
    """Copy the kits, the files that they name, the schemas and the reference page. Gives the names of the files.

    Raises:
        FileExistsError: The folder holds something, or a file has its name; nothing is written.
        OSError: The disk refused.
    """
    if folder.is_symlink() or (folder.exists() and (not folder.is_dir() or any(folder.iterdir()))):
        raise FileExistsError(errno.EEXIST, "the folder is not empty", str(folder))
    shipped = shipped_folder()
    sources = sorted(path for path in shipped.rglob("*") if path.suffix in {".toml", ".json", ".md"})
    names = tuple(source.relative_to(shipped) for source in sources)
    for source, name in zip(sources, names, strict=True):
        disk.make_folder((folder / name).parent)
        disk.save_text(folder / name, disk.read_text(source), disk.Over.NOTHING)
    return tuple(name.as_posix() for name in names)


def shipped_folder() -> Path:
    """Give the folder of the kits and schemas that come with the program."""
    return PACKED if PACKED.is_dir() else IN_REPOSITORY

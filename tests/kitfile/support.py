"""What the tests of kit files share."""

import re
import threading
from pathlib import Path

from kitbuilder.kit.file_kinds import KIT_FILE, FileKind
from kitbuilder.kitfile.disk import FLUSHING
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import read_written

ROOT = Path(__file__).parents[2]
CONFIGS = ROOT / "configs"
LAYOUTS = sorted((ROOT / "kitbuilder" / "catalogue" / "layouts").glob("*.toml"))
GOOD = Path(__file__).parent / "good"
"""Files that have every table and nearly every key, for the tests alone."""


def _holds(path: Path) -> str:
    """What a file holds, by its own word; a kit does not say."""
    match = re.search(r'^holds *= *"(.*)"', path.read_text("utf-8"), re.MULTILINE)
    return match[1] if match else "kit"


_CONFIGS = sorted(CONFIGS.glob("*.toml"))
KITS = [path for path in _CONFIGS if _holds(path) == "kit"]
DIVERS = [path for path in _CONFIGS if _holds(path) == "diver"]
STOCKS = [path for path in _CONFIGS if _holds(path) == "stock"]
GEAR_FILES = [path for path in _CONFIGS if _holds(path) == "gear"]
TRIPS = [path for path in _CONFIGS if _holds(path) == "trip"]
GOOD_KIT, GOOD_DIVER, GOOD_STOCK, GOOD_GEAR, GOOD_TRIP = (
    GOOD / f"{name}.toml" for name in ("kit", "diver", "stock", "gear", "trip")
)

SMALL = """\
format = 1
name   = "Small"
layout = "single"

[[hose]]
tag    = "primary hose"
role   = "primary"
body   = "rubber"
length = "75 cm"
"""
"""A whole kit in a few lines."""


def located(path: Path, file: FileKind = KIT_FILE) -> list[str]:
    """The problems of a file of a kind, each with the file's name and the line in front."""
    return [problem.located(path.name) for problem in read_written(path, file).problems]


def pull_plug(document: Document) -> None:
    """Leave a document as a crash does: the system no longer holds its journal for it."""
    assert document.journal._let_go is not None, "it has a journal"
    document.journal._let_go()


def wait_for_flushes() -> None:
    """Wait until nothing is being flushed in the background."""
    for thread in threading.enumerate():
        if thread.name == FLUSHING:
            thread.join()


def opened(folder: Path, text: str, file: FileKind = KIT_FILE) -> Document:
    """A document of a text, on the disk in a folder."""
    path = folder / f"{file.name}.toml"
    path.write_bytes(text.encode())
    document = Document(path, file)
    assert document.reading.problems == ()
    return document

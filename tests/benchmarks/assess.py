"""`assess` on a kit of forty items with a float check against `tomllib.loads` of the same text, in pairs in one run.

Before each assessment one hose gets another length, as by an edit; the rest is as it was.
"""

import shutil
import statistics
import tempfile
import time
import tomllib
from dataclasses import replace
from pathlib import Path

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.items import Hose, Kit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import resolve_at

ITEMS, PAIRS = 40, 200
AIM_MS = 5.0
CONFIGS = Path(__file__).parents[2] / "configs"
FLOAT_CHECK = """
[[float_check]]
tag      = "ladder"
kit      = "twinset.toml"
seen     = "neutral"
lead     = "2 kg"
pressure = "55 bar"
"""


def forty_items(folder: Path) -> tuple[Kit, LinkedFiles, str]:
    """The twinset, its items copied until there are forty, with its diver and one float check; and the kit's text."""
    path = folder / "twinset.toml"
    shutil.copy(CONFIGS / "twinset.toml", path)
    diver = (CONFIGS / "diver.toml").read_text(encoding="utf-8")
    (folder / "diver.toml").write_text(diver + FLOAT_CHECK, encoding="utf-8")
    document = Document(path)
    own = len(document.reading.kit.items)
    for number in range(ITEMS - own):
        document.copy_item(2 * number % own)
    document.save()
    beside = resolve_at(path, document.reading.kit).linked
    assert len(document.reading.kit.items) == ITEMS
    assert len(beside.diver.items) == 1
    return document.reading.kit, beside, document.text


def edited(kit: Kit, number: int) -> Kit:
    """The kit with its first hose a little longer each time."""
    items = list(kit.items)
    place = next(place for place, item in enumerate(items) if isinstance(item, Hose))
    items[place] = replace(items[place], length_m=items[place].length_m + number * 1e-4)
    return Kit(kit.header, tuple(items))


def time_assessing(kit: Kit, beside: LinkedFiles) -> float:
    """Seconds of one assessment."""
    start = time.perf_counter()
    assess(resolve(kit, beside))
    return time.perf_counter() - start


def time_parsing(text: str) -> float:
    """Seconds to parse the same kit with tomllib alone."""
    start = time.perf_counter()
    tomllib.loads(text)
    return time.perf_counter() - start


def main() -> None:
    """Take the pairs and print medians and the median ratio."""
    with tempfile.TemporaryDirectory() as folder:
        kit, beside, text = forty_items(Path(folder))
    first = time_assessing(kit, beside) * 1e3
    time_parsing(text)
    pairs = [(time_assessing(edited(kit, number), beside), time_parsing(text)) for number in range(1, PAIRS + 1)]
    times = [assessing * 1e3 for assessing, _ in pairs]
    ratios = [assessing / parsing for assessing, parsing in pairs]
    print(f"assess, {ITEMS} items and a float check: median {statistics.median(times):.1f} ms", end="")
    print(f" (min {min(times):.1f}, max {max(times):.1f}); aim below {AIM_MS:.0f}; the very first {first:.1f}")
    print(f"  median ratio {statistics.median(ratios):.1f} to tomllib alone", end="")
    print(f" (min {min(ratios):.1f}, max {max(ratios):.1f})")


if __name__ == "__main__":
    main()

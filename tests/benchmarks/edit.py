"""Edit to repainted figures on a kit of forty items: the median, and what it is made of."""

import asyncio
import shutil
import statistics
import tempfile
import time
from pathlib import Path

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.widgets.figures_table import Figures
from kitbuilder.assess.assessment import assess
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.document import Document

EDITS = 60
FRAME_MS = 33
CONFIGS = Path(__file__).parents[2] / "configs"


def forty_items(path: Path) -> None:
    """The sidemount kit, its hoses copied until it has forty items."""
    shutil.copy(CONFIGS / "sidemount.toml", path)
    document = Document(path)
    hoses = [number for number, item in enumerate(document.reading.kit.items) if item.kind == "hose"]
    while len(document.reading.kit.items) < 40:
        document.copy_item(hoses[len(document.reading.kit.items) % len(hoses)])
    document.save()


async def time_edits(path: Path) -> list[float]:
    """Milliseconds from the edit to the figures painted with its result, edit by edit."""
    app = KitbuilderApp(path)
    app.animation_level = "none"
    times = []
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        painted = asyncio.Event()
        figures = app.screen.query_one(Figures)
        paint = figures.render_line

        def painting(y: int):
            painted.set()
            return paint(y)

        figures.render_line = painting
        for number in range(EDITS):
            painted.clear()
            start = time.perf_counter()
            app.screen.action_longer() if number % 2 else app.screen.action_shorter()
            await painted.wait()
            times.append((time.perf_counter() - start) * 1e3)
            await pilot.pause()
    return times


def main() -> None:
    """Time the whole way, then its parts."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "forty.toml"
        forty_items(path)
        times = asyncio.run(time_edits(path))
        print(f"edit to repainted figures, 40 items: median {statistics.median(times):.1f} ms", end="")
        print(f" (max {max(times):.1f}); aim below {FRAME_MS}")
        document = Document(path)
        start = time.perf_counter()
        for number in range(EDITS):
            document.set_value(2, "length", f"{150 + number} cm")
        editing = (time.perf_counter() - start) / EDITS
        start = time.perf_counter()
        for _ in range(EDITS):
            assess(resolve(document.reading.kit))
        assessing = (time.perf_counter() - start) / EDITS
        print(f"  of it: edit and read {editing * 1e3:.1f} ms, assess {assessing * 1e3:.1f} ms")


if __name__ == "__main__":
    main()

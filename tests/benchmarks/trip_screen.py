"""From a move on the trip screen to the repainted bars: eighty items, four bags, two legs.

Beside it, on the same screen in the same run, what it takes to paint the same lists again without any move; the ratio
of the two does not depend on the machine. The repaired packing comes later, from a thread of its own.
"""

import asyncio
import shutil
import statistics
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import NamedTuple

from textual.pilot import Pilot

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.trip_screen import TripScreen
from kitbuilder.app.widgets.listing import Listing

ITEMS, OWN, MOVES = 80, 27, 24
"""On the trip; of them those that it has as it is shipped; how often one is moved."""
FRAME_MS = 33
CONFIGS = Path(__file__).parents[2] / "configs"


def eighty_items(folder: Path) -> Path:
    """The shipped trip with two flights, with small pieces of luggage until it has eighty items."""
    shutil.copytree(CONFIGS, folder, dirs_exist_ok=True)
    path = folder / "trip-wreck.toml"
    pieces = (f'\n[[luggage]]\ntag = "piece {n}"\nmass = "{40 + n} g"\n' for n in range(ITEMS - OWN))
    path.write_text(path.read_text(encoding="utf-8") + "".join(pieces), encoding="utf-8")
    return path


class Taken(NamedTuple):
    """How long something took, in milliseconds."""

    whole: float
    busy: float
    """Of it, what the app's thread computed: the rest it waited, for other programs where the machine is busy."""


class Painted:
    """Tells when the bags are painted."""

    def __init__(self, screen: TripScreen) -> None:
        """Watch the list of a screen."""
        self._event = asyncio.Event()
        listing = screen.query_one("#places", Listing)
        paint = listing.render_line

        def painting(y: int):
            self._event.set()
            return paint(y)

        listing.render_line = painting

    async def after(self, act: Callable[[], None]) -> Taken:
        """What it takes from an act to the painted bags."""
        self._event.clear()
        start, busy = time.perf_counter(), time.thread_time()
        act()
        await self._event.wait()
        return Taken((time.perf_counter() - start) * 1e3, (time.thread_time() - busy) * 1e3)


def again(screen: TripScreen) -> None:
    """Lay out and paint the lists as they are."""
    screen.lay_out()
    screen.query_one("#places").refresh()


async def repaired(pilot: Pilot) -> float:
    """Wait for the packing; give the seconds it took."""
    start = time.perf_counter()
    while not pilot.app.screen.is_up_to_date:
        await pilot.pause(0.01)
    return time.perf_counter() - start


async def time_moves(path: Path) -> tuple[list[Taken], list[Taken], list[float]]:
    """What each move took, each repaint without one just before it, and the seconds of each repair."""
    app = KitbuilderApp(path)
    app.animation_level = "none"
    moves, repaints, repairs = [], [], []
    async with app.run_test(size=(120, 40)) as pilot:
        screen = app.screen
        assert isinstance(screen, TripScreen)
        await repaired(pilot)
        assert len(screen.found.packing.task.items) == ITEMS
        painted = Painted(screen)
        for number in range(MOVES):
            tag = f"piece {number % 12}"
            here = next(placed for placed in screen.found.packing.placed if placed.item.tag == tag).placement.bag
            bags = [bag.tag for bag in screen.trip.bags if bag.goes != "body" and bag.tag != here]
            there = bags[number % len(bags)]
            repaints.append(await painted.after(partial(again, screen)))
            moves.append(await painted.after(partial(screen._put_into, "", tag, there)))
            assert screen.is_moved
            repairs.append(await repaired(pilot))
    return moves, repaints, repairs


def said(taken: list[Taken]) -> str:
    """The medians."""
    whole, busy = (statistics.median(each) for each in zip(*taken, strict=True))
    return f"median {whole:.1f} ms, of it {busy:.1f} ms computing"


def main() -> None:
    """Take the moves and print medians."""
    with tempfile.TemporaryDirectory() as folder:
        moves, repaints, repairs = asyncio.run(time_moves(eighty_items(Path(folder))))
    ratio = statistics.median(move.busy / again.busy for move, again in zip(moves, repaints, strict=True))
    print(f"move to repainted bags, {ITEMS} items: {said(moves)}; aim below {FRAME_MS}")
    print(f"  the same lists without a move: {said(repaints)}; a move takes {ratio:.1f} times that")
    print(f"  repaired beside the app: median {statistics.median(repairs):.2f} s (max {max(repairs):.2f})")


if __name__ == "__main__":
    main()

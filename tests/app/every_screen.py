"""Every screen of the app on the shipped kits, one after the other in one running app."""

from collections.abc import Callable, Iterator
from pathlib import Path

from textual.pilot import Pilot
from textual.screen import Screen

from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.changeover_screen import ChangeoverScreen
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.fewest_screen import FewestScreen
from kitbuilder.app.screens.fit_screen import FitScreen
from kitbuilder.app.screens.gear_screen import GearScreen
from kitbuilder.app.screens.losses_screen import LossesScreen
from kitbuilder.app.screens.pair_screen import PairScreen
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.side_by_side_screen import SideBySideScreen
from kitbuilder.app.screens.swaps_screen import SwapsScreen
from kitbuilder.app.screens.take_along import CardScreen, SparesScreen, trip_card, trip_spares
from kitbuilder.app.screens.trip_screen import TripScreen
from kitbuilder.app.screens.trip_swaps import TripSwapsScreen
from kitbuilder.app.screens.weigh_in_screen import WeighInScreen
from kitbuilder.assess.assessment import assess
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import read
from kitbuilder.plans.changeover import plan_changeover
from tests.app.conftest import DAY, settle

BROKEN = 'format = 1\nname = "Half"\nlayout = "singel"\n'


def every_screen(kits: Path) -> Iterator[tuple[str, Callable[[], Screen]]]:
    """The screens by name, and how each is made, in a folder with the shipped kits.

    Made when it is asked for: two screens that edit must not hold the same file at once.
    """
    half = kits / "half.toml"

    def document(name: str) -> Document:
        return Document(kits / f"{name}.toml")

    def resolved(name: str):
        kit = read(kits / f"{name}.toml").resolved
        assert kit is not None
        return kit

    def problems() -> Screen:
        half.write_text(BROKEN)
        found = read(half).problems
        half.unlink()
        return Problems(half, found)

    def beside() -> Screen:
        return SideBySideScreen(
            [(kits / f"{name}.toml", assess(resolved(name))) for name in ("wrong-on-purpose", "twinset")]
        )

    def changeover() -> Screen:
        plan = plan_changeover(assess(resolved("sidemount")), assess(resolved("twinset")), day=DAY)
        return ChangeoverScreen(plan, kits / "sidemount.toml", kits / "twinset.toml")

    def card() -> Screen:
        trip = read(kits / "trip-wreck.toml").contents
        return CardScreen(kits / "trip-wreck.toml", trip.header.name, lambda: trip_card("trip-wreck.toml", trip))

    def spares() -> Screen:
        trip = read(kits / "trip-wreck.toml").contents
        return SparesScreen(kits / "trip-wreck.toml", trip.header.name, lambda: trip_spares(trip))

    def pair() -> Screen:
        return PairScreen([(kits / f"{name}.toml", assess(resolved(name))) for name in ("wrong-on-purpose", "twinset")])

    yield "shelf", lambda: Shelf(kits)
    yield "bench", lambda: Bench(document("wrong-on-purpose"))
    yield "balance", lambda: BalanceScreen(document("cold-single"))
    yield "fit", lambda: FitScreen(document("cold-single"), None)
    yield "losses", lambda: LossesScreen(document("sidemount"))
    yield "weigh-in", lambda: WeighInScreen(document("cold-single"))
    yield "gear", lambda: GearScreen(document("gear"), DAY)
    yield "diver", lambda: DiverScreen(document("diver"))
    yield "swaps", lambda: SwapsScreen(document("twinset"))
    yield "swaps of a trip", lambda: TripSwapsScreen(document("trip-wreck"), "twinset.toml", None, [])
    yield "card", card
    yield "spares", spares
    yield "trip", lambda: TripScreen(document("trip-wreck"))
    yield "fewest", lambda: FewestScreen(kits, ["warm-single.toml", "cold-single.toml"])
    yield "side by side", beside
    yield "pair", pair
    yield "changeover", changeover
    yield "problems", problems


async def show(pilot: Pilot, screen: Screen) -> None:
    """Show a screen in place of the one that is shown."""
    pilot.app.switch_screen(screen)
    await pilot.app.workers.wait_for_complete()
    await settle(pilot)

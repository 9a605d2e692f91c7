"""The swaps beside the bags of a trip, and of a kit; the card and the spares to take along."""

import tomllib

from textual.widgets import Static

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask, Choose
from kitbuilder.app.screens.swaps_screen import SwapsScreen
from kitbuilder.app.screens.take_along import CardScreen, SparesScreen
from kitbuilder.app.screens.trip_screen import TripScreen
from kitbuilder.app.screens.trip_swaps import TripSwapsScreen
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.kitfile.read import read
from kitbuilder.plans.swaps.trial import plan_swaps_there
from tests.app.conftest import LARGE, SMALL, press, put_cursor, screen_text, told, type_in

WIDEST = (200, 50)


def figures_of(screen: SwapsScreen) -> str:
    """What stands above the lists."""
    return str(screen.query_one("#swap-figures", Static).content)


def rows_of(screen: SwapsScreen, listing: str) -> list[str]:
    return [row.plain for row in screen.query_one(listing, Listing).rows]


async def test_a_traveller_tries_a_swap_takes_it_takes_it_back_and_copies_the_card(opened, pictured, kits):
    """The story of the first user: the five swaps that save most with their lead, one tried, and the card."""
    trip_path, kit_path = kits / "trip-reef.toml", kits / "warm-single.toml"
    before = trip_path.read_text(), kit_path.read_text()
    trip = read(trip_path).contents
    best = plan_swaps_there(trip, trip.kits[0]).swaps[:5]
    async with opened() as pilot:
        await put_cursor(pilot, "#books", "Two weeks")
        await press(pilot, "enter", "L")
        screen = pilot.app.screen
        assert isinstance(screen, TripSwapsScreen)
        rows = rows_of(screen, "#swaps")[:5]
        for row, swap in zip(rows, best, strict=True):
            assert swap.tags[0] in row
            assert f"{swap.effect.saved.value:.2f}" in row
            assert f"{abs(swap.effect.lead.value):.1f}" in row
        # Tried: the figures change, and no file does.
        await put_cursor(pilot, "#swaps", "titanium")
        await press(pilot, "G")
        await pictured(pilot, "tried", SMALL, LARGE, WIDEST)
        await pilot.resize_terminal(*SMALL)
        assert "with the swap" in figures_of(screen)
        assert "limits hold" in figures_of(screen)
        assert (trip_path.read_text(), kit_path.read_text()) == before
        # Taken: after a question that names the file.
        await press(pilot, "ctrl+t")
        assert isinstance(pilot.app.screen, Ask)
        assert "warm-single.toml" in screen_text(pilot.app)
        await press(pilot, "enter")
        assert kit_path.read_text() == before[1]
        await press(pilot, "ctrl+t", "w", "enter")
        first = tomllib.loads(kit_path.read_text())["first_stage"][0]
        assert first["preset"].startswith("titanium")
        assert "mass" not in first
        assert "warm-single.toml is written" in told(pilot.app)
        for each in pilot.app.screen_stack:
            if isinstance(each, KitbuilderScreen):
                each.look_outside()
        assert "changed on the disk" not in told(pilot.app)
        await press(pilot, "ctrl+z")
        assert kit_path.read_text() == before[1]
        # What is rented there becomes an entry of the trip, and no question is asked.
        await put_cursor(pilot, "#swaps", "fins")
        await press(pilot, "enter", "ctrl+t")
        assert tomllib.loads(screen.document.text)["rent"][-1] == {"item": "fins"}
        assert (trip_path.read_text(), kit_path.read_text()) == before
        assert not any("fins" in row for row in rows_of(screen, "#swaps"))
        await press(pilot, "ctrl+z")
        assert screen.document.text == before[0]
        # The sets, one of them in full.
        await press(pilot, "right")
        await pictured(pilot, "sets")
        await press(pilot, "x")
        assert "titanium" in screen_text(pilot.app)
        await press(pilot, "escape", "escape", "K")
        card = pilot.app.screen
        assert isinstance(card, CardScreen)
        await press(pilot, "y")
        assert "Lead in salty sea water" in pilot.app.clipboard
        assert "aluminium 11.1 L 207 (rented)" in pilot.app.clipboard
        await press(pilot, "escape", "V")
        assert isinstance(pilot.app.screen, SparesScreen)
        assert "O-ring" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TripScreen)


async def test_on_the_bench_a_swap_is_an_edit_like_any_other(opened, kits):
    path = kits / "twinset.toml"
    before = path.read_text()
    async with opened() as pilot:
        await put_cursor(pilot, "#books", "Twinset")
        await press(pilot, "L")
        bench = pilot.app.screen_stack[-2]
        assert isinstance(bench, Bench)
        await put_cursor(pilot, "#swaps", "back-plate")
        await press(pilot, "ctrl+t")
        assert "carbon" in bench.document.text
        assert path.read_text() == before
        assert "not saved yet" in told(pilot.app)
        await press(pilot, "ctrl+z")
        assert bench.document.text == before
        assert "Undone" in told(pilot.app)
        await press(pilot, "escape", "K")
        assert isinstance(pilot.app.screen, CardScreen)


async def test_a_kit_that_another_program_writes_meanwhile_is_kept(opened, kits):
    """Before the question the swaps are worked out again; while it is open, nothing is written over the file."""
    path = kits / "warm-single.toml"
    ours = path.read_text()
    async with opened("trip-reef") as pilot:
        await press(pilot, "L")
        screen = pilot.app.screen
        await put_cursor(pilot, "#swaps", "titanium")
        path.write_text(ours.replace('tag     = "first"', 'tag     = "stage"').replace('"first ', '"stage '))
        await press(pilot, "ctrl+t")
        assert pilot.app.screen is screen, "no question about an item that may be another one now"
        assert "worked out again" in told(pilot.app)
        assert any(row.startswith("stage") for row in rows_of(screen, "#swaps"))
        await put_cursor(pilot, "#swaps", "titanium")
        await press(pilot, "ctrl+t")
        theirs = path.read_text().replace("Reef single", "Her single")
        path.write_text(theirs)
        await press(pilot, "w", "enter")
        assert path.read_text() == theirs
        assert "Nothing was written" in told(pilot.app)


async def test_of_two_kits_one_is_chosen_and_its_rental_names_it(opened, kits):
    path = kits / "trip-reef.toml"
    both = path.read_text().replace('["warm-single.toml"]', '["warm-single.toml", "twinset.toml"]')
    path.write_text(both.replace('"23 kg"', '"90 kg"'))  # quickly packed: nothing has to stay behind
    async with opened("trip-reef") as pilot:
        await press(pilot, "L")
        assert isinstance(pilot.app.screen, Choose)
        await type_in(pilot, "twinset", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, TripSwapsScreen)
        await put_cursor(pilot, "#swaps", "fins")
        await press(pilot, "ctrl+t")
        assert tomllib.loads(screen.document.text)["rent"][-1] == {"item": "fins", "kit": "twinset.toml"}
        await press(pilot, "escape", "ctrl+z")
        assert screen.document.text == path.read_text(), "on the trip it is an edit like any other"

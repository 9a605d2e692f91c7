"""Help is a tour: what a screen shows, what its numbers mean, its keys and cautions; it can be narrowed."""

import pytest
from textual.screen import Screen

from kitbuilder.app.keys import bindings_of
from kitbuilder.app.screens.tour import Tour, WithTour
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.report.tours import TOURS
from tests.app.conftest import LARGE, press, screen_text, settle, type_in
from tests.app.every_screen import every_screen, show
from tests.app.test_actions import SCREENS

WITHOUT = {
    *("Tour", "TooSmall", "KitbuilderScreen", "Editing", "Undoing", "Dialog", "Working"),
    *("AskQuestions", "PacksTrip", "ChangesTrip", "TakeAlong"),
}
"""The tour itself, what stands in front while nothing can be done, and what screens are made from."""


@pytest.mark.parametrize("screen", [each for each in SCREENS if each.__name__ not in WITHOUT], ids=lambda s: s.__name__)
def test_every_screen_and_dialog_has_a_tour_and_its_key(screen):
    assert issubclass(screen, WithTour)
    assert screen.NAME in TOURS
    assert "keys" in {getattr(binding, "id", None) for binding in screen.BINDINGS}


def test_every_tour_is_taken_and_screens_explain_their_numbers():
    taken = {each.NAME for each in SCREENS if each.__name__ not in WITHOUT}
    assert set(TOURS) == taken
    for name, tour in TOURS.items():
        assert tour.shows
        sentences = [*tour.shows, *(meaning for _, meaning in tour.means), tour.caution or "."]
        assert [words for words in sentences if not words.endswith(".")] == [], name


def tour_rows(screen: Screen) -> list[str]:
    return [row.plain for row in screen.query_one(Listing).rows]


async def test_the_tour_of_every_screen_lists_all_its_keys(opened, kits):
    async with opened(size=LARGE) as pilot:
        for name, make in every_screen(kits):
            await show(pilot, make())
            screen = pilot.app.screen
            names = [each.description for each in bindings_of(screen) if each.id not in screen.idle_actions()]
            screen.action_keys()
            await settle(pilot)
            assert isinstance(pilot.app.screen, Tour), name
            rows = tour_rows(pilot.app.screen)
            assert rows[0] == "What it shows"
            keys = rows[rows.index("Keys") : rows.index("Cautions")]
            missing = [each for each in names if not any(f"{each}: " in row for row in keys)]
            assert missing == [], name
            await press(pilot, "escape")
            assert pilot.app.screen is screen


async def test_a_tour_is_narrowed_and_closes_in_two_steps(opened):
    async with opened(size=LARGE) as pilot:
        await press(pilot, "question_mark", "slash")
        await type_in(pilot, "gear file")
        tour = pilot.app.screen
        assert isinstance(tour, Tour)
        shown = [tour.query_one(Listing).rows[place].plain for place in tour.query_one(Listing).shown]
        assert shown
        assert all("gear" in " ".join(row.split()) for row in shown)
        await press(pilot, "enter", "escape")
        assert pilot.app.screen is tour
        assert len(tour.query_one(Listing).shown) == len(tour.query_one(Listing).rows)
        await press(pilot, "question_mark")
        assert pilot.app.screen is not tour


async def test_dialogs_explain_themselves_also_where_a_question_mark_is_typed(opened):
    async with opened(size=LARGE) as pilot:
        await press(pilot, "b", "question_mark")
        choose = pilot.app.screen
        assert not isinstance(choose, Tour)
        await press(pilot, "f1")
        assert isinstance(pilot.app.screen, Tour)
        assert "Choose: Take what is under the cursor." in screen_text(pilot.app)
        await press(pilot, "f1")
        assert pilot.app.screen is choose


async def test_help_of_the_balance_says_what_its_keys_do_in_this_kit(opened):
    """This one has lead that drops, and neither stages nor a drysuit; what is added there is a float check."""
    async with opened("warm-single", LARGE) as pilot:
        await press(pilot, "d", "question_mark")
        rows = tour_rows(pilot.app.screen)
        [adds] = [row for row in rows if "Add: " in row]
        assert "float check" in adds
        assert "item" not in adds
        switches = ("Suit flooded: ", "Lead dropped: ", "Stages lost: ")
        assert [name for name in switches if any(name in row for row in rows)] == ["Lead dropped: "]

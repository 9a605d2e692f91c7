"""The weigh-in: what the screen shows at both sizes, and five items weighed as a user types it."""

from textual.pilot import Pilot
from textual.widgets import Static

from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.weigh_in_screen import Weighed, WeighInScreen
from kitbuilder.app.widgets.reading_line import ReadingLine
from tests.app.conftest import LARGE, SMALL, press, put_cursor, screen_text, told, type_in

BARE = 'format = 1\nname = "Bare"\nlayout = "single"\n'


async def open_weigh_in(pilot: Pilot) -> WeighInScreen:
    """The weigh-in of the kit on the bench."""
    await press(pilot, "w")
    assert isinstance(pilot.app.screen, WeighInScreen)
    return pilot.app.screen


def written(screen: WeighInScreen, tag: str, key: str = "mass") -> str:
    """What the document says of an item."""
    numbers = {item.tag: number for number, item in enumerate(screen.document.reading.kit.items)}
    return screen.document.raw_value(numbers[tag], key)


def note_of(screen: WeighInScreen) -> str:
    """What is said below the line."""
    return " ".join(str(screen.query_one("#reading-note", Static).render()).split())


async def test_opening(opened, pictured):
    async with opened("cold-single") as pilot:
        await open_weigh_in(pilot)
        await pictured(pilot, "", SMALL, LARGE)


async def test_five_items_are_weighed_down_the_column(opened, pictured, kits):
    """Primary, necklace, gauge, wing and drysuit follow each other in the file; a bare number is taken as kilograms."""
    original = (kits / "cold-single.toml").read_bytes()
    async with opened("cold-single", size=LARGE) as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter", *"0.41", "enter", *"220 g", "enter", *"8 oz", "enter", *"1.6", "enter")
        await pictured(pilot, "at the fifth")
        await press(pilot, *"4.9 kg", "enter", "escape")
        assert not screen.is_typing
        tags = ("primary", "necklace", "gauge", "wing", "drysuit")
        assert [written(screen, tag) for tag in tags] == ["0.41 kg", "220 g", "8 oz", "1.6 kg", "4.9 kg"]
        kit = screen.document.reading.kit
        masses = [item.mass_kg for tag in tags for item in kit.items if item.tag == tag]
        # 8 oz are half a pound, of 0.45359237 kg.
        assert masses == [0.41, 0.22, 0.45359237 / 2, 1.6, 4.9]
        assert screen.assessment.kit.items[screen.item].tag == "plate"
        await press(pilot, "ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z")
        assert not screen.document.is_dirty
        await press(pilot, "ctrl+y", "ctrl+y", "ctrl+y", "ctrl+y", "ctrl+y", "ctrl+s")
        assert not screen.document.is_dirty
    saved = (kits / "cold-single.toml").read_bytes()
    new = [line for line in saved.splitlines() if line not in original.splitlines()]
    assert len(new) == 5
    assert all(line.replace(b" ", b"").startswith(b"mass=") for line in new)


async def test_a_digit_begins_a_reading_and_escape_leaves_the_old_one(opened):
    """Down the column a reading replaces the one that is there; a letter opens nothing."""
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, *"0.41")
        assert note_of(screen).startswith("Read as 0.41 kg = 0.90 lb")
        await press(pilot, "enter", *"220 g", "enter", "escape", "up", "up", "4")
        assert screen.is_typing
        await press(pilot, *"20 g", "escape")
        assert [written(screen, tag) for tag in ("primary", "necklace")] == ["0.41 kg", "220 g"]
        await press(pilot, "g")
        assert not screen.is_typing
        await press(pilot, "4", "enter", "enter", "escape")
        assert written(screen, "primary") == "4 kg"


async def test_unsaved_readings_are_in_the_journal(opened):
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter", *"0.41", "enter", "escape")
        assert '"0.41 kg"' in screen.document.journal.kept.read_text(encoding="utf-8")


async def test_a_refused_reading_stays_in_the_line_and_says_what_is_accepted(opened):
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter")
        await type_in(pilot, "heavy", "enter")
        assert screen.is_typing
        assert not screen.document.is_dirty
        assert "heavy" in note_of(screen)
        assert "kg" in note_of(screen)
        await press(pilot, "ctrl+q")
        assert pilot.app.is_running
        await press(pilot, "escape")
        assert not screen.is_typing


async def test_a_reading_in_water_without_its_minus_is_asked_about(opened):
    """The catalogue says that a torch sinks; a scale under water shows no minus."""
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "torch")
        await press(pilot, "right", "enter", *"0.15")
        assert "= floats 0.15 kg" in note_of(screen)
        await press(pilot, "enter")
        assert "Does it float or sink?" in note_of(screen)
        assert not screen.document.is_dirty
        await type_in(pilot, "sinks 150 g", "enter", "escape")
        assert written(screen, "torch", "buoyancy") == "-150 g"


async def test_a_reading_that_is_likely_a_slip_is_asked_about(opened):
    """A second stage of 36 kg: a comma forgotten. The second enter takes it."""
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter", *"36", "enter")
        assert "Press enter again to keep it" in note_of(screen)
        assert not screen.document.is_dirty
        await press(pilot, "enter", "escape")
        assert written(screen, "primary") == "36 kg"


async def test_the_water_column_passes_items_that_are_not_weighed_in_water(opened):
    """Below the transmitter come second stages; hoses above it take no buoyancy. Clearing takes the reading out."""
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await press(pilot, "right")
        await put_cursor(pilot, "#weighed", "long hose")
        await press(pilot, "enter")
        assert not screen.is_typing
        computed = "The buoyancy of a hose is computed, not typed."
        assert told(pilot.app) == computed
        assert (computed in screen_text(pilot.app), "types the" in screen_text(pilot.app)) == (True, False)
        await press(pilot, "7")
        assert not screen.is_typing
        await put_cursor(pilot, "#weighed", "harness")
        assert "types the buoyancy" in screen_text(pilot.app)
        await press(pilot, *"-0.7", "enter")
        assert written(screen, "harness", "buoyancy") == "-0.7 kg"
        assert screen.assessment.kit.items[screen.item].tag == "hood", "a cylinder is not weighed in water"
        await press(pilot, "escape", "up", "up", "delete")
        assert written(screen, "harness", "buoyancy") == ""


async def test_sorting_by_share_puts_the_suit_first_and_readings_do_not_move_rows(opened, pictured):
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await press(pilot, "z")
        await type_in(pilot, "uncertain first", "enter")
        assert screen.order == "share"
        before = [row.item.tag for row in screen.plan.rows]
        assert before[0] == "drysuit"
        await put_cursor(pilot, "#weighed", "fins")
        await press(pilot, "enter", *"3", "enter")
        assert [row.item.tag for row in screen.plan.rows] == before
        assert screen.item == screen.plan.rows[before.index("fins") + 1].number
        await press(pilot, "escape")
        await pictured(pilot, "by share")


async def test_it_opens_from_the_balance_too_and_the_bench_shows_the_readings(opened):
    async with opened("cold-single") as pilot:
        await press(pilot, "d")
        assert isinstance(pilot.app.screen, BalanceScreen)
        lead = pilot.app.screen._asked_balance().lead.spread
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "fins")
        await press(pilot, "right", "enter", *"-1.0", "enter", "escape", "escape")
        assert screen is not pilot.app.screen
        assert isinstance(pilot.app.screen, BalanceScreen)
        assert pilot.app.screen._asked_balance().lead.spread < lead
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)
        assert pilot.app.screen.document.is_dirty
        assert "not known" not in screen_text(pilot.app)


async def test_leaving_the_app_asks_once_about_the_edits(opened):
    async with opened("cold-single") as pilot:
        await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter", *"0.41", "enter", "escape", "q")
        assert "these edits are not saved" in screen_text(pilot.app)
        await press(pilot, "d", "enter")
    assert pilot.app._exit


async def test_a_reading_by_mouse(opened):
    async with opened("cold-single", size=LARGE) as pilot:
        screen = await open_weigh_in(pilot)
        for _ in range(2):  # the first goes to the item
            await pilot.click(screen.query_one(Weighed), offset=(6, 8))
            await pilot.pause()
        assert screen.query_one(ReadingLine).is_open


async def test_a_kit_without_items(opened, kits):
    (kits / "bare.toml").write_text(BARE, encoding="utf-8")
    async with opened("bare") as pilot:
        screen = await open_weigh_in(pilot)
        await press(pilot, "enter", "left", "right", "delete", "o")
        await press(pilot, "escape")
        assert "no item yet" in screen_text(pilot.app)
        assert not screen.is_typing


async def test_arrows_move_within_what_is_typed_and_tab_reaches_the_totals(opened):
    """Left and right choose the column only while nothing is typed."""
    async with opened("cold-single") as pilot:
        screen = await open_weigh_in(pilot)
        await put_cursor(pilot, "#weighed", "primary")
        await press(pilot, "enter", *"0.1 kg", *["left"] * 3, "backspace", "4", "right", "enter", "escape")
        assert written(screen, "primary") == "0.4 kg"
        assert screen.reading == "mass"
        await press(pilot, "tab", "end")
        assert pilot.app.focused.id == "weigh-totals"
        assert "Cylinders are filled." in screen_text(pilot.app)

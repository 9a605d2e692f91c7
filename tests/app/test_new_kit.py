"""A new kit by questions: every question from the keyboard, how many keys it takes, and what is left behind."""

from pathlib import Path

import pytest
from textual.app import App
from textual.widgets import Input

from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import TextPage
from kitbuilder.app.screens.new_kit_dialog import NewKitDialog
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.catalogue.styles import styles
from kitbuilder.kitfile.read import read
from kitbuilder.report.new_questions import questions
from kitbuilder.report.numbers import System
from tests.app.conftest import LARGE, SMALL, press, screen_text, type_in


def keys_of(text: str) -> list[str]:
    """The keys that type a text."""
    return ["space" if sign == " " else sign for sign in text]


def keep_the_diver_alone(kits: Path) -> None:
    """Empty the folder but for the diver file."""
    for path in kits.iterdir():
        if path.name != "diver.toml":
            path.unlink()


def words(app: App) -> str:
    """What the terminal shows, with one space between words."""
    return " ".join(screen_text(app).replace("│", " ").split())


async def test_from_an_empty_folder_to_the_lead_in_sixty_keys(opened, kits):
    """Every key is pressed: the first kit, its diver, the page of the new kit, and the balance."""
    for path in kits.iterdir():
        path.unlink()
    keys = [
        "n",
        *("enter",),  # a single with a jacket
        *("enter",),  # the usual suit
        *("enter",),  # the usual cylinder
        *("enter",),  # the ocean
        *(*keys_of("178 82 female"), "enter"),
        *("enter",),  # the usual hoses
        *("enter",),  # the name that is proposed
        *("enter",),  # the page of the new kit
        "d",
    ]
    assert len(keys) < 30
    async with opened() as pilot:
        await press(pilot, *keys[:-2])
        assert isinstance(pilot.app.screen, TextPage)
        assert "lead needed" in screen_text(pilot.app)
        await press(pilot, *keys[-2:])
        assert isinstance(pilot.app.screen, BalanceScreen)
    made = ["diver.schema.json", "diver.toml", "kit.schema.json", "my-jacket.toml"]
    assert sorted(path.name for path in kits.iterdir()) == made
    kit = read(kits / "my-jacket.toml").resolved
    assert kit is not None
    assert kit.linked.diver is not None
    header = kit.linked.diver.header
    assert (header.stature_m, header.mass_kg, header.sex) == (1.78, 82.0, "female")


async def test_every_question_can_be_left_open(opened, pictured, kits):
    """And an existing diver file is the first answer to who dives. No kit stands behind the dialog in its pictures."""
    keep_the_diver_alone(kits)
    async with opened() as pilot:
        await press(pilot, "n")
        await pictured(pilot, "first question", SMALL, LARGE)
        for typed in ("sidemount, long hose left", "heavy", "don't", "don't", "don't"):
            await type_in(pilot, typed, "enter")
        await pictured(pilot, "hoses, with the answers so far")
        await press(pilot, "enter")
        await type_in(pilot, "side", "enter")
        await pictured(pilot, "what was made", LARGE)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)
    kit = read(kits / "side.toml").resolved
    assert kit is not None
    assert (kit.header.layout, kit.header.diver, kit.header.name) == ("sidemount", None, "side")


async def test_an_existing_diver_wears_it(opened, kits):
    async with opened() as pilot:
        await press(pilot, "n", *["enter"] * 6)
        await type_in(pilot, "mine", "enter", "enter")
    kit = read(kits / "mine.toml").resolved
    assert kit is not None
    assert kit.header.diver == "diver.toml"
    assert not (kits / "diver2.toml").exists()


async def test_another_diver_is_typed_and_gets_a_file(opened, kits):
    before = (kits / "diver.toml").read_bytes()
    async with opened() as pilot:
        await press(pilot, "n", *["enter"] * 4)
        await type_in(pilot, "165")
        assert "▸ 165 cm as typed" in words(pilot.app), "the unit is shown before it is taken"
        await press(pilot, "enter", "enter")
        await type_in(pilot, "hers", "enter", "enter")
    kit = read(kits / "hers.toml").resolved
    assert kit is not None
    assert kit.header.diver == "diver2.toml"
    assert (kits / "diver.toml").read_bytes() == before
    assert kit.linked.diver is not None
    assert (kit.linked.diver.header.stature_m, kit.linked.diver.header.mass_kg) == (pytest.approx(1.65), None)


async def test_back_and_out_leaves_nothing_behind(opened, kits):
    """Escape and left go back with the answers kept; from the first question escape leaves."""
    files = sorted(kits.iterdir())
    async with opened() as pilot:
        await press(pilot, "n", "down", "enter", "enter", "left", "escape")
        assert "▸ wing " in screen_text(pilot.app)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Shelf)
        await press(pilot, "n", *["enter"] * 6)
        await type_in(pilot, "half")
        await press(pilot, "left")
        assert isinstance(pilot.app.screen, NewKitDialog)
        assert pilot.app.screen.query_one(Input).value == "half", "inside a word, left moves the cursor"
        await press(pilot, *["escape"] * 7)
        assert isinstance(pilot.app.screen, Shelf)
    assert sorted(kits.iterdir()) == files


async def test_what_is_refused_says_what_was_read_and_an_example(opened, pictured, kits: Path):
    keep_the_diver_alone(kits)
    (kits / "twinset.toml").write_text("mine")
    async with opened() as pilot:
        await press(pilot, "n")
        await type_in(pilot, "rebreather", "enter")
        assert "Nothing fits what is typed" in screen_text(pilot.app)
        await type_in(pilot, "jacket", "enter", "enter")
        await type_in(pilot, "steel 12 litre 1000 bar", "enter")
        await pictured(pilot, "a cylinder that is refused")
        await type_in(pilot, "80 cu ft at 3000 psi")
        assert "aluminium 11.1 L 207 nearest in the catalogue" in words(pilot.app)
        await type_in(pilot, "steel 12 L 232 bar 1.2 kg", "enter")
        assert "A steel cylinder of 1.20 kg cannot hold" in words(pilot.app)
        await type_in(pilot, "steel 12 L 232 bar 14.2 kg", "enter", "escape")
        assert pilot.app.screen.query_one(Input).value == "steel 12 L 232 bar 14.2 kg"
        await press(pilot, "enter", "enter")  # the cylinder is kept
        await type_in(pilot, "178 8", "enter")
        assert 'Mass: found "8 kg". Accepted: from 30 to 200 kg' in words(pilot.app)
        await type_in(pilot, "125 cm 160 kg", "enter")
        assert "The diver's mass, 160 kg" in words(pilot.app)
        await type_in(pilot, "", "enter", "enter")
        await type_in(pilot, "twinset", "enter")
        assert "A file with this name exists already" in screen_text(pilot.app)
        await type_in(pilot, "typed", "enter", "enter")
    assert (kits / "twinset.toml").read_text() == "mine"
    kit = read(kits / "typed.toml").resolved
    assert kit is not None
    [cylinder] = [item for item in kit.items if item.kind == "cylinder"]
    assert (cylinder.metal, cylinder.volume_m3, cylinder.stamped_mass_kg) == ("steel", 0.012, 14.2)


async def test_pounds_and_inches_are_the_usual_units_of_their_reader(opened, kits: Path):
    """And an unlikely answer is taken when it is given again; a rated capacity is as good as a volume."""
    keep_the_diver_alone(kits)
    async with opened(system=System.IMPERIAL) as pilot:
        await press(pilot, "n", "enter", "enter")
        await type_in(pilot, "aluminium 80 cu ft at 3000 psi 31 lb", "enter", "enter")
        await type_in(pilot, "49 350")
        assert "▸ 49 in, 350 lb as typed" in words(pilot.app)
        await press(pilot, "enter", "enter", "enter")
        await type_in(pilot, "mine", "enter", "enter")
    kit = read(kits / "mine.toml").resolved
    assert kit is not None
    assert kit.linked.diver is not None
    assert kit.linked.diver.header.mass_kg == pytest.approx(350 * 0.45359237)
    [cylinder] = [item for item in kit.items if item.kind == "cylinder"]
    assert cylinder.volume_m3 == pytest.approx(0.0111, rel=0.05), "the usual water volume of that size, from memory"


@pytest.mark.parametrize("divers", [(), ("diver.toml",)])
@pytest.mark.parametrize("style", styles().styles)
def test_at_most_eight_questions(style: str, divers: tuple[str, ...], tmp_path: Path):
    given = {"style": style}
    for suit in styles().exposures:
        assert 5 <= len(questions({**given, "suit": suit}, tmp_path, divers, System.METRIC)) <= 8

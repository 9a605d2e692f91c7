"""The balance and the diver's page at the smallest and the usual terminal size."""

import pytest

from tests.app.conftest import KITS

NEUTRAL = ("enter", *"neutral", "enter")
"""What was seen, in the row under the cursor of a new float check."""


@pytest.mark.parametrize("name", KITS)
async def test_opening(shown, screen, name):
    assert await shown(name, "b") == screen


@pytest.mark.parametrize("name", KITS)
async def test_the_end_of_the_table(shown, screen, name):
    assert await shown(name, "b", "end") == screen


async def test_over_the_gas(shown, screen):
    assert await shown("twinset", "b", "x") == screen


async def test_a_full_wing(shown, screen):
    assert await shown("twinset", "b", "l") == screen


async def test_the_suit_flooded_in_fresh_water(shown, screen):
    assert await shown("twinset", "b", "f", "w", *"fresh", "enter") == screen


async def test_the_stages_lost(shown, screen):
    assert await shown("twinset", "b", "s") == screen


async def test_the_droppable_lead_gone(shown, screen):
    assert await shown("cold-single", "b", "d") == screen


async def test_asking_for_water(shown, screen):
    assert await shown("sidemount", "b", "w") == screen


async def test_asking_for_cylinders(shown, screen):
    assert await shown("sidemount", "b", "c") == screen


async def test_other_cylinders(shown, screen):
    assert await shown("sidemount", "b", "c", "down", "enter") == screen


async def test_imperial_units(shown, screen):
    assert await shown("twinset", "b", "m") == screen


async def test_imperial_units_over_the_gas(shown, screen):
    assert await shown("sidemount", "b", "m", "x") == screen


async def test_pictures_without_braille(shown, screen):
    assert await shown("sidemount", "b", plain_pictures=True) == screen


async def test_a_kit_without_a_cylinder(shown, screen, kits):
    (kits / "bare.toml").write_text('format = 1\nname = "Bare"\nlayout = "single"\n')
    assert await shown("bare", "b") == screen


async def test_a_diver_file_that_cannot_be_used(shown, screen, kits):
    path = kits / "diver.toml"
    path.write_text(path.read_text().replace('"82 kg"', "82"))
    assert await shown("twinset", "b") == screen


async def test_a_diver_file_that_is_gone(shown, screen, kits):
    (kits / "diver.toml").unlink()
    assert await shown("twinset", "b", "a") == screen


async def test_a_kit_without_a_diver_asks_whose_it_is(shown, screen):
    assert await shown("wrong-on-purpose", "b", "a") == screen


async def test_a_new_diver_file_asks_for_its_name(shown, screen, kits):
    (kits / "diver.toml").unlink()
    assert await shown("wrong-on-purpose", "b", "a") == screen


async def test_after_a_float_check(shown, screen):
    assert await shown("twinset", "b", "a", *NEUTRAL, "s", "escape") == screen


async def test_the_end_of_the_table_after_a_float_check(shown, screen):
    assert await shown("twinset", "b", "a", *NEUTRAL, "s", "escape", "end") == screen


async def test_where_the_figures_come_from(shown, screen):
    assert await shown("twinset", "b", "o") == screen


async def test_every_key(shown, screen):
    assert await shown("sidemount", "b", "question_mark") == screen


# --- the diver's page -------------------------------------------------------------------------------------------------


async def test_the_diver(shown, screen):
    assert await shown("diver") == screen


async def test_the_diver_in_imperial_units(shown, screen):
    assert await shown("diver", "m") == screen


async def test_a_diver_who_is_not_told(shown, screen, kits):
    (kits / "diver.toml").write_text('format = 1\nholds = "diver"\nname = "Diver"\n')
    assert await shown("diver") == screen


async def test_a_new_float_check(shown, screen):
    assert await shown("twinset", "b", "a") == screen


async def test_a_float_check_of_the_diver_asks_for_the_kit(shown, screen):
    assert await shown("diver", "a") == screen


async def test_choosing_what_was_seen(shown, screen):
    assert await shown("twinset", "b", "a", "enter") == screen


async def test_a_float_check_that_was_neutral(shown, screen):
    assert await shown("twinset", "b", "a", *NEUTRAL) == screen


async def test_typing_the_lead_of_a_float_check(shown, screen):
    assert await shown("twinset", "b", "a", *NEUTRAL, "down", "down", "enter", *"4 kg") == screen


async def test_float_checks_that_contradict_each_other(shown, screen, kits):
    path = kits / "diver.toml"
    check = '\n[[float_check]]\ntag = "{}"\nkit = "twinset.toml"\nseen = "neutral"\nlead = "{} kg"\n'
    path.write_text(path.read_text() + check.format("ladder", 2) + check.format("quay", 12))
    assert await shown("twinset", "b", "e", "down") == screen


async def test_leaving_with_an_unsaved_float_check_asks(shown, screen):
    assert await shown("twinset", "b", "a", "escape") == screen


async def test_quitting_from_the_diver_s_page_asks_by_the_name_of_the_file(shown, screen):
    assert await shown("twinset", "minus", "b", "a", "ctrl+q") == screen


async def test_every_key_of_the_diver_s_page(shown, screen):
    assert await shown("diver", "question_mark") == screen

"""The bench at the smallest and the usual terminal size: the five kits, and the main edits."""

import pytest

from tests.app.conftest import KITS

SHORT_HOSE = ("down", "down", "down", "down")
"""From the sidemount's first hose to the one that the README asks you to change."""
ITS_LENGTH = (*SHORT_HOSE, "right", "down", "down", "down", "down", "down")
ITS_BODY = (*SHORT_HOSE, "right", "down", "down", "down", "down")


@pytest.mark.parametrize("name", KITS)
async def test_opening(shown, screen, name):
    assert await shown(name) == screen


async def test_the_kit_itself_has_a_form(shown, screen):
    assert await shown("cold-single", "home", "right") == screen


async def test_a_thing_that_is_not_a_hose(shown, screen):
    assert await shown("twinset", "end", "right") == screen


async def test_choosing_a_body(shown, screen):
    assert await shown("sidemount", *ITS_BODY, "enter") == screen


async def test_after_choosing_braided(shown, screen):
    assert await shown("sidemount", *ITS_BODY, "enter", "down", "enter") == screen


async def test_a_length_without_unit_is_explained_as_typed(shown, screen):
    assert await shown("sidemount", *ITS_LENGTH, "enter", *"75") == screen


async def test_figures_follow_while_a_length_is_typed(shown, screen):
    assert await shown("sidemount", *ITS_LENGTH, "enter", *"75 cm") == screen


async def test_escape_drops_what_was_typed(shown, screen):
    assert await shown("sidemount", *ITS_LENGTH, "enter", *"75 cm", "escape") == screen


async def test_after_a_length_is_kept(shown, screen):
    assert await shown("sidemount", *ITS_LENGTH, "enter", *"75 cm", "enter") == screen


async def test_longer_steps_to_the_next_stock_length(shown, screen):
    assert await shown("sidemount", *SHORT_HOSE, "plus", "plus") == screen


async def test_after_undo(shown, screen):
    assert await shown("sidemount", *SHORT_HOSE, "plus", "plus", "u", "u") == screen


async def test_choosing_a_port(shown, screen):
    assert await shown("twinset", "right", "down", "down", "enter") == screen


async def test_choosing_a_preset(shown, screen):
    assert await shown("twinset", "up", "right", "down", "enter") == screen


async def test_adding_asks_what(shown, screen):
    assert await shown("warm-single", "a") == screen


async def test_adding_a_hose_asks_for_its_role(shown, screen):
    assert await shown("warm-single", "a", *"hose", "enter") == screen


async def test_after_adding_a_hose(shown, screen):
    assert await shown("warm-single", "a", *"hose", "enter", *"drysuit", "enter") == screen


async def test_after_copying(shown, screen):
    assert await shown("warm-single", "c") == screen


async def test_after_removing(shown, screen):
    assert await shown("warm-single", "d") == screen


async def test_after_moving_down(shown, screen):
    assert await shown("warm-single", "J") == screen


async def test_clearing_a_key(shown, screen):
    assert await shown("warm-single", "right", *["down"] * 8, "x") == screen


async def test_going_from_a_finding_to_its_field(shown, screen):
    assert await shown("wrong-on-purpose", "f", "f", "f", "enter") == screen


async def test_a_finding_in_full(shown, screen):
    assert await shown("wrong-on-purpose", "f", "w") == screen


async def test_origins_of_a_hose(shown, screen):
    assert await shown("sidemount", "o") == screen


async def test_origins_of_the_kit(shown, screen):
    assert await shown("sidemount", "home", "o") == screen


async def test_every_key(shown, screen):
    assert await shown("sidemount", "question_mark") == screen


async def test_imperial_units(shown, screen):
    assert await shown("sidemount", "m") == screen


async def test_pictures_without_braille(shown, screen):
    assert await shown("sidemount", plain_pictures=True) == screen


async def test_leaving_with_unsaved_edits_asks(shown, screen):
    assert await shown("sidemount", *SHORT_HOSE, "plus", "escape") == screen


async def test_save_as_asks_for_a_name(shown, screen):
    assert await shown("sidemount", "S") == screen


async def test_save_as_refuses_a_name_that_is_taken(shown, screen):
    assert await shown("sidemount", "S", *"twinset.toml") == screen

"""The shelf, the side by side, and files that cannot be read."""

import pytest

from kitbuilder.kitfile.disk import save_text


async def test_the_shipped_kits(shown, screen):
    assert await shown("") == screen


async def test_a_kit_that_cannot_be_read_is_on_the_shelf(shown, screen, kits):
    save_text(
        kits / "half.toml", 'format = 1\nname = "Half"\nlayout = "singel"\n\n[[hose]]\ntag = "primary"\nlength = 75\n'
    )
    assert await shown("", "down") == screen


async def test_an_empty_folder(shown, screen, kits):
    for path in kits.iterdir():
        path.unlink()
    assert await shown("") == screen


async def test_imperial_units(shown, screen):
    assert await shown("", "m") == screen


async def test_every_key(shown, screen):
    assert await shown("", "question_mark") == screen


async def test_a_new_kit_asks_for_its_layout(shown, screen):
    assert await shown("", "n") == screen


async def test_a_new_kit_asks_for_its_file(shown, screen):
    assert await shown("", "n", "down", "enter") == screen


@pytest.mark.parametrize("layout", ["single", "twinset", "sidemount"])
async def test_a_new_kit_opens_on_the_bench(shown, screen, layout):
    assert await shown("", "n", *layout, "enter", "enter") == screen


async def test_renaming_asks_for_a_name(shown, screen):
    assert await shown("", "R") == screen


async def test_after_renaming(shown, screen, kits):
    text = (kits / "cold-single.toml").read_bytes()
    assert await shown("", "R", *"lake.toml", "enter") == screen
    assert (kits / "lake.toml").read_bytes() == text
    assert not (kits / "cold-single.toml").exists()


async def test_side_by_side_asks_for_the_other_kit(shown, screen):
    assert await shown("", "b") == screen


async def test_side_by_side(shown, screen):
    assert await shown("", "b", *"twinset", "enter") == screen


async def test_side_by_side_only_differences(shown, screen):
    assert await shown("", "b", *"twinset", "enter", "d") == screen


async def test_side_by_side_swapped(shown, screen):
    assert await shown("", "b", *"twinset", "enter", "x") == screen


async def test_problems_of_a_file(shown, screen, kits):
    save_text(
        kits / "half.toml", 'format = 1\nname = "Half"\nlayout = "singel"\n\n[[hose]]\ntag = "primary"\nlength = 75\n'
    )
    assert await shown("half") == screen

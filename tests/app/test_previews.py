"""What is worked out while a value is typed is shown after enter without being worked out again.

Calls are counted, not timed. What the linked files say is looked up each time, so that a change there still counts.
"""

from collections import Counter

import pytest

from kitbuilder.app.screens import bench, gear_screen
from kitbuilder.kitfile import document
from tests.app.conftest import LARGE, fill_in, press, put_cursor, put_cursor_on_key, type_in


@pytest.fixture
def calls(monkeypatch) -> Counter:
    """How often a text is read, a kit resolved and assessed, a gear file looked at."""
    counted = Counter()

    def count(module, name):
        original = getattr(module, name)

        def noted(*arguments):
            counted[name] += 1
            return original(*arguments)

        monkeypatch.setattr(module, name, noted)

    count(document, "parse_as")
    count(document, "resolve_at")
    count(bench, "assess")
    count(gear_screen, "report_on_gear")
    return counted


async def test_enter_works_out_nothing_that_was_shown(opened, calls):
    async with opened("sidemount", LARGE) as pilot:
        await put_cursor(pilot, "#items", "short hose")
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter")
        calls.clear()
        await type_in(pilot, "65 cm")
        assert calls == {"parse_as": 1, "assess": 1}
        shown = pilot.app.screen._previewed
        calls.clear()
        await press(pilot, "enter")
        assert calls == {"resolve_at": 1}
        assert pilot.app.screen.assessment is shown
        assert pilot.app.screen.record.length_m == pytest.approx(0.65)


async def test_a_dropped_value_leaves_the_figures_that_were_there(opened):
    async with opened("sidemount", LARGE) as pilot:
        await put_cursor(pilot, "#items", "short hose")
        await put_cursor_on_key(pilot, "length")
        before = pilot.app.screen.assessment
        await press(pilot, "enter")
        await type_in(pilot, "65 cm", "escape")
        assert pilot.app.screen.assessment is before
        await fill_in(pilot, "length", "70 cm")
        assert pilot.app.screen.record.length_m == pytest.approx(0.70)
        assert pilot.app.screen.assessment.kit.items[pilot.app.screen.item].length_m == pytest.approx(0.70)


async def test_a_gear_file_that_changes_while_a_value_is_typed(opened, kits, calls):
    """The answer after enter is that of the gear file as it is then."""
    path = kits / "gear.toml"
    async with opened("sidemount", LARGE) as pilot:
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter")
        await type_in(pilot, "65 cm")
        text = path.read_text()
        path.write_text(text.replace('name   = "', 'name   = "Not the same '))
        assert path.read_text() != text
        calls.clear()
        await press(pilot, "enter")
        assert calls == {"resolve_at": 1, "assess": 1}
        assert pilot.app.screen.assessment.kit.linked.gear.header.name.startswith("Not the same ")


async def test_coming_back_to_the_bench_assesses_nothing(opened, calls):
    async with opened("sidemount", LARGE) as pilot:
        for key in ("d", "v"):
            calls.clear()
            await press(pilot, key)
            assert pilot.app.screen.kit == pilot.app.screen_stack[-2].assessment.kit
            assert calls == {"resolve_at": 1}, "one kit for all that is shown"
            calls.clear()
            await press(pilot, "escape")
            assert calls == {"resolve_at": 1}


async def test_the_gear_file_is_looked_at_once_for_each_text(opened, calls):
    async with opened("gear", LARGE) as pilot:
        await put_cursor(pilot, "#owned", "black")
        await put_cursor_on_key(pilot, "serviced")
        await press(pilot, "enter")
        calls.clear()
        await type_in(pilot, "2027-01-10")
        assert calls == {"parse_as": 1, "report_on_gear": 1}
        calls.clear()
        await press(pilot, "enter")
        assert calls == {}
        await press(pilot, "D")
        await type_in(pilot, "2031-01-10", "enter")
        assert calls == {"report_on_gear": 1}

"""One message at a time, and none on the next screen."""

from tests.app.conftest import press, told


async def test_a_message_is_shown_once_and_not_on_the_next_screen(opened):
    async with opened("sidemount", notifications=True) as pilot:
        app = pilot.app
        await press(pilot, "ctrl+z", "ctrl+z", "ctrl+z")
        assert len(app._notifications) == 1
        before = told(app)
        assert "undo" in before
        await press(pilot, "ctrl+y")
        assert len(app._notifications) == 1, "a new message takes the place of the old one"
        assert told(app) != before
        await press(pilot, "question_mark")
        assert told(app) == "", "a dialog covers what the message is about"
        await press(pilot, "escape")
        await press(pilot, "ctrl+z", "t")
        assert told(app) == ""

"""The plain text the other tests look at is what Textual shows."""

import re
from html import unescape

from tests.app.conftest import screen_text, settle


async def test_the_text_of_a_screen_is_what_textual_exports(app_on):
    """Every visible word is also in the SVG that Textual's public API exports."""
    app = app_on("sidemount")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        svg = unescape(" ".join(re.findall(r"<text[^>]*>([^<]*)</text>", app.export_screenshot())))
        words = re.findall(r"[A-Za-z0-9.]{3,}", "\n".join(screen_text(app).splitlines()[1:]))
    assert len(words) > 50
    assert [word for word in words if word not in svg] == []

"""The plain text the other tests look at is what Textual shows."""

import re
from html import unescape

from tests.app.conftest import screen_text


async def test_the_text_of_a_screen_is_what_textual_exports(opened):
    """Every visible word is also in the SVG that Textual's public API exports."""
    async with opened("sidemount") as pilot:
        app = pilot.app
        svg = unescape(" ".join(re.findall(r"<text[^>]*>([^<]*)</text>", app.export_screenshot())))
        words = re.findall(r"[A-Za-z0-9.]{3,}", "\n".join(screen_text(app).splitlines()[1:]))
    assert len(words) > 50
    assert [word for word in words if word not in svg] == []

"""The pictures in screenshots/ show what the app shows; `python screenshots/draw.py` draws them anew."""

import importlib.util
import re
from html import unescape
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "screenshots"
README = FOLDER.parent / "README.md"


@pytest.fixture
def paint_once_it_is_settled() -> None:
    """Paint as in use: `draw.py` is run by people, and knows nothing of the fixtures here."""


spec = importlib.util.spec_from_file_location("draw", FOLDER / "draw.py")
draw = importlib.util.module_from_spec(spec)
spec.loader.exec_module(draw)


def words(svg: str) -> list[str]:
    """What a picture says, line by line; colours and positions may change with Textual."""
    return [unescape(text).replace("\xa0", " ").strip() for text in re.findall(r"<text[^>]*>([^<]*)</text>", svg)]


@pytest.mark.parametrize("name", draw.SCREENS)
async def test_a_picture_says_what_its_screen_says(name, tmp_path, monkeypatch):
    draw.copy_kits(tmp_path)
    monkeypatch.chdir(tmp_path)
    kept = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert words(kept) == words(await draw.draw(name, Path("configs")))
    assert len(words(kept)) > 20


async def test_the_moving_picture_says_what_its_screens_say(tmp_path, monkeypatch):
    """Each shot, in its order, with its caption above it."""
    draw.copy_kits(tmp_path)
    monkeypatch.chdir(tmp_path)
    kept = (FOLDER / f"{draw.MOVING}.svg").read_text(encoding="utf-8")
    assert words(kept) == words(await draw.draw_moving(Path("configs")))
    titles = "".join(re.findall(r'<text class="t-title".*?</text>', kept))
    assert words(titles) == [shot.caption for shot in draw.SHOTS]


def test_the_moving_picture_moves_by_style_alone():
    """It can be shown as an image, is quick to load, and stands still for a reader who asked for less motion."""
    path = FOLDER / f"{draw.MOVING}.svg"
    svg = path.read_text(encoding="utf-8")
    assert path.stat().st_size < 600_000
    assert "<script" not in svg
    assert "prefers-reduced-motion: reduce) { .shot { animation: none" in svg
    assert re.findall(r"#shot(\d+) \{ visibility: visible \}", svg) == [str(draw.STILL)]


def test_each_shot_is_shown_for_its_time():
    rules = draw.timing([1, 3, 4])
    assert ".shot { visibility: hidden; animation: 8s step-end infinite }" in rules
    frames = {
        number: re.sub(r"\.0+%", "%", next(rule for rule in rules if f"shot{number} {{ 0" in rule))
        for number in range(3)
    }
    assert "{ 0% { visibility: visible } 12.50% { visibility: hidden } }" in frames[0]
    assert "{ 0% { visibility: hidden } 12.50% { visibility: visible } 50% { visibility: hidden } }" in frames[1]
    assert "{ 0% { visibility: hidden } 50% { visibility: visible } 100% { visibility: hidden } }" in frames[2]


def test_there_are_no_other_pictures():
    assert {path.stem for path in FOLDER.glob("*.svg")} == {*draw.SCREENS, draw.MOVING}


def test_no_picture_fetches_anything_or_has_a_desktop_around_it():
    for path in FOLDER.glob("*.svg"):
        svg = path.read_text(encoding="utf-8")
        assert "url(http" not in svg.replace("url(#", "")
        assert "@font-face" not in svg
        assert "<circle" not in svg, "the buttons of a window"


def test_the_readme_shows_only_pictures_that_exist():
    shown = re.findall(r"\(screenshots/([\w-]+)\.svg\)", README.read_text(encoding="utf-8"))
    assert {draw.MOVING, "shelf", "bench", "side-by-side"} <= set(shown) <= {*draw.SCREENS, draw.MOVING}

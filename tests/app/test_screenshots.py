"""The pictures in screenshots/ show what the app shows; `python screenshots/draw.py` draws them anew."""

import importlib.util
import re
from html import unescape
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "screenshots"
README = FOLDER.parent / "README.md"

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


def test_there_are_no_other_pictures():
    assert {path.stem for path in FOLDER.glob("*.svg")} == set(draw.SCREENS)


def test_no_picture_fetches_anything():
    for path in FOLDER.glob("*.svg"):
        assert "url(http" not in path.read_text(encoding="utf-8").replace("url(#", "")
        assert "@font-face" not in path.read_text(encoding="utf-8")


def test_the_readme_shows_only_pictures_that_exist():
    shown = re.findall(r"\(screenshots/([\w-]+)\.svg\)", README.read_text(encoding="utf-8"))
    assert {"shelf", "bench", "side-by-side"} <= set(shown) <= set(draw.SCREENS)

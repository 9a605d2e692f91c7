"""Draw every screen of the app as SVG into this folder: `python screenshots/draw.py`."""

import asyncio
import os
import re
import shutil
import tempfile
from datetime import date
from pathlib import Path

HERE = Path(__file__).parent
CONFIGS = HERE.parent / "configs"
BROKEN_KIT = 'format = 1\nname = "Half a kit"\nlayout = "singel"\n\n[[hose]]\ntag = "primary hose"\nlength = 75\n'

DAY = date(2027, 1, 15)
"""The day by which the gear file is looked at, so that the picture does not change with the calendar."""

SCREENS: dict[str, tuple[str, tuple[int, int], tuple[str, ...]]] = {
    "shelf": ("", (100, 24), ()),
    "bench": ("sidemount", (120, 40), ("down", "down", "down", "down")),
    "bench-small": ("sidemount", (80, 24), ("down", "down", "down", "down")),
    "typing": ("sidemount", (80, 24), (*["down"] * 4, "right", *["down"] * 6, "enter", *"75 cm")),
    "choosing": ("twinset", (80, 24), ("right", *["down"] * 4, "enter")),
    "findings": ("wrong-on-purpose", (120, 40), ("full_stop", "down")),
    "finding": ("wrong-on-purpose", (80, 24), ("full_stop", "x")),
    "origins": ("sidemount", (80, 24), ("o",)),
    "unsaved": ("sidemount", (80, 24), ("minus", "escape")),
    "keys": ("sidemount", (80, 24), ("question_mark",)),
    "side-by-side": ("", (120, 40), ("b", *"twinset", "enter")),
    "balance": ("twinset", (120, 40), ("d",)),
    "balance-small": ("sidemount", (80, 24), ("d",)),
    "float-check": ("twinset", (80, 24), ("d", "a", "enter")),
    "fit": ("twinset", (120, 40), ("t",)),
    "fit-small": ("cold-single", (80, 24), ("t",)),
    "measuring": ("twinset", (80, 24), ("t", "enter")),
    "changeover": ("", (120, 40), ("c", *"twinset", "enter", *["space"] * 14)),
    "changeover-small": ("", (80, 24), ("c", *"twinset", "enter", *["space"] * 14)),
    "fewest": ("", (120, 40), ("f",)),
    "gear": ("", (120, 40), ("l", "down", "down")),
    "losses": ("sidemount", (120, 40), ("v",)),
    "weigh-in": ("cold-single", (120, 40), ("w", *["down"] * 11, "enter", *"4.9 kg")),
    "problems": ("half", (80, 24), ()),
}
"""Of each picture: the kit (none for the shelf), the size of the terminal, and the keys pressed."""


async def draw(name: str, kits: Path) -> str:
    """One screen as SVG.

    Args:
        name: A key of `SCREENS`.
        kits: A folder with the shipped kits, the current folder being its parent.
    """
    from textual.widgets import Input

    from kitbuilder.app.app import KitbuilderApp

    kit, size, keys = SCREENS[name]
    app = KitbuilderApp(kits / f"{kit}.toml" if kit else kits, day=DAY)
    app.animation_level = "none"
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await pilot.press(*keys)
        await pilot.pause(0.2)
        await app.workers.wait_for_complete()
        await pilot.wait_for_scheduled_animations()
        for field in app.screen.query(Input):
            field.cursor_blink = False
        await pilot.pause()
        return without_fonts(app.export_screenshot(title="kitbuilder"))


def without_fonts(svg: str) -> str:
    """The SVG without the fonts it would fetch from elsewhere; the reader's own fixed-width font is used."""
    svg = re.sub(r"\s*@font-face \{.*?\}\n", "\n", svg, flags=re.DOTALL)
    return re.sub(r"\s*<!--.*?-->", "", svg, flags=re.DOTALL).replace("Fira Code", "ui-monospace")


def copy_kits(folder: Path) -> Path:
    """The shipped kits, and one that is broken, in a folder of their own."""
    kits = folder / "configs"
    shutil.copytree(CONFIGS, kits, ignore=shutil.ignore_patterns("*.md", "*.json"))
    (kits / "half.toml").write_text(BROKEN_KIT)
    return kits


async def draw_all() -> None:
    """Draw every screen."""
    for name in SCREENS:
        with tempfile.TemporaryDirectory() as folder:
            copy_kits(Path(folder))
            os.chdir(folder)
            (HERE / f"{name}.svg").write_text(await draw(name, Path("configs")), encoding="utf-8")
            os.chdir(HERE)


if __name__ == "__main__":
    asyncio.run(draw_all())

"""Draw every screen of the app as SVG into this folder, and the moving picture: `python screenshots/draw.py`."""

import asyncio
import os
import re
import shutil
import tempfile
from datetime import date
from itertools import accumulate
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from textual.pilot import Pilot

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
    "trip": ("trip-reef", (120, 40), ("down", "down")),
    "swaps": ("trip-wreck", (120, 40), ("L", "down", "enter", "right")),
    "problems": ("half", (80, 24), ()),
}
"""Of each picture: the kit (none for the shelf), the size of the terminal, and the keys pressed."""


MOVING = "moving"
"""The name of the moving picture."""


class Shot(NamedTuple):
    """A picture of the moving one."""

    caption: str
    """What is written above the screen."""
    keys: tuple[str, ...]
    """What is pressed to get here from the shot before."""
    screen: str
    """The `NAME` of the screen that is reached."""
    seconds: float
    """How long it stays."""


SHOTS = (
    Shot("The shelf: the kits of a folder", ("down",) * 3, "shelf", 3),
    Shot("Enter opens a kit on the bench: its first hose has slack", ("enter",), "bench", 4),
    Shot("- takes the next shorter hose; picture and findings follow", ("minus",), "bench", 4),
    Shot("ctrl+z takes it back", ("ctrl+z",), "bench", 2),
    Shot("t: every hose on the body, and the length it should have", ("t",), "fit", 5),
    Shot("d: the lead, and buoyancy over the dive", ("escape", "d"), "balance", 5),
    Shot("w: all items; type what the scale reads", ("escape", "w", "enter", *"0.72 kg"), "weigh-in", 4),
    Shot("b: two kits side by side", (*["escape"] * 3, "b", *"twin", "enter"), "side by side", 4),
    Shot("c: rebuild one kit as another", ("escape", "up", "up", "c", *"twin", "enter"), "changeover", 2),
    Shot("Tick each step as it is done", ("space",) * 3, "changeover", 3),
)
"""The moving picture, in its order; it begins on the shelf of the shipped kits."""

STILL = 1
"""The shot that a reader sees who wants no motion, or whose viewer cannot move pictures."""


async def draw(name: str, kits: Path) -> str:
    """One screen as SVG.

    Args:
        name: A key of `SCREENS`.
        kits: A folder with the shipped kits, the current folder being its parent.
    """
    from kitbuilder.app.app import KitbuilderApp

    kit, size, keys = SCREENS[name]
    app = KitbuilderApp(kits / f"{kit}.toml" if kit else kits, day=DAY)
    app.animation_level = "none"
    async with app.run_test(size=size) as pilot:
        return await photograph(pilot, keys, "kitbuilder")


async def draw_moving(kits: Path) -> str:
    """The moving picture as SVG, in the smallest terminal.

    Args:
        kits: As for `draw`; the broken kit is removed.

    Raises:
        RuntimeError: when the keys of a shot lead to another screen than the one it names.
    """
    from kitbuilder.app.app import KitbuilderApp

    (kits / "half.toml").unlink()
    app = KitbuilderApp(kits, day=DAY)
    app.animation_level = "none"
    async with app.run_test(size=(80, 24)) as pilot:
        drawn = []
        for shot in SHOTS:
            drawn.append(await photograph(pilot, shot.keys, shot.caption))
            if (reached := app.screen.NAME) != shot.screen:
                raise RuntimeError(f'"{shot.caption}": the keys lead to {reached}, not to {shot.screen}')
        return put_in_motion(drawn)


async def photograph(pilot: "Pilot", keys: tuple[str, ...], title: str) -> str:
    """Press keys and give the screen they lead to, as SVG."""
    from textual.widgets import Input

    await pilot.pause()
    await pilot.press(*keys)
    await pilot.pause(0.2)
    await pilot.app.workers.wait_for_complete()
    await pilot.wait_for_scheduled_animations()
    for field in pilot.app.screen.query(Input):
        field.cursor_blink = False
    await pilot.pause()
    return without_desktop(pilot.app.export_screenshot(title=title))


def without_desktop(svg: str) -> str:
    """The SVG without a desktop's window buttons, and without the fonts it would fetch from elsewhere.

    The reader's own fixed-width font is used. Names are short and the same each time, so that a picture changes only
    where its screen does.
    """
    svg = re.sub(r"<g[^>]*>\s*(<circle[^>]*/>\s*){3}</g>", "", svg)
    svg = re.sub(r"\s*@font-face \{.*?\}\n", "\n", svg, flags=re.DOTALL)
    svg = re.sub(r"\s*<!--.*?-->", "", svg, flags=re.DOTALL).replace("Fira Code", "ui-monospace")
    return re.sub(r"terminal-\d+", "t", svg)


def put_in_motion(shots: list[str]) -> str:
    """One SVG that shows others of the same size in turn, by CSS alone; it stands still while the mouse is over it."""
    colours: dict[str, str] = {}
    layers = []
    for number, shot in enumerate(shots):
        rules = dict(re.findall(r"\.t-(r\d+) (\{.*?\})", shot))
        names = {old: colours.setdefault(rule, f"t-c{len(colours)}") for old, rule in rules.items()}
        drawn = shot[shot.index("</defs>") + len("</defs>") : shot.rindex("</svg>")]
        drawn = re.sub(r"\bt-(r\d+)\b", lambda found, names=names: names[found[1]], drawn)
        layers.append(f'<g class="shot" id="shot{number}">{drawn.strip()}</g>')
    head = shots[0][: shots[0].index("</defs>") + len("</defs>")]
    head = re.sub(r"\s*\.t-r\d+ \{.*?\}", "", head)
    rules = [f".{name} {rule}" for rule, name in colours.items()]
    style = "\n".join([*rules, *timing([shot.seconds for shot in SHOTS])])
    words = "; ".join(shot.caption for shot in SHOTS).replace("&", "&amp;")
    head = head.replace("<style>", f"<desc>Screens of kitbuilder in turn. {words}.</desc>\n<style>\n{style}", 1)
    return "\n".join([head, *layers, "</svg>", ""])


def timing(seconds: list[float]) -> list[str]:
    """The CSS rules that show each shot for its time, over and over, and only one to a reader who wants no motion."""
    total = sum(seconds)
    ends = [100 * end / total for end in accumulate(seconds)]
    rules = [f".shot {{ visibility: hidden; animation: {total:g}s step-end infinite }}"]
    for number, (start, end) in enumerate(zip([0.0, *ends], ends, strict=False)):
        shown = "0% { visibility: hidden } " if number else ""
        hidden = " 100% { visibility: hidden }" if end > 99.99 else f" {end:.2f}% {{ visibility: hidden }}"
        rules.append(f"@keyframes shot{number} {{ {shown}{start:.2f}% {{ visibility: visible }}{hidden} }}")
        rules.append(f"#shot{number} {{ animation-name: shot{number} }}")
    return [
        *rules,
        f"#shot{STILL} {{ visibility: visible }}",
        "svg:hover .shot { animation-play-state: paused }",
        "@media (prefers-reduced-motion: reduce) { .shot { animation: none !important } }",
    ]


def copy_kits(folder: Path) -> Path:
    """The shipped kits, and one that is broken, in a folder of their own."""
    kits = folder / "configs"
    shutil.copytree(CONFIGS, kits, ignore=shutil.ignore_patterns("*.md", "*.json"))
    (kits / "half.toml").write_text(BROKEN_KIT)
    return kits


async def draw_all() -> None:
    """Draw every screen and the moving picture."""
    for name in (*SCREENS, MOVING):
        with tempfile.TemporaryDirectory() as folder:
            copy_kits(Path(folder))
            os.chdir(folder)
            kits = Path("configs")
            svg = await (draw_moving(kits) if name == MOVING else draw(name, kits))
            (HERE / f"{name}.svg").write_text(svg, encoding="utf-8")
            os.chdir(HERE)


if __name__ == "__main__":
    asyncio.run(draw_all())

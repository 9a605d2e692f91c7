"""What an empty shelf offers: the kits of the demo, a new kit, another folder or file."""

import os
from pathlib import Path
from typing import NamedTuple

from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import TypeName
from kitbuilder.app.screens.gear_question import say_refused
from kitbuilder.commands.demo import FOLDER
from kitbuilder.foreign import visible
from kitbuilder.kitfile.disk import path_typed


class Offer(NamedTuple):
    """One way to begin."""

    action: str
    """Of the shelf."""
    key: str
    label: str


OFFERS = (
    Offer("demo", "E", "Copy the demo kits here: five finished kits to look at and to change"),
    Offer("new", "n", "New kit: seven questions, then its lead"),
    Offer("open_other", "O", "Open another folder, or a file"),
)


def offer_rows() -> list[Content]:
    """Give the offers as rows of a list."""
    return [Content.assemble((f"{offer.key}  ", "bold"), offer.label) for offer in OFFERS]


def empty_words(folder: Path) -> str:
    """Say why a shelf is empty."""
    if os.path.lexists(folder):
        return "There are no kit files in this folder yet. Choose how to begin."
    return f'There is no folder "{visible(str(folder))}" yet. It is made with its first file.'


def demo_place(folder: Path) -> Path:
    """Say where the demo goes: into a folder that is empty or not there, else into a new one inside it."""
    try:
        is_free = not os.path.lexists(folder) or not any(folder.iterdir())
    except OSError:
        is_free = False
    return folder if is_free else folder / FOLDER


def ask_what_to_open(folder: Path) -> TypeName:
    """Make the dialog that asks for another folder or file."""

    def complain(typed: str) -> str | None:
        if not typed.strip():
            return 'Type a folder or a file, such as "demo-kits" or "~/kits/reef.toml"'
        if typed.isprintable() and os.path.exists(path_typed(folder, typed)):  # noqa: PTH110  too long a name raises
            return None
        return f'There is no folder or file "{visible(typed)}". Check the name'

    text = "A name in this folder, or a path: from here, from the root, or from home (~)."
    return TypeName("Open a folder or a file", "", complain, text=text, says=lambda _: "Enter opens it.")


def show_demo(screen: KitbuilderScreen, folder: Path) -> None:
    """Copy the demo kits into a folder of their own, over nothing, and show them."""
    from kitbuilder.kitfile.demo import copy_demo  # not needed for the first screen

    place = demo_place(folder)
    try:
        copy_demo(place)
    except OSError as error:
        say_refused(screen, "Not copied", error)
        return
    screen.shell.show_shelf(place)


def open_other(screen: KitbuilderScreen, folder: Path) -> None:
    """Ask for another folder or file, and show it."""

    def show(typed: str | None) -> None:
        if typed is not None:
            path = path_typed(folder, typed)
            screen.shell.show_shelf(path) if path.is_dir() else screen.shell.open_kit(path)

    screen.app.push_screen(ask_what_to_open(folder), show)

"""What of a screen is copied or written to a file: a row, a list, a page."""

import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from textual.screen import Screen

from kitbuilder.app.clipboard import copy, short, text_of_panes
from kitbuilder.app.screens.dialogs import PATH_INVITATION, Ask, TypeName, Way
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.foreign import visible
from kitbuilder.kitfile.disk import Over, complain_of_path, path_typed, save_text, with_ending
from kitbuilder.report.answer import Answer
from kitbuilder.report.forms import HTML, OUTPUT_FORMS, TEXT, OutputForm, form_of_file, other_ending, render
from kitbuilder.report.layout import lay_out
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.words import counted_items

PRINTED_WIDTH = 80
"""Characters of a line that every printer puts on a page."""


NAME_OF_FORM = "Write a name that ends in .html, .md, .csv or .txt"
PAGE_FORMS = tuple(form for form in OUTPUT_FORMS.values() if form.is_for_people)
"""The forms in which a page of a screen can be written; a program has to ask on the command line."""


class PageWriter(NamedTuple):
    """The page of a screen, for a file."""

    path: Path
    """What the file is called, without its ending."""
    answer: Callable[[], Answer]
    """Gives the page, and what it is about, when it is written."""


def free_path(path: Path, ending: str = TEXT.ending) -> Path:
    """Give a path for a text that nothing has yet: "a.txt", else "a-2.txt" and so on."""
    names = (f"{path.name}{number}{ending}" for number in ("", *(f"-{again}" for again in range(2, 1000))))
    return next(path.with_name(name) for name in names if not os.path.lexists(path.with_name(name)))


def write_page(path: Path, text: str) -> None:
    """Write a page to a new file.

    Raises:
        OSError: The disk refused, or something has that name.
    """
    save_text(path, text, Over.NOTHING)


def copy_here(screen: Screen[None], written: Callable[[], str]) -> None:
    """Copy what is selected with the mouse, else the row under the cursor, else the pane with the focus."""
    focused = screen.focused
    if selected := screen.get_selected_text():
        copy(screen, selected)
    elif isinstance(focused, Listing):
        copy(screen, focused.text_of(focused.place) if focused.place is not None else "")
    else:
        copy(screen, text_of_panes(focused) if focused else written())


def ask_to_export(screen: Screen[None], writer: PageWriter, system: System, written: Callable[[], str]) -> None:
    """Ask what to copy, or where to write the page."""
    focused = screen.focused
    listing = focused if isinstance(focused, Listing) else next((each for each in screen.query(Listing)), None)
    ways = [Way("p", "copy the page", "page"), Way("f", "write the page to a file", "file")]
    if listing is not None and listing.rows:
        ways.insert(0, Way("l", f"copy the list, {counted_items(len(listing.shown), 'row')}", "list"))

    def take(answer: str | None) -> None:
        if answer == "list" and listing is not None:
            copy(screen, "\n".join(listing.texts_shown()))
        elif answer == "page":
            copy(screen, written())
        elif answer == "file":
            ask_to_write(screen, writer, system, TEXT)

    screen.app.push_screen(Ask("Copy or write", "", ways), take)


def page_text(page: Page, system: System) -> str:
    """Lay a page out as text for a file or a printer."""
    return "".join(f"{plain(line).rstrip()}\n" for line in lay_out(page, PRINTED_WIDTH, system))


def ask_to_write(screen: Screen[Any], writer: PageWriter, system: System, usual: OutputForm = HTML) -> None:
    """Ask where to write the page; the ending decides the form, and the place is said afterwards.

    Args:
        screen: Whose page it is.
        writer: The page.
        system: The units.
        usual: The form of a name without an ending.
    """
    path = free_path(writer.path, usual.ending)

    def named(typed: str) -> tuple[str, OutputForm]:
        form = form_of_file(typed) or usual
        return with_ending(typed, form.ending), form

    def complain(typed: str) -> str | None:
        name, form = named(typed)
        if form not in PAGE_FORMS:
            return f"JSON is written by the commands, with -o. {NAME_OF_FORM}"
        if ending := other_ending(typed):
            return f'A page is not written as "{visible(ending)}". {NAME_OF_FORM}'
        return complain_of_path(path.parent, name, form.ending)

    def write(typed: str | None) -> None:
        if typed is None:
            return
        name, form = named(typed)
        file = path_typed(path.parent, name)
        try:
            write_page(file, form.as_file(render(form, writer.answer(), system, PRINTED_WIDTH)))
        except OSError as error:
            reason = f"{error.strerror or error}. Nothing was written. Try another folder."
            screen.notify(reason, title="Not written", severity="error", markup=False)
            return
        screen.notify(f"Written to {visible(short(file.absolute()))}.", markup=False)

    said = f"{PATH_INVITATION} Its ending decides the form: .html, .md, .csv or .txt. For PDF, print the .html."
    folder = f"In the folder {visible(short(path.parent.absolute()))}:"
    dialog = TypeName("Write the page to a file", path.name, complain, text=folder, says=lambda _: said)
    screen.app.push_screen(dialog, write)


def named_beside(path: Path, name: str) -> Path:
    """Give a path beside a file that is named after it and a screen: "twinset-weigh-in" for "twinset.toml".

    A word with which the name of the file ends is not repeated: "gear" for the gear of "gear.toml".
    """
    words = _hyphened(name)
    first, _, others = words.partition("-")
    said = others if path.stem.endswith(first) else words
    return path.with_name("-".join(filter(None, (path.stem, said))))


def part_of(path: Path, title: str) -> Path:
    """Give a path for one page of a screen, named after the screen and its title: "twinset-fit-to-buy"."""
    return path.with_name("-".join(filter(None, (path.name, _hyphened(title.lower())))))


def _hyphened(name: str) -> str:
    return "-".join(re.findall(r"[a-z]+", name.replace("'s", "")))

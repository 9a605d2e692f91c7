"""Text into the clipboard of the terminal, and into a file, since no terminal says whether it took it."""

from pathlib import Path
from typing import Any

from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.copied import copied_path, keep_copied
from kitbuilder.report.words import counted_items

NOTHING = "There is nothing to copy here."


def copy(screen: Screen[Any], text: str) -> None:
    """Put a text into the clipboard of the terminal and into a file, and say so.

    Nobody answers whether the terminal took it (OSC 52): some do not, so the message names the file.
    """
    text = "\n".join(line.rstrip() for line in text.splitlines()).strip("\n")
    if not text:
        screen.notify(NOTHING, severity="warning", markup=False)
        return
    screen.app.copy_to_clipboard(text)
    copied, place = f"Copied {counted_items(len(text.splitlines()), 'line')}", copied_path()
    try:
        keep_copied(place, text)
    except OSError as error:
        reason = f"{copied}, but could not keep them in {place}: {error.strerror or error}."
        screen.notify(reason, severity="warning", markup=False)
        return
    screen.notify(f"{copied}; also in {short(place)}", markup=False)


def short(path: Path) -> str:
    """Write a path as people do, from their home."""
    try:
        return str("~" / path.relative_to(Path.home()))
    except (ValueError, RuntimeError):
        return str(path)


def text_of_panes(root: Widget | Screen[Any]) -> str:
    """Give all text below a widget, from top to bottom: lists with all their rows, pages with what is scrolled away."""
    parts = []
    for each in root.walk_children(Widget, with_self=True):
        title = str(each.border_title or "").strip()
        if title and each.display and not isinstance(each, Screen):
            parts.append(title)
        if isinstance(each, Listing):
            parts += each.texts_shown()
        elif isinstance(each, Static) and not isinstance(each, TitleBar) and each.display:
            parts.append(str(each.visual) if each.visual is not None else "")
    return "\n".join(part for part in parts if part.strip())

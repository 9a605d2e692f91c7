"""The units in which a screen is shown as long as nobody has chosen any: those of the diver."""

from typing import Any

from textual.screen import Screen

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.editing import Editing
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.items import Kit
from kitbuilder.report.numbers import System


def units_of(screen: Screen[Any]) -> str | None:
    """Give the units of the diver whose file, or whose kit, a screen edits, metric by default, as for a whole folder.

    None for a screen that keeps the units of the one before.
    """
    if not isinstance(screen, Editing):
        is_folder = isinstance(screen, KitbuilderScreen) and screen.NAME == "shelf"
        return System.METRIC.value if is_folder else None
    match screen.document.reading.contents:
        case Diver(header):
            return header.units or System.METRIC.value
        case Kit():
            diver = screen.document.resolved_kit().linked.diver
            return (diver.header.units if diver else None) or System.METRIC.value
    return None

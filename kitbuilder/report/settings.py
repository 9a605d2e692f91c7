"""The page of `kitbuilder settings`: where the settings lie, what they are, and which keys are the user's own."""

import os
from pathlib import Path

from kitbuilder.kitfile.settings import Settings, SettingsReading
from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.page import Cell, Column, Fact, Facts, Page, Row, Table, text
from kitbuilder.report.shapes import FLAG, TEXT, listed, optional, record

SHAPE = record(
    file=TEXT,
    exists=FLAG,
    settings=record(
        theme=optional(TEXT),
        units=optional(TEXT),
        plain_pictures=optional(FLAG),
        last_folder=optional(TEXT),
        shelf_order=optional(TEXT),
    ),
    keys=listed(record(action=TEXT, keys=TEXT)),
)
DEFAULTS = {
    "theme": "the one of the terminal app",
    "units": "metric",
    "plain_pictures": "no; yes in a terminal that has no braille dots",
    "last_folder": "none",
    "shelf_order": "by the name of the file",
}
"""What is used where a setting is not set, by the name that a change of it takes."""


def settings_page(reading: SettingsReading, kept: Path | None = None) -> Page:
    """Build the page: the place, each setting or its default, and the keys that were changed.

    Args:
        reading: The settings, as they are now.
        kept: Where the old text is, if it was not TOML.
    """
    exists = os.path.lexists(reading.path)
    place = [Fact("file", "settings file", str(reading.path)), Fact("exists", "", exists)]
    columns = [Column("", "action"), Column("action", "id"), Column("keys", "keys")]
    return Page(
        [
            Facts(place),
            *([] if exists else [text("There is no such file yet. The app writes it when you choose something.")]),
            *([text(f"The settings were not TOML. The old text is in {kept}.")] if kept else []),
            Facts([_fact(name, reading.settings) for name in DEFAULTS], key="settings"),
            Table("keys", columns, _key_rows(reading.settings), title="Keys of your own"),
        ]
    )


def _fact(name: str, settings: Settings) -> Fact:
    value: Cell = getattr(settings, name)
    return Fact(name, name, value, note=None if value is not None else f"not set; default: {DEFAULTS[name]}")


def _key_rows(settings: Settings) -> list[Row]:
    return [[ACTIONS[action].name, action, keys] for action, keys in settings.keys.items()]

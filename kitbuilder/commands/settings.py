"""kitbuilder settings: where the settings lie, what they are, and how one is changed."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.kitfile.settings import Known, Value
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare what is changed."""
    parser.add_argument(
        "changes",
        nargs="*",
        metavar="NAME=VALUE",
        help="a setting to change, such as units=imperial, theme=nord, plain_pictures=true or keys.units=U; "
        "without a value it is taken out",
    )


def run(options: Namespace, response: "Response") -> int:
    """Write the changes, then print all settings and what is wrong with them."""
    from kitbuilder.kitfile.settings import NotKept, changed_settings, read_settings, refusal_of, settings_path
    from kitbuilder.report.settings import settings_page

    path, known = settings_path(), known_settings()
    changes: dict[str, Value] = {}
    for change in options.changes:
        name, sign, written = change.partition("=")
        if not sign:
            return response.refuse(f'settings: found "{change}". Accepted: NAME=VALUE, such as units=imperial')
        changes[name] = {"": None, "true": True, "false": False}.get(written, written)
    if refused := refusal_of(path, changes, known):
        return response.refuse(f"settings: {refused} Nothing was changed")
    try:
        kept = changed_settings(path, **changes) if changes else None
    except NotKept as error:
        return response.refuse(f"settings: {error}")
    reading = read_settings(path, known)
    response.complain(str(path), reading.problems)
    return response.give(settings_page(reading, kept), FOUND if reading.problems else DONE)


def known_settings() -> "Known":
    """Give the themes, actions, keys and columns that settings are checked against."""
    from kitbuilder.commands.app_words import THEMES, key_named
    from kitbuilder.kitfile.settings import Known
    from kitbuilder.report.actions import ACTIONS
    from kitbuilder.report.sorting import SHELF_ORDERS

    keys = {name: action.keys for name, action in ACTIONS.items()}
    return Known(THEMES, keys, key_named, SHELF_ORDERS)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.settings import SHAPE

    return SHAPE


COMMAND = Command(
    name="settings",
    arguments="[NAME=VALUE ...]",
    summary="print the settings of the app and where they are kept, or change some",
    details="Settings: theme, units, plain_pictures, last_folder, shelf_order, and keys.ACTION for the keys of an "
    "action. The app remembers what is chosen in it. TEXTUAL_THEME and options of the command line count "
    "before the settings.",
    heading="Settings",
    example=Example("kitbuilder settings units=metric", DONE),
    exit_codes={
        DONE: "every setting can be used",
        FOUND: "a setting cannot be used; it is named",
        UNREADABLE: "a change was refused, or cannot be written",
    },
    without_units="Settings have no quantities. units=imperial sets the units of the app.",
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)

"""kitbuilder demo: a folder of finished kits to look at and to change."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape

FOLDER = "demo-kits"


def add_arguments(parser: ArgumentParser) -> None:
    """Declare where the kits are copied to."""
    parser.add_argument(
        "folder", nargs="?", default=FOLDER, metavar="FOLDER", help=f"a new or an empty folder (default: {FOLDER})"
    )


def run(options: Namespace, response: "Response") -> int:
    """Copy the kits, and say how to open them."""
    from kitbuilder.kitfile.demo import copy_demo
    from kitbuilder.report.demo import demo_page

    if not options.folder.isprintable():
        return response.refuse(
            f"demo: {options.folder}: a name must not have unprintable characters. Name another folder"
        )
    try:
        files = copy_demo(Path(options.folder))
    except FileExistsError:
        return response.refuse(
            f"demo: {options.folder}: the folder is not empty and is left unchanged. "
            f"Name a new folder, or open this one: kitbuilder {options.folder}"
        )
    except OSError as error:
        return response.refuse(f"demo: {options.folder}: {error.strerror or error}. Name another folder")
    return response.give(demo_page(options.folder, files), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.demo import SHAPE

    return SHAPE


def opens(options: Namespace) -> str:
    """Give the folder that the app shows afterwards."""
    return str(options.folder)


COMMAND = Command(
    name="demo",
    arguments="[FOLDER]",
    summary="copy finished kits to a new folder and open it",
    details="In a terminal the app opens; elsewhere, or with --json, the command only copies. Nothing is overwritten.",
    heading="Demo kits",
    example=Example("kitbuilder demo my-first-kits", DONE),
    exit_codes={DONE: "the kits were copied", UNREADABLE: "the folder holds something, or cannot be written"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
    opens=opens,
    without_units="It shows no quantity.",
)

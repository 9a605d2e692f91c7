"""kitbuilder format: the reference page of the file formats, and every JSON Schema."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands import NAMES, command_named
from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape

FILES = ("kit", "diver", "stock", "gear", "trip")
ANSWER = "-answer"
"""Ends the name of the schema of what a command prints: "gear" is a file, "gear-answer" is printed."""


def add_arguments(parser: ArgumentParser) -> None:
    """Declare which schema to print instead of the page."""
    parser.add_argument(
        "--json-schema",
        nargs="?",
        metavar="NAME",
        choices=(*FILES, *(f"{name}{ANSWER}" for name in NAMES)),
        const="kit",
        help="print a JSON Schema instead: of kit files (default), of diver, stock, gear or trip files, or of what a "
        "command prints as JSON, such as check-answer",
    )


def run(options: Namespace, response: "Response") -> int:
    """Print a schema, the page, which is Markdown as it stands, or as JSON the list of schemas."""
    from kitbuilder.kitfile.reference import reference_page
    from kitbuilder.report.schemas import schemas_page

    if options.json_schema:
        write_out(_schema_text(options.json_schema))
        return DONE
    if response.is_for_people:
        write_out(reference_page())
        return DONE
    return response.give(schemas_page(_titles()), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.schemas import SHAPE

    return SHAPE


def _schema_text(name: str) -> str:
    import json

    return json.dumps(_schema(name), indent=2, ensure_ascii=False) + "\n"


def _schema(name: str) -> "Shape":
    """Make the schema of a kind of file, or of what a command prints."""
    from kitbuilder.kit.file_kinds import FILE_KINDS
    from kitbuilder.kitfile.reference import json_schema
    from kitbuilder.report.shapes import answer_schema

    if name in FILES:
        return json_schema(FILE_KINDS[name])
    command = command_named(name.removesuffix(ANSWER))
    return answer_schema(command.name, command.shape())


def _titles() -> dict[str, str]:
    files = {name: f"{name} files" for name in FILES}
    return files | {f"{name}{ANSWER}": f"what kitbuilder {name} prints as JSON" for name in NAMES}


COMMAND = Command(
    name="format",
    arguments="",
    summary="print the reference page of the file formats",
    details="The page covers kit, diver, stock, gear and trip files. With --json alone: the list of the JSON Schemas "
    "that --json-schema can print.",
    example=Example("kitbuilder format", DONE),
    exit_codes={DONE: "the page or the schema was printed", UNREADABLE: "there is no such schema"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
    without_document="The page is Markdown as it stands, and a schema is JSON: redirect what is printed.",
    without_units="The page shows every unit that a file may use; there is nothing to convert.",
)

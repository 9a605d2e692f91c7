"""kitbuilder format: the reference page of the file formats, and their JSON Schemas."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import DONE, Command, Example
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response


def add_arguments(parser: ArgumentParser) -> None:
    """Declare which schema to print instead of the page."""
    parser.add_argument(
        "--json-schema",
        nargs="?",
        choices=("kit", "diver", "stock", "gear"),
        const="kit",
        help="print the JSON Schema of kit files (default), or of diver, stock or gear files, instead",
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the page or a schema; JSON alone is the schema of kit files."""
    from kitbuilder.kitfile.reference import reference_page, schema_text

    schema = options.json_schema or ("kit" if options.json else None)
    write_out(schema_text(schema) if schema else reference_page())
    return DONE


COMMAND = Command(
    name="format",
    arguments="",
    summary="print the reference page of the kit file format",
    details="The page covers kit, diver, stock and gear files. With --json alone: the JSON Schema of kit files.",
    example=Example("kitbuilder format --json-schema diver", DONE),
    exit_codes={DONE: "the page or the schema was printed"},
    add_arguments=add_arguments,
    run=run,
    without_units="The page shows every unit that a file may use; there is nothing to convert.",
)

"""kitbuilder losses: what still works when something fails."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.answers import print_json
from kitbuilder.commands.command import DONE, UNREADABLE, Command, Example
from kitbuilder.commands.reading import assessed_kits
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit."""
    parser.add_argument("file", metavar="FILE", help="a kit file")


def run(options: Namespace, response: "Response") -> int:
    """Print each failure and what it takes with it; the text ends with the cautions."""
    from kitbuilder.plans.losses import work_out_losses
    from kitbuilder.report import losses
    from kitbuilder.report.numbers import System

    kits = assessed_kits([options.file])
    for name, assessment in kits:
        found = work_out_losses(assessment)
        if options.json:
            print_json(losses.losses_json(name, found))
        else:
            write_out(losses.losses_text(name, found, System(options.units)))
    return DONE if kits else UNREADABLE


COMMAND = Command(
    name="losses",
    arguments="FILE",
    summary="print what still works when a valve, a first stage or a hose fails",
    details="For each valve closed, each first stage lost and each hose burst. How long a burst hose takes to empty "
    "the cylinders is an estimate, printed with its assumptions.",
    example=Example("kitbuilder losses configs/twinset.toml", DONE),
    exit_codes={DONE: "the losses were worked out", UNREADABLE: "the file cannot be read"},
    add_arguments=add_arguments,
    run=run,
)

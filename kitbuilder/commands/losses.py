"""kitbuilder losses: what still works when something fails."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit."""
    parser.add_argument("file", metavar="FILE", help="a kit file")


def run(options: Namespace, response: "Response") -> int:
    """Print each failure and what it disables; the text ends with the cautions."""
    from kitbuilder.plans.losses import work_out_losses
    from kitbuilder.report.losses import losses_page

    kits = response.assessed([options.file])
    if not kits:
        return response.without_answer()
    [(name, assessment)] = kits
    response.not_used(assessment.kit.linked.problems, options.file)
    return response.give(losses_page(name, work_out_losses(assessment)), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.losses import SHAPE

    return SHAPE


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
    shape=shape,
)

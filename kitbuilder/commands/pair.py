"""kitbuilder pair: what two or three divers must agree on before the dive."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two or three kits."""
    parser.add_argument("first", metavar="A", help="the kit file of one diver")
    parser.add_argument("second", metavar="B", help="the kit file of another diver")
    parser.add_argument("third", metavar="C", nargs="?", help="the kit file of a third diver")


def run(options: Namespace, response: "Response") -> int:
    """Print what to agree on, and what each diver can give the other."""
    from kitbuilder.plans.pair.members import kits_of_one_diver
    from kitbuilder.plans.pair.pair import pair_up
    from kitbuilder.report.pair import pair_page, pair_problems

    names = [name for name in (options.first, options.second, options.third) if name is not None]
    if double := _given_twice(names):
        return response.refuse(
            f"pair: {double} is given twice. A pair is two divers, each with a kit file of their own: name another kit"
        )
    kits = response.assessed(names)
    if len(kits) < len(names):
        return response.without_answer()
    if complaint := kits_of_one_diver(kits):
        return response.refuse(f"pair: {complaint}. Name the kit of another diver, or give one kit another diver file")
    found = pair_up(kits)
    response.not_used(pair_problems(found))
    return response.give(pair_page(found), FOUND if found.must_agree else DONE)


def _given_twice(names: list[str]) -> str:
    """Give a file that is named twice, whatever way it is written; empty when none is."""
    seen: set[Path] = set()
    for name in names:
        try:
            path = Path(name).resolve()
        except (OSError, ValueError, RuntimeError):  # a name that the system cannot follow is refused when it is read
            path = Path(name)
        if path in seen:
            return name
        seen.add(path)
    return ""


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.pair import SHAPE

    return SHAPE


COMMAND = Command(
    name="pair",
    arguments="A B [C]",
    summary="print what the divers of a pair must agree on before the dive",
    details="Who hands over which second stage and whether it reaches the other's mouth, with both bodies laid out; "
    "gas and reserves in both units; what of one kit joins the other; lead and lift; what the pair has only once. How "
    "much gas brings both up is not planned here.",
    example=Example("kitbuilder pair configs/pair/host.toml configs/pair/guest.toml", FOUND),
    exit_codes={
        DONE: "there is nothing to agree on",
        FOUND: "there is something to agree on",
        UNREADABLE: "a file cannot be read or is given twice, or two kits are of one diver",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)

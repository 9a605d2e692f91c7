"""kitbuilder new: a complete kit from a few answers."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.numbers import System
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare the file and the answers; what is left out counts as not known."""
    parser.add_argument("file", metavar="FILE", help="the new kit file; .toml is added where it is left out")
    parser.add_argument("--layout", metavar="LAYOUT", help="single, twinset or sidemount (default: single)")
    parser.add_argument("--style", metavar="STYLE", help='"wing", "twinset with stages", ... (default: the usual one)')
    parser.add_argument("--suit", metavar="SUIT", help='"5 mm wetsuit", "drysuit, medium undersuit", ...')
    parser.add_argument(
        "--cylinder", metavar="CYLINDER", help='"al80", "steel 15", or as stamped: "steel 12 L 232 bar 14.2 kg"'
    )
    parser.add_argument("--water", metavar="WATER", help="fresh, brackish, ocean or salty sea (default: ocean)")
    parser.add_argument("--body", metavar="BODY", help="of the hoses: rubber, braided or polyurethane")
    parser.add_argument(
        "--file-units",
        choices=("metric", "imperial"),
        help="lead in pieces of kilograms or pounds, hoses in cm or inches (default: as --units; with --json: metric)",
    )
    who = parser.add_argument_group("who dives")
    who.add_argument("--diver", metavar="FILE", help="a diver file of the same folder")
    who.add_argument("--stature", metavar="LENGTH", help='body height for a new diver file: "178 cm"')
    who.add_argument("--mass", metavar="MASS", help='body mass: "82 kg"')
    who.add_argument("--sex", metavar="SEX", help="male or female")


def run(options: Namespace, response: "Response") -> int:
    """Write the kit, and print its lead, fit and mass."""
    from kitbuilder.catalogue.styles import styles
    from kitbuilder.commands.making import BODY_KEYS, WhoDives, make_kit, title_of
    from kitbuilder.kit.items import LAYOUTS
    from kitbuilder.kitfile.disk import complain_of_path, path_typed, with_ending
    from kitbuilder.kitfile.overrides import sex_named
    from kitbuilder.kitfile.starters import Answers, bodies, waters
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.report.new import NewKit, new_kit_page

    known = styles()
    layout = options.layout and response.word_meant("new: --layout", options.layout, "layout", LAYOUTS)
    of_layout = [style.name for style in known.styles.values() if layout in (None, style.layout)]
    style = options.style or known.usual_of(layout or LAYOUTS[0]).name
    lists = {"style": of_layout, "suit": tuple(known.exposures), "water": waters(), "body": bodies()}
    typed = {"style": style, "suit": options.suit, "water": options.water, "body": options.body}
    words = {
        name: word and response.word_meant(f"new: --{name}", word, name, lists[name]) for name, word in typed.items()
    }
    if response.problems:
        return response.without_answer()
    keys = {key: text for key in BODY_KEYS if (text := getattr(options, key)) is not None}
    if "sex" in keys:
        keys["sex"] = sex_named(keys["sex"])
    if options.diver is not None and keys:
        return response.refuse(f"new: found --diver and --{min(keys)}. Name a diver file, or describe the diver")
    name = with_ending(options.file)
    if wrong := complain_of_path(Path(), name):
        return response.refuse(
            f'new: {options.file}: {wrong}. Nothing was written. Name another file, such as "my-kit"'
        )
    path = path_typed(Path(), name)
    answers = Answers(
        title_of(path.name), words["style"] or style, words["suit"], options.cylinder, words["water"], words["body"]
    )
    try:
        made = make_kit(path, answers, WhoDives(options.diver, keys), _file_units(options, response))
    except Refusal as refusal:
        return response.refuse(f"new: {refusal}")
    except OSError as error:
        return response.refuse(f"new: {name}: {error.strerror or error}. Nothing was written. Name another file")
    diver = str(made.diver) if made.diver else None
    return response.give(new_kit_page(NewKit(name, diver, made.assessment, made.plan)), DONE)


def _file_units(options: Namespace, response: "Response") -> "System":
    """Give the units that the file is written in. What a program gets does not depend on what people are shown."""
    from kitbuilder.report.numbers import System

    shown = (response.is_for_people and options.units) or "metric"
    return System(options.file_units or shown)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.new import SHAPE

    return SHAPE


COMMAND = Command(
    name="new",
    arguments="FILE",
    summary="write a complete new kit, and print its lead and what to measure",
    details="What you leave out counts as not known, and a usual value is used. An existing file is never overwritten.",
    heading="New kit",
    example=Example('kitbuilder new my-kit --layout single --style wing --stature 178cm --mass "82 kg"', DONE),
    exit_codes={
        DONE: "the kit was written",
        UNREADABLE: "an answer is not accepted, or the file exists already; nothing was written",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)

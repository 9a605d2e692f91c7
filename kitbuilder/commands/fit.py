"""kitbuilder fit: the advised length of each hose, and what to buy."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kit.stock import Stock
    from kitbuilder.plans.fitting import FittingPlan
    from kitbuilder.report.numbers import System
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit or a layout, a stock, measured runs, the body, and where to write the picture."""
    from kitbuilder.kitfile.overrides import BODY_FIELDS

    parser.add_argument("file", nargs="?", metavar="FILE", help="a kit file")
    parser.add_argument("--layout", metavar="LAYOUT", help="usual hoses of single, twinset or sidemount, all to buy")
    parser.add_argument("--stock", metavar="FILE", help="which hoses are available: a stock file, TOML or CSV")
    parser.add_argument(
        "--run",
        dest="runs",
        action="append",
        default=[],
        metavar="TAG=LENGTH",
        help="a run measured by string; may be repeated",
    )
    body = parser.add_argument_group("the body, instead of the kit's diver file")
    for field in BODY_FIELDS:
        meaning = f"{field.meaning} {field.example}".replace("%", "%%")
        body.add_argument(f"--{field.key.replace('_', '-')}", metavar="VALUE", dest=f"body_{field.key}", help=meaning)
    parser.add_argument("--to-buy", action="store_true", help="only the shopping list, for one sheet; not in JSON")
    parser.add_argument("--svg", metavar="FILE", help="also write the picture of all routes to this file")


def run(options: Namespace, response: "Response") -> int:
    """Print the fitting of a kit, or of the usual hoses of a layout."""
    from kitbuilder.kit.items import LAYOUTS
    from kitbuilder.kit.resolved import resolve
    from kitbuilder.kitfile.reader import read_kit as parse_kit
    from kitbuilder.kitfile.starters import starter_text

    if (options.file is None) == (options.layout is None):
        is_both = options.file is not None
        return response.refuse(f"fit: name a kit file or --layout{', not both' if is_both else ''}")
    if options.layout is None:
        kit = response.kit(options.file)
        return response.without_answer() if kit is None else _fit_kit(options, response, kit)
    layout = response.word_meant("fit: --layout", options.layout, "layout", LAYOUTS)
    if layout is None:
        return response.without_answer()
    starter = parse_kit(starter_text(layout, f"The usual hoses of a {layout}")).kit
    assert starter is not None, "a starter reads as a kit"
    return _fit_kit(options, response, resolve(starter))


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.fit import SHAPE

    return SHAPE


def _fit_kit(options: Namespace, response: "Response", kit: "ResolvedKit") -> int:
    from kitbuilder.assess.assessment import assess
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.fitting import plan_fitting
    from kitbuilder.report.fit import fit_page, shopping_page

    if without_length := [text for text in options.runs if "=" not in text]:
        return response.refuse(f'fit: --run: found "{without_length[0]}". Accepted: the tag of a hose, =, and its run')
    try:
        kit = _with_body_and_runs(options, kit)
    except Refusal as refusal:
        return response.refuse(f"fit: {refusal}")
    if options.stock is not None:
        read = response.stock(options.stock)
        if read is None:
            return response.without_answer()
        kit = _with_stock(kit, *read)
    plan = plan_fitting(assess(kit), buy_all=options.layout is not None)
    name = options.file or f"layout {options.layout}"
    if options.svg is not None and (complaint := _write_picture(Path(options.svg), plan, response.system)):
        return response.refuse(complaint)
    response.not_used(kit.linked.problems, options.file)
    code = FOUND if any(fitted.is_bought or fitted.is_stuck for fitted in plan.hoses) and options.file else DONE
    is_list = options.to_buy and response.is_for_people
    return response.give(shopping_page(name, plan) if is_list else fit_page(name, plan), code)


def _with_body_and_runs(options: Namespace, kit: "ResolvedKit") -> "ResolvedKit":
    """Put the body and the runs of the options in place of those of the files.

    Raises:
        Refusal: A value is not accepted.
    """
    from dataclasses import replace

    from kitbuilder.kitfile.overrides import BODY_FIELDS, override_diver, override_runs

    given = {field.key: getattr(options, f"body_{field.key}") for field in BODY_FIELDS}
    diver = override_diver(kit.linked.diver, {key: text for key, text in given.items() if text is not None})
    kit = override_runs(kit, {text.rpartition("=")[0]: text.rpartition("=")[2] for text in options.runs})
    return replace(kit, linked=kit.linked._replace(diver=diver))


def _with_stock(kit: "ResolvedKit", stock: "Stock", problems: tuple[str, ...]) -> "ResolvedKit":
    """Put a stock in place of the one that the kit names."""
    from dataclasses import replace

    return replace(kit, linked=kit.linked._replace(stock=stock, stock_problems=problems))


def _write_picture(path: Path, plan: "FittingPlan", system: "System") -> str | None:
    """Write the picture of a fitting; gives what went wrong, or nothing."""
    from kitbuilder.kitfile.disk import save_text
    from kitbuilder.report.route_picture import route_svg

    if path.suffix != ".svg":  # a slip would write over a kit
        return f'fit: --svg: found "{path}". Name a file that ends in .svg'
    try:
        save_text(path, route_svg(plan, system))
    except OSError as error:
        return f"{path}: {error.strerror or error}. Nothing was written there. Name another file that ends in .svg"
    return None


COMMAND = Command(
    name="fit",
    arguments="[FILE]",
    summary="print the advised length of each hose, and what to buy",
    details="For the body that wears the kit: the length of each hose with its uncertainty, which other lengths are "
    "long enough, and a shopping list. Without a kit file, give a layout: its usual hoses are fitted.",
    example=Example('kitbuilder fit --layout twinset --stature 178cm --mass "82 kg"', DONE),
    exit_codes={
        DONE: "nothing to buy for this kit, or a layout was fitted",
        FOUND: "a hose of this kit has to be bought or moved",
        UNREADABLE: "a file or a value cannot be read, or the picture cannot be written",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)

"""The commands, thin: read the words, call what does the work, print what comes back."""

import argparse
import gc
import json
import os
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from kitbuilder import __version__
from kitbuilder.foreign import visible
from kitbuilder.streams import OutputLost, claim_closed_streams, drop, flush_out, write_error, write_out

if TYPE_CHECKING:
    from _typeshed import SupportsWrite

    from kitbuilder.assess.assessment import Assessment
    from kitbuilder.kit.locker import Locker
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kitfile.reader import Reading
    from kitbuilder.plans.fitting import FittingPlan
    from kitbuilder.report.numbers import System

COMMANDS = ("check", "compare", "ballast", "fit", "changeover", "fewest", "locker", "losses", "threads", "format")
DONE, FOUND, UNREADABLE = 0, 1, 2
NOT_WRITTEN = 74
"""Standard output is closed or full: EX_IOERR of sysexits.h, so that nobody takes it for findings."""

COMMAND_LIST = """\
commands; each takes --help:
  kitbuilder check FILE...    print figures and findings of kit files
  kitbuilder compare A B      print two kits side by side
  kitbuilder ballast FILE     print the lead for other waters and cylinders
  kitbuilder fit FILE         print which hose lengths to have, and what to buy
  kitbuilder changeover A B   print how kit A is rebuilt as kit B, as a checklist
  kitbuilder fewest KIT...    print the smallest set of hoses that serves all these kits
  kitbuilder locker FILE      print the things owned, where each is used, and what is due
  kitbuilder losses FILE      print what still works when a valve, a first stage or a hose fails
  kitbuilder threads          name the threads a caliper reading allows
  kitbuilder format           print the reference page of the kit file format

A folder named like a command is opened as ./check.
"""


class Parser(argparse.ArgumentParser):
    """Reads the words of the command line. Its errors repeat arguments, so they are written as everything else is."""

    def __init__(self, *args: Any, **options: Any) -> None:  # noqa: ANN401  what argparse takes
        """Make a parser without colours: escape sequences of its own would be written out with the others."""
        super().__init__(*args, **options)
        self.color = False

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the words, and end."""
        super().error(visible(message))

    def _print_message(self, message: str, file: "SupportsWrite[str] | None" = None) -> None:
        if file is sys.stdout:
            write_out(message)
            flush_out()
        else:
            write_error(message)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Gives its exit code: 0 fine, 1 findings of caution or worse, 2 not read or not understood, 74 not written out.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    claim_closed_streams()
    try:
        if words and words[0] in COMMANDS:
            options = _command_parser().parse_args(words)
            code = int(options.run(options))
            flush_out()
            return code
        return _open(_open_parser().parse_args(words))
    except BrokenPipeError:
        # The reader of a pipe went away, as `head` does; nothing is wrong, and nothing more is written.
        drop(sys.stdout)
        return DONE
    except OutputLost as lost:
        drop(sys.stdout)
        _complain(f"standard output: {lost}. What is printed is not complete; write it elsewhere")
        return NOT_WRITTEN


def _open_parser() -> Parser:
    parser = Parser(
        prog="kitbuilder",
        description="Open a folder of kit files, or one kit file. With a command in place of it, print instead.",
        epilog=COMMAND_LIST,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "path", nargs="?", default=".", metavar="FOLDER|FILE", help="what to open (default: this folder)"
    )
    parser.add_argument("--units", choices=("metric", "imperial"), default="metric", help="units shown at first")
    parser.add_argument(
        "--plain-pictures", action="store_true", help="draw with letters and signs, without braille dots"
    )
    parser.add_argument("--version", action="version", version=f"kitbuilder {__version__}")
    return parser


def _command_parser() -> Parser:
    parser = Parser(prog="kitbuilder")
    commands = parser.add_subparsers(required=True)

    check = commands.add_parser("check", help="print figures and findings of kit files")
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--json", action="store_true", help="print JSON, one list for all files")
    check.add_argument("--units", choices=("metric", "imperial"), default="metric")
    check.set_defaults(run=_check)

    compare = commands.add_parser("compare", help="print two kits side by side")
    compare.add_argument("left", metavar="A", help="a kit file")
    compare.add_argument("right", metavar="B", help="another one")
    compare.add_argument("--json", action="store_true", help="print JSON")
    compare.add_argument("--units", choices=("metric", "imperial"), default="metric")
    compare.set_defaults(run=_compare)

    ballast = commands.add_parser("ballast", help="print the lead for other waters and cylinders")
    ballast.add_argument("file", metavar="FILE", help="a kit file")
    ballast.add_argument(
        "--water", action="append", default=[], metavar="NAME", help="fresh, ocean, ...; may be repeated"
    )
    ballast.add_argument(
        "--cylinder", action="append", default=[], metavar="PRESET", help='"aluminium 11.1 L 207", ...; may be repeated'
    )
    ballast.add_argument("--json", action="store_true", help="print JSON")
    ballast.add_argument("--units", choices=("metric", "imperial"), default="metric")
    ballast.set_defaults(run=_ballast)

    fit = commands.add_parser(
        "fit",
        help="print which hose lengths to have, and what to buy",
        description="Print which length each hose should have for the body that wears it, how sure that is, and a "
        "shopping list. Without a kit file, name a layout: its usual hoses are fitted.",
    )
    fit.add_argument("file", nargs="?", metavar="FILE", help="a kit file")
    fit.add_argument("--layout", metavar="LAYOUT", help="the usual hoses of single, twinset or sidemount, all to buy")
    fit.add_argument("--stock", metavar="FILE", help="what is to be had: a stock file, TOML or CSV")
    fit.add_argument(
        "--run",
        dest="runs",
        action="append",
        default=[],
        metavar="TAG=LENGTH",
        help="a run measured by string; may be repeated",
    )
    _add_body_options(fit)
    fit.add_argument("--svg", metavar="FILE", help="write the picture of all routes there, too")
    fit.add_argument("--json", action="store_true", help="print JSON")
    fit.add_argument("--units", choices=("metric", "imperial"), default="metric")
    fit.set_defaults(run=_fit)

    changeover = commands.add_parser(
        "changeover",
        help="print how kit A is rebuilt as kit B, as a checklist",
        description="Print the least work that turns one built kit into the other: what becomes of each hose, what to "
        "have at hand, and every step in order, with spanners, torque, O-rings, and the checks that follow.",
    )
    changeover.add_argument("left", metavar="A", help="the kit that is built")
    changeover.add_argument("right", metavar="B", help="the kit that is to be built")
    changeover.add_argument("--locker", metavar="FILE", help="what is owned besides; the kit's own locker unless said")
    changeover.add_argument("--json", action="store_true", help="print JSON")
    changeover.add_argument("--units", choices=("metric", "imperial"), default="metric")
    changeover.set_defaults(run=_changeover)

    _add_fewest(commands)

    locker = commands.add_parser("locker", help="print the things owned, where each is used, and what is due")
    locker.add_argument("file", metavar="FILE", help="a locker file; the kits beside it that name it are looked at")
    locker.add_argument(
        "--day", metavar="DAY", help='by when things are to be in order, "2027-05-14"; today unless said'
    )
    locker.add_argument("--json", action="store_true", help="print JSON")
    locker.add_argument("--units", choices=("metric", "imperial"), default="metric")
    locker.set_defaults(run=_locker)

    losses = commands.add_parser(
        "losses",
        help="print what still works when a valve, a first stage or a hose fails",
        description="Print, for each valve closed, each first stage lost and each hose burst, what still works, and "
        "how long a burst hose takes to empty the cylinders: an estimate, with what it takes for granted.",
    )
    losses.add_argument("file", metavar="FILE", help="a kit file")
    losses.add_argument("--json", action="store_true", help="print JSON")
    losses.add_argument("--units", choices=("metric", "imperial"), default="metric")
    losses.set_defaults(run=_losses)

    threads = commands.add_parser("threads", help="name the threads a caliper reading allows")
    threads.add_argument("--major", metavar="LENGTH", help='outside of a male thread: "9.5 mm", "0.374 in"')
    threads.add_argument("--minor", metavar="LENGTH", help='inside of a female thread: "8.5 mm"')
    threads.add_argument("--pitch", metavar="PITCH", help='"24 tpi" or "1.06 mm"')
    threads.add_argument("--caliper", metavar="LENGTH", help='how far the caliper may be off (default: "0.05 mm")')
    threads.add_argument("--units", choices=("metric", "imperial"), default="metric")
    threads.set_defaults(run=_threads)

    page = commands.add_parser("format", help="print the reference page of the kit file format")
    page.add_argument(
        "--json-schema",
        nargs="?",
        choices=("kit", "diver", "stock", "locker"),
        const="kit",
        help="print the JSON Schema of kit files, or of diver, stock or locker files, instead",
    )
    page.set_defaults(run=_format)
    return parser


def _add_fewest(commands: "argparse._SubParsersAction[Parser]") -> None:
    fewest = commands.add_parser(
        "fewest",
        help="print the smallest set of hoses that serves all these kits",
        description="Print the smallest set of hoses that serves several kits which are never dived at once: which "
        "hose serves which kit, what to buy, why each is needed, and the second best where it costs little more.",
    )
    fewest.add_argument("files", nargs="+", metavar="KIT", help="a kit file")
    fewest.add_argument(
        "--from",
        dest="source",
        choices=("both", "locker", "stock"),
        default="both",
        help="where hoses may come from: what is owned, what is to be had, or both (default)",
    )
    fewest.add_argument("--locker", metavar="FILE", help="what is owned; the first locker the kits name unless said")
    fewest.add_argument("--stock", metavar="FILE", help="what is to be had; the first stock the kits name unless said")
    fewest.add_argument(
        "--order",
        choices=("fewest", "lightest", "cheapest"),
        default="fewest",
        help="what comes first (default: fewest); the others follow in that order",
    )
    fewest.add_argument("--any-body", action="store_true", help="a hose may have another body than the kit's")
    fewest.add_argument("--time", metavar="SECONDS", type=float, default=10.0, help="when to stop (default: 10)")
    fewest.add_argument("--json", action="store_true", help="print JSON")
    fewest.add_argument("--units", choices=("metric", "imperial"), default="metric")
    fewest.set_defaults(run=_fewest)


def _add_body_options(parser: argparse.ArgumentParser) -> None:
    """The keys of a diver file that tell of the body, as options."""
    from kitbuilder.kitfile.told import BODY_FIELDS

    body = parser.add_argument_group("the body, in place of the kit's diver file")
    for field in BODY_FIELDS:
        meaning = f"{field.meaning} {field.example}".replace("%", "%%")
        body.add_argument(f"--{field.key.replace('_', '-')}", metavar="VALUE", dest=f"body_{field.key}", help=meaning)


def _open(options: argparse.Namespace) -> int:
    path = Path(options.path)
    if not path.exists():
        return _complain(f"{options.path}: there is no such file or folder. Check the name")
    if not all(os.isatty(stream) for stream in range(3)):  # the app reads keys from 0 and draws on 2
        return _complain(
            "the app has to be started in a terminal, without redirected input or output. "
            "To print without one, use a command, such as kitbuilder check FILE"
        )
    gc.disable()  # nothing of what is loaded now is garbage, and looking for some takes a tenth of the start

    from kitbuilder.app.app import run_app
    from kitbuilder.report.numbers import System

    return run_app(path, System(options.units), plain_pictures=options.plain_pictures)


def _check(options: argparse.Namespace) -> int:
    from kitbuilder.kitfile.read import read

    code, rows = DONE, list[dict[str, Any]]()
    for name in options.files:
        reading = read(Path(name))
        code = max(code, _check_file(name, reading, options, rows))
    if options.json:
        _print_json(rows)
    else:
        _print_cautions()
    return code


def _check_file(name: str, reading: "Reading", options: argparse.Namespace, rows: list[dict[str, Any]]) -> int:
    """Print what there is to say about one file, or put it into the rows for JSON; gives its exit code."""
    from kitbuilder.assess.assessment import assess
    from kitbuilder.assess.findings import Signal
    from kitbuilder.report import check
    from kitbuilder.report.numbers import System

    system = System(options.units)
    if reading.resolved is None:
        if options.json:
            rows.append(check.file_json(name, reading))
        else:
            write_out(check.file_text(name, reading) + "\n" if reading.contents else "")
            write_error(check.problems_text(name, reading.problems) if reading.problems else "")
        return UNREADABLE if reading.contents is None else FOUND if reading.problems else DONE
    assessment = assess(reading.resolved)
    if options.json:
        rows.append(check.check_json(name, reading, assessment, system))
    else:
        write_out(check.check_text(name, reading, assessment, system) + "\n")
    return FOUND if assessment.worst is not None and assessment.worst >= Signal.CAUTION else DONE


def _compare(options: argparse.Namespace) -> int:
    from kitbuilder.plans.side_by_side import set_side_by_side
    from kitbuilder.report import compare
    from kitbuilder.report.numbers import System

    names = (options.left, options.right)
    kits = _assessed_kits(names)
    if len(kits) < len(names):
        return UNREADABLE
    (_, left), (_, right) = kits
    found = set_side_by_side(left, right)
    if options.json:
        _print_json(compare.compare_json(found, names))
    else:
        write_out(compare.compare_text(found, names, System(options.units)))
        _print_cautions()
    return DONE


def _ballast(options: argparse.Namespace) -> int:
    from kitbuilder.assess.assessment import assess
    from kitbuilder.plans.ballast import ask_ballast, cylinder_names, water_names
    from kitbuilder.report import ballast
    from kitbuilder.report.numbers import System

    for asked, known in ((options.water, water_names()), (options.cylinder, cylinder_names())):
        for name in asked:
            if name not in known:
                return _complain(_unknown_word("ballast", name, known))
    kit = _read_kit(options.file)
    if kit is None:
        return UNREADABLE
    found = ask_ballast(kit, options.water, options.cylinder)
    missing = tuple(item for item in assess(kit).unchecked if item.rule in ballast.RULES)
    if options.json:
        _print_json(ballast.ballast_json(options.file, found, missing, System(options.units)))
    else:
        write_out(ballast.ballast_text(options.file, found, missing, System(options.units)) + "\n")
        _print_cautions()
    return DONE if found.answers else FOUND


def _fit(options: argparse.Namespace) -> int:
    from kitbuilder.kit.resolved import resolve
    from kitbuilder.kit.things import LAYOUTS
    from kitbuilder.kitfile.reader import read_kit
    from kitbuilder.kitfile.starters import starter_text

    if (options.file is None) == (options.layout is None):
        return _complain("fit: found neither a kit file nor --layout, or both. Name one of them")
    if options.layout is None:
        kit = _read_kit(options.file)
        return UNREADABLE if kit is None else _fit_kit(options, kit)
    if options.layout not in LAYOUTS:
        return _complain(_unknown_word("fit: --layout", options.layout, LAYOUTS))
    starter = read_kit(starter_text(options.layout, f"The usual hoses of a {options.layout}")).kit
    assert starter is not None, "a starter reads as a kit"
    return _fit_kit(options, resolve(starter))


def _fit_kit(options: argparse.Namespace, kit: "ResolvedKit") -> int:
    from dataclasses import replace

    from kitbuilder.assess.assessment import assess
    from kitbuilder.kit.files import STOCK_FILE
    from kitbuilder.kitfile.read import read
    from kitbuilder.kitfile.told import BODY_FIELDS, told_diver, told_runs
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.fitting import plan_fitting
    from kitbuilder.report import check, fit
    from kitbuilder.report.numbers import System

    system, linked = System(options.units), kit.linked
    told = {field.key: getattr(options, f"body_{field.key}") for field in BODY_FIELDS}
    if without_length := [text for text in options.runs if "=" not in text]:
        return _complain(f'fit: --run: found "{without_length[0]}". Accepted: the tag of a hose, =, and its run')
    try:
        diver = told_diver(linked.diver, {key: text for key, text in told.items() if text is not None})
        kit = told_runs(kit, {text.rpartition("=")[0]: text.rpartition("=")[2] for text in options.runs})
    except Refusal as refusal:
        return _complain(f"fit: {str(refusal).rstrip('.')}")
    if options.stock is not None:
        reading = read(Path(options.stock), STOCK_FILE)
        if reading.stock is None:
            write_error(check.problems_text(options.stock, reading.problems))
            return UNREADABLE
        problems = tuple(problem.located(options.stock) for problem in reading.problems)
        linked = linked._replace(stock=reading.stock, stock_problems=problems)
    kit = replace(kit, linked=linked._replace(diver=diver))
    plan = plan_fitting(assess(kit), buy_all=options.layout is not None)
    name = options.file or f"layout {options.layout}"
    if options.svg is not None and (complaint := _write_picture(Path(options.svg), plan, system)):
        return _complain(complaint)
    if options.json:
        _print_json(fit.fit_json(name, plan))
    else:
        write_out(fit.fit_text(name, plan, system) + "\n")
        _print_cautions()
    return FOUND if any(fitted.is_bought for fitted in plan.hoses) and options.file else DONE


def _changeover(options: argparse.Namespace) -> int:
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover
    from kitbuilder.report import changeover
    from kitbuilder.report.linked import problems_of
    from kitbuilder.report.numbers import System

    names, system = (options.left, options.right), System(options.units)
    if Path(names[0]).resolve() == Path(names[1]).resolve():
        return _complain(f"changeover: {names[0]} is named twice. Name the kit that is built, then the one to build")
    kits = _assessed_kits(names)
    if len(kits) < len(names):
        return UNREADABLE
    (_, source), (_, target) = kits
    locker = None
    if options.locker is not None and (locker := _read_locker(options.locker)) is None:
        return UNREADABLE
    try:
        plan = plan_changeover(source, target, locker)
    except Unbuildable as problem:
        not_used = problems_of(zip(names, (source.kit, target.kit), strict=True))
        if options.json:
            _print_json(changeover.unbuildable_json(problem, names, not_used))
        file = changeover.file_of(problem, source.kit, names)
        write_error(changeover.unbuildable_text(problem, file, not_used, system))
        return UNREADABLE
    if options.json:
        _print_json(changeover.changeover_json(plan, names))
    else:
        write_out(changeover.changeover_text(plan, names, system) + "\n")
        _print_cautions()
    return FOUND if plan.match.bought else DONE


def _fewest(options: argparse.Namespace) -> int:
    from kitbuilder.assess.findings import Signal
    from kitbuilder.kit.files import STOCK_FILE
    from kitbuilder.kitfile.read import read
    from kitbuilder.plans.fewest import ORDERS, find_fewest, sources_beside, sources_from
    from kitbuilder.report import check, fewest
    from kitbuilder.report.linked import problems_of
    from kitbuilder.report.numbers import System

    paths = [Path(name).resolve() for name in options.files]
    if twice := [name for name, path in zip(options.files, paths, strict=True) if paths.count(path) > 1]:
        return _complain(f"fewest: {twice[0]} is named twice. Name each kit once")
    if not 0.0 <= options.time <= LONGEST_SOLVING_S:
        return _complain(f"fewest: --time: found {options.time:g}. Accepted: from 0 to {LONGEST_SOLVING_S:g} seconds")
    kits = _assessed_kits(options.files)
    if not kits:
        return UNREADABLE
    sources = sources_beside(kits, options.source)
    problems = [*problems_of((name, kit.kit) for name, kit in kits)]
    if options.locker is not None:
        locker = _read_locker(options.locker)
        if locker is None:
            return UNREADABLE
        sources = sources_from(options.source, locker, sources.stock)
    if options.stock is not None:
        reading = read(Path(options.stock), STOCK_FILE)
        if reading.stock is None:
            write_error(check.problems_text(options.stock, reading.problems))
            return UNREADABLE
        problems += [problem.located(options.stock) for problem in reading.problems]
        sources = sources_from(options.source, sources.locker, reading.stock)
    for name, kit in kits:
        if kit.worst is Signal.DANGER:
            _warn(f"{name}: it has dangers of its own, and its hoses are taken as its file says; see check")
    order = ORDERS[options.order]
    plan = find_fewest(kits, sources, order, any_body=options.any_body, time_limit_s=options.time)
    if options.json:
        _print_json(fewest.fewest_json(plan, tuple(problems)))
    else:
        write_out(fewest.fewest_text(plan, tuple(problems), System(options.units)) + "\n")
        _print_cautions()
    if len(kits) < len(options.files):
        return UNREADABLE
    return FOUND if plan.misses else DONE


LONGEST_SOLVING_S = 3600.0


def _locker(options: argparse.Namespace) -> int:
    from datetime import date

    from kitbuilder.assess.findings import Signal
    from kitbuilder.assess.locker import look_at_locker
    from kitbuilder.kit.files import LOCKER_FILE
    from kitbuilder.kitfile.folder import kits_naming, unreadable_naming
    from kitbuilder.kitfile.read import read
    from kitbuilder.kitfile.told import told_day
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.locker import kits_using, needs_of, uses_of
    from kitbuilder.report import check, locker
    from kitbuilder.report.numbers import System

    path = Path(options.file)
    try:
        day = date.today() if options.day is None else told_day(options.day)
    except Refusal as refusal:
        return _complain(f"locker: --day: {str(refusal).rstrip('.')}")
    reading = read(path, LOCKER_FILE)
    if reading.locker is None:
        write_error(check.problems_text(options.file, reading.problems))
        return UNREADABLE
    kits = kits_naming(path)
    uses = uses_of(reading.locker, kits)
    look = look_at_locker(reading.locker, day, kits_using(uses))
    needs = tuple((name, needs_of(kit, reading.locker)) for name, kit in kits)
    broken = unreadable_naming(path)
    for name, problems in broken:
        write_error(check.problems_text(name, problems))
    if options.json:
        _print_json(locker.locker_json(options.file, reading, look, uses, needs, System(options.units)))
    else:
        write_out(locker.locker_text(options.file, reading, look, uses, needs, System(options.units)) + "\n")
        _print_cautions()
    worst = max((finding.signal for finding in look.findings), default=Signal.NOTICE)
    is_short = any(need.lacks for _, need in needs)
    return UNREADABLE if broken else FOUND if worst >= Signal.CAUTION or is_short else DONE


def _losses(options: argparse.Namespace) -> int:
    from kitbuilder.report import losses
    from kitbuilder.report.numbers import System

    kits = _assessed_kits([options.file])
    for name, assessment in kits:
        if options.json:
            _print_json(losses.losses_json(name, assessment))
        else:
            write_out(losses.losses_text(name, assessment, System(options.units)))
    return DONE if kits else UNREADABLE


def _assessed_kits(names: Iterable[str]) -> "list[tuple[str, Assessment]]":
    """Work out the kits of files that can be read, each with its name; say of the others what is wrong."""
    from kitbuilder.assess.assessment import assess

    kits = ((name, _read_kit(name)) for name in names)
    return [(name, assess(kit)) for name, kit in kits if kit is not None]


def _read_kit(name: str) -> "ResolvedKit | None":
    """Read the kit of a file; None after saying what is wrong with it."""
    from kitbuilder.kit.files import KIT_FILE
    from kitbuilder.kitfile.read import read
    from kitbuilder.report import check

    reading = read(Path(name), KIT_FILE)
    if reading.resolved is None:
        write_error(check.problems_text(name, reading.problems))
    return reading.resolved


def _read_locker(name: str) -> "Locker | None":
    """The locker of a file; None after saying what is wrong with it."""
    from kitbuilder.kit.files import LOCKER_FILE
    from kitbuilder.kitfile.read import read
    from kitbuilder.report import check

    reading = read(Path(name), LOCKER_FILE)
    if reading.locker is None:
        write_error(check.problems_text(name, reading.problems))
    return reading.locker


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


def _unknown_word(command: str, word: str, known: Iterable[str]) -> str:
    """What to say of a word that is not in a list: what was found, what is accepted, and what was perhaps meant."""
    from kitbuilder.kitfile.problems import nearest

    accepted = ", ".join(f'"{name}"' for name in known)
    return f'{command}: found "{word}".{nearest(word, known)} Accepted: {accepted}'


def _threads(options: argparse.Namespace) -> int:
    from kitbuilder.assess.threads import Reading, caliper_spread, identify
    from kitbuilder.report.numbers import System
    from kitbuilder.report.threads import threads_text
    from kitbuilder.units import QuantityError, parse_quantity

    try:
        sizes = {
            name: parse_quantity(text, dimension) if text else None
            for name, text, dimension in (
                ("major_m", options.major, "length"),
                ("minor_m", options.minor, "length"),
                ("pitch_m", options.pitch, "pitch"),
            )
        }
        spread = parse_quantity(options.caliper, "length") if options.caliper else caliper_spread()
        candidates = identify(Reading(**sizes), spread)
    except (QuantityError, ValueError) as error:
        return _complain(f"threads: {error}")
    write_out(threads_text(candidates, spread, System(options.units)))
    return DONE if any(candidate.allowed for candidate in candidates) else FOUND


def _format(options: argparse.Namespace) -> int:
    from kitbuilder.kitfile.reference import reference_page, schema_text

    write_out(schema_text(options.json_schema) if options.json_schema else reference_page())
    return DONE


def _print_json(data: object) -> None:
    """In ASCII: any terminal and any encoding can take it, and no character from a file is obeyed."""
    write_out(json.dumps(data, indent=2) + "\n")


def _print_cautions() -> None:
    from textwrap import fill

    from kitbuilder.report.words import CAUTIONS

    write_out(fill(CAUTIONS, 100) + "\n")


def _warn(sentence: str) -> None:
    """Say something in one line of standard error, whatever names are in it."""
    write_error(f"{visible(sentence)}\n")


def _complain(sentence: str) -> int:
    _warn(f"kitbuilder: {sentence.removesuffix('.')}{'' if sentence.endswith('?') else '.'}")
    return UNREADABLE

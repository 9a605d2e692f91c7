"""The rules of the house: who may import whom, and what stays off the start-up path."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from kitbuilder.commands import NAMES
from tests.each import each

PACKAGE = Path(__file__).parents[1] / "kitbuilder"

MAY_IMPORT = {
    "written_numbers": set(),
    "spellings": {"written_numbers"},
    "quantity_errors": {"spellings", "written_numbers"},
    "units": {"quantity_errors", "spellings", "written_numbers"},
    "foreign": set(),
    "word_search": set(),
    "streams": {"foreign"},
    "clock": set(),
    "physics": set(),
    "kit": set(),
    "catalogue": {"physics", "units", "word_search"},
    "kitfile": {"kit", "catalogue", "physics", "spellings", "units", "word_search"},
    "assess": {"kit", "catalogue", "physics", "units"},
    "plans": {"assess", "kit", "catalogue", "physics"},
    "pictures": {"assess", "foreign"},
    "report": {
        "pictures",
        "plans",
        "assess",
        "kit",
        "kitfile",
        "catalogue",
        "spellings",
        "units",
        "foreign",
        "word_search",
    },
    "commands": {
        "report",
        "plans",
        "assess",
        "kitfile",
        "kit",
        "catalogue",
        "units",
        "foreign",
        "streams",
        "clock",
    },
    "app": {"commands", "report", "pictures", "plans", "assess", "kit", "kitfile", "foreign", "clock"},
    "cli": {"app", "commands", "report", "kitfile", "streams"},
    "__main__": {"cli"},
    "__init__": set(),
}
"""What each part may import of the others, the lowest first; arrows run downward only."""

INSIDE_ASSESS = {
    "figures": set(),
    "combined_range": {"figures"},
    "findings": set(),
    "scales": {"figures"},
    "depths": set(),
    "old_words": {"findings"},
    "water": {"figures"},
    "body": {"figures", "water"},
    "hoses": {"figures", "scales", "water"},
    "fit": {"figures", "water", "body", "hoses"},
    "gas": {"figures", "combined_range", "depths", "water", "hoses", "fit"},
    "assembly": {"hoses", "gas"},
    "buoyancy": {"figures", "findings", "scales", "depths", "water", "body", "fit", "gas", "assembly"},
    "gear": {"findings", "old_words", "hoses", "fit", "gas"},
    "rules": {"figures", "findings", "old_words", "water", "hoses", "fit", "gas", "assembly", "buoyancy", "gear"},
    "assessment": {"figures", "findings", "water", "body", "fit", "buoyancy", "rules"},
    "worn_gear": {"fit", "buoyancy", "assessment"},
    "trip": {"figures", "findings"},
    "defaults": {
        "figures",
        "findings",
        "depths",
        "water",
        "body",
        "hoses",
        "fit",
        "gas",
        "buoyancy",
        "rules",
        "assessment",
        "trip",
    },
    "doubts": {"findings", "fit", "buoyancy", "rules", "assessment", "defaults"},
}
"""The same for the subjects of `assess`."""

ONLY = {"tomlkit": "kitfile", "platformdirs": "kitfile", "textual": "app", "rich": "app", "pint": "units"}
"""The one part that may know a library."""
NAMES_OF_THE_APP = "commands/app_words.py"
"""Names themes and keys as Textual does, so that command and app check settings alike."""


def part_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


@cache
def imported(path: Path) -> set[str]:
    """Every module a file imports, at its head or later, or for the type checker alone."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            found.add(node.module or "")
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def module_name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts).removesuffix(".__init__")


FILES = sorted(PACKAGE.rglob("*.py"))
MODULES = {module_name(path): path for path in FILES}
FACES_THAT_SAY_SOMETHING = {"", "catalogue", "commands", "assess/rules", "plans/changeover", "plans/fewest"}
"""Packages whose `__init__.py` holds more than a sentence."""


@each("path", FILES)
def test_arrows_run_downward_only(path):
    part = part_of(path)
    ours = {name.split(".")[1] for name in imported(path) if name.startswith("kitbuilder.")}
    others = {name for name in ours if (PACKAGE / name).exists() or (PACKAGE / f"{name}.py").exists()} - {part}
    assert others <= MAY_IMPORT[part], f"{part} may not import {others - MAY_IMPORT[part]}"


@each("path", sorted((PACKAGE / "assess").rglob("*.py")))
def test_arrows_run_downward_inside_assess(path):
    subject = path.relative_to(PACKAGE / "assess").parts[0].removesuffix(".py")
    asked = {name.split(".")[2] for name in imported(path) if re.match(r"kitbuilder\.assess\.\w", name)}
    others = asked - {subject}
    may = INSIDE_ASSESS.get(subject, set())
    assert others <= may, f"assess/{subject} may not import {others - may}"


@each("table", [MAY_IMPORT, INSIDE_ASSESS])
def test_a_part_may_only_import_what_stands_above_it_in_the_table(table):
    above: set[str] = set()
    for part, others in table.items():
        assert others <= above, f"{part} may import {others - above}, which the table lists later"
        above.add(part)


def test_no_modules_need_each_other_in_a_circle():
    """Not even for the type checker."""
    needs = {name: (imported(path) & MODULES.keys()) - {name} for name, path in MODULES.items()}
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as circle:
        raise AssertionError(" imports ".join(reversed(circle.args[1]))) from None


@each("path", sorted(PACKAGE.rglob("__init__.py")))
def test_the_face_of_a_package_is_a_sentence(path):
    """So that a file is found by where it stands, and a package can be imported without what is in it."""
    folder = path.parent.relative_to(PACKAGE).as_posix().removeprefix(".")
    statements = ast.parse(path.read_text()).body
    assert folder in FACES_THAT_SAY_SOMETHING or [type(statement) for statement in statements] == [ast.Expr]


@each("path", FILES)
def test_each_library_is_known_to_one_part(path):
    roots = {name.split(".")[0] for name in imported(path)}
    for library, owner in ONLY.items():
        is_named = library == "textual" and path == PACKAGE / NAMES_OF_THE_APP
        assert library not in roots or part_of(path) == owner or is_named


@each("path", FILES)
def test_text_is_printed_and_shown_in_one_place(path):
    """What a terminal would obey is made visible in `streams.py` and `app/content.py`; nobody goes around them."""
    source, name = path.read_text(), str(path.relative_to(PACKAGE))
    assert name == "app/content.py" or "textual.content" not in imported(path)
    assert name == "streams.py" or not re.search(r"sys\.std(out|err)\.(write|buffer)|\bprint\(", source)


MOST_LINES, MOST_LINES_OF_A_FUNCTION = 400, 60
STILL_TOO_LONG: set[str] = set()
"""Until the page model stands."""


@each("path", FILES)
def test_a_file_can_be_read_at_once(path):
    lines = path.read_text().count("\n")
    assert (lines > MOST_LINES) == (path.relative_to(PACKAGE).as_posix() in STILL_TOO_LONG), f"{lines} lines"


@each("path", FILES)
def test_a_function_can_be_read_at_once(path):
    nodes = ast.walk(ast.parse(path.read_text()))
    functions = [node for node in nodes if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]
    lines = [(function.end_lineno - function.lineno + 1, function.name) for function in functions]
    assert max(lines, default=(0, "")) < (MOST_LINES_OF_A_FUNCTION + 1,)


@each("path", FILES)
def test_more_than_five_parameters_have_a_reason(path):
    """The linter counts them (PLR0913); who silences it says why in the same line."""
    silenced = [line for line in path.read_text().splitlines() if "PLR0913" in line]
    assert all(re.search(r"# noqa: PLR0913 - \w+ \w+", line) for line in silenced)


@each("path", [path for path in FILES if part_of(path) != "kit"])
def test_a_record_that_no_file_fills_is_a_named_tuple_or_has_a_reason(path):
    """The reason is that something is kept for one object (`eq=False`), or stands in the same line."""
    lines = re.findall(r"^@dataclass\b.*", path.read_text(), re.MULTILINE)
    assert all("eq=False" in line or re.search(r"  # \w+ \w+", line) for line in lines), lines


# ---- report computes nothing ----

MAY_COMPUTE = {
    "numbers.py": "turns a figure into digits",
    "renderers/json.py": "rounds to honest digits",
}
"""The files of report that compute with quantities, and what for."""
OF_A_FIGURE = re.compile(r"^(value|spread|low|high|margin|off_spread)$|_(m|m2|m3|kg|kgf|pa|rad|s|k|kg_m3|kgf_m)$")
"""Names of quantities in SI."""
COMPUTED_FROM_FIGURES = {"sum", "max", "min", "sorted", "round"}
FOR_FIGURES_ONLY = {"total", "difference", "scaled", "widen", "total_weight", "root_sum_square"}
"""What assess and physics make figures of figures with."""


def is_quantity(node: ast.AST) -> bool:
    """Whether an expression is a quantity: a name or attribute that says so, its size, or the same with a sign."""
    match node:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return bool(OF_A_FIGURE.search(name))
        case ast.UnaryOp(operand=operand):
            return is_quantity(operand)
        case ast.Call(func=ast.Name(id="abs"), args=[operand]):
            return is_quantity(operand)
        case ast.BinOp(left=left, right=right):
            return is_quantity(left) or is_quantity(right)
    return False


def without_lengths(node: ast.AST) -> Iterator[ast.AST]:
    """All that is in an expression but what `len` is asked of: the width of a text is no quantity."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "len":
        return
    yield node
    for inner in ast.iter_child_nodes(node):
        yield from without_lengths(inner)


def computing(source: str) -> list[str]:
    """Every place at which a source computes with quantities, or imports what does."""
    found = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.BinOp() | ast.AugAssign() if any(map(is_quantity, ast.iter_child_nodes(node))):
                found.append(node)
            case ast.Call(func=ast.Name(id=name)) if name in COMPUTED_FROM_FIGURES and any(
                is_quantity(inner) for inner in without_lengths(node)
            ):
                found.append(node)
            case ast.ImportFrom() if {alias.name for alias in node.names} & FOR_FIGURES_ONLY:
                found.append(node)
            case ast.Compare() if any(map(is_quantity, ast.iter_child_nodes(node))) and any(
                isinstance(limit, ast.Constant) and isinstance(limit.value, float) and limit.value
                for limit in ast.iter_child_nodes(node)
            ):
                found.append(node)
    return [f"line {node.lineno}: {ast.unparse(node)}" for node in found]


@each("path", sorted((PACKAGE / "report").rglob("*.py")))
def test_a_report_computes_nothing(path):
    """A figure that text and JSON need is made in assess or plans, once; so is the limit from which it matters.

    A file that may compute and does not is taken out of the list.
    """
    may_compute = str(path.relative_to(PACKAGE / "report")) in MAY_COMPUTE
    assert bool(computing(path.read_text())) is may_compute, computing(path.read_text())


def test_every_file_that_may_compute_is_there():
    assert all((PACKAGE / "report" / name).exists() for name in MAY_COMPUTE)


@each(
    "source",
    [
        "surplus = afloat.lead_kg - balance.lead.value",
        "part = abs(heavy.value) / lift.value",
        "angle = pitch.pitch_high_rad - pitch.pitch_low_rad",
        "worst = sorted(failed, key=lambda test: test.margin.value)",
        "is_far = abs(shift.lead_m) > 1.0",
        "length_m *= 2",
        "from kitbuilder.assess.figures import Figure, difference",
    ],
)
def test_computing_in_a_report_is_noticed(source):
    assert computing(source)


@each(
    "source",
    [
        "is_light = figure.value > 0",
        "size = -figure.value",
        "width = max(len(row.spread) for row in rows) + 2",
    ],
)
def test_looking_at_a_figure_is_no_computing(source):
    assert computing(source) == []


# ---- columns are made in one place ----

MAY_PAD = {
    "report/layout.py": "lays pages and lists out",
    "report/columns.py": "sets the columns of a table",
    "report/form_lines.py": "sets the labels of a form beside its values",
    "commands/parser.py": "lays help out",
    "pictures": "draws in cells",
}
"""The files, and the part, that may pad a text to a width, and what for."""


def padding(source: str) -> list[str]:
    """Every place at which a source pads a text to a width."""
    found = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.FormattedValue(format_spec=ast.JoinedStr(values=[ast.Constant(value=str(spec)), *_])):
                if re.match(r".?[<>^]", spec):
                    found.append(node)
            case ast.Call(func=ast.Attribute(attr="ljust" | "rjust" | "center")):
                found.append(node)
    return [f"line {node.lineno}: {ast.unparse(node)}" for node in found]


@each("path", FILES)
def test_columns_are_made_by_the_layout_only(path):
    """Elsewhere a column is a `Column`, as wide as its content; a file that may pad and does not leaves the list."""
    name = path.relative_to(PACKAGE).as_posix()
    if part_of(path) != "pictures":
        assert bool(padding(path.read_text())) is (name in MAY_PAD), padding(path.read_text())


def test_every_file_that_may_pad_is_there():
    assert all((PACKAGE / name).exists() for name in MAY_PAD)


@each("source", ["row = f'{tag:<{width}} |'", "f'{length:>7}'", "f'{name:^12}'", "f'{name:.<12}'", "tag.ljust(8)"])
def test_padding_is_noticed(source):
    assert padding(source)


@each("source", ["f'{value:.2f}'", "f'{name}: {value:g}'", "f'{number:03}'", "f'{what!r}'"])
def test_digits_are_no_padding(source):
    assert padding(source) == []


def test_every_part_is_in_the_rules():
    assert {part_of(path) for path in FILES} == set(MAY_IMPORT)
    subjects = {
        path.relative_to(PACKAGE / "assess").parts[0].removesuffix(".py") for path in FILES if part_of(path) == "assess"
    }
    assert subjects - {"__init__"} == set(INSIDE_ASSESS)


def loaded_after(code: str) -> set[str]:
    """The modules a fresh interpreter has loaded after running some code."""
    done = subprocess.run(
        [sys.executable, "-c", f"import sys\n{code}\nprint(*sys.modules)"], capture_output=True, text=True, check=True
    )
    return set(done.stdout.split())


def test_checking_a_file_loads_no_part_of_the_app():
    kit = PACKAGE.parent / "configs" / "sidemount.toml"
    loaded = loaded_after(f"from kitbuilder.cli import main\nmain(['check', '--json', {str(kit)!r}])")
    assert not loaded & {"textual", "rich", "tomlkit", "numpy", "highspy", "pint"}
    assert "kitbuilder.assess.assessment" in loaded


def test_starting_the_app_loads_no_tomlkit():
    kit = PACKAGE.parent / "configs" / "sidemount.toml"
    loaded = loaded_after(
        "from pathlib import Path\nimport kitbuilder.app.app\n"
        f"from kitbuilder.app.screens.bench import Bench, Document\nBench(Document(Path({str(kit)!r})))"
    )
    assert "textual" in loaded
    assert not loaded & {"tomlkit", "numpy", "highspy", "pint"}


def test_a_command_loads_no_other_command():
    kit = PACKAGE.parent / "configs" / "sidemount.toml"
    loaded = loaded_after(f"from kitbuilder.cli import main\nmain(['losses', '--json', {str(kit)!r}])")
    assert loaded & {f"kitbuilder.commands.{name}" for name in NAMES} == {"kitbuilder.commands.losses"}


def test_the_list_of_commands_loads_nothing_that_a_command_needs_for_its_work():
    loaded = loaded_after("from kitbuilder.commands import all_commands\nlist(all_commands())")
    parts = {name.split(".")[1] for name in loaded if name.startswith("kitbuilder.")}
    assert parts == {"commands", "foreign", "streams"}

"""Docstrings of functions say what the function does: they open with a verb in the imperative."""

import ast
from pathlib import Path

from tests.each import each

PACKAGE = Path(__file__).parents[1] / "kitbuilder"
VERBS = frozenset(
    [
        "Add",
        "Advise",
        "Answer",
        "Ask",
        "Assess",
        "Begin",
        "Blank",
        "Break",
        "Build",
        "Check",
        "Choose",
        "Close",
        "Compare",
        "Compute",
        "Convert",
        "Copy",
        "Count",
        "Cut",
        "Declare",
        "Delete",
        "Describe",
        "Divide",
        "Do",
        "Draw",
        "Drop",
        "Edit",
        "End",
        "Enter",
        "Estimate",
        "Explain",
        "Fill",
        "Find",
        "Fit",
        "Flush",
        "Focus",
        "Follow",
        "Forget",
        "Gather",
        "Give",
        "Go",
        "Hint",
        "Hold",
        "Join",
        "Keep",
        "Lay",
        "Leave",
        "Let",
        "Limit",
        "List",
        "Load",
        "Look",
        "Make",
        "Mark",
        "Measure",
        "Minimise",
        "Move",
        "Multiply",
        "Name",
        "Narrow",
        "Offer",
        "Open",
        "Order",
        "Pair",
        "Place",
        "Plan",
        "Prepare",
        "Press",
        "Print",
        "Put",
        "Raise",
        "Rank",
        "Read",
        "Refuse",
        "Replace",
        "Report",
        "Require",
        "Resolve",
        "Round",
        "Route",
        "Run",
        "Say",
        "Scroll",
        "See",
        "Serve",
        "Set",
        "Show",
        "Solve",
        "Sort",
        "Start",
        "Stop",
        "Subtract",
        "Swap",
        "Switch",
        "Take",
        "Tell",
        "Tick",
        "Try",
        "Turn",
        "Weigh",
        "Work",
        "Wrap",
        "Write",
    ]
)
"""The verbs that docstrings open with. Add another if it is a verb: no article, noun or pronoun."""


def functions_of(path: Path) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    """The functions of a file that have a docstring, less properties, which read like attributes."""
    functions = [
        n for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)
    ]
    return [
        n for n in functions if ast.get_docstring(n) and "property" not in "".join(map(ast.unparse, n.decorator_list))
    ]


FILES = sorted(PACKAGE.rglob("*.py"))


@each("path", FILES)
def test_docstrings_of_functions_open_with_a_verb(path: Path) -> None:
    found = {(n.name, (ast.get_docstring(n) or "").split()[0].rstrip(",:")) for n in functions_of(path)}
    others = sorted(f"{name}: {word}" for name, word in found if word not in VERBS)
    assert not others, f"{path.relative_to(PACKAGE)}: not a verb that `VERBS` knows: {', '.join(others)}"


def test_there_are_functions_to_look_at() -> None:
    assert sum(len(functions_of(path)) for path in FILES) > 500

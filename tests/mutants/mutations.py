"""Small faults to put into the program, one at a time, each drawn by seed or named.

A mutant replaces one piece of text by another. The pieces are nodes of the syntax tree, so a mutant always parses.
"""

import ast
import random
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent
PACKAGES = ("physics", "assess", "plans", "kitfile", "catalogue")
WIDENING = ("widen", "_add")
"""Calls whose third argument is a share of a spread."""

ARITHMETIC = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*", ast.FloorDiv: "*", ast.Mod: "*", ast.Pow: "*"}
COMPARISONS = {
    ast.Lt: "<=",
    ast.LtE: "<",
    ast.Gt: ">=",
    ast.GtE: ">",
    ast.Eq: "!=",
    ast.NotEq: "==",
    ast.Is: "is not",
    ast.IsNot: "is",
    ast.In: "not in",
    ast.NotIn: "in",
}
AUGMENTED = {ast.Add: "-=", ast.Sub: "+=", ast.Mult: "/=", ast.Div: "*="}
TWINS = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
ENDS = {"low": "high", "high": "low"}


class Mutant(NamedTuple):
    """One fault: in a file, the bytes from `start` to `end` become `new`."""

    file: str
    """Path below the top of the tree."""
    line: int
    start: int
    end: int
    old: str
    new: str
    kind: str
    text: str
    """The line it begins in."""

    @property
    def package(self) -> str:
        """One of `PACKAGES`."""
        return self.file.split("/")[1]

    def __str__(self) -> str:
        return f"{self.file}:{self.line}  {self.kind}:  {_short(self.old)}  →  {_short(self.new)}"

    def applied(self, source: bytes) -> bytes:
        """The source with the fault in it."""
        assert source[self.start : self.end].decode() == self.old
        return source[: self.start] + self.new.encode() + source[self.end :]


def sampled(tree: Path, seed: int, count: int) -> list[Mutant]:
    """Mutants of a tree, as many of each package, none drawn twice.

    A statement is drawn first and then one fault in it, so that a table of three hundred numbers counts as one. The lot
    of a statement depends on its own text alone: after a change elsewhere the same seed draws the same mutants.
    """
    drawn: list[Mutant] = []
    for number, package in enumerate(PACKAGES):
        wanted = count // len(PACKAGES) + (number < count % len(PACKAGES))
        lots = [lot for file in _files(tree, package) for lot in _lots(seed, statements_of(tree, file))]
        drawn += [mutant for _, mutant in sorted(lots, key=lambda lot: lot[0])[:wanted]]
    return drawn


def _lots(seed: int, statements: list[list[Mutant]]) -> Iterator[tuple[float, Mutant]]:
    """When each statement of a file is drawn, and with which fault; those of one text are distinguished by "
    "their order."""
    times: Counter[str] = Counter()
    for faults in statements:
        text = "\n".join(f"{each.file} {each.old} {each.new}" for each in faults)
        times[text] += 1
        chance = random.Random(f"{seed} {times[text]} {text}")
        yield chance.random(), chance.choice(faults)


def named(tree: Path) -> list[Mutant]:
    """The mutants of named.toml: faults that earlier tests let pass, and that must never pass again."""
    return [_found(tree, **entry) for entry in tomllib.loads((HERE / "named.toml").read_text("utf-8"))["mutant"]]


def _found(tree: Path, file: str, old: str, new: str, name: str) -> Mutant:
    text = (tree / file).read_text("utf-8")
    assert text.count(old) == 1, f"{name}: {file} has {text.count(old)} times {old!r}"
    start = len(text[: text.index(old)].encode())
    line = text[: text.index(old)].count("\n")
    return Mutant(file, line + 1, start, start + len(old.encode()), old, new, name, text.split("\n")[line].rstrip())


def _files(tree: Path, package: str) -> list[str]:
    return sorted(path.relative_to(tree).as_posix() for path in (tree / "kitbuilder" / package).rglob("*.py"))


def statements_of(tree: Path, file: str) -> list[list[Mutant]]:
    """The faults of every statement of a file that can have any."""
    source = (tree / file).read_bytes()
    starts, lines = [0], [line.decode().rstrip() for line in source.split(b"\n")]
    for line in source.split(b"\n"):
        starts.append(starts[-1] + len(line) + 1)

    def mutant(node: ast.AST, new: str, kind: str) -> Mutant:
        start = starts[node.lineno - 1] + node.col_offset  # type: ignore[attr-defined]
        end = starts[node.end_lineno - 1] + node.end_col_offset  # type: ignore[attr-defined]
        return Mutant(file, node.lineno, start, end, source[start:end].decode(), new, kind, lines[node.lineno - 1])  # type: ignore[attr-defined]

    found = []
    for statement, function in _statements(ast.parse(source), None):
        faults = [mutant(statement, new, kind) for new, kind in _of_statement(statement, function)]
        if isinstance(statement, (ast.If, ast.While)) and isinstance(
            statement.test, (ast.Name, ast.Call, ast.Attribute)
        ):
            faults.append(mutant(statement.test, f"(not {ast.unparse(statement.test)})", "condition negated"))
        for node in _expressions(statement):
            faults += [mutant(node, f"({new})", kind) for new, kind in _of_expression(node)]
        if faults:
            found.append(faults)
    return found


Function = ast.FunctionDef | ast.AsyncFunctionDef


def _statements(parent: ast.AST, function: Function | None) -> Iterator[tuple[ast.stmt, Function | None]]:
    """Every statement that runs, with the function it stands in; no imports, asserts or blocks for the type checker."""
    for node in ast.iter_child_nodes(parent):
        if isinstance(node, (ast.Import, ast.ImportFrom, ast.Assert)):
            continue
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        if isinstance(node, ast.stmt):
            yield node, function
        yield from _statements(node, node if isinstance(node, Function) else function)


def _expressions(statement: ast.stmt) -> Iterator[ast.expr]:
    """The expressions of a statement itself, without annotations, messages and the statements inside it."""
    if isinstance(statement, (ast.Raise, ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)):
        return
    waiting: list[ast.AST] = [statement]
    while waiting:
        node = waiting.pop(0)
        for name, value in ast.iter_fields(node):
            children = value if isinstance(value, list) else [value]
            for child in children:
                # Python 3.11 does not know where the pieces of an f-string stand.
                is_text = isinstance(child, ast.JoinedStr) or name in ("annotation", "slice")
                if isinstance(child, ast.AST) and not isinstance(child, ast.stmt) and not is_text:
                    waiting.append(child)
        if isinstance(node, ast.expr):
            yield node


def _of_statement(node: ast.stmt, function: Function | None) -> Iterator[tuple[str, str]]:
    match node:
        case ast.Expr(value=ast.Constant()):
            return
        case ast.AugAssign(op=operator):
            yield "pass", "update deleted"
            if type(operator) in AUGMENTED:
                value = ast.unparse(node.value)
                yield f"{ast.unparse(node.target)} {AUGMENTED[type(operator)]} {value}", "update reversed"
        case ast.Expr(value=ast.Call()) | ast.Continue() | ast.Break() | ast.Raise():
            yield "pass", "statement deleted"
        case ast.Assign(targets=[ast.Subscript() | ast.Attribute()]):
            yield "pass", "statement deleted"
        case ast.Return(value=ast.expr() as value) if function and not _is_constant(value):
            yield "return None", "nothing returned"
            names = [each.arg for each in function.args.args if each.arg not in ("self", "cls")]
            if names and ast.unparse(value) != names[0]:
                yield f"return {names[0]}", "first argument returned"


def _of_expression(node: ast.expr) -> Iterator[tuple[str, str]]:
    match node:
        case ast.BinOp(left=left, op=operator, right=right) if not (_is_text(left) or _is_text(right)):
            one, other = _bracketed(left), _bracketed(right)
            if type(operator) in ARITHMETIC:
                yield f"{one} {ARITHMETIC[type(operator)]} {other}", "operator"
            if isinstance(operator, (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.BitOr, ast.BitAnd)):
                yield one, "term dropped"
                if not isinstance(operator, ast.Div):
                    yield other, "term dropped"
        case ast.Compare(left=left, ops=[operator], comparators=[right]):
            yield f"{_bracketed(left)} {COMPARISONS[type(operator)]} {_bracketed(right)}", "comparison"
        case ast.BoolOp(op=operator, values=values):
            word = " or " if isinstance(operator, ast.And) else " and "
            yield word.join(map(_bracketed, values)), "and, or"
            yield ast.unparse(values[0]), "condition dropped"
            yield ast.unparse(values[-1]), "condition dropped"
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand) if not _is_constant(operand):
            yield ast.unparse(operand), "negation dropped"
        case ast.IfExp(test=test, body=body, orelse=orelse):
            yield f"{_bracketed(body)} if not {_bracketed(test)} else {_bracketed(orelse)}", "condition negated"
        case ast.Constant(value=bool() as value):
            yield str(not value), "constant"
        case ast.Constant(value=int() as value):
            yield str(value + 1), "constant"
        case ast.Constant(value=float() as value):
            yield repr(value * 1.1 if value else 0.1), "constant"
        case ast.Call(func=ast.Name(id=name)) if name in TWINS:
            yield _with_function(node, TWINS[name]), f"{name} for {TWINS[name]}"
        case ast.Call(func=ast.Name(id=name), args=[*before, share], keywords=[]) if name in WIDENING and before:
            yield f"{name}({', '.join(map(ast.unparse, before))}, 0.5 * {_bracketed(share)})", "share halved"
        case ast.Attribute(value=value, attr=attribute) if attribute in ENDS:
            yield f"{ast.unparse(value)}.{ENDS[attribute]}", "other end"
        case ast.Attribute(value=value, attr="spread") if isinstance(node.ctx, ast.Load):
            yield f"0.5 * {ast.unparse(node)}", "spread halved"
        case ast.GeneratorExp() | ast.ListComp() | ast.SetComp() | ast.DictComp() if node.generators[-1].ifs:
            yield _with_last_condition_negated(node), "condition negated"


def _with_function(call: ast.Call, name: str) -> str:
    return ast.unparse(ast.Call(ast.Name(name), call.args, call.keywords))


def _with_last_condition_negated(node: ast.expr) -> str:
    copy = ast.parse(ast.unparse(node), mode="eval").body
    conditions = copy.generators[-1].ifs  # type: ignore[attr-defined]
    conditions[-1] = ast.UnaryOp(ast.Not(), conditions[-1])
    return ast.unparse(copy)


def _bracketed(node: ast.expr) -> str:
    return (
        f"({ast.unparse(node)})"
        if isinstance(node, (ast.BinOp, ast.BoolOp, ast.Compare, ast.IfExp))
        else ast.unparse(node)
    )


def _is_text(node: ast.expr) -> bool:
    is_word = isinstance(node, ast.Constant) and isinstance(node.value, str)
    return is_word or isinstance(node, (ast.JoinedStr, ast.List, ast.Tuple))


def _is_constant(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant)


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= 100 else f"{line[:97]}..."

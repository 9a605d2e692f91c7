"""Give functions of the running program the code of a mutant."""

import gc
import types
from pathlib import Path

from mutations import Mutant


def can_be_swapped(mutant: Mutant, tree: Path) -> bool:
    """Whether a fault lies inside functions, and outside the catalogue, which tests keep from their import on."""
    if mutant.package == "catalogue":
        return False
    before, after = _compiled(mutant, tree)
    return _alike(before, after)


def swap(mutant: Mutant, tree: Path) -> None:
    """Give every function that the fault changes its new code, whoever holds it.

    Raises:
        LookupError: The program has no such function.
        ValueError: A function does not use the same names from outside any more.
    """
    before, after = _compiled(mutant, tree)
    changed = {(old.co_qualname, old.co_firstlineno): new for old, new in _pairs(before, after) if old != new}
    gc.unfreeze()
    found = [
        function
        for function in gc.get_objects()
        if isinstance(function, types.FunctionType)
        and function.__code__.co_filename == str(tree / mutant.file)
        and (function.__code__.co_qualname, function.__code__.co_firstlineno) in changed
    ]
    if not found:
        raise LookupError(f"no function for {mutant}")
    for function in found:
        code = function.__code__
        function.__code__ = changed[code.co_qualname, code.co_firstlineno]


def _compiled(mutant: Mutant, tree: Path) -> tuple[types.CodeType, types.CodeType]:
    source, name = (tree / mutant.file).read_bytes(), str(tree / mutant.file)
    return compile(source, name, "exec"), compile(mutant.applied(source), name, "exec")


def _alike(before: types.CodeType, after: types.CodeType) -> bool:
    """Whether two modules, or two bodies of a class in them, differ in nothing but the functions inside."""
    own_before, own_after = (_without_functions(code) for code in (before, after))
    return own_before == own_after and all(
        _alike(old, new) for old, new in zip(_classes(before), _classes(after), strict=True)
    )


def _without_functions(code: types.CodeType) -> tuple[object, ...]:
    plain = [each for each in code.co_consts if not isinstance(each, types.CodeType)]
    return code.co_code, code.co_names, repr(plain), len(code.co_consts)


def _pairs(before: types.CodeType, after: types.CodeType) -> list[tuple[types.CodeType, types.CodeType]]:
    """The functions of a module and of its classes, old and new."""
    found = list(zip(_functions(before), _functions(after), strict=True))
    for old, new in zip(_classes(before), _classes(after), strict=True):
        found += _pairs(old, new)
    return found


def _functions(code: types.CodeType) -> list[types.CodeType]:
    return [each for each in code.co_consts if isinstance(each, types.CodeType) and not _is_class(each)]


def _classes(code: types.CodeType) -> list[types.CodeType]:
    return [each for each in code.co_consts if isinstance(each, types.CodeType) and _is_class(each)]


def _is_class(code: types.CodeType) -> bool:
    return "__qualname__" in code.co_names

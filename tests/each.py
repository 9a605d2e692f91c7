"""Hundreds of small cases as one test.

A test of its own costs pytest about three milliseconds, more than most of these cases. All cases are tried, and each
that fails says which one it is.
"""

import inspect
from collections.abc import Callable, Iterable
from itertools import product
from typing import Any

Case = dict[str, Any]
Test = Callable[..., None]


def each(names: str | tuple[str, ...], values: Iterable[Any]) -> Callable[[Test], Test]:
    """Try a test with every value, as pytest.mark.parametrize does, in one go; above another, with every pair.

    A tuple of names takes a tuple of values, or a pytest.param.
    """
    cases = [_case(names, value) for value in values]
    assert cases, f"no case of {names}"

    def in_one_go(test: Test) -> Test:
        plain, known = getattr(test, "tried_on", (test, [{}]))
        return _loop(plain, [first | second for first, second in product(cases, known)])

    return in_one_go


def _case(names: str | tuple[str, ...], value: Any) -> Case:
    if isinstance(names, str):
        return {names: value}
    return dict(zip(names, getattr(value, "values", value), strict=True))


def _loop(test: Test, cases: list[Case]) -> Test:
    """A test without arguments that tries all cases."""

    def loop() -> None:
        failures = [failure for case in cases if (failure := _failure(test, case))]
        if failures:
            raise ExceptionGroup(f"{len(failures)} of {len(cases)} cases failed", failures)

    assert set(inspect.signature(test).parameters) >= set(cases[0]), "a case names an argument that the test lacks"
    loop.__name__, loop.__doc__, loop.__module__ = test.__name__, test.__doc__, test.__module__
    loop.tried_on = test, cases  # type: ignore[attr-defined]
    return loop


def _failure(test: Test, case: Case) -> Exception | None:
    """What went wrong in a case, with a note that says which case it is."""
    try:
        test(**case)
    except Exception as error:
        error.add_note("The case: " + ", ".join(f"{name}={value!r:.200}" for name, value in case.items()))
        return error
    return None

"""For tests that compare figures with what was worked out by hand from usual values."""

import sys
from collections.abc import Iterator

import pytest

from kitbuilder.catalogue import Value


@pytest.fixture(scope="module")
def usual_values() -> Iterator[None]:
    """Work out the figures of a module at the usual values of the catalogue instead of the means of its ranges.

    What was worked out by hand, in tables and elsewhere, starts from usual values. That figures are means is held by
    `tests/assess/buoyancy/test_coverage.py`.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Value, "expected", property(lambda value: value.value))
        _forget_figures()
        yield
    _forget_figures()


def _forget_figures() -> None:
    for name, module in list(sys.modules.items()):
        if name.startswith("kitbuilder.assess"):
            for known in list(vars(module).values()):
                if hasattr(known, "cache_clear"):
                    known.cache_clear()

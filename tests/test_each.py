"""Cases that are tried in one go fail as they would one by one."""

import pytest

from tests.each import each


def test_every_case_is_tried_and_each_that_fails_is_named() -> None:
    tried = []

    @each("number", [1, 2, 3])
    @each(("letter", "is_good"), [("a", True), pytest.param("b", False, id="bad")])
    def check(number: int, letter: str, is_good: bool) -> None:
        tried.append((number, letter))
        assert is_good or number == 2

    with pytest.raises(ExceptionGroup, match="2 of 6 cases failed") as failed:
        check()
    assert tried == [(number, letter) for number in (1, 2, 3) for letter in "ab"]
    assert [error.__notes__ for error in failed.value.exceptions] == [
        [f"The case: number={number}, letter='b', is_good=False"] for number in (1, 3)
    ]


def test_cases_that_all_hold_pass() -> None:
    @each("number", [1, 2])
    def check(number: int) -> None:
        assert number in (1, 2)

    check()


def test_no_case_at_all_is_a_mistake() -> None:
    with pytest.raises(AssertionError, match="no case of number"):
        each("number", [])

"""The four questions from which a new trip is made, each with a usual answer and a "don't know"."""

from collections.abc import Sequence

from kitbuilder.catalogue.allowances import allowances
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.new_trip import TripAnswers
from kitbuilder.kitfile.starters import waters
from kitbuilder.kitfile.trip_typed import TYPED_ALLOWANCE, TYPED_DAYS, allowance_typed, days_typed
from kitbuilder.plans.new_trip import BOTH, RENTED, rentals_of
from kitbuilder.report.form import Choice
from kitbuilder.report.new_questions import UNKNOWN, Given, Question
from kitbuilder.report.numbers import System


def trip_questions(system: System) -> tuple[Question, ...]:
    """Give the questions about a trip with a kit: what may fly, what is rented, which water, and when.

    Args:
        system: The reader's units: those of numbers without a unit.
    """
    return _allowance(system), _rented(), _water(), _days()


def trip_answers(name: str, kits: Sequence[tuple[str, ResolvedKit]], given: Given) -> TripAnswers:
    """Give what a trip is made from.

    Args:
        name: What the trip is called.
        kits: Those that travel, each with its file.
        given: The answers by the key of their question, as `read` gives them; empty for "don't know".
    """
    said = {key: text for key, text in given.items() if text}
    rented = said.get("rented", BOTH)
    rentals = [rental for _, kit in kits for rental in rentals_of(kit, rented)]
    return TripAnswers(
        name,
        tuple(file for file, _ in kits),
        allowance_typed(said["allowance"], "kg") if "allowance" in said else None,
        tuple(rental for number, rental in enumerate(rentals) if rental not in rentals[:number]),
        said.get("water"),
        days_typed(said["days"]) if "days" in said else None,
    )


def _allowance(system: System) -> Question:
    unit = "lb" if system is System.IMPERIAL else "kg"
    choices = [Choice(allowance.name, "") for allowance in allowances().allowances]

    def taken(typed: str) -> str:
        return allowance_typed(typed, unit).as_typed

    return Question(
        "allowance",
        "What may fly",
        f'Choose what the ticket says, or type it: "{TYPED_ALLOWANCE}".',
        (*choices, Choice(UNKNOWN, "packs without a limit")),
        choices[0].word,
        taken,
    )


def _rented() -> Question:
    choices = [Choice(word, note) for word, note in RENTED.items()]
    return Question(
        "rented",
        "What you rent there",
        "Choose what comes nearest; everything can be changed later.",
        (*choices, Choice(UNKNOWN, f"takes {BOTH}")),
        BOTH,
    )


def _water() -> Question:
    choices = (*(Choice(name, "") for name in waters()), Choice(UNKNOWN, "takes that of the kit"))
    return Question("water", "Which water", "The water there. It changes the lead.", choices, UNKNOWN)


def _days() -> Question:
    return Question(
        "days",
        "When",
        f'Type the first and the last day: "{TYPED_DAYS}".',
        (Choice(UNKNOWN, "leaves the days open"),),
        UNKNOWN,
        lambda typed: " to ".join(days_typed(typed)),
    )

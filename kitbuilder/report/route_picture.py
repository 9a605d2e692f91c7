"""The picture of a kit's hoses over the body that wears it, each with its letter, its free stretch and its findings."""

from string import ascii_lowercase

from kitbuilder.assess.figures import Range
from kitbuilder.assess.worn_gear import worn_gear
from kitbuilder.foreign import visible
from kitbuilder.pictures.body_picture import BodyPicture, HoseLine, body_picture
from kitbuilder.pictures.body_svg import body_svg
from kitbuilder.pictures.gear_outline import gear_extras
from kitbuilder.plans.fitting import FittedHose, FittingPlan
from kitbuilder.report.cells import format_line
from kitbuilder.report.fit_words import advised_length
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Estimate, Sentence
from kitbuilder.report.words import PICTURE_CAUTION


def hose_letter(place: int) -> str:
    """Give the letter of a hose by its place among the hoses of its kit: a to z, then A to Z, then again."""
    letters = ascii_lowercase + ascii_lowercase.upper()
    return letters[place % len(letters)]


def route_picture(plan: FittingPlan, selected: int | None) -> BodyPicture:
    """Draw front and back with every hose that has a route; the selected one, by its number in the kit, bright."""
    signals = plan.assessment.worst_by_item()
    lines = []
    for place, fitted in enumerate(plan.hoses):
        number, routed = fitted.figures.number, fitted.figures.routed
        if routed is None:
            continue
        signal = signals.get(number)
        lines.append(
            HoseLine(
                number=number,
                letter=hose_letter(place),
                points=routed.points,
                free=routed.span,
                stand_off_m=_stand_off(fitted),
                signal=signal.word.lower() if signal else "",
                is_selected=number == selected,
                stowed_m=fit.stowed_m if (fit := fitted.figures.fit) else 0.0,
            )
        )
    measures = {name: figure.value for name, figure in plan.assessment.wearer.measures.items()}
    return body_picture(measures, lines, gear_extras(worn_gear(plan.assessment)))


def _stand_off(fitted: FittedHose) -> float | None:
    advice = fitted.advice
    found: Range | None = advice.present.stand_off if advice else None
    return found.value if found else None


def route_svg(plan: FittingPlan, system: System) -> str:
    """Draw the same for a report, with a line of words for each hose."""
    legend = [(hose_letter(place), format_line(_legend(fitted), system)) for place, fitted in enumerate(plan.hoses)]
    return body_svg(route_picture(plan, None), visible(plan.assessment.kit.header.name), legend, PICTURE_CAUTION)


def _legend(fitted: FittedHose) -> Sentence:
    tag = fitted.figures.hose.tag
    if fitted.advice is None:
        return (f"{tag}: run not known",)
    return (f"{tag}: needs ", Estimate(fitted.advice.demanded.length, "length"), "; ", *advised_length(fitted))

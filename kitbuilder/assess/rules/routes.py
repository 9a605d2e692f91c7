"""A hose by the landmarks of its route: what nobody has measured yet, and what a measurement contradicts."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.fit.advice import string_less_estimate
from kitbuilder.assess.fit.measures import MEASURE_OF_KEY, ImplausibleMeasure
from kitbuilder.assess.fit.routes import route_of
from kitbuilder.assess.gas.hose_flow import Flow, Notice, flow_through
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import with_range
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue


def _length(value_m: float) -> Amount:
    return Amount(value_m, "length")


@rule("string against route")
def string_against_route(context: Context) -> RuleResults:
    """Report a run by string that is far from what the landmarks of its route tell."""
    for figures in context.hoses:
        differs = string_less_estimate(figures)
        if differs is None or figures.hose.run_m is None:
            continue
        # Straps and ports of the landmarks were never measured: twice what they may be off is the least that tells.
        if abs(differs.value) <= 2 * differs.spread:
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "run",
            words(
                "its run by string, ",
                _length(figures.hose.run_m),
                ", is ",
                _length(abs(differs.value)),
                " longer" if differs.value > 0 else " shorter",
                " than its route by landmarks tells (± ",
                _length(differs.spread),
                ")",
            ),
            words("The string counts. Either it was laid another way, or the route is not the one the hose goes."),
            words("Lay the string again, or choose the hose's route."),
        )


@rule("near a knob")
def near_a_knob(context: Context) -> RuleResults:
    """Report a hose led so close to a valve knob that a hand finds the hose in its way."""
    for figures in context.hoses:
        knobs = figures.routed.knobs if figures.routed else ()
        if knobs and knobs[0].is_blocked:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "path" if figures.hose.path else "route",
                words(
                    "it passes ",
                    _length(knobs[0].distance.value),
                    " ± ",
                    _length(knobs[0].distance.spread),
                    f" from the {knobs[0].name}; a hand needs about ",
                    *with_range(catalogue().limits["knob_clearance"], "length"),
                ),
                words("A valve that cannot be reached or turned cannot be shut when it must be."),
                words("Lead it another way, and reach for the valve on land, worn, before you dive it."),
                rule_of_thumb=True,
            )


@rule("route of another layout")
def route_of_another_layout(context: Context) -> RuleResults:
    """Report a route that is not led in this layout, or not with this role."""
    layout = context.kit.header.layout
    for figures in context.hoses:
        route = catalogue().routes.get(figures.hose.route or "")
        if route is None or (layout in route.layouts and figures.hose.role in route.roles):
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "route",
            words(
                f'the route "{route.name}" is that of {" or ".join(route.roles)} in {" or ".join(route.layouts)}, '
                f"not of {figures.hose.role} in {layout}"
            ),
            words("Its landmarks may not be where this hose begins."),
            words("Choose another route, or write its path by landmarks."),
        )


@rule("hold off the path")
def hold_off_the_path(context: Context) -> RuleResults:
    """Report a hose said to be held where it does not pass."""
    for figures in context.hoses:
        route = route_of(figures.hose, context.kit)
        for name in figures.hose.holds:
            if route is not None and name not in route.path:
                yield Finding(
                    Signal.NOTICE,
                    figures.number,
                    "holds",
                    words(f'it is held at "{name}", where its route does not pass'),
                    words("The hold is not counted, and its free span is taken to be longer than it is."),
                    words(_other_holds(route.path[1:-1])),
                )


@rule("body measures")
def body_measures(context: Context) -> RuleResults:
    """Report measures of one body that do not go together."""
    for doubtful in context.wearer.implausible:
        yield Finding(
            Signal.CAUTION,
            None,
            "diver",
            unlike_the_body(doubtful),
            words("Every run that nobody has measured is estimated from these."),
            words("Measure again, and correct the diver file."),
        )


def unlike_the_body(doubtful: ImplausibleMeasure) -> Words:
    """Say that a measure does not go with the others of the same body."""
    return words(
        f"the diver's {MEASURE_OF_KEY[doubtful.key]} of ",
        Amount(doubtful.given, doubtful.measure),
        " does not go with the other measures: ",
        Amount(doubtful.expected.value, doubtful.measure),
        " ± ",
        Amount(doubtful.expected.spread, doubtful.measure),
        " would",
    )


@rule("stock file")
def stock_file(context: Context) -> RuleResults:
    """Report a stock file that is named and cannot be used, or not all of it."""
    is_lost = context.kit.linked.stock is None
    for problem in context.kit.linked.stock_problems:
        yield Finding(
            Signal.CAUTION if is_lost else Signal.NOTICE,
            None,
            "stock",
            words(f"the stock file: {problem}"),
            words("Advice takes every customary length." if is_lost else "Advice takes what else it has."),
            words("Fix the stock file, or name another."),
        )


@rule("pressure drop")
def pressure_drop(context: Context) -> RuleResults:
    """Report a hose so long or thin that a hard breath at depth starves, or may starve."""
    limit = catalogue().limits["hose_drop"]
    for figures in context.hoses:
        flow = flow_through(figures.hose, context.kit, context.water)
        if flow is None or flow.notice is Notice.NO:
            continue
        yield Finding(
            Signal.WARNING if flow.drop is None else Signal.CAUTION if flow.drop.value > limit.value else Signal.NOTICE,
            figures.number,
            "bore" if figures.hose.bore_m else "length",
            words(
                "at ",
                Amount(flow.depth_m, "depth"),
                " it ",
                *_lost(flow),
                "; up to ",
                *with_range(limit, "drop"),
                " goes unnoticed",
            ),
            words(
                "The loss grows with the length and with nearly the fifth power of a narrower bore; that is what "
                "half-inch ports and wide hoses are for."
            ),
            words("Take a wider or a shorter hose for this depth."),
        )


def _lost(flow: Flow) -> Words:
    if flow.drop is None:
        return ("cannot pass the peak of a hard breath at all",)
    middle, low, high = (Amount(each, "drop") for each in flow.drop)
    return ("costs ", middle, " at the peak of a hard breath, anything from ", low, " to ", high)


def _other_holds(inner: tuple[str, ...]) -> str:
    if not inner:
        return "Take it out: both ends are held as it is. Or write its own path."
    return f"Name one of: {', '.join(inner)}; or write its own path."

"""Quick-disconnects, swivel pins and built-in swivels."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.hoses.ports import inlet_of
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.joints import clicks_on, end_taken
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.items import Device


@rule("coupling family")
def coupling_family(context: Context) -> RuleResults:
    """Compare the coupling on the hose with the nipple on the inflator."""
    for figures in context.hoses:
        joints = figures.joints
        if not clicks_on(joints):
            continue  # With an adapter, the rule of the threads at the device speaks of every joint.
        yield from end_taken(figures, "to_end")
        [meeting] = joints.at_device
        if joints.inlet is None or meeting.joins:
            continue
        yield Finding(
            Signal.WARNING,
            figures.number,
            "to_end",
            words(f"{figures.ends.at_device.name} does not go on the {joints.inlet.name} of {figures.hose.to}"),
            words("Couplings of different families do not lock, or lock and pass no gas."),
            words(f"Get a hose with a coupling for the {joints.inlet.joint}, or change the nipple at a service."),
        )


@rule("coupling make")
def coupling_make(context: Context) -> RuleResults:
    """Report couplings of one family but of two makes: the pin of one may not open the valve of the other."""
    for figures in context.hoses:
        device, is_of_two = figures.joints.device, figures.joints.is_of_two_makes
        if device is None or is_of_two is False:
            continue
        if is_of_two is None:
            missing = figures.number if not figures.hose.make else context.numbers[device.tag]
            yield Unchecked(missing, "make", words("whether coupling and nipple are of one make is not known"))
        else:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "make",
                words(f"coupling ({figures.hose.make}) and nipple ({device.make}) are of one family but two makes"),
                words(
                    "The pin in the nipple may be too short to open the coupling: it locks and passes no gas, or leaks."
                ),
                words(
                    "Connect it under pressure, then press and release the inflator ten times: "
                    "it must start and stop each time."
                ),
                rule_of_thumb=True,
            )


@rule("swivel pin")
def swivel_pin(context: Context) -> RuleResults:
    """Report the pin with two O-rings between a high-pressure hose and its gauge."""
    for figures in context.hoses:
        if figures.ends.at_device.joint != "gauge swivel":
            continue
        if figures.hose.swivel_pin is None:
            yield Unchecked(figures.number, "swivel_pin", words("whether the gauge end has its swivel pin is not said"))
        elif not figures.hose.swivel_pin:
            yield Finding(
                Signal.WARNING,
                figures.number,
                "swivel_pin",
                words("the gauge end has no swivel pin"),
                words(
                    "Without the pin and its two O-rings the joint leaks at full cylinder pressure. "
                    "New hoses often come without it."
                ),
                words("Fit a pin with two new O-rings; carry a spare one."),
            )


@rule("built-in swivel")
def built_in_swivel(context: Context) -> RuleResults:
    """Report a second stage whose built-in swivel depends on one spare part."""
    for number, item in enumerate(context.kit.items):
        if isinstance(item, Device) and inlet_of(item) == "built-in swivel":
            yield Finding(
                Signal.NOTICE,
                number,
                "inlet",
                words("its built-in swivel takes only its own replacement hose"),
                words("It saves an elbow, but has two O-rings more, and no stock hose replaces it on a trip."),
                words("Carry its replacement hose."),
                rule_of_thumb=True,
            )

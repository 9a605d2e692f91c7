"""Density of breathing gas under pressure; the ideal gas law is off by 5 % (air) to 14 % (helium mixes) at 232 bar.

The coefficients in this file are a fit made for this project to values of CoolProp 8.0.0, not published data. They
stand in for an equation of state whose library takes two seconds to load and must be solved for every state.

    Z - 1 = sum over gases of y_i G_i
          + sum over pairs of y_i y_j (H_0 + (y_i - y_j) H_1 + (y_i - y_j)^2 H_2 + ...)
          + y_N2 y_O2 y_He (S_0 + y_He S_1 + y_He^2 S_2 + y_O2 S_3 + y_He y_O2 S_4 + y_O2^2 S_5)

G, H and S are polynomials in (pressure / 100 bar), powers 1 to 5, and (temperature - 293.15 K) / 20 K, powers 0 to 2.
"""

MOLAR_GAS_CONSTANT = 8.314462618
"""J/(mol K), exact since 2019, cut after ten digits (CODATA 2018)."""
NITROGEN_KG_PER_MOL = 0.0280134
OXYGEN_KG_PER_MOL = 0.0319988
HELIUM_KG_PER_MOL = 0.004002602
ARGON_KG_PER_MOL = 0.039948
"""Molar masses of N2, O2, He and Ar: CIAAW, standard atomic weights 2007, from memory; still inside their intervals."""

LOWEST_PRESSURE_PA = 1e5
HIGHEST_PRESSURE_PA = 310e5
LOWEST_TEMPERATURE_K = 270.0
HIGHEST_TEMPERATURE_K = 317.0
SUM_SLACK = 1e-6
"""How far the parts of a gas may add up beside 1."""

_Polynomial = tuple[tuple[float, float, float], ...]


def compressibility(nitrogen: float, oxygen: float, helium: float, pressure_pa: float, temperature_k: float) -> float:
    """Give the compressibility factor Z of a gas: its volume over that of an ideal gas of the same amount.

    Args:
        nitrogen: mole fraction of nitrogen, 0 to 1 [1].
        oxygen: mole fraction of oxygen, 0 to 1 [1].
        helium: mole fraction of helium, 0 to 1 [1].
        pressure_pa: absolute pressure; a gauge shows about 101325 Pa less [Pa].
        temperature_k: temperature [K].

    Returns:
        Compressibility factor [1].

    Raises:
        ValueError: a negative fraction, fractions that do not add up to 1, or a pressure or temperature outside the
            range of validity.

    Valid: 1e5 to 310e5 Pa absolute, 270 to 317 K (-3 to 43 °C), any mix of the three. Within 0.03 % of CoolProp without
    helium, within 0.04 % with it. How near CoolProp is to a real gas, the limits `gas_density_without_helium` and
    `gas_density_with_helium` of the catalogue say.

    Source: fit made for this project to CoolProp 8.0.0 (multi-fluid Helmholtz energy model of nitrogen, oxygen and
    helium); not published data.
    """
    _require_mixture(nitrogen, oxygen, helium, 0.0)
    _require_state(pressure_pa, temperature_k)
    return _fit(nitrogen, oxygen, helium, pressure_pa, temperature_k)


def gas_density(
    nitrogen: float, oxygen: float, helium: float, argon: float, pressure_pa: float, temperature_k: float
) -> float:
    """Give the density of a breathing gas.

    Args:
        nitrogen: mole fraction of nitrogen, 0 to 1 [1].
        oxygen: mole fraction of oxygen, 0 to 1 [1].
        helium: mole fraction of helium, 0 to 1 [1].
        argon: mole fraction of argon, in dry air 0.0092 [1].
        pressure_pa: absolute pressure; a gauge shows about 101325 Pa less [Pa].
        temperature_k: temperature [K].

    Returns:
        Density [kg/m3].

    Raises:
        ValueError: as `compressibility`.

    Valid: as `compressibility`, argon as the part it has in air. It has its own molar mass, and is counted as oxygen
    in the compressibility, since their critical points lie 4 K and 2 bar apart: air and nitrox blended from air then
    agree with CoolProp within 0.03 %, helium mixes topped with air within 0.06 %. Counted as nitrogen, air would be up
    to 0.13 % too light, half and half 0.06 %. Air is the mix of three gases here; the equation for air as one fluid
    gives up to 0.15 % more. Argon alone would be up to 1.1 % off.

    Source: density = p M / (Z R T), any textbook of thermodynamics; Z as `compressibility`; molar masses CIAAW; R
    CODATA.
    """
    _require_mixture(nitrogen, oxygen, helium, argon)
    _require_state(pressure_pa, temperature_k)
    molar_mass = (
        nitrogen * NITROGEN_KG_PER_MOL
        + oxygen * OXYGEN_KG_PER_MOL
        + helium * HELIUM_KG_PER_MOL
        + argon * ARGON_KG_PER_MOL
    )
    # Argon counts as oxygen, whose critical point is close to its own; counted as nitrogen, air is 0.13 % too light.
    factor = _fit(nitrogen, oxygen + argon, helium, pressure_pa, temperature_k)
    return pressure_pa * molar_mass / (factor * MOLAR_GAS_CONSTANT * temperature_k)


def _require_mixture(nitrogen: float, oxygen: float, helium: float, argon: float) -> None:
    for name, fraction in (("nitrogen", nitrogen), ("oxygen", oxygen), ("helium", helium), ("argon", argon)):
        if not fraction >= 0.0:
            raise ValueError(f"the fraction of {name} in a gas is zero or more, not {fraction:g}")
    total = nitrogen + oxygen + helium + argon
    if not abs(total - 1.0) <= SUM_SLACK:
        raise ValueError(f"the fractions of a gas add up to 1, not {total:.7g}")


def _require_state(pressure_pa: float, temperature_k: float) -> None:
    if not LOWEST_PRESSURE_PA <= pressure_pa <= HIGHEST_PRESSURE_PA:
        raise ValueError(f"the pressure of a gas lies from 1 to 310 bar absolute, not {pressure_pa / 1e5:.7g} bar")
    if not LOWEST_TEMPERATURE_K <= temperature_k <= HIGHEST_TEMPERATURE_K:
        raise ValueError(f"the temperature of a gas lies from 270 to 317 K (-3 to 43 °C), not {temperature_k:.7g} K")


def _fit(nitrogen: float, oxygen: float, helium: float, pressure_pa: float, temperature_k: float) -> float:
    p = pressure_pa / 100e5
    t = (temperature_k - 293.15) / 20.0
    factor = 1.0
    for part, polynomial in ((nitrogen, _NITROGEN), (oxygen, _OXYGEN), (helium, _HELIUM)):
        if part:
            factor += part * _value(polynomial, p, t)
    for first, second, polynomials in (
        (nitrogen, oxygen, _NITROGEN_OXYGEN),
        (nitrogen, helium, _NITROGEN_HELIUM),
        (oxygen, helium, _OXYGEN_HELIUM),
    ):
        weight = first * second
        if weight:
            for polynomial in polynomials:
                factor += weight * _value(polynomial, p, t)
                weight *= first - second
    product = nitrogen * oxygen * helium
    if product:
        shapes = (1.0, helium, helium * helium, oxygen, helium * oxygen, oxygen * oxygen)
        for shape, polynomial in zip(shapes, _ALL_THREE, strict=True):
            factor += product * shape * _value(polynomial, p, t)
    return factor


def _value(polynomial: _Polynomial, p: float, t: float) -> float:
    total = 0.0
    for constant, linear, square in polynomial:
        total = (total + constant + t * (linear + t * square)) * p
    return total


# The coefficients: a line a power of the pressure, the fifth first; in a line the powers 0, 1, 2 of the temperature.
# Eight decimals change no result; with six the largest error grows by a third.

_NITROGEN: _Polynomial = (
    (-0.00000328, -0.00006766, 0.00021195),
    (-0.00033656, 0.00088551, -0.00183430),
    (0.00004450, -0.00306231, 0.00547431),
    (0.02724798, -0.00199749, -0.00565559),
    (-0.02606855, 0.01811139, -0.00040193),
)
_OXYGEN: _Polynomial = (
    (0.00007904, 0.00000220, -0.00003038),
    (-0.00177469, 0.00060001, 0.00009873),
    (0.00908852, -0.00400444, 0.00025084),
    (0.00701067, 0.00206500, 0.00003980),
    (-0.06789308, 0.02262665, -0.00353869),
)
_HELIUM: _Polynomial = (
    (-0.00006947, 0.00004597, 0.00009214),
    (0.00062855, -0.00041811, -0.00079788),
    (-0.00206044, 0.00137241, 0.00250848),
    (0.00236526, -0.00185418, -0.00338193),
    (0.04730205, -0.00275937, 0.00188441),
)
_NITROGEN_OXYGEN: tuple[_Polynomial, ...] = (
    (
        (0.00064649, -0.00017485, -0.00043851),
        (-0.00539776, 0.00115094, 0.00363410),
        (0.01519172, -0.00205178, -0.01067949),
        (-0.01491405, 0.00001418, 0.01290270),
        (0.00256219, 0.00074200, -0.00501303),
    ),
    (
        (0.00036119, -0.00028644, -0.00037176),
        (-0.00338815, 0.00182554, 0.00346774),
        (0.01108422, -0.00366000, -0.01123566),
        (-0.01455938, 0.00237535, 0.01469438),
        (0.00509111, 0.00004278, -0.00641869),
    ),
)
_NITROGEN_HELIUM: tuple[_Polynomial, ...] = (
    (
        (-0.00014898, 0.00017828, -0.00022507),
        (0.00166741, -0.00183311, 0.00211075),
        (-0.00346269, 0.00580461, -0.00698600),
        (-0.02818138, -0.00000955, 0.00850888),
        (0.15327764, -0.02733055, -0.00054953),
    ),
    (
        (-0.00006576, -0.00022914, -0.00040163),
        (0.00101994, 0.00154757, 0.00296843),
        (-0.00370539, -0.00349428, -0.00761966),
        (-0.00135468, 0.00502953, 0.00752037),
        (0.01252336, -0.00772161, -0.00155266),
    ),
    (
        (0.00289330, -0.00098194, -0.00310531),
        (-0.02446178, 0.00747994, 0.02590264),
        (0.07289532, -0.01970785, -0.07653838),
        (-0.08848392, 0.02128122, 0.09317095),
        (0.03499516, -0.00812357, -0.03845046),
    ),
    (
        (0.00084026, 0.00130390, 0.00082053),
        (-0.00822174, -0.01217682, -0.00476470),
        (0.02599971, 0.04066514, 0.00894368),
        (-0.02644765, -0.05653281, -0.00756390),
        (-0.01138970, 0.02863319, 0.00415881),
    ),
)
_OXYGEN_HELIUM: tuple[_Polynomial, ...] = (
    (
        (0.00009747, -0.00013856, -0.00019832),
        (0.00092269, 0.00010984, 0.00203704),
        (-0.00981223, 0.00380637, -0.00756692),
        (-0.00244934, -0.00334071, 0.01017362),
        (0.20709280, -0.03486780, 0.00027270),
    ),
    (
        (-0.00106626, 0.00047990, 0.00118535),
        (0.00974517, -0.00493399, -0.00979314),
        (-0.03316390, 0.01860331, 0.02881728),
        (0.03770047, -0.02553237, -0.03653409),
        (0.02430487, -0.00288438, 0.01929526),
    ),
    (
        (0.00127233, -0.00018938, -0.00043909),
        (-0.00900243, 0.00057820, 0.00340556),
        (0.01837032, 0.00292922, -0.00947455),
        (-0.01076092, -0.00922901, 0.01039684),
        (0.04945563, -0.00353356, -0.00228625),
    ),
    (
        (0.00304060, -0.00167803, -0.00232947),
        (-0.02208841, 0.01306959, 0.01880278),
        (0.05148506, -0.03469808, -0.05387832),
        (-0.04548002, 0.03753926, 0.06373858),
        (0.01197803, -0.01599544, -0.02592736),
    ),
)
_ALL_THREE: tuple[_Polynomial, ...] = (
    (
        (-0.01646998, -0.00200751, 0.01585745),
        (0.14044464, 0.02200397, -0.13171885),
        (-0.42683831, -0.07599952, 0.38755769),
        (0.51254049, 0.10709520, -0.46752057),
        (-0.13992583, -0.06833712, 0.18503210),
    ),
    (
        (0.06838946, 0.01183738, -0.07029788),
        (-0.58106003, -0.11304209, 0.58829468),
        (1.75385391, 0.36067824, -1.74283846),
        (-2.21243518, -0.45141120, 2.11580579),
        (1.14017151, 0.16068782, -0.84434528),
    ),
    (
        (-0.07081172, -0.02565745, 0.07812436),
        (0.59797710, 0.20647481, -0.64885466),
        (-1.79678028, -0.56907857, 1.91206949),
        (2.30057527, 0.62084415, -2.32500275),
        (-1.42741974, -0.17591253, 0.94892295),
    ),
    (
        (0.04540023, 0.00558507, -0.03791611),
        (-0.36644979, -0.06970508, 0.30750104),
        (1.04384973, 0.27093937, -0.88398757),
        (-1.21515681, -0.38828968, 1.03055195),
        (0.50638405, 0.14738282, -0.36783940),
    ),
    (
        (-0.08004432, 0.01730146, 0.05318984),
        (0.68379752, -0.07490349, -0.47969197),
        (-2.04433399, 0.00175549, 1.53254456),
        (2.46629465, 0.24890394, -1.98492258),
        (-1.00662093, -0.14908772, 0.81526547),
    ),
    (
        (-0.04074089, -0.02158398, 0.03996659),
        (0.30966363, 0.17784693, -0.29292795),
        (-0.83216057, -0.50443764, 0.73842811),
        (0.89989906, 0.56676318, -0.72387426),
        (-0.23174405, -0.20871719, 0.19312333),
    ),
)


def partial_pressure(fraction: float, pressure_pa: float) -> float:
    """Give the partial pressure of one part of a gas.

    Args:
        fraction: part of the gas by amount of substance, 0 to 1 [1].
        pressure_pa: absolute pressure of the whole gas, 0 or more [Pa].

    Returns:
        Partial pressure [Pa].

    Raises:
        ValueError: a fraction outside 0 to 1, or a pressure below 0.

    Valid: as an ideal gas, as breathing limits are stated.

    Source: Dalton's law of partial pressures, any physics textbook.
    """
    if not 0.0 <= fraction <= 1.0:
        raise ValueError(f"a fraction lies from 0 to 1, not {fraction}")
    if not pressure_pa >= 0.0:
        raise ValueError(f"a pressure is zero or more, not {pressure_pa}")
    return fraction * pressure_pa

"""How long a coat of zinc lasts in air: the first year by the air, later years by ISO 9224.

For faces in open air. In soil, in salt spray or against copper-treated timber zinc goes faster, and no chart here says
how fast.
"""

import math

from gardenframe.errors import require_within
from gardenframe.materials import constants
from gardenframe.working import formula

ZINC_POWER = constants.value("zinc_power")
BEND_YEARS = constants.value("zinc_bend_years")
SULPHUR_UM, SULPHUR_POWER, SULPHUR_WET = 0.0129, 0.44, 0.046
SALT_UM, SALT_POWER, SALT_WET, SALT_WARM = 0.0175, 0.57, 0.008, 0.085
KINK_DEGC, COLD_SLOPE, WARM_SLOPE = 10.0, 0.038, -0.071


@formula(result="D", symbols={"first_year_um": "r", "years": "t", "ZINC_POWER": "b"}, source="iso-9224",
         kind="empirical", coefficients={"ZINC_POWER": ""}, example={"first_year_um": 2.1, "years": 10.0})  # fmt: skip
def early_loss_um(first_year_um: float, years: float) -> float:
    """Zinc lost from a face in up to 20 years. [um]"""
    lost_um: float = first_year_um * years**ZINC_POWER  # mypy: a float to a power is Any
    return lost_um


@formula(result="D", symbols={"first_year_um": "r", "years": "t", "ZINC_POWER": "b", "BEND_YEARS": "t_0"},
         source="iso-9224-slope", kind="empirical", coefficients={"ZINC_POWER": "", "BEND_YEARS": "years"},
         example={"first_year_um": 0.7, "years": 30.0})  # fmt: skip
def late_loss_um(first_year_um: float, years: float) -> float:
    """Zinc lost from a face in more than 20 years: on in a straight line. [um]"""
    lost_um: float = first_year_um * BEND_YEARS**ZINC_POWER * (1 + ZINC_POWER * (years / BEND_YEARS - 1))
    return lost_um


def zinc_loss_um(first_year_um: float, years: float) -> float:
    """Return the zinc lost from a face. [um]

    Parameters
    ----------
    first_year_um : float
        Lost in the first year. [um]
    years : float
        How long it has stood.
    """
    return (early_loss_um if years <= BEND_YEARS else late_loss_um)(first_year_um, years)


def zinc_years(first_year_um: float, coating_um: float) -> float:
    """Return the years until a coat of zinc is used up.

    >>> [round(zinc_years(rate, 10.0), 1) for rate in (0.7, 2.1, 4.2)]
    [26.2, 6.8, 2.9]
    """
    require_within("loss in the first year", first_year_um, 0.001, 50, unit="µm")
    require_within("zinc coating", coating_um, 1, 300, unit="µm")
    years: float = (coating_um / first_year_um) ** (1 / ZINC_POWER)
    if years <= BEND_YEARS:
        return years
    return float(BEND_YEARS * (1 + (coating_um / (first_year_um * BEND_YEARS**ZINC_POWER) - 1) / ZINC_POWER))


@formula(result="r",
         symbols={"mean_degc": "T", "humid_percent": "H", "sulphur_mg_per_m2_day": "P_d", "salt_mg_per_m2_day": "S_d"},
         source="iso-9223", kind="empirical",
         coefficients={"SULPHUR_UM": "µm", "SULPHUR_POWER": "", "SULPHUR_WET": "", "SALT_UM": "µm", "SALT_POWER": "",
                       "SALT_WET": "", "SALT_WARM": "1/°C", "COLD_SLOPE": "1/°C", "WARM_SLOPE": "1/°C"},
         example={"mean_degc": 10.0, "humid_percent": 75.0, "sulphur_mg_per_m2_day": 5.0, "salt_mg_per_m2_day": 3.0},
         )  # fmt: skip
def first_year_um(
    mean_degc: float, humid_percent: float, sulphur_mg_per_m2_day: float, salt_mg_per_m2_day: float
) -> float:
    """Zinc lost from a face in its first year, by warmth, humidity, sulphur dioxide and salt of the air. [um]"""
    slope = COLD_SLOPE if mean_degc <= KINK_DEGC else WARM_SLOPE
    warmth = slope * (mean_degc - KINK_DEGC)
    sulphur: float = SULPHUR_UM * sulphur_mg_per_m2_day**SULPHUR_POWER * math.exp(SULPHUR_WET * humid_percent + warmth)
    salt: float = SALT_UM * salt_mg_per_m2_day**SALT_POWER * math.exp(SALT_WET * humid_percent + SALT_WARM * mean_degc)
    return sulphur + salt

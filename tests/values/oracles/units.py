"""Factors of units by SciPy's table of constants.

/usr/bin/python3 tests/values/oracles/units.py > tests/values/oracle-units.json
"""

from scipy import __version__, constants
from tables import show, table

litre = constants.liter
rows = [
    ["[gal_us]", "L", constants.gallon / litre],
    ["[gal_br]", "L", constants.gallon_imp / litre],
    ["[in_i]", "m", constants.inch],
    ["[ft_i]", "m", constants.foot],
    ["[lb_av]", "kg", constants.pound],
    ["[oz_av]", "g", constants.ounce * 1000],
    ["[gr]", "mg", constants.grain * 1e6],
    ["[psi]", "kPa", constants.psi / 1000],
    ["bar", "kPa", constants.bar / 1000],
    ["m[H2O]", "kPa", constants.g],
    ["[gal_us]/min", "L/min", constants.gallon / litre],
    ["[gal_us]/d", "L/h", constants.gallon / litre / constants.day * constants.hour],
    ["[gr]/[gal_us]", "mg{CaCO3}/L", constants.grain * 1e6 / (constants.gallon / litre)],
    ["[clark]", "mg{CaCO3}/L", constants.grain * 1e6 / (constants.gallon_imp / litre)],
]
source = f"SciPy {__version__}: scipy.constants"
degrees = [[t, "[degF]", "Cel", float(constants.convert_temperature(t, "F", "C"))] for t in [-40, 0, 32, 64.4, 77, 212]]
degrees += [[t, "Cel", "K", float(constants.convert_temperature(t, "C", "K"))] for t in [-5, 0, 25, 100]]
show(
    [
        table("convert", "value", source, "in full", ["from", "to"], rows, fixed={"value": 1}, relativeTolerance=1e-12),
        table("convert", "value", source, "in full", ["value", "from", "to"], degrees, tolerance=1e-10),
    ]
)

"""Ionization constant and density of water by IAPWS's formulations.

/usr/bin/python3 tests/values/oracles/pure-water.py > tests/values/oracle-pure-water.json
"""

from iapws import IAPWS95
from iapws._iapws import _Kw
from tables import debian, show, table

package = debian("python3-iapws")
t90_per_t68 = 1 / 1.00024
ionization = [
    [t, rho / 1000, round(float(_Kw(rho, t + 273.15)), 9)]
    for t in [0, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200]
    for rho in [700, 950, 1000, 1050]
]
density = []
for t68 in [0.01, 4, 5, 10, 15, 20, 25, 30, 35, 40, 50]:
    rho = IAPWS95(T=273.15 + t68 * t90_per_t68, P=0.101325).rho
    density.append([t68, round(float(rho) / 1000, 8)])
show(
    [
        table(
            "water-ionization",
            "pKw",
            f"{package}: IAPWS R11-07",
            "rounded to 1e-9",
            ["temperature", "density"],
            ionization,
            tolerance=5e-10,
        ),
        table(
            "water-density",
            "density",
            f"{package}: IAPWS-95 at 1 atm and the ITS-90 temperature of each IPTS-68 one",
            "Kell's scale has a maximum of 999.972 kg/m3, IAPWS-95's 999.975, and the sets of measurements behind the older "
            "tables part by almost 1e-5 at 40 Cel (Tanaka et al., Metrologia 38 (2001) 301)",
            ["temperature"],
            density,
            tolerance=1e-5,
        ),
    ]
)

"""Salinity and conductivity over a grid by TEOS-10's program for PSS-78.

/usr/bin/python3 tests/values/oracles/sea-water.py > tests/values/oracle-sea-water.json
"""

import gsw
from tables import debian, show, table

source = f"{debian('python3-gsw')}: SP_from_C and C_from_SP at the surface"
temperatures = [-1, 0, 5, 10, 15, 18, 20, 22, 25, 28, 30, 35]
conductivities = [100, 500, 2000, 5000, 12_880, 25_000, 35_000, 45_000, 53_000, 60_000]
salinities = [0.1, 0.5, 1, 2, 5, 10, 20, 25, 30, 33, 34, 35, 36, 40, 42]

forth = [
    [kappa, t, round(float(gsw.SP_from_C(kappa / 1000, t, 0)), 9)] for t in temperatures for kappa in conductivities
]
back = [
    [salinity, t, round(float(gsw.C_from_SP(salinity, t, 0)) * 1000, 5)]
    for t in temperatures
    for salinity in salinities
]
show(
    [
        table(
            "salinity-of-conductivity",
            "salinity",
            source,
            "rounded to 1e-9",
            ["kappa", "temperature"],
            [row for row in forth if row[-1] <= 42],
            tolerance=5e-10,
        ),
        table(
            "conductivity-of-salinity",
            "kappa",
            source,
            "rounded to 1e-5 uS/cm",
            ["salinity", "temperature"],
            back,
            tolerance=5e-6,
        ),
    ]
)

"""Batches, corrections and blends of salt water by TEOS-10 densities and absolute salinity.

/usr/bin/python3 tests/values/oracles/salt-batches.py > tests/values/oracle-salt-batches.json
"""

import gsw
from tables import debian, show, table

source = f"{debian('python3-gsw')}: rho_t_exact at the surface, absolute salinity 35.16504/35 of practical salinity"
why = "EOS-80 and TEOS-10 differ by up to 0.002 % of density and 0.005 g/kg"


def absolute(salinity):
    return salinity * 35.16504 / 35


def kg_per_l(salinity, t):
    return float(gsw.rho_t_exact(absolute(salinity), t, 0)) / 1000


def share(salinity):
    return absolute(salinity) / 1000


cases = [(200, 33, 24), (1000, 35, 15), (50, 12, 28), (120, 35, 20)]
salt = [[v, s, t, v * kg_per_l(s, t) * share(s)] for v, s, t in cases]
water = [[v, s, t, v * kg_per_l(s, t) * (1 - share(s)) / kg_per_l(0, t)] for v, s, t in cases]

too_fresh = [(200, 30, 33, 24), (1000, 34, 35, 15)]
to_add = [
    [v, s, goal, t, v * kg_per_l(s, t) * (share(goal) - share(s)) / (1 - share(goal))] for v, s, goal, t in too_fresh
]
too_salt = [(200, 35.5, 33, 24), (1000, 36, 35, 15)]
to_thin = [
    [v, s, goal, t, v * kg_per_l(s, t) * (share(s) / share(goal) - 1) / kg_per_l(0, t)] for v, s, goal, t in too_salt
]


def blend(parts, t):
    mass = sum(v * kg_per_l(s, t) for v, s in parts)
    dissolved = sum(v * kg_per_l(s, t) * share(s) for v, s in parts)
    return dissolved / mass / share(1)


blends = [([120, 80], [35, 30], 24), ([10, 20, 30], [0, 20, 40], 18)]
blended = [[volumes, salts, t, blend(list(zip(volumes, salts)), t)] for volumes, salts, t in blends]

wanted = [(200, 33, 36, 0, 24), (500, 12, 35, 2, 15)]


def first_of(v, s, first, second, t):
    mass = v * kg_per_l(s, t) * (share(s) - share(second)) / (share(first) - share(second))
    return mass / kg_per_l(first, t)


for_salinity = [[*case, first_of(*case)] for case in wanted]


def rounded(rows):
    return [[*row[:-1], round(row[-1], 6)] for row in rows]


close = {"relativeTolerance": 1e-4}
show(
    [
        table("salt-batch", "salt", source, why, ["volume", "salinity", "temperature"], rounded(salt), **close),
        table("salt-batch", "water", source, why, ["volume", "salinity", "temperature"], rounded(water), **close),
        table(
            "salt-correction", "salt", source, why, ["volume", "salinity", "target", "temperature"], rounded(to_add), **close
        ),
        table(
            "salt-correction", "water", source, why, ["volume", "salinity", "target", "temperature"], rounded(to_thin), **close
        ),
        table("salt-blend", "salinity", source, why, ["volumes", "salinities", "temperature"], rounded(blended), **close),
        table(
            "salt-blend-for",
            "firstVolume",
            source,
            why,
            ["volume", "salinity", "first", "second", "temperature"],
            rounded(for_salinity),
            **close,
        ),
    ]
)

"""Specific gravity of sea water of reference composition by TEOS-10, from the Python package gsw; prints table rows.

Run with: /usr/bin/python3 specific-gravity.py (Debian: python3-gsw). Another equation of state than the one it is
compared with: the two agree as well as EOS-80 was fitted (Millero and Poisson 1981: 3.6e-3 kg/m3).
"""

import json

import gsw


def rho(salinity, t):
    absolute = gsw.SR_from_SP(salinity)
    return gsw.rho_t_exact(absolute, t, 0)


pairs = [(25, 25), (20, 20), (15.56, 15.56), (25, 4), (15, 15)]
rows = [
    [s, t, ref, round(float(rho(s, t) / rho(0, ref)), 8)]
    for s in (5, 15, 25, 30, 33, 34, 35, 36, 40)
    for t, ref in pairs
]
print("gsw", gsw.__version__)
for row in rows:
    print("    " + json.dumps(row) + ",")

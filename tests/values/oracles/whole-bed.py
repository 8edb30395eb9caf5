"""Volume of a bed used whole, of two printed columns: SciPy's least squares, the curve's parts by quadrature.

python3 (with NumPy and SciPy) tests/values/oracles/whole-bed.py > tests/values/oracle-whole-bed.json
"""

import numpy
import scipy
from scipy.integrate import quad
from scipy.optimize import curve_fit
from scipy.stats import t
from tables import show, table

gas = (
    "Geankoplis, Transport Processes, ex. 12.3-1, hours",
    [0, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.2, 6.5, 6.8],
    [0, 0, 0.002, 0.03, 0.155, 0.396, 0.658, 0.903, 0.933, 0.975, 0.993],
)
molar = [0, 0.0033, 0.0075, 0.0157, 0.0527, 0.1063, 0.1433, 0.1634, 0.1722, 0.1763, 0.18]
copper = (
    "a textbook problem, copper on a cation resin, 0.18 mol/L, seconds",
    [420, 480, 510, 540, 600, 660, 720, 780, 810, 870, 900],
    [round(one / 0.18, 6) for one in molar],
)
scipy_source = f"SciPy {scipy.__version__} curve_fit and quad, tests/values/oracles/whole-bed.py"


def curve(x, rate, half):
    return 1 / (1 + numpy.exp(numpy.clip(-rate * (x - half), -700, 700)))


def fit(volumes, shares):
    guess = (10 / volumes[-1], numpy.interp(0.5, shares, volumes) if max(shares) > 0.5 else volumes[-1])
    return curve_fit(curve, volumes, shares, p0=guess, ftol=1e-15, xtol=1e-15, gtol=1e-15, maxfev=100000)


def explained(volumes, shares):
    left = numpy.array(shares) - curve(numpy.array(volumes), *fit(volumes, shares)[0])
    return 1 - float(numpy.sum(left**2) / numpy.sum((shares - numpy.mean(shares)) ** 2))


def beyond(volumes, rise):
    """Leaked before the first point and held after the last."""
    leaked = quad(lambda x: curve(x, *rise), 0, volumes[0], epsabs=1e-13, epsrel=1e-13, limit=500)[0]
    end = max(rise[1] + 60 / rise[0], volumes[-1])
    after = quad(lambda x: 1 - curve(x, *rise), volumes[-1], end, epsabs=1e-13, epsrel=1e-13, limit=500)[0]
    return leaked, after


def measured(volumes, shares):
    steps = zip(volumes, volumes[1:], shares, shares[1:])
    return sum((b - a) * (1 - (c + d) / 2) for a, b, c, d in steps)


def whole(volumes, shares):
    leaked, after = beyond(volumes, fit(volumes, shares)[0])
    return volumes[0] - leaked + measured(volumes, shares) + after


def high(volumes, shares):
    """The interval's upper end: half of what leaked, twice what is left to hold, and the fit's own error at 95 %."""
    rise, covariance = fit(volumes, shares)
    leaked, after = beyond(volumes, rise)
    slopes = []
    for place in (0, 1):
        step = numpy.zeros(2)
        step[place] = 1e-4 * rise[place]
        up, down = beyond(volumes, rise + step), beyond(volumes, rise - step)
        slopes.append(((up[1] - up[0]) - (down[1] - down[0])) / (2 * step[place]))
    error = float(numpy.sqrt(numpy.array(slopes) @ covariance @ numpy.array(slopes)))
    reach = float(t.ppf(0.975, len(volumes) - 2)) * error
    return volumes[0] - leaked / 2 + measured(volumes, shares) + 2 * after + reach


show(
    [
        table(
            "breakthrough-fit",
            "whole",
            f"{scipy_source} ({name})",
            "the two searches end within 1e-7 of one another",
            ["volume", "share"],
            [
                [v[a:b], s[a:b], whole(v[a:b], s[a:b])]
                for a, b in [(0, 11), (1, 11), (2, 11), (3, 11), (0, 5), (0, 6), (0, 7), (2, 8)]
            ],
            relativeTolerance=1e-6,
        )
        for name, v, s in [gas, copper]
    ]
    + [
        table(
            "breakthrough-fit",
            "wholeHigh",
            f"{scipy_source}, its error of the fit and our factors of a half and two ({name})",
            "the covariance is by differences there, to 1e-5 of the reach",
            ["volume", "share"],
            [[v[a:b], s[a:b], high(v[a:b], s[a:b])] for a, b in [(0, 11), (2, 11), (0, 6), (0, 7), (2, 8)]],
            relativeTolerance=1e-6,
        )
        for name, v, s in [gas, copper]
    ]
    + [
        table(
            "breakthrough-fit",
            "rSquared",
            f"{scipy_source} ({name})",
            "the two searches end within 1e-7 of one another",
            ["volume", "share"],
            [[v, s, explained(v, s)]],
            relativeTolerance=1e-8,
        )
        for name, v, s in [gas, copper]
    ]
)

"""Slopes, trend tests, spread and forecasts of R's own series, by R, SciPy and statsmodels.

/usr/bin/python3 tests/values/oracles/trends.py > tests/values/oracle-trends.json
"""

import json
import subprocess

from scipy import __version__ as scipy_version
from scipy.stats import theilslopes
from statsmodels import __version__ as statsmodels_version
from statsmodels.tsa.holtwinters import Holt
from tables import show, table

in_r = """
number <- function(x) paste(format(as.numeric(x), digits = 15, trim = TRUE), collapse = ", ")
one <- function(x) {
  x <- as.numeric(x)
  test <- suppressWarnings(cor.test(seq_along(x), x, method = "kendall", exact = FALSE, continuity = TRUE))
  line <- summary(lm(x ~ seq_along(x)))
  fit <- line$coefficients
  q <- quantile(x, c(0.25, 0.75), type = 7, names = FALSE)
  sprintf('{"values": [%s], "z": %s, "p": %s, "median": %s, "lower": %s, "upper": %s, "mad": %s, "raw": %s, "iqr": %s,
    "line": [%s]}',
    number(x), number(test$statistic), number(test$p.value), number(median(x)), number(q[1]), number(q[2]),
    number(mad(x)), number(mad(x, constant = 1)), number(IQR(x) / (2 * qnorm(0.75))),
    number(c(fit[2, 1], fit[1, 1], fit[2, 2], fit[1, 2], line$r.squared)))
}
cat(sprintf('{"version": "%s", "series": [%s]}', R.version.string,
  paste(sapply(list(Nile, LakeHuron, nhtemp, discoveries, women$weight), one), collapse = ",")))
"""
told = json.loads(subprocess.run(["Rscript", "-e", in_r], check=True, capture_output=True, text=True).stdout)
series = told["series"]
r = told["version"]
rounded = "printed to 15 digits"


def times(one):
    return list(range(1, len(one["values"]) + 1))


def by_r(formula, output, key, source, **more):
    return table(formula, output, source, rounded, ["values"], [[one["values"], one[key]] for one in series], **more)


tables = [
    by_r("mann-kendall", "z", "z", f"{r}: cor.test, Kendall, with continuity", relativeTolerance=1e-12),
    by_r("mann-kendall", "p", "p", f"{r}: cor.test, Kendall, with continuity", relativeTolerance=1e-11),
    by_r("robust-spread", "median", "median", f"{r}: median", relativeTolerance=1e-12),
    by_r("robust-spread", "lowerQuartile", "lower", f"{r}: quantile, type 7", relativeTolerance=1e-12),
    by_r("robust-spread", "upperQuartile", "upper", f"{r}: quantile, type 7", relativeTolerance=1e-12),
    by_r("robust-spread", "medianDeviation", "raw", f"{r}: mad, constant 1", relativeTolerance=1e-12),
    table(
        "robust-spread",
        "deviationOfMedianDeviation",
        f"{r}: mad",
        "R rounds the constant to 1.4826",
        ["values"],
        [[one["values"], one["mad"]] for one in series],
        relativeTolerance=0.00005 / 1.4826,
    ),
    by_r("robust-spread", "deviationOfQuartiles", "iqr", f"{r}: IQR and qnorm", relativeTolerance=1e-12),
]
for place, output in enumerate(["slope", "intercept", "slopeError", "interceptError", "rSquared"]):
    rows = [[times(one), one["values"], one["line"][place]] for one in series]
    tables.append(table("straight-line", output, f"{r}: lm", rounded, ["x", "y"], rows, relativeTolerance=1e-11))

slopes = [theilslopes(one["values"], times(one), alpha=0.95) for one in series]
for place, output in enumerate(["slope", "intercept", "slopeLow", "slopeHigh"]):
    rows = [[times(one), one["values"], float(fit[place])] for one, fit in zip(series, slopes)]
    source = f"SciPy {scipy_version}: theilslopes, 95 %"
    tables.append(table("theil-sen", output, source, "in full", ["x", "y"], rows, relativeTolerance=1e-12))

holt = []
for one in series[:3]:
    first, second = one["values"][:2]
    model = Holt(one["values"], initialization_method="known", initial_level=first, initial_trend=second - first)
    fit = model.fit(smoothing_level=0.4, smoothing_trend=0.1, optimized=False)
    holt.append([one["values"], [float(value) for value in fit.forecast(4)]])
tables.append(
    table(
        "holt-linear",
        "forecasts",
        f"statsmodels {statsmodels_version}: Holt, beginning from the first value and difference",
        "in full",
        ["values"],
        holt,
        fixed={"alpha": 0.4, "beta": 0.1, "steps": 4},
        relativeTolerance=1e-10,
    )
)
show(tables)

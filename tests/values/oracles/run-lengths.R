# Average run lengths of CUSUM and EWMA charts by the R package spc.
#
# Rscript tests/values/oracles/run-lengths.R > tests/values/oracle-run-lengths.json
suppressMessages(library(spc))

source_text <- sprintf("R package spc %s (%s): xcusum.arl and xewma.arl", packageVersion("spc"), R.version.string)
number <- function(x) format(x, digits = 10, scientific = FALSE, trim = TRUE)

show_table <- function(formula, columns, rows) {
  names <- paste0('"', c(columns, "expected"), '"', collapse = ", ")
  cat(sprintf(
    '{\n  "formula": "%s",\n  "output": "runLength",\n  "kind": "oracle",\n  "source": "%s",\n  "relativeTolerance": 1e-9,\n  "why": "printed to 10 digits; both solve the same integral equation",\n  "columns": [%s],\n  "rows": [\n    %s\n  ]\n}',
    formula, source_text, names, paste(rows, collapse = ",\n    ")
  ))
}

shifts <- c(0, 0.25, 0.5, 1, 1.5, 2, 3)
cusum_rows <- c()
for (k in c(0.25, 0.5, 1)) for (h in c(2, 4, 5)) for (shift in shifts) for (head in c(0, 0.5)) {
  length <- xcusum.arl(k, h, shift, hs = head * h, sided = "two", r = 80)
  if (length < 1e6) cusum_rows <- c(cusum_rows, sprintf("[%s, %s, %s, %s, %s]", shift, k, h, head, number(length)))
}
ewma_rows <- c()
for (weight in c(0.05, 0.1, 0.2, 0.3, 0.5, 1)) for (width in c(2.5, 3)) for (shift in shifts) {
  length <- xewma.arl(weight, width, shift, sided = "two", r = 80)
  ewma_rows <- c(ewma_rows, sprintf("[%s, %s, %s, %s]", shift, weight, width, number(length)))
}
cat("[\n")
show_table("cusum-run-length", c("shift", "allowance", "limit", "headStart"), cusum_rows)
cat(",\n")
show_table("ewma-run-length", c("shift", "weight", "width"), ewma_rows)
cat("\n]\n")
